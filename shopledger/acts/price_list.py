"""The shop's price list of work: a line is added, changed, left out and offered again; estimates are filled from it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import func, select

from shopledger.acts.columns import filled, refill
from shopledger.acts.declare import Act, Form, Outcome
from shopledger.model import WorkItem, field_of
from shopledger.papers.workshop import time_words
from shopledger.quantities.errors import NotFound, Refused, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_, _
from shopledger.queries.price_list import priced_words
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.store.unit import Reading, Writing

CHANGED = frozenset({Subject.WORK})
LINE = Field(N_("Line of the price list"), Kind.WORK, required=True)


@dataclass(frozen=True, kw_only=True)
class AddWorkItem(Form):
    """Work that the shop offers at a price of its own, or by the time it usually takes."""

    work: Mapping[str, Any] = ask(Field(N_("Work"), Kind.GROUP, of=WorkItem))


@dataclass(frozen=True, kw_only=True)
class ChangeWorkItem(Form):
    """A line of the price list as it is to stand from now on."""

    work_item_id: int = ask(LINE)
    what: str = ask(Field(N_("Work"), required=True))
    for_kind: str = ask(field_of(WorkItem.for_kind), default="")
    minutes: int | None = ask(field_of(WorkItem.minutes))
    price: Money | None = ask(field_of(WorkItem.price))


@dataclass(frozen=True, kw_only=True)
class LeaveOutWorkItem(Form):
    """A line of the price list that is no longer offered."""

    work_item_id: int = ask(LINE)


@dataclass(frozen=True, kw_only=True)
class OfferWorkItem(Form):
    """A line that was left out and is offered again."""

    work_item_id: int = ask(LINE)


def work_item_of(reading: Reading, item_id: int, field: str | None = None) -> WorkItem:
    """Give a line of the price list.

    Raises: NotFound, in words.
    """
    item = reading.session.get(WorkItem, item_id)
    if item is None:
        raise NotFound(N_("There is no such line in the price list. Choose another, or add it."), field=field)
    return item


def offered_item(reading: Reading, item_id: int, field: str) -> WorkItem:
    """Give a line of the price list that is still offered.

    Raises: NotFound: there is none. Refused: it was left out.
    """
    item = work_item_of(reading, item_id, field)
    if item.left_out_on is not None:
        raise Refused(
            N_("“{what}” was left out of the price list on {day}. Add it again, or write the line yourself."),
            field=field,
            what=item.what,
            day=item.left_out_on,
        )
    return item


def _called(reading: Reading, what: str) -> WorkItem | None:
    """Give the line that is called so, however its letters are written and whether it is still offered or not."""
    return reading.session.scalars(
        select(WorkItem).where(func.lower(WorkItem.what) == what.strip().lower())
    ).first()


def _refuse_twice(other: WorkItem, field: str) -> Refused:
    return Refused(
        N_("“{what}” is in the price list already. Change that line, or call this one otherwise."),
        field=field,
        what=other.what,
    )


def run_add_work_item(writing: Writing, form: AddWorkItem) -> Outcome:
    """Add a line; one of that name that was left out is offered again, as it is written now."""
    values = {**form.work, "what": str(form.work.get("what") or "").strip()}
    known = _called(writing, values["what"])
    if known is None:
        item = filled(WorkItem, values, writing.currency, path="work")
        _need_price(item, "work.price")
        writing.add(item)
        return Outcome(Subject.WORK, item.id, CHANGED)
    if known.left_out_on is None:
        raise _refuse_twice(known, "work.what")
    refill(known, values, writing.currency, path="work")
    _need_price(known, "work.price")
    known.left_out_on = None
    writing.session.flush()
    return Outcome(Subject.WORK, known.id, CHANGED)


def _need_price(item: WorkItem, field: str) -> None:
    """Refuse a line that nobody could reckon.

    Raises: Typed: it has neither price nor time.
    """
    if item.price is None and not item.minutes:
        raise Typed(
            N_("“{what}” needs a price, or the time that it usually takes."), field=field, what=item.what
        )


def _anew(reading: Reading, form: ChangeWorkItem) -> Mapping[str, Any]:
    """Give what a form writes anew, by column.

    Raises: NotFound: there is no such line. Refused: another is called so, or it is no longer offered.
    """
    item = offered_item(reading, form.work_item_id, "work_item_id")
    other = _called(reading, form.what)
    if other is not None and other.id != item.id:
        raise _refuse_twice(other, "what")
    return {
        "what": form.what.strip(),
        "for_kind": form.for_kind.strip(),
        "minutes": form.minutes or None,
        "price": form.price,
    }


def run_change_work_item(writing: Writing, form: ChangeWorkItem) -> Outcome:
    """Write a line anew; estimates made before stay as they were."""
    anew = _anew(writing, form)
    item = work_item_of(writing, form.work_item_id)
    refill(item, anew, writing.currency, path="")
    _need_price(item, "price")
    writing.session.flush()
    return Outcome(Subject.WORK, item.id, CHANGED)


def prefill_change_work_item(reading: Reading, item_id: int) -> Mapping[str, Any]:
    """Give the line as it stands."""
    item = work_item_of(reading, item_id)
    price = None if item.price is None else reading.money(item.price)
    return {"what": item.what, "for_kind": item.for_kind, "minutes": item.minutes, "price": price}


def preview_change_work_item(reading: Reading, form: ChangeWorkItem) -> Preview:
    """Say how the line stands now and how it would."""
    item = work_item_of(reading, form.work_item_id, "work_item_id")
    anew = _anew(reading, form)
    then = WorkItem(**{**anew, "price": None if form.price is None else form.price.minor})
    _need_price(then, "price")
    now, new = (_item_words(reading, one) for one in (item, then))
    return Preview(item.what, (Line(_("Until now"), now), Line(_("From now on"), new)))


def _item_words(reading: Reading, item: WorkItem) -> str:
    time = time_words(item.minutes) if item.minutes else ""
    return ", ".join(part for part in (item.what, item.for_kind, time, priced_words(reading, item)) if part)


def run_leave_out_work_item(writing: Writing, form: LeaveOutWorkItem) -> Outcome:
    """Leave a line out of the price list; it stays on record for what was estimated by it."""
    item = offered_item(writing, form.work_item_id, "work_item_id")
    item.left_out_on = writing.on
    writing.session.flush()
    return Outcome(Subject.WORK, item.id, CHANGED)


def run_offer_work_item(writing: Writing, form: OfferWorkItem) -> Outcome:
    """Offer a line again as it stood when it was left out."""
    refuse_offered(writing, form.work_item_id)
    item = work_item_of(writing, form.work_item_id)
    item.left_out_on = None
    writing.session.flush()
    return Outcome(Subject.WORK, item.id, CHANGED)


def refuse_left_out(reading: Reading, item_id: int) -> None:
    """Refuse to change or leave out a line that is no longer offered."""
    offered_item(reading, item_id, "work_item_id")


def refuse_offered(reading: Reading, item_id: int) -> None:
    """Refuse to offer a line again that is offered."""
    item = work_item_of(reading, item_id, "work_item_id")
    if item.left_out_on is None:
        raise Refused(
            N_("“{what}” stands in the price list: there is nothing to offer again."),
            field="work_item_id",
            what=item.what,
        )


ADD_WORK_ITEM = Act(
    name="add_work_item",
    text=N_("Add to the price list of work"),
    subject=Subject.SHOP,
    form=AddWorkItem,
    run=run_add_work_item,
    opposite="leave_out_work_item",
    help=N_("Such as a new bridge: at a price, or by its usual time. An estimate takes it from there."),
)
CHANGE_WORK_ITEM = Act(
    name="change_work_item",
    text=N_("Change this line"),
    subject=Subject.WORK,
    form=ChangeWorkItem,
    run=run_change_work_item,
    subject_input="work_item_id",
    allowed=refuse_left_out,
    prefill=prefill_change_work_item,
    preview=preview_change_work_item,
)
LEAVE_OUT_WORK_ITEM = Act(
    name="leave_out_work_item",
    text=N_("Leave out of the price list"),
    subject=Subject.WORK,
    form=LeaveOutWorkItem,
    run=run_leave_out_work_item,
    subject_input="work_item_id",
    allowed=refuse_left_out,
    opposite="offer_work_item",
)
OFFER_WORK_ITEM = Act(
    name="offer_work_item",
    text=N_("Offer it again"),
    subject=Subject.WORK,
    form=OfferWorkItem,
    run=run_offer_work_item,
    subject_input="work_item_id",
    allowed=refuse_offered,
    opposite="leave_out_work_item",
)
ACTS = (ADD_WORK_ITEM, CHANGE_WORK_ITEM, LEAVE_OUT_WORK_ITEM, OFFER_WORK_ITEM)
