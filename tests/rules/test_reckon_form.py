"""The strict reading of the written form: kinds, keys twice or unknown, numbers, words, limits."""

from __future__ import annotations

import json
from typing import Any

import pytest

from shopledger.quantities.errors import Typed
from shopledger.rules.case_form import LONGEST_LIST, LONGEST_TEXT, parse_json
from tests.rules.written import plain_case, refusal, usd, written


@pytest.mark.parametrize(
    ("text", "line"),
    [
        (
            '{"currency": "USD", "price": "5", "price": "6"}',
            "price: This key stands here twice. Keep one of the two.",
        ),
        (
            '{"currency": "USD", "price": "5", "terms": {"commission": {"rate": "5%", "rate": "5%"}}}',
            "terms.commission.rate: This key stands here twice. Keep one of the two.",
        ),
        (
            '{"currency": "USD", "price": 5.00, "terms": {}}',
            'price: Here stands the number 5.00. Write the amount as text, such as "1250.00".',
        ),
        (
            '{"currency": "USD", "price": NaN, "terms": {}}',
            'price: Here stands the number NaN. Write the amount as text, such as "1250.00".',
        ),
        (
            '{"currency": "USD", "price": -Infinity, "terms": {}}',
            'price: Here stands the number -Infinity. Write the amount as text, such as "1250.00".',
        ),
        ('{"currency": 5}', 'currency: Here stands the number 5. Write the currency as text, such as "USD".'),
        ("{}", 'currency: This is missing. Write it, such as "USD".'),
        ('{"currency": null}', 'currency: This is missing. Write it, such as "USD".'),
        ('{"currency": "USD"}', 'price: This is missing. Write it, such as "1250.00".'),
        (
            '{"currency": "USD", "price": "5"}',
            'terms: This is missing. Write it, such as {"commission": {"rate": "20%"}}.',
        ),
        (
            '{"currency": "USD", "price": "5", "terms": {}}',
            'terms.commission: This is missing. Write it, such as {"rate": "20%"}.',
        ),
    ],
)
def test_what_is_not_exactly_the_form_is_refused(text: str, line: str) -> None:
    assert refusal(text) == line


@pytest.mark.parametrize(
    ("changes", "line"),
    [
        ({"prise": "5"}, "prise: This key is not known. The nearest known one is price."),
        ({"Price": "5"}, "Price: This key is not known. The nearest known one is price."),
        (
            {"terms": {"leest": "5"}},
            "terms.leest: This key is not known. The nearest known one is least.",
        ),
        (
            {"tax": {"zzz": "5"}},
            "tax.zzz: This key is not known. Known are scheme, rate, taxable, exempt, exempt_reason.",
        ),
        (
            {"costs": [{"amount": "5"}, {"amout": "5"}]},
            "costs[1].amout: This key is not known. The nearest known one is amount.",
        ),
        ({"owners": [{"nam": "A"}]}, "owners[0].nam: This key is not known. The nearest known one is name."),
        (
            {"referral": {"fixd": "5"}},
            "referral.fixd: This key is not known. The nearest known one is fixed.",
        ),
        ({"make_up": "yes"}, "make_up: Here stands the text “yes”. Write true or false, without quotes."),
        ({"make_up": 1}, "make_up: Here stands the number 1. Write true or false, without quotes."),
        ({"approval_over": []}, "approval_over: Here stands a list. Write true or false, without quotes."),
        ({"costs": {}}, "costs: Here stands an object. Write a list in square brackets."),
        (
            {"costs": [None]},
            "costs[0]: Here stands null. Write an object with these keys: what, amount, rate, of, borne_by, "
            "before_commission.",
        ),
        (
            {"costs": [{"amount": "5", "what": 5}]},
            "costs[0].what: Here stands the number 5. Write text in quotes.",
        ),
        (
            {"terms": {"pay_owner": "when_paid"}},
            "terms.pay_owner: “when_paid” is not known here. The nearest is when_paid_in_full; known are "
            "when_paid_in_full, as_money_clears.",
        ),
        (
            {"terms": {"discount_borne_by": "buyer"}},
            "terms.discount_borne_by: “buyer” is not known here. Write one of as_it_falls, owner, shop.",
        ),
        (
            {"tax": {"scheme": "salestax", "rate": "5%"}},
            "tax.scheme: “salestax” is not known here. The nearest is sales_tax; known are none, sales_tax, "
            "vat_on_commission, margin.",
        ),
        (
            {"tax": {"scheme": True}},
            "tax.scheme: Here stands true. Write one of the words allowed, in quotes.",
        ),
        (
            {"costs": [{"amount": "5", "borne_by": "Owner"}]},
            "costs[0].borne_by: “Owner” is not known here. The nearest is owner; known are owner, shop, both.",
        ),
        (
            {"referral": {"fixed": "5", "disclosed_to": ["byer"]}},
            "referral.disclosed_to[0]: “byer” is not known here. The nearest is buyer; known are buyer, owner.",
        ),
        (
            {"referral": {"fixed": "5", "disclosed_to": [5]}},
            "referral.disclosed_to[0]: Here stands the number 5. Write buyer or owner, in quotes.",
        ),
        (
            {"referral": {"fixed": "5", "disclosed_to": "buyer"}},
            "referral.disclosed_to: Here stands the text “buyer”. Write a list in square brackets.",
        ),
        (
            {"terms": {"commission": "20%"}},
            "terms.commission: Here stands the text “20%”. Write an object with these keys: rate, brackets, fixed, "
            "net_to_owner.",
        ),
        (
            {"terms": {"commission": {"rate": 0.2}}},
            'terms.commission.rate: Here stands the number 0.2. Write the rate as text, such as "20%".',
        ),
        (
            {"tax": {"scheme": "sales_tax", "rate": "5%", "exempt_reason": "x" * (LONGEST_TEXT + 1)}},
            "tax.exempt_reason: This has 501 characters. Write at most 500.",
        ),
        (
            {"costs": [{"amount": "5"}] * (LONGEST_LIST + 1)},
            "costs: This list has 201 members. Write at most 200.",
        ),
        (
            {"owners": [{"name": "\ud800", "share": "1"}]},
            "owners[0].name: This holds half a character (a lone surrogate). Write it anew.",
        ),
        (
            {"a\nb\u2028": "5"},
            "a\ufffdb\ufffd: This key is not known. Known are currency, asking, price, terms, costs, "
            "referral, tax, owners, paid, make_up, approval_over.",
        ),
    ],
)
def test_the_refusal_names_the_field_and_what_would_be_right(changes: dict[str, Any], line: str) -> None:
    assert refusal(plain_case(**changes)) == line


