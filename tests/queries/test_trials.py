"""The table of trials and the page of one, on both databases; what the pages of instruments and players say of them."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import select

from shopledger.acts.conditions import MarkRow
from shopledger.model import Trial, fields_of
from shopledger.quantities.errors import NotFound
from shopledger.queries import people, stock, trial_rows, trials
from shopledger.queries.on_trial import lines_of_trial
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Sheet
from shopledger.queries.states import TRIAL_STATES
from shopledger.rules.trial_state import TrialDays, trial_state
from shopledger.store.unit import Reading
from tests.helpers.shops import TriedShop, eur
from tests.helpers.trials import bow, consigned, lent, row, sell_kept


@pytest.fixture
def any_shop(place: str | Path) -> Iterator[TriedShop]:
    shop = TriedShop(place)
    yield shop
    shop.ledger.close()


def ids(
    reading: Reading, view: str = "all", words: str = "", sort: str = "due_on", down: bool = False
) -> list[int]:
    return list(trials.ids(reading, view, words, sort, down))


def cells(reading: Reading, key: int) -> dict[str, Any]:
    (found,) = trials.page(reading, [key])
    return dict(zip([column.name for column in trials.COLUMNS], found.cells, strict=True))


def group(sheet: Sheet, title: str) -> list[tuple[str, object, str]]:
    """Give the facts of one group by its title."""
    return [
        (fact.label, fact.value, fact.quiet)
        for one in sheet.groups
        if one.title == title
        for fact in one.facts
    ]


def test_every_declared_field_of_tables_has_a_column() -> None:
    declared = [name for name, field in fields_of(Trial).items() if field.in_table]
    names = [column.name for column in trials.COLUMNS]
    assert names == ["number", "person_id", "due_on", "what", "value", "deposit", "state"]
    assert [name for name in names if name in declared] == declared


def in_every_state(shop: TriedShop) -> dict[str, int]:
    """Give a trial in each state, by its code."""
    late = lent(shop, row(consigned(shop)), days=1)
    shop.pass_days(2)
    found = {
        "trial_overdue": late,
        "trial_due_soon": lent(shop, row(consigned(shop), "500.00"), days=7),
        "trial_out": lent(shop, row(consigned(shop), "600.00"), days=8),
        "trial_to_buy": lent(shop, row(bow(shop), "900.00"), days=20),
        "trial_deposit": lent(shop, row(bow(shop), "900.00"), deposit=eur("75.00"), days=1),
        "trial_over": lent(shop, row(bow(shop), "900.00"), days=1),
    }
    shop.act("decide_to_buy", trial_id=found["trial_to_buy"])
    shop.act("take_trial_back", trial_id=found["trial_deposit"])
    shop.act("take_trial_back", trial_id=found["trial_over"])
    return found


def test_each_state_is_the_rule_s_and_in_its_view(any_shop: TriedShop) -> None:
    shop = any_shop
    found = in_every_state(shop)
    assert set(found) == set(TRIAL_STATES)
    with shop.ledger.read() as reading:
        said = {key: code for key, code in reading.session.execute(  # noqa: C416
            select(Trial.id, trial_rows.state_code(shop.today)))}  # fmt: skip
        assert {code: key for key, code in said.items()} == found
        for code, key in found.items():
            trial = reading.session.get_one(Trial, key)
            lines = lines_of_trial(reading, key)
            days = TrialDays(
                trial.due_on,
                trial.ended_on,
                sum(line.decided_on is None for line in lines),
                sum(line.decision == "bought" for line in lines),
            )
            assert trial_state(days, shop.today) == code
            assert cells(reading, key)["state"].code == code
            sheet = trials.sheet(reading, key)
            assert sheet.state is not None
            assert sheet.state.code == code
        views = {view.name: set(ids(reading, view.name)) for view in trials.VIEWS}
        by_state = [list(TRIAL_STATES).index(said[key]) for key in ids(reading, sort="state")]
        assert by_state == sorted(by_state)
    assert views == {
        "open": set(found.values()) - {found["trial_over"]},
        "due": {found["trial_overdue"], found["trial_due_soon"]},
        "overdue": {found["trial_overdue"]},
        "to_buy": {found["trial_to_buy"]},
        "back": {found["trial_over"]},
        "all": set(found.values()),
    }


def test_the_table_says_who_what_and_how_much(any_shop: TriedShop) -> None:
    shop = any_shop
    first = lent(
        shop, row(consigned(shop), "9500.00"), row(None, "150.00", what="a cello case"), deposit=eur("500.00")
    )
    second = lent(shop, row(bow(shop), "900.00"), trial={"person_id": shop.buyer}, days=3)
    with shop.ledger.read() as reading:
        told = cells(reading, first)
        assert (told["number"], told["person_id"], told["value"], told["deposit"]) == (
            "TR 2026-001",
            "Ida Skerry",
            eur("9650.00"),
            eur("500.00"),
        )
        assert told["what"] == "No. 001 cello Ansel Quill, a cello case"
        assert cells(reading, second)["deposit"] is None
        assert ids(reading) == [second, first]
        assert ids(reading, down=True) == [first, second]
        assert ids(reading, sort="person_id") == [first, second]
        assert ids(reading, sort="value") == [second, first]
        assert ids(reading, sort="number", down=True) == [second, first]
        assert trials.page(reading, [77]) == ()
        assert trials.page(reading, []) == ()


def test_a_trial_is_found_by_its_words(any_shop: TriedShop) -> None:
    shop = any_shop
    cello = consigned(shop)
    first = lent(shop, row(cello), row(None, "9.00", what="a blue case"), trial={"note": "for the recital"})
    lent(shop, row(bow(shop), "900.00"), trial={"person_id": shop.buyer})
    with shop.ledger.read() as reading:
        for words in ("skerry", "quill", "blue ca", "TR 2026-001", "recital", "cello", "No. 001"):
            assert ids(reading, words=words) == [first], words
        assert list(stock.ids(reading, "all", "TR 2026-001", "number", False)) == [cello]
        assert list(stock.ids(reading, "on_trial", "", "number", False)) == [cello, 2]
    shop.act("describe", instrument_id=cello, instrument={"title": "the heron"})
    shop.act("change_person", person_id=shop.player, person={"name": "Ida Plover"})
    with shop.ledger.read() as reading:
        assert ids(reading, words="heron") == [first]
        assert ids(reading, words="plover") == [first]
        assert ids(reading, words="skerry") == []


def test_the_page_tells_the_whole_trial(any_shop: TriedShop) -> None:
    shop = any_shop
    cello, stick = consigned(shop), bow(shop)
    wear = MarkRow(part="top", term="wear")
    trial = lent(
        shop,
        row(cello, "9500.00"),
        row(stick, "900.00", condition_out="Hair: new."),
        deposit=eur("500.00"),
        cleared=True,
        marks=(wear,),
        report_line=1,
    )
    with shop.ledger.read() as reading:
        told = trials.sheet(reading, trial)
    assert (told.title, told.subject) == ("TR 2026-001 Ida Skerry", Subject.TRIAL)
    assert told.standing == (
        "With Ida Skerry until 16 Mar 2026, 14 days left. Deposit 500.00 held. The agreement is not signed."
    )
    assert group(told, "What is lent")[0] == ("1. No. 001 cello Ansel Quill", eur("9500.00"), "out")
    assert [(line.label, line.amount) for line in told.money] == [
        ("Value out", eur("10400.00")),
        ("Deposit PR 2026-001", eur("500.00")),
        ("Deposit held", eur("500.00")),
    ]
    assert [paper.title for paper in told.papers] == [
        "Trial agreement",
        "Receipt for payment",
        "Condition report",
    ]
    with shop.ledger.read() as reading:
        # The report is about the cello alone: the bow's page lists the agreement and not it.
        papers = [paper.title for paper in stock.sheet(reading, stick).papers]
    assert "Trial agreement" in papers
    assert "Condition report" not in papers
    shop.act("sign_trial", trial_id=trial, signed_on=shop.today)
    shop.pass_days(12)
    shop.act("remind_of_trial", trial_id=trial)
    shop.act("extend_trial", trial_id=trial, due_on=shop.today + timedelta(days=9), agreed_by="by telephone")
    shop.act("decide_to_buy", trial_id=trial, lines="2")
    sell_kept(shop, trial)
    shop.act(
        "take_trial_back",
        trial_id=trial,
        condition_back="a scratch",
        marks=(wear, MarkRow(part="back", term="scratch")),
    )
    with shop.ledger.read() as reading:
        told = trials.sheet(reading, trial)
    assert told.standing == "Over since 14 Mar 2026."
    reports = [paper.number for paper in told.papers if paper.title == "Condition report"]
    assert reports == ["CR 2026-002", "CR 2026-001"]
    assert group(told, "What is lent") == [
        ("1. No. 001 cello Ansel Quill", eur("9500.00"), "came back 14 Mar 2026"),
        ("2. No. 002 bow", eur("900.00"), "bought 14 Mar 2026, SI 2026-001"),
    ]
    assert group(told, "Condition") == [
        ("Line 1 going out", "CR 2026-001", ""),
        ("Line 1 coming back", "a scratch", "CR 2026-002"),
        ("New on line 1", "back: scratch, noted", ""),
        ("Line 2 going out", "Hair: new.", ""),
    ]
    assert group(told, "Extensions")[0][2] == "was 16 Mar 2026, by telephone"
    assert len(group(told, "Letters")) == 1
    words = [mark.words for mark in told.history.marks]
    assert words[0] == "Went out, TR 2026-001"
    for said in (
        "Signed by both",
        "Reminded of its end",
        "Extended until 23 Mar 2026",
        "Came back: No. 001 cello",
    ):
        assert any(said in one for one in words), (said, words)
    assert any("Sold: No. 002 bow (SI 2026-001)" in one for one in words)
    assert words[-1] == "The trial is over"
    assert [(span.since.day, span.until.day) for span in told.history.spans if span.until] == [(2, 14)]
    with shop.ledger.read() as reading, pytest.raises(NotFound):
        trials.sheet(reading, 99)


def test_what_waits_is_said_in_words(shop_of_trials: TriedShop) -> None:
    shop = shop_of_trials
    stick = bow(shop)
    trial = lent(shop, row(stick, "900.00"), deposit=eur("75.00"), trial={"signed_on": shop.today}, days=1)
    shop.act("decide_to_buy", trial_id=trial)
    with shop.ledger.read() as reading:
        assert trials.sheet(reading, trial).standing == (
            "Everything is decided. To be bought by Ida Skerry, and not sold yet: No. 001 bow. Deposit 75.00 held."
        )
        assert stock.sheet(reading, stick).standing.startswith("With Ida Skerry, who keeps it (TR 2026-001)")
    shop.act("stay_on_trial", trial_id=trial)
    shop.pass_days(3)
    with shop.ledger.read() as reading:
        assert "until 3 Mar 2026, 2 days over" in trials.sheet(reading, trial).standing
        told = stock.sheet(reading, stick)
        assert told.standing.startswith("On trial with Ida Skerry until 3 Mar 2026, 2 days over.")
        assert group(told, "Trials") == [("TR 2026-001", "Ida Skerry", "2 Mar 2026 to 3 Mar 2026")]
        assert "Trial agreement" in {paper.title for paper in told.papers}
        player = people.sheet(reading, shop.player)
        assert group(player, "On trial with them") == [("TR 2026-001", "No. 001 bow", "until 3 Mar 2026")]
    shop.act("bounce_trial_deposit", trial_id=trial)
    shop.act("take_trial_back", trial_id=trial)
    with shop.ledger.read() as reading:
        told = stock.sheet(reading, stick)
        assert group(told, "Trials")[0][2].endswith("came back 5 Mar 2026")
        words = [mark.words for mark in told.history.marks]
        assert "On trial with Ida Skerry (TR 2026-001)" in words
        assert "Back from the trial with Ida Skerry" in words
        assert [span.words for span in told.history.spans] == ["on trial, Ida Skerry", "here"]
        player = people.sheet(reading, shop.player)
        assert group(player, "On trial with them")[0][2] == "came back 5 Mar 2026"
        told_of = [mark.words for mark in player.history.marks]
        assert {"Took on trial, TR 2026-001", "Trial over, TR 2026-001"} <= set(told_of)
        assert trials.sheet(reading, trial).money[1].how == "came back 5 Mar 2026"


@pytest.fixture
def shop_of_trials(file_place: Path) -> Iterator[TriedShop]:
    shop = TriedShop(file_place)
    yield shop
    shop.ledger.close()
    assert shop.wrong() == []
