"""The table of stock: every instrument with its owner, asking price, where it is and when its agreement ends.

Sorting, narrowing and the views are questions to the database; a page is one question, whatever its length.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import timedelta
from functools import cache
from typing import TYPE_CHECKING, Any

from sqlalchemy import (
    BigInteger,
    ColumnElement,
    Select,
    bindparam,
    case,
    column,
    func,
    select,
    table,
    type_coerce,
)

from shopledger.model import (
    Agreement,
    Custody,
    Hold,
    Instrument,
    Ownership,
    OwnershipShare,
    Person,
    PriceChange,
    Stay,
    Terms,
)
from shopledger.quantities.fields import Kind
from shopledger.quantities.words import N_
from shopledger.queries.declared import column_of, names_more, shown, table_columns, table_fields
from shopledger.queries.place_states import state_of
from shopledger.queries.shapes import Column, Row, Subject, Table, View
from shopledger.store.matching import matching

if TYPE_CHECKING:
    from shopledger.queries.sheet_shapes import Sheet
    from shopledger.queries.typed import Asked, MeasureRange
    from shopledger.store.unit import Reading

__all__ = ["TABLE", "ids", "page", "sheet"]

# The tables past the records: so nothing of the first table waits until each of them is ready for writing too.
AGREEMENT = Agreement.__table__
CUSTODY = Custody.__table__
HOLD = Hold.__table__
INSTRUMENT = Instrument.__table__
OWNERSHIP = Ownership.__table__
OWNERSHIP_SHARE = OwnershipShare.__table__
PERSON = Person.__table__
PRICE_CHANGE = PriceChange.__table__
STAY = Stay.__table__
TERMS = Terms.__table__

ENDING_SOON = timedelta(days=30)
HERE = ("here", "workshop")
PLACE = func.coalesce(CUSTODY.c.place, "here")
OPEN = STAY.c.ended_on.is_(None) & STAY.c.id.is_not(None)
ENDS_ON: ColumnElement[Any] = case((AGREEMENT.c.ended_on.is_(None), TERMS.c.ends_on), else_=None)
WHERE_RANK: ColumnElement[Any] = case(
    {"here": 1, "workshop": 2, "on_trial": 3, "away": 4, "handed_over": 5}, value=PLACE, else_=6
)
COLUMNS = (
    *table_columns(Instrument),
    Column("owner", N_("Owner"), Kind.TEXT, 18),
    Column("asking", N_("Asking price"), Kind.MONEY, 11),
    Column("where", N_("Where"), Kind.TEXT, 13),
    Column("since", N_("Since"), Kind.DAY, 11, lesser=True),
    Column("ends_on", N_("Agreement ends"), Kind.DAY, 12, lesser=True),
)
VIEWS = (
    View("here", N_("Here")),
    View("on_trial", N_("On trial")),
    View("away", N_("Away")),
    View("own", N_("Own")),
    View("consigned", N_("Consigned")),
    View("ending_soon", N_("Ending soon")),
    View("handed_over", N_("Handed over")),
    View("all", N_("All")),
)
OPEN_VIEWS = frozenset({"here", "on_trial", "away", "own", "consigned", "ending_soon"})


def _newest(key: Any, link: Any, to: Any) -> ColumnElement[bool]:
    """Give the condition that a joined row, linked to another by a column, has the highest key of all that are."""
    # Of the other copy of the table just these two columns are named: a copy of all of them takes longer to make.
    other = table(key.table.name, column(key.name), column(link.name)).alias()
    highest: Select[Any] = select(func.max(other.c[key.name])).where(other.c[link.name] == to)
    newest: ColumnElement[bool] = key == highest.correlate_except(other).scalar_subquery()
    return newest


Join = Callable[[Select[Any]], Select[Any]]
"""Adds one record to a question about instruments."""

JOINS: Mapping[str, tuple[tuple[str, ...], Join]] = {
    "stay": (
        (),
        lambda q: q.outerjoin(STAY, _newest(STAY.c.id, STAY.c.instrument_id, INSTRUMENT.c.id)),
    ),
    "open_stay": (
        (),
        lambda q: q.join(STAY, (STAY.c.instrument_id == INSTRUMENT.c.id) & STAY.c.ended_on.is_(None)),
    ),
    "custody": (
        ("stay",),
        lambda q: q.outerjoin(CUSTODY, _newest(CUSTODY.c.id, CUSTODY.c.stay_id, STAY.c.id)),
    ),
    "price": (
        ("stay",),
        lambda q: q.outerjoin(PRICE_CHANGE, _newest(PRICE_CHANGE.c.id, PRICE_CHANGE.c.stay_id, STAY.c.id)),
    ),
    "agreement": (
        ("stay",),
        lambda q: q.outerjoin(AGREEMENT, _newest(AGREEMENT.c.id, AGREEMENT.c.stay_id, STAY.c.id)),
    ),
    "terms": (
        ("agreement",),
        lambda q: q.outerjoin(
            TERMS,
            (TERMS.c.agreement_id == AGREEMENT.c.id)
            & _newest(TERMS.c.n, TERMS.c.agreement_id, AGREEMENT.c.id),
        ),
    ),
    "owner": (
        (),
        lambda q: (
            q.outerjoin(OWNERSHIP, _newest(OWNERSHIP.c.id, OWNERSHIP.c.instrument_id, INSTRUMENT.c.id))
            .outerjoin(
                OWNERSHIP_SHARE,
                (OWNERSHIP_SHARE.c.ownership_id == OWNERSHIP.c.id) & (OWNERSHIP_SHARE.c.n == 1),
            )
            .outerjoin(PERSON, PERSON.c.id == OWNERSHIP_SHARE.c.person_id)
        ),
    ),
}
"""What can be joined to an instrument, after what."""


def _joined(question: Select[Any], wanted: Sequence[str], *, stay: str) -> Select[Any]:
    """Give a question with what it needs joined, each once and in order; `stay` says which stays count."""
    done: set[str] = set()
    question = question.select_from(INSTRUMENT)

    def add(name: str) -> None:
        nonlocal question
        if name in done:
            return
        done.add(name)
        after, join = JOINS[stay if name == "stay" else name]
        for before in after:
            add(before)
        question = join(question)

    for name in wanted:
        add(name)
    return question


SORTS: Mapping[str, tuple[tuple[str, ...], ColumnElement[Any]]] = {
    "owner": (("owner",), func.lower(PERSON.c.name)),
    "asking": (("price",), type_coerce(PRICE_CHANGE.c.asking, BigInteger())),
    "where": (("custody",), WHERE_RANK),
    "since": (("custody",), func.coalesce(CUSTODY.c.since, STAY.c.came_in_on)),
    "ends_on": (("terms",), ENDS_ON),
}
"""What each further column needs joined, and what it is sorted by."""


def _sorted_by(column: str) -> tuple[tuple[str, ...], ColumnElement[Any] | None]:
    if column in SORTS:
        return SORTS[column]
    field = table_fields(Instrument).get(column)
    # Numbers are given in the order of the keys; as text, No. 1000 would come before No. 999.
    if field is None or column == "number":
        return (), None
    mapped = column_of(Instrument, column)
    return (), func.nullif(func.lower(mapped), "") if field.kind in {
        Kind.TEXT,
        Kind.LINES,
        Kind.CHOICE,
    } else mapped


def _view(reading: Reading, view: str) -> tuple[tuple[str, ...], list[ColumnElement[bool]]]:
    """Give what a view needs joined and what holds for its rows."""
    in_force = AGREEMENT.c.id.is_not(None) & AGREEMENT.c.ended_on.is_(None)
    match view:
        case "here":
            return ("custody",), [PLACE.in_(HERE)]
        case "on_trial":
            return ("custody",), [PLACE == "on_trial"]
        case "away":
            return ("custody",), [PLACE == "away"]
        case "own":
            return ("stay",), [STAY.c.reason == "own"]
        case "consigned":
            return ("agreement",), [in_force]
        case "ending_soon":
            return ("terms",), [in_force, TERMS.c.ends_on <= reading.ledger.today() + ENDING_SOON]
        case "handed_over":
            return ("stay",), [STAY.c.ended_on.is_not(None), STAY.c.ending != "lost"]
        case _:
            return (), []


def _measured(asked: MeasureRange) -> ColumnElement[bool]:
    """Give the condition that the newest reading of a measure, on any side, lies in a range."""
    from shopledger.model import Measurement
    from shopledger.queries.readings import is_newest

    measurement = Measurement.__table__
    figure = measurement.c[asked.dimension.value]
    inside: list[ColumnElement[bool]] = [measurement.c.measure.in_(asked.keys)]
    if asked.low is not None:
        inside.append(figure >= asked.low)
    if asked.high is not None:
        inside.append(figure <= asked.high)
    of = select(measurement.c.instrument_id).where(*inside, is_newest())
    return INSTRUMENT.c.id.in_(of.scalar_subquery())


def _typed(reading: Reading, words: str) -> Asked:
    """Take apart what is typed; how it is read is loaded when something is."""
    from shopledger.queries.typed import take_apart
    from shopledger.rules.measures import sets

    known = sets()
    return take_apart(
        words, reading.currency, reading.ledger.manners, known.measure_words, known.measure_units
    )


def _asked(reading: Reading, words: str) -> tuple[tuple[str, ...], list[ColumnElement[bool]]]:
    """Give what typed words need joined and what has to hold."""
    if not words.strip():
        return (), []
    asked = _typed(reading, words)
    holds: list[ColumnElement[bool]] = [_measured(measure) for measure in asked.measures]
    found = matching(reading.session, Subject.INSTRUMENT.value, asked.words)
    if found is not None:
        holds.append(INSTRUMENT.c.id.in_(found.scalar_subquery()))
    if asked.strings is not None:
        holds.append(INSTRUMENT.c.string_count == asked.strings)
    priced: list[ColumnElement[bool]] = []
    if asked.price_low is not None:
        priced.append(PRICE_CHANGE.c.asking >= asked.price_low)
    if asked.price_high is not None:
        priced.append(PRICE_CHANGE.c.asking <= asked.price_high)
    return ("price",) if priced else (), holds + priced


def ids(reading: Reading, view: str, words: str, sort: str, descending: bool) -> Sequence[int]:
    """Give the ids of the instruments of a view that fit what is typed, sorted; those without a value come last."""
    by_view, holds = _view(reading, view)
    by_words, fits = _asked(reading, words)
    by_sort, order = _sorted_by(sort)
    question = _joined(
        select(type_coerce(INSTRUMENT.c.id, BigInteger())),
        (*by_view, *by_words, *by_sort),
        stay="open_stay" if view in OPEN_VIEWS else "stay",
    ).where(*holds, *fits)
    if order is not None:
        question = question.order_by((order.desc() if descending else order.asc()).nulls_last())
    newest_first = descending if order is None else True
    question = question.order_by(INSTRUMENT.c.id.desc() if newest_first else INSTRUMENT.c.id.asc())
    # Past the ORM, whose own handling of 100,000 rows takes longer than the database does.
    return reading.session.connection().execute(question).scalars().all()


@cache
def _page_question() -> Select[Any]:
    owners = (
        select(func.count(OWNERSHIP_SHARE.c.id))
        .where(OWNERSHIP_SHARE.c.ownership_id == OWNERSHIP.c.id)
        .correlate(OWNERSHIP)
        .scalar_subquery()
    )
    held = (
        select(HOLD.c.id)
        .where(HOLD.c.stay_id == STAY.c.id, HOLD.c.ended_on.is_(None))
        .correlate(STAY)
        .exists()
    )
    question = select(
        INSTRUMENT.c.id,
        PERSON.c.name,
        owners,
        PRICE_CHANGE.c.asking,
        CUSTODY.c.place,
        STAY.c.ended_on,
        STAY.c.ending,
        held,
        func.coalesce(CUSTODY.c.since, STAY.c.came_in_on, type_=CUSTODY.c.since.type),
        case((AGREEMENT.c.ended_on.is_(None), TERMS.c.ends_on), else_=None),
        *(column_of(Instrument, name) for name in table_fields(Instrument)),
    )
    return _joined(question, ("custody", "price", "terms", "owner"), stay="stay").where(
        INSTRUMENT.c.id.in_(bindparam("ids", expanding=True))
    )


def page(reading: Reading, ids: Sequence[int]) -> Sequence[Row]:
    """Give the rows of these instruments in this order; of those that are gone there is no row."""
    fields = list(table_fields(Instrument).values())
    found: dict[int, Row] = {}
    for row in reading.session.connection().execute(_page_question(), {"ids": list(ids)}):
        key, owner, owners, asking, place, ended_on, ending, held, since, ends_on, *values = row
        state = None if since is None else state_of(place, ended_on is not None, ending, held)
        cells = [shown(reading, field, value) for field, value in zip(fields, values, strict=True)]
        found[key] = Row(
            key,
            (
                *cells,
                names_more(owner, owners),
                None if asking is None else reading.money(asking),
                state,
                since,
                ends_on,
            ),
        )
    return tuple(found[key] for key in ids if key in found)


def sheet(reading: Reading, instrument_id: int) -> Sheet:
    """Give the sheet of an instrument.

    Raises: NotFound: there is no such instrument.
    """
    # What a sheet reads is loaded with the first of them, after the table is shown.
    from shopledger.queries import instrument_sheet

    return instrument_sheet.sheet(reading, instrument_id)


TABLE = Table(
    name="stock",
    subject=Subject.INSTRUMENT,
    columns=COLUMNS,
    views=VIEWS,
    ids=ids,
    page=page,
    sort="number",
    descending=True,
    hint=N_("maker, owner, number, note, string 350-365, 5 strings, < 12000"),
    empty=N_("Instruments stand here from the day they come in, with whose they are and where they are."),
    first_act="take_in",
)
