"""The goods of a sale on a paper: the lines of an invoice or credit note, their tax, and what is said of both."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from shopledger.papers.adding import must_add_up
from shopledger.papers.parts import GoodsLine, TaxFacts
from shopledger.quantities.errors import Bug
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_, _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet

_KINDS = {
    "consigned": N_("sold for its owner"),
    "own": N_("the shop\u2019s own"),
    "accessory": N_("accessory"),
    "freight": N_("freight"),
    "work": N_("work"),
}


def goods_table(lines: Sequence[GoodsLine], total: Money, sheet: Sheet) -> None:
    """Write the lines: number and kind in the narrow column, what it is, then price, discount, amount.

    Raises: Bug: there is no line, or a line doesn't add up.
    """
    if not lines:
        raise Bug(N_("A paper about goods has no line."))
    for line in lines:
        must_add_up("line", (line.price, -line.discount), line.amount)
    discounted = any(line.discount for line in lines)
    currency = total.currency
    heads = [_("Number"), _("What")]
    columns = [sheet.label_column, sheet.share_column]
    if discounted:
        heads += [sheet.per(currency, _("Price")), sheet.per(currency, _("Discount"))]
        columns += [sheet.money_column, sheet.money_column]
    heads.append(sheet.per(currency, _("Amount")))
    columns.append(sheet.money_column)
    rows = []
    for line in lines:
        row = [_number_cell(line, sheet), _what_cell(line, sheet)]
        if discounted:
            row += [sheet.amount(line.price), sheet.amount(-line.discount)]
        rows.append([*row, sheet.amount(line.amount)])
    sheet.ledger(heads, rows, columns)


def tax_rows(tax: TaxFacts, sheet: Sheet) -> list[tuple[str, Money]]:
    """Give the rows under the lines for the tax that is shown to the buyer."""
    if tax.scheme != "sales_tax" or tax.amount is None:
        return []
    label = tax.label or _("Sales tax")
    if tax.exempt_reason:
        return [(_("{tax}, exempt").format(tax=label), tax.amount)]
    if tax.rate is None or tax.taxable is None:
        return [(label, tax.amount)]
    words = _("{tax}, {rate} of {taxable}").format(
        tax=label, rate=sheet.rate(tax.rate), taxable=sheet.amount(tax.taxable)
    )
    return [(words, tax.amount)]


def tax_words(tax: TaxFacts) -> list[str]:
    """Give the sentences about tax that a buyer must be able to read."""
    if tax.scheme == "margin":
        return [
            _(
                "Margin scheme, second-hand goods. Any VAT is within the price; it is not shown and "
                "can\u2019t be deducted by the buyer."
            )
        ]
    if tax.scheme != "sales_tax":
        return [_("No sales tax is charged on this sale.")]
    if tax.exempt_reason:
        return [_("Exempt: {reason}.").format(reason=tax.exempt_reason.rstrip("."))]
    if tax.basis == "invoice":
        return [
            _(
                "Tax is reckoned once, on the sum of the taxable lines, and rounded to the nearest unit, "
                "half a unit up."
            )
        ]
    return [
        _(
            "Tax is reckoned line by line, each rounded to the nearest unit, half a unit up; the lines are "
            "then added."
        )
    ]


def _number_cell(line: GoodsLine, sheet: Sheet) -> str:
    """Give number and kind of a line."""
    return sheet.lines([line.number, sheet.quiet(_(_KINDS[line.kind]))])


def _what_cell(line: GoodsLine, sheet: Sheet) -> str:
    """Give what a line is, its quantity where it is not one, and its details."""
    what = (
        line.what
        if line.quantity == 1
        else _("{quantity} × {what}").format(quantity=line.quantity, what=line.what)
    )
    tax = [] if line.tax is None else [_("tax on this line {amount}").format(amount=sheet.amount(line.tax))]
    return sheet.lines([what, *(sheet.quiet(detail) for detail in (*line.details, *tax))])