def test_null_stands_for_a_key_left_out() -> None:
    nothing = dict.fromkeys(
        ("asking", "costs", "referral", "tax", "owners", "paid", "make_up", "approval_over")
    )
    terms = {"commission": {"rate": "20%", "fixed": None}} | dict.fromkeys(
        ("least", "most", "discount_borne_by", "floor", "pay_owner")
    )
    assert written(plain_case(**nothing, terms=terms)) == written(plain_case())
    tax = {"scheme": None, "rate": None, "taxable": None, "exempt": None, "exempt_reason": None}
    assert written(plain_case(tax=tax)) == written(plain_case())
    cost = {
        "what": None,
        "amount": "5",
        "rate": None,
        "of": None,
        "borne_by": None,
        "before_commission": None,
    }
    assert written(plain_case(costs=[cost])) == written(plain_case(costs=[{"amount": "5"}]))


def test_the_order_of_keys_does_not_matter() -> None:
    case = plain_case(paid="500")
    assert written(dict(reversed(case.items()))) == written(case)


def test_a_rule_of_the_shop_needs_no_more_than_currency_price_and_commission() -> None:
    split = written('{"currency": "USD", "price": "1000", "terms": {"commission": {"fixed": "200"}}}')
    assert (split.commission, split.owner_net, split.due_now) == (usd("200"), usd("800"), None)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "This is not JSON: line 1, column 1"),
        ("{", "This is not JSON: line 1, column 2"),
        ('{"a": 1,}', "This is not JSON"),
        ('{"a": 01}', "This is not JSON"),
        ("{'a': 1}", "This is not JSON"),
        ('{"a": "\n"}', "This is not JSON"),
        ("[1] [2]", "This is not JSON: line 1, column 5"),
        ("[" * 2_000_000, "nested far too deep"),
        ('{"a":' * 500_000, "nested far too deep"),
        ("[" + ",".join(["{}"] * 100_001) + "]", "more than 100000 objects"),
    ],
)
def test_what_is_not_json_or_beyond_reason_is_refused_whole(text: str, says: str) -> None:
    with pytest.raises(Typed, match=says):
        parse_json(text)


def test_numbers_are_kept_as_written_however_long() -> None:
    long = "9" * 100_000
    assert parse_json(f"[{long}, 1.50, 1e400, NaN]") == [long, "1.50", "1e400", "NaN"]
    line = refusal(f'{{"currency": "USD", "price": {long}}}')
    assert line.startswith("price: Here stands the number 9999")
    assert len(line) < 150


def test_every_refusal_of_a_huge_value_stays_short() -> None:
    huge = "9" * 100_000
    for key, value in (("price", huge), ("currency", huge), ("paid", huge), (huge, "5"), ("make_up", huge)):
        line = refusal(json.dumps(plain_case() | {key: value}))
        assert len(line) < 250
        assert len(line.splitlines()) == 1
