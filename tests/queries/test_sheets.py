"""The page about an instrument: where it stands in words, facts from the declarations, money, history, custody."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest

from shopledger.model import Instrument, Stay, Terms, fields_of
from shopledger.quantities.errors import NotFound
from shopledger.quantities.fields import Field
from shopledger.quantities.lengths import Length
from shopledger.queries import place_states, stock
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import MarkKind, Sheet
from shopledger.queries.standing import asking_price, last_agreement, last_stay, owners_of, places_on
from shopledger.store.unit import Reading
from tests.helpers.shops import FIRST_DAY, TriedShop, eur
from tests.queries.busy import BusyShop


def facts(sheet: Sheet, title: str) -> dict[str, Any]:
    """Give the facts of a group, of the last where a label stands more than once."""
    return {fact.label: fact.value for group in sheet.groups if group.title == title for fact in group.facts}


def standing(reading: Reading, instrument: int) -> str:
    return stock.sheet(reading, instrument).standing


def test_where_each_stands_is_said_with_the_date(busy: BusyShop, reading: Reading) -> None:
    """FIRST_DAY is 2 March 2026; today is twelve days later."""
    assert standing(reading, busy.plain) == (
        "Consigned by Orla Fenn under AG 2026-001 until 2 Mar 2027, 353 days left; asking 11,000.00."
    )
    assert standing(reading, busy.unsigned) == (
        "Consigned by Orla Fenn under AG 2026-003 until 2 Mar 2027, 353 days left, not signed yet; asking 4,000.00."
    )
    assert standing(reading, busy.held).startswith(
        "On hold for Ida Skerry until 15 Mar 2026, 1 day left; deposit 300.00. Consigned by Orla Fenn"
    )
    assert standing(reading, busy.raw) == "Here since 2 Mar 2026, to sell; nothing is agreed yet."
    assert standing(reading, busy.gone) == "Returned to the owner on 5 Mar 2026."
    assert standing(reading, busy.owing_one) == (
        "Sold to Tam Brine on 5 Mar 2026 (SI 2026-001); buyer still owes 7,500.00. It is still here."
    )
    assert standing(reading, busy.to_pay_one) == (
        "Sold to Tam Brine on 5 Mar 2026 (SI 2026-004); paid in full; settled. It is still here."
    )
    assert standing(reading, busy.paid_out_one).endswith(
        "; paid in full; settled. Handed over on 5 Mar 2026."
    )
    assert "the agreed value is 9,000.00" in standing(reading, busy.lost)


def test_what_came_back_is_consigned_again(busy: BusyShop, reading: Reading) -> None:
    sheet = stock.sheet(reading, busy.back_one)
    assert sheet.standing.startswith("Consigned by Orla Fenn under AG")
    assert sheet.state is place_states.HERE
    assert [mark.words for mark in sheet.history.marks if mark.kind is MarkKind.SALE][-1].endswith(
        "too bright"
    )


def test_measures_stand_as_typed_with_the_other_unit_behind(busy: BusyShop, reading: Reading) -> None:
    sheet = stock.sheet(reading, busy.viola)
    (group,) = [group for group in sheet.groups if group.title == "Measurements"]
    # 14 1/8 in = 358.775 mm (references.md, Measures).
    assert [(fact.label, fact.value, fact.quiet) for fact in group.facts] == [
        ("Body length", Length(412_000_000, "412 mm"), "≈ 16 7/32 in, over the arch"),
        ("Vibrating string length", Length(358_775_000, "14 1/8 in"), "≈ 358.8 mm"),
    ]
    assert facts(sheet, "Fittings") == {"Pegs": "boxwood"}
    assert sheet.title == "Viola attributed to Béla Öster"
    assert sheet.line == "No. 002 · about 1890 · 16 in · 5 strings"


@pytest.mark.parametrize(
    ("record", "title"), [(Instrument, "What it is"), (Stay, "Its stay here"), (Terms, "Terms in force")]
)
def test_a_new_field_shows_up_by_itself(
    busy: BusyShop, reading: Reading, record: Any, title: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every declared field that holds something is a fact; declaring it under other words changes the sheet."""
    sheet = stock.sheet(reading, busy.viola)
    held = last_agreement(reading, last_stay(reading, busy.viola).id)  # type: ignore[union-attr]
    assert held is not None
    row: Any = {
        Instrument: reading.session.get(Instrument, busy.viola),
        Stay: reading.session.get(Stay, held.stay_id),
        Terms: held.terms,
    }[record]
    labels = {
        field.label
        for name, field in fields_of(record).items()
        if getattr(row, name) not in (None, "", "none") and name not in ("number", "kind")
    }
    assert labels - {"Kind"} <= set(facts(sheet, title)), labels - set(facts(sheet, title))
    name = "maker" if record is Instrument else "reason" if record is Stay else "asking"
    column = getattr(record, name).property.columns[0]
    declared: Field = column.info["field"]
    monkeypatch.setitem(column.info, "field", replace(declared, label="Said anew"))
    assert "Said anew" in facts(stock.sheet(reading, busy.viola), title)


