"""The shop's own money: put in, taken out, spent; and the list for whoever must take over."""

from __future__ import annotations

from dataclasses import dataclass

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.papers import leave_paper
from shopledger.acts.paying import above_zero
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_
from shopledger.queries.shapes import Subject
from shopledger.rules.journal import Amount
from shopledger.store.unit import Writing

MOVES = (
    ("put_in", N_("put in by the shop's owner")),
    ("take_out", N_("taken out by the shop's owner")),
    ("sale_costs", N_("costs of sales paid")),
    ("sales_tax", N_("sales tax handed on")),
    ("vat", N_("VAT handed on")),
)
_OTHER_SIDE = {
    "put_in": ("capital", -1),
    "take_out": ("capital", 1),
    "sale_costs": ("sale_costs", 1),
    "sales_tax": ("sales_tax", 1),
    "vat": ("vat", 1),
}


@dataclass(frozen=True, kw_only=True)
class MoveOwnMoney(Form):
    """Money of the shop itself that comes or goes."""

    kind: str = ask(Field(N_("What"), Kind.CHOICE, required=True, choices=MOVES))
    amount: Money = ask(Field(N_("Amount"), Kind.MONEY, required=True))
    words: str = ask(Field(N_("In words")), default="")


@dataclass(frozen=True, kw_only=True)
class ListOthers(Form):
    """The list of other people's property and money, for whoever must return it."""


def run_move_own_money(writing: Writing, form: MoveOwnMoney) -> Outcome:
    """Book money of the shop that comes or goes."""
    minor = above_zero(form.amount, writing.currency)
    account, sign = _OTHER_SIDE[form.kind]
    writing.book(
        [Amount(account, sign * minor), Amount("bank", -sign * minor)],
        form.words or form.kind.replace("_", " "),
    )
    return Outcome(Subject.SHOP, 1, frozenset({Subject.ENTRY, Subject.ACCOUNT}))


def run_list_others(writing: Writing, form: ListOthers) -> Outcome:
    """Leave the list as a paper."""
    from shopledger.queries.facts.handover_list import handover_list_facts

    facts = handover_list_facts(writing, form.on, writing.number("list"), writing.on)
    return Outcome(Subject.SHOP, 1, frozenset(), (leave_paper(writing, "handover_list", facts),))


MOVE_OWN_MONEY = Act(
    name="move_own_money",
    text=N_("Book the shop's own money"),
    subject=Subject.SHOP,
    form=MoveOwnMoney,
    run=run_move_own_money,
)
LIST_OTHERS = Act(
    name="list_others",
    text=N_("List others' property and money"),
    subject=Subject.SHOP,
    form=ListOthers,
    run=run_list_others,
    papers=("handover_list",),
)
ACTS = (MOVE_OWN_MONEY, LIST_OTHERS)
