"""What a referral disclosure states: who is paid for bringing the two sides together, how much, and who bears it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from sqlalchemy import not_, select

from shopledger.model import LineReferral, Person, SaleLine, field_of
from shopledger.papers.parts import OwnerFacts, WorkingLine
from shopledger.papers.referral import ReferralFacts
from shopledger.quantities.errors import NotFound
from shopledger.quantities.money import total
from shopledger.quantities.words import N_, _
from shopledger.queries.facts.instruments import instrument_named, name_of
from shopledger.queries.facts.invoice import sale_named
from shopledger.queries.facts.parties import head, owners_of_line, party_facts
from shopledger.queries.facts.reckoned import split_of_line
from shopledger.rules.split import Split
from shopledger.rules.terms import Case
from shopledger.store.unit import Reading


@dataclass(frozen=True, slots=True)
class _Referred:
    """A line with the fee on it, reckoned again."""

    line: SaleLine
    referral: LineReferral
    case: Case
    split: Split


def referral_facts(reading: Reading, sale_id: int, number: str, issued_on: date) -> ReferralFacts:
    """Give what the disclosure of a sale's referral states, all lines with a fee on them together.

    Raises: NotFound: the sale has no referral to disclose; a second dealer's share is none.
    """
    referred = _referred(reading, sale_id)
    if not referred:
        raise NotFound(N_("Sale {id} has no referral to disclose."), id=str(sale_id))
    first = referred[0]
    currency = reading.currency
    fee = total([reading.money(one.referral.minor) for one in referred], currency)
    owner_part = total([one.split.referral_owner for one in referred], currency)
    of, rate = _rule(first.case)
    numbers, names = _things(reading, referred)
    return ReferralFacts(
        **head(reading, number, issued_on),
        referrer=party_facts(reading, first.referral.person_id),
        buyer=party_facts(reading, sale_named(reading, sale_id).buyer_id),
        owners=_owners(reading, referred),
        instrument_number=numbers,
        instrument_name=names,
        price=total([reading.money(one.line.price) for one in referred], currency),
        of=of,
        rate=rate,
        fee=fee,
        borne_by=first.referral.borne_by,
        owner_part=owner_part,
        shop_part=fee - owner_part,
        working=tuple(line for one in referred for line in _working(reading, one, several=len(referred) > 1)),
        told_buyer_on=first.referral.told_buyer_on,
        told_owner_on=first.referral.told_owner_on,
        relation=_relation(reading, first.referral.person_id),
    )


def _referred(reading: Reading, sale_id: int) -> tuple[_Referred, ...]:
    rows = reading.session.execute(
        select(SaleLine, LineReferral)
        .join(LineReferral, LineReferral.sale_line_id == SaleLine.id)
        .where(SaleLine.sale_id == sale_id, not_(LineReferral.as_dealer))
        .order_by(SaleLine.n, LineReferral.id)
    )
    return tuple(_Referred(line, referral, *split_of_line(reading, line)) for line, referral in rows)


def _rule(case: Case) -> tuple[str, Fraction | None]:
    """Give what the fee is a share of, and the share; "fixed" and nothing for an amount."""
    if case.referral is None or case.referral.rate is None:
        return "fixed", None
    return case.referral.of.value, case.referral.rate


def _things(reading: Reading, referred: Sequence[_Referred]) -> tuple[str, str]:
    """Give numbers and names of what was sold through the referral."""
    found = [
        instrument_named(reading, one.line.instrument_id)
        for one in referred
        if one.line.instrument_id is not None
    ]
    return ", ".join(one.number for one in found), "; ".join(name_of(one) for one in found)


def _owners(reading: Reading, referred: Sequence[_Referred]) -> tuple[OwnerFacts, ...]:
    """Give the owners of all lines, each person once."""
    by_number: dict[str, OwnerFacts] = {}
    for one in referred:
        for owner in owners_of_line(reading, one.line.id):
            by_number.setdefault(owner.party.number, owner)
    return tuple(by_number.values())


def _working(reading: Reading, one: _Referred, *, several: bool) -> tuple[WorkingLine, ...]:
    """Give what the fee is reckoned of on the way, and the fee."""
    fee = reading.money(one.referral.minor)
    of = one.split.step_of("commission" if _rule(one.case)[0] == "commission" else "price")
    told = next((step for step in one.split.working if not step.figure and step.amount == fee), None)
    label = (
        _("Referral fee: {what}").format(what=one.line.what.splitlines()[0]) if several else _("Referral fee")
    )
    counted = WorkingLine(label=label, how="" if told is None else told.how, amount=fee)
    if of is None:
        return (counted,)
    return WorkingLine(label=of.label, how=of.how, amount=of.amount, counts=False), counted


def _relation(reading: Reading, person_id: int) -> str:
    """Give the referrer's tie to the shop as a sentence, where there is one."""
    person = reading.session.get_one(Person, person_id)
    if person.relation == "none":
        return ""
    tie = _(field_of(Person.relation).choice_word(person.relation))
    return _("Tie to the shop: {tie}.").format(tie=tie)
