"""Terms: finding those in force, writing a snapshot, refusing what contradicts itself."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from fractions import Fraction
from typing import Any

from sqlalchemy import bindparam, select

from shopledger.acts.columns import filled
from shopledger.acts.describing import instrument_of
from shopledger.acts.owning import Share
from shopledger.acts.taking_in import need_open_stay
from shopledger.model import Agreement, SaleLine, Signature, Stay, Terms, TermsOwner, asked_of
from shopledger.model.agreements import Bracket
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import Kind
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_
from shopledger.queries.reckoned import brackets_of, reckoning_terms
from shopledger.rules.checking import check_terms
from shopledger.store.unit import Reading, Writing

LONGEST_DAYS = 36_500
"""A hundred years, or nearly: longer times are slips of the hand."""
RULE_INPUT = {
    "rate": "commission_rate",
    "brackets": "commission_brackets",
    "fixed": "commission_fixed",
    "net_to_owner": "net_to_owner",
}


# Put together once, since nearly every act asks them.
_LIVE_AGREEMENT = (
    select(Agreement)
    .where(Agreement.stay_id == bindparam("stay"), Agreement.ended_on.is_(None))
    .order_by(Agreement.id.desc())
    .limit(1)
)
_NEWEST_TERMS = (
    select(Terms).where(Terms.agreement_id == bindparam("agreement")).order_by(Terms.n.desc()).limit(1)
)
_AGREED = (
    select(Agreement, Terms, Signature.id)
    .join(Terms, Terms.agreement_id == Agreement.id)
    .outerjoin(Signature, Signature.terms_id == Terms.id)
    .where(Agreement.stay_id == bindparam("stay"), Agreement.ended_on.is_(None))
    .order_by(Agreement.id.desc(), Terms.n.desc())
    .limit(1)
)
_SIGNATURE = select(Signature.id).where(Signature.terms_id == bindparam("terms"))
_LIVE_LINE = select(SaleLine).where(SaleLine.stay_id == bindparam("stay"), SaleLine.returned_on.is_(None))


def live_agreement(reading: Reading, stay_id: int) -> Agreement | None:
    """Give the agreement in force for a stay, None where there is none."""
    return reading.session.scalars(_LIVE_AGREEMENT, {"stay": stay_id}).first()


def newest_terms(reading: Reading, agreement_id: int) -> Terms:
    """Give the terms in force of an agreement."""
    return reading.session.scalars(_NEWEST_TERMS, {"agreement": agreement_id}).one()


def is_signed(reading: Reading, terms_id: int) -> bool:
    """Say whether terms were signed on paper."""
    return reading.once(
        ("signed", terms_id), lambda: reading.session.scalar(_SIGNATURE, {"terms": terms_id}) is not None
    )


def live_line(reading: Reading, stay_id: int) -> SaleLine | None:
    """Give the sale line of a stay that stands, None where it isn't sold."""
    return reading.once(
        ("live line", stay_id), lambda: reading.session.scalars(_LIVE_LINE, {"stay": stay_id}).first()
    )


def need_agreement(reading: Reading, instrument_id: int) -> tuple[Stay, Agreement, Terms]:
    """Give the open stay of an instrument with its agreement and the terms in force.

    Raises: Refused: it isn't here, or nothing is agreed.
    """
    stay = need_open_stay(reading, instrument_id)
    return stay, *agreed_for(reading, stay)


def agreed_for(reading: Reading, stay: Stay) -> tuple[Agreement, Terms]:
    """Give the agreement of a stay with the terms in force.

    Raises: Refused: nothing is agreed.
    """
    found = reading.session.execute(_AGREED, {"stay": stay.id}).first()
    if found is None:
        raise Refused(
            N_("Nothing is agreed for {instrument}. Agree terms first."),
            instrument=instrument_of(reading, stay.instrument_id).number,
        )
    agreement, terms, signature = found
    # Whoever asks for the terms asks next whether they are signed.
    reading.once(("signed", terms.id), lambda: signature is not None)
    return agreement, terms


def refuse_sold(reading: Reading, stay: Stay) -> None:
    """Refuse an act on what is sold.

    Raises: Refused, with the day.
    """
    line = live_line(reading, stay.id)
    if line is not None:
        raise Refused(N_("It is sold. Take the sale back first, if it is to be undone."))


