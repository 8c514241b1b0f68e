"""What a line of a sale posts: pure, so that acts book it and a proof compares it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from shopledger.rules.journal import Amount


@dataclass(frozen=True, slots=True)
class OwnerNet:
    """An owner's part of a line's net; `is_shop` where the shop is that owner."""

    person_id: int
    net: int
    is_shop: bool = False


@dataclass(frozen=True, slots=True)
class Fee:
    """A fee to a third person: the whole of it, and the part the shop bears."""

    person_id: int
    whole: int
    by_shop: int


@dataclass(frozen=True, slots=True, kw_only=True)
class LineFigures:
    """The figures of one line that reach the journal.

    Units:  minor units of the ledger's currency.
    Shape:  `kind` is that of the line; `cost` is what the shop's own thing cost it, also an accessory that it keeps
            count of.
    """

    kind: str
    buyer_id: int
    price: int
    buyer_pays: int
    sales_tax: int = 0
    commission: int = 0
    owner_costs: int = 0
    shop_costs: int = 0
    vat_on_commission: int = 0
    margin_vat: int = 0
    cost: int = 0
    owners: tuple[OwnerNet, ...] = ()
    fees: tuple[Fee, ...] = ()


REVENUE = {"own": "own_sales", "accessory": "goods_sales", "work": "goods_sales", "freight": "freight"}
"""Where the price of what is the shop's own goes; of a consigned line only the commission is income."""


def line_amounts(line: LineFigures) -> tuple[Amount, ...]:
    """Give the amounts a line of a sale posts; they sum to zero where the line conserves."""
    amounts = [
        Amount("buyers", line.buyer_pays, line.buyer_id),
        Amount("sales_tax", -line.sales_tax),
        Amount("vat", -line.vat_on_commission - line.margin_vat),
        Amount("margin_vat", line.margin_vat),
        Amount("goods_used" if line.kind == "accessory" else "cost_of_sales", line.cost),
        Amount("goods" if line.kind == "accessory" else "stock", -line.cost),
    ]
    if line.kind == "consigned":
        amounts += [
            Amount("commission", -line.commission),
            Amount("sale_costs", -line.owner_costs - line.shop_costs),
            Amount("selling_costs", line.shop_costs),
            *_fees(line.fees),
            *(_owner(owner) for owner in line.owners),
        ]
    else:
        amounts.append(Amount(REVENUE[line.kind], -line.price))
    return tuple(amount for amount in amounts if amount.minor)


def _fees(fees: Sequence[Fee]) -> list[Amount]:
    return [
        amount
        for fee in fees
        for amount in (Amount("fees_due", -fee.whole, fee.person_id), Amount("fees_paid", fee.by_shop))
    ]


def _owner(owner: OwnerNet) -> Amount:
    if owner.is_shop:
        return Amount("own_sales", -owner.net)
    return Amount("owners_pending" if owner.net >= 0 else "owners_owe", -owner.net, owner.person_id)
