"""Trials, instruments elsewhere, valuations, damage and counts; wishes; materials by component; weights and angles

Revision: 0003, after 0002
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from shopledger.model import types

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

STRICT = {"sqlite_strict": True}
INSTRUMENT_KINDS = (
    "kind IN ('violin', 'viola', 'cello', 'piccolo_cello', 'viola_da_gamba', 'double_bass', 'bow', 'case', "
    "'other')"
)
ONE_FIGURE = (
    "(nm > 0 AND mg IS NULL AND mdeg IS NULL) OR (mg > 0 AND nm IS NULL AND mdeg IS NULL)"
    " OR (mdeg > 0 AND nm IS NULL AND mg IS NULL)"
)


def upgrade() -> None:
    """Bring the tables to this revision."""
    rebuilt = "always" if op.get_bind().dialect.name == "sqlite" else "never"
    op.create_table(
        "safe_copy",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("made_on", types.Day(), nullable=False),
        sa.Column("where_kept", types.Words(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_safe_copy")),
        sqlite_strict=True,
    )
    op.create_table(
        "stock_take",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("number", types.Words(), nullable=False),
        sa.Column("began_on", types.Day(), nullable=False),
        sa.Column("counted_by", types.Words(), nullable=False),
        sa.Column("note", types.Words(), nullable=False),
        sa.Column("ended_on", types.Day(), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_stock_take")),
        sa.UniqueConstraint("number", name=op.f("uq_stock_take_number")),
        sqlite_strict=True,
    )
    op.create_table(
        "component",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("instrument_id", types.Whole(), nullable=False),
        sa.Column("n", types.Whole(), nullable=False),
        sa.Column("component", types.Words(), nullable=False),
        sa.Column("material", types.Words(), nullable=False),
        sa.Column("species", types.Words(), nullable=False),
        sa.Column("is_certain", types.YesNo(), nullable=False),
        sa.Column("finished", types.Words(), nullable=True),
        sa.Column("made_on", types.Day(), nullable=True),
        sa.Column("taken_before", types.Day(), nullable=True),
        sa.Column("imported_on", types.Day(), nullable=True),
        sa.Column("mg", types.Whole(), nullable=True),
        sa.Column("mass_typed", types.Words(), nullable=False),
        sa.Column("note", types.Words(), nullable=False),
        sa.CheckConstraint(
            "finished IN ('finished', 'unfinished')", name=op.f("ck_component_finished_choice")
        ),
        sa.CheckConstraint("mg > 0", name=op.f("ck_component_above_zero")),
        sa.ForeignKeyConstraint(
            ["instrument_id"], ["instrument.id"], name=op.f("fk_component_instrument_id_instrument")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_component")),
        sa.UniqueConstraint("instrument_id", "n", name=op.f("uq_component_instrument_id_n")),
        sqlite_strict=True,
    )
    op.create_table(
        "trial",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("number", types.Words(), nullable=False),
        sa.Column("person_id", types.Whole(), nullable=False),
        sa.Column("began_on", types.Day(), nullable=False),
        sa.Column("due_on", types.Day(), nullable=False),
        sa.Column("signed_on", types.Day(), nullable=True),
        sa.Column("identity_seen", types.Words(), nullable=False),
        sa.Column("at_place", types.Words(), nullable=False),
        sa.Column("goes_to", types.Words(), nullable=False),
        sa.Column("risk", types.Words(), nullable=False),
        sa.Column("insured_by", types.Words(), nullable=False),
        sa.Column("insurance", types.Words(), nullable=False),
        sa.Column("carriage_by", types.Words(), nullable=False),
        sa.Column("note", types.Words(), nullable=False),
        sa.Column("ended_on", types.Day(), nullable=True),
        sa.CheckConstraint(
            "carriage_by IN ('player', 'shop', 'owner')", name=op.f("ck_trial_carriage_by_choice")
        ),
        sa.CheckConstraint(
            "insured_by IN ('owner', 'shop', 'player', 'dealer', 'carrier', 'workshop', 'nobody')",
            name=op.f("ck_trial_insured_by_choice"),
        ),
        sa.CheckConstraint(
            "risk IN ('owner', 'shop', 'player', 'dealer', 'carrier', 'workshop')",
            name=op.f("ck_trial_risk_choice"),
        ),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_trial_person_id_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_trial")),
        sa.UniqueConstraint("number", name=op.f("uq_trial_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("trial", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_trial_person_id"), ["person_id"], unique=False)

    op.create_table(
        "valuation",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("number", types.Words(), nullable=False),
        sa.Column("instrument_id", types.Whole(), nullable=False),
        sa.Column("for_id", types.Whole(), nullable=True),
        sa.Column("value", types.Whole(), nullable=False),
        sa.Column("purpose", types.Words(), nullable=False),
        sa.Column("valued_by", types.Words(), nullable=False),
        sa.Column("valued_on", types.Day(), nullable=False),
        sa.Column("basis", types.Words(), nullable=False),
        sa.Column("is_appraisal", types.YesNo(), nullable=False),
        sa.CheckConstraint(
            "purpose IN ('insurance', 'sale', 'estate', 'division', 'other')",
            name=op.f("ck_valuation_purpose_choice"),
        ),
        sa.CheckConstraint("value > 0", name=op.f("ck_valuation_above_zero")),
        sa.ForeignKeyConstraint(["for_id"], ["person.id"], name=op.f("fk_valuation_for_id_person")),
        sa.ForeignKeyConstraint(
            ["instrument_id"], ["instrument.id"], name=op.f("fk_valuation_instrument_id_instrument")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_valuation")),
        sa.UniqueConstraint("number", name=op.f("uq_valuation_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("valuation", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_valuation_for_id"), ["for_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_valuation_instrument_id"), ["instrument_id"], unique=False)

    op.create_table(
        "wish",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("number", types.Words(), nullable=False),
        sa.Column("person_id", types.Whole(), nullable=False),
        sa.Column("kind", types.Words(), nullable=False),
        sa.Column("words", types.Words(), nullable=False),
        sa.Column("asked_on", types.Day(), nullable=False),
        sa.Column("until", types.Day(), nullable=True),
        sa.Column("ended_on", types.Day(), nullable=True),
        sa.Column("ending", types.Words(), nullable=True),
        sa.CheckConstraint("ending IN ('found', 'given_up', 'other')", name=op.f("ck_wish_ending_choice")),
        sa.CheckConstraint(
            INSTRUMENT_KINDS,
            name=op.f("ck_wish_kind_choice"),
        ),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_wish_person_id_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_wish")),
        sa.UniqueConstraint("number", name=op.f("uq_wish_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("wish", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_wish_kind"), ["kind"], unique=False)
        batch_op.create_index(batch_op.f("ix_wish_person_id"), ["person_id"], unique=False)

    op.create_table(
        "component_evidence",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("component_id", types.Whole(), nullable=False),
        sa.Column("sort", types.Words(), nullable=False),
        sa.Column("what", types.Words(), nullable=False),
        sa.Column("dated_on", types.Day(), nullable=True),
        sa.Column("place", types.Words(), nullable=False),
        sa.CheckConstraint(
            "sort IN ('receipt', 'certificate', 'permit', 'statement', 'analysis', 'opinion', 'other')",
            name=op.f("ck_component_evidence_sort_choice"),
        ),
        sa.ForeignKeyConstraint(
            ["component_id"], ["component.id"], name=op.f("fk_component_evidence_component_id_component")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_component_evidence")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("component_evidence", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_component_evidence_component_id"), ["component_id"], unique=False
        )

    op.create_table(
        "placing",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("number", types.Words(), nullable=False),
        sa.Column("stay_id", types.Whole(), nullable=False),
        sa.Column("dealer_id", types.Whole(), nullable=False),
        sa.Column("since", types.Day(), nullable=False),
        sa.Column("until", types.Day(), nullable=False),
        sa.Column("asking", types.Whole(), nullable=True),
        sa.Column("dealer_rate", types.Rate(), nullable=True),
        sa.Column("terms", types.Words(), nullable=False),
        sa.Column("value", types.Whole(), nullable=False),
        sa.Column("risk", types.Words(), nullable=False),
        sa.Column("insured_by", types.Words(), nullable=False),
        sa.Column("ended_on", types.Day(), nullable=True),
        sa.Column("ending", types.Words(), nullable=True),
        sa.CheckConstraint("ending IN ('back', 'sold', 'lost')", name=op.f("ck_placing_ending_choice")),
        sa.CheckConstraint(
            "insured_by IN ('owner', 'shop', 'player', 'dealer', 'carrier', 'workshop', 'nobody')",
            name=op.f("ck_placing_insured_by_choice"),
        ),
        sa.CheckConstraint(
            "risk IN ('owner', 'shop', 'player', 'dealer', 'carrier', 'workshop')",
            name=op.f("ck_placing_risk_choice"),
        ),
        sa.ForeignKeyConstraint(["dealer_id"], ["person.id"], name=op.f("fk_placing_dealer_id_person")),
        sa.ForeignKeyConstraint(["stay_id"], ["stay.id"], name=op.f("fk_placing_stay_id_stay")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_placing")),
        sa.UniqueConstraint("number", name=op.f("uq_placing_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("placing", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_placing_dealer_id"), ["dealer_id"], unique=False)
        batch_op.create_index(
            "uq_placing_going_on",
            ["stay_id"],
            unique=True,
            sqlite_where=sa.text("ended_on IS NULL"),
            postgresql_where=sa.text("ended_on IS NULL"),
        )

    op.create_table(
        "stock_take_line",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("stock_take_id", types.Whole(), nullable=False),
        sa.Column("stay_id", types.Whole(), nullable=False),
        sa.Column("was_expected", types.YesNo(), nullable=False),
        sa.Column("seen_at", types.Instant(timezone=True), nullable=True),
        sa.Column("note", types.Words(), nullable=False),
        sa.ForeignKeyConstraint(["stay_id"], ["stay.id"], name=op.f("fk_stock_take_line_stay_id_stay")),
        sa.ForeignKeyConstraint(
            ["stock_take_id"], ["stock_take.id"], name=op.f("fk_stock_take_line_stock_take_id_stock_take")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_stock_take_line")),
        sa.UniqueConstraint(
            "stock_take_id", "stay_id", name=op.f("uq_stock_take_line_stock_take_id_stay_id")
        ),
        sqlite_strict=True,
    )
    with op.batch_alter_table("stock_take_line", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_stock_take_line_stay_id"), ["stay_id"], unique=False)

    op.create_table(
        "trial_extension",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("trial_id", types.Whole(), nullable=False),
        sa.Column("agreed_on", types.Day(), nullable=False),
        sa.Column("due_before_on", types.Day(), nullable=False),
        sa.Column("due_on", types.Day(), nullable=False),
        sa.Column("agreed_by", types.Words(), nullable=False),
        sa.CheckConstraint("due_on > due_before_on", name=op.f("ck_trial_extension_later")),
        sa.ForeignKeyConstraint(["trial_id"], ["trial.id"], name=op.f("fk_trial_extension_trial_id_trial")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_trial_extension")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("trial_extension", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_trial_extension_trial_id"), ["trial_id"], unique=False)

    op.create_table(
        "trial_reminder",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("trial_id", types.Whole(), nullable=False),
        sa.Column("sent_on", types.Day(), nullable=False),
        sa.Column("due_on", types.Day(), nullable=False),
        sa.ForeignKeyConstraint(["trial_id"], ["trial.id"], name=op.f("fk_trial_reminder_trial_id_trial")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_trial_reminder")),
        sa.UniqueConstraint("trial_id", "sent_on", name=op.f("uq_trial_reminder_trial_id_sent_on")),
        sqlite_strict=True,
    )
    op.create_table(
        "wish_criterion",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("wish_id", types.Whole(), nullable=False),
        sa.Column("n", types.Whole(), nullable=False),
        sa.Column("what", types.Words(), nullable=False),
        sa.Column("side", types.Words(), nullable=False),
        sa.Column("is_must", types.YesNo(), nullable=False),
        sa.Column("low", types.Whole(), nullable=True),
        sa.Column("high", types.Whole(), nullable=True),
        sa.Column("target", types.Whole(), nullable=True),
        sa.Column("words", types.Words(), nullable=False),
        sa.Column("weight", types.Whole(), nullable=False),
        sa.CheckConstraint("weight > 0", name=op.f("ck_wish_criterion_weight_above_zero")),
        sa.ForeignKeyConstraint(["wish_id"], ["wish.id"], name=op.f("fk_wish_criterion_wish_id_wish")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_wish_criterion")),
        sa.UniqueConstraint("wish_id", "n", name=op.f("uq_wish_criterion_wish_id_n")),
        sqlite_strict=True,
    )
    op.create_table(
        "damage",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("number", types.Words(), nullable=False),
        sa.Column("stay_id", types.Whole(), nullable=False),
        sa.Column("trial_id", types.Whole(), nullable=True),
        sa.Column("report_id", types.Whole(), nullable=True),
        sa.Column("happened_on", types.Day(), nullable=True),
        sa.Column("found_on", types.Day(), nullable=False),
        sa.Column("what_happened", types.Words(), nullable=False),
        sa.Column("borne_by", types.Words(), nullable=True),
        sa.Column("reported_to", types.Words(), nullable=False),
        sa.Column("claimed", types.Whole(), nullable=True),
        sa.Column("closed_on", types.Day(), nullable=True),
        sa.Column("paid", types.Whole(), nullable=True),
        sa.Column("outcome", types.Words(), nullable=False),
        sa.CheckConstraint(
            "borne_by IN ('owner', 'shop', 'player', 'dealer', 'carrier', 'workshop')",
            name=op.f("ck_damage_borne_by_choice"),
        ),
        sa.ForeignKeyConstraint(
            ["report_id"], ["condition_report.id"], name=op.f("fk_damage_report_id_condition_report")
        ),
        sa.ForeignKeyConstraint(["stay_id"], ["stay.id"], name=op.f("fk_damage_stay_id_stay")),
        sa.ForeignKeyConstraint(["trial_id"], ["trial.id"], name=op.f("fk_damage_trial_id_trial")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_damage")),
        sa.UniqueConstraint("number", name=op.f("uq_damage_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("damage", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_damage_stay_id"), ["stay_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_damage_trial_id"), ["trial_id"], unique=False)

    op.create_table(
        "shipment",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("number", types.Words(), nullable=False),
        sa.Column("sent_on", types.Day(), nullable=False),
        sa.Column("why", types.Words(), nullable=False),
        sa.Column("carrier", types.Words(), nullable=False),
        sa.Column("tracking", types.Words(), nullable=False),
        sa.Column("to_id", types.Whole(), nullable=False),
        sa.Column("to_place", types.Words(), nullable=False),
        sa.Column("goes_to", types.Words(), nullable=False),
        sa.Column("insured_for", types.Whole(), nullable=True),
        sa.Column("insured_by", types.Words(), nullable=False),
        sa.Column("risk", types.Words(), nullable=False),
        sa.Column("sale_id", types.Whole(), nullable=True),
        sa.Column("trial_id", types.Whole(), nullable=True),
        sa.Column("arrived_on", types.Day(), nullable=True),
        sa.Column("arrived_how", types.Words(), nullable=False),
        sa.CheckConstraint(
            "insured_by IN ('owner', 'shop', 'player', 'dealer', 'carrier', 'workshop', 'nobody')",
            name=op.f("ck_shipment_insured_by_choice"),
        ),
        sa.CheckConstraint(
            "risk IN ('owner', 'shop', 'player', 'dealer', 'carrier', 'workshop')",
            name=op.f("ck_shipment_risk_choice"),
        ),
        sa.CheckConstraint(
            "why IN ('sale', 'trial', 'return', 'workshop', 'dealer', 'other')",
            name=op.f("ck_shipment_why_choice"),
        ),
        sa.ForeignKeyConstraint(["sale_id"], ["sale.id"], name=op.f("fk_shipment_sale_id_sale")),
        sa.ForeignKeyConstraint(["to_id"], ["person.id"], name=op.f("fk_shipment_to_id_person")),
        sa.ForeignKeyConstraint(["trial_id"], ["trial.id"], name=op.f("fk_shipment_trial_id_trial")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_shipment")),
        sa.UniqueConstraint("number", name=op.f("uq_shipment_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("shipment", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_shipment_sale_id"), ["sale_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_shipment_to_id"), ["to_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_shipment_trial_id"), ["trial_id"], unique=False)

    op.create_table(
        "trial_line",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("trial_id", types.Whole(), nullable=False),
        sa.Column("n", types.Whole(), nullable=False),
        sa.Column("stay_id", types.Whole(), nullable=True),
        sa.Column("what", types.Words(), nullable=False),
        sa.Column("value", types.Whole(), nullable=False),
        sa.Column("report_out_id", types.Whole(), nullable=True),
        sa.Column("report_back_id", types.Whole(), nullable=True),
        sa.Column("condition_out", types.Words(), nullable=False),
        sa.Column("condition_back", types.Words(), nullable=False),
        sa.Column("decided_on", types.Day(), nullable=True),
        sa.Column("decision", types.Words(), nullable=True),
        sa.Column("sale_id", types.Whole(), nullable=True),
        sa.CheckConstraint(
            "decision IN ('returned', 'bought', 'lost')", name=op.f("ck_trial_line_decision_choice")
        ),
        sa.CheckConstraint(
            "(decided_on IS NULL) = (decision IS NULL)", name=op.f("ck_trial_line_decided_as_a_whole")
        ),
        sa.CheckConstraint("value > 0", name=op.f("ck_trial_line_value_above_zero")),
        sa.ForeignKeyConstraint(
            ["report_back_id"],
            ["condition_report.id"],
            name=op.f("fk_trial_line_report_back_id_condition_report"),
        ),
        sa.ForeignKeyConstraint(
            ["report_out_id"],
            ["condition_report.id"],
            name=op.f("fk_trial_line_report_out_id_condition_report"),
        ),
        sa.ForeignKeyConstraint(["sale_id"], ["sale.id"], name=op.f("fk_trial_line_sale_id_sale")),
        sa.ForeignKeyConstraint(["stay_id"], ["stay.id"], name=op.f("fk_trial_line_stay_id_stay")),
        sa.ForeignKeyConstraint(["trial_id"], ["trial.id"], name=op.f("fk_trial_line_trial_id_trial")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_trial_line")),
        sa.UniqueConstraint("trial_id", "n", name=op.f("uq_trial_line_trial_id_n")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("trial_line", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_trial_line_sale_id"), ["sale_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_trial_line_stay_id"), ["stay_id"], unique=False)
        batch_op.create_index(
            "uq_trial_line_out",
            ["stay_id"],
            unique=True,
            sqlite_where=sa.text("decided_on IS NULL AND stay_id IS NOT NULL"),
            postgresql_where=sa.text("decided_on IS NULL AND stay_id IS NOT NULL"),
        )

    op.create_table(
        "shipment_line",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("shipment_id", types.Whole(), nullable=False),
        sa.Column("stay_id", types.Whole(), nullable=False),
        sa.Column("value", types.Whole(), nullable=True),
        sa.ForeignKeyConstraint(
            ["shipment_id"], ["shipment.id"], name=op.f("fk_shipment_line_shipment_id_shipment")
        ),
        sa.ForeignKeyConstraint(["stay_id"], ["stay.id"], name=op.f("fk_shipment_line_stay_id_stay")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_shipment_line")),
        sa.UniqueConstraint("shipment_id", "stay_id", name=op.f("uq_shipment_line_shipment_id_stay_id")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("shipment_line", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_shipment_line_stay_id"), ["stay_id"], unique=False)

    op.create_table(
        "wish_told",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("wish_id", types.Whole(), nullable=False),
        sa.Column("stay_id", types.Whole(), nullable=False),
        sa.Column("told_on", types.Day(), nullable=False),
        sa.Column("how", types.Words(), nullable=False),
        sa.Column("asking", types.Whole(), nullable=True),
        sa.Column("custody_id", types.Whole(), nullable=True),
        sa.CheckConstraint(
            "how IN ('letter', 'list', 'spoken', 'set_aside')", name=op.f("ck_wish_told_how_choice")
        ),
        sa.ForeignKeyConstraint(["custody_id"], ["custody.id"], name=op.f("fk_wish_told_custody_id_custody")),
        sa.ForeignKeyConstraint(["stay_id"], ["stay.id"], name=op.f("fk_wish_told_stay_id_stay")),
        sa.ForeignKeyConstraint(["wish_id"], ["wish.id"], name=op.f("fk_wish_told_wish_id_wish")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_wish_told")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("wish_told", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_wish_told_stay_id"), ["stay_id"], unique=False)
        batch_op.create_index("ix_wish_told_wish_id_stay_id", ["wish_id", "stay_id"], unique=False)

    with op.batch_alter_table("custody", recreate=rebuilt, table_kwargs=STRICT) as batch_op:
        batch_op.add_column(sa.Column("holder", types.Words(), nullable=True))
        batch_op.add_column(sa.Column("risk", types.Words(), nullable=True))
        batch_op.add_column(sa.Column("insured_by", types.Words(), nullable=True))
        batch_op.add_column(sa.Column("insured_for", types.Whole(), nullable=True))
        batch_op.add_column(sa.Column("trial_id", types.Whole(), nullable=True))
        batch_op.add_column(sa.Column("placing_id", types.Whole(), nullable=True))
        batch_op.add_column(sa.Column("shipment_id", types.Whole(), nullable=True))
        batch_op.create_index(batch_op.f("ix_custody_trial_id"), ["trial_id"], unique=False)
        batch_op.create_foreign_key(
            batch_op.f("fk_custody_placing_id_placing"), "placing", ["placing_id"], ["id"]
        )
        batch_op.create_foreign_key(
            batch_op.f("fk_custody_shipment_id_shipment"), "shipment", ["shipment_id"], ["id"]
        )
        batch_op.create_foreign_key(batch_op.f("fk_custody_trial_id_trial"), "trial", ["trial_id"], ["id"])
        batch_op.create_check_constraint(
            batch_op.f("ck_custody_holder_choice"),
            "holder IN ('owner', 'player', 'dealer', 'workshop', 'carrier', 'other')",
        )
        batch_op.create_check_constraint(
            batch_op.f("ck_custody_insured_by_choice"),
            "insured_by IN ('owner', 'shop', 'player', 'dealer', 'carrier', 'workshop', 'nobody')",
        )
        batch_op.create_check_constraint(
            batch_op.f("ck_custody_risk_choice"),
            "risk IN ('owner', 'shop', 'player', 'dealer', 'carrier', 'workshop')",
        )

    with op.batch_alter_table("instrument", recreate=rebuilt, table_kwargs=STRICT) as batch_op:
        batch_op.drop_constraint(batch_op.f("ck_instrument_kind_choice"), type_="check")
        batch_op.create_check_constraint(batch_op.f("ck_instrument_kind_choice"), INSTRUMENT_KINDS)

    with op.batch_alter_table("measurement", recreate=rebuilt, table_kwargs=STRICT) as batch_op:
        batch_op.add_column(sa.Column("mg", types.Whole(), nullable=True))
        batch_op.add_column(sa.Column("mdeg", types.Whole(), nullable=True))
        batch_op.alter_column("nm", existing_type=types.Whole(), nullable=True)
        batch_op.drop_constraint(batch_op.f("ck_measurement_above_zero"), type_="check")
        batch_op.create_check_constraint(
            batch_op.f("ck_measurement_one_figure_above_zero"),
            ONE_FIGURE,
        )

    with op.batch_alter_table("paper", recreate=rebuilt, table_kwargs=STRICT) as batch_op:
        batch_op.add_column(sa.Column("trial_id", types.Whole(), nullable=True))
        batch_op.add_column(sa.Column("wish_id", types.Whole(), nullable=True))
        batch_op.create_index(batch_op.f("ix_paper_trial_id"), ["trial_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_paper_wish_id"), ["wish_id"], unique=False)
        batch_op.create_foreign_key(batch_op.f("fk_paper_trial_id_trial"), "trial", ["trial_id"], ["id"])
        batch_op.create_foreign_key(batch_op.f("fk_paper_wish_id_wish"), "wish", ["wish_id"], ["id"])

    with op.batch_alter_table("payment", recreate=rebuilt, table_kwargs=STRICT) as batch_op:
        batch_op.add_column(sa.Column("trial_id", types.Whole(), nullable=True))
        batch_op.create_index(batch_op.f("ix_payment_trial_id"), ["trial_id"], unique=False)
        batch_op.create_foreign_key(batch_op.f("fk_payment_trial_id_trial"), "trial", ["trial_id"], ["id"])

    with op.batch_alter_table("settlement", recreate=rebuilt, table_kwargs=STRICT) as batch_op:
        batch_op.add_column(sa.Column("trial_line_id", types.Whole(), nullable=True))
        batch_op.create_foreign_key(
            batch_op.f("fk_settlement_trial_line_id_trial_line"), "trial_line", ["trial_line_id"], ["id"]
        )

    with op.batch_alter_table("setup_string", recreate=rebuilt, table_kwargs=STRICT) as batch_op:
        batch_op.add_column(sa.Column("ug_per_m", types.Whole(), nullable=True))
        batch_op.add_column(sa.Column("tension_mn", types.Whole(), nullable=True))
        batch_op.add_column(sa.Column("tension_at_nm", types.Whole(), nullable=True))

    for table in ("person", "shop"):
        with op.batch_alter_table(table, recreate=rebuilt, table_kwargs=STRICT) as batch_op:
            batch_op.add_column(
                sa.Column("country", types.Words(), nullable=False, server_default=sa.text("''"))
            )
        # The default was for the rows that are there; the program itself gives every value.
        with op.batch_alter_table(table, recreate=rebuilt, table_kwargs=STRICT) as batch_op:
            batch_op.alter_column(
                "country", existing_type=types.Words(), existing_nullable=False, server_default=None
            )
