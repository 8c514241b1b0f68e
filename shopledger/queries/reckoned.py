"""From the ledger's terms to the reckoning's: what was agreed, as the rules take it."""

from __future__ import annotations

import json
from fractions import Fraction
from typing import TYPE_CHECKING

from shopledger.quantities.money import Money
from shopledger.rules import terms as rules

if TYPE_CHECKING:
    from shopledger.model import Terms


def brackets_of(text: str, currency: str) -> tuple[rules.Bracket, ...]:
    """Give the brackets that a column of terms holds."""
    return tuple(
        rules.Bracket(Fraction(row["rate"]), Money.parse(row["up_to"], currency) if "up_to" in row else None)
        for row in json.loads(text or "[]")
    )


def commission_of(terms: Terms, currency: str) -> rules.CommissionRule:
    """Give the one commission rule of terms."""
    match terms.commission_rule:
        case "brackets":
            return rules.CommissionBrackets(brackets_of(terms.commission_brackets, currency))
        case "fixed":
            return rules.CommissionFixed(Money(terms.commission_fixed or 0, currency))
        case "net_to_owner":
            return rules.NetToOwner(Money(terms.net_to_owner or 0, currency))
        case _:
            return rules.CommissionRate(terms.commission_rate or Fraction(0))


def reckoning_terms(terms: Terms, currency: str) -> rules.Terms:
    """Give what an agreement says about money, as the reckoning takes it."""

    def money(minor: int | None) -> Money | None:
        return None if minor is None else Money(minor, currency)

    return rules.Terms(
        commission=commission_of(terms, currency),
        least=money(terms.least),
        most=money(terms.most),
        discount_borne_by=rules.DiscountBorneBy(terms.discount_borne_by),
        floor=money(terms.floor),
        pay_owner=rules.PayOwner(terms.pay_owner),
    )
