"""Where an instrument is on any day: before the first row, between rows, two on one day, and who answers for it."""

from __future__ import annotations

from datetime import date

import pytest

from shopledger.rules.custody import Insured, Moved, cover, last_move, standing

CAME, LENT, BACK, GONE = date(2026, 3, 2), date(2026, 3, 10), date(2026, 3, 20), date(2026, 4, 1)
MOVES = (
    Moved(stay=1, place="here", since=CAME),
    Moved(stay=1, place="workshop", since=CAME, words="26-0001-7"),
    Moved(
        stay=1, place="on_trial", since=LENT, holder="player", person_id=7, risk="player", insured_by="player",
        insured_for=900_000, trial_id=3,
    ),
    Moved(stay=1, place="here", since=BACK),
    Moved(stay=1, place="handed_over", since=GONE),
    Moved(stay=2, place="here", since=GONE),
)  # fmt: skip
AGREED = (Insured(CAME, "owner", None), Insured(date(2026, 3, 15), "shop", 880_000))


@pytest.mark.parametrize(
    ("on", "place", "stay"),
    [
        (date(2026, 3, 1), "not_yet", None),
        (CAME, "workshop", 1),
        (date(2026, 3, 9), "workshop", 1),
        (LENT, "on_trial", 1),
        (date(2026, 3, 19), "on_trial", 1),
        (BACK, "here", 1),
        (date(2026, 3, 31), "here", 1),
        (GONE, "here", 2),
        (date(2027, 1, 1), "here", 2),
    ],
)
def test_the_last_row_up_to_a_day_says_where_it_is(on: date, place: str, stay: int | None) -> None:
    found = standing(MOVES, on)
    assert (found.place, found.stay) == (place, stay)


def test_what_is_handed_over_or_lost_or_not_in_is_in_nobodys_care_here() -> None:
    assert not standing(MOVES[:5], date(2027, 1, 1), insured=AGREED).in_care
    assert standing(MOVES[:5], date(2027, 1, 1), insured=AGREED).insured_by is None
    assert not standing((Moved(stay=1, place="lost", since=CAME),), GONE).in_care
    assert not standing((), GONE).in_care
    assert last_move((), GONE) is None


def test_a_row_that_says_who_insures_it_counts_before_what_was_agreed() -> None:
    out = standing(MOVES, LENT, insured=AGREED, insured_value=700_000)
    assert (out.risk, out.insured_by, out.insured_for) == ("player", "player", 900_000)
    assert (out.person_id, out.holder, out.trial_id, out.since) == (7, "player", 3, LENT)


def test_in_the_shop_the_terms_of_that_day_count() -> None:
    before = standing(MOVES, CAME, insured=AGREED, insured_value=700_000)
    assert (before.risk, before.insured_by, before.insured_for) == ("shop", "owner", 700_000)
    after = standing(MOVES, BACK, insured=AGREED, insured_value=700_000)
    assert (after.risk, after.insured_by, after.insured_for) == ("shop", "shop", 880_000)


def test_away_nothing_is_taken_for_agreed_but_the_value() -> None:
    away = standing((Moved(stay=1, place="away", since=CAME),), CAME, insured=AGREED, insured_value=700_000)
    assert (away.risk, away.insured_by, away.insured_for) == (None, None, 700_000)


@pytest.mark.parametrize(
    ("reason", "value", "wanted"),
    [
        ("own", None, ("shop", "shop", None)),
        ("own", 5, ("shop", "shop", 5)),
        ("repair", 5, ("shop", "shop", 5)),
        ("repair", None, (None, None, None)),
        ("to_sell", None, (None, None, None)),
    ],
)
def test_without_an_agreement_the_value_named_at_intake_counts(
    reason: str, value: int | None, wanted: tuple[str | None, str | None, int | None]
) -> None:
    assert cover(reason, CAME, (), value) == wanted


def test_terms_agreed_later_do_not_count_before() -> None:
    assert cover("to_sell", CAME, AGREED[1:], None) == (None, None, None)
