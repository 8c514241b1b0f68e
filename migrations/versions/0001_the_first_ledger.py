"""The first ledger

Revision: 0001, after None
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from shopledger.model import types

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Bring the tables to this revision."""
    op.create_table(
        "account",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("code", types.Words(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_account")),
        sa.UniqueConstraint("code", name=op.f("uq_account_code")),
        sqlite_strict=True,
    )
    op.create_table(
        "content",
        sa.Column("sha256", types.Words(), nullable=False),
        sa.Column("bytes", types.Bytes(), nullable=False),
        sa.PrimaryKeyConstraint("sha256", name=op.f("pk_content")),
        sqlite_strict=True,
    )
    op.create_table(
        "counter",
        sa.Column("series", types.Words(), nullable=False),
        sa.Column("year", types.Whole(), autoincrement=False, nullable=False),
        sa.Column("last", types.Whole(), nullable=False),
        sa.PrimaryKeyConstraint("series", "year", name=op.f("pk_counter")),
        sqlite_strict=True,
    )
    op.create_table(
        "dated_rate",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("scheme", types.Words(), nullable=False),
        sa.Column("rate", types.Rate(), nullable=False),
        sa.Column("from_on", types.Day(), nullable=False),
        sa.Column("source", types.Words(), nullable=False),
        sa.CheckConstraint(
            "scheme IN ('none', 'sales_tax', 'vat_on_commission', 'margin')",
            name=op.f("ck_dated_rate_scheme_choice"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_dated_rate")),
        sa.UniqueConstraint("scheme", "from_on", name=op.f("uq_dated_rate_scheme_from_on")),
        sqlite_strict=True,
    )
    op.create_table(
        "deed",
        sa.Column("id", types.Whole(), autoincrement=False, nullable=False),
        sa.Column("op_id", types.Words(), nullable=False),
        sa.Column("act", types.Words(), nullable=False),
        sa.Column("by", types.Words(), nullable=False),
        sa.Column("booked_on", types.Day(), nullable=False),
        sa.Column("recorded_at", types.Instant(timezone=True), nullable=False),
        sa.Column("subject", types.Words(), nullable=False),
        sa.Column("subject_id", types.Whole(), nullable=False),
        sa.Column("outcome", types.Words(), nullable=False),
        sa.Column("hash", types.Words(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_deed")),
        sa.UniqueConstraint("op_id", name=op.f("uq_deed_op_id")),
        sqlite_strict=True,
    )
    op.create_table(
        "instrument",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("number", types.Words(), nullable=False),
        sa.Column("kind", types.Words(), nullable=False),
        sa.Column("maker", types.Words(), nullable=False),
        sa.Column("standing", types.Words(), nullable=False),
        sa.Column("standing_by", types.Words(), nullable=False),
        sa.Column("standing_evidence", types.Words(), nullable=False),
        sa.Column("made_when", types.Words(), nullable=False),
        sa.Column("made_where", types.Words(), nullable=False),
        sa.Column("title", types.Words(), nullable=False),
        sa.Column("size", types.Words(), nullable=False),
        sa.Column("string_count", types.Whole(), nullable=True),
        sa.Column("serial", types.Words(), nullable=False),
        sa.Column("label_text", types.Words(), nullable=False),
        sa.Column("description", types.Words(), nullable=False),
        sa.Column("own_work", types.YesNo(), nullable=False),
        sa.Column("notes", types.Words(), nullable=False),
        sa.CheckConstraint(
            "kind IN ('violin', 'viola', 'cello', 'piccolo_cello', 'viola_da_gamba', 'double_bass', 'bow', 'other')",
            name=op.f("ck_instrument_kind_choice"),
        ),
        sa.CheckConstraint(
            "standing IN ('made_by', 'attributed_to', 'workshop_of', 'labelled', 'unknown')",
            name=op.f("ck_instrument_standing_choice"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_instrument")),
        sa.UniqueConstraint("number", name=op.f("uq_instrument_number")),
        sqlite_strict=True,
    )
    op.create_table(
        "person",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("number", types.Words(), nullable=False),
        sa.Column("name", types.Words(), nullable=False),
        sa.Column("kind", types.Words(), nullable=False),
        sa.Column("relation", types.Words(), nullable=False),
        sa.Column("address", types.Words(), nullable=False),
        sa.Column("phone", types.Words(), nullable=False),
        sa.Column("email", types.Words(), nullable=False),
        sa.Column("plays", types.Words(), nullable=False),
        sa.Column("notes", types.Words(), nullable=False),
        sa.CheckConstraint("kind IN ('person', 'firm', 'estate')", name=op.f("ck_person_kind_choice")),
        sa.CheckConstraint(
            "relation IN ('none', 'shop', 'family', 'staff')", name=op.f("ck_person_relation_choice")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_person")),
        sa.UniqueConstraint("number", name=op.f("uq_person_number")),
        sqlite_strict=True,
    )
    op.create_table(
        "seal",
        sa.Column("entry_id", types.Whole(), autoincrement=False, nullable=False),
        sa.Column("hash", types.Words(), nullable=False),
        sa.PrimaryKeyConstraint("entry_id", name=op.f("pk_seal")),
        sa.UniqueConstraint("hash", name=op.f("uq_seal_hash")),
        sqlite_strict=True,
    )
    op.create_table(
        "search",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("subject", types.Words(), nullable=False),
        sa.Column("subject_id", types.Whole(), nullable=False),
        sa.Column("words", types.Words(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_search")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("search", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_search_subject_id"), ["subject_id"], unique=False)

    op.create_table(
        "change",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("deed_id", types.Whole(), nullable=False),
        sa.Column("record", types.Words(), nullable=False),
        sa.Column("row_id", types.Whole(), nullable=False),
        sa.Column("digest", types.Words(), nullable=False),
        sa.ForeignKeyConstraint(["deed_id"], ["deed.id"], name=op.f("fk_change_deed_id_deed")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_change")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("change", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_change_deed_id"), ["deed_id"], unique=False)

    op.create_table(
        "entry",
        sa.Column("id", types.Whole(), autoincrement=False, nullable=False),
        sa.Column("op_id", types.Words(), nullable=False),
        sa.Column("booked_on", types.Day(), nullable=False),
        sa.Column("recorded_at", types.Instant(timezone=True), nullable=False),
        sa.Column("act", types.Words(), nullable=False),
        sa.Column("source", types.Words(), nullable=False),
        sa.Column("reverses", types.Whole(), nullable=True),
        sa.ForeignKeyConstraint(
            ["id"], ["seal.entry_id"], name=op.f("fk_entry_id_seal"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["reverses"], ["entry.id"], name=op.f("fk_entry_reverses_entry")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_entry")),
        sa.UniqueConstraint("op_id", name=op.f("uq_entry_op_id")),
        sa.UniqueConstraint("reverses", name=op.f("uq_entry_reverses")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("entry", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_entry_booked_on"), ["booked_on"], unique=False)

    op.create_table(
        "fitting",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("instrument_id", types.Whole(), nullable=False),
        sa.Column("part", types.Words(), nullable=False),
        sa.Column("what", types.Words(), nullable=False),
        sa.ForeignKeyConstraint(
            ["instrument_id"], ["instrument.id"], name=op.f("fk_fitting_instrument_id_instrument")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_fitting")),
        sa.UniqueConstraint("instrument_id", "part", name=op.f("uq_fitting_instrument_id_part")),
        sqlite_strict=True,
    )
    op.create_table(
        "measurement",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("instrument_id", types.Whole(), nullable=False),
        sa.Column("measure", types.Words(), nullable=False),
        sa.Column("side", types.Words(), nullable=False),
        sa.Column("method", types.Words(), nullable=False),
        sa.Column("nm", types.Whole(), nullable=False),
        sa.Column("typed", types.Words(), nullable=False),
        sa.Column("taken_on", types.Day(), nullable=False),
        sa.Column("taken_by", types.Words(), nullable=False),
        sa.CheckConstraint("nm > 0", name=op.f("ck_measurement_above_zero")),
        sa.ForeignKeyConstraint(
            ["instrument_id"], ["instrument.id"], name=op.f("fk_measurement_instrument_id_instrument")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_measurement")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("measurement", schema=None) as batch_op:
        batch_op.create_index(
            "ix_measurement_instrument_measure", ["instrument_id", "measure", "taken_on"], unique=False
        )

    op.create_table(
        "ownership",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("instrument_id", types.Whole(), nullable=False),
        sa.Column("since", types.Day(), nullable=False),
        sa.Column("how", types.Words(), nullable=False),
        sa.ForeignKeyConstraint(
            ["instrument_id"], ["instrument.id"], name=op.f("fk_ownership_instrument_id_instrument")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_ownership")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("ownership", schema=None) as batch_op:
        batch_op.create_index("ix_ownership_instrument_id_since", ["instrument_id", "since"], unique=False)

    op.create_table(
        "sale",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("number", types.Words(), nullable=False),
        sa.Column("buyer_id", types.Whole(), nullable=False),
        sa.Column("sold_on", types.Day(), nullable=False),
        sa.Column("tax_scheme", types.Words(), nullable=False),
        sa.Column("tax_rate", types.Rate(), nullable=True),
        sa.Column("exempt", types.YesNo(), nullable=False),
        sa.Column("exempt_reason", types.Words(), nullable=False),
        sa.Column("approval_until", types.Day(), nullable=True),
        sa.Column("note", types.Words(), nullable=False),
        sa.CheckConstraint(
            "tax_scheme IN ('none', 'sales_tax', 'vat_on_commission', 'margin')",
            name=op.f("ck_sale_tax_scheme_choice"),
        ),
        sa.ForeignKeyConstraint(["buyer_id"], ["person.id"], name=op.f("fk_sale_buyer_id_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_sale")),
        sa.UniqueConstraint("number", name=op.f("uq_sale_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("sale", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_sale_buyer_id"), ["buyer_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_sale_sold_on"), ["sold_on"], unique=False)

    op.create_table(
        "shop",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("name", types.Words(), nullable=False),
        sa.Column("address", types.Words(), nullable=False),
        sa.Column("phone", types.Words(), nullable=False),
        sa.Column("email", types.Words(), nullable=False),
        sa.Column("currency", types.Words(), nullable=False),
        sa.Column("locale", types.Words(), nullable=False),
        sa.Column("time_zone", types.Words(), nullable=False),
        sa.Column("paper_size", types.Words(), nullable=False),
        sa.Column("tax_scheme", types.Words(), nullable=False),
        sa.Column("retention_years", types.Whole(), nullable=False),
        sa.Column("pay_within_days", types.Whole(), nullable=False),
        sa.Column("person_id", types.Whole(), nullable=False),
        sa.Column("ledger_key", types.Words(), nullable=False),
        sa.CheckConstraint("paper_size IN ('A4', 'Letter')", name=op.f("ck_shop_paper_size_choice")),
        sa.CheckConstraint(
            "tax_scheme IN ('none', 'sales_tax', 'vat_on_commission', 'margin')",
            name=op.f("ck_shop_tax_scheme_choice"),
        ),
        sa.CheckConstraint("id = 1", name=op.f("ck_shop_only_one")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_shop_person_id_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_shop")),
        sqlite_strict=True,
    )
    op.create_table(
        "stay",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("number", types.Words(), nullable=False),
        sa.Column("instrument_id", types.Whole(), nullable=False),
        sa.Column("reason", types.Words(), nullable=False),
        sa.Column("came_in_on", types.Day(), nullable=False),
        sa.Column("brought_by_id", types.Whole(), nullable=True),
        sa.Column("came_with", types.Words(), nullable=False),
        sa.Column("condition", types.Words(), nullable=False),
        sa.Column("insured_value", types.Whole(), nullable=True),
        sa.Column("identity_seen", types.Words(), nullable=False),
        sa.Column("authority", types.Words(), nullable=False),
        sa.Column("no_liens", types.YesNo(), nullable=False),
        sa.Column("register_checked", types.Words(), nullable=False),
        sa.Column("register_checked_on", types.Day(), nullable=True),
        sa.Column("cost", types.Whole(), nullable=True),
        sa.Column("ended_on", types.Day(), nullable=True),
        sa.Column("ending", types.Words(), nullable=True),
        sa.Column("handed_to", types.Words(), nullable=False),
        sa.Column("condition_out", types.Words(), nullable=False),
        sa.CheckConstraint("ending IN ('sold', 'returned', 'lost')", name=op.f("ck_stay_ending_choice")),
        sa.CheckConstraint(
            "reason IN ('to_sell', 'own', 'repair', 'value', 'keep')", name=op.f("ck_stay_reason_choice")
        ),
        sa.ForeignKeyConstraint(["brought_by_id"], ["person.id"], name=op.f("fk_stay_brought_by_id_person")),
        sa.ForeignKeyConstraint(
            ["instrument_id"], ["instrument.id"], name=op.f("fk_stay_instrument_id_instrument")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_stay")),
        sa.UniqueConstraint("number", name=op.f("uq_stay_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("stay", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_stay_instrument_id"), ["instrument_id"], unique=False)
        batch_op.create_index(
            "uq_stay_open",
            ["instrument_id"],
            unique=True,
            sqlite_where=sa.text("ended_on IS NULL"),
            postgresql_where=sa.text("ended_on IS NULL"),
        )

    op.create_table(
        "agreement",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("number", types.Words(), nullable=False),
        sa.Column("stay_id", types.Whole(), nullable=False),
        sa.Column("begins_on", types.Day(), nullable=False),
        sa.Column("ended_on", types.Day(), nullable=True),
        sa.Column("ended_how", types.Words(), nullable=True),
        sa.Column("ended_why", types.Words(), nullable=False),
        sa.CheckConstraint(
            "ended_how IN ('sold', 'withdrawn', 'given_up', 'expired', 'owner_changed', 'lost')",
            name=op.f("ck_agreement_ended_how_choice"),
        ),
        sa.ForeignKeyConstraint(["stay_id"], ["stay.id"], name=op.f("fk_agreement_stay_id_stay")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_agreement")),
        sa.UniqueConstraint("number", name=op.f("uq_agreement_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("agreement", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_agreement_stay_id"), ["stay_id"], unique=False)

    op.create_table(
        "change_value",
        sa.Column("change_id", types.Whole(), autoincrement=False, nullable=False),
        sa.Column("salt", types.Bytes(), nullable=True),
        sa.Column("values", types.Words(), nullable=True),
        sa.ForeignKeyConstraint(["change_id"], ["change.id"], name=op.f("fk_change_value_change_id_change")),
        sa.PrimaryKeyConstraint("change_id", name=op.f("pk_change_value")),
        sqlite_strict=True,
    )
    op.create_table(
        "custody",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("stay_id", types.Whole(), nullable=False),
        sa.Column("place", types.Words(), nullable=False),
        sa.Column("since", types.Day(), nullable=False),
        sa.Column("person_id", types.Whole(), nullable=True),
        sa.Column("words", types.Words(), nullable=False),
        sa.CheckConstraint(
            "place IN ('here', 'workshop', 'on_trial', 'away', 'handed_over', 'lost')",
            name=op.f("ck_custody_place_choice"),
        ),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_custody_person_id_person")),
        sa.ForeignKeyConstraint(["stay_id"], ["stay.id"], name=op.f("fk_custody_stay_id_stay")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_custody")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("custody", schema=None) as batch_op:
        batch_op.create_index("ix_custody_stay_id_since", ["stay_id", "since"], unique=False)

    op.create_table(
        "fee_payment",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("number", types.Words(), nullable=False),
        sa.Column("person_id", types.Whole(), nullable=False),
        sa.Column("method", types.Words(), nullable=False),
        sa.Column("minor", types.Whole(), nullable=False),
        sa.Column("paid_on", types.Day(), nullable=False),
        sa.Column("reference", types.Words(), nullable=False),
        sa.Column("entry_id", types.Whole(), nullable=False),
        sa.CheckConstraint(
            "method IN ('transfer', 'card', 'cheque', 'cash')", name=op.f("ck_fee_payment_method_choice")
        ),
        sa.CheckConstraint("minor > 0", name=op.f("ck_fee_payment_above_zero")),
        sa.ForeignKeyConstraint(["entry_id"], ["entry.id"], name=op.f("fk_fee_payment_entry_id_entry")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_fee_payment_person_id_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_fee_payment")),
        sa.UniqueConstraint("number", name=op.f("uq_fee_payment_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("fee_payment", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_fee_payment_person_id"), ["person_id"], unique=False)

    op.create_table(
        "hold",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("stay_id", types.Whole(), nullable=False),
        sa.Column("person_id", types.Whole(), nullable=False),
        sa.Column("since", types.Day(), nullable=False),
        sa.Column("until", types.Day(), nullable=False),
        sa.Column("ended_on", types.Day(), nullable=True),
        sa.Column("ending", types.Words(), nullable=False),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_hold_person_id_person")),
        sa.ForeignKeyConstraint(["stay_id"], ["stay.id"], name=op.f("fk_hold_stay_id_stay")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_hold")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("hold", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_hold_person_id"), ["person_id"], unique=False)
        batch_op.create_index(
            "uq_hold_in_force",
            ["stay_id"],
            unique=True,
            sqlite_where=sa.text("ended_on IS NULL"),
            postgresql_where=sa.text("ended_on IS NULL"),
        )

    op.create_table(
        "loss",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("number", types.Words(), nullable=False),
        sa.Column("stay_id", types.Whole(), nullable=False),
        sa.Column("lost_on", types.Day(), nullable=False),
        sa.Column("what_happened", types.Words(), nullable=False),
        sa.Column("reported_to", types.Words(), nullable=False),
        sa.Column("agreed_value", types.Whole(), nullable=False),
        sa.Column("excess", types.Whole(), nullable=False),
        sa.Column("excess_borne_by", types.Words(), nullable=False),
        sa.Column("commission", types.Whole(), nullable=False),
        sa.Column("owner_net", types.Whole(), nullable=False),
        sa.Column("entry_id", types.Whole(), nullable=False),
        sa.CheckConstraint(
            "excess_borne_by IN ('shop', 'owner')", name=op.f("ck_loss_excess_borne_by_choice")
        ),
        sa.ForeignKeyConstraint(["entry_id"], ["entry.id"], name=op.f("fk_loss_entry_id_entry")),
        sa.ForeignKeyConstraint(["stay_id"], ["stay.id"], name=op.f("fk_loss_stay_id_stay")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_loss")),
        sa.UniqueConstraint("number", name=op.f("uq_loss_number")),
        sa.UniqueConstraint("stay_id", name=op.f("uq_loss_stay_id")),
        sqlite_strict=True,
    )
    op.create_table(
        "ownership_share",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("ownership_id", types.Whole(), nullable=False),
        sa.Column("person_id", types.Whole(), nullable=False),
        sa.Column("share", types.Rate(), nullable=False),
        sa.Column("n", types.Whole(), nullable=False),
        sa.ForeignKeyConstraint(
            ["ownership_id"], ["ownership.id"], name=op.f("fk_ownership_share_ownership_id_ownership")
        ),
        sa.ForeignKeyConstraint(
            ["person_id"], ["person.id"], name=op.f("fk_ownership_share_person_id_person")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_ownership_share")),
        sa.UniqueConstraint(
            "ownership_id", "person_id", name=op.f("uq_ownership_share_ownership_id_person_id")
        ),
        sqlite_strict=True,
    )
    with op.batch_alter_table("ownership_share", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_ownership_share_ownership_id"), ["ownership_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_ownership_share_person_id"), ["person_id"], unique=False)

    op.create_table(
        "paper",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("number", types.Words(), nullable=False),
        sa.Column("kind", types.Words(), nullable=False),
        sa.Column("facts", types.Words(), nullable=False),
        sa.Column("facts_sha256", types.Words(), nullable=False),
        sa.Column("issued_on", types.Day(), nullable=False),
        sa.Column("op_id", types.Words(), nullable=False),
        sa.Column("instrument_id", types.Whole(), nullable=True),
        sa.Column("person_id", types.Whole(), nullable=True),
        sa.Column("sale_id", types.Whole(), nullable=True),
        sa.Column("anchor_entry", types.Whole(), nullable=False),
        sa.Column("anchor_hash", types.Words(), nullable=False),
        sa.ForeignKeyConstraint(
            ["instrument_id"], ["instrument.id"], name=op.f("fk_paper_instrument_id_instrument")
        ),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_paper_person_id_person")),
        sa.ForeignKeyConstraint(["sale_id"], ["sale.id"], name=op.f("fk_paper_sale_id_sale")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_paper")),
        sa.UniqueConstraint("number", name=op.f("uq_paper_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("paper", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_paper_instrument_id"), ["instrument_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_paper_op_id"), ["op_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_paper_person_id"), ["person_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_paper_sale_id"), ["sale_id"], unique=False)

    op.create_table(
        "payout",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("number", types.Words(), nullable=False),
        sa.Column("person_id", types.Whole(), nullable=False),
        sa.Column("method", types.Words(), nullable=False),
        sa.Column("minor", types.Whole(), nullable=False),
        sa.Column("paid_on", types.Day(), nullable=False),
        sa.Column("reference", types.Words(), nullable=False),
        sa.Column("entry_id", types.Whole(), nullable=False),
        sa.CheckConstraint(
            "method IN ('transfer', 'card', 'cheque', 'cash')", name=op.f("ck_payout_method_choice")
        ),
        sa.CheckConstraint("minor > 0", name=op.f("ck_payout_above_zero")),
        sa.ForeignKeyConstraint(["entry_id"], ["entry.id"], name=op.f("fk_payout_entry_id_entry")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_payout_person_id_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_payout")),
        sa.UniqueConstraint("number", name=op.f("uq_payout_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("payout", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_payout_person_id"), ["person_id"], unique=False)

    op.create_table(
        "picture",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("instrument_id", types.Whole(), nullable=False),
        sa.Column("stay_id", types.Whole(), nullable=True),
        sa.Column("sha256", types.Words(), nullable=False),
        sa.Column("caption", types.Words(), nullable=False),
        sa.Column("taken_on", types.Day(), nullable=False),
        sa.ForeignKeyConstraint(
            ["instrument_id"], ["instrument.id"], name=op.f("fk_picture_instrument_id_instrument")
        ),
        sa.ForeignKeyConstraint(["stay_id"], ["stay.id"], name=op.f("fk_picture_stay_id_stay")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_picture")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("picture", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_picture_instrument_id"), ["instrument_id"], unique=False)

    op.create_table(
        "posting",
        sa.Column("entry_id", types.Whole(), autoincrement=False, nullable=False),
        sa.Column("n", types.Whole(), autoincrement=False, nullable=False),
        sa.Column("account_id", types.Whole(), nullable=False),
        sa.Column("person_id", types.Whole(), nullable=True),
        sa.Column("currency", types.Words(), nullable=False),
        sa.Column("amount", types.Whole(), nullable=False),
        sa.CheckConstraint("amount <> 0", name=op.f("ck_posting_not_zero")),
        sa.ForeignKeyConstraint(["account_id"], ["account.id"], name=op.f("fk_posting_account_id_account")),
        sa.ForeignKeyConstraint(["entry_id"], ["entry.id"], name=op.f("fk_posting_entry_id_entry")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_posting_person_id_person")),
        sa.PrimaryKeyConstraint("entry_id", "n", name=op.f("pk_posting")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("posting", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_posting_account_id"), ["account_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_posting_person_id"), ["person_id"], unique=False)

    op.create_table(
        "price_change",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("stay_id", types.Whole(), nullable=False),
        sa.Column("since", types.Day(), nullable=False),
        sa.Column("asking", types.Whole(), nullable=False),
        sa.Column("why", types.Words(), nullable=False),
        sa.Column("consent_by", types.Words(), nullable=False),
        sa.Column("consent_how", types.Words(), nullable=False),
        sa.Column("consent_on", types.Day(), nullable=True),
        sa.CheckConstraint("asking > 0", name=op.f("ck_price_change_asking_above_zero")),
        sa.ForeignKeyConstraint(["stay_id"], ["stay.id"], name=op.f("fk_price_change_stay_id_stay")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_price_change")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("price_change", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_price_change_stay_id"), ["stay_id"], unique=False)

    op.create_table(
        "paper_file",
        sa.Column("paper_id", types.Whole(), autoincrement=False, nullable=False),
        sa.Column("sha256", types.Words(), nullable=False),
        sa.Column("size", types.Whole(), nullable=False),
        sa.ForeignKeyConstraint(["paper_id"], ["paper.id"], name=op.f("fk_paper_file_paper_id_paper")),
        sa.PrimaryKeyConstraint("paper_id", name=op.f("pk_paper_file")),
        sqlite_strict=True,
    )
    op.create_table(
        "payment",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("number", types.Words(), nullable=False),
        sa.Column("person_id", types.Whole(), nullable=False),
        sa.Column("sale_id", types.Whole(), nullable=True),
        sa.Column("hold_id", types.Whole(), nullable=True),
        sa.Column("loss_id", types.Whole(), nullable=True),
        sa.Column("deposit_id", types.Whole(), nullable=True),
        sa.Column("instrument_id", types.Whole(), nullable=True),
        sa.Column("method", types.Words(), nullable=False),
        sa.Column("minor", types.Whole(), nullable=False),
        sa.Column("received_on", types.Day(), nullable=False),
        sa.Column("reference", types.Words(), nullable=False),
        sa.Column("cleared_on", types.Day(), nullable=True),
        sa.Column("bounced_on", types.Day(), nullable=True),
        sa.Column("entry_id", types.Whole(), nullable=False),
        sa.Column("cleared_entry_id", types.Whole(), nullable=True),
        sa.CheckConstraint(
            "method IN ('transfer', 'card', 'cheque', 'cash', 'deposit', 'part_exchange')",
            name=op.f("ck_payment_method_choice"),
        ),
        sa.CheckConstraint("minor > 0", name=op.f("ck_payment_above_zero")),
        sa.ForeignKeyConstraint(
            ["cleared_entry_id"], ["entry.id"], name=op.f("fk_payment_cleared_entry_id_entry")
        ),
        sa.ForeignKeyConstraint(["deposit_id"], ["payment.id"], name=op.f("fk_payment_deposit_id_payment")),
        sa.ForeignKeyConstraint(["entry_id"], ["entry.id"], name=op.f("fk_payment_entry_id_entry")),
        sa.ForeignKeyConstraint(["hold_id"], ["hold.id"], name=op.f("fk_payment_hold_id_hold")),
        sa.ForeignKeyConstraint(
            ["instrument_id"], ["instrument.id"], name=op.f("fk_payment_instrument_id_instrument")
        ),
        sa.ForeignKeyConstraint(["loss_id"], ["loss.id"], name=op.f("fk_payment_loss_id_loss")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_payment_person_id_person")),
        sa.ForeignKeyConstraint(["sale_id"], ["sale.id"], name=op.f("fk_payment_sale_id_sale")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_payment")),
        sa.UniqueConstraint("number", name=op.f("uq_payment_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("payment", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_payment_person_id"), ["person_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_payment_sale_id"), ["sale_id"], unique=False)

    op.create_table(
        "terms",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("agreement_id", types.Whole(), nullable=False),
        sa.Column("n", types.Whole(), nullable=False),
        sa.Column("kind", types.Words(), nullable=False),
        sa.Column("agreed_on", types.Day(), nullable=False),
        sa.Column("ends_on", types.Day(), nullable=False),
        sa.Column("asking", types.Whole(), nullable=False),
        sa.Column("asking_not_below", types.Whole(), nullable=True),
        sa.Column("commission_rule", types.Words(), nullable=False),
        sa.Column("commission_rate", types.Rate(), nullable=True),
        sa.Column("commission_brackets", types.Words(), nullable=False),
        sa.Column("commission_fixed", types.Whole(), nullable=True),
        sa.Column("net_to_owner", types.Whole(), nullable=True),
        sa.Column("least", types.Whole(), nullable=True),
        sa.Column("most", types.Whole(), nullable=True),
        sa.Column("discount_borne_by", types.Words(), nullable=False),
        sa.Column("floor", types.Whole(), nullable=True),
        sa.Column("pay_owner", types.Words(), nullable=False),
        sa.Column("pay_within_days", types.Whole(), nullable=False),
        sa.Column("approval_days", types.Whole(), nullable=False),
        sa.Column("repairs_allowed", types.YesNo(), nullable=False),
        sa.Column("repairs_up_to", types.Whole(), nullable=True),
        sa.Column("repairs_borne_by", types.Words(), nullable=False),
        sa.Column("freight_borne_by", types.Words(), nullable=False),
        sa.Column("failed_sale_costs_by", types.Words(), nullable=False),
        sa.Column("set_off", types.YesNo(), nullable=False),
        sa.Column("insured_by", types.Words(), nullable=False),
        sa.Column("agreed_value", types.Whole(), nullable=True),
        sa.Column("loss_commission", types.YesNo(), nullable=False),
        sa.Column("excess_borne_by", types.Words(), nullable=False),
        sa.Column("notice_days", types.Whole(), nullable=False),
        sa.Column("trials_allowed", types.YesNo(), nullable=False),
        sa.Column("dealers_allowed", types.YesNo(), nullable=False),
        sa.Column("withdrawal_charge", types.Whole(), nullable=True),
        sa.Column("storage_charge", types.Whole(), nullable=True),
        sa.Column("insurance_charge", types.Whole(), nullable=True),
        sa.Column("valuation_charge", types.Whole(), nullable=True),
        sa.Column("private_sale_commission", types.YesNo(), nullable=False),
        sa.Column("tail_days", types.Whole(), nullable=False),
        sa.Column("deposit_to_owner", types.Rate(), nullable=True),
        sa.Column("deposit_to_shop", types.Rate(), nullable=True),
        sa.Column("bill_signed_by", types.Words(), nullable=False),
        sa.Column("maker_tie", types.Words(), nullable=False),
        sa.Column("goods_use", types.Words(), nullable=False),
        sa.Column("note", types.Words(), nullable=False),
        sa.CheckConstraint(
            "bill_signed_by IN ('owner', 'shop')", name=op.f("ck_terms_bill_signed_by_choice")
        ),
        sa.CheckConstraint(
            "commission_rule IN ('rate', 'brackets', 'fixed', 'net_to_owner')",
            name=op.f("ck_terms_commission_rule_choice"),
        ),
        sa.CheckConstraint(
            "discount_borne_by IN ('as_it_falls', 'owner', 'shop')",
            name=op.f("ck_terms_discount_borne_by_choice"),
        ),
        sa.CheckConstraint(
            "excess_borne_by IN ('owner', 'shop')", name=op.f("ck_terms_excess_borne_by_choice")
        ),
        sa.CheckConstraint(
            "failed_sale_costs_by IN ('owner', 'shop')", name=op.f("ck_terms_failed_sale_costs_by_choice")
        ),
        sa.CheckConstraint(
            "freight_borne_by IN ('owner', 'shop', 'both')", name=op.f("ck_terms_freight_borne_by_choice")
        ),
        sa.CheckConstraint(
            "goods_use IN ('unknown', 'consumer', 'equipment', 'dealer')",
            name=op.f("ck_terms_goods_use_choice"),
        ),
        sa.CheckConstraint("insured_by IN ('owner', 'shop')", name=op.f("ck_terms_insured_by_choice")),
        sa.CheckConstraint("maker_tie IN ('no', 'maker', 'heir')", name=op.f("ck_terms_maker_tie_choice")),
        sa.CheckConstraint(
            "pay_owner IN ('when_paid_in_full', 'as_money_clears')", name=op.f("ck_terms_pay_owner_choice")
        ),
        sa.CheckConstraint(
            "repairs_borne_by IN ('owner', 'shop', 'both')", name=op.f("ck_terms_repairs_borne_by_choice")
        ),
        sa.CheckConstraint("asking > 0", name=op.f("ck_terms_asking_above_zero")),
        sa.ForeignKeyConstraint(
            ["agreement_id"], ["agreement.id"], name=op.f("fk_terms_agreement_id_agreement")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_terms")),
        sa.UniqueConstraint("agreement_id", "n", name=op.f("uq_terms_agreement_id_n")),
        sqlite_strict=True,
    )
    op.create_table(
        "refund",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("number", types.Words(), nullable=False),
        sa.Column("person_id", types.Whole(), nullable=False),
        sa.Column("sale_id", types.Whole(), nullable=True),
        sa.Column("deposit_id", types.Whole(), nullable=True),
        sa.Column("method", types.Words(), nullable=False),
        sa.Column("minor", types.Whole(), nullable=False),
        sa.Column("paid_on", types.Day(), nullable=False),
        sa.Column("reference", types.Words(), nullable=False),
        sa.Column("entry_id", types.Whole(), nullable=False),
        sa.CheckConstraint(
            "method IN ('transfer', 'card', 'cheque', 'cash')", name=op.f("ck_refund_method_choice")
        ),
        sa.CheckConstraint("minor > 0", name=op.f("ck_refund_above_zero")),
        sa.ForeignKeyConstraint(["deposit_id"], ["payment.id"], name=op.f("fk_refund_deposit_id_payment")),
        sa.ForeignKeyConstraint(["entry_id"], ["entry.id"], name=op.f("fk_refund_entry_id_entry")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_refund_person_id_person")),
        sa.ForeignKeyConstraint(["sale_id"], ["sale.id"], name=op.f("fk_refund_sale_id_sale")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_refund")),
        sa.UniqueConstraint("number", name=op.f("uq_refund_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("refund", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_refund_person_id"), ["person_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_refund_sale_id"), ["sale_id"], unique=False)

    op.create_table(
        "sale_line",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("sale_id", types.Whole(), nullable=False),
        sa.Column("n", types.Whole(), nullable=False),
        sa.Column("kind", types.Words(), nullable=False),
        sa.Column("instrument_id", types.Whole(), nullable=True),
        sa.Column("stay_id", types.Whole(), nullable=True),
        sa.Column("terms_id", types.Whole(), nullable=True),
        sa.Column("what", types.Words(), nullable=False),
        sa.Column("quantity", types.Whole(), nullable=False),
        sa.Column("asking", types.Whole(), nullable=False),
        sa.Column("price", types.Whole(), nullable=False),
        sa.Column("discount", types.Whole(), nullable=False),
        sa.Column("commission", types.Whole(), nullable=False),
        sa.Column("owner_costs", types.Whole(), nullable=False),
        sa.Column("shop_costs", types.Whole(), nullable=False),
        sa.Column("referral_owner", types.Whole(), nullable=False),
        sa.Column("referral_shop", types.Whole(), nullable=False),
        sa.Column("sales_tax", types.Whole(), nullable=False),
        sa.Column("vat_on_commission", types.Whole(), nullable=False),
        sa.Column("margin_vat", types.Whole(), nullable=False),
        sa.Column("owner_net", types.Whole(), nullable=False),
        sa.Column("shop_keeps", types.Whole(), nullable=False),
        sa.Column("buyer_pays", types.Whole(), nullable=False),
        sa.Column("made_up", types.Whole(), nullable=False),
        sa.Column("dealer_share", types.Whole(), nullable=False),
        sa.Column("cost", types.Whole(), nullable=False),
        sa.Column("reckoned_from", types.Words(), nullable=False),
        sa.Column("returned_on", types.Day(), nullable=True),
        sa.Column("returned_why", types.Words(), nullable=False),
        sa.CheckConstraint(
            "kind IN ('consigned', 'own', 'accessory', 'work', 'freight')",
            name=op.f("ck_sale_line_kind_choice"),
        ),
        sa.CheckConstraint("price > 0", name=op.f("ck_sale_line_price_above_zero")),
        sa.ForeignKeyConstraint(
            ["instrument_id"], ["instrument.id"], name=op.f("fk_sale_line_instrument_id_instrument")
        ),
        sa.ForeignKeyConstraint(["sale_id"], ["sale.id"], name=op.f("fk_sale_line_sale_id_sale")),
        sa.ForeignKeyConstraint(["stay_id"], ["stay.id"], name=op.f("fk_sale_line_stay_id_stay")),
        sa.ForeignKeyConstraint(["terms_id"], ["terms.id"], name=op.f("fk_sale_line_terms_id_terms")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_sale_line")),
        sa.UniqueConstraint("sale_id", "n", name=op.f("uq_sale_line_sale_id_n")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("sale_line", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_sale_line_instrument_id"), ["instrument_id"], unique=False)
        batch_op.create_index(
            "uq_sale_line_live",
            ["stay_id"],
            unique=True,
            sqlite_where=sa.text("stay_id IS NOT NULL AND returned_on IS NULL"),
            postgresql_where=sa.text("stay_id IS NOT NULL AND returned_on IS NULL"),
        )

    op.create_table(
        "signature",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("terms_id", types.Whole(), nullable=False),
        sa.Column("signed_on", types.Day(), nullable=False),
        sa.Column("signed_by", types.Words(), nullable=False),
        sa.Column("scan_sha256", types.Words(), nullable=False),
        sa.ForeignKeyConstraint(["terms_id"], ["terms.id"], name=op.f("fk_signature_terms_id_terms")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_signature")),
        sa.UniqueConstraint("terms_id", name=op.f("uq_signature_terms_id")),
        sqlite_strict=True,
    )
    op.create_table(
        "terms_owner",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("terms_id", types.Whole(), nullable=False),
        sa.Column("person_id", types.Whole(), nullable=False),
        sa.Column("share", types.Rate(), nullable=False),
        sa.Column("n", types.Whole(), nullable=False),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_terms_owner_person_id_person")),
        sa.ForeignKeyConstraint(["terms_id"], ["terms.id"], name=op.f("fk_terms_owner_terms_id_terms")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_terms_owner")),
        sa.UniqueConstraint("terms_id", "person_id", name=op.f("uq_terms_owner_terms_id_person_id")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("terms_owner", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_terms_owner_person_id"), ["person_id"], unique=False)

    op.create_table(
        "charge",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("number", types.Words(), nullable=False),
        sa.Column("person_id", types.Whole(), nullable=False),
        sa.Column("stay_id", types.Whole(), nullable=True),
        sa.Column("sale_line_id", types.Whole(), nullable=True),
        sa.Column("kind", types.Words(), nullable=False),
        sa.Column("what", types.Words(), nullable=False),
        sa.Column("minor", types.Whole(), nullable=False),
        sa.Column("charged_on", types.Day(), nullable=False),
        sa.Column("entry_id", types.Whole(), nullable=False),
        sa.CheckConstraint(
            "kind IN ('withdrawal', 'storage', 'insurance', 'valuation', "
            "'private_sale', 'failed_sale', 'paid_back', 'other')",
            name=op.f("ck_charge_kind_choice"),
        ),
        sa.CheckConstraint("minor > 0", name=op.f("ck_charge_above_zero")),
        sa.ForeignKeyConstraint(["entry_id"], ["entry.id"], name=op.f("fk_charge_entry_id_entry")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_charge_person_id_person")),
        sa.ForeignKeyConstraint(
            ["sale_line_id"], ["sale_line.id"], name=op.f("fk_charge_sale_line_id_sale_line")
        ),
        sa.ForeignKeyConstraint(["stay_id"], ["stay.id"], name=op.f("fk_charge_stay_id_stay")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_charge")),
        sa.UniqueConstraint("number", name=op.f("uq_charge_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("charge", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_charge_person_id"), ["person_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_charge_stay_id"), ["stay_id"], unique=False)

    op.create_table(
        "consent",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("sale_line_id", types.Whole(), nullable=False),
        sa.Column("about", types.Words(), nullable=False),
        sa.Column("given_by", types.Words(), nullable=False),
        sa.Column("given_on", types.Day(), nullable=False),
        sa.Column("how", types.Words(), nullable=False),
        sa.CheckConstraint(
            "about IN ('floor', 'self_dealing', 'unsigned', 'discount')", name=op.f("ck_consent_about_choice")
        ),
        sa.ForeignKeyConstraint(
            ["sale_line_id"], ["sale_line.id"], name=op.f("fk_consent_sale_line_id_sale_line")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_consent")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("consent", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_consent_sale_line_id"), ["sale_line_id"], unique=False)

    op.create_table(
        "line_cost",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("sale_line_id", types.Whole(), nullable=False),
        sa.Column("what", types.Words(), nullable=False),
        sa.Column("minor", types.Whole(), nullable=False),
        sa.Column("borne_by", types.Words(), nullable=False),
        sa.Column("spent", types.YesNo(), nullable=False),
        sa.CheckConstraint(
            "borne_by IN ('owner', 'shop', 'both')", name=op.f("ck_line_cost_borne_by_choice")
        ),
        sa.ForeignKeyConstraint(
            ["sale_line_id"], ["sale_line.id"], name=op.f("fk_line_cost_sale_line_id_sale_line")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_line_cost")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("line_cost", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_line_cost_sale_line_id"), ["sale_line_id"], unique=False)

    op.create_table(
        "line_entry",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("sale_line_id", types.Whole(), nullable=False),
        sa.Column("entry_id", types.Whole(), nullable=False),
        sa.Column("role", types.Words(), nullable=False),
        sa.ForeignKeyConstraint(["entry_id"], ["entry.id"], name=op.f("fk_line_entry_entry_id_entry")),
        sa.ForeignKeyConstraint(
            ["sale_line_id"], ["sale_line.id"], name=op.f("fk_line_entry_sale_line_id_sale_line")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_line_entry")),
        sa.UniqueConstraint("entry_id", name=op.f("uq_line_entry_entry_id")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("line_entry", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_line_entry_sale_line_id"), ["sale_line_id"], unique=False)

    op.create_table(
        "line_owner",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("sale_line_id", types.Whole(), nullable=False),
        sa.Column("person_id", types.Whole(), nullable=False),
        sa.Column("share", types.Rate(), nullable=False),
        sa.Column("net", types.Whole(), nullable=False),
        sa.Column("n", types.Whole(), nullable=False),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_line_owner_person_id_person")),
        sa.ForeignKeyConstraint(
            ["sale_line_id"], ["sale_line.id"], name=op.f("fk_line_owner_sale_line_id_sale_line")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_line_owner")),
        sa.UniqueConstraint("sale_line_id", "person_id", name=op.f("uq_line_owner_sale_line_id_person_id")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("line_owner", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_line_owner_person_id"), ["person_id"], unique=False)

    op.create_table(
        "line_referral",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("sale_line_id", types.Whole(), nullable=False),
        sa.Column("person_id", types.Whole(), nullable=False),
        sa.Column("as_dealer", types.YesNo(), nullable=False),
        sa.Column("minor", types.Whole(), nullable=False),
        sa.Column("borne_by", types.Words(), nullable=False),
        sa.Column("told_buyer_on", types.Day(), nullable=True),
        sa.Column("told_owner_on", types.Day(), nullable=True),
        sa.CheckConstraint(
            "borne_by IN ('owner', 'shop', 'both')", name=op.f("ck_line_referral_borne_by_choice")
        ),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_line_referral_person_id_person")),
        sa.ForeignKeyConstraint(
            ["sale_line_id"], ["sale_line.id"], name=op.f("fk_line_referral_sale_line_id_sale_line")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_line_referral")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("line_referral", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_line_referral_person_id"), ["person_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_line_referral_sale_line_id"), ["sale_line_id"], unique=False)

    op.create_table(
        "payment_share",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("payment_id", types.Whole(), nullable=False),
        sa.Column("sale_line_id", types.Whole(), nullable=False),
        sa.Column("minor", types.Whole(), nullable=False),
        sa.ForeignKeyConstraint(
            ["payment_id"], ["payment.id"], name=op.f("fk_payment_share_payment_id_payment")
        ),
        sa.ForeignKeyConstraint(
            ["sale_line_id"], ["sale_line.id"], name=op.f("fk_payment_share_sale_line_id_sale_line")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_payment_share")),
        sa.UniqueConstraint(
            "payment_id", "sale_line_id", name=op.f("uq_payment_share_payment_id_sale_line_id")
        ),
        sqlite_strict=True,
    )
    with op.batch_alter_table("payment_share", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_payment_share_sale_line_id"), ["sale_line_id"], unique=False)

    op.create_table(
        "refund_share",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("refund_id", types.Whole(), nullable=False),
        sa.Column("sale_line_id", types.Whole(), nullable=False),
        sa.Column("minor", types.Whole(), nullable=False),
        sa.ForeignKeyConstraint(["refund_id"], ["refund.id"], name=op.f("fk_refund_share_refund_id_refund")),
        sa.ForeignKeyConstraint(
            ["sale_line_id"], ["sale_line.id"], name=op.f("fk_refund_share_sale_line_id_sale_line")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_refund_share")),
        sa.UniqueConstraint("refund_id", "sale_line_id", name=op.f("uq_refund_share_refund_id_sale_line_id")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("refund_share", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_refund_share_sale_line_id"), ["sale_line_id"], unique=False)

    op.create_table(
        "settlement",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("number", types.Words(), nullable=False),
        sa.Column("sale_line_id", types.Whole(), nullable=True),
        sa.Column("loss_id", types.Whole(), nullable=True),
        sa.Column("settled_on", types.Day(), nullable=False),
        sa.Column("hold_id", types.Whole(), nullable=True),
        sa.Column("released", types.Whole(), nullable=False),
        sa.Column("given_back", types.Whole(), nullable=False),
        sa.Column("entry_id", types.Whole(), nullable=False),
        sa.ForeignKeyConstraint(["entry_id"], ["entry.id"], name=op.f("fk_settlement_entry_id_entry")),
        sa.ForeignKeyConstraint(["hold_id"], ["hold.id"], name=op.f("fk_settlement_hold_id_hold")),
        sa.ForeignKeyConstraint(["loss_id"], ["loss.id"], name=op.f("fk_settlement_loss_id_loss")),
        sa.ForeignKeyConstraint(
            ["sale_line_id"], ["sale_line.id"], name=op.f("fk_settlement_sale_line_id_sale_line")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_settlement")),
        sa.UniqueConstraint("number", name=op.f("uq_settlement_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("settlement", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_settlement_sale_line_id"), ["sale_line_id"], unique=False)

    op.create_table(
        "settlement_share",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("settlement_id", types.Whole(), nullable=False),
        sa.Column("person_id", types.Whole(), nullable=False),
        sa.Column("minor", types.Whole(), nullable=False),
        sa.Column("set_off", types.Whole(), nullable=False),
        sa.Column("taken_back", types.Whole(), nullable=False),
        sa.ForeignKeyConstraint(
            ["person_id"], ["person.id"], name=op.f("fk_settlement_share_person_id_person")
        ),
        sa.ForeignKeyConstraint(
            ["settlement_id"], ["settlement.id"], name=op.f("fk_settlement_share_settlement_id_settlement")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_settlement_share")),
        sa.UniqueConstraint(
            "settlement_id", "person_id", name=op.f("uq_settlement_share_settlement_id_person_id")
        ),
        sqlite_strict=True,
    )
    with op.batch_alter_table("settlement_share", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_settlement_share_person_id"), ["person_id"], unique=False)

    op.create_table(
        "payout_share",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("payout_id", types.Whole(), nullable=False),
        sa.Column("settlement_share_id", types.Whole(), nullable=False),
        sa.Column("minor", types.Whole(), nullable=False),
        sa.ForeignKeyConstraint(["payout_id"], ["payout.id"], name=op.f("fk_payout_share_payout_id_payout")),
        sa.ForeignKeyConstraint(
            ["settlement_share_id"],
            ["settlement_share.id"],
            name=op.f("fk_payout_share_settlement_share_id_settlement_share"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_payout_share")),
        sa.UniqueConstraint(
            "payout_id", "settlement_share_id", name=op.f("uq_payout_share_payout_id_settlement_share_id")
        ),
        sqlite_strict=True,
    )
    with op.batch_alter_table("payout_share", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_payout_share_settlement_share_id"), ["settlement_share_id"], unique=False
        )
