"""Work that nobody collects: when a reminder is due, and what of a sale for what is owed belongs to the owner.

Rules on uncollected goods and on a repairer's right to sell them differ by place: what may be done, after which
notices and after how long, is for local law to say and for someone who knows it to be asked.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date, timedelta

from shopledger.quantities.money import Money

REMINDER_DAYS = (30, 60, 90)
"""After how many days of waiting a letter goes out; common practice, no source."""


def reminder_due(since: date, on: date, sent: Collection[int]) -> int | None:
    """Give which reminder is due on a day: the latest that waiting has reached, None where it went out already.

    Units:  days since it was ready, or since the work was declined.
    """
    reached = [days for days in REMINDER_DAYS if since + timedelta(days=days) <= on]
    if not reached or max(sent, default=0) >= reached[-1]:
        return None
    return reached[-1]


def next_reminder(since: date, sent: Collection[int]) -> date | None:
    """Give the day on which the next reminder falls due, None where the last went out."""
    left = [days for days in REMINDER_DAYS if days > max(sent, default=0)]
    return since + timedelta(days=left[0]) if left else None


@dataclass(frozen=True, slots=True)
class LienSplit:
    """Where the price of what was sold for what was owed goes.

    Shape:  `to_shop` and `surplus` and what `price` bears of the costs are the price; `costs_left` is what it doesn't
            bear, which stays with the shop.
    """

    to_shop: Money
    surplus: Money
    costs_left: Money


def lien_split(price: Money, due: Money, costs: Money) -> LienSplit:
    """Give what of a price goes to the costs of the sale, to what was owed, and as the surplus to the owner.

    Source:  California Civil Code 3051 and 3052 (costs and what is due are kept, the remainder is the owner's).
    """
    left = max(price - costs, Money.zero(price.currency))
    to_shop = min(left, due)
    return LienSplit(to_shop, left - to_shop, max(costs - price, Money.zero(price.currency)))
