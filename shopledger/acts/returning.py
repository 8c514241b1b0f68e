"""Taking a sale back, whole or line by line, to the cent."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import select

from shopledger.acts.charging import record_charge
from shopledger.acts.custody import move
from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.lots import bring_back, sold_of_line
from shopledger.acts.owning import Share, owners_now, record_owners, shop_person
from shopledger.acts.papers import leave_paper
from shopledger.acts.paying import CHANGED, sale_of
from shopledger.acts.settling import owners_of_line
from shopledger.acts.taking_in import open_stay
from shopledger.acts.unsettling import cover, spent_of_line, unsettle
from shopledger.model import (
    Agreement,
    Job,
    LineCost,
    LineEntry,
    LineReferral,
    Ownership,
    OwnershipShare,
    Sale,
    SaleLine,
    Stay,
    Terms,
)
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import Field, ask
from shopledger.quantities.money import share_out
from shopledger.quantities.words import N_, _
from shopledger.queries.owing import balance
from shopledger.queries.shapes import Subject
from shopledger.queries.standing import last_stay
from shopledger.rules.journal import Amount
from shopledger.store.unit import Reading, Writing

IN_HOUSE = ("here", "workshop")
"""Where an instrument can stay when its sale is undone."""


@dataclass(frozen=True, kw_only=True)
class TakeBack(Form):
    """The buyer gives something back."""

    sale_id: int
    lines: str = ask(
        Field(N_("Lines"), help=N_("Their numbers, such as 1, 3; empty for the whole sale.")), default=""
    )
    why: str = ask(Field(N_("Why"), required=True))


def standing_lines(reading: Reading, sale_id: int) -> list[SaleLine]:
    """Give the lines of a sale that were not returned."""
    return list(
        reading.session.scalars(
            select(SaleLine)
            .where(SaleLine.sale_id == sale_id, SaleLine.returned_on.is_(None))
            .order_by(SaleLine.n)
        )
    )


def line_numbers(typed: str, field: str = "lines") -> frozenset[int]:
    """Give the numbers of lines as they were typed, none where nothing was.

    Raises: Typed: something else was typed.
    """
    parts = typed.replace(",", " ").split()
    if (typed.strip() and not parts) or not all(part.isdecimal() for part in parts):
        raise Typed(N_("Type the numbers of the lines, such as 1, 3."), field=field)
    return frozenset(int(part) for part in parts)


def _chosen(reading: Reading, form: TakeBack) -> list[SaleLine]:
    standing = standing_lines(reading, form.sale_id)
    numbers = line_numbers(form.lines)
    if not numbers:
        return standing
    chosen = [line for line in standing if line.n in numbers]
    missing = numbers - {line.n for line in chosen}
    if missing:
        raise Typed(
            N_("Line {line} is not on the invoice, or was returned already."),
            field="lines",
            line=min(missing),
        )
    return chosen


def run_take_back(writing: Writing, form: TakeBack) -> Outcome:
    """Reverse whole lines of a sale to the cent and put the instruments back where they were."""
    sale = sale_of(writing, form.sale_id)
    lines = _chosen(writing, form)
    if not lines:
        raise Refused(N_("{sale} was taken back already."), sale=sale.number)
    refuse_job_bill(writing, sale)
    return Outcome(Subject.SALE, sale.id, CHANGED, tuple(take_lines_back(writing, sale, lines, form.why)))


def refuse_job_bill(reading: Reading, sale: Sale) -> None:
    """Refuse to change the invoice of a job by itself: it goes with the job's bill."""
    if sale.job_id is not None:
        raise Refused(
            N_("{sale} bills the job {job}. Open that job and take its bill back there."),
            sale=sale.number,
            job=reading.session.get_one(Job, sale.job_id).number,
        )


def take_lines_back(writing: Writing, sale: Sale, lines: Sequence[SaleLine], why: str) -> list[int]:
    """Reverse lines of a sale, their instruments and goods back; give the credit note and what else it leaves."""
    papers: list[int] = []
    for line in lines:
        papers += _take_back_line(writing, sale.number, sale.buyer_id, line, why)
    from shopledger.queries.facts.credit_note import credit_note_facts

    facts = credit_note_facts(
        writing, sale.id, [line.id for line in lines], writing.number("credit"), writing.on
    )
    paper = leave_paper(
        writing, "credit_note", facts, person_id=sale.buyer_id, sale_id=sale.id, job_id=sale.job_id
    )
    return [paper, *papers]


def _take_back_line(writing: Writing, number: str, buyer_id: int, line: SaleLine, why: str) -> list[int]:
    source = f"{number} line {line.n} taken back"
    papers: list[int] = []
    if line.kind == "consigned":
        unsettle(writing, line.id, source)
        for person_id, minor in spent_of_line(writing, line.id).items():
            papers.append(
                record_charge(
                    writing,
                    person_id=person_id,
                    kind="paid_back",
                    what=_("payout of {sale}, taken back").format(sale=number),
                    minor=minor,
                    credit=[Amount("owners_pending", -minor, person_id)],
                    stay_id=line.stay_id,
                    sale_line_id=line.id,
                )
            )
        cover(writing, line.id, source, goes_back=True)
    entries = writing.session.scalars(
        select(LineEntry)
        .where(LineEntry.sale_line_id == line.id, LineEntry.role != "return")
        .order_by(LineEntry.id)
    ).all()
    reversals = [writing.reverse(entry.entry_id, source) for entry in entries]
    for reversal in reversals:
        writing.put(LineEntry(sale_line_id=line.id, entry_id=reversal, role="return"))
    if line.goods_id is not None:
        bring_back(writing, sold_of_line(writing, line.id), reversals[0])
    _fees_paid_already(writing, line, source)
    line.returned_on, line.returned_why = writing.on, why
    writing.session.flush()
    papers += _spent_costs(writing, number, line)
    if line.stay_id is not None and line.instrument_id is not None:
        _back_in_stock(writing, number, buyer_id, line)
    return papers


