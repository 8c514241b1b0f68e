"""Days of the shop's calendar and instants in UTC, over the nights on which clocks change."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopledger.quantities.days import day_of, instant_text, now, read_instant, zone
from shopledger.quantities.errors import Typed


@pytest.mark.parametrize(
    ("instant", "zone_name", "day"),
    [
        ("2026-03-29T00:59:59.000000Z", "Europe/Berlin", date(2026, 3, 29)),
        ("2026-03-28T23:00:00.000000Z", "Europe/Berlin", date(2026, 3, 29)),
        ("2026-03-28T22:59:59.999999Z", "Europe/Berlin", date(2026, 3, 28)),
        # The night of the second change has the hour from two to three twice; the day stays one.
        ("2026-10-25T00:30:00.000000Z", "Europe/Berlin", date(2026, 10, 25)),
        ("2026-10-25T01:30:00.000000Z", "Europe/Berlin", date(2026, 10, 25)),
        ("2026-12-31T23:30:00.000000Z", "Europe/Berlin", date(2027, 1, 1)),
        ("2027-01-01T04:59:59.000000Z", "America/New_York", date(2026, 12, 31)),
        ("2026-12-31T10:00:00.000000Z", "Pacific/Kiritimati", date(2027, 1, 1)),
        ("2027-01-01T10:59:59.000000Z", "Pacific/Pago_Pago", date(2026, 12, 31)),
    ],
)
def test_the_shops_day_follows_its_wall_calendar(instant: str, zone_name: str, day: date) -> None:
    # Rules of the IANA time zone data: last Sundays of March and October; UTC+14 and UTC-11.
    assert day_of(read_instant(instant), zone_name) == day


def test_now_is_in_utc() -> None:
    assert now().utcoffset() == timedelta(0)


@given(
    st.datetimes(datetime(1900, 1, 1), datetime(2199, 12, 31)),
    st.datetimes(datetime(1900, 1, 1), datetime(2199, 12, 31)),
)
def test_texts_of_instants_come_back_and_sort_as_the_instants_do(one: datetime, other: datetime) -> None:
    first, second = one.replace(tzinfo=UTC), other.replace(tzinfo=UTC)
    assert read_instant(instant_text(first)) == first
    assert (instant_text(first) < instant_text(second)) == (first < second)


def test_an_instant_of_any_zone_is_written_in_utc() -> None:
    eastern = timezone(timedelta(hours=-5))
    assert instant_text(datetime(2026, 3, 4, 20, 0, tzinfo=eastern)) == "2026-03-05T01:00:00.000000Z"


@pytest.mark.parametrize(
    "name", ["Europe/Berlim", "", "Nowhere", "../../etc/passwd", "/etc/passwd", "Europe", "\x00"]
)
def test_a_zone_that_is_none_is_refused_with_the_nearest_name(name: str) -> None:
    with pytest.raises(Typed) as refused:
        zone(name)
    assert refused.value.field == "time_zone"
    assert "write it as" in str(refused.value)
    if name == "Europe/Berlim":
        assert "Europe/Berlin" in str(refused.value)
