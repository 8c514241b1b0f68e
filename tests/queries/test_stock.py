"""The table of stock: what its views hold, how it sorts and narrows, and that a page is one question."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import select

from shopledger.model import Instrument, fields_of
from shopledger.queries import place_states, states, stock
from shopledger.queries.standing import agreement_in_force, last_stay
from shopledger.store.unit import Reading
from tests.queries.busy import BusyShop

TABLE = stock.TABLE
COLUMNS = [column.name for column in TABLE.columns]


def view(reading: Reading, name: str, words: str = "") -> set[int]:
    return set(TABLE.ids(reading, name, words, "number", True))


def cells(reading: Reading, instrument: int) -> dict[str, Any]:
    (row,) = TABLE.page(reading, [instrument])
    return dict(zip(COLUMNS, row.cells, strict=True))


def test_columns_derive_from_the_declared_fields() -> None:
    declared = [name for name, field in fields_of(Instrument).items() if field.in_table]
    assert [*declared, "owner", "asking", "where", "since", "ends_on"] == COLUMNS


def test_views_hold_what_they_say(busy: BusyShop, reading: Reading) -> None:
    """Each view is compared with what the records say of each instrument, one by one."""
    everything = set(reading.session.scalars(select(Instrument.id)))
    stays = {one: last_stay(reading, one) for one in everything}
    here = {
        one
        for one, stay in stays.items()
        if stay and stay.ended_on is None and stay.place in ("here", "workshop")
    }
    agreed = {
        one: agreement_in_force(reading, stay.id)
        for one, stay in stays.items()
        if stay and stay.ended_on is None
    }
    today = busy.ledger.today()
    assert view(reading, "all") == everything
    assert view(reading, "here") == here
    assert view(reading, "on_trial") == set()
    assert view(reading, "own") == {
        one for one, stay in stays.items() if stay and stay.ended_on is None and stay.reason == "own"
    }
    assert view(reading, "consigned") == {one for one, agreement in agreed.items() if agreement}
    assert view(reading, "ending_soon") == {busy.viola}
    assert agreed[busy.viola] is not None
    assert 0 < (agreed[busy.viola].terms.ends_on - today).days <= 30  # type: ignore[union-attr]
    assert view(reading, "handed_over") == {busy.gone, busy.paid_out_one}
    assert view(reading, "here").isdisjoint(view(reading, "handed_over"))
    assert busy.lost not in view(reading, "here") | view(reading, "handed_over")
    assert view(reading, "") == everything


def test_a_row_tells_owner_price_place_and_end(busy: BusyShop, reading: Reading) -> None:
    plain = cells(reading, busy.plain)
    assert (plain["kind"], plain["maker"], plain["owner"]) == ("cello", "Ansel Quill", "Orla Fenn")
    assert plain["asking"] == reading.money(1_100_000)
    assert plain["where"] is place_states.HERE
    assert cells(reading, busy.held)["where"] is place_states.ON_HOLD
    assert cells(reading, busy.gone)["where"] is place_states.HANDED_OVER
    assert cells(reading, busy.lost)["where"] is place_states.LOST
    assert cells(reading, busy.raw)["asking"] is None
    # A sold instrument is its buyer's from the sale on.
    assert cells(reading, busy.heirs_one)["owner"] == "Tam Brine"
    assert cells(reading, busy.heirs_one)["ends_on"] is None
    assert all(
        state in (*states.STATES, None)
        for state in (cells(reading, one)["where"] for one in view(reading, "all"))
    )


@pytest.mark.parametrize("column", [column.name for column in TABLE.columns if column.sortable])
@pytest.mark.parametrize("descending", [False, True])
def test_every_column_sorts_with_what_is_missing_last(
    reading: Reading, column: str, descending: bool
) -> None:
    found = TABLE.ids(reading, "all", "", column, descending)
    assert sorted(found) == sorted(view(reading, "all"))
    rows = TABLE.page(reading, found)
    assert [row.id for row in rows] == list(found)
    values = [row.cells[COLUMNS.index(column)] for row in rows]
    if column in {"number", "where"}:
        return
    there = [value for value in values if value is not None]
    assert values == [*there, *[None] * (len(values) - len(there))]
    plain: list[Any] = [
        value.minor if hasattr(value, "minor") else value.lower() if isinstance(value, str) else value
        for value in there
    ]
    assert plain == sorted(plain, reverse=descending)


def test_numbers_sort_as_they_were_given(reading: Reading) -> None:
    """As text, No. 1000 would come before No. 999."""
    assert list(TABLE.ids(reading, "all", "", "number", False)) == sorted(view(reading, "all"))


def test_every_word_narrows(busy: BusyShop, reading: Reading) -> None:
    viola = {busy.viola}
    for typed in ("oster", "Béla Öster", "beLA", "smells sea", "boxwood", "5 strings", "string 350-365",
                  "string 14-14.2 in", "body length 412", "viola < 3600", "viola 1890"):  # fmt: skip
        assert view(reading, "all", typed) == viola, typed
    for typed in ("oster cello", "string 300-310", "6 strings", "oster < 3500", "oster > 3500", "nobody"):
        assert view(reading, "all", typed) == set(), typed
    assert view(reading, "all", "oster <= 3500") == viola
    # An owner is found by what they own and by what they owned.
    assert view(reading, "all", "ivo marsh") == {busy.viola, busy.heirs_one}
    assert view(reading, "handed_over", "oster") == set()
    assert view(reading, "all", "quill > 10999") >= {busy.plain}
    assert view(reading, "all", "quill < 11000").isdisjoint({busy.plain})


def test_a_page_asks_as_much_for_one_row_as_for_all(
    busy: BusyShop, reading: Reading, counted: Callable[[Any, Any], int]
) -> None:
    found = TABLE.ids(reading, "all", "", "number", False)
    one = counted(busy.ledger, lambda: TABLE.page(reading, found[:1]))
    assert one == counted(busy.ledger, lambda: TABLE.page(reading, found)) == 1


def test_what_is_gone_has_no_row(reading: Reading) -> None:
    assert TABLE.page(reading, []) == ()
    assert TABLE.page(reading, [10**9]) == ()


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60)
@given(st.text(max_size=60))
def test_hostile_words_are_only_words(reading: Reading, typed: str) -> None:
    for table in (stock.TABLE,):
        assert set(table.ids(reading, "here", typed, "maker", False)) <= view(reading, "here")