def _fees_paid_already(writing: Writing, line: SaleLine, source: str) -> None:
    """A fee that was paid already becomes that person's debt."""
    for fee in writing.session.scalars(select(LineReferral).where(LineReferral.sale_line_id == line.id)):
        fee_paid_already(writing, fee.person_id, fee.minor, source)


def fee_paid_already(writing: Writing, person_id: int, minor: int, source: str) -> None:
    """Let what of a fee was paid and is no longer due be that person's debt."""
    above = min(balance(writing, "fees_due", person_id).minor, minor)
    if above > 0:
        writing.book([Amount("fees_owe", above, person_id), Amount("fees_due", -above, person_id)], source)


def _spent_costs(writing: Writing, number: str, line: SaleLine) -> list[int]:
    """Costs really spent stay with whom the agreement names for a sale that fails."""
    spent = sum(
        writing.session.scalars(
            select(LineCost.minor).where(LineCost.sale_line_id == line.id, LineCost.spent)
        )
    )
    if not spent:
        return []
    terms = writing.session.get(Terms, line.terms_id) if line.terms_id else None
    if terms is None or terms.failed_sale_costs_by == "shop":
        writing.book([Amount("selling_costs", spent), Amount("sale_costs", -spent)], f"{number} costs spent")
        return []
    shop = shop_person(writing)
    owners = owners_of_line(writing, line.id)
    parts = share_out(spent, [owner.share for owner in owners])
    own = sum(part for owner, part in zip(owners, parts, strict=True) if owner.person_id == shop)
    if own:
        writing.book([Amount("selling_costs", own), Amount("sale_costs", -own)], f"{number} costs spent")
    return [
        record_charge(
            writing,
            person_id=owner.person_id,
            kind="failed_sale",
            what=_("costs of {sale}, taken back").format(sale=number),
            minor=part,
            credit=[Amount("sale_costs", -part)],
            stay_id=line.stay_id,
            sale_line_id=line.id,
        )
        for owner, part in zip(owners, parts, strict=True)
        if part and owner.person_id != shop
    ]


def _back_in_stock(writing: Writing, number: str, buyer_id: int, line: SaleLine) -> None:
    """The sale is undone: its stay goes on, under the agreement it was sold under, for the owners before."""
    assert line.instrument_id is not None
    assert line.stay_id is not None
    now = owners_now(writing, line.instrument_id)
    if [share.person_id for share in now] != [buyer_id]:
        raise Refused(N_("It has changed owner since the sale, so the sale can't be taken back."))
    record_owners(
        writing, line.instrument_id, _owners_before(writing, line, number), how=f"{number} taken back"
    )
    stay = writing.session.get_one(Stay, line.stay_id)
    again = open_stay(writing, line.instrument_id)
    if again is not None and again.id != stay.id:
        raise Refused(
            N_("It came in again as {entry}. Record that it was returned, then take the sale back."),
            entry=again.number,
        )
    if stay.ended_on is not None:
        stay.ended_on, stay.ending, stay.handed_to = None, None, ""
        writing.session.flush()
    where = last_stay(writing, line.instrument_id)
    if where is None or where.place not in IN_HOUSE:
        # Handed over, or still with a player who had it on trial and bought it.
        move(writing, stay.id, "here", words=f"{number} taken back")
    if line.terms_id is not None:
        terms = writing.session.get_one(Terms, line.terms_id)
        agreement = writing.session.get_one(Agreement, terms.agreement_id)
        if agreement.ended_how == "sold":
            agreement.ended_on, agreement.ended_how, agreement.ended_why = None, None, ""
            writing.session.flush()


def _owners_before(writing: Writing, line: SaleLine, number: str) -> Sequence[Share]:
    sold = writing.session.scalars(
        select(Ownership)
        .where(Ownership.instrument_id == line.instrument_id, Ownership.how == f"sold, {number}")
        .order_by(Ownership.id.desc())
    ).first()
    before = (
        select(Ownership.id)
        .where(Ownership.instrument_id == line.instrument_id, Ownership.id < (sold.id if sold else 0))
        .order_by(Ownership.id.desc())
        .limit(1)
    )
    rows = writing.session.execute(
        select(OwnershipShare.person_id, OwnershipShare.share)
        .where(OwnershipShare.ownership_id == before.scalar_subquery())
        .order_by(OwnershipShare.n)
    )
    return [Share(person_id, share) for person_id, share in rows]


def refuse_all_back(reading: Reading, sale_id: int) -> None:
    """Refuse where every line was taken back, and what goes with the bill of a job."""
    sale = sale_of(reading, sale_id)
    if not standing_lines(reading, sale_id):
        raise Refused(N_("{sale} was taken back."), sale=sale.number)
    refuse_job_bill(reading, sale)


TAKE_BACK = Act(
    name="take_back",
    text=N_("Take back"),
    subject=Subject.SALE,
    form=TakeBack,
    run=run_take_back,
    subject_input="sale_id",
    allowed=refuse_all_back,
    papers=("credit_note", "charge_note"),
)
ACTS = (TAKE_BACK,)
