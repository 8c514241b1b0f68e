"""Doubts: a reading out of the ordinary or far from the one before it is asked about, never refused."""

from __future__ import annotations

from datetime import date

import pytest

from shopledger.quantities.manners import PLAIN
from shopledger.quantities.measured import read_measured
from shopledger.rules.doubting import Earlier, doubts
from shopledger.rules.measures import Measure, measure_of, measures_for, sets


def _measure(kind: str, key: str) -> Measure:
    found = measure_of(kind, key)
    assert found is not None
    return found


def _doubts(kind: str, key: str, typed: str, side: str = "", before: str = "", method: str = "") -> list[str]:
    measure = _measure(kind, key)
    earlier = Earlier(read_measured(before, unit=measure.unit), "", date(2024, 3, 4)) if before else None
    return list(doubts(measure, side, read_measured(typed, unit=measure.unit), method, earlier, PLAIN))


def test_an_implausible_reading_is_asked_about() -> None:
    assert _doubts("cello", "string_length", "69.5") == [
        "vibrating string length: 69.5 mm is outside 400 mm to 740 mm, between which it usually lies. Look at it again."
    ]
    assert not _doubts("cello", "string_length", "695")


def test_a_half_is_not_held_against_the_range_of_the_whole_but_a_rib_is() -> None:
    assert not _doubts("cello", "upper_bout", "170", side="bass")
    assert _doubts("cello", "ribs_lower", "12", side="bass")
    assert _doubts("violin", "string_angle", "90", side="bass")


@pytest.mark.parametrize(
    ("kind", "key", "before", "now", "far"),
    [
        ("cello", "string_length", "695", "693", False),
        ("cello", "string_length", "695", "680", True),
        ("violin", "string_height", "4", "4.8", False),
        ("violin", "string_height", "4", "5.1", True),
        ("bow", "bow_weight", "60", "63", False),
        ("bow", "bow_weight", "60", "63.1", True),
        ("violin", "string_angle", "158", "156", False),
        ("violin", "string_angle", "158", "155.9", True),
    ],
)
def test_a_reading_far_from_the_one_before_is_asked_about(
    kind: str, key: str, before: str, now: str, far: bool
) -> None:
    assert bool(_doubts(kind, key, now, before=before)) is far


def test_it_names_both_readings_and_the_day() -> None:
    assert _doubts("cello", "string_length", "680", before="695") == [
        "vibrating string length: 680 mm is −15 mm from 695 mm of 4 Mar 2024. Look again, or say what changed."
    ]


# Tape over the arch reads a few millimetres more than straight (aitchisoncellos.com; read).
def test_the_method_alone_may_make_some_millimetres() -> None:
    assert _doubts("violin", "upper_bout", "168", before="164")
    assert not _doubts("violin", "upper_bout", "168", before="164", method="over the arch")


@pytest.mark.parametrize("kind", list(sets().measures))
def test_every_plausible_range_is_of_a_measure_of_the_kind(kind: str) -> None:
    import tomllib

    from shopledger.quantities.assets import asset

    written = tomllib.loads(asset("measures", "sets.toml").read_text(encoding="utf-8"))["kinds"][kind]
    known = {measure.key for measure in measures_for(kind)}
    assert set(written.get("plausible", {})) <= known
    assert set(written.get("units", {})) <= known
    if kind != "other":
        assert set(written["plausible"]) == known
