"""Counting the stock: what should be here is listed, what is seen is ticked by scanner or number, the rest is missing.

A count says what was seen and changes nothing else: where things are is changed by the acts that move them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sqlalchemy import select

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.papers import leave_paper
from shopledger.model import Stay, StockTake, StockTakeLine, field_of
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import Field, ask
from shopledger.quantities.words import N_, _, count_words
from shopledger.queries.by_code import instrument_by_code
from shopledger.queries.counting import (
    count_going_on,
    count_of,
    elsewhere_words,
    should_be_here,
)
from shopledger.queries.declared import instrument_words
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.queries.standing import last_stay
from shopledger.store.unit import Reading, Writing

if TYPE_CHECKING:
    from datetime import date

CHANGED = frozenset({Subject.STOCK_TAKE})
LONGEST_NOTE = 200
CODE = Field(
    N_("Number"),
    required=True,
    help=N_("As the scanner types it, or by hand: No. 012 or 12, a serial, an entry or claim number."),
)


@dataclass(frozen=True, kw_only=True)
class BeginCount(Form):
    """A count of what should be here on the day."""

    counted_by: str = ask(field_of(StockTake.counted_by), default="")
    note: str = ask(field_of(StockTake.note), default="")


@dataclass(frozen=True, kw_only=True)
class Tick(Form):
    """A thing that was seen, by what the scanner typed."""

    stock_take_id: int
    code: str = ask(CODE)
    note: str = ask(field_of(StockTakeLine.note), default="")


@dataclass(frozen=True, kw_only=True)
class Untick(Form):
    """A tick that was wrong."""

    stock_take_id: int
    code: str = ask(CODE)


@dataclass(frozen=True, kw_only=True)
class NoteUnlisted(Form):
    """Something that was met and is in no book."""

    stock_take_id: int
    what: str = ask(
        Field(N_("What was met"), required=True, help=N_("A thing without a number here, in a few words."))
    )


@dataclass(frozen=True, kw_only=True)
class EndCount(Form):
    """The end of a count."""

    stock_take_id: int


def no_count_goes_on(reading: Reading, _id: int) -> None:
    """Refuse a second count beside one that goes on."""
    going = count_going_on(reading)
    if going is not None:
        raise Refused(N_("The count {count} goes on. End it before another begins."), count=going.number)


def going(reading: Reading, stock_take_id: int) -> StockTake:
    """Give a count that goes on.

    Raises: NotFound: there is none. Refused: it has ended.
    """
    count_of(reading, stock_take_id)
    row = reading.session.get_one(StockTake, stock_take_id)
    if row.ended_on is not None:
        raise Refused(
            N_("The count {count} ended on {day}: nothing of it changes any more."),
            count=row.number,
            day=row.ended_on,
        )
    return row


def refuse_ended(reading: Reading, stock_take_id: int) -> None:
    """Refuse what belongs to a count that goes on."""
    going(reading, stock_take_id)


def _refuse_before(count: StockTake, on: date) -> None:
    if on < count.began_on:
        raise Typed(
            N_("{count} was begun on {day}: nothing of it happens before that day."),
            field="on",
            count=count.number,
            day=count.began_on,
        )


def run_begin_count(writing: Writing, form: BeginCount) -> Outcome:
    """List what should be here by its custody."""
    no_count_goes_on(writing, 0)
    count = StockTake(
        began_on=writing.on,
        counted_by=form.counted_by.strip() or form.by,
        note=form.note.strip(),
        number=writing.number("stock_take"),
    )
    writing.add(count)
    for stay_id in should_be_here(writing, writing.on):
        writing.put(StockTakeLine(stock_take_id=count.id, stay_id=stay_id, was_expected=True, note=""))
    return Outcome(Subject.STOCK_TAKE, count.id, CHANGED)


def preview_begin_count(reading: Reading, form: BeginCount) -> Preview:
    """Say how many things should be here."""
    no_count_goes_on(reading, 0)
    listed = len(should_be_here(reading, form.on))
    return Preview(
        _("To be counted"), (Line(_("Should be here"), count_words("{n} thing", "{n} things", listed)),)
    )


def _meant(reading: Reading, form: Tick | Untick) -> tuple[StockTake, int, StockTakeLine | None]:
    """Give the count, the instrument that is meant, and its line, if it has one."""
    count = going(reading, form.stock_take_id)
    _refuse_before(count, form.on)
    instrument = instrument_by_code(reading, form.code)
    # By the instrument: one that went and came back while it was counted is the same thing in another stay.
    line = reading.session.scalars(
        select(StockTakeLine)
        .join(Stay, Stay.id == StockTakeLine.stay_id)
        .where(StockTakeLine.stock_take_id == count.id, Stay.instrument_id == instrument)
        .order_by(StockTakeLine.id)
        .limit(1)
    ).first()
    return count, instrument, line


def run_tick(writing: Writing, form: Tick) -> Outcome:
    """Note that a thing was seen; one that was not expected is noted as met, with where the books have it."""
    count, instrument, line = _meant(writing, form)
    if line is None:
        stay = last_stay(writing, instrument)
        if stay is None:
            raise Refused(
                N_("{instrument} was never taken in: take it in first."),
                instrument=_named(writing, instrument),
            )
        where = elsewhere_words(writing, instrument, writing.on)
        writing.add(
            StockTakeLine(
                stock_take_id=count.id,
                stay_id=stay.id,
                was_expected=False,
                seen_at=writing.at,
                note="; ".join(part for part in (where, form.note.strip()) if part),
            )
        )
    elif line.seen_at is not None:
        raise Refused(N_("{instrument} is ticked already."), instrument=_named(writing, instrument))
    else:
        line.seen_at = writing.at
        line.note = form.note.strip() or line.note
        writing.session.flush()
    return Outcome(Subject.STOCK_TAKE, count.id, CHANGED)


def preview_tick(reading: Reading, form: Tick) -> Preview:
    """Say what the number means, and whether it was expected."""
    _count, instrument, line = _meant(reading, form)
    if line is not None and line.seen_at is not None:
        raise Refused(N_("{instrument} is ticked already."), instrument=_named(reading, instrument))
    warnings: tuple[str, ...] = ()
    if line is None:
        where = elsewhere_words(reading, instrument, form.on)
        warnings = (
            _("Not expected here; by the books it is: {where}. It is noted as met.").format(where=where),
        )
    return Preview(_("Seen"), (Line(_named(reading, instrument)),), warnings)


def run_untick(writing: Writing, form: Untick) -> Outcome:
    """Take a tick back: what should be here is not seen again, what was met without being expected is no line."""
    count, instrument, line = _meant(writing, form)
    if line is None or line.seen_at is None:
        raise Refused(N_("{instrument} is not ticked."), instrument=_named(writing, instrument))
    if line.was_expected:
        line.seen_at = None
    else:
        writing.session.delete(line)
    writing.session.flush()
    return Outcome(Subject.STOCK_TAKE, count.id, CHANGED)


def run_note_unlisted(writing: Writing, form: NoteUnlisted) -> Outcome:
    """Add a line to the note of the count."""
    count = going(writing, form.stock_take_id)
    _refuse_before(count, form.on)
    what = " ".join(form.what.split())
    if not what or len(what) > LONGEST_NOTE:
        raise Typed(
            N_("Say in a few words what was met, in {most} letters at most."), field="what", most=LONGEST_NOTE
        )
    line = _("Met, in no book: {what}").format(what=what)
    count.note = f"{count.note}\n{line}" if count.note else line
    writing.session.flush()
    return Outcome(Subject.STOCK_TAKE, count.id, CHANGED)


def run_end_count(writing: Writing, form: EndCount) -> Outcome:
    """End a count: what was not seen is missing; its paper says so."""
    from shopledger.queries.facts.stock_take import stock_take_facts

    count = going(writing, form.stock_take_id)
    _refuse_before(count, form.on)
    _say_what_left(writing, count)
    count.ended_on = writing.on
    writing.session.flush()
    facts = stock_take_facts(writing, count.id, count.number, writing.on)
    return Outcome(Subject.STOCK_TAKE, count.id, CHANGED, (leave_paper(writing, "stock_take", facts),))


def _say_what_left(writing: Writing, count: StockTake) -> None:
    """Note of what was not seen where the books have it by now, if it left while it was counted."""
    unseen = select(StockTakeLine).where(
        StockTakeLine.stock_take_id == count.id, StockTakeLine.seen_at.is_(None)
    )
    lines = {line.stay_id: line for line in writing.session.scalars(unseen)}
    here = set(should_be_here(writing, writing.on))
    for stay_id in sorted(set(lines) - here):
        instrument = writing.session.get_one(Stay, stay_id).instrument_id
        where = elsewhere_words(writing, instrument, writing.on)
        lines[stay_id].note = _("Left while it was counted; by the books: {where}").format(where=where)


def preview_end_count(reading: Reading, form: EndCount) -> Preview:
    """Say how many were seen, and name what would be missing."""
    _refuse_before(going(reading, form.stock_take_id), form.on)
    count = count_of(reading, form.stock_take_id)
    lines = (
        Line(_("Should be here"), count_words("{n} thing", "{n} things", count.expected)),
        Line(_("Seen"), count_words("{n} thing", "{n} things", len(count.seen))),
        Line(_("Met without being expected"), count_words("{n} thing", "{n} things", len(count.unexpected))),
        Line(_("Missing"), count_words("{n} thing", "{n} things", len(count.missing)), strong=True),
    )
    missing = tuple(_("Missing: {what}").format(what=line.words) for line in count.missing)
    return Preview(_("The count"), lines, missing)


def _named(reading: Reading, instrument_id: int) -> str:
    return instrument_words(reading, [instrument_id]).get(instrument_id, "")


BEGIN_COUNT = Act(
    name="begin_count",
    text=N_("Begin a count"),
    subject=Subject.SHOP,
    form=BeginCount,
    run=run_begin_count,
    allowed=no_count_goes_on,
    preview=preview_begin_count,
    opposite="end_count",
    help=N_("Lists what should be here by its custody; what is seen is ticked by scanner or number."),
)
TICK = Act(
    name="tick",
    text=N_("Tick one by its number"),
    subject=Subject.STOCK_TAKE,
    form=Tick,
    run=run_tick,
    subject_input="stock_take_id",
    allowed=refuse_ended,
    preview=preview_tick,
    opposite="untick",
)
UNTICK = Act(
    name="untick",
    text=N_("Take a tick back"),
    subject=Subject.STOCK_TAKE,
    form=Untick,
    run=run_untick,
    subject_input="stock_take_id",
    allowed=refuse_ended,
    opposite="tick",
)
NOTE_UNLISTED = Act(
    name="note_unlisted",
    text=N_("Note a thing without a number"),
    subject=Subject.STOCK_TAKE,
    form=NoteUnlisted,
    run=run_note_unlisted,
    subject_input="stock_take_id",
    allowed=refuse_ended,
    help=N_("For what was met here and is in no book."),
)
END_COUNT = Act(
    name="end_count",
    text=N_("End the count"),
    subject=Subject.STOCK_TAKE,
    form=EndCount,
    run=run_end_count,
    subject_input="stock_take_id",
    allowed=refuse_ended,
    preview=preview_end_count,
    papers=("stock_take",),
    help=N_("What was not seen is missing, and stands first on the paper."),
)
ACTS = (BEGIN_COUNT, TICK, UNTICK, NOTE_UNLISTED, END_COUNT)
