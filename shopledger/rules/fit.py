"""Which standard size an instrument feels like: by string length, stop, body, reach and upper bout, each for itself.

The five are never put together into one size, since instruments of one nominal size differ; and no string length is
derived from a body, for it does not follow from it. Where no handbook gives a figure, that is said.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import Enum

from shopledger.quantities.lengths import Length
from shopledger.quantities.manners import PLAIN, Manners
from shopledger.quantities.measured import Dimension, show_measured
from shopledger.quantities.words import N_, _
from shopledger.rules.handbook import COMPARED_AS, HandbookValue, handbook_values, size_word
from shopledger.rules.reach import fingers_of, reach_nm

Key = tuple[str, str]
"""A measure and its side."""


class Verdict(Enum):
    """How a figure stands to the sizes of the handbook."""

    LIKE = "like"
    BETWEEN = "between"
    SMALLER = "smaller"
    LARGER = "larger"
    NOT_MEASURED = "not_measured"
    NO_HANDBOOK = "no_handbook"


@dataclass(frozen=True, slots=True)
class Taken:
    """A length as it was taken: the figure, and how."""

    figure: Length
    method: str = ""


@dataclass(frozen=True, slots=True)
class Feel:
    """What one figure of an instrument feels like.

    Shape:  `near` are the sizes that hold the figure, else the one or two it lies next to, the nearer first;
            `used` is every handbook figure it was compared with; `how` says how the figure came about.
    Units:  `nm` nanometres; None where it was not measured.
    """

    aspect: str
    words: str
    nm: int | None
    typed: str
    verdict: Verdict
    near: tuple[HandbookValue, ...] = ()
    used: tuple[HandbookValue, ...] = ()
    how: str = ""
    cautions: tuple[str, ...] = ()

    def said(self, manners: Manners = PLAIN) -> str:
        """Say in one sentence what it feels like."""
        match self.verdict:
            case Verdict.NOT_MEASURED:
                return _("Not measured.")
            case Verdict.NO_HANDBOOK:
                return _("No handbook value is known for it.")
            case Verdict.LIKE:
                return _like(self.near)
            case Verdict.BETWEEN:
                nearer, other = self.near
                return _("Between {nearer} ({off}) and {other} ({other_off}).").format(
                    nearer=size_word(nearer.size),
                    off=self._off(nearer, manners),
                    other=size_word(other.size),
                    other_off=self._off(other, manners),
                )
            case Verdict.SMALLER | Verdict.LARGER:
                return self._beyond(self.near[0], manners)

    def _off(self, value: HandbookValue, manners: Manners) -> str:
        assert self.nm is not None
        off = value.off(self.nm)
        far = show_measured(Dimension.LENGTH, abs(off), manners)
        return (_("{far} longer") if off > 0 else _("{far} shorter")).format(far=far)

    def _beyond(self, value: HandbookValue, manners: Manners) -> str:
        assert self.nm is not None
        far = show_measured(Dimension.LENGTH, abs(value.off(self.nm)), manners)
        size = size_word(value.size)
        if not size:
            return (
                _("Below what is usual, by {far}.")
                if self.verdict is Verdict.SMALLER
                else _("Above what is usual, by {far}.")
            ).format(far=far)
        only = len(self.used) == 1
        if self.verdict is Verdict.SMALLER:
            words = (
                _("Smaller than {size}, by {far}; no smaller size is given.")
                if not only
                else _("Smaller than {size}, by {far}; no other size is given.")
            )
        else:
            words = (
                _("Larger than {size}, by {far}; no larger size is given.")
                if not only
                else _("Larger than {size}, by {far}; no other size is given.")
            )
        return words.format(size=size, far=far)


def _like(near: Sequence[HandbookValue]) -> str:
    sizes = [size_word(value.size) for value in near]
    if not all(sizes):
        return _("Within what is usual.")
    return _("Feels like {sizes}.").format(sizes=_(" or ").join(sizes))


ASPECTS = (
    ("string_length", N_("String length")),
    ("stop", N_("Stop")),
    ("body_length", N_("Body")),
    ("reach", N_("Reach of the left hand")),
    ("upper_bout", N_("Width of the upper bout")),
)
"""What an instrument feels like by, and the words of each; the names of measures, but for the reach."""
SIZED_KINDS = ("violin", "viola", "cello", "piccolo_cello", "viola_da_gamba", "double_bass")
"""Kinds of which a hand feels a size."""


def fit(kind: str, taken: Mapping[Key, Taken], manners: Manners = PLAIN) -> tuple[Feel, ...]:
    """Give what an instrument feels like by each of the five; nothing for a kind without sizes, such as a bow."""
    if kind not in SIZED_KINDS:
        return ()
    return tuple(
        _reach(kind, words, taken, manners)
        if aspect == "reach"
        else _feel(kind, aspect, words, taken, manners)
        for aspect, words in ASPECTS
    )


def _feel(kind: str, aspect: str, words: str, taken: Mapping[Key, Taken], manners: Manners) -> Feel:
    whole = _whole(aspect, taken, manners)
    values = handbook_values(kind, aspect)
    if whole is None:
        return Feel(aspect, words, None, "", Verdict.NOT_MEASURED, used=values)
    one, how = whole
    verdict, near = compare(one.figure.nm, values)
    cautions = [
        _(
            "The handbook takes it {handbook}, this reading was taken {taken}: some millimetres lie between."
        ).format(handbook=_(method), taken=", ".join(_(word) for word in one.method.split(", ")))
        for method in dict.fromkeys(value.method for value in near)
        if method and one.method and method not in one.method.split(", ")
    ]
    if kind in COMPARED_AS and values:
        cautions.append(_("Compared with the sizes of a cello: it has none of its own."))
    return Feel(aspect, words, one.figure.nm, one.figure.typed, verdict, near, values, how, tuple(cautions))


def _whole(measure: str, taken: Mapping[Key, Taken], manners: Manners) -> tuple[Taken, str] | None:
    """Give the reading of the whole; of a bout that was only measured in halves, their sum."""
    if (measure, "") in taken:
        return taken[measure, ""], ""
    halves = [taken.get((measure, side)) for side in ("bass", "treble")]
    if measure == "stop":
        # Each side's stop is a whole one: the treble side's stands for both where only the sides were taken.
        one = halves[1] or halves[0]
        return None if one is None else (one, _("treble side") if halves[1] else _("bass side"))
    bass, treble = halves
    if bass is None or treble is None:
        return None
    both = bass.figure.nm + treble.figure.nm
    summed = Length(both, show_measured(Dimension.LENGTH, both, manners))
    how = _("bass side {bass} and treble side {treble} together").format(
        bass=bass.figure.typed, treble=treble.figure.typed
    )
    return Taken(summed, bass.method if bass.method == treble.method else ""), how


def _reach(kind: str, words: str, taken: Mapping[Key, Taken], manners: Manners) -> Feel:
    """Give the reach: first to fourth finger in first position, which the string length and the tuning decide."""
    fingers = fingers_of(kind)
    strings = handbook_values(kind, "string_length")
    values = tuple(_as_reach(value, kind) for value in strings)
    string = taken.get(("string_length", ""))
    how = _("first to fourth finger in first position, {interval}, from the string length").format(
        interval=_(fingers.interval)
    )
    if string is None:
        return Feel("reach", words, None, "", Verdict.NOT_MEASURED, used=values, how=how)
    nm = _tenths(reach_nm(kind, string.figure.nm))
    verdict, near = compare(nm, values)
    return Feel(
        "reach",
        words,
        nm,
        "\u2248 " + show_measured(Dimension.LENGTH, nm, manners),
        verdict,
        near,
        values,
        how,
    )


def _tenths(nm: int) -> int:
    """Round a length to a tenth of a millimetre: finer than fingers are set."""
    return (nm + 50_000) // 100_000 * 100_000


def _as_reach(value: HandbookValue, kind: str) -> HandbookValue:
    """Give the reach that belongs to a handbook's string length, to a tenth of a millimetre."""
    low, high = (_tenths(reach_nm(kind, end)) for end in (value.low, value.high))
    return HandbookValue(
        kind=value.kind,
        measure="reach",
        side="",
        size=value.size,
        dimension=value.dimension,
        low=low,
        high=high,
        source=value.source,
        about=True,
        within=0,
        note=N_("worked out from the string length that the source gives"),
    )


