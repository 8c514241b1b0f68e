"""The credit note: lines of an invoice that came back, reversed to the cent."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers.adding import must_add_up
from shopledger.papers.cautions import GENERAL, TAX
from shopledger.papers.goods import goods_table, tax_rows, tax_words
from shopledger.papers.parts import NO_TAX, GoodsLine, PaperFacts, PartyFacts, PaymentLine, TaxFacts
from shopledger.quantities.money import Money
from shopledger.quantities.words import _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class CreditNoteFacts(PaperFacts):
    """What a credit note states.

    Shape:  amounts are positive: what is credited to the buyer; the lines plus the tax are `total`; `refunds`
            have been paid back (positive); `set_against` is what the credit took off an unpaid invoice; total
            − set_against − refunds = `balance`, which the shop still owes the buyer.
    """

    invoice_number: str
    invoice_on: date
    returned_on: date
    buyer: PartyFacts
    reason: str = ""
    lines: tuple[GoodsLine, ...]
    tax: TaxFacts = NO_TAX
    total: Money
    set_against: Money
    refunds: tuple[PaymentLine, ...] = ()
    balance: Money


def compose(facts: CreditNoteFacts, sheet: Sheet) -> None:
    """Write the credit note on a sheet."""
    lines = sum((line.amount for line in facts.lines), Money.zero(facts.total.currency))
    taxes = tax_rows(facts.tax, sheet)
    must_add_up("credit note", (lines, *(amount for _words, amount in taxes)), facts.total)
    must_add_up(
        "credit",
        (facts.total, -facts.set_against, *(-refund.amount for refund in facts.refunds)),
        facts.balance,
    )
    sheet.title(
        _("Credit note"),
        _("to the invoice {number} of {day}").format(
            number=facts.invoice_number, day=sheet.day(facts.invoice_on)
        ),
    )
    sheet.grid(
        [(_("Buyer"), sheet.party(facts.buyer))],
        [
            (_("Credit note"), facts.number),
            (_("Returned on"), sheet.day(facts.returned_on)),
            (_("Invoice"), facts.invoice_number),
        ],
    )
    goods_table(facts.lines, facts.total, sheet)
    before_tax = [(_("Sum of the lines"), lines)] if taxes or len(facts.lines) > 1 else []
    sheet.sums(
        [
            *((words, sheet.amount(amount)) for words, amount in (*before_tax, *taxes)),
            (_("Credited to the buyer"), sheet.amount(facts.total)),
        ]
    )
    if facts.set_against or facts.refunds:
        sheet.heading(_("What became of it"))
        sheet.ledger(
            (_("Day"), _("What"), sheet.per(facts.total.currency, _("Amount"))),
            _uses(facts, sheet),
            (sheet.label_column, sheet.share_column, sheet.money_column),
        )
        words = _("Still owed to the buyer") if facts.balance else _("Nothing is owed either way")
        sheet.sums([(words, sheet.amount(facts.balance))])
    sheet.section(_("Why"), facts.reason)
    sheet.section(
        _("Tax"),
        *tax_words(facts.tax),
        _("This note reverses the named lines of the invoice in full, tax included, to the smallest unit."),
    )
    sheet.cautions([_(TAX if facts.tax.scheme != "none" else GENERAL)])


def _uses(facts: CreditNoteFacts, sheet: Sheet) -> list[tuple[str, str, str]]:
    """Give the rows of what the credit was used for."""
    rows = [(_("Credited"), "", sheet.amount(facts.total))]
    if facts.set_against:
        rows.append(("", _("Off what was still due on the invoice"), sheet.amount(-facts.set_against)))
    for refund in facts.refunds:
        behind = ", ".join(part for part in (refund.how, refund.reference) if part)
        rows.append((sheet.day(refund.on), sheet.both(refund.what, behind), sheet.amount(-refund.amount)))
    return rows
