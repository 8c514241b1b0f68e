"""Which caution consigned goods call for: whether the conditions of the filing rule may be met, by facts that are told.

A proposal to ask a lawyer about, never a decision. The limit is dated data with its source, kept beside the program.
"""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from functools import cache

from shopledger.quantities.assets import asset
from shopledger.quantities.errors import Trouble
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_

MAY_BE_MET, NOT_MET, NOT_SAID = "may_be_met", "not_met", ""
CONSUMER = "consumer"
"""The use of goods that makes them consumer goods: an amateur's own instrument."""


@dataclass(frozen=True, slots=True)
class Limit:
    """What a delivery has to be worth at least, from a day on, with the source that says so."""

    worth: Money
    from_on: date
    source: str


def parse_limits(text: str) -> tuple[Limit, ...]:
    """Give the limits that a text in TOML holds, the earliest first.

    Raises: Trouble: the text is no TOML, or a limit lacks a part.
    """
    try:
        limits = [
            Limit(Money.parse(row["worth"], row["currency"]), row["from"], row["source"])
            for row in tomllib.loads(text)["limit"]
        ]
        return tuple(sorted(limits, key=lambda limit: limit.from_on))
    except (tomllib.TOMLDecodeError, KeyError, TypeError, ValueError) as error:
        raise Trouble(
            N_("The limits of the filing rule can't be read ({said}). Install the program again."),
            said=str(error),
        ) from error


@cache
def limits() -> tuple[Limit, ...]:
    """Give the limits that come with the program; read once."""
    return parse_limits(asset("cautions", "filing.toml").read_text(encoding="utf-8"))


def filing_says(goods_use: str, values: Sequence[Money | None], currency: str, on: date) -> str:
    """Say whether the conditions of the filing rule may be met by one delivery; nothing where it can't be told.

    Shape:  `values` are those of everything delivered together, None where one isn't known: that leaves it open unless
            the others alone reach the limit. Consumer goods never meet the rule; goods whose use isn't known may.
    Source: Uniform Commercial Code, section 9-102(a)(20); in dollars only.
    """
    in_force = [limit for limit in limits() if limit.worth.currency == currency and limit.from_on <= on]
    if not in_force:
        return NOT_SAID
    if goods_use == CONSUMER:
        return NOT_MET
    known = sum(value.minor for value in values if value is not None)
    if known >= in_force[-1].worth.minor:
        return MAY_BE_MET
    return NOT_SAID if None in values else NOT_MET
