"""The terms of an agreement as its papers state them, and a sale at the asking price reckoned by them."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from sqlalchemy import select

from shopledger.model import Agreement, DatedRate, Signature, Terms
from shopledger.papers.owner_working import owner_working
from shopledger.papers.parts import BracketFacts, ChargeTermFacts, CommissionFacts, TermsFacts, WorkingLine
from shopledger.quantities.errors import NotFound
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_, _
from shopledger.queries.facts.parties import lines_of
from shopledger.queries.reckoned import brackets_of, reckoning_terms
from shopledger.rules.reckoning import reckon
from shopledger.rules.terms import NO_TAX, Case, Scheme, Tax
from shopledger.store.unit import Reading

_CHARGES = (
    ("withdrawal", "withdrawal_charge", "once"),
    ("storage", "storage_charge", "month"),
    ("insurance", "insurance_charge", "month"),
    ("valuation", "valuation_charge", "once"),
)
"""Each charge of the terms: what it is for, the column that holds it, how often it falls due."""


def terms_named(reading: Reading, terms_id: int) -> tuple[Terms, Agreement]:
    """Give terms with their agreement.

    Raises: NotFound: there are no such terms.
    """
    terms = reading.session.get(Terms, terms_id)
    if terms is None:
        raise NotFound(N_("There are no terms {id} in this ledger."), id=str(terms_id))
    return terms, reading.session.get_one(Agreement, terms.agreement_id)


def signed_on(reading: Reading, terms_id: int) -> date | None:
    """Give the day terms were signed on paper; None while they are not."""
    return reading.session.scalar(select(Signature.signed_on).where(Signature.terms_id == terms_id))


def terms_facts(reading: Reading, terms: Terms, agreement: Agreement) -> TermsFacts:
    """Give all terms as the plain words of a paper are made of."""

    def money(minor: int | None) -> Money | None:
        return None if minor is None else reading.money(minor)

    return TermsFacts(
        asking=reading.money(terms.asking),
        commission=_commission(reading, terms),
        begins_on=agreement.begins_on,
        ends_on=terms.ends_on,
        asking_not_below=money(terms.asking_not_below),
        discount_borne_by=terms.discount_borne_by,
        floor=money(terms.floor),
        vat_on_commission=vat_on_commission(reading, terms.agreed_on),
        pay_owner=terms.pay_owner,
        pay_within_days=terms.pay_within_days,
        approval_days=terms.approval_days,
        repairs_allowed=terms.repairs_allowed,
        repairs_up_to=money(terms.repairs_up_to),
        repairs_borne_by=terms.repairs_borne_by,
        freight_borne_by=terms.freight_borne_by,
        failed_sale_costs_by=terms.failed_sale_costs_by,
        set_off=terms.set_off,
        insured_by=terms.insured_by,
        agreed_value=money(terms.agreed_value),
        loss_commission=terms.loss_commission,
        excess_borne_by=terms.excess_borne_by,
        notice_days=terms.notice_days,
        trials_allowed=terms.trials_allowed,
        dealers_allowed=terms.dealers_allowed,
        charges=_charges(reading, terms),
        private_sale_commission=terms.private_sale_commission,
        tail_days=terms.tail_days,
        deposit_to_owner=terms.deposit_to_owner,
        deposit_to_shop=terms.deposit_to_shop,
        bill_signed_by=terms.bill_signed_by,
        further_words=lines_of(terms.note),
    )


def _commission(reading: Reading, terms: Terms) -> CommissionFacts:
    """Give the one commission rule with its bounds."""

    def money(minor: int | None) -> Money | None:
        return None if minor is None else reading.money(minor)

    rule = terms.commission_rule
    brackets = brackets_of(terms.commission_brackets, reading.currency) if rule == "brackets" else ()
    return CommissionFacts(
        rate=terms.commission_rate if rule == "rate" else None,
        brackets=tuple(BracketFacts(rate=bracket.rate, up_to=bracket.up_to) for bracket in brackets),
        fixed=money(terms.commission_fixed) if rule == "fixed" else None,
        net_to_owner=money(terms.net_to_owner) if rule == "net_to_owner" else None,
        least=money(terms.least),
        most=money(terms.most),
    )


def _charges(reading: Reading, terms: Terms) -> tuple[ChargeTermFacts, ...]:
    return tuple(
        ChargeTermFacts(what=what, amount=reading.money(getattr(terms, column)), per=per)
        for what, column, per in _CHARGES
        if getattr(terms, column)
    )


def vat_on_commission(reading: Reading, on: date) -> Fraction | None:
    """Give the rate of VAT on the commission that the shop's settings hold for a day; None under another scheme."""
    scheme = Scheme.VAT_ON_COMMISSION.value
    if reading.shop().tax_scheme != scheme:
        return None
    return reading.session.scalar(
        select(DatedRate.rate)
        .where(DatedRate.scheme == scheme, DatedRate.from_on <= on)
        .order_by(DatedRate.from_on.desc())
        .limit(1)
    )


def worked_example(reading: Reading, terms: Terms) -> tuple[tuple[WorkingLine, ...], Money]:
    """Reckon a sale at the asking price by the terms: the lines of its working and the owner's net.

    Raises: Refused: the terms do not allow a sale at their own asking price (a promised net above it, say).
    """
    asking = reading.money(terms.asking)
    vat = vat_on_commission(reading, terms.agreed_on)
    case = Case(
        currency=reading.currency,
        price=asking,
        asking=asking,
        terms=reckoning_terms(terms, reading.currency),
        tax=NO_TAX if vat is None else Tax(scheme=Scheme.VAT_ON_COMMISSION, rate=vat),
    )
    split = reckon(case, reading.ledger.manners)
    return owner_working(split, price_how=_("the asking price")), split.owner_net
