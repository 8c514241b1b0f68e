"""What a line of a sale posts: it balances, keeps the price out of income, and mirrors to the cent."""

from __future__ import annotations

import json
import random
from dataclasses import replace

import pytest

from shopledger.quantities.errors import Bug, LedgerError
from shopledger.rules.case_form import parse_json
from shopledger.rules.journal import Amount, balanced, mirrored
from shopledger.rules.posting import Fee, LineFigures, OwnerNet, line_amounts
from shopledger.rules.reckon_case import case_of
from shopledger.rules.reckon_written import case_from, case_text
from shopledger.rules.reckoning import reckon
from tests.rules.cases import sound_case

BUYER, OWNER, HEIR, SHOP, REFERRER = 11, 12, 13, 1, 14


def by_account(amounts: tuple[Amount, ...]) -> dict[tuple[str, int | None], int]:
    """Give what was posted by account and person."""
    return {(amount.account, amount.person_id): amount.minor for amount in balanced(amounts)}


def test_a_consigned_sale_earns_the_commission_and_the_price_is_no_income() -> None:
    # IFRS 15, B34 to B38 (agent): a consigned sale of 10,000 at 15% is revenue of 1,500.
    figures = LineFigures(
        kind="consigned",
        buyer_id=BUYER,
        price=1_000_000,
        buyer_pays=1_000_000,
        commission=150_000,
        owners=(OwnerNet(OWNER, 850_000),),
    )
    assert by_account(line_amounts(figures)) == {
        ("buyers", BUYER): 1_000_000,
        ("commission", None): -150_000,
        ("owners_pending", OWNER): -850_000,
    }


def test_the_shops_own_instrument_is_revenue_of_its_price() -> None:
    # IFRS 15, B34 to B38 (principal): the shop's own instrument at 10,000 is revenue of 10,000.
    figures = LineFigures(kind="own", buyer_id=BUYER, price=1_000_000, buyer_pays=1_000_000, cost=400_000)
    assert by_account(line_amounts(figures)) == {
        ("buyers", BUYER): 1_000_000,
        ("own_sales", None): -1_000_000,
        ("cost_of_sales", None): 400_000,
        ("stock", None): -400_000,
    }


def test_a_net_below_zero_is_the_owners_debt_and_the_shops_share_no_payout() -> None:
    figures = LineFigures(
        kind="consigned",
        buyer_id=BUYER,
        price=100,
        buyer_pays=100,
        commission=50,
        owner_costs=70,
        shop_costs=10,
        owners=(OwnerNet(OWNER, -30), OwnerNet(SHOP, 10, is_shop=True)),
    )
    posted = by_account(line_amounts(figures))
    assert posted["owners_owe", OWNER] == 30
    assert posted["own_sales", None] == -10
    assert posted["sale_costs", None] == -80
    assert posted["selling_costs", None] == 10


def test_every_reckoned_case_posts_in_balance_and_mirrors() -> None:
    seed = random.randrange(10**9)
    print(f"seed {seed}")
    chance = random.Random(seed)
    for _ in range(300):
        case = case_of(parse_json(json.dumps(sound_case(chance))))
        try:
            split = reckon(case)
        except LedgerError:
            continue
        assert case_from(case_text(case)) == replace(case, paid=None, approval_over=None)
        fee = split.referral_owner.minor + split.referral_shop.minor
        amounts = line_amounts(
            LineFigures(
                kind="consigned",
                buyer_id=BUYER,
                price=split.price.minor,
                buyer_pays=split.buyer_pays.minor,
                sales_tax=split.sales_tax.minor,
                commission=split.commission.minor,
                owner_costs=split.owner_costs.minor,
                shop_costs=split.shop_costs.minor,
                vat_on_commission=split.vat_on_commission.minor,
                margin_vat=split.margin_vat.minor,
                owners=(OwnerNet(OWNER, split.owner_net.minor),),
                fees=(Fee(REFERRER, fee, split.referral_shop.minor),),
            )
        )
        assert sum(amount.minor for amount in amounts) == 0
        assert [one.minor for one in mirrored(amounts)] == [-one.minor for one in amounts]


def test_an_entry_out_of_balance_or_with_a_person_too_few_is_a_bug() -> None:
    with pytest.raises(Bug, match="out of balance"):
        balanced([Amount("bank", 5), Amount("commission", -4)])
    with pytest.raises(Bug, match="out of balance"):
        balanced([Amount("bank", 0), Amount("commission", 0)])
    with pytest.raises(Bug, match="person"):
        balanced([Amount("buyers", 5), Amount("commission", -5)])
    with pytest.raises(Bug, match="person"):
        balanced([Amount("bank", 5, BUYER), Amount("commission", -5)])
