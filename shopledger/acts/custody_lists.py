"""The schedule of goods in custody as of a day, left as a paper for the insurer."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.papers import leave_paper
from shopledger.quantities.errors import Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.words import N_, _, count_words
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.store.unit import Reading, Writing

if TYPE_CHECKING:
    from shopledger.papers.custody_list import CustodyListFacts


@dataclass(frozen=True, kw_only=True)
class PrintCustodyList(Form):
    """The schedule as of the end of a day, which may lie in the past."""

    as_of: date = ask(
        Field(
            N_("As of"),
            Kind.DAY,
            required=True,
            help=N_("The day whose evening it tells of; it may lie in the past."),
        )
    )


def prefill_print_custody_list(reading: Reading, _id: int) -> Mapping[str, Any]:
    """Begin with today."""
    return {"as_of": reading.ledger.today()}


def run_print_custody_list(writing: Writing, form: PrintCustodyList) -> Outcome:
    """Leave the schedule as a paper."""
    _refuse_to_come(writing, form)
    facts = _facts(writing, form, writing.number("custody_list"))
    return Outcome(Subject.SHOP, 1, frozenset(), (leave_paper(writing, "custody_list", facts),))


def preview_print_custody_list(reading: Reading, form: PrintCustodyList) -> Preview:
    """Say how much is in custody in all and by who insures it, and what has no value."""
    from shopledger.papers.custody_list import GROUPS

    _refuse_to_come(reading, form)
    facts = _facts(reading, form, "")
    counted = Counter(line.group for line in facts.lines)
    lines = [
        *(
            Line(_(words), count_words("{n} thing", "{n} things", counted[code]))
            for code, words in GROUPS.items()
            if counted[code]
        ),
        *(
            Line(
                _("Insured by: {who}").format(who=one.insured_by),
                count_words("{n} thing", "{n} things", one.things),
                one.value,
            )
            for one in facts.totals
        ),
        Line(
            _("Together"),
            count_words("{n} thing", "{n} things", len(facts.lines)),
            facts.value_total,
            strong=True,
        ),
    ]
    return Preview(_("In the care of the shop"), tuple(lines), _warnings(facts))


def _warnings(facts: CustodyListFacts) -> tuple[str, ...]:
    bare = [line.number for line in facts.lines if line.value is None]
    if not bare:
        return ()
    return (
        _("{what} without a value, in no sum: {numbers}.").format(
            what=count_words("{n} thing", "{n} things", len(bare)), numbers=", ".join(bare)
        ),
    )


def _facts(reading: Reading, form: PrintCustodyList, number: str) -> CustodyListFacts:
    from shopledger.queries.facts.custody_list import custody_list_facts

    return custody_list_facts(reading, form.as_of, number, form.on)


def _refuse_to_come(reading: Reading, form: PrintCustodyList) -> None:
    """Refuse a day that has not come: where things will be then nobody knows.

    Raises: Typed, naming `as_of`.
    """
    today = reading.ledger.today()
    if form.as_of > today:
        raise Typed(
            N_("{day} has not come yet: the schedule tells of today, {today}, or of a day before."),
            field="as_of",
            day=form.as_of,
            today=today,
        )


PRINT_CUSTODY_LIST = Act(
    name="print_custody_list",
    text=N_("List goods in custody"),
    subject=Subject.SHOP,
    form=PrintCustodyList,
    run=run_print_custody_list,
    prefill=prefill_print_custody_list,
    preview=preview_print_custody_list,
    papers=("custody_list",),
    help=N_("For the insurer: what is in the shop's care, where, at whose risk, insured by whom for what."),
)
ACTS = (PRINT_CUSTODY_LIST,)
