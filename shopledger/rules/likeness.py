"""How alike a thing is to what is wanted: Gower's general coefficient of similarity.

Source: J. C. Gower, "A General Coefficient of Similarity and Some of Its Properties", Biometrics 27 (1971), 857-871
(from memory, verify). Two individuals are compared on each character k: a score s between 0 and 1, which is counted
with a weight w where the comparison is possible at all (d = 1) and left out where it isn't (d = 0). The coefficient is

    S = sum(d w s) / sum(d w)

For a quantitative character s = 1 - |x - y| / R, where R is the range of the character in the sample; for a
qualitative one s = 1 where both agree and 0 where they don't. A missing value makes the comparison impossible: the
character is left out, and the others alone decide. Where nothing can be compared S is undefined. Without missing values
the matrix of S between individuals is positive semidefinite; with them it need not be.

What is wanted stands as one of the individuals. Where a stretch is wanted rather than a figure, the distance is the one
to its nearer end, which is nought inside it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Stretch:
    """The figures that are wanted of a character, both ends included; one figure has both ends alike.

    Units:  those of the character, in the whole numbers that are kept; None where that side is open.
    """

    low: int | None
    high: int | None

    def away(self, figure: int) -> int:
        """Give how far a figure lies outside."""
        if self.low is not None and figure < self.low:
            return self.low - figure
        if self.high is not None and figure > self.high:
            return figure - self.high
        return 0

    @property
    def ends(self) -> tuple[int, ...]:
        """The ends that are there."""
        return tuple(end for end in (self.low, self.high) if end is not None)


def range_of(sample: Iterable[int | None], wanted: Stretch) -> int:
    """Give the range R of a character over a sample, what is wanted being one of its individuals.

    Shape:  a figure that isn't known is None and left out.
    """
    figures = [figure for figure in sample if figure is not None] + list(wanted.ends)
    return max(figures) - min(figures) if figures else 0


def figure_score(figure: int | None, wanted: Stretch, spread: int) -> float | None:
    """Give the score of a quantitative character; None where the figure isn't known.

    Shape:  `spread` is the range R, which holds the figure and the ends of what is wanted; where it is nought all are
            alike.
    """
    if figure is None:
        return None
    return 1.0 - wanted.away(figure) / spread if spread else 1.0


def word_score(found: bool | None) -> float | None:
    """Give the score of a qualitative character: whether both agree; None where it isn't known."""
    return None if found is None else float(found)


def likeness(scores: Sequence[tuple[int, float | None]]) -> float | None:
    """Give the coefficient S of scores with their weights; None where nothing can be compared.

    Units:  from 0, nothing alike, to 1, alike in all that is known.
    """
    known = [(weight, score) for weight, score in scores if score is not None]
    whole = sum(weight for weight, _score in known)
    return sum(weight * score for weight, score in known) / whole if whole else None
