"""Every refusal, by the one line that a person meets: its field first, what is wrong, what would be right."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.money import Money
from shopledger.rules.checking import check
from shopledger.rules.terms import Case, CommissionFixed, CommissionRate, Cost, Terms
from tests.rules.written import percent, plain_case, refusal, sale, usd

BRACKET = {"up_to": "500", "rate": "30%"}
OPEN = {"rate": "10%"}


def commission(rule: object, **terms: object) -> dict[str, Any]:
    """Give a case with another commission rule."""
    return plain_case(terms={"commission": rule, **terms})


@pytest.mark.parametrize(
    ("case", "line"),
    [
        (plain_case(price="0"), "price: A price of USD 0.00 is no sale. Write a price above zero."),
        (plain_case(price="-5"), "price: A price of −USD 5.00 is no sale. Write a price above zero."),
        (plain_case(price="1.000"), "price: “1.000” has 3 decimals, but USD has 2. Write at most 2."),
        (plain_case(asking="-1"), "asking: −USD 1.00 is below zero. Write an amount of zero or more."),
        (plain_case(paid="-1"), "paid: −USD 1.00 is below zero. Write an amount of zero or more."),
        (
            plain_case(price="1e5"),
            "price: “1e5” is not an amount. Write it like 1250.00, in digits with a point before decimals.",
        ),
        (
            plain_case(currency="USX"),
            "currency: “USX” is no currency of ISO 4217 to count money in. The nearest is USD.",
        ),
        (
            plain_case(terms={"least": "500", "most": "400"}),
            "terms.least: The least commission, USD 500.00, is above the most, USD 400.00. Lower the least or raise "
            "the most.",
        ),
        (
            plain_case(terms={"floor": "-1"}),
            "terms.floor: −USD 1.00 is below zero. Write an amount of zero or more.",
        ),
        (
            commission({"rate": "120%"}),
            "terms.commission.rate: “120%” is above 100%. A rate is from 0% to 100%; a fifth is 20%.",
        ),
        (
            commission({"rate": "-1%"}),
            "terms.commission.rate: “-1%” is below 0. A rate is from 0% to 100%.",
        ),
        (
            commission({"rate": "20%", "fixed": "5"}),
            "terms.commission: Here are 2 rules at once: rate, fixed. Keep one of them.",
        ),
        (
            commission({}),
            "terms.commission: There is no rule for the commission. Write one of rate, brackets, fixed, net_to_owner.",
        ),
        (
            commission({"rate": None}),
            "terms.commission: There is no rule for the commission. Write one of rate, brackets, fixed, net_to_owner.",
        ),
        (
            commission({"brackets": []}),
            "terms.commission.brackets: There is no bracket. Write at least one; the last has no up_to.",
        ),
        (
            commission({"brackets": [BRACKET, BRACKET, OPEN]}),
            "terms.commission.brackets[1].up_to: The bounds must rise: USD 500.00 is not above USD 500.00. Write a "
            "higher bound.",
        ),
        (
            commission({"brackets": [{"up_to": "0", "rate": "5%"}, OPEN]}),
            "terms.commission.brackets[0].up_to: The bounds must rise: USD 0.00 is not above USD 0.00. Write a "
            "higher bound.",
        ),
        (
            commission({"brackets": [OPEN, BRACKET]}),
            "terms.commission.brackets[0].up_to: A bracket without up_to must be the last. Write its bound, or move "
            "it to the end.",
        ),
        (
            commission({"brackets": [BRACKET]}),
            "terms.commission.brackets[0].up_to: The last bracket must be open. Leave its up_to out, or add a "
            "bracket with only a rate.",
        ),
        (
            commission({"brackets": [{"up_to": "500"}, OPEN]}),
            'terms.commission.brackets[0].rate: This is missing. Write it, such as "20%".',
        ),
        (
            commission({"net_to_owner": "500"}, least="10"),
            "terms.least: A least commission doesn't go with a net promised to the owner. Leave one of them out.",
        ),
        (
            commission({"net_to_owner": "500"}, discount_borne_by="shop"),
            "terms.discount_borne_by: With a net promised to the owner, no side bears a discount. Write as_it_falls.",
        ),
        (
            commission({"net_to_owner": "1000.01"}),
            "terms.commission.net_to_owner: The USD 1,000.00 to share is below the net of USD 1,000.01 promised to "
            "the owner. Raise the price or agree anew.",
        ),
        (
            plain_case(costs=[{"amount": "1000.01", "before_commission": True}]),
            "costs: The costs before commission, USD 1,000.01, exceed the USD 1,000.00 they come off. Take some of "
            "them after it.",
        ),
        (
            commission({"fixed": "1000.01"}),
            "terms.commission: The commission of USD 1,000.01 is above the USD 1,000.00 that costs before commission "
            "leave of the price.",
        ),
        (
            commission({"fixed": "900.01"}) | {"costs": [{"amount": "100", "before_commission": True}]},
            "terms.commission: The commission of USD 900.01 is above the USD 900.00 that costs before commission "
            "leave of the price.",
        ),
        (
            plain_case(asking="1500", terms={"discount_borne_by": "shop"}),
            "price: The discount of USD 500.00 is above the commission of USD 300.00 that bears it. Raise the price.",
        ),
        (
            plain_case(costs=[{"what": "freight"}]),
            "costs[0].amount: The cost has no amount. Write an amount or a rate.",
        ),
        (
            plain_case(costs=[{"amount": "5", "rate": "5%"}]),
            "costs[0].rate: The cost has both an amount and a rate. Leave one of them out.",
        ),
        (
            plain_case(costs=[{"rate": "5%", "before_commission": True}]),
            "costs[0].rate: A cost before commission is an amount, not a rate. Write its amount.",
        ),
        (
            plain_case(costs=[{"amount": "5", "before_commission": True, "borne_by": "both"}]),
            "costs[0].borne_by: A cost before commission is the owner's. Write owner, or take it after commission.",
        ),
        (
            plain_case(costs=[{"amount": "5"}, {"amount": "5", "of": "buyer_pays"}]),
            "costs[1].of: Only a rate is taken of something; this cost is an amount. Leave it out, or write a rate.",
        ),
        (
            plain_case(referral={}),
            "referral.rate: The referral has no fee. Write a rate or a fixed amount, or null for none.",
        ),
        (
            plain_case(referral={"rate": "5%", "fixed": "5"}),
            "referral.fixed: The referral has both a rate and a fixed amount. Leave one of them out.",
        ),
        (
            plain_case(referral={"fixed": "5", "of": "commission"}),
            "referral.of: Only a rate is taken of something; this fee is fixed. Leave it out, or write a rate.",
        ),
        (
            plain_case(tax={"scheme": "none", "rate": "5%"}),
            "tax.rate: Without a tax scheme there is no rate. Leave the rate out, or write the scheme.",
        ),
        (
            plain_case(tax={"rate": "5%"}),
            "tax.rate: Without a tax scheme there is no rate. Leave the rate out, or write the scheme.",
        ),
        (
            plain_case(tax={"scheme": "margin"}),
            "tax.rate: The scheme margin needs a rate. Write it, such as 20%.",
        ),
        (
            plain_case(tax={"scheme": "margin", "rate": "20%", "taxable": "5"}),
            "tax.taxable: Only sales tax has a taxable amount of its own. Leave it out, or write the scheme sales_tax.",
        ),
        (
            plain_case(tax={"scheme": "vat_on_commission", "rate": "20%", "exempt": True}),
            "tax.exempt: Only sales tax knows an exempt sale. Write false, or the scheme sales_tax.",
        ),
        (
            plain_case(owners=[{"name": "A", "share": "1/3"}, {"name": "B", "share": "1/3"}]),
            "owners: The shares sum to 2/3, not to exactly 1. Change a share, or write thirds as 1/3.",
        ),
        (
            plain_case(owners=[{"name": "A", "share": "33.33%"}, {"name": "B", "share": "66.66%"}]),
            "owners: The shares sum to 9999/10000, not to exactly 1. Change a share, or write thirds as 1/3.",
        ),
        (
            plain_case(owners=[]),
            "owners: The shares sum to 0, not to exactly 1. Change a share, or write thirds as 1/3.",
        ),
        (
            plain_case(owners=[{"name": " ", "share": "1"}]),
            "owners[0].name: The owner has no name. Write it in quotes.",
        ),
    ],
)
def test_a_refusal_is_one_line_from_its_field_to_what_would_be_right(case: object, line: str) -> None:
    assert refusal(case) == line


def test_shares_of_huge_denominators_are_refused_in_a_short_line() -> None:
    members = [{"name": f"heir {n}", "share": f"1/{10**28 + n}"} for n in range(199)]
    line = refusal(plain_case(owners=[*members, {"name": "last", "share": "1"}]))
    assert line.startswith("owners: The shares sum to nearly 100%")
    assert len(line) < 150


def test_terms_that_do_not_fit_are_refused_whatever_the_discount() -> None:
    # A discount of nothing: the terms contradict themselves all the same.
    line = refusal(commission({"net_to_owner": "500"}, discount_borne_by="owner"))
    assert line.startswith("terms.discount_borne_by: ")
    assert refusal(commission({"net_to_owner": "500"}, least="0")).startswith("terms.least: ")


def test_values_that_a_form_could_hand_in_are_checked_like_a_files() -> None:
    euro = Money.parse("5", "EUR")
    wrong: list[tuple[Case, str]] = [
        (replace(sale("1000"), price=euro), "price"),
        (sale("1000", asking=euro), "asking"),
        (sale("1000", paid=euro), "paid"),
        (sale("1000", terms=Terms(CommissionFixed(euro))), "terms.commission.fixed"),
        (sale("1000", terms=Terms(CommissionRate(percent("20")), floor=euro)), "terms.floor"),
        (sale("1000", terms=Terms(CommissionRate(Fraction(3, 2)))), "terms.commission.rate"),
        (sale("1000", terms=Terms(CommissionRate(Fraction(-1, 2)))), "terms.commission.rate"),
        (sale("1000", costs=(Cost("bridge", -usd("5")),)), "costs[0].amount"),
        (sale("1000", costs=(Cost("bridge", euro),)), "costs[0].amount"),
        (replace(sale("1000"), currency="XYZ"), "currency"),
    ]
    for case, field in wrong:
        with pytest.raises((Typed, Refused)) as refused:
            check(case)
        assert refused.value.field == field
