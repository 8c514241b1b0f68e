"""What stands against recording a sale that could be reckoned."""

from __future__ import annotations

from shopledger.rules.reckoning import reckon
from shopledger.rules.recording import against_recording
from shopledger.rules.terms import Case, CommissionRate, Referral, Scheme, Side, Tax, Terms
from tests.rules.written import percent, sale, usd


def fields_of(case: Case, **told: bool) -> list[str | None]:
    return [refused.field for refused in against_recording(case, reckon(case), **told)]


def test_a_plain_sale_is_recorded() -> None:
    assert fields_of(sale("1000")) == []


def test_a_missed_floor_waits_for_the_owners_consent_or_the_shop() -> None:
    terms = Terms(CommissionRate(percent("20")), floor=usd("850"))
    assert fields_of(sale("1000", terms=terms)) == ["terms.floor"]
    assert fields_of(sale("1000", terms=terms), floor_consent=True) == []
    assert fields_of(sale("1000", terms=terms, make_up=True)) == []
    (refused,) = against_recording(sale("1000", terms=terms), reckon(sale("1000", terms=terms)))
    assert "USD 50.00 less than the lowest net agreed" in str(refused)


def test_a_referral_waits_until_both_sides_know_of_it() -> None:
    for told in ((), (Side.BUYER,), (Side.OWNER,)):
        referral = Referral(fixed=usd("50"), disclosed_to=told)
        assert fields_of(sale("1000", referral=referral)) == ["referral.disclosed_to"]
    both = Referral(fixed=usd("50"), disclosed_to=(Side.OWNER, Side.BUYER))
    assert fields_of(sale("1000", referral=both)) == []


def test_an_exemption_needs_its_reason() -> None:
    for reason in (None, "", "  "):
        tax = Tax(Scheme.SALES_TAX, percent("8"), exempt=True, exempt_reason=reason)
        assert fields_of(sale("1000", tax=tax)) == ["tax.exempt_reason"]
    tax = Tax(Scheme.SALES_TAX, percent("8"), exempt=True, exempt_reason="resale certificate")
    assert fields_of(sale("1000", tax=tax)) == []
