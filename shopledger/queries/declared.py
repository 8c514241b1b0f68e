"""Facts and columns derived from the declared fields of a record: a new field shows up by itself."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import TYPE_CHECKING, Any

from sqlalchemy import Row, select

from shopledger.model import Instrument, Person, Record, fields_of
from shopledger.quantities.errors import NotFound
from shopledger.quantities.fields import Field, Kind
from shopledger.quantities.words import N_, _
from shopledger.queries.shapes import Column

if TYPE_CHECKING:
    from shopledger.queries.sheet_shapes import Fact
    from shopledger.store.unit import Reading

NOT_SHOWN = frozenset({Kind.ROWS, Kind.GROUP, Kind.PICTURES, Kind.SCAN})
"""Kinds of fields that a sheet shows in another way than as one fact."""
WIDTHS = {Kind.MONEY: 11, Kind.DAY: 11, Kind.COUNT: 8, Kind.CHOICE: 12, Kind.PERSON: 18}
"""Widths of columns by kind, in figures."""
NAMED = frozenset({Kind.PERSON, Kind.INSTRUMENT, Kind.GOODS, Kind.WORK})
"""Kinds whose values are shown by a name."""


def column_of(record: type[Record], name: str) -> Any:
    """Give a record's mapped column by the name of its attribute."""
    return record.__mapper__.columns[name]


def table_fields(record: type[Record]) -> dict[str, Field]:
    """Give the fields of a record that stand in tables, by name."""
    return {name: field for name, field in fields_of(record).items() if field.in_table}


def table_columns(record: type[Record]) -> tuple[Column, ...]:
    """Give a column for each field of a record that stands in tables."""
    return tuple(
        Column(name, field.label, shown_kind(field), WIDTHS.get(field.kind, 14), lesser=field.lesser)
        for name, field in table_fields(record).items()
    )


def shown_kind(field: Field) -> Kind:
    """Give the kind of a field's values as they are shown: what is chosen by name is words by then."""
    return Kind.TEXT if field.kind in NAMED else field.kind


def shown(reading: Reading, field: Field, value: Any) -> object:
    """Give a column's value as it is shown: amounts as money, choices and units in words.

    People, instruments and goods stay keys; `facts_of` puts their names.
    """
    if value is None or value == "":
        return None
    if field.kind is Kind.MONEY:
        return reading.money(value)
    if field.kind is Kind.CHOICE:
        return _(field.choice_word(value))
    if field.kind is Kind.COUNT and field.unit:
        return f"{value} {_(field.unit)}"
    return value


def row_of(reading: Reading, record: type[Record], key: int) -> Row[Any]:
    """Give all columns of one row of a record.

    Raises: NotFound: there is no such row.
    """
    table = record.__table__
    found = reading.session.execute(select(*table.c).where(table.c.id == key)).first()
    if found is None:
        raise NotFound(
            N_("There is no {record} with the key {id} in this ledger."), record=record.__tablename__, id=key
        )
    return found


def facts_of(
    reading: Reading, record: type[Record], row: Row[Any], without: Collection[str] = ()
) -> tuple[Fact, ...]:
    """Give a fact for each declared field of a row (all columns of the record) that holds something.

    Shape:  yes or no and counts are told also where they are no or nought; a choice of "none" is not.
    """
    # Loaded with the first sheet; the first table has none.
    from shopledger.queries.sheet_shapes import Fact

    facts: list[Fact] = []
    by_name = row._mapping
    for name, field in fields_of(record).items():
        if name in without or field.kind in NOT_SHOWN:
            continue
        value = by_name[column_of(record, name).name]
        if value is None or value in ("", "none"):
            continue
        facts.append(Fact(field.label, _named(reading, field, value)))
    return tuple(facts)


def _named(reading: Reading, field: Field, value: Any) -> object:
    if field.kind is Kind.PERSON:
        return name_of(reading, value)
    if field.kind is Kind.INSTRUMENT:
        return instrument_words(reading, [value]).get(value, "")
    if field.kind is Kind.GOODS:
        return goods_words(reading, [value]).get(value, "")
    return shown(reading, field, value)


def name_of(reading: Reading, person_id: int | None) -> str:
    """Give a person's name, or nothing for nobody."""
    if person_id is None:
        return ""
    return reading.session.scalar(select(Person.name).where(Person.id == person_id)) or ""


def instrument_words(reading: Reading, instrument_ids: Sequence[int]) -> dict[int, str]:
    """Give how instruments are named in a line of another thing: number, kind, maker."""
    kind = fields_of(Instrument)["kind"]
    rows = reading.session.execute(
        select(Instrument.id, Instrument.number, Instrument.kind, Instrument.maker).where(
            Instrument.id.in_(instrument_ids)
        )
    )
    return {
        key: " ".join(word for word in (number, _(kind.choice_word(what)), maker) if word)
        for key, number, what, maker in rows
    }


def goods_words(reading: Reading, goods_ids: Sequence[int]) -> dict[int, str]:
    """Give how sorts of goods are named in a line of another thing: what it is and its number."""
    from shopledger.model import Goods

    rows = reading.session.execute(select(Goods.id, Goods.number, Goods.what).where(Goods.id.in_(goods_ids)))
    return {key: f"{what}, {number}" for key, number, what in rows}


def work_words(reading: Reading, item_ids: Sequence[int]) -> dict[int, str]:
    """Give how lines of the price list of work are named: what it is and what it is for."""
    from shopledger.model import WorkItem

    rows = reading.session.execute(
        select(WorkItem.id, WorkItem.what, WorkItem.for_kind).where(WorkItem.id.in_(item_ids))
    )
    return {key: f"{what}, {kind}" if kind else what for key, what, kind in rows}


def names_more(first: str | None, count: int) -> str | None:
    """Give several names in one cell: the only one, or the first and how many more there are."""
    if first is None or count <= 1:
        return first
    return _("{name} and {n} more").format(name=first, n=count - 1)
