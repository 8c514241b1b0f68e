"""What the note of a forfeited deposit states: whose, for what it was held, and how the agreed words divide it."""

from __future__ import annotations

from datetime import date

from sqlalchemy import select

from shopledger.model import Account, Agreement, Hold, Payment, Posting, Stay, Trial
from shopledger.papers.forfeit_note import ForfeitNoteFacts
from shopledger.papers.parts import TermsFacts, WorkingLine
from shopledger.papers.terms_care import deposit_words
from shopledger.quantities.showing import show_rate
from shopledger.quantities.words import _
from shopledger.queries.facts.instruments import instrument_named, name_of
from shopledger.queries.facts.parties import head, party_facts
from shopledger.queries.facts.terms import terms_facts
from shopledger.queries.standing import last_agreement
from shopledger.store.unit import Reading


def forfeit_note_facts(
    reading: Reading,
    forfeited: Payment,
    stay_id: int,
    goes_back: int,
    why: str,
    number: str,
    issued_on: date,
) -> ForfeitNoteFacts:
    """Give what the note of a forfeited deposit states.

    Units:  `goes_back` in minor units: what of the deposit the player gets back.
    Shape:  `forfeited` is the record that took the forfeited part off the player's account, naming the deposit, which
            was held with a hold or with a trial; `stay_id` is the stay of the instrument that it is forfeited for.
    """
    deposit = reading.session.get_one(Payment, forfeited.deposit_id)
    instrument = instrument_named(reading, reading.session.get_one(Stay, stay_id).instrument_id)
    agreed = last_agreement(reading, stay_id)
    terms = None
    if agreed is not None:
        agreement = reading.session.get_one(Agreement, agreed.agreement_id)
        terms = terms_facts(reading, agreed.terms, agreement)
    return ForfeitNoteFacts(
        **head(reading, number, issued_on),
        forfeited_on=forfeited.received_on,
        player=party_facts(reading, deposit.person_id),
        instrument_number=instrument.number,
        instrument_name=name_of(instrument),
        held_since=deposit.received_on,
        held_until=_held_until(reading, deposit),
        deposit_number=deposit.number,
        agreement_number="" if agreed is None else agreed.number,
        why=why,
        deposit=reading.money(forfeited.minor + goes_back),
        working=_division(reading, forfeited, goes_back, terms),
        goes_back=reading.money(goes_back),
        by_words=_("The instrument is the shop\u2019s own; the shop keeps the deposit.")
        if terms is None
        else deposit_words(terms, reading.ledger.manners),
    )


def _held_until(reading: Reading, deposit: Payment) -> date:
    """Give until when it was held: the end of its hold, or of its trial."""
    if deposit.trial_id is not None:
        return reading.session.get_one(Trial, deposit.trial_id).due_on
    return reading.session.get_one(Hold, deposit.hold_id).until


def _division(
    reading: Reading, forfeited: Payment, goes_back: int, terms: TermsFacts | None
) -> tuple[WorkingLine, ...]:
    """Give who has what of the deposit, the forfeited part by what was posted."""
    rows = reading.session.execute(
        select(Account.code, Posting.amount)
        .join(Account, Account.id == Posting.account_id)
        .where(Posting.entry_id == forfeited.entry_id, Account.code.in_(("owners_held", "forfeits")))
    ).all()
    owners = -sum(minor for code, minor in rows if code == "owners_held")
    shop = -sum(minor for code, minor in rows if code == "forfeits")
    manners = reading.ledger.manners
    to_owner = terms.deposit_to_owner if terms is not None else None
    to_shop = terms.deposit_to_shop if terms is not None else None
    lines = (
        (_("To the owner"), "" if to_owner is None else show_rate(to_owner, manners), owners),
        (_("To the shop"), "" if to_shop is None else show_rate(to_shop, manners), shop),
        (_("Back to the player"), _("the rest"), goes_back),
    )
    return tuple(
        WorkingLine(label=label, how=how, amount=reading.money(minor)) for label, how, minor in lines if minor
    )
