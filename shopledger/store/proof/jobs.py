"""Jobs proved: a bill agrees with its lines, its sale, its charges, its cost and the journal, once each."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from sqlalchemy import func, select

from shopledger.model import (
    Agreement,
    Charge,
    Entry,
    GoodsIn,
    GoodsOut,
    Job,
    JobBill,
    JobBillLine,
    JobService,
    Sale,
    SaleLine,
    Terms,
    TermsOwner,
    WorkTime,
)
from shopledger.quantities.words import N_
from shopledger.rules.billing import repair_shares
from shopledger.rules.terms import Bearer, OwnerShare
from shopledger.store.proof.finding import Amounts, Proof, summed

POSTED = N_("{bill}: the journal has {posted}, by the record it would be {wanted}.")
FREE = ("shop", "warranty")
Borne = Mapping[int, tuple[int, int]]
"""What each owner bears of a repair by person: net and tax, those who bear nothing left out."""


@dataclass(slots=True)
class _Work:
    """What was spent on a job by its records."""

    parts: int = 0
    services: int = 0
    minutes: int = 0


@dataclass(slots=True)
class _Sold:
    """What the work comes to on an invoice; how many of its lines stand, and how many came back."""

    price: int = 0
    tax: int = 0
    standing: int = 0
    returned: int = 0


@dataclass(slots=True)
class _Known:
    """What bills are compared with, put together once."""

    work: dict[int, _Work] = field(default_factory=lambda: defaultdict(_Work))
    lines: Mapping[int, int] = field(default_factory=dict)
    sold: dict[int, _Sold] = field(default_factory=lambda: defaultdict(_Sold))
    job_of_sale: Mapping[int, int] = field(default_factory=dict)
    charged: dict[int, dict[int, tuple[int, int]]] = field(default_factory=lambda: defaultdict(dict))
    terms: dict[int, list[tuple[str, list[tuple[int, Fraction]]]]] = field(
        default_factory=lambda: defaultdict(list)
    )
    posted: Mapping[int, Amounts] = field(default_factory=dict)
    reversed_: frozenset[int] = frozenset()
    job_of: Mapping[int, Any] = field(default_factory=dict)


def prove_jobs(proof: Proof) -> None:
    """Go through every bill of every job, and what jobs left in the accounts of parts and services."""
    known = _known(proof)
    billed: set[int] = set()
    moved = _Work()
    owners_pay: set[int] = set()
    columns = JobBill.__table__.c
    for bill in proof.rows(select(*columns).order_by(JobBill.id)):
        job = known.job_of[bill.job_id]
        where = f"{job.number} bill {bill.id}"
        stands = bill.taken_back_on is None
        _prove_fits(proof, where, bill, job, known)
        _prove_sums(proof, where, bill, known)
        if bill.sale_id is not None:
            billed.add(bill.sale_id)
            _prove_sale(proof, where, bill, known)
        if bill.entry_id is not None:
            _prove_into_cost(proof, where, bill, known)
            if stands:
                moved.parts += known.work[bill.job_id].parts
                moved.services += known.work[bill.job_id].services
        if stands and bill.bill_to == "owner":
            owners_pay.add(bill.job_id)
            _prove_charges(proof, where, bill, job, known)
    for job_id in sorted(known.charged.keys() - owners_pay):
        number = known.job_of[job_id].number
        proof.wrong("job", number, N_("{job}: owners are charged, but no bill charges them."), job=number)
    for sale_id in sorted(known.job_of_sale.keys() - billed):
        number = known.job_of[known.job_of_sale[sale_id]].number
        proof.wrong("job", number, N_("{job}: there is an invoice without its bill."), job=number)
    _prove_accounts(proof, moved, _prove_services(proof, known))


def _known(proof: Proof) -> _Known:
    known = _Known()
    known.job_of = {
        row.id: row
        for row in proof.rows(
            select(
                Job.id,
                Job.number,
                Job.stay_id,
                Job.instrument_id,
                Job.earlier_job_id,
                Job.ended_on,
                Job.ending,
            )
        )
    }
    known.reversed_ = frozenset(
        proof.connection.scalars(select(Entry.reverses).where(Entry.reverses.is_not(None)))
    )
    for name, question in (
        ("parts", select(GoodsOut.job_id, func.sum(GoodsOut.cost)).where(GoodsOut.into_id.is_(None))),
        ("services", select(JobService.job_id, func.sum(JobService.cost))),
        ("minutes", select(WorkTime.job_id, func.sum(WorkTime.minutes))),
    ):
        of_job = question.selected_columns[0]
        for job_id, sum_ in proof.rows(question.where(of_job.is_not(None)).group_by(of_job)):
            setattr(known.work[job_id], name, int(sum_ or 0))
    known.lines = proof.pairs(
        select(JobBillLine.bill_id, func.sum(JobBillLine.minor)).group_by(JobBillLine.bill_id)
    )
    sales = (
        select(SaleLine.sale_id, Sale.job_id, SaleLine.price, SaleLine.sales_tax, SaleLine.returned_on)
        .join(Sale, Sale.id == SaleLine.sale_id)
        .where(Sale.job_id.is_not(None), SaleLine.kind == "work")
    )
    for sale_id, _job_id, price, tax, returned_on in proof.rows(sales):
        sold = known.sold[sale_id]
        sold.price, sold.tax = sold.price + price, sold.tax + tax
        if returned_on is None:
            sold.standing += 1
        else:
            sold.returned += 1
    known.job_of_sale = proof.pairs(select(Sale.id, Sale.job_id).where(Sale.job_id.is_not(None)))
    known.posted = proof.posted(JobBill.id, JobBill.entry_id)
    _read_charges(proof, known)
    return known


def _read_charges(proof: Proof, known: _Known) -> None:
    """Read what owners are charged with for jobs, net and tax as their entries have it, and the terms it can be by."""
    posted = proof.posted(Charge.id, Charge.entry_id, Charge.kind == "repair")
    columns = Charge.__table__.c
    for charge in proof.rows(select(*columns).where(Charge.kind == "repair").order_by(Charge.id)):
        there = dict(posted.get(charge.id, {}))
        net, tax = (-there.pop((code, None), 0) for code in ("goods_sales", "sales_tax"))
        fits = (
            charge.job_id in known.job_of
            and there == {("owners_owe", charge.person_id): charge.minor}
            and charge.stay_id == known.job_of[charge.job_id].stay_id
        )
        if not fits:
            proof.wrong(
                "job",
                charge.number,
                N_("{charge} charges for a repair, but names no job of that stay, or was booked otherwise."),
                charge=charge.number,
            )
        elif charge.entry_id not in known.reversed_:
            before = known.charged[charge.job_id].get(charge.person_id, (0, 0))
            known.charged[charge.job_id][charge.person_id] = (before[0] + net, before[1] + tax)
    owners: dict[int, list[tuple[int, Fraction]]] = defaultdict(list)
    for terms_id, person_id, share in proof.rows(
        select(TermsOwner.terms_id, TermsOwner.person_id, TermsOwner.share).order_by(TermsOwner.n)
    ):
        owners[terms_id].append((person_id, share))
    agreed = select(Terms.id, Terms.repairs_borne_by, Agreement.stay_id).join(
        Agreement, Agreement.id == Terms.agreement_id
    )
    for terms_id, borne_by, stay_id in proof.rows(agreed):
        known.terms[stay_id].append((borne_by, owners[terms_id]))


def _prove_fits(proof: Proof, where: str, bill: Any, job: Any, known: _Known) -> None:
    """Compare who pays with what there is: an invoice for a client, nothing to pay under warranty or by the shop."""
    earlier = known.job_of.get(job.earlier_job_id)
    fits = (
        (bill.sale_id is not None) == (bill.bill_to == "client")
        and (bill.entry_id is None or bill.bill_to == "shop")
        and (bill.bill_to not in FREE or not (bill.net or bill.tax))
        and (
            bill.bill_to != "warranty"
            or bill.taken_back_on is not None
            or (earlier is not None and earlier.instrument_id == job.instrument_id and earlier.id < job.id)
        )
    )
    if not fits:
        proof.wrong(
            "job", where, N_("{bill} doesn't fit who pays for it: {who}."), bill=where, who=str(bill.bill_to)
        )


def _prove_sums(proof: Proof, where: str, bill: Any, known: _Known) -> None:
    """Compare a bill with its lines, and while it stands with what was spent on its job."""
    lines = int(known.lines.get(bill.id, 0))
    if lines != bill.net:
        proof.wrong(
            "job",
            where,
            N_("{bill}: its lines come to {lines}, the net is {net}."),
            bill=where,
            lines=proof.money(lines),
            net=proof.money(bill.net),
        )
    work = known.work[bill.job_id]
    cost = work.parts + work.services
    if bill.taken_back_on is None and (bill.cost, bill.minutes) != (cost, work.minutes):
        proof.wrong(
            "job",
            where,
            N_("{bill}: it says {cost} and {minutes} min, the job's records say {spent} and {worked} min."),
            bill=where,
            cost=proof.money(bill.cost),
            minutes=bill.minutes,
            spent=proof.money(cost),
            worked=work.minutes,
        )


def _prove_sale(proof: Proof, where: str, bill: Any, known: _Known) -> None:
    """Compare a bill with the work on its invoice, which stands as long as the bill does."""
    sold = known.sold[bill.sale_id]
    left = sold.returned if bill.taken_back_on is None else sold.standing
    if (
        (sold.price, sold.tax) != (bill.net, bill.tax)
        or left
        or known.job_of_sale.get(bill.sale_id) != bill.job_id
    ):
        proof.wrong(
            "job",
            where,
            N_("{bill}: {net} and {tax} of tax, on its invoice the work is {price} and {sales_tax}."),
            bill=where,
            net=proof.money(bill.net),
            tax=proof.money(bill.tax),
            price=proof.money(sold.price),
            sales_tax=proof.money(sold.tax),
        )


def _prove_into_cost(proof: Proof, where: str, bill: Any, known: _Known) -> None:
    """Compare what became part of an instrument's cost with the entry, reversed where the bill was taken back."""
    posted = known.posted.get(bill.id, {})
    work = known.work[bill.job_id]
    if bill.taken_back_on is None:
        wanted = summed(
            ("stock", None, bill.cost), ("goods_used", None, -work.parts), ("services", None, -work.services)
        )
    else:  # what was spent may have changed since
        wanted = posted if posted.get(("stock", None)) == bill.cost else summed(("stock", None, bill.cost))
    if posted != wanted or (bill.entry_id in known.reversed_) != (bill.taken_back_on is not None):
        proof.wrong("job", where, POSTED, bill=where, posted=proof.told(posted), wanted=proof.told(wanted))


