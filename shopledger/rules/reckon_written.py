"""A case in its written form, the other way round of `reckon_case`: what a ledger keeps beside a sale's figures."""

from __future__ import annotations

import json
from fractions import Fraction
from typing import Any

from shopledger.quantities.money import Money
from shopledger.rules.case_form import parse_json
from shopledger.rules.reckon_case import case_of
from shopledger.rules.terms import (
    Case,
    CommissionBrackets,
    CommissionFixed,
    CommissionRate,
    CommissionRule,
    NetToOwner,
)


def case_text(case: Case) -> str:
    """Give a case as compact JSON with its keys in order; `shopledger reckon` reads it and gives the same answer."""
    written = {
        "currency": case.currency,
        "asking": case.asking,
        "price": case.price,
        "terms": {
            "commission": _commission(case.terms.commission),
            "least": case.terms.least,
            "most": case.terms.most,
            "discount_borne_by": case.terms.discount_borne_by.value,
            "floor": case.terms.floor,
            "pay_owner": case.terms.pay_owner.value,
        },
        "costs": [
            {
                "what": cost.what,
                "amount": cost.amount,
                "rate": cost.rate,
                "of": None if cost.rate is None else cost.of.value,
                "borne_by": cost.borne_by.value,
                "before_commission": cost.before_commission,
            }
            for cost in case.costs
        ],
        "referral": None
        if case.referral is None
        else {
            "rate": case.referral.rate,
            "fixed": case.referral.fixed,
            "of": None if case.referral.rate is None else case.referral.of.value,
            "borne_by": case.referral.borne_by.value,
            "disclosed_to": [side.value for side in case.referral.disclosed_to],
        },
        "tax": {
            "scheme": case.tax.scheme.value,
            "rate": case.tax.rate,
            "taxable": case.tax.taxable,
            "exempt": case.tax.exempt or None,
            "exempt_reason": case.tax.exempt_reason,
        },
        "owners": [{"name": owner.name, "share": owner.share} for owner in case.owners]
        if case.owners
        else None,
        "make_up": case.make_up,
    }
    return json.dumps(_plain(written), sort_keys=True, ensure_ascii=False, separators=(",", ":"))


def case_from(text: str) -> Case:
    """Give the case that `case_text` wrote."""
    return case_of(parse_json(text))


def _commission(rule: CommissionRule) -> dict[str, Any]:
    match rule:
        case CommissionRate(rate):
            return {"rate": rate}
        case CommissionBrackets(brackets):
            return {"brackets": [{"up_to": bracket.up_to, "rate": bracket.rate} for bracket in brackets]}
        case CommissionFixed(amount):
            return {"fixed": amount}
        case NetToOwner(net):
            return {"net_to_owner": net}


def _plain(value: Any) -> Any:
    """Write money and rates as strings and leave out what was left out."""
    if isinstance(value, Money):
        return value.plain()
    if isinstance(value, Fraction):
        return str(value)
    if isinstance(value, dict):
        return {key: _plain(each) for key, each in value.items() if each is not None}
    if isinstance(value, list):
        return [_plain(each) for each in value]
    return value
