"""What fits a wish: the database ranks whatever can be had by Gower's coefficient, and each criterion's part is told.

A limit that a known figure breaks leaves an instrument out; one whose figure isn't known is told as unknown, and stands
after those of which all limits are known. Preferences that aren't known are left out of the coefficient.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, NamedTuple

from sqlalchemy import (
    CTE,
    BigInteger,
    ColumnElement,
    Float,
    Select,
    and_,
    case,
    cast,
    func,
    literal,
    null,
    or_,
    select,
    type_coerce,
)

from shopledger.model import (
    Custody,
    Fitting,
    Instrument,
    Measurement,
    PriceChange,
    SaleLine,
    Stay,
    Wish,
    WishCriterion,
    WishTold,
)
from shopledger.model.stays import OFFERED
from shopledger.quantities.errors import NotFound
from shopledger.quantities.words import N_
from shopledger.rules import likeness
from shopledger.rules.likeness import Stretch
from shopledger.rules.wishing import (
    FITTING,
    MAKER,
    MEASURE,
    PRICE,
    STRINGS,
    Sort,
    column_of_measure,
    holds_words,
    sort_of,
)

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

SET_ASIDE = "set_aside"

INSTRUMENT, STAY, PRICE_CHANGE = Instrument.__table__, Stay.__table__, PriceChange.__table__
CUSTODY, MEASUREMENT, FITTED = Custody.__table__, Measurement.__table__, Fitting.__table__
LINE, TOLD = SaleLine.__table__, WishTold.__table__


class Wanted(NamedTuple):
    """One criterion of a wish: what of, on which side, whether it is a must, what is wanted and how much it counts.

    Units:  the stretch in those of the criterion's figures; None where words are wanted.
    """

    code: str
    side: str
    is_must: bool
    stretch: Stretch | None
    words: str
    weight: int

    @property
    def holds(self) -> Stretch:
        """The stretch of a criterion that is a figure."""
        assert self.stretch is not None
        return self.stretch


@dataclass(frozen=True, slots=True)
class Part:
    """What one criterion says of an instrument.

    Shape:  `figure` is the known figure or, of words, 1 where they were found and 0 where not; None where it isn't
            known. `score` is that of the coefficient, and `most` what of the whole it counts for; None of a must and of
            what isn't known.
    """

    wanted: Wanted
    figure: int | None
    score: float | None = None
    most: float | None = None

    @property
    def share(self) -> float | None:
        """What it brings to the coefficient."""
        return None if self.score is None or self.most is None else self.score * self.most


@dataclass(frozen=True, slots=True)
class Match:
    """An instrument that breaks no known limit.

    Shape:  `likeness` is None where none of the preferences is known or there is none; `unknown` counts the musts that
            aren't known. Units: `asking` in minor units.
    """

    instrument_id: int
    stay_id: int
    custody_id: int | None
    place: str
    asking: int | None
    unknown: int
    likeness: float | None
    parts: tuple[Part, ...]


def criteria_of(reading: Reading, wish_id: int) -> tuple[Wanted, ...]:
    """Give the criteria of a wish in the order in which they were said."""
    c = WishCriterion.__table__.c
    rows = reading.session.execute(
        select(c.what, c.side, c.is_must, c.low, c.high, c.words, c.weight)
        .where(c.wish_id == wish_id)
        .order_by(c.n)
    )
    return tuple(wanted_of(row) for row in rows)


def wanted_of(row: Any) -> Wanted:
    """Give the criterion of a row, or of a record that isn't written yet."""
    stretch = Stretch(row.low, row.high) if sort_of(row.what) is Sort.FIGURE else None
    return Wanted(row.what, row.side, row.is_must, stretch, row.words, row.weight)


