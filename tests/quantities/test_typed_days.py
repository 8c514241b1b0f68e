"""Days as people type them, in the order and with the names of their locale."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopledger.quantities.errors import Typed
from shopledger.quantities.manners import Manners
from shopledger.quantities.reading import read_day
from shopledger.quantities.showing import show_day

FOURTH = date(2026, 3, 4)
AMERICAN = Manners(day_pattern="MMM d, y", order="mdy")
GERMAN = Manners(
    language="de",
    decimal=",",
    group=".",
    months=("Jan.", "Feb.", "März", "Apr.", "Mai", "Juni", "Juli", "Aug.", "Sept.", "Okt.", "Nov.", "Dez."),
    months_long=(
        "Januar", "Februar", "März", "April", "Mai", "Juni", "Juli", "August", "September", "Oktober", "November",
        "Dezember",
    ),
    day_pattern="d. MMM y",
)  # fmt: skip
JAPANESE = Manners(
    language="ja",
    months=tuple(f"{n}月" for n in range(1, 13)),
    months_long=tuple(f"{n}月" for n in range(1, 13)),
    day_pattern="y年M月d日",
    order="ymd",
)


@pytest.mark.parametrize(
    ("typed", "manners"),
    [
        ("4.3.2026", GERMAN),
        ("04.03.2026", GERMAN),
        ("4. 3. 2026", GERMAN),
        ("4/3/2026", GERMAN),
        ("4-3-2026", GERMAN),
        ("4. März 2026", GERMAN),
        ("4 märz 2026", GERMAN),
        ("4 Ma\u0308rz 2026", GERMAN),
        ("4 March 2026", GERMAN),
        ("3/4/2026", AMERICAN),
        ("March 4, 2026", AMERICAN),
        ("Mar 4, 2026", AMERICAN),
        ("4 Mar 2026", AMERICAN),
        ("MAR 4 2026", AMERICAN),
        ("4th of March, 2026", AMERICAN),
        ("2026年3月4日", JAPANESE),
        ("2026/3/4", JAPANESE),
        ("2026-03-04", AMERICAN),
        ("2026-3-4", GERMAN),
        ("2026 Mar 4", GERMAN),
        ("  4   Mar  2026 ", Manners()),
    ],
)
def test_the_fourth_of_march_in_many_hands(typed: str, manners: Manners) -> None:
    assert read_day(typed, manners) == FOURTH


def test_near_days_count_from_the_day_that_is_given() -> None:
    assert read_day("today", today=FOURTH) == FOURTH
    assert read_day("Yesterday", today=FOURTH) == FOURTH - timedelta(days=1)
    assert read_day("tomorrow", today=FOURTH) == FOURTH + timedelta(days=1)
    with pytest.raises(Typed):
        read_day("today")


@pytest.mark.parametrize("typed", ["4.3.26", "4 Mar 26", "4 Mar '26", "04/03/26", "1.1.1"])
def test_a_year_of_two_figures_is_refused_in_words(typed: str) -> None:
    with pytest.raises(Typed, match="four figures"):
        read_day(typed)


@pytest.mark.parametrize("typed", ["31.2.2026", "29 Feb 2027", "31 April 2026", "0.3.2026", "32.1.2026"])
def test_a_day_that_the_calendar_lacks_is_refused(typed: str) -> None:
    with pytest.raises(Typed, match="not in the calendar"):
        read_day(typed)


def test_leap_days_are_days() -> None:
    # Gregorian calendar: a century has one only where it divides by 400.
    assert read_day("29 Feb 2028") == date(2028, 2, 29)
    assert read_day("29.2.2000") == date(2000, 2, 29)
    with pytest.raises(Typed, match="not in the calendar"):
        read_day("29.2.1900")


def test_a_month_beyond_twelve_is_refused() -> None:
    with pytest.raises(Typed, match="a year has twelve"):
        read_day("4.13.2026", GERMAN)


@pytest.mark.parametrize(
    "typed",
    [
        "", " ", "soon", "March", "March 2026", "4 March", "4 5 March 2026", "4 Foo 2026", "2026", "20260304", "4.3",
        "2026-03-04T10:00", "2026-03-04 10:00", "２026-03-04", "٤.٣.٢٠٢٦", "4 Mar 2026 BC", "4 Mar Mar 2026",
        "1e3.1.2026", "-4.3.2026", "4..3.2026", "4.3.20266", "4 Ju 2026", "4 Ma 2026", "4 Mar 1066", "1.1.9999", "\x00",
        "4 Mar 2026;", "9" * 5000, "March " * 900,
    ],
)  # fmt: skip
def test_what_is_no_day_is_refused_in_a_sentence(typed: str) -> None:
    with pytest.raises(Typed) as refused:
        read_day(typed, field="ends_on")
    assert refused.value.field == "ends_on"
    assert str(refused.value).endswith((".", "twelve."))
    assert len(str(refused.value)) < 250


@pytest.mark.parametrize("manners", [Manners(), AMERICAN, GERMAN, JAPANESE])
@given(day=st.dates(date(1500, 1, 1), date(2199, 12, 31)))
def test_a_shown_day_reads_back_as_itself(manners: Manners, day: date) -> None:
    assert read_day(show_day(day, manners), manners) == day
    assert read_day(day.isoformat(), manners) == day


@given(st.text(max_size=60))
def test_any_text_is_a_day_or_refused(text: str) -> None:
    try:
        day = read_day(text)
    except Typed as refused:
        assert str(refused)
    else:
        assert 1500 <= day.year <= 2199
