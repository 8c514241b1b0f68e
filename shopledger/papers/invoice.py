"""The sale invoice: what was sold, at what price and tax, what was paid and what is due."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers.adding import must_add_up
from shopledger.papers.cautions import GENERAL, TAX, words_of
from shopledger.papers.goods import goods_table, tax_rows, tax_words
from shopledger.papers.parts import (
    NO_CAUTIONS,
    NO_TAX,
    CautionFacts,
    GoodsLine,
    PaperFacts,
    PartExchangeLine,
    PartyFacts,
    PaymentLine,
    TaxFacts,
)
from shopledger.quantities.money import Money
from shopledger.quantities.words import _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class InvoiceFacts(PaperFacts):
    """What a sale invoice states.

    Shape:  the amounts of `lines` plus the tax are `total`; `total` less allowances and payments is
            `balance`, negative where the shop owes the buyer; refunds stand among `payments` with a negative
            amount; `hold_until` and `approval_until` are the last days of a hold and of the approval time.
    """

    sale_number: str = ""
    sold_on: date
    buyer: PartyFacts
    ship_to: PartyFacts | None = None
    lines: tuple[GoodsLine, ...]
    tax: TaxFacts = NO_TAX
    part_exchanges: tuple[PartExchangeLine, ...] = ()
    payments: tuple[PaymentLine, ...] = ()
    total: Money
    balance: Money
    due_on: date | None = None
    hold_until: date | None = None
    approval_until: date | None = None
    shipping: str = ""
    payment_words: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    cautions: CautionFacts = NO_CAUTIONS


def compose(facts: InvoiceFacts, sheet: Sheet) -> None:
    """Write the invoice on a sheet."""
    currency = facts.total.currency
    lines = sum((line.amount for line in facts.lines), Money.zero(currency))
    taxes = tax_rows(facts.tax, sheet)
    must_add_up("invoice", (lines, *(amount for _words, amount in taxes)), facts.total)
    taken_off = _taken_off(facts, sheet)
    must_add_up("balance", (facts.total, *(amount for _words, amount in taken_off)), facts.balance)
    sheet.title(_("Invoice"))
    blocks = [(_("Buyer"), sheet.party(facts.buyer))]
    if facts.ship_to is not None:
        blocks.append((_("Goes to"), sheet.party(facts.ship_to)))
    sheet.grid(
        blocks,
        [
            (_("Invoice"), facts.number),
            (_("Sold on"), sheet.day(facts.sold_on)),
            (_("Sale"), facts.sale_number),
            (_("Due on"), "" if facts.due_on is None else sheet.day(facts.due_on)),
            (_("Held until"), "" if facts.hold_until is None else sheet.day(facts.hold_until)),
        ],
    )
    goods_table(facts.lines, facts.total, sheet)
    before_tax = [(_("Sum of the lines"), lines)] if taxes or len(facts.lines) > 1 else []
    sheet.sums(
        [
            *((words, sheet.amount(amount)) for words, amount in (*before_tax, *taxes)),
            (_total_words(facts), sheet.amount(facts.total)),
        ]
    )
    if taken_off:
        sheet.heading(_("Paid and allowed"))
        _payments(facts, sheet)
        sheet.sums([(_balance_words(facts.balance), sheet.amount(facts.balance))])
    sheet.section(_("Tax"), *tax_words(facts.tax))
    if any(line.kind == "consigned" for line in facts.lines):
        sheet.section(
            _("Seller"), _("Lines marked “sold for its owner” are sold by the shop as the owner’s agent.")
        )
    if facts.approval_until is not None:
        sheet.section(
            _("Approval"),
            _("What is bought here may be returned until {day}, in the condition it left in.").format(
                day=sheet.day(facts.approval_until)
            ),
        )
    sheet.section(_("Sent by"), facts.shipping)
    sheet.section(_("How to pay"), *facts.payment_words)
    sheet.section(_("Notes"), *facts.notes)
    general = (TAX,) if facts.tax.scheme != "none" else (GENERAL,)
    sheet.cautions(words_of(facts.cautions, *general))


def _total_words(facts: InvoiceFacts) -> str:
    """Give the words of the total, so that it is clear whether tax is in it."""
    if facts.tax.scheme == "sales_tax" and not facts.tax.exempt_reason:
        return _("Total with tax")
    return _("Total")


def _balance_words(balance: Money) -> str:
    """Give the words of what is left, whoever owes it."""
    if balance.minor < 0:
        return _("Balance: the shop owes the buyer")
    return _("Balance due") if balance else _("Balance: paid in full")


def _taken_off(facts: InvoiceFacts, sheet: Sheet) -> list[tuple[str, Money]]:
    """Give what comes off the total, negative; a refund adds to it again."""
    return [
        *((line.what, -line.allowance) for line in facts.part_exchanges),
        *((line.what, -line.amount) for line in facts.payments),
    ]


def _payments(facts: InvoiceFacts, sheet: Sheet) -> None:
    """Write part-exchanges and payments, each on its own line, as they come off the total."""
    rows = [
        (
            "",
            sheet.both(_("Part-exchange: {what}").format(what=line.what), line.number),
            sheet.amount(-line.allowance),
        )
        for line in facts.part_exchanges
    ]
    for line in facts.payments:
        behind = ", ".join(
            part for part in (line.how, line.reference, "" if line.cleared else _("not cleared yet")) if part
        )
        rows.append((sheet.day(line.on), sheet.both(line.what, behind), sheet.amount(-line.amount)))
    sheet.ledger(
        (_("Day"), _("What"), sheet.per(facts.total.currency, _("Amount"))),
        [(_("Total"), "", sheet.amount(facts.total)), *rows],
        (sheet.label_column, sheet.share_column, sheet.money_column),
    )
