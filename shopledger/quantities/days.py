"""Days of the shop's calendar and instants in UTC.

A day is what an act is booked on: the user states it, and it never follows from an instant by accident. An instant
says when something was recorded. The order of acts is that of their numbers, never that of the clock.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING

from shopledger.quantities.errors import Typed
from shopledger.quantities.numbers import nearest
from shopledger.quantities.words import N_

if TYPE_CHECKING:
    from zoneinfo import ZoneInfo

Clock = Callable[[], datetime]
"""Gives the present instant, aware, in UTC."""


def now() -> datetime:
    """Give the present instant in UTC."""
    return datetime.now(UTC)


def zone(name: str) -> ZoneInfo:
    """Give the time zone of that name of the IANA data.

    Raises: Typed: there is no such zone; the nearest known one is named.
    """
    # Loaded with the first question of a day: a window shows its first table without one.
    from zoneinfo import ZoneInfo, ZoneInfoNotFoundError, available_timezones

    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise Typed(
            N_("“{name}” is no time zone: write it as {nearest}."),
            field="time_zone",
            name=name,
            nearest=nearest(name, available_timezones()) or "Europe/Berlin",
        ) from None


def day_of(instant: datetime, zone_name: str) -> date:
    """Give the day that the shop's wall calendar shows at an instant."""
    return instant.astimezone(zone(zone_name)).date()


def instant_text(instant: datetime) -> str:
    """Give an instant as text in UTC, always with six decimals, so that texts sort as instants do."""
    return instant.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.%fZ")


def read_instant(text: str) -> datetime:
    """Give the instant that `instant_text` wrote."""
    return datetime.strptime(text, "%Y-%m-%dT%H:%M:%S.%fZ").replace(tzinfo=UTC)
