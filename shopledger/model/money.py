"""Money that moves: payments and refunds, settlements and payouts, charges, fees and outlays.

Each of them names the entry of the journal that it posted; amounts are in minor units of the ledger's currency.
"""

from __future__ import annotations

from datetime import date

from sqlalchemy import CheckConstraint, UniqueConstraint
from sqlalchemy.orm import Mapped

from shopledger.model.record import Record, key, link, shown
from shopledger.quantities.fields import Field, Kind
from shopledger.quantities.words import N_

METHODS = (
    ("transfer", N_("bank transfer")),
    ("card", N_("card")),
    ("cheque", N_("cheque")),
    ("cash", N_("cash")),
    ("deposit", N_("deposit set off")),
    ("part_exchange", N_("part-exchange")),
    ("lien", N_("sale for what was owed")),
)
PAID_BY = METHODS[:4]
CHARGE_KINDS = (
    ("withdrawal", N_("withdrawal")),
    ("storage", N_("storage")),
    ("insurance", N_("insurance")),
    ("valuation", N_("valuation")),
    ("private_sale", N_("commission on a private sale")),
    ("failed_sale", N_("costs of a sale that failed")),
    ("paid_back", N_("payout of a sale that was returned")),
    ("repair", N_("work of the workshop")),
    ("other", N_("other")),
)


class Payment(Record):
    """Money from a buyer, a player or an insurer: received, then cleared or bounced."""

    __tablename__ = "payment"
    __table_args__ = (CheckConstraint("minor > 0", name="above_zero"),)

    id: Mapped[int] = key()
    number: Mapped[str] = shown(Field(N_("Receipt"), in_table=True, searchable=True), unique=True)
    person_id: Mapped[int] = shown(Field(N_("From"), Kind.PERSON, required=True, in_table=True), index=True)
    sale_id: Mapped[int | None] = link("sale.id", index=True)
    hold_id: Mapped[int | None] = link("hold.id")
    loss_id: Mapped[int | None] = link("loss.id")
    deposit_id: Mapped[int | None] = link("payment.id")
    job_id: Mapped[int | None] = link("job.id", index=True)
    trial_id: Mapped[int | None] = link("trial.id", index=True)
    instrument_id: Mapped[int | None] = shown(Field(N_("Taken in part-exchange"), Kind.INSTRUMENT))
    method: Mapped[str] = shown(
        Field(N_("Paid by"), Kind.CHOICE, required=True, in_table=True, choices=METHODS)
    )
    minor: Mapped[int] = shown(Field(N_("Amount"), Kind.MONEY, required=True, in_table=True))
    received_on: Mapped[date] = shown(Field(N_("Received on"), Kind.DAY, required=True, in_table=True))
    reference: Mapped[str] = shown(Field(N_("Reference"), searchable=True))
    cleared_on: Mapped[date | None] = shown(Field(N_("Cleared on"), Kind.DAY, in_table=True))
    bounced_on: Mapped[date | None] = shown(Field(N_("Bounced on"), Kind.DAY))
    entry_id: Mapped[int] = link("entry.id")
    cleared_entry_id: Mapped[int | None] = link("entry.id")


class PaymentShare(Record):
    """The part of a payment that falls on one line."""

    __tablename__ = "payment_share"
    __table_args__ = (UniqueConstraint("payment_id", "sale_line_id"),)

    id: Mapped[int] = key()
    payment_id: Mapped[int] = link("payment.id")
    sale_line_id: Mapped[int] = link("sale_line.id", index=True)
    minor: Mapped[int] = shown(Field(N_("Amount"), Kind.MONEY, required=True))


class Refund(Record):
    """Money given back to a buyer or a player."""

    __tablename__ = "refund"
    __table_args__ = (CheckConstraint("minor > 0", name="above_zero"),)

    id: Mapped[int] = key()
    number: Mapped[str] = shown(Field(N_("Refund"), searchable=True), unique=True)
    person_id: Mapped[int] = shown(Field(N_("To"), Kind.PERSON, required=True), index=True)
    sale_id: Mapped[int | None] = link("sale.id", index=True)
    deposit_id: Mapped[int | None] = link("payment.id")
    method: Mapped[str] = shown(Field(N_("Paid by"), Kind.CHOICE, required=True, choices=PAID_BY))
    minor: Mapped[int] = shown(Field(N_("Amount"), Kind.MONEY, required=True))
    paid_on: Mapped[date] = shown(Field(N_("Paid on"), Kind.DAY, required=True))
    reference: Mapped[str] = shown(Field(N_("Reference"), searchable=True))
    entry_id: Mapped[int] = link("entry.id")


class RefundShare(Record):
    """The part of a refund that falls on one line."""

    __tablename__ = "refund_share"
    __table_args__ = (UniqueConstraint("refund_id", "sale_line_id"),)

    id: Mapped[int] = key()
    refund_id: Mapped[int] = link("refund.id")
    sale_line_id: Mapped[int] = link("sale_line.id", index=True)
    minor: Mapped[int] = shown(Field(N_("Amount"), Kind.MONEY, required=True))


