"""What a release states: what was handed over to whom, in which condition, and what is still to be paid."""

from __future__ import annotations

from datetime import date

from sqlalchemy import select

from shopledger.model import Agreement, Charge, Stay, field_of
from shopledger.papers.parts import AmountLine, OwnerFacts, PartyFacts
from shopledger.papers.release import ReleaseFacts
from shopledger.quantities.money import total
from shopledger.quantities.words import _
from shopledger.queries.facts.instruments import instrument_facts
from shopledger.queries.facts.intake import stay_named
from shopledger.queries.facts.parties import head, of_parties
from shopledger.queries.owing import charge_stands, owner_debt
from shopledger.queries.standing import AgreementNow, last_agreement, owners_of
from shopledger.store.unit import Reading


def release_facts(
    reading: Reading, stay_id: int, number: str, issued_on: date, *, authority: str = "", carrier: str = ""
) -> ReleaseFacts:
    """Give what the release of a stay states.

    Shape:  `authority` is what shows that whoever takes it may; a `carrier` is named where it was sent.
    Raises: NotFound: there is no such stay.
    """
    stay = stay_named(reading, stay_id)
    on = stay.ended_on or issued_on
    parties = owners_of(reading, stay.instrument_id, on)
    owners = of_parties(reading, parties)
    agreed = last_agreement(reading, stay_id)
    charges = tuple(
        line for party in parties for line in open_charges(reading, party.person_id, party.name, len(parties))
    )
    return ReleaseFacts(
        **head(reading, number, issued_on),
        entry_number=stay.number,
        handed_over_on=on,
        taken_in_on=stay.came_in_on,
        to=_taker(stay, owners),
        owners=owners,
        authority=authority,
        instrument=instrument_facts(reading, stay.instrument_id, stay, going=True),
        # What was sold leaves with its buyer, who is no party to the agreement.
        agreement_number="" if agreed is None or agreed.ended_how == "sold" else agreed.number,
        reason=_reason(reading, stay, agreed),
        by_hand=not carrier,
        carrier=carrier,
        open_charges=charges,
        open_total=total([line.amount for line in charges], reading.currency) if charges else None,
    )


def _taker(stay: Stay, owners: tuple[OwnerFacts, ...]) -> PartyFacts:
    """Give who takes it: an owner by that name, or nobody being named the first owner, else the name alone."""
    for owner in owners:
        if stay.handed_to in ("", owner.party.name):
            return owner.party
    return PartyFacts(name=stay.handed_to)


def _reason(reading: Reading, stay: Stay, agreed: AgreementNow | None) -> str:
    """Give why it goes: how and why the agreement ended, else how the stay did."""
    if agreed is not None and agreed.ended_how not in (None, "sold"):
        how = _(field_of(Agreement.ended_how).choice_word(agreed.ended_how))
        ended = _("The agreement {number} ended: {how}.").format(number=agreed.number, how=how)
        why = reading.session.get_one(Agreement, agreed.agreement_id).ended_why
        return f"{ended} {why}" if why else ended
    return _(field_of(Stay.ending).choice_word(stay.ending)) if stay.ending else ""


def open_charges(reading: Reading, person_id: int, name: str, owners: int) -> tuple[AmountLine, ...]:
    """Give what an owner still owes, by charges: the newest are the unpaid ones, since the oldest are paid first."""
    left = owner_debt(reading, person_id).minor
    lines: list[AmountLine] = []
    rows = reading.session.scalars(
        select(Charge).where(Charge.person_id == person_id, charge_stands()).order_by(Charge.id.desc())
    )
    for charge in rows:
        if left <= 0:
            break
        part = min(left, charge.minor)
        left -= part
        what = charge.what if owners == 1 else _("{name}: {what}").format(name=name, what=charge.what)
        lines.append(
            AmountLine(what=what, on=charge.charged_on, reference=charge.number, amount=reading.money(part))
        )
    if left > 0:
        what = _("Owed from before") if owners == 1 else _("{name}: owed from before").format(name=name)
        lines.append(AmountLine(what=what, amount=reading.money(left)))
    return tuple(reversed(lines))
