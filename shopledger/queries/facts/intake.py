"""What a receipt of intake states: what came in, with whom, in which condition, and whose it is."""

from __future__ import annotations

from datetime import date

from sqlalchemy import func, select

from shopledger.model import Picture, Stay, field_of
from shopledger.papers.intake import IntakeFacts, TitleFacts
from shopledger.papers.parts import PartyFacts
from shopledger.quantities.errors import NotFound
from shopledger.quantities.words import N_, _
from shopledger.queries.facts.instruments import instrument_facts
from shopledger.queries.facts.parties import head, lines_of, owners_on, party_facts
from shopledger.queries.standing import last_agreement
from shopledger.store.unit import Reading


def intake_facts(reading: Reading, stay_id: int, number: str, issued_on: date) -> IntakeFacts:
    """Give what the receipt of a stay states.

    Raises: NotFound: there is no such stay.
    """
    stay = stay_named(reading, stay_id)
    agreed = last_agreement(reading, stay_id)
    owners = owners_on(reading, stay.instrument_id, stay.came_in_on)
    return IntakeFacts(
        **head(reading, number, issued_on),
        entry_number=stay.number,
        received_on=stay.came_in_on,
        brought_by=_brought_by(reading, stay, owners[0].party if owners else None),
        owners=owners,
        reason=_(field_of(Stay.reason).choice_word(stay.reason)),
        instrument=instrument_facts(reading, stay.instrument_id, stay),
        value_to_insure=None if stay.insured_value is None else reading.money(stay.insured_value),
        insured_by="shop" if agreed is None else agreed.terms.insured_by,
        title=_title(stay),
        pictures=_pictures(reading, stay),
    )


def stay_named(reading: Reading, stay_id: int) -> Stay:
    """Give the record of a stay.

    Raises: NotFound: there is no such stay.
    """
    stay = reading.session.get(Stay, stay_id)
    if stay is None:
        raise NotFound(N_("There is no entry {id} in this ledger."), id=str(stay_id))
    return stay


def _brought_by(reading: Reading, stay: Stay, first_owner: PartyFacts | None) -> PartyFacts:
    """Give who stood in the room: the person named, else the first owner, else the shop itself."""
    if stay.brought_by_id is not None:
        return party_facts(reading, stay.brought_by_id)
    return first_owner or party_facts(reading, reading.shop().person_id)


def _title(stay: Stay) -> TitleFacts:
    """Give what was seen and said about whose it is."""
    register, colon, answer = stay.register_checked.partition(": ")
    return TitleFacts(
        identity_seen=stay.identity_seen,
        identity_seen_on=stay.came_in_on if stay.identity_seen else None,
        authority=" ".join(lines_of(stay.authority)),
        no_liens=True if stay.no_liens else None,
        register=register if colon else "",
        register_checked_on=stay.register_checked_on,
        register_says=answer if colon else stay.register_checked,
    )


def _pictures(reading: Reading, stay: Stay) -> int:
    return reading.session.scalar(select(func.count(Picture.id)).where(Picture.stay_id == stay.id)) or 0
