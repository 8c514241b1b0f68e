"""The account of a sale for what was owed: the price, what came off it, and what is left for the owner."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers.adding import must_add_up
from shopledger.papers.parts import AmountLine
from shopledger.papers.workshop import UNCOLLECTED, JobFacts, write_grid
from shopledger.quantities.money import Money
from shopledger.quantities.words import _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class LienSaleFacts(JobFacts):
    """What the account of a sale for what was owed states.

    Shape:  `price` less what it bears of `costs` (`costs` less `costs_left`) and less `to_shop` is `surplus`;
            `to_shop` and `still_due` are `due`; `held_for` is what each owner has of the surplus; `written` are the
            days on which letters went out.
    """

    sold_on: date
    sold_to: str
    opened_on: date
    ready_on: date | None = None
    written: tuple[date, ...] = ()
    invoice_number: str = ""
    price: Money
    costs: Money
    costs_left: Money
    due: Money
    to_shop: Money
    still_due: Money
    surplus: Money
    held_for: tuple[AmountLine, ...] = ()
    by_what_right: tuple[str, ...] = ()


def compose(facts: LienSaleFacts, sheet: Sheet) -> None:
    """Write the account on a sheet."""
    must_add_up("due", (facts.to_shop, facts.still_due), facts.due)
    must_add_up("surplus", (one.amount for one in facts.held_for), facts.surplus)
    sheet.title(_("Account of a sale for what was owed"), _("uncollected after work"))
    write_grid(
        facts,
        sheet,
        [
            (_("Account"), facts.number),
            (_("Left on"), sheet.day(facts.opened_on)),
            (_("Ready since"), "" if facts.ready_on is None else sheet.day(facts.ready_on)),
            (_("Sold on"), sheet.day(facts.sold_on)),
        ],
    )
    sheet.section(_("Sold to"), facts.sold_to)
    sheet.section(_("By what right"), *facts.by_what_right)
    if facts.written:
        days = ", ".join(sheet.day(day) for day in facts.written)
        sheet.section(_("Written before"), _("Letters went out on {days}.").format(days=days))
    _write_money(facts, sheet)
    sheet.cautions([_(UNCOLLECTED)])


def _write_money(facts: LienSaleFacts, sheet: Sheet) -> None:
    """Write what came off the price, and whose the rest is."""
    rows = [
        (_("Price"), "", facts.price),
        (_("Costs of the sale"), "", -facts.costs),
        (_("Costs above the price"), _("borne by the shop"), facts.costs_left),
        (_("Owed for the work"), facts.invoice_number, -facts.to_shop),
    ]
    must_add_up("account", (amount for _words, _how, amount in rows), facts.surplus)
    sheet.heading(_("What the price went to"))
    sheet.ledger(
        (_("What"), "", sheet.per(facts.price.currency, _("Amount"))),
        [(words, how, sheet.amount(amount)) for words, how, amount in rows if amount or words == _("Price")],
        (sheet.label_column, sheet.share_column, sheet.money_column),
    )
    sheet.sums([(_("Left for the owner"), sheet.amount(facts.surplus))])
    if facts.surplus:
        held = [
            _("{amount} is held for {name}.").format(amount=sheet.money(one.amount), name=one.what)
            for one in facts.held_for
        ]
        sheet.section(_("Held"), *held)
    else:
        sheet.section(_("Held"), _("Nothing is left of it."))
    if facts.still_due:
        sheet.section(
            _("Still owed"),
            _("{amount} of the invoice {number} is still owed.").format(
                amount=sheet.money(facts.still_due), number=facts.invoice_number
            ),
        )