def test_owners_with_their_shares(busy: BusyShop, reading: Reading) -> None:
    sheet = stock.sheet(reading, busy.heirs_one)
    (group,) = [group for group in sheet.groups if group.title == "Owners"]
    assert [(fact.value, fact.quiet) for fact in group.facts] == [("Tam Brine", "P 003")]
    before = owners_of(reading, busy.heirs_one, FIRST_DAY)
    assert before == ()
    parties = last_agreement(reading, last_stay(reading, busy.heirs_one).id)  # type: ignore[union-attr]
    assert parties is not None
    assert [party.name for party in parties.owners] == ["Orla Fenn", "Ivo Marsh", "Hull and Keel"]


def test_the_money_of_a_sale_adds_up(busy: BusyShop, reading: Reading) -> None:
    """price = owner's net + commission + costs of the owner + referral of the owner + VAT on the commission."""
    sheet = stock.sheet(reading, busy.to_pay_one)
    lines = {line.label: line.amount for line in sheet.money}
    assert sheet.money_title == "The sale"
    assert lines["Price"] == eur("6000.00")
    assert lines["Commission"] == eur("1200.00")
    assert lines["Owner's net"] == eur("4800.00")
    assert all(line.how for line in sheet.money if line.label in ("Commission", "Owner's net"))
    assert lines["The buyer owes"] == eur("0.00")


def test_what_the_asking_price_would_leave(busy: BusyShop, reading: Reading) -> None:
    sheet = stock.sheet(reading, busy.plain)
    lines = {line.label: line.amount for line in sheet.money}
    assert sheet.money_title == "If it sold at the asking price"
    assert (lines["Price"], lines["Owner's net"]) == (eur("11000.00"), eur("8800.00"))


def test_a_loss_by_its_figures(busy: BusyShop, reading: Reading) -> None:
    lines = {line.label: line.amount for line in stock.sheet(reading, busy.lost).money}
    assert lines["Agreed value"] == eur("9000.00")
    assert lines["Held for the owner"] == eur("9000.00")


def test_charges_stand_with_the_instrument(busy: BusyShop, reading: Reading) -> None:
    lines = stock.sheet(reading, busy.viola).money
    assert [(line.amount, line.label) for line in lines if line.label.startswith("Charged")] == [
        (eur("40.00"), "Charged to the owner: valuation, AG 2026-002")
    ]


