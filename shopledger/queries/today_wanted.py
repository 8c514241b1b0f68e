"""Wishes for which something came in, came back or changed its price since the player last heard of it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING

from sqlalchemy import func, select, union_all

from shopledger.model import Custody, Instrument, Person, PriceChange, Stay, Wish, WishTold
from shopledger.quantities.words import N_, _
from shopledger.queries.declared import instrument_words
from shopledger.queries.due_lines import SHOWN, DueLine, Section, several
from shopledger.queries.shapes import Subject, Tone
from shopledger.queries.wish_matches import SET_ASIDE, matches

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

MOST_WISHES = SHOWN
"""How many wishes are gone through, those with the newest change first; all stand in their table."""
MOST_CHANGED = 200
"""How many changed instruments are gone through, those with the newest change."""


def wanted_and_found(reading: Reading, _today: date) -> Section:
    """Give the wishes for which there is something new, with what it is."""
    last_told = (
        select(func.max(WishTold.told_on))
        .where(WishTold.wish_id == Wish.id, WishTold.how != SET_ASIDE)
        .correlate(Wish)
        .scalar_subquery()
    )
    wishes = reading.session.execute(
        select(
            Wish.id,
            Wish.kind,
            Wish.number,
            Person.name,
            func.coalesce(last_told, Wish.asked_on).label("since"),
        )
        .join(Person, Person.id == Wish.person_id)
        .where(Wish.ended_on.is_(None))
    ).all()
    found = []
    if wishes:
        changed = _changed(reading, min(row.since for row in wishes), {row.kind for row in wishes})
        asked = []
        for row in wishes:
            stays = [(on, stay) for on, stay in changed.get(row.kind, ()) if on >= row.since]
            if stays:
                asked.append((stays[0][0], row, [stay for _on, stay in stays]))
        asked.sort(key=lambda one: one[0], reverse=True)
        for on, row, keys in asked[:MOST_WISHES]:
            new, count = matches(reading, row.id, limit=SHOWN, only_new=True, stay_ids=keys)
            if count:
                found.append((on, row, [one.instrument_id for one in new]))
    named = instrument_words(reading, [key for _on, _row, keys in found[:SHOWN] for key in keys])
    lines = tuple(
        DueLine(
            Subject.WISH,
            row.id,
            several(named[key] for key in keys),
            _("looked for by {name}, {number}").format(name=row.name, number=row.number),
            on,
            Tone.SOON,
            ("tell_of_matches",),
        )
        for on, row, keys in found[:SHOWN]
    )
    return Section("wanted", N_("Wanted and found"), lines, len(found), "people", "wishes", "going")


def _changed(reading: Reading, since: date, kinds: set[str]) -> Mapping[str, Sequence[tuple[date, int]]]:
    """Give the stays that came in, came back or changed their price since a day, by kind, the newest change first."""
    price, custody, stay = PriceChange.__table__.c, Custody.__table__.c, Stay.__table__.c
    changes = union_all(
        select(price.stay_id.label("stay_id"), price.since.label("since")).where(price.since >= since),
        select(custody.stay_id, custody.since).where(custody.since >= since, custody.place == "here"),
        select(stay.id, stay.came_in_on).where(stay.came_in_on >= since, stay.ended_on.is_(None)),
    ).subquery()
    newest = func.max(changes.c.since).label("newest")
    rows = reading.session.connection().execute(
        select(Instrument.__table__.c.kind, stay.id, newest)
        .select_from(changes)
        .join(Stay.__table__, stay.id == changes.c.stay_id)
        .join(Instrument.__table__, Instrument.__table__.c.id == stay.instrument_id)
        .where(stay.ended_on.is_(None), Instrument.__table__.c.kind.in_(sorted(kinds)))
        .group_by(Instrument.__table__.c.kind, stay.id)
        .order_by(newest.desc(), stay.id.desc())
        .limit(MOST_CHANGED)
    )
    found: dict[str, list[tuple[date, int]]] = defaultdict(list)
    for kind, key, on in rows:
        found[kind].append((on, key))
    return found
