"""Short ways to write cases in tests: amounts and rates as text, one small sound case to change."""

from __future__ import annotations

import json
from fractions import Fraction
from io import StringIO
from pathlib import Path
from typing import Any

from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.money import Money
from shopledger.rules.case_file import answer_file
from shopledger.rules.case_form import line_of, parse_json
from shopledger.rules.reckon_case import case_of
from shopledger.rules.reckon_file import RECKONING
from shopledger.rules.reckoning import reckon
from shopledger.rules.split import Split
from shopledger.rules.terms import Case, CommissionRate, Terms


def usd(text: str) -> Money:
    """Give an amount in US dollars."""
    return Money.parse(text, "USD")


def percent(text: str) -> Fraction:
    """Give so many in a hundred."""
    return Fraction(text) / 100


def sale(price: str, **facts: Any) -> Case:
    """Give a case in US dollars at a commission of a fifth, with other facts as told."""
    return Case(
        currency="USD",
        price=usd(price),
        terms=facts.pop("terms", Terms(CommissionRate(Fraction(1, 5)))),
        **facts,
    )


def written(case: object) -> Split:
    """Give the split of a case in its written form, given as text or as a plain dictionary."""
    text = case if isinstance(case, str) else json.dumps(case)
    return reckon(case_of(parse_json(text)))


def refusal(case: object) -> str:
    """Give the one line that refuses a written case."""
    try:
        written(case)
    except (Typed, Refused) as error:
        return line_of(error)
    raise AssertionError(f"not refused: {case!r}")


def run(path: Path | str, *, as_json: bool = True) -> tuple[int, str, str]:
    """Give exit status, standard output and error output of the command on a file."""
    out, err = StringIO(), StringIO()
    status = answer_file(RECKONING, str(path), as_json, out, err)
    return status, out.getvalue(), err.getvalue()


def plain_case(**changes: Any) -> dict[str, Any]:
    """Give a small sound case in its written form with some keys changed; the key `terms` is merged."""
    terms = {"commission": {"rate": "20%"}} | changes.pop("terms", {})
    return {"currency": "USD", "price": "1000.00", "terms": terms} | changes


EXAMPLE: dict[str, Any] = {
    "currency": "USD",
    "asking": "12000.00",
    "price": "11250.00",
    "terms": {
        "commission": {"rate": "20%"},
        "discount_borne_by": "as_it_falls",
        "floor": "8500.00",
        "pay_owner": "when_paid_in_full",
    },
    "costs": [{"what": "new bridge", "amount": "180.00", "borne_by": "owner", "before_commission": False}],
    "referral": None,
    "tax": {"scheme": "sales_tax", "rate": "8.25%", "exempt": False},
    "owners": None,
    "paid": "5000.00",
    "make_up": False,
}
"""The example of the written form."""
