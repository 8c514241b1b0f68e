"""What a charge note states: what is put to an owner's account without a sale, and which term allows it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction

from shopledger.model import Charge, Stay, Terms, fields_of
from shopledger.papers.charge_note import ChargeNoteFacts
from shopledger.papers.parts import WorkingLine
from shopledger.quantities.errors import NotFound
from shopledger.quantities.fields import Kind
from shopledger.quantities.showing import show_day, show_money
from shopledger.quantities.words import N_, _
from shopledger.queries.facts.instruments import instrument_named, name_of
from shopledger.queries.facts.parties import head, owner_facts
from shopledger.queries.owing import owner_account
from shopledger.queries.standing import AgreementNow, last_agreement
from shopledger.store.unit import Reading

_ACTS = ("withdrawal", "storage", "insurance", "valuation", "repair", "private_sale")
"""Kinds of charge that the paper has a title for; the others stand under its general one."""
_TERMS = {
    "withdrawal": "withdrawal_charge",
    "storage": "storage_charge",
    "insurance": "insurance_charge",
    "valuation": "valuation_charge",
    "private_sale": "private_sale_commission",
    "repair": "repairs_borne_by",
    "failed_sale": "failed_sale_costs_by",
}
"""Which term of the agreement allows which kind of charge."""


def charge_note_facts(reading: Reading, charge_id: int, number: str, issued_on: date) -> ChargeNoteFacts:
    """Give what the note of a charge states.

    Raises: NotFound: there is no such charge.
    """
    charge = reading.session.get(Charge, charge_id)
    if charge is None:
        raise NotFound(N_("There is no charge {id} in this ledger."), id=str(charge_id))
    stay = None if charge.stay_id is None else reading.session.get(Stay, charge.stay_id)
    instrument = None if stay is None else instrument_named(reading, stay.instrument_id)
    agreed = None if stay is None else last_agreement(reading, stay.id)
    amount = reading.money(charge.minor)
    account = owner_account(reading, charge.person_id)
    return ChargeNoteFacts(
        **head(reading, number, issued_on),
        act=charge.kind if charge.kind in _ACTS else "other",
        booked_on=charge.charged_on,
        owners=owner_facts(reading, [(charge.person_id, Fraction(1))]),
        instrument_number="" if instrument is None else instrument.number,
        instrument_name="" if instrument is None else name_of(instrument),
        agreement_number="" if agreed is None else agreed.number,
        lines=(WorkingLine(label=charge.what, how="", amount=amount),),
        total=amount,
        by_words="" if agreed is None else _by_words(reading, charge, agreed),
        set_off=agreed is not None and agreed.terms.set_off,
        balance_after=account.held - account.owes,
    )


def charge_back_facts(
    reading: Reading, charge_id: int, number: str, issued_on: date, why: str
) -> ChargeNoteFacts:
    """Give what the note of a charge that was taken back states: the same to the owner's credit.

    Raises: NotFound: there is no such charge.
    """
    charged = charge_note_facts(reading, charge_id, number, issued_on)
    taken = _("{what}, taken back").format(what=charged.lines[0].label)
    before = _("It takes back the charge of {day}: {why}").format(
        day=show_day(charged.booked_on, reading.ledger.manners), why=why
    )
    return replace(
        charged,
        booked_on=issued_on,
        lines=(WorkingLine(label=taken, how="", amount=-charged.total),),
        total=-charged.total,
        by_words="",
        notes=(before,),
    )


def _by_words(reading: Reading, charge: Charge, agreed: AgreementNow) -> str:
    """Quote the term that allows a charge, as the agreement's field says it; nothing where no single term does."""
    name = _TERMS.get(charge.kind)
    if name is None:
        return ""
    field = fields_of(Terms)[name]
    value = getattr(agreed.terms, name)
    if value in (None, "", False):
        return ""
    if field.kind is Kind.MONEY:
        shown = show_money(reading.money(value), reading.ledger.manners)
    elif field.kind is Kind.CHOICE:
        shown = _(field.choice_word(value))
    else:
        shown = _("agreed")
    return _("{term}: {value}.").format(term=_(field.label), value=shown)