def _prove_charges(proof: Proof, where: str, bill: Any, job: Any, known: _Known) -> None:
    """Compare what owners are charged with what they bear of the bill by terms that were agreed on that stay."""
    charged = {person: parts for person, parts in known.charged.get(bill.job_id, {}).items() if any(parts)}
    by_terms = [_borne(proof, bill, *each) for each in known.terms[job.stay_id]]
    if charged not in by_terms:
        proof.wrong(
            "job",
            where,
            N_("{bill}: owners are charged {charged}, by no terms agreed do they bear that of {total}."),
            bill=where,
            charged=proof.money(sum(net + tax for net, tax in charged.values())),
            total=proof.money(bill.net + bill.tax),
        )


def _borne(proof: Proof, bill: Any, borne_by: str, owners: Sequence[tuple[int, Fraction]]) -> Borne:
    shares = repair_shares(
        proof.money(bill.net),
        proof.money(bill.tax),
        Bearer(borne_by),
        [OwnerShare(proof.person(person_id), share) for person_id, share in owners],
    )
    return {
        person_id: (each.net.minor, each.tax.minor)
        for (person_id, _share), each in zip(owners, shares, strict=True)
        if each.amount and person_id != proof.shop_person
    }


def _prove_services(proof: Proof, known: _Known) -> int:
    """Compare each service bought in with its entry; give what all of them cost."""
    posted = proof.posted(JobService.id, JobService.entry_id)
    columns = JobService.__table__.c
    cost = 0
    for service in proof.rows(select(*columns).order_by(JobService.id)):
        cost += service.cost
        there = posted.get(service.id, {})
        minor = service.cost or there.get(
            ("services", None), 0
        )  # one that was given back costs nothing any more
        wanted = summed(("services", None, minor), ("bank", None, -minor))
        if there != wanted or (service.entry_id in known.reversed_) != (not service.cost):
            where = f"{known.job_of[service.job_id].number} service {service.id}"
            proof.wrong("job", where, POSTED, bill=where, posted=proof.told(there), wanted=proof.told(wanted))
    return cost


def _prove_accounts(proof: Proof, moved: _Work, services: int) -> None:
    """Compare what the accounts of parts and services have with the jobs, less what became an instrument's cost."""

    def whole(question: Any) -> int:
        return int(proof.connection.execute(question).scalar() or 0)

    gone = select(func.sum(GoodsOut.cost)).where(GoodsOut.went_by != "altered", GoodsOut.into_id.is_(None))
    found = select(func.sum(GoodsIn.cost)).where(GoodsIn.came_by == "counted")
    for account, words, wanted in (
        (
            "goods_used",
            N_("The account of parts used has {posted}, by what went it would be {wanted}."),
            whole(gone) - whole(found) - moved.parts,
        ),
        (
            "services",
            N_("The account of services has {posted}, by the jobs it would be {wanted}."),
            services - moved.services,
        ),
    ):
        posted = proof.balance(account)
        if posted != wanted:
            proof.wrong("job", account, words, posted=proof.money(posted), wanted=proof.money(wanted))
