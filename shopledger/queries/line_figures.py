"""The figures of what was sold, with the working of each, and of what would be if it sold at the asking price."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from shopledger.model import SaleLine, fields_of
from shopledger.quantities.errors import LedgerError
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_, _
from shopledger.queries.due import owner_lines
from shopledger.queries.facts.reckoned import NOT_RECKONED, split_of_line
from shopledger.queries.owing import LineMoney
from shopledger.queries.reckoned import reckoning_terms
from shopledger.queries.sheet_shapes import Line
from shopledger.queries.shop import tax_now
from shopledger.queries.standing import AgreementNow
from shopledger.rules.reckoning import reckon
from shopledger.rules.split import Split
from shopledger.rules.terms import NO_TAX, Case, Scheme, Tax

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

TOTALS = frozenset({"owner_net", "shop_keeps", "buyer_pays"})
"""Figures that stand as totals under a line."""
OWN_FIGURES = ("asking", "discount", "price", "sales_tax", "buyer_pays", "cost", "margin_vat", "shop_keeps")
"""What there is to tell of a line that isn't consigned, in order."""
OWNER_OWES = N_("owner owes")
TO_GIVE_BACK = N_("to give back to the buyer")


def figures_of(reading: Reading, line: SaleLine) -> tuple[Line, ...]:
    """Give every figure of a line with its working; nothing is left out but what is nought."""
    if line.reckoned_from in ("", NOT_RECKONED):
        return _own_figures(reading, line)
    _case, split = split_of_line(reading, line)
    return (*working_lines(split), *_dealer(reading, line))


def working_lines(split: Split) -> tuple[Line, ...]:
    """Give the working of a reckoning as lines, its totals strong; what each owner gets is told by `owners_lines`."""
    return tuple(
        Line(
            step.label,
            step.how,
            step.amount,
            strong=step.figure in TOTALS,
            note=_(OWNER_OWES) if step.figure == "owner_net" and step.amount.minor < 0 else "",
        )
        for step in split.working
        if step.figure != "owners"
    )


def _dealer(reading: Reading, line: SaleLine) -> tuple[Line, ...]:
    if not line.dealer_share:
        return ()
    label = fields_of(SaleLine)["dealer_share"].label
    return (Line(_(label), amount=reading.money(line.dealer_share)),)


def _own_figures(reading: Reading, line: SaleLine) -> tuple[Line, ...]:
    fields = fields_of(SaleLine)
    told = [(name, getattr(line, name)) for name in OWN_FIGURES]
    return tuple(
        Line(_(fields[name].label), amount=reading.money(minor), strong=name in TOTALS)
        for name, minor in told
        if minor and not (name == "asking" and minor == line.price)
    )


def paid_lines(reading: Reading, money: Sequence[LineMoney]) -> tuple[Line, ...]:
    """Give what the buyer has paid for lines, what of it has not cleared, and what is still owed."""
    paid = reading.money(sum(line.paid.minor for line in money))
    waiting = reading.money(sum(line.uncleared.minor for line in money))
    owes = reading.money(sum(line.owes.minor for line in money))
    found = [Line(_("Paid by the buyer"), amount=paid)]
    if waiting.minor:
        found.append(Line(_("of it not cleared yet"), amount=waiting))
    found.append(
        Line(_("The buyer owes"), amount=owes, strong=True, note=_(TO_GIVE_BACK) if owes.minor < 0 else "")
    )
    return tuple(found)


def owners_lines(reading: Reading, line_ids: Sequence[int], on: date) -> tuple[Line, ...]:
    """Give for each owner of consigned lines what is theirs, due, set aside, set off and paid."""
    found: list[Line] = []
    for owner in owner_lines(reading, line_ids, on):
        if owner.is_shop:
            continue
        note = _(OWNER_OWES) if owner.net.minor < 0 else ""
        found.append(Line(_("Net to {name}").format(name=owner.name), amount=owner.net, note=note))
        steps: tuple[tuple[str, Money], ...] = (
            (N_("due now, to settle"), owner.due),
            (N_("set off against what they owe"), owner.set_off),
            (N_("paid out"), owner.paid),
            (N_("set aside, to pay"), owner.held),
        )
        found.extend(Line(_(words), amount=amount) for words, amount in steps if amount.minor)
    return tuple(found)


def at_asking(reading: Reading, agreement: AgreementNow, asking: Money) -> tuple[Line, ...]:
    """Give what a sale at the asking price would leave to whom, under the terms in force and the shop's tax."""
    scheme, rate = tax_now(reading, reading.ledger.today())
    tax = NO_TAX if rate is None else Tax(scheme=Scheme(scheme), rate=rate)
    case = Case(
        currency=reading.currency,
        price=asking,
        asking=asking,
        terms=reckoning_terms(agreement.terms, reading.currency),
        tax=tax,
    )
    try:
        return working_lines(reckon(case, reading.ledger.manners))
    except LedgerError as refusal:
        return (Line(refusal.sentence(reading.ledger.manners)),)
