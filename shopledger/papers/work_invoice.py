"""The invoice of a job, or the statement of one the client does not pay: work, parts, services, tax, what is due."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers.adding import must_add_up
from shopledger.papers.cautions import GENERAL, TAX
from shopledger.papers.parts import AmountLine, PaymentLine
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
from shopledger.quantities.words import N_, _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet

_TITLES = {
    "client": (N_("Invoice for work"), ""),
    "owner": (N_("Statement of work"), N_("charged to the owner\u2019s account")),
    "shop": (N_("Statement of work"), N_("on the shop\u2019s own account")),
    "warranty": (N_("Statement of work"), N_("under warranty: nothing is charged")),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkLineFacts:
    """A line of what was done.

    Units:  minutes of work; `hourly` is the rate where minutes at that rate are the amount.
    Shape:  `kind` is "labour", "part", "service" or "goods" (bought along); a negative amount is a discount, or work
            that is not billed.
    """

    kind: str
    what: str
    minutes: int | None = None
    hourly: Money | None = None
    quantity: int = 1
    amount: Money
    taxed: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkInvoiceFacts(JobFacts):
    """What the invoice or statement of a job states.

    Shape:  `bill_to` is "client", "owner", "shop" or "warranty"; the lines add up to `net`, with `tax_amount` to
            `total`. To the client, `total` less `payments` is `balance`. To the owner, `charged` and `shop_bears` are
            `total`. For the shop itself, `cost` is that of parts and services, and `minutes` the time spent.
    """

    bill_to: str = "client"
    billed_on: date
    lines: tuple[WorkLineFacts, ...]
    net: Money
    tax: TaxOnWork = NO_TAX_ON_WORK
    tax_amount: Money
    total: Money
    payments: tuple[PaymentLine, ...] = ()
    balance: Money | None = None
    charged: tuple[AmountLine, ...] = ()
    shop_bears: Money | None = None
    cost: Money | None = None
    minutes: int | None = None
    approved: Money | None = None
    earlier_claim: str = ""
    payment_words: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


def compose(facts: WorkInvoiceFacts, sheet: Sheet) -> None:
    """Write the invoice or statement on a sheet."""
    must_add_up("invoice", (line.amount for line in facts.lines), facts.net)
    must_add_up("total", (facts.net, facts.tax_amount), facts.total)
    title, under = _TITLES[facts.bill_to]
    sheet.title(_(title), _(under) if under else "")
    write_grid(
        facts,
        sheet,
        [
            (_("Invoice") if facts.bill_to == "client" else _("Statement"), facts.number),
            (_("Made on"), sheet.day(facts.billed_on)),
            (_("Earlier job"), facts.earlier_claim),
            (_("Approved up to"), "" if facts.approved is None else sheet.money(facts.approved)),
        ],
    )
    _write_lines(facts, sheet)
    if facts.bill_to == "client":
        _write_balance(facts, sheet)
    elif facts.bill_to == "owner":
        _write_charged(facts, sheet)
    elif facts.bill_to == "shop":
        _write_cost(facts, sheet)
    else:
        sheet.section(_("Warranty"), _warranty_words(facts))
    if facts.tax_amount or facts.tax.rate is not None:
        sheet.section(_("Tax"), tax_basis_words(facts.tax))
    elif facts.bill_to in ("client", "owner"):
        sheet.section(_("Tax"), _("No tax is charged on this work."))
    sheet.section(_("How to pay"), *facts.payment_words)
    sheet.section(_("Notes"), *facts.notes)
    sheet.cautions([_(TAX if facts.tax_amount else GENERAL)])


def _write_lines(facts: WorkInvoiceFacts, sheet: Sheet) -> None:
    """Write the lines, their sum, the tax and the total."""
    currency = facts.total.currency
    taxing = facts.tax.rate is not None or bool(facts.tax_amount)
    sheet.ledger(
        (_("Sort"), _("What"), sheet.per(currency, _("Amount"))),
        [
            (
                sheet.quiet(_(SORTS[line.kind]) if line.amount.minor >= 0 else ""),
                _what_cell(line, sheet, taxing),
                sheet.amount(line.amount),
            )
            for line in facts.lines
        ],
        (sheet.label_column, sheet.share_column, sheet.money_column),
    )
    rows = []
    if taxing:
        rows.append((_("Sum of the lines"), sheet.amount(facts.net)))
        rows.append((tax_label(facts.tax, sheet), sheet.amount(facts.tax_amount)))
    words = _("Total with tax") if taxing else _("Total")
    sheet.sums([*rows, (words, sheet.amount(facts.total))])


def _what_cell(line: WorkLineFacts, sheet: Sheet, taxing: bool) -> str:
    """Give what a line is, its quantity, its time and rate, and whether it stays untaxed."""
    what = (
        line.what
        if line.quantity == 1
        else _("{quantity} × {what}").format(quantity=line.quantity, what=line.what)
    )
    behind = []
    if line.minutes is not None:
        time = time_words(line.minutes)
        if line.hourly is not None:
            time = _("{time} at {rate} an hour").format(time=time, rate=sheet.amount(line.hourly))
        behind.append(time)
    if taxing and not line.taxed:
        behind.append(_("not taxed"))
    return sheet.lines([what, sheet.quiet(", ".join(behind))])


def _write_balance(facts: WorkInvoiceFacts, sheet: Sheet) -> None:
    """Write what was paid, the deposit set off first among it, and what is due."""
    balance = facts.total if facts.balance is None else facts.balance
    must_add_up("balance", (facts.total, *(-line.amount for line in facts.payments)), balance)
    if facts.payments:
        sheet.heading(_("Paid and set off"))
        rows = [
            (sheet.day(line.on), sheet.both(line.what, _behind(line)), sheet.amount(-line.amount))
            for line in facts.payments
        ]
        sheet.ledger(
            (_("Day"), _("What"), sheet.per(facts.total.currency, _("Amount"))),
            [(_("Total"), "", sheet.amount(facts.total)), *rows],
            (sheet.label_column, sheet.share_column, sheet.money_column),
        )
    if balance.minor < 0:
        words = _("Balance: the shop owes the client")
    else:
        words = _("Balance due") if balance else _("Balance: paid in full")
    sheet.sums([(words, sheet.amount(balance))])


def _behind(line: PaymentLine) -> str:
    return ", ".join(
        part for part in (line.how, line.reference, "" if line.cleared else _("not cleared yet")) if part
    )


def _write_charged(facts: WorkInvoiceFacts, sheet: Sheet) -> None:
    """Write which owner is charged with how much, and what the shop bears."""
    nothing = Money.zero(facts.total.currency)
    bears = facts.shop_bears or nothing
    must_add_up("charge", (*(line.amount for line in facts.charged), bears), facts.total)
    lines = [*facts.charged]
    if bears:
        lines.append(AmountLine(what=_("Borne by the shop"), amount=bears))
    sheet.heading(_("Who bears it"))
    sheet.amount_lines(lines, _("Total"), facts.total)
    sheet.section(
        _("Owner\u2019s account"),
        _(
            "It is owed to the shop by the owner. It is set off against a sale only where the agreement says so, and "
            "shows in the account sales with this claim number."
        ),
    )


def _write_cost(facts: WorkInvoiceFacts, sheet: Sheet) -> None:
    """Write what the job cost the shop."""
    sheet.pairs(
        _("Cost"),
        [
            (_("Parts, services"), "" if facts.cost is None else sheet.money(facts.cost)),
            (_("Time spent"), "" if facts.minutes is None else time_words(facts.minutes)),
        ],
    )
    sheet.section(_("Paid by"), _("The shop bears this work itself. Nobody is asked to pay for it."))


def _warranty_words(facts: WorkInvoiceFacts) -> str:
    """Say of which job this is the warranty, and that nothing is due."""
    if facts.earlier_claim:
        return _("Done under the warranty of job {claim}. Nothing is charged and nothing is due.").format(
            claim=facts.earlier_claim
        )
    return _("Done under warranty. Nothing is charged and nothing is due.")
