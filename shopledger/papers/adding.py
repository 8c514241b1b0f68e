"""The last look at a paper's sums: figures that a reader may add up must add up."""

from __future__ import annotations

from collections.abc import Iterable

from shopledger.papers.parts import WorkingLine
from shopledger.quantities.errors import Bug
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_


def must_add_up(what: str, parts: Iterable[Money], total: Money) -> None:
    """Refuse to print a table whose parts don't add up to its total.

    Raises: Bug: they do not, or currencies are mixed; such a paper must not leave the house.
    """
    left = total
    for part in parts:
        left = left - part
    if left:
        raise Bug(
            N_("The {what} of a paper doesn\u2019t add up: the parts miss the total of {total} by {left}."),
            what=what,
            total=total,
            left=left,
        )


def working_must_add_up(what: str, lines: Iterable[WorkingLine], total: Money) -> None:
    """Refuse to print a working whose counting lines don't add up to its total.

    Raises: Bug: they do not.
    """
    must_add_up(what, (line.amount for line in lines if line.counts), total)