def compare(nm: int, values: Sequence[HandbookValue]) -> tuple[Verdict, tuple[HandbookValue, ...]]:
    """Give how a figure stands to the sizes of a measure, and the sizes that say so, the nearer first.

    Units:  nanometres. At the same distance the smaller size comes first.
    """
    if not values:
        return Verdict.NO_HANDBOOK, ()
    holding = tuple(value for value in values if value.holds(nm))
    if holding:
        return Verdict.LIKE, holding
    below = [value for value in values if value.off(nm) > 0]
    above = [value for value in values if value.off(nm) < 0]
    if below and above:
        pair = (max(below, key=lambda value: value.high), min(above, key=lambda value: value.low))
        near = sorted(pair, key=lambda value: abs(value.off(nm)))
        return Verdict.BETWEEN, tuple(near)
    if below:
        return Verdict.LARGER, (max(below, key=lambda value: value.high),)
    return Verdict.SMALLER, (min(above, key=lambda value: value.low),)


def beside(kind: str, measure: str, side: str, number: int, size: str = "") -> tuple[HandbookValue, ...]:
    """Give the handbook's figures to set beside a reading: of its nominal size where one is known, else the nearest.

    Shape:  nothing where no handbook gives any.
    Units:  of the reading, in the whole numbers that are kept.
    """
    values = handbook_values(kind, measure, side)
    wanted = " ".join(size.casefold().split())
    of_size = tuple(value for value in values if value.size == wanted)
    return of_size or compare(number, values)[1]
