"""The example's clock, chance and form ids: they go on by counting, so that every build gives the same bytes."""

from __future__ import annotations

import hashlib
import uuid
from datetime import UTC, date, datetime, time, timedelta

OPENS_AT = time(9, 0, tzinfo=UTC)
BETWEEN_ACTS = timedelta(minutes=4)

_FORMS = uuid.uuid5(uuid.NAMESPACE_URL, "example shop of the shop ledger")


class Clock:
    """A clock that stands still until the story moves it."""

    def __init__(self, first: date) -> None:
        """Begin at the hour of opening of the first day."""
        self._instant = datetime.combine(first, OPENS_AT)

    def __call__(self) -> datetime:
        """Give the present instant in UTC."""
        return self._instant

    @property
    def today(self) -> date:
        """The day of the story."""
        return self._instant.date()

    def move_to(self, day: date) -> None:
        """Go on to a day, at the hour of opening; a day that is here already goes on as it was."""
        if day > self.today:
            self._instant = datetime.combine(day, OPENS_AT)

    def act_done(self) -> None:
        """Let the few minutes pass that an act takes."""
        self._instant += BETWEEN_ACTS


class Chance:
    """Bytes that look like chance and are the same in every build: fine for salts of invented data only."""

    def __init__(self, seed: str) -> None:
        """Begin with a seed."""
        self._seed = seed
        self._drawn = 0

    def __call__(self, count: int) -> bytes:
        """Give so many bytes, others each time."""
        self._drawn += 1
        return hashlib.shake_256(f"{self._seed} {self._drawn}".encode()).digest(count)


class FormIds:
    """Ids of filled forms, counted instead of drawn."""

    def __init__(self) -> None:
        """Begin before the first form."""
        self._given = 0

    def next(self) -> str:
        """Give the next id."""
        self._given += 1
        return str(uuid.uuid5(_FORMS, str(self._given)))
