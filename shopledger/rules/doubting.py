"""What a reading makes one ask: whether it is plausible for its kind, and whether it is far from the reading before it.

A doubt is said and never refuses: an instrument may be out of the ordinary, and work changes it.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from shopledger.quantities.manners import PLAIN, Manners
from shopledger.quantities.measured import (
    Dimension,
    Measured,
    difference_words,
    kept,
    show_measured,
)
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import _
from shopledger.rules.measures import Measure, measure_label

FAR_SHARE = {Dimension.LENGTH: Fraction(1, 50), Dimension.MASS: Fraction(1, 20), Dimension.ANGLE: Fraction(0)}
FAR_LEAST = {Dimension.LENGTH: 1_000_000, Dimension.MASS: 1_000, Dimension.ANGLE: 2_000}
"""How far a reading may be from the one before it: a share of that, and at least so much (1 mm, 1 g, 2°).

Source: common practice, no source.
"""
OTHER_METHOD_LEAST = 5_000_000
"""What the method alone may make of a length: a tape over the arch reads some millimetres more than a straight rule."""


@dataclass(frozen=True, slots=True)
class Earlier:
    """The reading before: its figure, how it was taken and when."""

    figure: Measured
    method: str
    on: date


def doubts(
    measure: Measure,
    side: str,
    figure: Measured,
    method: str = "",
    earlier: Earlier | None = None,
    manners: Manners = PLAIN,
) -> tuple[str, ...]:
    """Give what is to be asked of a reading, in sentences; nothing where it is as one would expect.

    Shape:  the plausible range is that of the whole: a bout's or a stop's half is not held against it.
    """
    said = []
    label = measure_label(measure.key, side)
    is_half = bool(side) and "" in measure.sides and measure.dimension is Dimension.LENGTH
    if measure.plausible is not None and not is_half:
        low, high = measure.plausible
        if not low <= kept(figure) <= high:
            said.append(
                _(
                    "{measure}: {figure} is outside {low} to {high}, between which it usually lies. Look at it again."
                ).format(
                    measure=label,
                    figure=figure.typed,
                    low=show_measured(measure.dimension, low, manners),
                    high=show_measured(measure.dimension, high, manners),
                )
            )
    if earlier is not None and is_far(measure, figure, method, earlier):
        said.append(
            _(
                "{measure}: {figure} is {grown} from {before} of {day}. Look again, or say what changed."
            ).format(
                measure=label,
                figure=figure.typed,
                grown=difference_words(earlier.figure, figure, manners),
                before=earlier.figure.typed,
                day=show_day(earlier.on, manners),
            )
        )
    return tuple(said)


def is_far(measure: Measure, figure: Measured, method: str, earlier: Earlier) -> bool:
    """Whether a reading differs from the one before it by more than two readings of the same thing would."""
    dimension, before = measure.dimension, kept(earlier.figure)
    allowed = max(FAR_SHARE[dimension] * before, Fraction(FAR_LEAST[dimension]))
    if dimension is Dimension.LENGTH and method != earlier.method:
        allowed = max(allowed, Fraction(OTHER_METHOD_LEAST))
    return abs(kept(figure) - before) > allowed
