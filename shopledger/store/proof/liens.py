"""The ends of jobs proved: each agrees with its stay, and a sale for what was owed was shared out as recorded."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sqlalchemy import exists, func, select

from shopledger.model import (
    Job,
    JobBill,
    LienSale,
    Payment,
    Sale,
    SaleLine,
    Settlement,
    SettlementShare,
    Stay,
)
from shopledger.quantities.words import N_
from shopledger.rules.uncollected import lien_split
from shopledger.store.proof.finding import Proof, summed


def prove_ends_of_jobs(proof: Proof) -> None:
    """Go through the jobs that ended, and through every sale for what was owed."""
    sold = {row.job_id: row for row in proof.rows(select(*LienSale.__table__.c).order_by(LienSale.id))}
    jobs = (
        select(
            Job.id,
            Job.number,
            Job.ended_on,
            Job.ending,
            Job.handed_to,
            Stay.ended_on.label("left_on"),
            Stay.ending.label("left_how"),
            (Stay.instrument_id == Job.instrument_id).label("is_its"),
            exists()
            .where(SaleLine.stay_id == Stay.id, SaleLine.returned_on.is_not(None))
            .label("was_taken_back"),
        )
        .join(Stay, Stay.id == Job.stay_id)
        .order_by(Job.id)
    )
    posted = proof.posted(LienSale.job_id, LienSale.entry_id)
    covered = proof.pairs(
        select(Payment.job_id, func.sum(Payment.minor))
        .where(Payment.method == "lien", Payment.bounced_on.is_(None))
        .group_by(Payment.job_id)
    )
    buyers = proof.pairs(
        select(JobBill.job_id, Sale.buyer_id)
        .join(Sale, Sale.id == JobBill.sale_id)
        .where(JobBill.taken_back_on.is_(None))
    )
    held = _held(proof)
    for job in proof.rows(jobs):
        if (job.ended_on is None) != (job.ending is None) or (job.id in sold) != (job.ending == "lien"):
            proof.wrong(
                "job", job.number, N_("{job} has ended, but not how it ended, or otherwise."), job=job.number
            )
        if not _agrees(job):
            proof.wrong(
                "job",
                job.number,
                N_("{job}: how it ended doesn't agree with the stay it was done in."),
                job=job.number,
            )
        if job.id in sold:
            _prove_sale(proof, job.number, sold[job.id], posted.get(job.id, {}), held.get(job.id, {}),
                        int(covered.get(job.id, 0)), buyers.get(job.id))  # fmt: skip


LEFT = {"collected": "returned", "lien": "sold", "lost": "lost"}
"""How a stay ended with a job, by how the job ended; otherwise it went on, or had ended before.

That it had ended before stands in ledgers from a time when what a job was open on could be let go.
"""


def _agrees(job: Any) -> bool:
    """Tell whether a job's end and that of its stay fit: where it left with the job, both end alike on one day."""
    if not job.is_its:
        return False
    named = bool(job.handed_to.strip())
    if job.ended_on is None:
        return not named and job.left_how != "lost"  # a loss ends every job of its stay
    # What was declined goes back against a name, unless it stays with the shop anyhow.
    wanted = "returned" if job.ending == "declined" and named else LEFT.get(job.ending)
    if wanted is None:
        return not named
    # A sale that is taken back takes its stay up again, also one that had ended.
    return job.was_taken_back or (job.left_on, job.left_how) == (job.ended_on, wanted)


def _held(proof: Proof) -> Mapping[int, Mapping[int, int]]:
    """Give what was set aside of each such sale, by job and owner."""
    found: dict[int, dict[int, int]] = {}
    rows = select(Settlement.job_id, SettlementShare.person_id, SettlementShare.minor).join(
        SettlementShare, SettlementShare.settlement_id == Settlement.id
    )
    for job_id, person_id, minor in proof.rows(rows.where(Settlement.job_id.is_not(None))):
        found.setdefault(job_id, {})[person_id] = minor
    return found


def _prove_sale(
    proof: Proof,
    where: str,
    sold: Any,
    posted: Any,
    held: Mapping[int, int],
    covered: int,
    buyer: int | None,
) -> None:
    """Share the price out anew, and compare it with the record, what was set aside, covered, and booked."""
    price, due, costs = (proof.money(minor) for minor in (sold.price, sold.due, sold.costs))
    split = lien_split(price, due, costs)
    surplus, to_shop = split.surplus.minor, split.to_shop.minor
    if (sold.surplus, sum(held.values()), covered) != (surplus, surplus, to_shop):
        proof.wrong(
            "job",
            where,
            N_(
                "{job}: of the sale {surplus} is the owner's and {to_shop} the shop's; {held} and {covered} are on "
                "record."
            ),
            job=where,
            surplus=split.surplus,
            to_shop=split.to_shop,
            held=proof.money(sum(held.values())),
            covered=proof.money(covered),
        )
    wanted = summed(
        ("bank", None, (price - costs).minor - surplus),
        ("bank_owners", None, surplus),
        ("selling_costs", None, split.costs_left.minor),
        ("buyers", buyer, -to_shop),
        *(("owners_held", person_id, -minor) for person_id, minor in held.items()),
    )
    if posted != wanted:
        proof.wrong(
            "job",
            where,
            N_("{job}: the journal has {posted}, by the sale it would be {wanted}."),
            job=where,
            posted=proof.told(posted),
            wanted=proof.told(wanted),
        )