def test_the_history_from_first_entry_to_now(busy: BusyShop, reading: Reading) -> None:
    history = stock.sheet(reading, busy.paid_out_one).history
    kinds = [mark.kind for mark in history.marks]
    for kind in (MarkKind.ARRIVAL, MarkKind.TERMS, MarkKind.SALE, MarkKind.MONEY, MarkKind.HANDOVER):
        assert kind in kinds
    assert [mark.on for mark in history.marks] == sorted(mark.on for mark in history.marks)
    assert [mark.words for mark in history.marks if mark.kind is MarkKind.MONEY][-1].startswith(
        "Paid 4,000.00 to Orla Fenn"
    )
    arrival = history.marks[0]
    assert arrival.paper_id is not None
    (sale,) = [mark for mark in history.marks if mark.kind is MarkKind.SALE]
    assert sale.subject == (Subject.SALE, busy.paid_out)
    assert history.spans[-1].state is place_states.HANDED_OVER
    assert history.spans[-1].until is None
    for span, following in zip(history.spans, history.spans[1:], strict=False):
        assert span.until == following.since


def test_price_changes_are_marked_and_first_prices_are_not(busy: BusyShop, reading: Reading) -> None:
    marks = [mark for mark in stock.sheet(reading, busy.plain).history.marks if mark.kind is MarkKind.PRICE]
    assert [mark.words for mark in marks] == ["Asking 11,000.00, before 12,000.00. it waits"]


def test_papers_of_the_instrument_and_of_its_sale(busy: BusyShop, reading: Reading) -> None:
    titles = [paper.title for paper in stock.sheet(reading, busy.to_pay_one).papers]
    assert {"Receipt of intake", "Consignment agreement", "Invoice"} <= set(titles)
    assert len({paper.id for paper in stock.sheet(reading, busy.to_pay_one).papers}) == len(titles)


def test_where_everything_was_on_a_day(busy: BusyShop, reading: Reading) -> None:
    first = {place.instrument_id: place.place for place in places_on(reading, FIRST_DAY)}
    later = {place.instrument_id: place.place for place in places_on(reading, FIRST_DAY + timedelta(days=3))}
    assert places_on(reading, FIRST_DAY - timedelta(days=1)) == ()
    assert (first[busy.gone], later[busy.gone]) == ("here", "handed_over")
    assert busy.held not in first
    assert later[busy.lost] == "lost"
    assert set(later) == set(stock.TABLE.ids(reading, "all", "", "number", True))


def test_what_is_not_there_is_said(reading: Reading) -> None:
    with pytest.raises(NotFound, match="There is no instrument"):
        stock.sheet(reading, 10**9)


def test_the_newest_row_counts_whatever_its_day(shop: TriedShop) -> None:
    """The order of acts is that of their numbers, never that of the clock (promise 13)."""
    instrument = shop.consigned("5000.00")
    shop.clock.day = FIRST_DAY + timedelta(days=10)
    shop.act("change_price", instrument_id=instrument, asking=eur("4900.00"), why="", consent_by="Orla Fenn",
             consent_how="by letter", consent_on=FIRST_DAY)  # fmt: skip
    shop.act("change_price", instrument_id=instrument, asking=eur("4800.00"), why="", consent_by="Orla Fenn",
             consent_how="by letter", consent_on=FIRST_DAY, on=FIRST_DAY + timedelta(days=5))  # fmt: skip
    with shop.ledger.read() as reading:
        stay = last_stay(reading, instrument)
        assert stay is not None
        assert asking_price(reading, stay.id) == eur("4800.00")


def test_many_stays_are_one_history(shop: TriedShop) -> None:
    instrument = shop.taken_in()
    shop.pass_days(5)
    shop.act("return_to_owner", instrument_id=instrument, handed_to="Orla Fenn")
    shop.pass_days(30)
    shop.act("take_in_again", instrument_id=instrument, owners=(), stay={"reason": "repair"})
    with shop.ledger.read() as reading:
        sheet = stock.sheet(reading, instrument)
        assert sheet.state is place_states.HERE
        assert [span.state for span in sheet.history.spans] == [
            place_states.HERE,
            place_states.HANDED_OVER,
            place_states.HERE,
        ]
        assert sheet.history.spans[0].since == FIRST_DAY
        assert instrument in stock.TABLE.ids(reading, "here", "", "number", True)
        assert instrument not in stock.TABLE.ids(reading, "handed_over", "", "number", True)
