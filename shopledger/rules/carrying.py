"""What there is to carry: the weights of an instrument, its case and its bows, the unknown ones said as unknown."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from shopledger.quantities.manners import PLAIN, Manners
from shopledger.quantities.masses import show_mass
from shopledger.quantities.words import _


@dataclass(frozen=True, slots=True)
class Load:
    """One thing to carry: its words, and its weight where it is known.

    Units:  milligrams.
    """

    words: str
    mg: int | None


@dataclass(frozen=True, slots=True)
class Carried:
    """What all of it weighs: the sum of what is known, and whose weight is not.

    Units:  milligrams; None where no weight is known at all.
    """

    known_mg: int | None
    unknown: tuple[str, ...]

    def words(self, manners: Manners = PLAIN) -> str:
        """Say the sum: "3.92 kg", or "at least 3.1 kg; not known: No. 004"."""
        if self.known_mg is None:
            return _("unknown: nothing was weighed")
        total = show_mass(self.known_mg, manners)
        if not self.unknown:
            return total
        return _("at least {total}; not known: {things}").format(total=total, things=", ".join(self.unknown))


def carry(loads: Sequence[Load]) -> Carried:
    """Give what things weigh together; what was not weighed counts for nothing and is named."""
    known = [load.mg for load in loads if load.mg is not None]
    return Carried(sum(known) if known else None, tuple(load.words for load in loads if load.mg is None))
