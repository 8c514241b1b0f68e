"""The table of what players want: who looks for what, since when and until when."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from sqlalchemy import BigInteger, ColumnElement, Select, func, select, type_coerce

from shopledger.model import Person, Wish, WishCriterion
from shopledger.quantities.fields import Kind
from shopledger.quantities.words import N_
from shopledger.queries.declared import column_of, shown, table_columns, table_fields
from shopledger.queries.shapes import Column, Row, Subject, Table, View
from shopledger.queries.sheet_shapes import Sheet
from shopledger.queries.states import WISH_GOING, WISH_OVER
from shopledger.store.matching import matching

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

COLUMNS = (
    *table_columns(Wish),
    Column("wanted", N_("Limits and preferences"), Kind.TEXT, 30, sortable=False),
    Column("state", N_("State"), Kind.TEXT, 12, sortable=False),
)
VIEWS = (View("going", N_("Going on")), View("over", N_("Over")), View("all", N_("All")))


def _view(view: str) -> list[ColumnElement[bool]]:
    match view:
        case "going":
            return [Wish.ended_on.is_(None)]
        case "over":
            return [Wish.ended_on.is_not(None)]
        case _:
            return []


def ids(reading: Reading, view: str, words: str, sort: str, descending: bool) -> Sequence[int]:
    """Give the ids of the wishes of a view that fit what is typed, sorted; those without a value come last."""
    question: Select[Any] = select(type_coerce(Wish.id, BigInteger())).where(*_view(view))
    order: ColumnElement[Any] = type_coerce(Wish.id, BigInteger())
    if sort == "person_id":
        question, order = question.join(Person, Person.id == Wish.person_id), func.lower(Person.name)
    elif sort in table_fields(Wish) and sort != "number":
        order = column_of(Wish, sort)
    found = matching(reading.session, Subject.WISH.value, words)
    if found is not None:
        question = question.where(Wish.id.in_(found.scalar_subquery()))
    question = question.order_by(
        (order.desc() if descending else order.asc()).nulls_last(),
        Wish.id.desc() if descending else Wish.id.asc(),
    )
    return reading.session.connection().execute(question).scalars().all()


def page(reading: Reading, ids: Sequence[int]) -> Sequence[Row]:
    """Give the rows of these wishes in this order; of those that are gone there is no row."""
    wanted = list(ids)
    fields = table_fields(Wish)
    rows = reading.session.execute(
        select(Wish.id, Person.name, Wish.ended_on, *(column_of(Wish, name) for name in fields))
        .join(Person, Person.id == Wish.person_id)
        .where(Wish.id.in_(wanted))
    )
    said = _criteria(reading, wanted)
    found: dict[int, Row] = {}
    for key, player, ended_on, *values in rows:
        cells = [
            player if name == "person_id" else shown(reading, field, cell)
            for (name, field), cell in zip(fields.items(), values, strict=True)
        ]
        state = WISH_GOING if ended_on is None else WISH_OVER
        found[key] = Row(key, (*cells, said.get(key, ""), state))
    return tuple(found[key] for key in ids if key in found)


def _criteria(reading: Reading, wish_ids: Sequence[int]) -> Mapping[int, str]:
    """Give what is wanted by each wish in words, in order."""
    from shopledger.rules.wishing import criterion_words

    rows = reading.session.execute(
        select(WishCriterion.wish_id, WishCriterion.what, WishCriterion.words)
        .where(WishCriterion.wish_id.in_(wish_ids))
        .order_by(WishCriterion.wish_id, WishCriterion.n)
    )
    found: dict[int, list[str]] = {}
    for wish_id, what, words in rows:
        found.setdefault(wish_id, []).append(f"{criterion_words(what)} {words}")
    return {wish_id: ", ".join(words) for wish_id, words in found.items()}


def sheet(reading: Reading, wish_id: int) -> Sheet:
    """Give the page of a wish.

    Raises: NotFound: there is no such wish.
    """
    # What a sheet reads is loaded with the first of them, after the table is shown.
    from shopledger.queries import wish_sheet

    return wish_sheet.sheet(reading, wish_id)


TABLE = Table(
    name="wishes",
    subject=Subject.WISH,
    columns=COLUMNS,
    views=VIEWS,
    ids=ids,
    page=page,
    sort="asked_on",
    descending=True,
    hint=N_("player, words, number"),
    empty=N_("What players look for stands here, with what the shop has for them."),
    first_act="note_wish",
)
"""The table of wishes."""
