"""What a wish and what fits it say in words: criteria, known and unknown figures, each one's part of the likeness."""

from __future__ import annotations

from typing import TYPE_CHECKING

from shopledger.model import Custody, field_of
from shopledger.quantities.measured import UNITS, show_measured
from shopledger.quantities.showing import show_amount
from shopledger.quantities.words import _
from shopledger.queries.wish_matches import Match, Part, Wanted
from shopledger.rules.measures import SIDES, sets
from shopledger.rules.wishing import MEASURE, PRICE, criterion_words

if TYPE_CHECKING:
    from shopledger.store.unit import Reading


def name_of(wanted: Wanted) -> str:
    """Give a criterion by its name, with the side it is meant on, as a line begins."""
    words = criterion_words(wanted.code)
    if wanted.side:
        words = f"{words}, {_(SIDES.get(wanted.side, wanted.side))}"
    return words[:1].upper() + words[1:]


def asked_words(wanted: Wanted) -> str:
    """Give what is wanted as it was typed, and how much it counts."""
    if wanted.is_must:
        return _("{words}, a must").format(words=wanted.words)
    if wanted.weight == 1:
        return wanted.words
    return _("{words}, counts {weight}").format(words=wanted.words, weight=wanted.weight)


def figure_words(reading: Reading, wanted: Wanted, figure: int | None) -> str:
    """Give a known figure in the unit of its measure; of words whether they were found."""
    if figure is None:
        return _("unknown")
    if wanted.code == PRICE:
        return show_amount(reading.money(figure), reading.ledger.manners)
    if wanted.code.startswith(MEASURE):
        dimension = UNITS[sets().measure_units.get(wanted.code.removeprefix(MEASURE), "mm")][0]
        return show_measured(dimension, figure, reading.ledger.manners)
    if wanted.stretch is None:
        return _("as wanted") if figure else _("another")
    return str(figure)


def part_words(reading: Reading, part: Part) -> str:
    """Give a criterion of a match in words: what is known, and what of the likeness it brings."""
    said = _("{what} {figure}").format(
        what=criterion_words(part.wanted.code), figure=figure_words(reading, part.wanted, part.figure)
    )
    if part.share is None or part.most is None:
        return said
    return _("{said} ({score} of {most})").format(
        said=said, score=percent(part.share), most=percent(part.most)
    )


def percent(likeness: float) -> str:
    """Give a likeness from 0 to 1 in whole hundredths, as `92 %`."""
    return f"{round(likeness * 100)}\u00a0%"


def match_words(match: Match) -> str:
    """Give how alike a match is, and how many of its musts aren't known."""
    told = [
        _("{percent} alike").format(percent=percent(match.likeness))
        if match.likeness is not None
        else _("nothing to compare")
        if any(not part.wanted.is_must for part in match.parts)
        else _("within the limits")
    ]
    if match.unknown:
        told.append(_("{n} of the musts unknown").format(n=match.unknown))
    return ", ".join(told)


def where_words(match: Match) -> str:
    """Give where a match is, unless it is here."""
    return "" if match.place == "here" else _(field_of(Custody.place).choice_word(match.place))
