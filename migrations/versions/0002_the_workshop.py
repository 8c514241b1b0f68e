"""The workshop: jobs with estimates, approvals, time and bills; parts and goods; condition reports

Revision: 0002, after 0001
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from shopledger.model import types

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

STRICT = {"sqlite_strict": True}
CHARGE_KINDS = (
    "kind IN ('withdrawal', 'storage', 'insurance', 'valuation', 'private_sale', 'failed_sale', 'paid_back', "
    "'repair', 'other')"
)
PAYMENT_METHODS = "method IN ('transfer', 'card', 'cheque', 'cash', 'deposit', 'part_exchange', 'lien')"
GIVEN = {
    "measurement": {"stage": types.Words()},
    "shop": {
        "tax_on_labour": types.YesNo(),
        "tax_on_parts": types.YesNo(),
        "tax_on_services": types.YesNo(),
        "work_tax_basis": types.Words(),
        "allowed_excess": types.Rate(),
        "estimate_days": types.Whole(),
    },
}


def upgrade() -> None:
    """Bring the tables to this revision."""
    on_sqlite = op.get_bind().dialect.name == "sqlite"
    rebuilt = "always" if on_sqlite else "never"
    yes = "1" if on_sqlite else "true"
    op.create_table(
        "goods",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("number", types.Words(), nullable=False),
        sa.Column("what", types.Words(), nullable=False),
        sa.Column("sort", types.Words(), nullable=False),
        sa.Column("price", types.Whole(), nullable=True),
        sa.Column("low_at", types.Whole(), nullable=False),
        sa.Column("where_kept", types.Words(), nullable=False),
        sa.Column("note", types.Words(), nullable=False),
        sa.CheckConstraint("sort IN ('part', 'accessory')", name=op.f("ck_goods_sort_choice")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_goods")),
        sa.UniqueConstraint("number", name=op.f("uq_goods_number")),
        sqlite_strict=True,
    )
    op.create_table(
        "work_item",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("what", types.Words(), nullable=False),
        sa.Column("for_kind", types.Words(), nullable=False),
        sa.Column("minutes", types.Whole(), nullable=True),
        sa.Column("price", types.Whole(), nullable=True),
        sa.Column("left_out_on", types.Day(), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_work_item")),
        sa.UniqueConstraint("what", name=op.f("uq_work_item_what")),
        sqlite_strict=True,
    )
    op.create_table(
        "goods_in",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("goods_id", types.Whole(), nullable=False),
        sa.Column("came_on", types.Day(), nullable=False),
        sa.Column("came_by", types.Words(), nullable=False),
        sa.Column("quantity", types.Whole(), nullable=False),
        sa.Column("cost", types.Whole(), nullable=False),
        sa.Column("supplier", types.Words(), nullable=False),
        sa.Column("minutes", types.Whole(), nullable=True),
        sa.Column("what_done", types.Words(), nullable=False),
        sa.Column("entry_id", types.Whole(), nullable=True),
        sa.CheckConstraint(
            "came_by IN ('bought', 'altered', 'counted', 'returned')", name=op.f("ck_goods_in_came_by_choice")
        ),
        sa.CheckConstraint("cost >= 0", name=op.f("ck_goods_in_cost_not_below_zero")),
        sa.CheckConstraint("quantity > 0", name=op.f("ck_goods_in_quantity_above_zero")),
        sa.ForeignKeyConstraint(["entry_id"], ["entry.id"], name=op.f("fk_goods_in_entry_id_entry")),
        sa.ForeignKeyConstraint(["goods_id"], ["goods.id"], name=op.f("fk_goods_in_goods_id_goods")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_goods_in")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("goods_in", schema=None) as batch_op:
        batch_op.create_index("ix_goods_in_goods_id_came_on", ["goods_id", "came_on"], unique=False)

    op.create_table(
        "job",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("number", types.Words(), nullable=False),
        sa.Column("stay_id", types.Whole(), nullable=False),
        sa.Column("instrument_id", types.Whole(), nullable=False),
        sa.Column("client_id", types.Whole(), nullable=False),
        sa.Column("bill_to", types.Words(), nullable=False),
        sa.Column("earlier_job_id", types.Whole(), nullable=True),
        sa.Column("opened_on", types.Day(), nullable=False),
        sa.Column("promised_on", types.Day(), nullable=True),
        sa.Column("hears", types.Words(), nullable=False),
        sa.Column("sees", types.Words(), nullable=False),
        sa.Column("estimated_on", types.Day(), nullable=True),
        sa.Column("approved_on", types.Day(), nullable=True),
        sa.Column("begun_on", types.Day(), nullable=True),
        sa.Column("waits_for", types.Words(), nullable=False),
        sa.Column("ready_on", types.Day(), nullable=True),
        sa.Column("declined_on", types.Day(), nullable=True),
        sa.Column("ended_on", types.Day(), nullable=True),
        sa.Column("ending", types.Words(), nullable=True),
        sa.Column("handed_to", types.Words(), nullable=False),
        sa.Column("identity_seen", types.Words(), nullable=False),
        sa.Column("condition_out", types.Words(), nullable=False),
        sa.Column("owing_agreed", types.Words(), nullable=False),
        sa.CheckConstraint(
            "bill_to IN ('client', 'owner', 'shop', 'warranty')", name=op.f("ck_job_bill_to_choice")
        ),
        sa.CheckConstraint(
            "ending IN ('collected', 'declined', 'lien', 'stays', 'lost')", name=op.f("ck_job_ending_choice")
        ),
        sa.ForeignKeyConstraint(["client_id"], ["person.id"], name=op.f("fk_job_client_id_person")),
        sa.ForeignKeyConstraint(["earlier_job_id"], ["job.id"], name=op.f("fk_job_earlier_job_id_job")),
        sa.ForeignKeyConstraint(
            ["instrument_id"], ["instrument.id"], name=op.f("fk_job_instrument_id_instrument")
        ),
        sa.ForeignKeyConstraint(["stay_id"], ["stay.id"], name=op.f("fk_job_stay_id_stay")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_job")),
        sa.UniqueConstraint("number", name=op.f("uq_job_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("job", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_job_client_id"), ["client_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_job_instrument_id"), ["instrument_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_job_stay_id"), ["stay_id"], unique=False)

    op.create_table(
        "condition_report",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("number", types.Words(), nullable=False),
        sa.Column("instrument_id", types.Whole(), nullable=False),
        sa.Column("stay_id", types.Whole(), nullable=True),
        sa.Column("job_id", types.Whole(), nullable=True),
        sa.Column("occasion", types.Words(), nullable=False),
        sa.Column("made_on", types.Day(), nullable=False),
        sa.Column("made_by", types.Words(), nullable=False),
        sa.Column("light", types.Words(), nullable=False),
        sa.Column("overall", types.Words(), nullable=False),
        sa.CheckConstraint(
            "occasion IN ('intake', 'trial_out', 'trial_back', 'handover', 'other')",
            name=op.f("ck_condition_report_occasion_choice"),
        ),
        sa.ForeignKeyConstraint(
            ["instrument_id"], ["instrument.id"], name=op.f("fk_condition_report_instrument_id_instrument")
        ),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_condition_report_job_id_job")),
        sa.ForeignKeyConstraint(["stay_id"], ["stay.id"], name=op.f("fk_condition_report_stay_id_stay")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_condition_report")),
        sa.UniqueConstraint("number", name=op.f("uq_condition_report_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("condition_report", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_condition_report_instrument_id"), ["instrument_id"], unique=False
        )

    op.create_table(
        "estimate",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("number", types.Words(), nullable=False),
        sa.Column("job_id", types.Whole(), nullable=False),
        sa.Column("n", types.Whole(), nullable=False),
        sa.Column("made_on", types.Day(), nullable=False),
        sa.Column("valid_until", types.Day(), nullable=False),
        sa.Column("hourly_rate", types.Whole(), nullable=False),
        sa.Column("discount", types.Whole(), nullable=False),
        sa.Column("tax_rate", types.Rate(), nullable=True),
        sa.Column("tax_basis", types.Words(), nullable=False),
        sa.Column("note", types.Words(), nullable=False),
        sa.Column("net_low", types.Whole(), nullable=False),
        sa.Column("net_high", types.Whole(), nullable=False),
        sa.Column("tax_low", types.Whole(), nullable=False),
        sa.Column("tax_high", types.Whole(), nullable=False),
        sa.CheckConstraint("tax_basis IN ('item', 'invoice')", name=op.f("ck_estimate_tax_basis_choice")),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_estimate_job_id_job")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_estimate")),
        sa.UniqueConstraint("job_id", "n", name=op.f("uq_estimate_job_id_n")),
        sa.UniqueConstraint("number", name=op.f("uq_estimate_number")),
        sqlite_strict=True,
    )
    op.create_table(
        "job_note",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("job_id", types.Whole(), nullable=False),
        sa.Column("noted_on", types.Day(), nullable=False),
        sa.Column("words", types.Words(), nullable=False),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_job_note_job_id_job")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_job_note")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("job_note", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_job_note_job_id"), ["job_id"], unique=False)

    op.create_table(
        "job_service",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("job_id", types.Whole(), nullable=False),
        sa.Column("what", types.Words(), nullable=False),
        sa.Column("supplier", types.Words(), nullable=False),
        sa.Column("bought_on", types.Day(), nullable=False),
        sa.Column("cost", types.Whole(), nullable=False),
        sa.Column("price", types.Whole(), nullable=False),
        sa.Column("entry_id", types.Whole(), nullable=False),
        sa.ForeignKeyConstraint(["entry_id"], ["entry.id"], name=op.f("fk_job_service_entry_id_entry")),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_job_service_job_id_job")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_job_service")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("job_service", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_job_service_job_id"), ["job_id"], unique=False)

    op.create_table(
        "lien_sale",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("job_id", types.Whole(), nullable=False),
        sa.Column("sold_on", types.Day(), nullable=False),
        sa.Column("sold_to", types.Words(), nullable=False),
        sa.Column("price", types.Whole(), nullable=False),
        sa.Column("due", types.Whole(), nullable=False),
        sa.Column("costs", types.Whole(), nullable=False),
        sa.Column("surplus", types.Whole(), nullable=False),
        sa.Column("by_what_right", types.Words(), nullable=False),
        sa.Column("entry_id", types.Whole(), nullable=True),
        sa.ForeignKeyConstraint(["entry_id"], ["entry.id"], name=op.f("fk_lien_sale_entry_id_entry")),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_lien_sale_job_id_job")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_lien_sale")),
        sa.UniqueConstraint("job_id", name=op.f("uq_lien_sale_job_id")),
        sqlite_strict=True,
    )
    op.create_table(
        "reminder",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("job_id", types.Whole(), nullable=False),
        sa.Column("after_days", types.Whole(), nullable=False),
        sa.Column("sent_on", types.Day(), nullable=False),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_reminder_job_id_job")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_reminder")),
        sa.UniqueConstraint("job_id", "after_days", name=op.f("uq_reminder_job_id_after_days")),
        sqlite_strict=True,
    )
    op.create_table(
        "setup_string",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("instrument_id", types.Whole(), nullable=False),
        sa.Column("job_id", types.Whole(), nullable=True),
        sa.Column("stage", types.Words(), nullable=False),
        sa.Column("n", types.Whole(), nullable=False),
        sa.Column("pitch", types.Words(), nullable=False),
        sa.Column("what", types.Words(), nullable=False),
        sa.Column("gauge", types.Words(), nullable=False),
        sa.Column("taken_on", types.Day(), nullable=False),
        sa.ForeignKeyConstraint(
            ["instrument_id"], ["instrument.id"], name=op.f("fk_setup_string_instrument_id_instrument")
        ),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_setup_string_job_id_job")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_setup_string")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("setup_string", schema=None) as batch_op:
        batch_op.create_index(
            "ix_setup_string_instrument_id_taken_on", ["instrument_id", "taken_on"], unique=False
        )
        batch_op.create_index(batch_op.f("ix_setup_string_job_id"), ["job_id"], unique=False)

    op.create_table(
        "work_time",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("job_id", types.Whole(), nullable=False),
        sa.Column("worked_on", types.Day(), nullable=False),
        sa.Column("minutes", types.Whole(), nullable=True),
        sa.Column("started_at", types.Instant(timezone=True), nullable=True),
        sa.Column("what", types.Words(), nullable=False),
        sa.Column("worked_by", types.Words(), nullable=False),
        sa.CheckConstraint("minutes >= 0", name=op.f("ck_work_time_not_below_zero")),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_work_time_job_id_job")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_work_time")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("work_time", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_work_time_job_id"), ["job_id"], unique=False)
        batch_op.create_index(
            "uq_work_time_running",
            ["job_id"],
            unique=True,
            sqlite_where=sa.text("minutes IS NULL"),
            postgresql_where=sa.text("minutes IS NULL"),
        )

    op.create_table(
        "approval",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("job_id", types.Whole(), nullable=False),
        sa.Column("estimate_id", types.Whole(), nullable=True),
        sa.Column("given_by", types.Words(), nullable=False),
        sa.Column("given_on", types.Day(), nullable=False),
        sa.Column("how", types.Words(), nullable=False),
        sa.Column("up_to", types.Whole(), nullable=False),
        sa.Column("note", types.Words(), nullable=False),
        sa.CheckConstraint(
            "how IN ('counter', 'telephone', 'letter', 'email')", name=op.f("ck_approval_how_choice")
        ),
        sa.CheckConstraint("up_to >= 0", name=op.f("ck_approval_not_below_zero")),
        sa.ForeignKeyConstraint(
            ["estimate_id"], ["estimate.id"], name=op.f("fk_approval_estimate_id_estimate")
        ),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_approval_job_id_job")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_approval")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("approval", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_approval_job_id"), ["job_id"], unique=False)

    op.create_table(
        "condition_mark",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("report_id", types.Whole(), nullable=False),
        sa.Column("n", types.Whole(), nullable=False),
        sa.Column("part", types.Words(), nullable=False),
        sa.Column("term", types.Words(), nullable=False),
        sa.Column("severity", types.Words(), nullable=False),
        sa.Column("note", types.Words(), nullable=False),
        sa.Column("picture_id", types.Whole(), nullable=True),
        sa.Column("x", types.Whole(), nullable=True),
        sa.Column("y", types.Whole(), nullable=True),
        sa.CheckConstraint(
            "severity IN ('noted', 'slight', 'marked', 'grave')",
            name=op.f("ck_condition_mark_severity_choice"),
        ),
        sa.CheckConstraint(
            "x >= 0 AND x <= 10000 AND y >= 0 AND y <= 10000", name=op.f("ck_condition_mark_pin_on_picture")
        ),
        sa.ForeignKeyConstraint(
            ["picture_id"], ["picture.id"], name=op.f("fk_condition_mark_picture_id_picture")
        ),
        sa.ForeignKeyConstraint(
            ["report_id"], ["condition_report.id"], name=op.f("fk_condition_mark_report_id_condition_report")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_condition_mark")),
        sa.UniqueConstraint("report_id", "n", name=op.f("uq_condition_mark_report_id_n")),
        sqlite_strict=True,
    )
    op.create_table(
        "estimate_line",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("estimate_id", types.Whole(), nullable=False),
        sa.Column("n", types.Whole(), nullable=False),
        sa.Column("kind", types.Words(), nullable=False),
        sa.Column("what", types.Words(), nullable=False),
        sa.Column("minutes", types.Whole(), nullable=True),
        sa.Column("minutes_high", types.Whole(), nullable=True),
        sa.Column("goods_id", types.Whole(), nullable=True),
        sa.Column("quantity", types.Whole(), nullable=False),
        sa.Column("low", types.Whole(), nullable=False),
        sa.Column("high", types.Whole(), nullable=False),
        sa.Column("is_taxed", types.YesNo(), nullable=False),
        sa.CheckConstraint(
            "kind IN ('labour', 'part', 'service')", name=op.f("ck_estimate_line_kind_choice")
        ),
        sa.CheckConstraint("low >= 0 AND high >= low", name=op.f("ck_estimate_line_low_then_high")),
        sa.ForeignKeyConstraint(
            ["estimate_id"], ["estimate.id"], name=op.f("fk_estimate_line_estimate_id_estimate")
        ),
        sa.ForeignKeyConstraint(["goods_id"], ["goods.id"], name=op.f("fk_estimate_line_goods_id_goods")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_estimate_line")),
        sa.UniqueConstraint("estimate_id", "n", name=op.f("uq_estimate_line_estimate_id_n")),
        sqlite_strict=True,
    )
    op.create_table(
        "job_bill",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("job_id", types.Whole(), nullable=False),
        sa.Column("billed_on", types.Day(), nullable=False),
        sa.Column("bill_to", types.Words(), nullable=False),
        sa.Column("net", types.Whole(), nullable=False),
        sa.Column("tax", types.Whole(), nullable=False),
        sa.Column("cost", types.Whole(), nullable=False),
        sa.Column("minutes", types.Whole(), nullable=False),
        sa.Column("sale_id", types.Whole(), nullable=True),
        sa.Column("entry_id", types.Whole(), nullable=True),
        sa.Column("taken_back_on", types.Day(), nullable=True),
        sa.CheckConstraint(
            "bill_to IN ('client', 'owner', 'shop', 'warranty')", name=op.f("ck_job_bill_bill_to_choice")
        ),
        sa.ForeignKeyConstraint(["entry_id"], ["entry.id"], name=op.f("fk_job_bill_entry_id_entry")),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_job_bill_job_id_job")),
        sa.ForeignKeyConstraint(["sale_id"], ["sale.id"], name=op.f("fk_job_bill_sale_id_sale")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_job_bill")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("job_bill", schema=None) as batch_op:
        batch_op.create_index(
            "uq_job_bill_stands",
            ["job_id"],
            unique=True,
            sqlite_where=sa.text("taken_back_on IS NULL"),
            postgresql_where=sa.text("taken_back_on IS NULL"),
        )

    op.create_table(
        "goods_out",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("goods_in_id", types.Whole(), nullable=False),
        sa.Column("went_on", types.Day(), nullable=False),
        sa.Column("went_by", types.Words(), nullable=False),
        sa.Column("quantity", types.Whole(), nullable=False),
        sa.Column("cost", types.Whole(), nullable=False),
        sa.Column("job_id", types.Whole(), nullable=True),
        sa.Column("sale_line_id", types.Whole(), nullable=True),
        sa.Column("into_id", types.Whole(), nullable=True),
        sa.Column("entry_id", types.Whole(), nullable=True),
        sa.CheckConstraint(
            "went_by IN ('job', 'sold', 'altered', 'counted')", name=op.f("ck_goods_out_went_by_choice")
        ),
        sa.CheckConstraint("quantity > 0", name=op.f("ck_goods_out_quantity_above_zero")),
        sa.ForeignKeyConstraint(["entry_id"], ["entry.id"], name=op.f("fk_goods_out_entry_id_entry")),
        sa.ForeignKeyConstraint(
            ["goods_in_id"], ["goods_in.id"], name=op.f("fk_goods_out_goods_in_id_goods_in")
        ),
        sa.ForeignKeyConstraint(["into_id"], ["goods_in.id"], name=op.f("fk_goods_out_into_id_goods_in")),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_goods_out_job_id_job")),
        sa.ForeignKeyConstraint(
            ["sale_line_id"], ["sale_line.id"], name=op.f("fk_goods_out_sale_line_id_sale_line")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_goods_out")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("goods_out", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_goods_out_goods_in_id"), ["goods_in_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_goods_out_job_id"), ["job_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_goods_out_sale_line_id"), ["sale_line_id"], unique=False)

    op.create_table(
        "job_bill_line",
        sa.Column("id", types.Whole(), nullable=False),
        sa.Column("bill_id", types.Whole(), nullable=False),
        sa.Column("n", types.Whole(), nullable=False),
        sa.Column("kind", types.Words(), nullable=False),
        sa.Column("what", types.Words(), nullable=False),
        sa.Column("minutes", types.Whole(), nullable=True),
        sa.Column("quantity", types.Whole(), nullable=False),
        sa.Column("minor", types.Whole(), nullable=False),
        sa.Column("is_taxed", types.YesNo(), nullable=False),
        sa.CheckConstraint(
            "kind IN ('labour', 'part', 'service')", name=op.f("ck_job_bill_line_kind_choice")
        ),
        sa.ForeignKeyConstraint(["bill_id"], ["job_bill.id"], name=op.f("fk_job_bill_line_bill_id_job_bill")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_job_bill_line")),
        sa.UniqueConstraint("bill_id", "n", name=op.f("uq_job_bill_line_bill_id_n")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("charge", recreate=rebuilt, table_kwargs=STRICT) as batch_op:
        batch_op.add_column(sa.Column("job_id", types.Whole(), nullable=True))
        batch_op.drop_constraint(batch_op.f("ck_charge_kind_choice"), type_="check")
        batch_op.create_check_constraint(batch_op.f("ck_charge_kind_choice"), CHARGE_KINDS)
        batch_op.create_index(batch_op.f("ix_charge_job_id"), ["job_id"], unique=False)
        batch_op.create_foreign_key(batch_op.f("fk_charge_job_id_job"), "job", ["job_id"], ["id"])

    with op.batch_alter_table("measurement", recreate=rebuilt, table_kwargs=STRICT) as batch_op:
        batch_op.add_column(sa.Column("job_id", types.Whole(), nullable=True))
        batch_op.add_column(sa.Column("stage", types.Words(), nullable=False, server_default=sa.text("''")))
        batch_op.create_index(batch_op.f("ix_measurement_job_id"), ["job_id"], unique=False)
        batch_op.create_foreign_key(batch_op.f("fk_measurement_job_id_job"), "job", ["job_id"], ["id"])

    with op.batch_alter_table("paper", recreate=rebuilt, table_kwargs=STRICT) as batch_op:
        batch_op.add_column(sa.Column("job_id", types.Whole(), nullable=True))
        batch_op.create_index(batch_op.f("ix_paper_job_id"), ["job_id"], unique=False)
        batch_op.create_foreign_key(batch_op.f("fk_paper_job_id_job"), "job", ["job_id"], ["id"])

    with op.batch_alter_table("payment", recreate=rebuilt, table_kwargs=STRICT) as batch_op:
        batch_op.add_column(sa.Column("job_id", types.Whole(), nullable=True))
        batch_op.drop_constraint(batch_op.f("ck_payment_method_choice"), type_="check")
        batch_op.create_check_constraint(batch_op.f("ck_payment_method_choice"), PAYMENT_METHODS)
        batch_op.create_index(batch_op.f("ix_payment_job_id"), ["job_id"], unique=False)
        batch_op.create_foreign_key(batch_op.f("fk_payment_job_id_job"), "job", ["job_id"], ["id"])

    with op.batch_alter_table("picture", recreate=rebuilt, table_kwargs=STRICT) as batch_op:
        batch_op.add_column(sa.Column("job_id", types.Whole(), nullable=True))
        batch_op.create_index(batch_op.f("ix_picture_job_id"), ["job_id"], unique=False)
        batch_op.create_foreign_key(batch_op.f("fk_picture_job_id_job"), "job", ["job_id"], ["id"])

    with op.batch_alter_table("sale", recreate=rebuilt, table_kwargs=STRICT) as batch_op:
        batch_op.add_column(sa.Column("job_id", types.Whole(), nullable=True))
        batch_op.create_index(batch_op.f("ix_sale_job_id"), ["job_id"], unique=False)
        batch_op.create_foreign_key(batch_op.f("fk_sale_job_id_job"), "job", ["job_id"], ["id"])

    with op.batch_alter_table("sale_line", recreate=rebuilt, table_kwargs=STRICT) as batch_op:
        batch_op.add_column(sa.Column("goods_id", types.Whole(), nullable=True))
        batch_op.create_foreign_key(batch_op.f("fk_sale_line_goods_id_goods"), "goods", ["goods_id"], ["id"])

    with op.batch_alter_table("settlement", recreate=rebuilt, table_kwargs=STRICT) as batch_op:
        batch_op.add_column(sa.Column("job_id", types.Whole(), nullable=True))
        batch_op.create_foreign_key(batch_op.f("fk_settlement_job_id_job"), "job", ["job_id"], ["id"])

    with op.batch_alter_table("shop", recreate=rebuilt, table_kwargs=STRICT) as batch_op:
        batch_op.add_column(sa.Column("work_rate", types.Whole(), nullable=True))
        batch_op.add_column(
            sa.Column("tax_on_labour", types.YesNo(), nullable=False, server_default=sa.text(yes))
        )
        batch_op.add_column(
            sa.Column("tax_on_parts", types.YesNo(), nullable=False, server_default=sa.text(yes))
        )
        batch_op.add_column(
            sa.Column("tax_on_services", types.YesNo(), nullable=False, server_default=sa.text(yes))
        )
        batch_op.add_column(
            sa.Column("work_tax_basis", types.Words(), nullable=False, server_default=sa.text("'item'"))
        )
        batch_op.add_column(
            sa.Column("allowed_excess", types.Rate(), nullable=False, server_default=sa.text("'0/1'"))
        )
        batch_op.add_column(
            sa.Column("estimate_days", types.Whole(), nullable=False, server_default=sa.text("30"))
        )
        batch_op.create_check_constraint(
            batch_op.f("ck_shop_work_tax_basis_choice"), "work_tax_basis IN ('item', 'invoice')"
        )

    # The defaults were for the rows that are there; the program itself gives every value.
    for table, columns in GIVEN.items():
        with op.batch_alter_table(table, recreate=rebuilt, table_kwargs=STRICT) as batch_op:
            for column, kind in columns.items():
                batch_op.alter_column(
                    column, existing_type=kind, existing_nullable=False, server_default=None
                )
    # A ledger that is being made now gets its accounts from the chart, all at once.
    for code in ("goods", "goods_used", "services"):
        op.execute(f"INSERT INTO account (code) SELECT '{code}' WHERE EXISTS (SELECT 1 FROM account)")
