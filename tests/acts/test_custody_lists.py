"""The schedule of goods in custody: by group, at whose risk, insured by whom; the same figures on paper and as CSV."""

from __future__ import annotations

import csv
import io
from datetime import timedelta

import pytest

from shopledger.acts import act, do
from shopledger.acts.custody_lists import PRINT_CUSTODY_LIST
from shopledger.acts.trial_forms import LendRow
from shopledger.model import Paper
from shopledger.papers.custody_list import CustodyListFacts
from shopledger.papers.facts import from_json
from shopledger.papers.registry import KINDS
from shopledger.quantities.errors import Typed
from shopledger.queries.papers import paper_bytes, paper_csv
from tests.helpers.shops import TriedShop, eur
from tests.papers.reading_back import text_of


def stocked(shop: TriedShop) -> dict[str, int]:
    """Give a shop with something under every heading."""
    known = {"description": "=HYPERLINK", "serial": "=1+1", "kind": "violin"}
    found = {
        "bare": shop.own(),
        "consigned": shop.consigned(agreed_value=eur("9000.00")),
        "lent": shop.consigned(agreed_value=eur("8000.00"), trials_allowed=True),
        "kept": shop.taken_in(reason="keep", instrument=known),
        "gone": shop.taken_in(),
    }
    shop.act(
        "open_job",
        client_id=shop.other,
        instrument={"kind": "cello", "standing": "unknown"},
        hears="A buzz.",
        insured_value=eur("2500.00"),
    )
    shop.pass_days(5)
    shop.act(
        "lend_on_trial",
        trial={
            "person_id": shop.player,
            "due_on": shop.today + timedelta(days=14),
            "risk": "player",
            "insured_by": "player",
        },
        lines=(LendRow(instrument_id=found["lent"], value=eur("8200.00")),),
    )
    shop.act("return_to_owner", instrument_id=found["gone"], handed_to="Orla Fenn")
    return found


def listed(shop: TriedShop, **inputs: object) -> tuple[CustodyListFacts, bytes, bytes]:
    """Give what a schedule states, its PDF and its CSV."""
    outcome = shop.with_papers("print_custody_list", **{"as_of": shop.today, **inputs})
    (key,) = outcome.papers
    with shop.ledger.read() as reading:
        paper = reading.session.get_one(Paper, key)
        facts = from_json(KINDS["custody_list"].facts, paper.facts)
        made = paper_csv(reading, key)
    assert isinstance(facts, CustodyListFacts)
    return facts, paper_bytes(shop.ledger, key), made


def test_everything_in_care_stands_under_its_heading(any_shop: TriedShop) -> None:
    shop = any_shop
    stocked(shop)
    facts, pdf, made = listed(shop)
    assert facts.number == "CS 2026-001"
    assert [(line.group, line.number, line.insured_by, line.value) for line in facts.lines] == [
        ("own", "No. 001", "the shop", None),
        ("consigned", "No. 002", "the shop", eur("9000.00")),
        ("repair", "No. 006", "the shop", eur("2500.00")),
        ("kept", "No. 004", "nobody has said", None),
        ("trial", "No. 003", "the player", eur("8200.00")),
    ]
    assert [(one.insured_by, one.things, one.without_value, one.value) for one in facts.totals] == [
        ("the shop", 3, 1, eur("11500.00")),
        ("the player", 1, 0, eur("8200.00")),
        ("nobody has said", 1, 1, eur("0")),
    ]
    assert facts.value_total == eur("19700.00")

    text = text_of(pdf)
    for line in facts.lines:
        assert line.number in text
    for figure in ("9,000.00", "8,200.00", "2,500.00", "11,500.00", "19,700.00"):
        assert figure in text
    assert "2 things: not in these sums. No. 001, No. 004." in text
    assert "on trial: with Ida Skerry" in text
    assert "Orla Fenn" not in text

    rows = list(csv.reader(io.StringIO(made.decode("utf-8-sig"), newline="")))
    things = [row for row in rows if row and row[0].startswith("No. ")]
    assert [(row[0], row[-1]) for row in things] == [
        (line.number, "no value" if line.value is None else line.value.plain()) for line in facts.lines
    ]
    assert rows[-1] == ["Together", "5", "2", "19700.00"]
    assert [row[3] for row in rows[-4:-1]] == [one.value.plain() for one in facts.totals]
    (kept,) = (row for row in things if row[0] == "No. 004")
    assert kept[3] == "'=1+1"


def test_a_day_in_the_past_is_told_as_it_was(any_shop: TriedShop) -> None:
    shop = any_shop
    stocked(shop)
    before = shop.today - timedelta(days=1)
    facts, _pdf, _csv = listed(shop, as_of=before)
    assert facts.as_of == before
    assert [(line.group, line.number) for line in facts.lines] == [
        ("own", "No. 001"),
        ("consigned", "No. 002"),
        ("consigned", "No. 003"),
        ("consigned", "No. 005"),
        ("repair", "No. 006"),
        ("kept", "No. 004"),
    ]
    facts, _pdf, made = listed(shop, as_of=before - timedelta(days=30))
    assert facts.lines == facts.totals == ()
    assert made.decode("utf-8-sig").endswith('"Together",0,0,0.00\r\n')


def test_what_is_sold_and_still_here_is_said_so(shop: TriedShop) -> None:
    cello = shop.consigned(agreed_value=eur("9000.00"))
    sale = shop.sold(cello)
    facts, _pdf, _csv = listed(shop)
    assert [line.whose for line in facts.lines] == ["sold, not handed over yet"]
    shop.pass_days(1)
    shop.act("take_back", sale_id=sale, why="A wolf on F.")
    facts, _pdf, _csv = listed(shop)
    assert [line.whose for line in facts.lines] == ["consigned"]


def test_the_form_begins_with_today_and_says_what_comes(shop: TriedShop) -> None:
    stocked(shop)
    with shop.ledger.read() as reading:
        assert PRINT_CUSTODY_LIST.prefill is not None
        assert PRINT_CUSTODY_LIST.prefill(reading, 1) == {"as_of": shop.today}
        assert PRINT_CUSTODY_LIST.preview is not None
        told = PRINT_CUSTODY_LIST.preview(reading, shop.form("print_custody_list", as_of=shop.today))
    assert (told.lines[-1].how, told.lines[-1].amount) == ("5 things", eur("19700.00"))
    assert told.warnings == ("2 things without a value, in no sum: No. 001, No. 004.",)


def test_a_day_to_come_is_refused(shop: TriedShop) -> None:
    rows = shop.rows()
    with pytest.raises(Typed) as caught:
        shop.act("print_custody_list", as_of=shop.today + timedelta(days=1))
    assert caught.value.field == "as_of"
    assert "has not come yet" in caught.value.sentence()
    form = shop.form("print_custody_list", as_of=shop.today + timedelta(days=1))
    preview = PRINT_CUSTODY_LIST.preview
    assert preview is not None
    with shop.ledger.read() as reading, pytest.raises(Typed, match="has not come yet"):
        preview(reading, form)
    assert shop.rows() == rows


def test_sent_twice_it_is_left_once(shop: TriedShop) -> None:
    form = shop.form("print_custody_list", as_of=shop.today)
    first = do(shop.ledger, act("print_custody_list"), form)
    rows = shop.rows()
    assert do(shop.ledger, act("print_custody_list"), form) == first
    assert shop.rows() == rows


def test_other_kinds_have_no_csv(shop: TriedShop) -> None:
    (key,) = shop.act("list_others").papers
    with shop.ledger.read() as reading:
        assert paper_csv(reading, key) == b""
