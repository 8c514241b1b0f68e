"""Side by side: up to four instruments or days, exact differences, what each feels like, the weight to carry."""

from __future__ import annotations

from datetime import date

import pytest

from shopledger.acts.describing import MeasureRow
from shopledger.quantities.errors import NotFound, Refused
from shopledger.queries.comparing import Comparison, Wanted, compare
from tests.helpers.shops import TriedShop


def _taken(shop: TriedShop, kind: str, **known: object) -> int:
    return shop.taken_in(instrument={"kind": kind, **known})


def _measure(shop: TriedShop, instrument: int, on: date | None = None, **figures: str) -> None:
    rows = []
    for name, value in figures.items():
        measure, _split, side = name.partition("__")
        rows.append(MeasureRow(measure=measure, side=side, value=value))
    shop.act("measure", instrument_id=instrument, measures=tuple(rows), taken_on=on)


def _compared(shop: TriedShop, *wanted: Wanted, with_it: tuple[int, ...] = ()) -> Comparison:
    with shop.ledger.read() as reading:
        return compare(reading, wanted, with_it)


def test_two_instruments_differ_exactly(any_shop: TriedShop) -> None:
    shop = any_shop
    one, other = _taken(shop, "cello", title="the red one"), _taken(shop, "cello")
    _measure(shop, one, body_length="755", string_length="695", ribs_lower__bass="118", weight="2.8")
    _measure(shop, other, body_length="29 1/2 in", string_length="690", weight="2.65 kg", stop="398")
    found = _compared(shop, Wanted(one), Wanted(other))
    assert [side.title for side in found.sides] == ["Cello “the red one”", "Cello, maker unknown"]
    rows = {row.label: row.cells for row in found.measures}
    assert list(rows) == [
        "Body length",
        "Stop",
        "Vibrating string length",
        "Ribs at the lower block, bass side",
        "Weight",
    ]
    # 29 1/2 in is 749.3 mm: arithmetic on the inch of 25.4 mm.
    assert [(cell.words, cell.differs) for cell in rows["Body length"]] == [
        ("755 mm", ""),
        ("29 1/2 in", "−5.7 mm"),
    ]
    assert rows["Vibrating string length"][1].differs == "−5 mm"
    assert rows["Weight"][1].differs == "−150 g"
    # What only one of them has stands beside nothing, and differs from nothing.
    assert [(cell.words, cell.differs) for cell in rows["Stop"]] == [("", ""), ("398 mm", "")]
    assert "2 Mar 2026" in rows["Stop"][1].quiet


def test_what_each_feels_like_is_said_for_itself(shop: TriedShop) -> None:
    cello, piccolo = _taken(shop, "cello"), _taken(shop, "piccolo_cello")
    _measure(shop, cello, body_length="755", string_length="695")
    _measure(shop, piccolo, body_length="690")
    found = _compared(shop, Wanted(cello), Wanted(piccolo))
    rows = {row.label: [cell.words for cell in row.cells] for row in found.feels}
    assert list(rows) == [
        "String length",
        "Stop",
        "Body",
        "Reach of the left hand",
        "Width of the upper bout",
    ]
    assert rows["Body"] == ["755 mm: Feels like 4/4.", "690 mm: Feels like 3/4."]
    assert rows["String length"] == ["695 mm: Feels like 4/4.", "Not measured."]


def test_one_instrument_on_two_days(any_shop: TriedShop) -> None:
    shop = any_shop
    cello = _taken(shop, "cello")
    _measure(shop, cello, date(2019, 9, 2), string_length="690", projection="80")
    _measure(shop, cello, string_length="695")
    found = _compared(shop, Wanted(cello, date(2019, 9, 2)), Wanted(cello))
    assert found.sides[0].days == (shop.today, date(2019, 9, 2))
    rows = {row.label: [(cell.words, cell.differs) for cell in row.cells] for row in found.measures}
    assert rows["Vibrating string length"] == [("690 mm", ""), ("695 mm", "+5 mm")]
    assert list(rows.values())[1] == [("80 mm", ""), ("80 mm", "0 mm")]
    assert _compared(shop, Wanted(cello, date(2019, 1, 1))).measures == ()


def test_the_weight_to_carry_is_at_least_what_is_known(any_shop: TriedShop) -> None:
    shop = any_shop
    cello, unweighed = _taken(shop, "cello"), _taken(shop, "cello")
    case, bow, unweighed_bow = _taken(shop, "case"), _taken(shop, "bow"), _taken(shop, "bow")
    _measure(shop, cello, weight="2.8")
    _measure(shop, case, case_weight="3.4")
    _measure(shop, bow, bow_weight="81.5")
    found = _compared(shop, Wanted(cello), Wanted(unweighed), with_it=(case, bow))
    assert [cell.words for cell in found.carried.cells] == [
        "6.2815 kg",
        "at least 3.4815 kg; not known: No. 002",
    ]
    assert [words for _key, words in found.with_it] == [
        "No. 003, Case, maker unknown",
        "No. 004, Bow, maker unknown",
    ]
    found = _compared(shop, Wanted(cello), with_it=(case, unweighed_bow))
    assert found.carried.cells[0].words == "at least 6.2 kg; not known: No. 005"
    assert _compared(shop, Wanted(unweighed)).carried.cells[0].words == "unknown: nothing was weighed"


def test_at_most_four_stand_side_by_side(shop: TriedShop) -> None:
    cello = _taken(shop, "cello")
    assert len(_compared(shop, *[Wanted(cello)] * 4).sides) == 4
    with pytest.raises(Refused, match="4 stand side by side at most"):
        _compared(shop, *[Wanted(cello)] * 5)
    with pytest.raises(NotFound):
        _compared(shop, Wanted(4000))
    assert _compared(shop).sides == ()