def matches(
    reading: Reading,
    wish_id: int,
    *,
    limit: int,
    only_new: bool = False,
    instrument_id: int | None = None,
    stay_ids: Sequence[int] | None = None,
) -> tuple[tuple[Match, ...], int]:
    """Give what fits a wish, best first, and how many fit in all.

    Shape:  `only_new` leaves out what the player knows of; `instrument_id` asks about one instrument only;
            `stay_ids` asks which of some stays break no must, without the preferences. What was set aside for this wish
            is left out as long as its price stays.

    Raises: NotFound: there is no such wish.
    """
    kind = reading.session.scalar(select(Wish.kind).where(Wish.id == wish_id))
    if kind is None:
        raise NotFound(N_("There is no wish with the key {id} in this ledger."), id=wish_id)
    criteria = tuple(one for one in criteria_of(reading, wish_id) if one.is_must or stay_ids is None)
    question = _question(reading, wish_id, kind, criteria, only_new, instrument_id, stay_ids).limit(limit)
    rows = reading.session.connection().execute(question).all()
    return tuple(_match(row, criteria) for row in rows), int(rows[0].in_all) if rows else 0


def _match(row: Any, criteria: Sequence[Wanted]) -> Match:
    parts = []
    for n, wanted in enumerate(criteria):
        figure, low, high = getattr(row, f"k{n}"), getattr(row, f"low{n}"), getattr(row, f"high{n}")
        score: float | None = None
        if not wanted.is_must:
            if wanted.stretch is None:
                score = likeness.word_score(None if figure is None else bool(figure))
            else:
                spread = likeness.range_of((low, high), wanted.stretch)
                score = likeness.figure_score(figure, wanted.stretch, spread)
        parts.append(Part(wanted, figure, score))
    whole = sum(part.wanted.weight for part in parts if part.score is not None)
    told = tuple(
        part if part.score is None else Part(part.wanted, part.figure, part.score, part.wanted.weight / whole)
        for part in parts
    )
    return Match(
        row.instrument_id,
        row.stay_id,
        row.custody_id,
        row.place,
        row.asking,
        sum(part.figure is None for part in parts if part.wanted.is_must),
        likeness.likeness([(p.wanted.weight, p.score) for p in parts if not p.wanted.is_must]),
        told,
    )


def _newest(column: Any, of: ColumnElement[bool], *order: Any) -> ColumnElement[Any]:
    """Give a column of the newest row of a kind."""
    found: ColumnElement[Any] = select(column).where(of).order_by(*order).limit(1).scalar_subquery()
    return found


def candidates(kind: str, instrument_id: int | None = None) -> Select[Any]:
    """Give the question for what of a kind can be had: in the shop's care, for sale, and not sold."""
    stay = STAY.c
    question = (
        select(
            INSTRUMENT.c.id.label("instrument_id"),
            stay.id.label("stay_id"),
            _newest(CUSTODY.c.id, CUSTODY.c.stay_id == stay.id, CUSTODY.c.id.desc()).label("custody_id"),
            func.coalesce(
                _newest(CUSTODY.c.place, CUSTODY.c.stay_id == stay.id, CUSTODY.c.id.desc()), "here"
            ).label("place"),
            type_coerce(
                _newest(PRICE_CHANGE.c.asking, PRICE_CHANGE.c.stay_id == stay.id, PRICE_CHANGE.c.id.desc()),
                BigInteger(),
            ).label("asking"),
        )
        .select_from(INSTRUMENT.join(STAY, stay.instrument_id == INSTRUMENT.c.id))
        .where(
            INSTRUMENT.c.kind == kind,
            stay.ended_on.is_(None),
            stay.reason.in_(OFFERED),
            ~select(LINE.c.id).where(LINE.c.stay_id == stay.id, LINE.c.returned_on.is_(None)).exists(),
        )
    )
    return question if instrument_id is None else question.where(INSTRUMENT.c.id == instrument_id)


