"""What players want: a wish noted, changed, ended and taken up again."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from sqlalchemy import select

from shopledger.acts.columns import filled, refill
from shopledger.acts.declare import Act, Outcome
from shopledger.acts.lending import refuse_shop_itself
from shopledger.acts.people import person_of
from shopledger.acts.wanting_forms import ChangeWish, CriterionRow, EndWish, NoteWish, OfWish
from shopledger.model import Wish, WishCriterion, asked_of
from shopledger.quantities.errors import NotFound, Refused, Typed
from shopledger.quantities.words import N_, _
from shopledger.queries.groups import group_beginning
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.queries.wish_matches import wanted_of
from shopledger.queries.wish_words import asked_words, name_of
from shopledger.rules.wishing import Sort, read_criterion, read_limits, sort_of
from shopledger.store.unit import Reading, Writing

CHANGED = frozenset({Subject.WISH, Subject.PERSON})


def wish_going(reading: Reading, wish_id: int) -> Wish:
    """Give a wish that has not ended.

    Raises: NotFound: there is none. Refused: it ended.
    """
    wish = _wish(reading, wish_id)
    if wish.ended_on is not None:
        raise Refused(N_("The wish {wish} ended on {day}."), wish=wish.number, day=wish.ended_on)
    return wish


def _wish(reading: Reading, wish_id: int) -> Wish:
    wish = reading.session.get(Wish, wish_id)
    if wish is None:
        raise NotFound(N_("There is no wish with the key {id} in this ledger."), id=wish_id)
    return wish


def read_criteria(reading: Reading, kind: str, rows: Sequence[CriterionRow]) -> list[WishCriterion]:
    """Give the records of what is wanted, in the order of the rows, not yet written.

    Raises: Typed: one can't be read, or stands twice; the field names it.
    """
    found: list[WishCriterion] = []
    seen: set[tuple[str, str, bool]] = set()
    for n, row in enumerate(rows):
        path = f"criteria[{n}]"
        what = read_criterion(row.what, kind, f"{path}.what")
        key = (what, row.side or "", row.must)
        if key in seen:
            raise Typed(N_("That stands on the list already."), field=f"{path}.what")
        seen.add(key)
        weight = 1 if row.weight is None else row.weight
        if not 1 <= weight <= 100:
            raise Typed(N_("What counts is a number from 1 to 100."), field=f"{path}.weight")
        limits = read_limits(
            what,
            row.value,
            must=row.must,
            currency=reading.currency,
            manners=reading.ledger.manners,
            field=f"{path}.value",
        )
        stretch = limits.stretch
        one = stretch is not None and stretch.low == stretch.high
        found.append(
            WishCriterion(
                n=n + 1,
                what=what,
                side=(row.side or "") if sort_of(what) is Sort.FIGURE else "",
                is_must=row.must,
                low=None if stretch is None else stretch.low,
                high=None if stretch is None else stretch.high,
                target=stretch.low if stretch is not None and one else None,
                words=" ".join(row.value.split()),
                weight=weight,
            )
        )
    return found


def _ready(reading: Reading, form: NoteWish) -> tuple[Wish, list[WishCriterion]]:
    values = {**group_beginning(Wish), **form.wish}
    wish = filled(Wish, values, reading.currency, path="wish", number="", asked_on=form.on)
    player = person_of(reading, wish.person_id, "wish.person_id")
    if player.relation == "shop":
        raise Typed(N_("That is the shop itself. Choose the player."), field="wish.person_id")
    _check_until(wish.until, form.on)
    return wish, read_criteria(reading, wish.kind, form.criteria)


def _check_until(until: date | None, on: date) -> None:
    if until is not None and until < on:
        raise Typed(N_("It can't end before {day}."), field="wish.until", day=on)


def run_note_wish(writing: Writing, form: NoteWish) -> Outcome:
    """Write down what a player wants."""
    wish, criteria = _ready(writing, form)
    wish.number = writing.number("wish")
    writing.add(wish)
    _write(writing, wish, criteria)
    return Outcome(Subject.WISH, wish.id, CHANGED)


def _write(writing: Writing, wish: Wish, criteria: Sequence[WishCriterion]) -> None:
    for one in criteria:
        one.wish_id = wish.id
        writing.add(one)
    writing.session.flush()


def preview_note_wish(reading: Reading, form: NoteWish) -> Preview:
    """Give what will be looked for."""
    _wish_read, criteria = _ready(reading, form)
    return _said(criteria)


def _said(criteria: Sequence[WishCriterion]) -> Preview:
    read = [wanted_of(one) for one in criteria]
    lines = tuple(Line(name_of(one), asked_words(one)) for one in read)
    alone = () if read else (_("Without limits everything of this kind fits."),)
    return Preview(_("What is looked for"), lines, alone)


def run_change_wish(writing: Writing, form: ChangeWish) -> Outcome:
    """Write a wish anew; what the player was told of stays told."""
    wish = wish_going(writing, form.wish_id)
    if "kind" in form.wish and form.wish["kind"] != wish.kind:
        raise Typed(N_("The kind of a wish stays. Note another wish for another kind."), field="wish.kind")
    refill(wish, form.wish, writing.currency, path="wish")
    person_of(writing, wish.person_id, "wish.person_id")
    _check_until(wish.until, wish.asked_on)
    criteria = read_criteria(writing, wish.kind, form.criteria)
    for old in writing.session.scalars(select(WishCriterion).where(WishCriterion.wish_id == wish.id)):
        writing.session.delete(old)
    writing.session.flush()
    _write(writing, wish, criteria)
    return Outcome(Subject.WISH, wish.id, CHANGED)


def preview_change_wish(reading: Reading, form: ChangeWish) -> Preview:
    """Give what will be looked for."""
    return _said(read_criteria(reading, wish_going(reading, form.wish_id).kind, form.criteria))


def refuse_ended(reading: Reading, wish_id: int) -> None:
    """Refuse what is about a wish that ended."""
    wish_going(reading, wish_id)


def prefill_change_wish(reading: Reading, wish_id: int) -> Mapping[str, Any]:
    """Give the wish as it is."""
    wish = _wish(reading, wish_id)
    criteria = reading.session.scalars(
        select(WishCriterion).where(WishCriterion.wish_id == wish_id).order_by(WishCriterion.n)
    )
    return {
        "wish": {name: getattr(wish, name) for name in asked_of(Wish)},
        "criteria": tuple(
            CriterionRow(what=one.what, value=one.words, must=one.is_must, weight=one.weight, side=one.side)
            for one in criteria
        ),
    }


def prefill_note_wish(_reading: Reading, person_id: int) -> Mapping[str, Any]:
    """Give the player, and an empty first line."""
    return {"wish": {"person_id": person_id}} if person_id else {}


def run_end_wish(writing: Writing, form: EndWish) -> Outcome:
    """End a wish."""
    wish = wish_going(writing, form.wish_id)
    if form.on < wish.asked_on:
        raise Typed(N_("It was asked on {day}: it can't end before."), field="on", day=wish.asked_on)
    wish.ended_on, wish.ending = writing.on, form.ending
    writing.session.flush()
    return Outcome(Subject.WISH, wish.id, CHANGED)


def run_take_up_wish(writing: Writing, form: OfWish) -> Outcome:
    """Look again for what was given up."""
    refuse_going(writing, form.wish_id)
    wish = _wish(writing, form.wish_id)
    wish.ended_on, wish.ending = None, None
    writing.session.flush()
    return Outcome(Subject.WISH, wish.id, CHANGED)


def refuse_going(reading: Reading, wish_id: int) -> None:
    """Refuse to take up what is going on."""
    wish = _wish(reading, wish_id)
    if wish.ended_on is None:
        raise Refused(N_("The wish {wish} is going on."), wish=wish.number)


NOTE_WISH = Act(
    name="note_wish",
    text=N_("Note a wish"),
    subject=Subject.PERSON,
    form=NoteWish,
    run=run_note_wish,
    allowed=refuse_shop_itself,
    prefill=prefill_note_wish,
    preview=preview_note_wish,
    opposite="end_wish",
    help=N_("What a player looks for: limits that must hold, and what would be liked."),
)
CHANGE_WISH = Act(
    name="change_wish",
    text=N_("Change the wish"),
    subject=Subject.WISH,
    form=ChangeWish,
    run=run_change_wish,
    subject_input="wish_id",
    allowed=refuse_ended,
    prefill=prefill_change_wish,
    preview=preview_change_wish,
)
END_WISH = Act(
    name="end_wish",
    text=N_("End the wish"),
    subject=Subject.WISH,
    form=EndWish,
    run=run_end_wish,
    subject_input="wish_id",
    allowed=refuse_ended,
    opposite="take_up_wish",
)
TAKE_UP_WISH = Act(
    name="take_up_wish",
    text=N_("Take the wish up again"),
    subject=Subject.WISH,
    form=OfWish,
    run=run_take_up_wish,
    subject_input="wish_id",
    allowed=refuse_going,
    opposite="end_wish",
)
ACTS = (NOTE_WISH, CHANGE_WISH, END_WISH, TAKE_UP_WISH)
