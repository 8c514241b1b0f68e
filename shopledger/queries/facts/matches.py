"""What a letter or a list of matches states: the wish, and those of its matches that are named, as they are today."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from shopledger.model import Instrument, Wish, field_of
from shopledger.papers.matches import FoundFacts, MatchesFacts, WantedFacts
from shopledger.quantities.words import _
from shopledger.queries.facts.instruments import instrument_named, maker_words, name_of
from shopledger.queries.facts.parties import head, lines_of, party_facts
from shopledger.queries.wish_matches import Match, criteria_of
from shopledger.queries.wish_words import asked_words, match_words, part_words, where_words
from shopledger.queries.wish_words import name_of as criterion_name
from shopledger.store.unit import Reading


def matches_facts(
    reading: Reading,
    wish_id: int,
    found: Sequence[tuple[int, Match]],
    number: str,
    on: date,
    *,
    letter: bool,
    note: str,
) -> MatchesFacts:
    """Give what a paper about these matches states, each with its rank."""
    wish = reading.session.get_one(Wish, wish_id)
    return MatchesFacts(
        **head(reading, number, on),
        wish_number=wish.number,
        player=party_facts(reading, wish.person_id),
        kind=_(field_of(Instrument.kind).choice_word(wish.kind)).capitalize(),
        asked_on=wish.asked_on,
        words=lines_of(wish.words),
        letter=letter,
        criteria=tuple(
            WantedFacts(label=criterion_name(one), says=asked_words(one))
            for one in criteria_of(reading, wish_id)
        ),
        found=tuple(_found(reading, n, one) for n, one in found),
        note=note,
    )


def _found(reading: Reading, n: int, match: Match) -> FoundFacts:
    instrument = instrument_named(reading, match.instrument_id)
    return FoundFacts(
        n=n,
        name=name_of(instrument),
        number=instrument.number,
        maker=" ".join(part for part in maker_words(instrument) if part),
        likeness=match_words(match),
        says=tuple(part_words(reading, part) for part in match.parts),
        where=where_words(match),
        asking=None if match.asking is None else reading.money(match.asking),
    )
