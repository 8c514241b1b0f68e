"""The photographs of an instrument or a job, newest first, each of them once."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sqlalchemy import ColumnElement, select

from shopledger.model import Picture
from shopledger.queries.sheet_shapes import Shot

if TYPE_CHECKING:
    from shopledger.store.unit import Reading


def photographs_of_instrument(reading: Reading, instrument_id: int) -> tuple[Shot, ...]:
    """Give all photographs of an instrument, those of the newest day first; of one day, as they were added."""
    return _shots(reading, Picture.instrument_id == instrument_id)


def photographs_of_job(reading: Reading, job_id: int) -> tuple[Shot, ...]:
    """Give the photographs that were taken for a job, in the same order."""
    return _shots(reading, Picture.job_id == job_id)


def _shots(reading: Reading, which: ColumnElement[bool]) -> tuple[Shot, ...]:
    rows = reading.session.execute(
        select(Picture.sha256, Picture.caption, Picture.taken_on)
        .where(which)
        .order_by(Picture.taken_on.desc(), Picture.id)
    )
    shots: dict[str, Shot] = {}
    for sha256, caption, taken_on in rows:
        shots.setdefault(sha256, Shot(sha256, caption, taken_on))
    return tuple(shots.values())
