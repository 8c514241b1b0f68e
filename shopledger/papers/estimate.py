"""The estimate: what the work will come to, at least and at most, until when it holds, and a line to approve it on."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers.adding import must_add_up
from shopledger.papers.cautions import TAX
from shopledger.papers.workshop import (
    NO_TAX_ON_WORK,
    SORTS,
    JobFacts,
    TaxOnWork,
    tax_basis_words,
    tax_label,
    time_words,
    write_grid,
)
from shopledger.quantities.money import Money
from shopledger.quantities.words import _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class EstimateLineFacts:
    """A line of an estimate; `low` and `high` are the same where it can be known.

    Units:  minutes of work.
    Shape:  `kind` is "labour", "part" or "service"; `minutes_high` is None where the time is known.
    """

    kind: str
    what: str
    minutes: int | None = None
    minutes_high: int | None = None
    quantity: int = 1
    low: Money
    high: Money
    taxed: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class EstimateFacts(JobFacts):
    """What an estimate states.

    Shape:  the low (high) amounts less `discount` are `net_low` (`net_high`), and with the tax the totals; `replaces`
            is the number of the estimate before, `approved` what was approved until now, None where nothing was.
    """

    made_on: date
    valid_until: date
    wants: str = ""
    sees: str = ""
    hourly_rate: Money
    lines: tuple[EstimateLineFacts, ...]
    discount: Money
    net_low: Money
    net_high: Money
    tax: TaxOnWork = NO_TAX_ON_WORK
    tax_low: Money
    tax_high: Money
    total_low: Money
    total_high: Money
    replaces: str = ""
    approved: Money | None = None
    notes: tuple[str, ...] = ()


def compose(facts: EstimateFacts, sheet: Sheet) -> None:
    """Write the estimate on a sheet."""
    must_add_up("estimate", (*(line.low for line in facts.lines), -facts.discount), facts.net_low)
    must_add_up("estimate", (*(line.high for line in facts.lines), -facts.discount), facts.net_high)
    must_add_up("total", (facts.net_low, facts.tax_low), facts.total_low)
    must_add_up("total", (facts.net_high, facts.tax_high), facts.total_high)
    ranged = facts.total_low != facts.total_high or any(line.low != line.high for line in facts.lines)
    sheet.title(_("Estimate"))
    write_grid(
        facts,
        sheet,
        [
            (_("Estimate"), facts.number),
            (_("Made on"), sheet.day(facts.made_on)),
            (_("Valid until"), sheet.strong(sheet.day(facts.valid_until))),
            (_("Instead of"), facts.replaces),
            (_("Approved so far"), "" if facts.approved is None else sheet.money(facts.approved)),
        ],
    )
    sheet.section(_("Wanted"), facts.wants)
    sheet.section(_("Seen"), facts.sees)
    _write_lines(facts, sheet, ranged)
    _write_sums(facts, sheet, ranged)
    taxed = bool(facts.tax_high) or facts.tax.rate is not None
    rates = [_("Work by the hour: {rate} an hour.").format(rate=sheet.money(facts.hourly_rate))]
    if taxed:
        rates.append(tax_basis_words(facts.tax))
    sheet.section(_("Rates"), " ".join(rates))
    sheet.section(_("Notes"), *facts.notes)
    sheet.keep_room(100)
    sheet.section(
        _("Approval"),
        _(
            "Nothing is done above what is approved here without asking first. It is an upper bound for the whole "
            "job, with tax, and replaces what was approved before."
        ),
    )
    sheet.blanks(
        [
            (_("name"), 30),
            (_("date"), 17),
            (_("how it was given"), 30),
            (_("up to, {currency}").format(currency=facts.total_high.currency), 23),
        ]
    )
    if facts.tax_high:
        sheet.cautions([_(TAX)])


def _write_lines(facts: EstimateFacts, sheet: Sheet, ranged: bool) -> None:
    """Write the table of lines, with two columns of amounts where low and high differ anywhere."""
    currency = facts.total_low.currency
    heads = [_("Sort"), _("What")]
    columns = [sheet.label_column, sheet.share_column]
    if ranged:
        heads += [sheet.per(currency, _("At least")), sheet.per(currency, _("At most"))]
        columns += [sheet.money_column, sheet.money_column]
    else:
        heads.append(sheet.per(currency, _("Amount")))
        columns.append(sheet.money_column)
    taxing = facts.tax.rate is not None
    rows = [
        (
            sheet.quiet(_(SORTS[line.kind])),
            _what_cell(line, sheet, taxing),
            *((sheet.amount(line.low), sheet.amount(line.high)) if ranged else (sheet.amount(line.high),)),
        )
        for line in facts.lines
    ]
    sheet.ledger(heads, rows, columns)


def _what_cell(line: EstimateLineFacts, sheet: Sheet, taxing: bool) -> str:
    """Give what a line is, its quantity, its time and whether it stays untaxed."""
    what = (
        line.what
        if line.quantity == 1
        else _("{quantity} × {what}").format(quantity=line.quantity, what=line.what)
    )
    behind = []
    if line.minutes is not None:
        time = time_words(line.minutes)
        if line.minutes_high is not None and line.minutes_high != line.minutes:
            time = _("{least} to {most}").format(least=time, most=time_words(line.minutes_high))
        behind.append(time)
    if taxing and not line.taxed:
        behind.append(_("not taxed"))
    return sheet.lines([what, sheet.quiet(", ".join(behind))])


def _write_sums(facts: EstimateFacts, sheet: Sheet, ranged: bool) -> None:
    """Write discount, net, tax and total, low beside high where they differ."""
    nothing = Money.zero(facts.discount.currency)
    rows: list[tuple[str, Money, Money]] = []
    if facts.discount:
        rows.append((_("Discount"), -facts.discount, -facts.discount))
    taxed = facts.tax.rate is not None or facts.tax_high != nothing
    if taxed and (len(facts.lines) > 1 or facts.discount):
        rows.append((_("Net"), facts.net_low, facts.net_high))
    if taxed:
        rows.append((tax_label(facts.tax, sheet), facts.tax_low, facts.tax_high))
    rows.append((_("Total with tax") if taxed else _("Total"), facts.total_low, facts.total_high))
    show: Callable[[Money], str] = sheet.amount
    if ranged:
        sheet.sums_of_two([(words, show(low), show(high)) for words, low, high in rows])
    else:
        sheet.sums([(words, show(high)) for words, _low, high in rows])
