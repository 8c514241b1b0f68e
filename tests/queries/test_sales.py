"""Sales: the chip of each, what the views hold, and pages whose figures are those of the ledger."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import func, select

from shopledger.model import Sale, SaleLine, SettlementShare, fields_of
from shopledger.quantities.errors import NotFound
from shopledger.queries import sales, shapes, states
from shopledger.queries.due import owner_lines
from shopledger.queries.owing import sale_money
from shopledger.queries.shapes import Subject
from shopledger.store.unit import Reading
from tests.helpers.shops import TriedShop, eur, row
from tests.queries.busy import BusyShop

TABLE = sales.TABLE
COLUMNS = [column.name for column in TABLE.columns]


def view(reading: Reading, name: str, words: str = "") -> set[int]:
    return set(TABLE.ids(reading, name, words, "number", True))


def cells(reading: Reading, sale: int) -> dict[str, Any]:
    (found,) = TABLE.page(reading, [sale])
    return dict(zip(COLUMNS, found.cells, strict=True))


def by_sale(busy: BusyShop) -> dict[int, shapes.State]:
    return {
        busy.owing: states.OWING,
        busy.uncleared: states.UNCLEARED,
        busy.to_settle: states.TO_SETTLE,
        busy.to_pay: states.SETTLED,
        busy.heirs: states.OWING,
        busy.paid_out: states.SETTLED,
        busy.approval: states.PAID,
        busy.back: states.RETURNED,
        busy.goods: states.PAID,
    }


def test_columns_derive_from_the_declared_fields() -> None:
    declared = [name for name, field in fields_of(Sale).items() if field.in_table]
    assert [*declared, "what", "price", "buyer_pays", "paid", "state"] == COLUMNS


def test_each_sale_wears_the_chip_of_what_is_next(busy: BusyShop, reading: Reading) -> None:
    """An approval of fourteen days holds the settlement back; it was sold twelve days ago at most."""
    told = {sale: cells(reading, sale)["state"] for sale in view(reading, "all")}
    assert {sale: state.code for sale, state in told.items()} == {
        sale: state.code for sale, state in by_sale(busy).items()
    }
    assert {sale: sales.sheet(reading, sale).state for sale in told} == told


def test_views_hold_what_they_say(busy: BusyShop, reading: Reading) -> None:
    assert view(reading, "all") == set(by_sale(busy))
    assert view(reading, "returned") == {busy.back}
    # Of what is paid in instalments a part is due as it clears, though the buyer still owes.
    assert view(reading, "to_settle") == {busy.to_settle, busy.heirs}
    assert view(reading, "owners_to_pay") == {busy.heirs}
    assert view(reading, "open") == {busy.owing, busy.uncleared, busy.to_settle, busy.heirs, busy.approval}
    today = busy.ledger.today()
    lines = {
        line.id: line.sale_id
        for line in reading.session.scalars(select(SaleLine).where(SaleLine.kind == "consigned"))
    }
    found = owner_lines(reading, list(lines), today)
    assert {lines[one.line_id] for one in found if one.due.minor} == view(reading, "to_settle")
    assert {lines[one.line_id] for one in found if one.held.minor} == view(reading, "owners_to_pay")


@pytest.mark.parametrize("column", [column.name for column in TABLE.columns if column.sortable])
@pytest.mark.parametrize("descending", [False, True])
def test_every_column_sorts(reading: Reading, column: str, descending: bool) -> None:
    found = TABLE.ids(reading, "all", "", column, descending)
    rows = TABLE.page(reading, found)
    assert [one.id for one in rows] == list(found)
    assert set(found) == view(reading, "all")
    if column in {"paid", "buyer_pays", "number"}:  # what came back counts as nothing in the cell
        return
    values = [one.cells[COLUMNS.index(column)] for one in rows]
    plain: list[Any] = [getattr(value, "minor", value) for value in values]
    plain = [value.lower() if isinstance(value, str) else value for value in plain]
    assert plain == sorted(plain, reverse=descending)


def test_words_narrow(busy: BusyShop, reading: Reading) -> None:
    assert view(reading, "all", "skerry rosin") == {busy.goods}
    assert view(reading, "all", "quill") == view(reading, "all") - {busy.goods}
    assert view(reading, "all", "SI 2026-001") == {busy.owing}
    assert view(reading, "all", "nobody") == set()


def test_a_page_asks_as_much_for_one_row_as_for_all(
    busy: BusyShop, reading: Reading, counted: Callable[[Any, Any], int]
) -> None:
    found = TABLE.ids(reading, "all", "", "number", False)
    TABLE.page(reading, found)
    one = counted(busy.ledger, lambda: TABLE.page(reading, [busy.heirs]))
    assert counted(busy.ledger, lambda: TABLE.page(reading, found)) <= one


def test_a_page_shows_every_figure_with_its_working(busy: BusyShop, reading: Reading) -> None:
    sheet = sales.sheet(reading, busy.goods)
    lines = [(line.label, line.amount) for line in sheet.money]
    assert ("Line 1: violin, maker unknown", None) in [
        (label.lower().replace("l", "L", 1), amount) for label, amount in lines
    ] or lines[0][1] is None
    assert ("Price", eur("2100.00")) in lines
    assert ("Price", eur("20.00")) in lines
    assert ("Cost to the shop", eur("1500.00")) in lines
    sheet = sales.sheet(reading, busy.to_settle)
    workings = {line.label: line.how for line in sheet.money}
    assert workings["Commission"] == "20% of 10,000.00"
    assert sheet.standing == (
        "Sold on 5 Mar 2026; the buyer has paid in full; 8,000.00 is due to owners: settle it."
    )
    assert sheet.title == "SI 2026-003 to Tam Brine"
    assert {paper.title for paper in sheet.papers} >= {"Invoice", "Receipt for payment", "Bill of sale"}


def test_a_returned_sale_says_so(busy: BusyShop, reading: Reading) -> None:
    sheet = sales.sheet(reading, busy.back)
    assert sheet.standing == "Returned, and nothing is left to give back."
    assert any("reversed to the cent" in line.note for line in sheet.money)


def test_marks_open_their_papers(busy: BusyShop, reading: Reading) -> None:
    marks = sales.sheet(reading, busy.paid_out).history.marks
    assert [mark.words.split(" ")[0] for mark in marks] == ["Sold", "5,000.00", "Settled,", "Paid"]
    assert all(mark.paper_id for mark in marks)


def test_what_is_not_there_is_said(reading: Reading) -> None:
    with pytest.raises(NotFound, match="There is no sale"):
        sales.sheet(reading, 10**9)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=40)
@given(st.text(max_size=60))
def test_hostile_words_are_only_words(reading: Reading, typed: str) -> None:
    assert set(TABLE.ids(reading, "open", typed, "buyer_id", False)) <= view(reading, "open")


def test_money_to_give_back_needs_you(shop: TriedShop) -> None:
    sale = shop.sold(shop.consigned())
    shop.pay(sale)
    shop.act("take_back", sale_id=sale, why="too dark")
    with shop.ledger.read() as reading:
        assert cells(reading, sale)["state"] is states.NEEDS_YOU
        assert "10,000.00 is to be given back to the buyer" in sales.sheet(reading, sale).standing
        assert sale in view(reading, "open")
    shop.act("give_back", sale_id=sale, amount=eur("10000.00"))
    with shop.ledger.read() as reading:
        assert cells(reading, sale)["state"] is states.RETURNED
        assert sale not in view(reading, "open")


def test_instalments_never_give_an_owner_less_and_end_at_the_nets(shop: TriedShop) -> None:
    """Largest remainder is not monotone with three shares; what was settled to an owner stays theirs."""
    heirs = (row(shop.owner, "1/3"), row(shop.other, "1/3"), row(shop.dealer, "1/3"))
    sale = shop.sold(shop.consigned("100.01", *heirs, pay_owner="as_money_clears"), "100.01")
    before: dict[int, int] = {}
    for amount in ("33.34", "0.01", "0.01", "33.33", "33.31", None):
        with shop.ledger.read() as reading:
            if sale_money(reading, sale).owes.minor == 0:
                break
        shop.pay(sale, amount)
        with shop.ledger.read() as reading:
            (line,) = sale_money(reading, sale).lines
            found = owner_lines(reading, [line.line_id], shop.today)
            due = {one.person_id: one.due.minor for one in found}
            assert all(minor >= 0 for minor in due.values())
        if any(due.values()):
            shop.act("settle", sale_id=sale)
        with shop.ledger.read() as reading:
            after = {
                one.person_id: one.settled.minor for one in owner_lines(reading, [line.line_id], shop.today)
            }
            assert all(after[person] >= before.get(person, 0) for person in after)
            before = after
    with shop.ledger.read() as reading:
        total = reading.session.scalar(select(func.sum(SettlementShare.minor)))
        found = owner_lines(reading, [line.line_id], shop.today)
        assert {one.person_id: one.settled for one in found} == {one.person_id: one.net for one in found}
        assert total == sum(one.net.minor for one in found)


def test_next_sheets_are_about_what_they_say(busy: BusyShop, reading: Reading) -> None:
    assert TABLE.subject is Subject.SALE
    assert sales.sheet(reading, busy.heirs).subject is Subject.SALE
