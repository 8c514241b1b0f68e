"""Random cases of the written form, sound ones and spoiled ones, from a seed."""

from __future__ import annotations

import copy
from collections.abc import Callable
from random import Random
from typing import Any

from tests.rules.independent import DECIMALS

Case = dict[str, Any]


def amount(dice: Random, currency: str, most_units: int = 60_000) -> str:
    """Give an amount that may be round, odd, or written with fewer decimals than its currency has."""
    places = DECIMALS[currency]
    units = dice.choice([dice.randint(0, most_units), dice.randint(0, most_units), dice.randint(0, 300)])
    if not places:
        return str(units)
    whole, part = divmod(units, 10**places)
    if dice.random() < 0.2:
        return str(whole)
    return f"{whole}.{part:0{places}d}"


def rate(dice: Random) -> str:
    """Give a rate in one of the three ways to write it."""
    return dice.choice(
        [
            f"{dice.randint(0, 40)}%",
            f"{dice.randint(0, 3000) / 100:.2f}%",
            f"0.{dice.randint(0, 4999):04d}",
            f"{dice.randint(0, 5)}/{dice.randint(5, 12)}",
            "0%",
            "100%",
            "33.333%",
            "12.5%",
        ]
    )


def maybe(dice: Random, record: Case, key: str, make: Callable[[], object], chance: float = 0.4) -> None:
    """Put the key into the record, leave it out, or write null for it."""
    if dice.random() < chance:
        record[key] = make()
    elif dice.random() < 0.2:
        record[key] = None


def commission(dice: Random, currency: str) -> Case:
    """Give one of the four rules."""
    kind = dice.choice(["rate", "rate", "brackets", "brackets", "fixed", "net_to_owner"])
    if kind == "rate":
        return {"rate": rate(dice)}
    if kind == "fixed":
        return {"fixed": amount(dice, currency, 9_000)}
    if kind == "net_to_owner":
        return {"net_to_owner": amount(dice, currency, 40_000)}
    bounds = sorted({dice.randint(1, 500) for _ in range(dice.randint(0, 4))})
    return {
        "brackets": [*[{"up_to": str(bound), "rate": rate(dice)} for bound in bounds], {"rate": rate(dice)}]
    }


def cost(dice: Random, currency: str) -> Case:
    """Give a cost: before or after commission, an amount or a rate."""
    row: Case = {"what": dice.choice(["new bridge", "freight", "valuation", "{rehair}", ""])}
    if dice.random() < 0.25:
        row |= {"amount": amount(dice, currency, 4_000), "before_commission": True}
        maybe(dice, row, "borne_by", lambda: "owner")
        return row
    if dice.random() < 0.5:
        row["amount"] = amount(dice, currency, 6_000)
    else:
        row["rate"] = rate(dice)
        maybe(dice, row, "of", lambda: dice.choice(["price", "buyer_pays"]))
    maybe(dice, row, "borne_by", lambda: dice.choice(["owner", "shop", "both"]), 0.7)
    maybe(dice, row, "before_commission", lambda: False)
    return row


def referral(dice: Random, currency: str) -> Case:
    """Give a referral fee."""
    row: Case = {}
    if dice.random() < 0.6:
        row["rate"] = rate(dice)
        maybe(dice, row, "of", lambda: dice.choice(["price", "commission"]), 0.7)
    else:
        row["fixed"] = amount(dice, currency, 5_000)
    maybe(dice, row, "borne_by", lambda: dice.choice(["owner", "shop", "both"]), 0.7)
    maybe(dice, row, "disclosed_to", lambda: dice.choice([[], ["buyer"], ["owner", "buyer"]]))
    return row


def tax(dice: Random, currency: str) -> Case:
    """Give a tax of any scheme."""
    scheme = dice.choice(["none", "sales_tax", "vat_on_commission", "margin"])
    row: Case = {"scheme": scheme}
    if scheme != "none":
        row["rate"] = rate(dice)
    if scheme == "sales_tax":
        maybe(dice, row, "taxable", lambda: amount(dice, currency), 0.3)
        maybe(dice, row, "exempt", lambda: dice.random() < 0.5)
        maybe(dice, row, "exempt_reason", lambda: "resale certificate")
    return row