def figure_of(
    reading: Reading, kind: str, wanted: Wanted, stay_ids: Sequence[int] | None = None
) -> ColumnElement[Any]:
    """Give the figure of a criterion in the question of the candidates; of words 1 or 0; null where it isn't known."""
    if wanted.code == PRICE:
        of_stay = PRICE_CHANGE.c.stay_id == STAY.c.id
        return type_coerce(_newest(PRICE_CHANGE.c.asking, of_stay, PRICE_CHANGE.c.id.desc()), BigInteger())
    if wanted.code == STRINGS:
        return type_coerce(INSTRUMENT.c.string_count, BigInteger())
    if wanted.code.startswith(MEASURE):
        of = and_(
            MEASUREMENT.c.instrument_id == INSTRUMENT.c.id,
            MEASUREMENT.c.measure == wanted.code.removeprefix(MEASURE),
            MEASUREMENT.c.side == wanted.side,
        )
        column = MEASUREMENT.c[column_of_measure(wanted.code)]
        return _newest(
            type_coerce(column, BigInteger()), of, MEASUREMENT.c.taken_on.desc(), MEASUREMENT.c.id.desc()
        )
    return _words_found(reading, kind, wanted, stay_ids)


def _words_found(
    reading: Reading, kind: str, wanted: Wanted, stay_ids: Sequence[int] | None
) -> ColumnElement[Any]:
    """Give whether the words are found; which texts have them is told here: databases fold letters differently."""
    if wanted.code.startswith(FITTING):
        of = and_(
            FITTED.c.instrument_id == INSTRUMENT.c.id, FITTED.c.part == wanted.code.removeprefix(FITTING)
        )
        text: ColumnElement[Any] = select(FITTED.c.what).where(of).scalar_subquery()
        texts = (
            select(FITTED.c.what)
            .join(INSTRUMENT, INSTRUMENT.c.id == FITTED.c.instrument_id)
            .where(INSTRUMENT.c.kind == kind, FITTED.c.part == wanted.code.removeprefix(FITTING))
        )
    else:
        column = INSTRUMENT.c.maker if wanted.code == MAKER else INSTRUMENT.c.size
        text = column
        texts = select(column).where(INSTRUMENT.c.kind == kind)
    if stay_ids is not None:
        texts = texts.join(STAY, STAY.c.instrument_id == INSTRUMENT.c.id).where(STAY.c.id.in_(stay_ids))
    found = {one: holds_words(one, wanted.words) for one in reading.session.scalars(texts.distinct())}
    there = [one for one, holds in found.items() if holds]
    absent = [one for one, holds in found.items() if holds is None and one is not None]
    return case((text.is_(None), null()), (text.in_(absent), null()), (text.in_(there), 1), else_=0)


def _question(
    reading: Reading,
    wish_id: int,
    kind: str,
    criteria: Sequence[Wanted],
    only_new: bool,
    instrument_id: int | None,
    stay_ids: Sequence[int] | None,
) -> Select[Any]:
    asked = candidates(kind, instrument_id)
    if stay_ids is not None:
        asked = asked.where(STAY.c.id.in_(stay_ids))
    base = asked.add_columns(
        *(figure_of(reading, kind, wanted, stay_ids).label(f"k{n}") for n, wanted in enumerate(criteria))
    )
    found = base.cte("found").prefix_with("MATERIALIZED")
    ranges = _ranges(found, criteria)
    figures = [found.c[f"k{n}"] for n in range(len(criteria))]
    score = _score(criteria, figures, ranges)
    unknown = sum(
        (case((figure.is_(None), 1), else_=0) for wanted, figure in zip(criteria, figures, strict=True)
         if wanted.is_must),
        start=literal(0),
    )  # fmt: skip
    question = select(
        *found.c,
        *(ranges.c[name] for n in range(len(criteria)) for name in (f"low{n}", f"high{n}")),
        func.count().over().label("in_all"),
    ).where(*_within(criteria, figures), ~_set_aside(wish_id, found))
    if criteria:
        question = question.select_from(found.join(ranges, literal(True)))
    if only_new:
        question = question.where(_is_new(wish_id, found))
    return question.order_by(
        unknown, score.desc().nulls_last(), found.c.asking.asc().nulls_last(), found.c.instrument_id
    )


