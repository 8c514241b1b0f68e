"""Parts used in a job, booked at once at what they cost first in first out; and parts put back at that same cost."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import select

from shopledger.acts import lots
from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.lots import Lots, bring_back, goods_of, take_from, write_takes
from shopledger.acts.opening import job_in_work
from shopledger.acts.working import check_day, job_to_work_on, refuse_no_work_on, work_begins
from shopledger.model import Goods, GoodsIn, GoodsOut
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.words import N_, _
from shopledger.queries.lots import parts_used
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.rules.first_in import cost_of, part_of
from shopledger.rules.journal import Amount
from shopledger.store.unit import Reading, Writing

CHANGED = lots.CHANGED | {Subject.JOB}


@dataclass(frozen=True, kw_only=True)
class UsePart(Form):
    """A part goes into a job."""

    job_id: int
    goods_id: int = ask(Field(N_("Part"), Kind.GOODS, required=True))
    quantity: int = ask(Field(N_("Quantity"), Kind.COUNT), default=1)


@dataclass(frozen=True, kw_only=True)
class PutPartBack(Form):
    """A part that was written down for a job goes back into its drawer."""

    job_id: int
    goods_id: int = ask(Field(N_("Part"), Kind.GOODS, required=True))
    quantity: int = ask(Field(N_("Quantity"), Kind.COUNT), default=1)


def run_use_part(writing: Writing, form: UsePart) -> Outcome:
    """Take parts into a job and book what they cost; work that was agreed has begun with that."""
    job = job_to_work_on(writing, form.job_id)
    check_day(job, writing.on)
    goods = goods_of(writing, form.goods_id, "goods_id")
    takes = take_from(writing, {}, goods, form.quantity, form.on)
    cost = cost_of(takes)
    entry = None
    if cost:
        entry = writing.book(
            [Amount("goods_used", cost), Amount("goods", -cost)], f"{job.number} {goods.number}"
        )
    write_takes(writing, takes, "job", entry_id=entry, job_id=job.id)
    work_begins(writing, job)
    writing.session.flush()
    return Outcome(Subject.JOB, job.id, CHANGED)


def preview_use_part(reading: Reading, form: UsePart) -> Preview:
    """Say what the parts cost the shop, and what it asks for them."""
    goods = goods_of(reading, form.goods_id, "goods_id")
    kept: Lots = {}
    takes = take_from(reading, kept, goods, form.quantity, form.on)
    lines = [Line(_("They cost the shop"), amount=reading.money(cost_of(takes)))]
    if goods.price is not None:
        lines.append(
            Line(_("The shop asks for them"), amount=reading.money(goods.price * form.quantity), strong=True)
        )
    return Preview(goods.what, tuple(lines))


def run_put_part_back(writing: Writing, form: PutPartBack) -> Outcome:
    """Put parts of a job back, those taken last first, each at what it went at."""
    job = job_in_work(writing, form.job_id)
    goods = goods_of(writing, form.goods_id, "goods_id")
    if form.quantity < 1:
        raise Typed(N_("The quantity is at least 1."), field="quantity")
    gone = _newest_first(writing, job.id, goods.id)
    in_job = sum(out.quantity for out in gone)
    if form.quantity > in_job:
        raise Refused(
            N_("The job {job} has {there} of {goods}: put back that many or fewer."),
            field="quantity",
            job=job.number,
            there=in_job,
            goods=_named(goods),
        )
    back = _last(writing, gone, form.quantity)
    cost = sum(out.cost for out in back)
    entry = None
    if cost:
        entry = writing.book(
            [Amount("goods", cost), Amount("goods_used", -cost)], f"{job.number} {goods.number} put back"
        )
    bring_back(writing, back, entry)
    return Outcome(Subject.JOB, job.id, CHANGED)


def _named(goods: Goods) -> str:
    return f"{goods.what} ({goods.number})"


def _newest_first(writing: Writing, job_id: int, goods_id: int) -> list[GoodsOut]:
    return list(
        writing.session.scalars(
            select(GoodsOut)
            .join(GoodsIn, GoodsIn.id == GoodsOut.goods_in_id)
            .where(GoodsOut.job_id == job_id, GoodsOut.into_id.is_(None), GoodsIn.goods_id == goods_id)
            .order_by(GoodsOut.id.desc())
        )
    )


def _last(writing: Writing, gone: list[GoodsOut], quantity: int) -> list[GoodsOut]:
    """Give the records of the last so many; a record of which only some go back is parted in two."""
    back = []
    for out in gone:
        if not quantity:
            break
        if out.quantity > quantity:
            cost = part_of(out.cost, out.quantity, quantity)
            parted = GoodsOut(
                goods_in_id=out.goods_in_id,
                went_on=out.went_on,
                went_by=out.went_by,
                quantity=quantity,
                cost=cost,
                job_id=out.job_id,
                entry_id=out.entry_id,
            )
            out.quantity, out.cost = out.quantity - quantity, out.cost - cost
            out = writing.add(parted)
        quantity -= out.quantity
        back.append(out)
    return back


def refuse_none_used(reading: Reading, job_id: int) -> None:
    """Refuse to put parts back where the job used none."""
    job = job_in_work(reading, job_id)
    if not parts_used(reading, job.id):
        raise Refused(N_("The job {job} has used no parts."), job=job.number)


USE_PART = Act(
    name="use_part",
    text=N_("Use a part"),
    subject=Subject.JOB,
    form=UsePart,
    run=run_use_part,
    subject_input="job_id",
    allowed=refuse_no_work_on,
    preview=preview_use_part,
    opposite="put_part_back",
)
PUT_PART_BACK = Act(
    name="put_part_back",
    text=N_("Put a part back"),
    subject=Subject.JOB,
    form=PutPartBack,
    run=run_put_part_back,
    subject_input="job_id",
    allowed=refuse_none_used,
    opposite="use_part",
)
ACTS = (USE_PART, PUT_PART_BACK)
