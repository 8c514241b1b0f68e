"""The list of other people's property and money, for whoever must return it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers.adding import must_add_up
from shopledger.papers.cautions import GENERAL
from shopledger.papers.parts import PaperFacts
from shopledger.quantities.money import Money, total
from shopledger.quantities.words import _, count_words

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class PropertyLine:
    """A thing of someone else in the shop's care: what, where it is, whose, how to reach them."""

    number: str
    what: str
    place: str
    since: date | None = None
    why_here: str = ""
    owner: str
    contact: tuple[str, ...] = ()
    value: Money | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldMoneyLine:
    """What the shop holds for one person: what is due, what waits, what the person owes.

    Shape:  `due` + `waiting` − `owes` = `held`; negative where the person owes the shop more than it holds.
    """

    number: str
    name: str
    contact: tuple[str, ...] = ()
    due: Money
    waiting: Money
    owes: Money
    held: Money
    words: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class HandoverListFacts(PaperFacts):
    """What the list states, on one day.

    Shape:  `value_total` and `held_total` are the sums of the two tables, `value_total` over the lines with a
            value; `bank` is what lies on the shop's accounts, None where not said; `where_papers` says where
            ledger, keys and papers are.
    """

    as_of: date
    property: tuple[PropertyLine, ...]
    value_total: Money
    money: tuple[HeldMoneyLine, ...]
    held_total: Money
    bank: Money | None = None
    where_papers: tuple[str, ...] = ()
    contact: tuple[str, ...] = ()


def compose(facts: HandoverListFacts, sheet: Sheet) -> None:
    """Write the list on a sheet."""
    currency = facts.value_total.currency
    must_add_up(
        "property", (line.value for line in facts.property if line.value is not None), facts.value_total
    )
    must_add_up("money", (line.held for line in facts.money), facts.held_total)
    sheet.title(
        _("Others\u2019 property and money"),
        _("as of {day}, for whoever must return it").format(day=sheet.day(facts.as_of)),
    )
    sheet.section(
        _("What to do"),
        _(
            "Nothing on this list belongs to the shop. Return each thing to its owner against a signature, "
            "and pay each amount to the person named."
        ),
        _(
            "Sell nothing of it and lend nothing of it until its owner has been asked. The money is not "
            "part of what the shop may spend."
        ),
    )
    sheet.section(_("Who can help"), *facts.contact)
    sheet.section(_("Where papers are"), *facts.where_papers)
    sheet.heading(_("Property"))
    if facts.property:
        sheet.ledger(
            (_("Number and what"), _("Where it is"), _("Owner"), sheet.per(currency, _("Value"))),
            [_property_row(line, sheet) for line in facts.property],
            (sheet.wide_column, sheet.share_column, sheet.wide_column, sheet.money_column),
        )
        count = count_words("{n} thing, valued together", "{n} things, valued together", len(facts.property))
        sheet.sums([(count, sheet.amount(facts.value_total))])
    else:
        sheet.section(_("None"), _("The shop has nobody else\u2019s property in its care."))
    sheet.heading(
        _("Money"),
        _(
            "Due can be paid now; waiting depends on a buyer\u2019s money or approval time; owed is what "
            "the person owes the shop; left is due and waiting less owed."
        ),
    )
    if facts.money:
        sheet.ledger(
            (
                _("Person"),
                sheet.per(currency, _("Due")),
                sheet.per(currency, _("Waiting")),
                sheet.per(currency, _("Owed")),
                sheet.per(currency, _("Left")),
            ),
            [_money_row(line, sheet) for line in facts.money],
            (sheet.share_column, *(sheet.money_column,) * 4),
        )
        sheet.sums(_sums(facts, sheet))
    else:
        sheet.section(_("None"), _("The shop holds nobody else\u2019s money."))
    sheet.section(_("Is it covered"), _cover_words(facts, sheet))
    sheet.cautions([_(GENERAL)])


def _property_row(line: PropertyLine, sheet: Sheet) -> tuple[str, str, str, str]:
    """Give the row of one thing."""
    since = "" if line.since is None else _("here since {day}").format(day=sheet.day(line.since))
    return (
        sheet.lines([sheet.strong(line.number), line.what, sheet.quiet(line.why_here)]),
        sheet.lines([line.place, sheet.quiet(since)]),
        sheet.lines([line.owner, sheet.quiet(", ".join(line.contact))]),
        _("unknown") if line.value is None else sheet.amount(line.value),
    )


def _money_row(line: HeldMoneyLine, sheet: Sheet) -> tuple[str, ...]:
    """Give the row of one person."""
    must_add_up("line", (line.due, line.waiting, -line.owes), line.held)
    owes = _("owes the shop") if line.held.minor < 0 else ""
    name = sheet.both(line.name, line.number)
    return (
        sheet.lines([name, sheet.quiet(", ".join(line.contact)), sheet.quiet(line.words), sheet.quiet(owes)]),
        sheet.amount(line.due),
        sheet.amount(line.waiting),
        sheet.amount(-line.owes),
        sheet.amount(line.held),
    )


def _belongs(facts: HandoverListFacts) -> Money:
    """Give what belongs to others: due and waiting. What one person owes the shop does not pay another."""
    return total([line.due + line.waiting for line in facts.money], facts.held_total.currency)


def _sums(facts: HandoverListFacts, sheet: Sheet) -> list[tuple[str, str]]:
    """Give the sums under the money: where somebody owes the shop, what is held stands apart from what is left."""
    belongs = _belongs(facts)
    owed = belongs - facts.held_total
    if not owed:
        return [(_("Held for others together"), sheet.amount(belongs))]
    return [
        (_("Held for others together, debts not taken off"), sheet.amount(belongs)),
        (_("Owed to the shop by some of them"), sheet.amount(-owed)),
        (_("Left, their own debts taken off"), sheet.amount(facts.held_total)),
    ]


def _cover_words(facts: HandoverListFacts, sheet: Sheet) -> str:
    """Say whether the bank covers what is held."""
    if facts.bank is None:
        return ""
    belongs = _belongs(facts)
    bank, held = sheet.money(facts.bank), sheet.money(belongs)
    if facts.bank >= belongs:
        words = _(
            "On the shop\u2019s bank accounts are {bank}; that covers the {held} that belong to others."
        ).format(bank=bank, held=held)
    else:
        words = _(
            "On the shop\u2019s bank accounts are {bank}; that is {short} less than the {held} that belong to others."
        ).format(bank=bank, held=held, short=sheet.money(belongs - facts.bank))
    if belongs == facts.held_total:
        return words
    return f"{words} {_('Debts are not taken off here: what one person owes the shop pays nobody else.')}"
