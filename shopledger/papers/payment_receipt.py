"""The payment receipt: money that came in, from whom, how, and what it was for."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers.adding import must_add_up
from shopledger.papers.parts import AmountLine, PaperFacts, PartyFacts
from shopledger.quantities.money import Money
from shopledger.quantities.words import _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class PaymentReceiptFacts(PaperFacts):
    """What a payment receipt states.

    Shape:  `applied` says what the money went to and adds up to `amount`; `invoiced` is what the invoice asks
            for in all, `paid_before` what had been paid or allowed before, `balance` what is still due.
    """

    received_on: date
    payer: PartyFacts
    amount: Money
    method: str
    reference: str = ""
    deposit: bool = False
    cleared_on: date | None = None
    invoice_number: str = ""
    applied: tuple[AmountLine, ...] = ()
    invoiced: Money | None = None
    paid_before: Money | None = None
    balance: Money | None = None
    notes: str = ""


def compose(facts: PaymentReceiptFacts, sheet: Sheet) -> None:
    """Write the receipt on a sheet."""
    sheet.title(_("Receipt for a deposit") if facts.deposit else _("Receipt for payment"))
    sheet.grid(
        [(_("Received from"), sheet.party(facts.payer))],
        [
            (_("Receipt"), facts.number),
            (_("Received on"), sheet.day(facts.received_on)),
            (_("Invoice"), facts.invoice_number),
        ],
    )
    sheet.pairs(
        _("Payment"),
        [
            (_("Amount"), sheet.strong(sheet.money(facts.amount))),
            (_("Paid by"), facts.method),
            (_("Reference"), facts.reference),
            (
                _("Cleared"),
                _("not yet")
                if facts.cleared_on is None
                else _("on {day}").format(day=sheet.day(facts.cleared_on)),
            ),
        ],
    )
    if facts.applied:
        must_add_up("receipt", (line.amount for line in facts.applied), facts.amount)
        sheet.heading(_("What it went to"))
        sheet.amount_lines(facts.applied, _("Received"), facts.amount)
    if facts.invoiced is not None and facts.balance is not None:
        before = facts.paid_before or Money.zero(facts.amount.currency)
        must_add_up("account", (facts.invoiced, -before, -facts.amount), facts.balance)
        sheet.heading(_("Where the invoice stands"))
        sheet.ledger(
            (_("Invoice"), "", sheet.per(facts.amount.currency, _("Amount"))),
            [
                (facts.invoice_number, _("to pay in all"), sheet.amount(facts.invoiced)),
                ("", _("paid or allowed before"), sheet.amount(-before)),
                ("", _("received now"), sheet.amount(-facts.amount)),
            ],
            (sheet.label_column, sheet.share_column, sheet.money_column),
        )
        sheet.sums([(_balance_words(facts.balance), sheet.amount(facts.balance))])
    sheet.section(_("Notes"), facts.notes)
    if facts.cleared_on is None:
        sheet.section(
            _("Clearing"),
            _("This receipt counts once the money has cleared. A payment that bounces is taken off again."),
        )


def _balance_words(balance: Money) -> str:
    """Give the words of what is left after the payment."""
    if balance.minor < 0:
        return _("Balance: the shop owes the buyer")
    return _("Balance due") if balance else _("Balance: paid in full")
