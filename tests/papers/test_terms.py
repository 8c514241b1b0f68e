"""The terms of an agreement in plain words: every rule, every bearer, every charge says what was agreed."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import Any

import pytest

from shopledger.papers.parts import (
    BracketFacts,
    ChargeTermFacts,
    CommissionFacts,
    CostTermFacts,
    TermsFacts,
)
from shopledger.papers.terms import clauses_of
from shopledger.papers.terms_money import commission_words
from tests.papers.sample_things import usd

PLAIN = TermsFacts(
    asking=usd("12000.00"),
    commission=CommissionFacts(rate=Fraction(1, 5)),
    begins_on=date(2026, 3, 4),
    ends_on=date(2027, 3, 3),
)


def _clause(head: str, **changes: Any) -> str:
    """Give the sentences of one clause."""
    [clause] = [one for one in clauses_of(replace(PLAIN, **changes)) if one.head == head]
    return " ".join(clause.says)


def test_every_clause_is_there_in_order_and_says_something() -> None:
    clauses = clauses_of(PLAIN)
    assert [clause.head for clause in clauses] == [
        *("Asking price", "Commission", "Discount", "Costs", "Referral", "Lowest net to owner"),
        *("When the owner is paid", "Term and ending", "Insurance", "Trials", "Repairs", "Other dealers"),
        *("Charges without a sale", "Sale by the owner", "A sale undone", "Loss", "Bill of sale", "Further"),
    ]
    assert all(clause.says for clause in clauses if clause.head != "Further")


@pytest.mark.parametrize(
    ("commission", "says"),
    [
        (
            CommissionFacts(rate=Fraction(1, 5)),
            "The shop’s commission is 20% of the price the buyer agrees to, before any sales tax.",
        ),
        (
            CommissionFacts(rate=Fraction(1, 5), least=usd("500.00")),
            "The shop’s commission is 20% of the price the buyer agrees to, before any sales tax. "
            "It is at least USD 500.00.",
        ),
        (
            CommissionFacts(fixed=usd("900.00"), most=usd("950.00")),
            "The shop’s commission is USD 900.00, whatever the price. It is at most USD 950.00.",
        ),
        (
            CommissionFacts(fixed=usd("900.00"), least=usd("800.00"), most=usd("950.00")),
            "The shop’s commission is USD 900.00, whatever the price. "
            "It is at least USD 800.00 and at most USD 950.00.",
        ),
        (
            CommissionFacts(
                brackets=(
                    BracketFacts(up_to=usd("5000.00"), rate=Fraction(3, 10)),
                    BracketFacts(up_to=usd("20000.00"), rate=Fraction(1, 5)),
                    BracketFacts(rate=Fraction(12, 100)),
                )
            ),
            "The shop’s commission is reckoned slice by slice of the price the buyer agrees to, before any sales tax: "
            "30% of the first USD 5,000.00; 20% of what lies between 5,000.00 and 20,000.00; 12% of what lies above "
            "20,000.00. The slices are added up.",
        ),
        (
            CommissionFacts(brackets=(BracketFacts(rate=Fraction(1, 10)),)),
            "The shop’s commission is reckoned slice by slice of the price the buyer agrees to, before any sales tax: "
            "10% of all of it. The slices are added up.",
        ),
    ],
)
def test_each_commission_rule_is_said(commission: CommissionFacts, says: str) -> None:
    assert " ".join(commission_words(replace(PLAIN, commission=commission))) == says


def test_a_promised_net_says_what_comes_off_it_and_that_the_price_is_shown() -> None:
    says = _clause("Commission", commission=CommissionFacts(net_to_owner=usd("9000.00"), most=usd("4000.00")))
    for part in (
        "promised USD 9,000.00",
        "at most USD 4,000.00; the rest is the owner’s",
        "is not made",
        "shows the price",
    ):
        assert part in says


def test_vat_on_the_commission_is_said() -> None:
    assert "VAT of 20% on the commission" in _clause("Commission", vat_on_commission=Fraction(1, 5))


@pytest.mark.parametrize("borne_by", ["owner", "shop"])
def test_a_discount_one_side_bears_is_reckoned_of_the_asking_price(borne_by: str) -> None:
    assert "20% of the asking price, or of the price where that is higher" in _clause(
        "Commission", discount_borne_by=borne_by
    )


def test_costs_before_commission_are_named_in_the_base() -> None:
    cost = CostTermFacts(what="Valuation", amount=usd("90.00"), before_commission=True)
    assert "less the costs that come off before commission" in _clause("Commission", costs=(cost,))
    assert "it comes off before commission is reckoned" in _clause("Costs", costs=(cost,))


@pytest.mark.parametrize(
    ("head", "changes", "says"),
    [
        ("Asking price", {}, "It changes only with the owner’s consent"),
        (
            "Asking price",
            {"asking_not_below": usd("11000.00")},
            "to no less than USD 11,000.00 without asking",
        ),
        ("Asking price", {"owner_approves_each_sale": True}, "asks the owner before each sale"),
        ("Discount", {}, "borne as it falls"),
        ("Discount", {"discount_borne_by": "owner"}, "A discount is the owner’s"),
        ("Discount", {"discount_borne_by": "shop"}, "comes off the commission"),
        (
            "Costs",
            {"freight_borne_by": "both"},
            "Freight: at what it costs, borne half by each, an odd cent",
        ),
        (
            "Costs",
            {
                "costs": (
                    CostTermFacts(
                        what="Card fee", rate=Fraction(3, 100), rate_of="buyer_pays", borne_by="shop"
                    ),
                )
            },
            "Card fee: 3% of what the buyer pays, borne by the shop.",
        ),
        (
            "Costs",
            {"costs": (CostTermFacts(what="Fee", rate=Fraction(1, 100)),)},
            "Fee: 1% of the price, borne by the owner.",
        ),
        (
            "Costs",
            {"costs": (CostTermFacts(what="Bridge"),)},
            "Bridge: at what it costs, borne by the owner.",
        ),
        ("Referral", {}, "The shop bears the fee unless the owner agrees in writing"),
        ("Referral", {"referral_borne_by": "owner"}, "The fee is borne by the owner."),
        ("Lowest net to owner", {}, "No lowest net is agreed."),
        ("Lowest net to owner", {"floor": usd("8500.00")}, "at least USD 8,500.00"),
        (
            "When the owner is paid",
            {},
            "the money has cleared. The shop then pays within 30 days.",
        ),
        (
            "When the owner is paid",
            {"pay_owner": "as_money_clears"},
            "as the buyer’s money clears, in proportion",
        ),
        ("When the owner is paid", {"approval_days": 1}, "within 1 day; nothing is paid out"),
        ("When the owner is paid", {"pay_within_days": 1}, "pays within 1 day."),
        ("When the owner is paid", {"pay_within_days": 0}, "has cleared. Until then it holds the money"),
        ("Term and ending", {}, "from 4 Mar 2026 to 3 Mar 2027. It does not renew by itself"),
        ("Term and ending", {"notice_days": 1}, "in writing 1 day before."),
        ("Term and ending", {"notice_days": 0}, "at any time"),
        ("Insurance", {}, "The shop insures the instrument"),
        (
            "Insurance",
            {"insured_by": "owner", "agreed_value": usd("9500.00")},
            "agreed value is USD 9,500.00.",
        ),
        ("Insurance", {"insured_by": "nobody"}, "not insured while it is with the shop"),
        ("Insurance", {"insurance_note": "Excess USD 500.00."}, "Excess USD 500.00."),
        ("Trials", {}, "lend it to players on trial, against a signed receipt"),
        ("Trials", {"trial_days": 10}, "for up to 10 days at a time"),
        ("Trials", {"trials_allowed": False}, "does not leave the shop on trial"),
        ("Repairs", {}, "repairs nothing without the owner’s consent"),
        ("Repairs", {"repairs_allowed": True}, "asks before each repair"),
        (
            "Repairs",
            {"repairs_allowed": True, "repairs_up_to": usd("250.00")},
            "up to USD 250.00 without asking",
        ),
        ("Repairs", {"repairs_borne_by": "both"}, "Repairs are borne half by each"),
        ("Repairs", {"set_off": True}, "is set off against what the owner is paid"),
        ("Repairs", {"set_off": False}, "not set off"),
        ("Other dealers", {}, "does not pass the instrument on"),
        ("Other dealers", {"dealers_allowed": True}, "to sell. That costs the owner nothing more."),
        (
            "Other dealers",
            {"dealers_allowed": True, "other_dealer_share": Fraction(1, 2)},
            "who has 50% of the shop’s commission",
        ),
        ("Charges without a sale", {}, "The shop charges nothing"),
        (
            "Charges without a sale",
            {"charges": (ChargeTermFacts(what="withdrawal", rate=Fraction(1, 100)),)},
            "For taking it back before the term is over: 1% of the asking price, once.",
        ),
        (
            "Charges without a sale",
            {"charges": (ChargeTermFacts(what="storage", amount=usd("20.00"), per="month", after_days=90),)},
            "For storage: USD 20.00 a month, from 90 days after taking in.",
        ),
        (
            "Charges without a sale",
            {"charges": (ChargeTermFacts(what="insurance", per="year"),)},
            "For insurance: at what it costs a year.",
        ),
        ("Sale by the owner", {}, "no commission is due"),
        ("Sale by the owner", {"private_sale_commission": True}, "within the term, the commission is due"),
        ("Sale by the owner", {"private_sale_commission": True, "tail_days": 60}, "or 60 days after it"),
        ("A sale undone", {}, "borne by the shop. What the owner was paid for it comes back. A deposit"),
        (
            "A sale undone",
            {"failed_sale_costs_by": "owner"},
            "Costs really spent on it are borne by the owner.",
        ),
        (
            "A sale undone",
            {"deposit_to_owner": Fraction(1, 2), "deposit_to_shop": Fraction(1, 4)},
            "the owner has 50% and the shop 25%. The rest goes back to the buyer.",
        ),
        ("A sale undone", {"deposit_to_owner": Fraction(1)}, "the owner has 100% and the shop 0%."),
        (
            "Loss",
            {},
            "holds its agreed value for the owner. No commission comes off that. An excess that the insurer",
        ),
        (
            "Loss",
            {"agreed_value": usd("9500.00"), "loss_commission": True},
            "USD 9,500.00 for the owner. Its",
        ),
        ("Loss", {"excess_borne_by": "owner"}, "keeps is the owner’s."),
        ("Bill of sale", {}, "as the owner’s agent"),
        ("Bill of sale", {"bill_signed_by": "owner"}, "The owner signs"),
        ("Further", {"further_words": ("Played on Thursdays.",)}, "Played on Thursdays."),
    ],
)
def test_each_term_is_said(head: str, changes: dict[str, Any], says: str) -> None:
    assert says in _clause(head, **changes)
