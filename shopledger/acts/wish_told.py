"""Telling a player what fits their wish, by letter, list or word; setting one aside that is nothing for them."""

from __future__ import annotations

from shopledger.acts.declare import Act, Outcome
from shopledger.acts.papers import leave_paper
from shopledger.acts.returning import line_numbers
from shopledger.acts.wanting import CHANGED, wish_going
from shopledger.acts.wanting_forms import SetAside, TellOfMatches
from shopledger.model import WishTold
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.words import N_, _
from shopledger.queries.declared import instrument_words
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.queries.wish_matches import Match, matches
from shopledger.queries.wish_words import match_words
from shopledger.store.unit import Reading, Writing

MOST_SHOWN = 40
"""How many matches are gone through for a letter or a list."""
FIRST = 10
"""How many are told of where none is named."""


def _chosen(reading: Reading, form: TellOfMatches) -> list[tuple[int, Match]]:
    """Give the matches that are told of with their places.

    Raises: Refused: nothing fits. Typed: a place is none of theirs.
    """
    wish = wish_going(reading, form.wish_id)
    found, _count = matches(reading, wish.id, limit=MOST_SHOWN)
    if not found:
        raise Refused(N_("Nothing fits the wish {wish} today."), wish=wish.number)
    places = line_numbers(form.lines, "lines")
    wrong = [place for place in places if not 1 <= place <= len(found)]
    if wrong:
        raise Typed(
            N_("{place} is no place in the list. Type numbers from 1 to {last}."),
            field="lines",
            place=min(wrong),
            last=len(found),
        )
    return [(n, one) for n, one in enumerate(found, 1) if n in places or (not places and n <= FIRST)]


def run_tell_of_matches(writing: Writing, form: TellOfMatches) -> Outcome:
    """Keep what the player is told of, at the price of today; leave the letter or the list."""
    from shopledger.queries.facts.matches import matches_facts

    wish = wish_going(writing, form.wish_id)
    chosen = _chosen(writing, form)
    for _place, one in chosen:
        writing.add(
            WishTold(
                wish_id=wish.id,
                stay_id=one.stay_id,
                told_on=writing.on,
                how=form.how,
                asking=one.asking,
                custody_id=one.custody_id,
            )
        )
    if form.how == "spoken":
        return Outcome(Subject.WISH, wish.id, CHANGED)
    facts = matches_facts(
        writing,
        wish.id,
        chosen,
        writing.number("matches"),
        writing.on,
        letter=form.how == "letter",
        note=form.note,
    )
    paper = leave_paper(writing, "matches", facts, person_id=wish.person_id, wish_id=wish.id)
    return Outcome(Subject.WISH, wish.id, CHANGED, (paper,))


def preview_tell_of_matches(reading: Reading, form: TellOfMatches) -> Preview:
    """Give what the player is told of."""
    chosen = _chosen(reading, form)
    named = instrument_words(reading, [one.instrument_id for _place, one in chosen])
    return Preview(
        _("Told of"),
        tuple(
            Line(
                f"{place}. {named[one.instrument_id]}",
                match_words(one),
                None if one.asking is None else reading.money(one.asking),
            )
            for place, one in chosen
        ),
    )


def refuse_no_match(reading: Reading, wish_id: int) -> None:
    """Refuse to tell where nothing fits."""
    wish = wish_going(reading, wish_id)
    if not matches(reading, wish.id, limit=1)[1]:
        raise Refused(N_("Nothing fits the wish {wish} today."), wish=wish.number)


def run_set_aside(writing: Writing, form: SetAside) -> Outcome:
    """Keep that an instrument is nothing for this player at the price it has."""
    wish = wish_going(writing, form.wish_id)
    found, _count = matches(writing, wish.id, limit=1, instrument_id=form.instrument_id)
    if not found:
        raise Refused(N_("That doesn't fit the wish {wish}."), field="instrument_id", wish=wish.number)
    writing.add(
        WishTold(
            wish_id=wish.id,
            stay_id=found[0].stay_id,
            told_on=writing.on,
            how="set_aside",
            asking=found[0].asking,
            custody_id=found[0].custody_id,
        )
    )
    return Outcome(Subject.WISH, wish.id, CHANGED)


TELL_OF_MATCHES = Act(
    name="tell_of_matches",
    text=N_("Tell the player"),
    subject=Subject.WISH,
    form=TellOfMatches,
    run=run_tell_of_matches,
    subject_input="wish_id",
    allowed=refuse_no_match,
    preview=preview_tell_of_matches,
    papers=("matches",),
)
SET_ASIDE = Act(
    name="set_aside",
    text=N_("Set one aside"),
    subject=Subject.WISH,
    form=SetAside,
    run=run_set_aside,
    subject_input="wish_id",
    allowed=refuse_no_match,
    help=N_("It isn't told of for this wish while its price stays."),
)
ACTS = (TELL_OF_MATCHES, SET_ASIDE)
