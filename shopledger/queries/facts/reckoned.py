"""The reckoning of a consigned line, done again from the facts that the line keeps, so that papers show its working."""

from __future__ import annotations

from shopledger.model import SaleLine
from shopledger.quantities.errors import Bug
from shopledger.quantities.words import N_
from shopledger.rules.case_form import parse_json
from shopledger.rules.reckon_case import case_of
from shopledger.rules.reckoning import reckon
from shopledger.rules.split import FIGURES, Split
from shopledger.rules.terms import Case
from shopledger.store.unit import Reading

NOT_RECKONED = "{}"
"""What a line keeps that is not consigned."""
_NOT_KEPT = ("floor_short_by",)


def case_of_line(line: SaleLine) -> Case | None:
    """Give the facts by which a line was split; None for a line that is not consigned."""
    if line.reckoned_from in ("", NOT_RECKONED):
        return None
    return case_of(parse_json(line.reckoned_from))


def split_of_line(reading: Reading, line: SaleLine) -> tuple[Case, Split]:
    """Reckon a consigned line again, with the working in the shop's manners.

    Raises: Bug: the line was not reckoned, or its figures are not those that its facts give.
    """
    case = case_of_line(line)
    if case is None:
        raise Bug(N_("The line “{what}” is not consigned: there is no reckoning to show."), what=line.what)
    split = reckon(case, reading.ledger.manners)
    for name in FIGURES:
        if name not in _NOT_KEPT and getattr(split, name).minor != getattr(line, name):
            raise Bug(
                N_("The {figure} of the line “{what}” is {kept}, but its facts give {reckoned}."),
                figure=name,
                what=line.what,
                kept=reading.money(getattr(line, name)),
                reckoned=getattr(split, name),
            )
    return case, split
