"""The schedule of goods in custody on a day, for the insurer: each thing, where, at whose risk, insured for what.

The same facts are given as CSV, so that both have the same figures.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers.adding import must_add_up
from shopledger.papers.cautions import GENERAL
from shopledger.papers.parts import PaperFacts
from shopledger.quantities.money import Money, total
from shopledger.quantities.spreadsheet import Value, written_for_people
from shopledger.quantities.words import N_, _, count_words

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet

OWN, CONSIGNED, REPAIR, KEPT, TRIAL, ELSEWHERE = "own", "consigned", "repair", "kept", "trial", "elsewhere"
GROUPS: dict[str, str] = {
    OWN: N_("The shop\u2019s own, here"),
    CONSIGNED: N_("Consigned, here"),
    REPAIR: N_("In repair, here"),
    KEPT: N_("To be valued or looked after, here"),
    TRIAL: N_("On trial"),
    ELSEWHERE: N_("Elsewhere"),
}
"""What stands together, in the order of the paper: first what is in the shop, by why, then what is out of it."""
VALUES = N_(
    "A value is the one agreed with the owner or the player, else the one named when the thing came in. No value is an "
    "appraisal unless its paper says who made it. A thing without a value is in the care of the shop all the same."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class CustodyLine:
    """A thing in the shop's care.

    Shape:  `group` is a code of `GROUPS`; everything else is in the reader's words; `insured_by` says so where nobody
            has said; `value` is None where none is known.
    """

    group: str
    number: str
    what: str
    maker: str = ""
    serial: str = ""
    whose: str
    place: str
    since: date | None = None
    risk: str
    insured_by: str
    value: Money | None = None
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class InsurerTotal:
    """What one party insures: how many things, how many of them without a value, and the value of the others."""

    insured_by: str
    things: int
    without_value: int
    value: Money


@dataclass(frozen=True, slots=True, kw_only=True)
class CustodyListFacts(PaperFacts):
    """What the schedule states of one day.

    Shape:  `lines` stand by group in the order of `GROUPS`; `totals` are of all lines by who insures them, and
            `value_total` is their sum.
    """

    as_of: date
    lines: tuple[CustodyLine, ...]
    totals: tuple[InsurerTotal, ...]
    value_total: Money


def compose(facts: CustodyListFacts, sheet: Sheet) -> None:
    """Write the schedule on a sheet."""
    currency = facts.value_total.currency
    must_add_up("totals", (one.value for one in facts.totals), facts.value_total)
    must_add_up("lines", _values(facts.lines), facts.value_total)
    sheet.title(
        _("Schedule of goods in custody"), _("as of the end of {day}").format(day=sheet.day(facts.as_of))
    )
    if not facts.lines:
        sheet.section(_("In custody"), _("Nothing was in the care of the shop on this day."))
    for code, words in GROUPS.items():
        lines = [line for line in facts.lines if line.group == code]
        if lines:
            _group(_(words), lines, currency, sheet)
    if facts.lines:
        _totals(facts, sheet)
    sheet.section(_("Values"), _(VALUES), small=True)
    sheet.cautions([_(GENERAL)])


def _values(lines: Iterable[CustodyLine]) -> list[Money]:
    return [line.value for line in lines if line.value is not None]


def _group(title: str, lines: Sequence[CustodyLine], currency: str, sheet: Sheet) -> None:
    """Write the table of one group and its sum."""
    sheet.heading(title)
    sheet.ledger(
        (_("Number and what"), _("Where it is"), _("Risk and insurance"), sheet.per(currency, _("Value"))),
        [_row(line, sheet) for line in lines],
        (sheet.wide_column, sheet.share_column, sheet.share_column, sheet.money_column),
    )
    counted = count_words("{n} thing", "{n} things", len(lines))
    bare = sum(line.value is None for line in lines)
    if bare:
        counted = f"{counted}, {_without(bare)}"
    sheet.sums([(counted, sheet.amount(total(_values(lines), currency)))])


def _row(line: CustodyLine, sheet: Sheet) -> tuple[str, str, str, str]:
    since = "" if line.since is None else _("since {day}").format(day=sheet.day(line.since))
    serial = _("serial {serial}").format(serial=line.serial) if line.serial else ""
    about = ((line.maker, serial), (line.whose,))
    return (
        sheet.lines(
            [
                sheet.strong(line.number),
                line.what,
                *(sheet.quiet(", ".join(part for part in parts if part)) for parts in about),
            ]
        ),
        sheet.lines([line.place, sheet.quiet(since), sheet.quiet(line.note)]),
        sheet.lines(
            [
                _("risk: {who}").format(who=line.risk),
                sheet.quiet(_("insured by: {who}").format(who=line.insured_by)),
            ]
        ),
        _("no value") if line.value is None else sheet.amount(line.value),
    )


def _totals(facts: CustodyListFacts, sheet: Sheet) -> None:
    """Write what each insures, and the whole."""
    sheet.heading(_("By who insures"))
    sheet.ledger(
        (
            _("Insured by"),
            _("Things"),
            _("Without a value"),
            sheet.per(facts.value_total.currency, _("Value")),
        ),
        [
            (one.insured_by, str(one.things), str(one.without_value or "\u2013"), sheet.amount(one.value))
            for one in facts.totals
        ],
        (sheet.wide_column, sheet.share_column, sheet.share_column, sheet.money_column),
    )
    counted = count_words("{n} thing together", "{n} things together", len(facts.lines))
    sheet.sums([(counted, sheet.amount(facts.value_total))])
    bare = [line.number for line in facts.lines if line.value is None]
    if bare:
        sheet.section(
            _("Without a value"),
            _("{what}: not in these sums. {numbers}.").format(
                what=count_words("{n} thing", "{n} things", len(bare)), numbers=", ".join(bare)
            ),
        )


def _without(count: int) -> str:
    return count_words("{n} without a value", "{n} without a value", count)


def as_csv(facts: CustodyListFacts) -> bytes:
    """Give the schedule as CSV for a spreadsheet: the lines, then, after an empty one, what each insures."""
    currency = facts.value_total.currency
    head: tuple[Value, ...] = (
        _("Number"),
        _("What"),
        _("Maker"),
        _("Serial"),
        _("Group"),
        _("Whose"),
        _("Where it is"),
        _("Since"),
        _("Note"),
        _("Risk is borne by"),
        _("Insured by"),
        f"{_('Value')}, {currency}",
    )
    rows: list[Sequence[Value]] = [
        (_("Schedule of goods in custody"), facts.number, facts.shop.name, facts.as_of),
        (),
        head,
    ]
    for line in facts.lines:
        rows.append(
            (
                line.number,
                line.what,
                line.maker,
                line.serial,
                _(GROUPS[line.group]),
                line.whose,
                line.place,
                line.since,
                line.note,
                line.risk,
                line.insured_by,
                line.value if line.value is not None else _("no value"),
            )
        )
    rows += [(), (_("Insured by"), _("Things"), _("Without a value"), f"{_('Value')}, {currency}")]
    rows += [(one.insured_by, one.things, one.without_value, one.value) for one in facts.totals]
    rows.append(
        (
            _("Together"),
            len(facts.lines),
            sum(one.without_value for one in facts.totals),
            facts.value_total,
        )
    )
    return written_for_people(rows, facts.shop.manners)