def make_terms(
    writing: Writing,
    agreement: Agreement,
    values: Mapping[str, Any],
    shares: tuple[Share, ...],
    *,
    kind: str,
    n: int,
) -> Terms:
    """Write a snapshot of terms with the owners who are party to it.

    Raises: Typed, Refused: the terms contradict themselves.
    """
    terms = filled(
        Terms,
        with_defaults(values),
        writing.currency,
        path="terms",
        agreement_id=agreement.id,
        n=n,
        kind=kind,
        agreed_on=writing.on,
    )
    check_agreed(terms, writing.currency, begins_on=agreement.begins_on)
    writing.add(terms)
    for place, share in enumerate(shares, 1):
        writing.add(TermsOwner(terms_id=terms.id, person_id=share.person_id, share=share.share, n=place))
    return terms


def with_defaults(values: Mapping[str, Any]) -> dict[str, Any]:
    """Give terms with the default of each field that was left out, since a record not yet written has none."""
    table = Terms.__table__
    given = dict(values)
    for name in asked_of(Terms):
        default = table.columns[name].default
        if given.get(name) is None and default is not None and default.is_scalar and name not in values:
            given[name] = default.arg
    return given


def check_agreed(terms: Terms, currency: str, *, begins_on: date) -> None:
    """Refuse terms that contradict themselves, naming the input.

    Raises: Typed: an input is missing or too much. Refused: two exclude each other.
    """
    if terms.asking <= 0:
        raise Typed(N_("The asking price has to be above zero."), field="terms.asking")
    for name, field in asked_of(Terms).items():
        if field.kind is Kind.COUNT and getattr(terms, name) > LONGEST_DAYS:
            raise Typed(
                N_("{label}: at most {most} days can be agreed."),
                field=f"terms.{name}",
                label=field.label,
                most=LONGEST_DAYS,
            )
    if (terms.ends_on - begins_on).days > LONGEST_DAYS:
        raise Typed(
            N_("An agreement can't run longer than {most} days: choose an earlier day."),
            field="terms.ends_on",
            most=LONGEST_DAYS,
        )
    if terms.ends_on <= begins_on:
        raise Typed(
            N_("The agreement has to end after {day}, the day it begins."),
            field="terms.ends_on",
            day=begins_on,
        )
    for rule, name in RULE_INPUT.items():
        value = getattr(terms, name)
        if rule == terms.commission_rule and value in (None, ""):
            raise Typed(
                N_("What the shop earns is missing: fill it in for the rule chosen."), field=f"terms.{name}"
            )
        if rule != terms.commission_rule and value not in (None, ""):
            raise Typed(
                N_("Another rule for what the shop earns is chosen: leave this empty, or choose this rule."),
                field=f"terms.{name}",
            )
    for name in ("deposit_to_owner", "deposit_to_shop"):
        if not 0 <= (getattr(terms, name) or 0) <= 1:
            raise Typed(N_("A share is from 0% to 100%."), field=f"terms.{name}")
    shares = (terms.deposit_to_owner or Fraction(0)) + (terms.deposit_to_shop or Fraction(0))
    if shares > 1:
        raise Typed(
            N_("The shares of a forfeited deposit come to {shares}: at most 100% can be shared."),
            field="terms.deposit_to_owner",
            shares=shares,
        )
    if terms.asking_not_below is not None and terms.asking_not_below > terms.asking:
        raise Typed(N_("It can't fall to more than the asking price."), field="terms.asking_not_below")
    try:
        check_terms(reckoning_terms(terms, currency), currency)
    except (Typed, Refused) as error:
        error.field = _input_of(error.field)
        raise


def _input_of(field: str | None) -> str | None:
    """Give the form's input for a field of the reckoning's written form."""
    for written, name in (
        ("terms.commission.brackets", "terms.commission_brackets"),
        ("terms.commission.rate", "terms.commission_rate"),
        ("terms.commission.fixed", "terms.commission_fixed"),
        ("terms.commission.net_to_owner", "terms.net_to_owner"),
    ):
        if field is not None and field.startswith(written):
            return name + field.removeprefix(written)
    return field


def values_of(terms: Terms, currency: str) -> dict[str, Any]:
    """Give terms as the values a form holds."""
    values: dict[str, Any] = {}
    for name, field in asked_of(Terms).items():
        value = getattr(terms, name)
        if field.kind is Kind.MONEY and value is not None:
            value = Money(value, currency)
        if field.kind is Kind.ROWS:
            value = tuple(
                Bracket(up_to=bracket.up_to, rate=bracket.rate) for bracket in brackets_of(value, currency)
            )
        values[name] = value
    return values