def _ranges(found: CTE, criteria: Sequence[Wanted]) -> CTE:
    """Give the least and the highest of each figure among the candidates, in one row."""
    ends: list[ColumnElement[Any]] = [func.count().label("candidates")]
    for n in range(len(criteria)):
        ends += [func.min(found.c[f"k{n}"]).label(f"low{n}"), func.max(found.c[f"k{n}"]).label(f"high{n}")]
    return select(*ends).select_from(found).cte("ranges")


def _within(criteria: Sequence[Wanted], figures: Sequence[ColumnElement[Any]]) -> list[ColumnElement[bool]]:
    """Give that no known figure breaks a must."""
    holds: list[ColumnElement[bool]] = []
    for wanted, figure in zip(criteria, figures, strict=True):
        if not wanted.is_must:
            continue
        kept: list[ColumnElement[bool]] = []
        if wanted.stretch is None:
            kept.append(figure == 1)
        else:
            if wanted.stretch.low is not None:
                kept.append(figure >= wanted.stretch.low)
            if wanted.stretch.high is not None:
                kept.append(figure <= wanted.stretch.high)
        holds.append(or_(figure.is_(None), and_(*kept)))
    return holds


def _score(
    criteria: Sequence[Wanted], figures: Sequence[ColumnElement[Any]], ranges: CTE
) -> ColumnElement[Any]:
    """Give the coefficient as the database reckons it: what `rules.likeness` says, as a test compares."""
    above: ColumnElement[Any] = literal(0.0, Float())
    below: ColumnElement[Any] = literal(0.0, Float())
    for n, (wanted, figure) in enumerate(zip(criteria, figures, strict=True)):
        if wanted.is_must:
            continue
        one = cast(figure, Float()) if wanted.stretch is None else _figure_score(
            wanted.stretch, figure, ranges.c[f"low{n}"], ranges.c[f"high{n}"]
        )  # fmt: skip
        known = figure.is_not(None)
        above += case((known, wanted.weight * one), else_=0.0)
        below += case((known, float(wanted.weight)), else_=0.0)
    return above / func.nullif(below, 0.0)


def _figure_score(stretch: Stretch, figure: ColumnElement[Any], low: Any, high: Any) -> ColumnElement[Any]:
    away: ColumnElement[Any] = literal(0)
    if stretch.low is not None:
        away = case((figure < stretch.low, stretch.low - figure), else_=away)
    if stretch.high is not None:
        away = case((figure > stretch.high, figure - stretch.high), else_=away)
    least, most = low, high
    for end in stretch.ends:
        least = case((least > end, end), else_=least)
        most = case((most < end, end), else_=most)
    return func.coalesce(1.0 - cast(away, Float()) / func.nullif(cast(most - least, Float()), 0.0), 1.0)


def _of_wish(wish_id: int, found: CTE) -> ColumnElement[bool]:
    return and_(TOLD.c.wish_id == wish_id, TOLD.c.stay_id == found.c.stay_id)


def _set_aside(wish_id: int, found: CTE) -> ColumnElement[bool]:
    """Give that it was set aside for the wish at the price that it still has."""
    of = _of_wish(wish_id, found)
    how = _newest(TOLD.c.how, of, TOLD.c.id.desc())
    asking = _newest(TOLD.c.asking, of, TOLD.c.id.desc())
    return func.coalesce(
        and_(how == SET_ASIDE, func.coalesce(asking, -1) == func.coalesce(found.c.asking, -1)), literal(False)
    )


def _is_new(wish_id: int, found: CTE) -> ColumnElement[bool]:
    """Give that the player knows nothing of it yet, or that its price is another, or that it came back since."""
    of = _of_wish(wish_id, found)
    told = select(TOLD.c.id).where(of).exists()
    asking = _newest(TOLD.c.asking, of, TOLD.c.id.desc())
    custody = _newest(TOLD.c.custody_id, of, TOLD.c.id.desc())
    came_back = and_(
        found.c.place == "here", func.coalesce(custody, 0) != func.coalesce(found.c.custody_id, 0)
    )
    return or_(~told, func.coalesce(asking, -1) != func.coalesce(found.c.asking, -1), came_back)
