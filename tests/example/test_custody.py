"""Where each instrument of the example was on any day: asked of the ledger, and replayed from its export."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from shopledger.example.shop import FIRST_DAY, LAST_DAY, Built
from shopledger.queries.custody import custody_on
from shopledger.store.export import export
from shopledger.store.ledger import Ledger
from tests.helpers.custody_replay import Replay, Told

DATES = [FIRST_DAY + timedelta(days=(LAST_DAY - FIRST_DAY).days * n // 19) for n in range(20)]


@pytest.fixture(scope="module")
def replay(built: Built, tmp_path_factory: pytest.TempPathFactory) -> Replay:
    """Give the export of the example as its independent reader replays it."""
    folder: Path = export(built.ledger, tmp_path_factory.mktemp("exported") / "all")
    (folder / "custody.csv").unlink()
    return Replay(folder)


def _asked(example: Ledger, day: date) -> dict[int, Told]:
    with example.read() as reading:
        found = custody_on(reading, day)
        return {
            one.instrument_id: Told(
                one.at.place,
                one.at.since,
                one.at.holder,
                one.at.person_id,
                one.at.risk,
                one.at.insured_by,
                None if one.at.insured_for is None else Decimal(reading.money(one.at.insured_for).plain()),
            )
            for one in found
        }


@pytest.mark.parametrize("day", DATES, ids=str)
def test_on_twenty_dates_every_instrument_is_where_the_replay_says(
    example: Ledger, replay: Replay, day: date
) -> None:
    asked = _asked(example, day)
    assert set(asked) == set(replay.numbers)
    for key, told in asked.items():
        assert told == replay.on(key, day), replay.numbers[key]


def test_so_it_is_on_every_day_of_a_move_and_on_the_eve(example: Ledger, replay: Replay) -> None:
    days = replay.days()
    assert len(days) > 50
    for day in days:
        for asked_on in (day - timedelta(days=1), day):
            asked = _asked(example, asked_on)
            assert asked == {key: replay.on(key, asked_on) for key in asked}, asked_on


def test_the_dates_tell_of_every_place(replay: Replay) -> None:
    places = {replay.on(key, day).place for day in (*DATES, *replay.days()) for key in replay.numbers}
    assert places == {"not_yet", "here", "workshop", "on_trial", "away", "handed_over", "lost"}