def owners(dice: Random) -> list[Case]:
    """Give owners whose shares sum to one."""
    parts = [dice.randint(0, 5) for _ in range(dice.randint(1, 5))]
    parts[0] += 1
    whole = sum(parts)
    return [{"name": f"owner {n}", "share": f"{part}/{whole}"} for n, part in enumerate(parts)]


def sound_case(dice: Random) -> Case:
    """Give a case that is written rightly; the rules may refuse it all the same."""
    currency = dice.choice(["USD", "USD", "EUR", "JPY", "KWD"])
    terms: Case = {"commission": commission(dice, currency)}
    is_net = "net_to_owner" in terms["commission"]
    if not is_net or dice.random() < 0.05:
        maybe(dice, terms, "least", lambda: amount(dice, currency, 3_000), 0.3)
        maybe(dice, terms, "discount_borne_by", lambda: dice.choice(["as_it_falls", "owner", "shop"]), 0.6)
    maybe(dice, terms, "most", lambda: amount(dice, currency, 12_000), 0.3)
    maybe(dice, terms, "floor", lambda: amount(dice, currency, 45_000), 0.5)
    maybe(dice, terms, "pay_owner", lambda: dice.choice(["when_paid_in_full", "as_money_clears"]), 0.6)
    case: Case = {"currency": currency, "price": amount(dice, currency), "terms": terms}
    maybe(dice, case, "asking", lambda: amount(dice, currency), 0.6)
    maybe(dice, case, "costs", lambda: [cost(dice, currency) for _ in range(dice.randint(0, 4))], 0.6)
    maybe(dice, case, "referral", lambda: referral(dice, currency))
    maybe(dice, case, "tax", lambda: tax(dice, currency), 0.7)
    maybe(dice, case, "owners", lambda: owners(dice))
    maybe(dice, case, "paid", lambda: amount(dice, currency, 80_000), 0.6)
    maybe(dice, case, "make_up", lambda: dice.random() < 0.7, 0.6)
    maybe(dice, case, "approval_over", lambda: dice.random() < 0.7, 0.3)
    keys = list(case)
    dice.shuffle(keys)
    return {key: case[key] for key in keys}


WRONG_VALUES: list[object] = [
    "-1",
    "-0.01",
    "1e5",
    "NaN",
    "Infinity",
    "-Infinity",
    "",
    " 5",
    "5 ",
    "1,000",
    "1_000",
    "٣",
    "１２",
    "+5",
    "5.",
    ".5",
    "0x10",
    "1.23456",
    "9999999999999999",
    "200%",
    "-5%",
    "1/0",
    "a/b",
    "ten",
    "USB",
    "0",
    0,
    5,
    2.5,
    True,
    False,
    [],
    {},
    [1],
    {"rate": "5%"},
    "owner",
    "both",
    "20%",
    None,
]


def places(written: object) -> list[tuple[Any, Any]]:
    """Give every place of a case as its holder and its key or index."""
    found: list[tuple[Any, Any]] = []
    if isinstance(written, dict):
        for key, value in written.items():
            found.append((written, key))
            found += places(value)
    elif isinstance(written, list):
        for n, value in enumerate(written):
            found.append((written, n))
            found += places(value)
    return found


def spoiled(dice: Random, case: Case) -> Case:
    """Give a copy of the case with one thing changed that is often, not always, wrong."""
    written = copy.deepcopy(case)
    spots = places(written)
    holder, key = dice.choice(spots)
    kind = dice.random()
    if kind < 0.6:
        holder[key] = copy.deepcopy(dice.choice(WRONG_VALUES))
    elif kind < 0.75 and isinstance(holder, dict):
        del holder[key]
    elif kind < 0.9 and isinstance(holder, dict):
        holder[str(key) + dice.choice("sx")] = holder[key]
    else:
        other_holder, other_key = dice.choice(spots)
        holder[key] = copy.deepcopy(other_holder[other_key])
    return written
