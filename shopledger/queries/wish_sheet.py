"""The page of a wish: what is wanted, what fits it best with each criterion's part, what the player was told of."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from sqlalchemy import Row, select

from shopledger.model import Person, Stay, Wish, WishTold, field_of
from shopledger.quantities.showing import show_amount, show_day
from shopledger.quantities.words import N_, _, count_words
from shopledger.queries.declared import facts_of, instrument_words, row_of
from shopledger.queries.papers import papers_of
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Fact, Group, Sheet
from shopledger.queries.states import WISH_GOING, WISH_OVER
from shopledger.queries.wish_matches import Match, criteria_of, matches
from shopledger.queries.wish_words import asked_words, match_words, name_of, part_words, where_words

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

SHOWN = 12
"""How many matches the page shows."""


def sheet(reading: Reading, wish_id: int) -> Sheet:
    """Give the page of a wish.

    Raises: NotFound: there is no such wish.
    """
    row = row_of(reading, Wish, wish_id)
    player = reading.session.execute(
        select(Person.name, Person.phone, Person.email).where(Person.id == row.person_id)
    ).one()
    found, count = matches(reading, wish_id, limit=SHOWN) if row.ended_on is None else ((), 0)
    kind = _(field_of(Wish.kind).choice_word(row.kind))
    return Sheet(
        subject=Subject.WISH,
        id=wish_id,
        title=f"{row.number} {player.name}",
        line=" · ".join(part for part in (kind, player.phone or player.email) if part),
        standing=_standing(reading, row, count),
        state=WISH_GOING if row.ended_on is None else WISH_OVER,
        groups=(
            Group(
                N_("What is wanted"),
                tuple(Fact(name_of(one), asked_words(one)) for one in criteria_of(reading, wish_id)),
            ),
            Group(N_("What fits"), matched(reading, found)),
            Group(
                N_("About the wish"), facts_of(reading, Wish, row, without=("number", "person_id", "kind"))
            ),
            Group(N_("Told of"), _told(reading, wish_id)),
        ),
        papers=papers_of(reading, wish_id=wish_id),
    )


def _standing(reading: Reading, row: Row[Any], count: int) -> str:
    manners = reading.ledger.manners
    if row.ended_on is not None:
        return _("Over since {day}.").format(day=show_day(row.ended_on, manners))
    if not count:
        return _("Nothing fits today.")
    fits = count_words("{n} instrument fits.", "{n} instruments fit.", count)
    if row.until is not None and row.until < reading.ledger.today():
        return f"{fits} " + _("It was to be looked for until {day}.").format(day=show_day(row.until, manners))
    return fits


def matched(reading: Reading, found: Sequence[Match]) -> tuple[Fact, ...]:
    """Give a fact for each match: what it is, how alike and at which price, and what every criterion says."""
    named = instrument_words(reading, [one.instrument_id for one in found])
    return tuple(
        Fact(
            f"{n}. {named[one.instrument_id]}",
            ", ".join(part for part in (match_words(one), _price(reading, one), where_words(one)) if part),
            "; ".join(part_words(reading, part) for part in one.parts),
        )
        for n, one in enumerate(found, 1)
    )


def _price(reading: Reading, match: Match) -> str:
    if match.asking is None:
        return _("no price yet")
    return show_amount(reading.money(match.asking), reading.ledger.manners)


def _told(reading: Reading, wish_id: int) -> tuple[Fact, ...]:
    """Give what the player was told of, the newest first."""
    rows = reading.session.execute(
        select(Stay.instrument_id, WishTold.told_on, WishTold.how, WishTold.asking)
        .join(Stay, Stay.id == WishTold.stay_id)
        .where(WishTold.wish_id == wish_id)
        .order_by(WishTold.id.desc())
        .limit(SHOWN)
    ).all()
    named = instrument_words(reading, [row.instrument_id for row in rows])
    how = field_of(WishTold.how)
    return tuple(
        Fact(
            named[row.instrument_id],
            row.told_on,
            ", ".join(
                part
                for part in (
                    _(how.choice_word(row.how)),
                    ""
                    if row.asking is None
                    else show_amount(reading.money(row.asking), reading.ledger.manners),
                )
                if part
            ),
        )
        for row in rows
    )


def wishes_of_player(reading: Reading, person_id: int) -> tuple[Fact, ...]:
    """Give the wishes of a player for their page, the newest first."""
    kind = field_of(Wish.kind)
    rows = reading.session.scalars(select(Wish).where(Wish.person_id == person_id).order_by(Wish.id.desc()))
    return tuple(
        Fact(
            f"{one.number} {_(kind.choice_word(one.kind))}",
            one.asked_on,
            _("going on") if one.ended_on is None else _("over"),
        )
        for one in rows
    )


def who_looks_for(reading: Reading, instrument_id: int, kind: str) -> tuple[Fact, ...]:
    """Give the wishes that an instrument fits, for its page, in the order in which they were asked."""
    rows = reading.session.execute(
        select(Wish.id, Wish.number, Wish.asked_on, Person.name)
        .join(Person, Person.id == Wish.person_id)
        .where(Wish.kind == kind, Wish.ended_on.is_(None))
        .order_by(Wish.id)
    ).all()
    facts = []
    for row in rows:
        found, count = matches(reading, row.id, limit=1, instrument_id=instrument_id)
        if count:
            said = "; ".join(part_words(reading, part) for part in found[0].parts)
            facts.append(Fact(f"{row.number} {row.name}", row.asked_on, said))
    return tuple(facts)