class Settlement(Record):
    """What of a line (a loss, a sale for what was owed) became due and was set aside for its owners."""

    __tablename__ = "settlement"

    id: Mapped[int] = key()
    number: Mapped[str] = shown(Field(N_("Account sales"), searchable=True), unique=True)
    sale_line_id: Mapped[int | None] = link("sale_line.id", index=True)
    loss_id: Mapped[int | None] = link("loss.id")
    settled_on: Mapped[date] = shown(Field(N_("Settled on"), Kind.DAY, required=True))
    hold_id: Mapped[int | None] = link("hold.id")
    trial_line_id: Mapped[int | None] = link("trial_line.id")
    job_id: Mapped[int | None] = link("job.id")
    released: Mapped[int] = shown(Field(N_("Released to the shop"), Kind.MONEY), default=0)
    given_back: Mapped[int] = shown(Field(N_("Given back by the shop"), Kind.MONEY), default=0)
    entry_id: Mapped[int] = link("entry.id")


class SettlementShare(Record):
    """What of a settlement falls on one owner, and what of it was set off against their debt."""

    __tablename__ = "settlement_share"
    __table_args__ = (UniqueConstraint("settlement_id", "person_id"),)

    id: Mapped[int] = key()
    settlement_id: Mapped[int] = link("settlement.id")
    person_id: Mapped[int] = shown(Field(N_("Owner"), Kind.PERSON, required=True), index=True)
    minor: Mapped[int] = shown(Field(N_("Due"), Kind.MONEY, required=True))
    set_off: Mapped[int] = shown(Field(N_("Set off"), Kind.MONEY), default=0)
    taken_back: Mapped[int] = shown(Field(N_("Taken back by a return"), Kind.MONEY), default=0)


class Payout(Record):
    """Money paid to an owner."""

    __tablename__ = "payout"
    __table_args__ = (CheckConstraint("minor > 0", name="above_zero"),)

    id: Mapped[int] = key()
    number: Mapped[str] = shown(Field(N_("Payout"), searchable=True), unique=True)
    person_id: Mapped[int] = shown(Field(N_("To"), Kind.PERSON, required=True), index=True)
    method: Mapped[str] = shown(Field(N_("Paid by"), Kind.CHOICE, required=True, choices=PAID_BY))
    minor: Mapped[int] = shown(Field(N_("Amount"), Kind.MONEY, required=True))
    paid_on: Mapped[date] = shown(Field(N_("Paid on"), Kind.DAY, required=True))
    reference: Mapped[str] = shown(Field(N_("Reference"), searchable=True))
    entry_id: Mapped[int] = link("entry.id")


class PayoutShare(Record):
    """Which settlement a payout pays, oldest first."""

    __tablename__ = "payout_share"
    __table_args__ = (UniqueConstraint("payout_id", "settlement_share_id"),)

    id: Mapped[int] = key()
    payout_id: Mapped[int] = link("payout.id")
    settlement_share_id: Mapped[int] = link("settlement_share.id", index=True)
    minor: Mapped[int] = shown(Field(N_("Amount"), Kind.MONEY, required=True))


class Charge(Record):
    """A charge on an owner's account: what they owe the shop without a sale, or after one that failed."""

    __tablename__ = "charge"
    __table_args__ = (CheckConstraint("minor > 0", name="above_zero"),)

    id: Mapped[int] = key()
    number: Mapped[str] = shown(Field(N_("Charge"), searchable=True), unique=True)
    person_id: Mapped[int] = shown(Field(N_("Owner"), Kind.PERSON, required=True), index=True)
    stay_id: Mapped[int | None] = link("stay.id", index=True)
    sale_line_id: Mapped[int | None] = link("sale_line.id")
    job_id: Mapped[int | None] = link("job.id", index=True)
    kind: Mapped[str] = shown(Field(N_("For"), Kind.CHOICE, required=True, choices=CHARGE_KINDS))
    what: Mapped[str] = shown(Field(N_("In words"), required=True))
    minor: Mapped[int] = shown(Field(N_("Amount"), Kind.MONEY, required=True))
    charged_on: Mapped[date] = shown(Field(N_("Charged on"), Kind.DAY, required=True))
    entry_id: Mapped[int] = link("entry.id")


class FeePayment(Record):
    """Money paid to someone who referred a buyer, or to a second dealer; reported by the day of payment."""

    __tablename__ = "fee_payment"
    __table_args__ = (CheckConstraint("minor > 0", name="above_zero"),)

    id: Mapped[int] = key()
    number: Mapped[str] = shown(Field(N_("Fee payment"), searchable=True), unique=True)
    person_id: Mapped[int] = shown(Field(N_("To"), Kind.PERSON, required=True), index=True)
    method: Mapped[str] = shown(Field(N_("Paid by"), Kind.CHOICE, required=True, choices=PAID_BY))
    minor: Mapped[int] = shown(Field(N_("Amount"), Kind.MONEY, required=True))
    paid_on: Mapped[date] = shown(Field(N_("Paid on"), Kind.DAY, required=True))
    reference: Mapped[str] = shown(Field(N_("Reference"), searchable=True))
    entry_id: Mapped[int] = link("entry.id")
