"""What an addendum states: each term that changes, before and after, in the words of its field."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from fractions import Fraction

from sqlalchemy import select

from shopledger.model import Agreement, Stay, Terms, asked_of, field_of
from shopledger.papers.addendum import AddendumFacts, ChangeLine
from shopledger.papers.parts import OwnerFacts, WorkingLine
from shopledger.quantities.errors import Bug, NotFound
from shopledger.quantities.fields import Field, Kind
from shopledger.quantities.manners import Manners
from shopledger.quantities.money import Money
from shopledger.quantities.showing import show_day, show_money, show_rate
from shopledger.quantities.words import N_, _
from shopledger.queries.facts.instruments import instrument_named, name_of
from shopledger.queries.facts.parties import head, lines_of, owners_by_terms
from shopledger.queries.facts.terms import signed_on, terms_named, worked_example
from shopledger.queries.reckoned import brackets_of
from shopledger.queries.standing import agreement_now
from shopledger.store.unit import Reading

_ABOUT_MONEY = frozenset(
    {
        "asking",
        "commission_rule",
        "commission_rate",
        "commission_brackets",
        "commission_fixed",
        "net_to_owner",
        "least",
        "most",
    }
)
"""Terms that change what a sale at the asking price leaves."""


def addendum_facts(
    reading: Reading, terms_id: int, number: str, issued_on: date, *, reason: str = ""
) -> AddendumFacts:
    """Give what the addendum that made these terms states.

    Raises: NotFound: there are no such terms. Bug: they are the first ones, so nothing changed.
    """
    terms, agreement = terms_named(reading, terms_id)
    before = _terms_before(reading, terms)
    changed = [name for name in asked_of(Terms) if getattr(terms, name) != getattr(before, name)]
    owners, new_owners = owners_by_terms(reading, before.id), owners_by_terms(reading, terms.id)
    owner_changes = _keys(owners) != _keys(new_owners)
    example, net = _example(reading, terms, changed)
    return AddendumFacts(
        **head(reading, number, issued_on),
        agreement_number=agreement.number,
        agreement_on=agreement.begins_on,
        nth=terms.n - 1,
        act="owner" if owner_changes else "renewal" if terms.kind == "renewal" else "change",
        effective_on=terms.agreed_on,
        owners=owners,
        new_owners=new_owners if owner_changes else (),
        instrument_number=_instrument(reading, agreement)[0],
        instrument_name=_instrument(reading, agreement)[1],
        changes=tuple(_changes(reading, before, terms, changed)),
        reason=reason,
        example=example,
        example_net=net,
        signed_on=signed_on(reading, terms.id),
    )


def ending_facts(reading: Reading, agreement_id: int, number: str, issued_on: date) -> AddendumFacts:
    """Give what the paper on the end of an agreement states.

    Raises: NotFound: there is no such agreement. Bug: it has not ended.
    """
    now = agreement_now(reading, agreement_id)
    agreement = reading.session.get_one(Agreement, agreement_id)
    if agreement.ended_on is None or agreement.ended_how is None:
        raise Bug(N_("{agreement} has not ended."), agreement=agreement.number)
    manners = reading.ledger.manners
    numbered, name = _instrument(reading, agreement)
    how = _(field_of(Agreement.ended_how).choice_word(agreement.ended_how))
    return AddendumFacts(
        **head(reading, number, issued_on),
        agreement_number=agreement.number,
        agreement_on=agreement.begins_on,
        nth=now.terms.n,
        act="end",
        effective_on=agreement.ended_on,
        owners=owners_by_terms(reading, now.terms.id),
        instrument_number=numbered,
        instrument_name=name,
        changes=(
            ChangeLine(
                what=_(field_of(Terms.ends_on).label),
                before=show_day(now.terms.ends_on, manners),
                after=show_day(agreement.ended_on, manners),
            ),
        ),
        reason=f"{how}: {agreement.ended_why}" if agreement.ended_why else how,
    )


def _terms_before(reading: Reading, terms: Terms) -> Terms:
    before = reading.session.scalars(
        select(Terms)
        .where(Terms.agreement_id == terms.agreement_id, Terms.n < terms.n)
        .order_by(Terms.n.desc())
        .limit(1)
    ).first()
    if before is None:
        raise Bug(N_("The first terms of an agreement are no addendum to it."))
    return before


def _keys(owners: tuple[OwnerFacts, ...]) -> list[tuple[str, Fraction]]:
    return [(owner.party.number, owner.share) for owner in owners]


def _instrument(reading: Reading, agreement: Agreement) -> tuple[str, str]:
    """Give number and name of what an agreement is about."""
    stay = reading.session.get(Stay, agreement.stay_id)
    if stay is None:
        raise NotFound(N_("{agreement} is about nothing in this ledger."), agreement=agreement.number)
    instrument = instrument_named(reading, stay.instrument_id)
    return instrument.number, name_of(instrument)


def _example(
    reading: Reading, terms: Terms, changed: list[str]
) -> tuple[tuple[WorkingLine, ...], Money | None]:
    """Give the worked example where the change touches what a sale at the asking price leaves."""
    return worked_example(reading, terms) if _ABOUT_MONEY.intersection(changed) else ((), None)


def _changes(reading: Reading, before: Terms, after: Terms, changed: list[str]) -> Iterator[ChangeLine]:
    """Give each changed term by the words of its field; a label that goes on from another is read with it."""
    lead = ""
    for name, field in asked_of(Terms).items():
        label = _(field.label)
        if label.startswith("\u2026"):
            label = f"{lead} {label}"
        else:
            lead = label
        if name in changed:
            yield ChangeLine(
                what=label,
                before=_shown(reading, field, getattr(before, name)),
                after=_shown(reading, field, getattr(after, name)),
            )


def _shown(reading: Reading, field: Field, value: object) -> str:
    """Give a term's value as a reader expects it; nothing where there is none."""
    manners = reading.ledger.manners
    if value is None or value == "":
        return ""
    if field.kind is Kind.YES_NO:
        return _("yes") if value else _("no")
    if field.kind is Kind.CHOICE:
        return _(field.choice_word(str(value)))
    if field.kind is Kind.ROWS:
        return _brackets_shown(str(value), reading.currency, manners)
    if field.kind is Kind.MONEY and isinstance(value, int):
        return show_money(reading.money(value), manners)
    if isinstance(value, Fraction):
        return show_rate(value, manners)
    if isinstance(value, date):
        return show_day(value, manners)
    words = "; ".join(lines_of(str(value)))
    return f"{words} {_(field.unit)}" if field.unit else words


def _brackets_shown(text: str, currency: str, manners: Manners) -> str:
    """Give the slices of a scale in one line."""
    slices: list[str] = []
    for bracket in brackets_of(text, currency):
        rate = show_rate(bracket.rate, manners)
        if bracket.up_to is None:
            slices.append(_("{rate} above that").format(rate=rate) if slices else rate)
        else:
            slices.append(
                _("{rate} up to {bound}").format(rate=rate, bound=show_money(bracket.up_to, manners))
            )
    return "; ".join(slices)
