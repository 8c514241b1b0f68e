"""Selling what nobody collected for what is owed for the work: the costs and what is due are kept, the rest is held."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import select

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.opening import going_job
from shopledger.acts.owning import WHOLE, Share, owners_now, record_owners, shop_person
from shopledger.acts.papers import leave_paper
from shopledger.acts.paying import above_zero, falls_on, record_payment
from shopledger.acts.people import person_of, record_person
from shopledger.acts.releasing import end_stay
from shopledger.acts.reminding import waiting_job
from shopledger.model import Job, LienSale, Payment, Person, Sale, Settlement, SettlementShare, Stay
from shopledger.papers.workshop import UNCOLLECTED
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.money import Money, share_out
from shopledger.quantities.words import N_, _
from shopledger.queries.facts.jobs import bill_standing
from shopledger.queries.owing import SaleMoney, sale_money
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.rules.journal import Amount
from shopledger.rules.uncollected import REMINDER_DAYS, LienSplit, lien_split
from shopledger.store.unit import Reading, Writing

CHANGED = frozenset(
    {Subject.JOB, Subject.INSTRUMENT, Subject.PERSON, Subject.SALE, Subject.ENTRY, Subject.ACCOUNT}
)


@dataclass(frozen=True, kw_only=True)
class SellForLien(Form):
    """It was never collected, and is sold for what is owed; the price has arrived."""

    job_id: int
    price: Money = ask(Field(N_("Price"), Kind.MONEY, required=True))
    costs: Money | None = ask(
        Field(N_("Costs of the sale"), Kind.MONEY, help=N_("Notices, an auctioneer; they come off first."))
    )
    sold_to: str = ask(Field(N_("Sold to"), required=True, personal=True))
    buyer_id: int | None = ask(
        Field(
            N_("Buyer, if known"),
            Kind.PERSON,
            help=N_("Empty: whoever has that name, else they are added to the people."),
        )
    )
    by_what_right: str = ask(
        Field(
            N_("By what right"),
            Kind.LINES,
            required=True,
            help=N_("The law, the notices given, the waiting time."),
        )
    )


@dataclass(frozen=True, slots=True)
class ReadySale:
    """A sale for what is owed that can be made."""

    job: Job
    stay: Stay
    sale: Sale
    money: SaleMoney
    letters: int
    owners: tuple[Share, ...]
    price: Money
    costs: Money
    split: LienSplit
    buyer: Person | None


def owing_job(reading: Reading, job_id: int) -> tuple[Job, Sale, SaleMoney, int]:
    """Give an uncollected job with its invoice, what is owed on it, and how many letters went out.

    Raises: NotFound: there is none. Refused: it isn't waiting, or its client owes nothing for it.
    """
    going_job(reading, job_id)
    waiting = waiting_job(reading, job_id)
    job = waiting.job
    bill = bill_standing(reading, job.id)
    money = None if bill is None or bill.sale_id is None else sale_money(reading, bill.sale_id)
    if money is None or money.owes.minor <= 0:
        raise Refused(
            N_("Nothing is owed for the job {job}: what it is about can't be sold for that."), job=job.number
        )
    sale = reading.session.get_one(Sale, money.sale_id)
    if money.uncleared.minor:
        raise Refused(
            N_("A payment on {sale} has not cleared. Record that it cleared or came back first."),
            sale=sale.number,
        )
    if any(share.person_id == shop_person(reading) for share in owners_now(reading, job.instrument_id)):
        raise Refused(
            N_("The shop owns part of what the job {job} is about: it can't be sold for what is owed to it."),
            job=job.number,
        )
    return job, sale, money, len(waiting.sent)


def _ready(reading: Reading, form: SellForLien) -> ReadySale:
    job, sale, money, letters = owing_job(reading, form.job_id)
    assert job.ready_on is not None
    if form.on < job.ready_on:
        raise Typed(
            N_("The job {job} was ready on {day}: it can't have been sold for what is owed before."),
            field="on",
            job=job.number,
            day=job.ready_on,
        )
    above_zero(form.price, reading.currency, "price")
    if not form.sold_to.strip():
        raise Typed(N_("To whom was it sold? Write the name."), field="sold_to")
    if not form.by_what_right.strip():
        raise Typed(
            N_("By what right is it sold? Write the law, the notices given and the waiting time."),
            field="by_what_right",
        )
    costs = form.costs or reading.money(0)
    if costs.minor < 0:
        raise Typed(N_("The costs can't be below zero."), field="costs")
    return ReadySale(
        job=job,
        stay=reading.session.get_one(Stay, job.stay_id),
        sale=sale,
        money=money,
        letters=letters,
        owners=owners_now(reading, job.instrument_id),
        price=form.price,
        costs=costs,
        split=lien_split(form.price, money.owes, costs),
        buyer=_buyer(reading, form),
    )


def _buyer(reading: Reading, form: SellForLien) -> Person | None:
    """Give the buyer's record; None where it is still to be written.

    Raises: NotFound, Typed: they are not there, or several have that name.
    """
    if form.buyer_id is not None:
        return person_of(reading, form.buyer_id, "buyer_id")
    named = reading.session.scalars(select(Person).where(Person.name == form.sold_to.strip()).limit(2)).all()
    if len(named) > 1:
        raise Typed(N_("Several people have that name: choose the buyer among them."), field="buyer_id")
    return named[0] if named else None


def run_sell_for_lien(writing: Writing, form: SellForLien) -> Outcome:
    """Sell it: what is owed is covered as far as the price goes, the rest is set aside, the buyer owns it."""
    from shopledger.queries.facts.lien_sale import lien_sale_facts

    ready = _ready(writing, form)
    job, split = ready.job, ready.split
    buyer = ready.buyer or record_person(writing, {"name": form.sold_to.strip()})
    parts = share_out(split.surplus.minor, [share.share for share in ready.owners])
    number = writing.number("settlement") if split.surplus else ""
    entry = _book(writing, ready, parts, number)
    writing.add(
        LienSale(
            job_id=job.id,
            sold_on=writing.on,
            sold_to=form.sold_to,
            price=ready.price.minor,
            due=ready.money.owes.minor,
            costs=ready.costs.minor,
            surplus=split.surplus.minor,
            by_what_right=form.by_what_right,
            entry_id=entry,
        )
    )
    if split.to_shop and entry is not None:
        _cover(writing, ready, entry)
    if number and entry is not None:
        _set_aside(writing, ready, parts, number, entry)
    job.ended_on, job.ending, job.handed_to = writing.on, "lien", form.sold_to
    record_owners(
        writing, job.instrument_id, [Share(buyer.id, WHOLE)], how=f"sold for what was owed, {job.number}"
    )
    end_stay(writing, ready.stay, "sold", place="handed_over", handed_to=form.sold_to)
    facts = lien_sale_facts(writing, job.id, writing.number("lien"), writing.on)
    paper = leave_paper(
        writing,
        "lien_sale",
        facts,
        instrument_id=job.instrument_id,
        person_id=ready.owners[0].person_id,
        sale_id=ready.sale.id,
        job_id=job.id,
    )
    return Outcome(Subject.JOB, job.id, CHANGED, (paper,))


def _book(writing: Writing, ready: ReadySale, parts: Sequence[int], number: str) -> int | None:
    """Book what came in less what was spent: to the shop, and for the owners what is theirs."""
    split = ready.split
    if ready.price == ready.costs:
        return None
    amounts = [
        Amount("bank", (ready.price - ready.costs - split.surplus).minor),
        Amount("bank_owners", split.surplus.minor),
        Amount("selling_costs", split.costs_left.minor),
        Amount("buyers", -split.to_shop.minor, ready.sale.buyer_id),
        *(
            Amount("owners_held", -part, share.person_id)
            for share, part in zip(ready.owners, parts, strict=True)
        ),
    ]
    source = f"{ready.job.number} sold for what was owed"
    return writing.book(amounts, f"{source} {number}".strip())


def _cover(writing: Writing, ready: ReadySale, entry: int) -> None:
    """Record that the invoice is covered by the sale, as far as it goes."""
    minor = ready.split.to_shop.minor
    record_payment(
        writing,
        Payment(
            person_id=ready.sale.buyer_id,
            sale_id=ready.sale.id,
            job_id=ready.job.id,
            method="lien",
            minor=minor,
            received_on=writing.on,
            cleared_on=writing.on,
            reference=ready.job.number,
            entry_id=entry,
            cleared_entry_id=entry,
        ),
        falls_on(ready.money.lines, minor),
    )


def _set_aside(writing: Writing, ready: ReadySale, parts: Sequence[int], number: str, entry: int) -> None:
    """Set the surplus aside for its owners, to be paid out like what a sale brought them."""
    settlement = writing.add(
        Settlement(number=number, job_id=ready.job.id, settled_on=writing.on, entry_id=entry)
    )
    for share, part in zip(ready.owners, parts, strict=True):
        if part:
            writing.add(
                SettlementShare(settlement_id=settlement.id, person_id=share.person_id, minor=part, set_off=0)
            )


def preview_sell_for_lien(reading: Reading, form: SellForLien) -> Preview:
    """Say what the price goes to, who the buyer is, and what was done before."""
    ready = _ready(reading, form)
    split, due = ready.split, ready.money.owes
    lines = [Line(_("Price"), amount=ready.price), Line(_("Costs of the sale"), amount=-ready.costs)]
    if split.costs_left:
        lines.append(Line(_("Costs above the price"), _("borne by the shop"), split.costs_left))
    lines.append(Line(_("Owed for the work"), ready.sale.number, -split.to_shop))
    lines.append(Line(_("Left for the owner"), amount=split.surplus, strong=True))
    if due > split.to_shop:
        lines.append(Line(_("Still owed"), ready.sale.number, due - split.to_shop))
    if ready.buyer is None:
        lines.append(Line(_("Buyer"), _("{name}, added to the people").format(name=form.sold_to)))
    else:
        lines.append(Line(_("Buyer"), f"{ready.buyer.name}, {ready.buyer.number}"))
    warnings = [_(UNCOLLECTED)]
    if ready.letters < len(REMINDER_DAYS):
        warnings.insert(0, _("Not all letters that remind went out."))
    return Preview(ready.job.number, tuple(lines), tuple(warnings))


def refuse_no_lien(reading: Reading, job_id: int) -> None:
    """Refuse to sell for what is owed where nothing waits, or nothing is owed."""
    owing_job(reading, job_id)


SELL_FOR_LIEN = Act(
    name="sell_for_lien",
    text=N_("Sell for what is owed"),
    subject=Subject.JOB,
    form=SellForLien,
    run=run_sell_for_lien,
    subject_input="job_id",
    allowed=refuse_no_lien,
    preview=preview_sell_for_lien,
    help=N_("Whether and how that is allowed differs by place and changes: ask a lawyer before."),
    papers=("lien_sale",),
)
ACTS = (SELL_FOR_LIEN,)
