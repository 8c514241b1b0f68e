"""Selling: what each kind of line books, and what is refused."""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction
from typing import Any

import pytest

from shopledger.acts.selling_forms import ConsentRow, CostRow, PartExchangeRow, SellLine
from shopledger.quantities.errors import LedgerError, NotFound, Refused, Typed
from shopledger.quantities.money import Money
from tests.helpers.shops import FIRST_DAY, StillShop, TriedShop, eur, row

F = Fraction
EXEMPT: dict[str, Any] = {"tax_scheme": "sales_tax", "tax_rate": F(33, 400), "exempt": True}
TOLD: dict[str, Any] = {"told_buyer_on": FIRST_DAY, "told_owner_on": FIRST_DAY}


def consent(about: str, line: int = 1) -> ConsentRow:
    return ConsentRow(line=line, about=about, given_by="Orla Fenn", given_on=FIRST_DAY, how="by letter")


def test_a_consigned_sale_books_what_the_specification_reckons(any_shop: TriedShop) -> None:
    """The figures are those of the worked input and answer of the reckoning's specification."""
    shop = any_shop
    instrument = shop.consigned("12000.00", floor=eur("8500.00"))
    outcome: list[Any] = []
    booked = shop.booked(
        lambda: outcome.append(
            shop.with_papers(
                "sell",
                buyer_id=shop.buyer,
                lines=(shop.line(instrument, "11250.00"),),
                tax_scheme="sales_tax",
                tax_rate=F("0.0825"),
                costs=(CostRow(what="new bridge", amount=eur("180.00")),),
            )
        )
    )
    assert booked == [
        {
            "buyers Tam Brine": 1217813,
            "sales_tax": -92813,
            "commission": -225000,
            "sale_costs": -18000,
            "owners_pending Orla Fenn": -882000,
        }
    ]
    assert len(outcome[0].papers) == 2
    line = shop.sale_line(outcome[0].id)
    assert (line.discount, line.owner_net, line.shop_keeps, line.buyer_pays) == (
        75000,
        882000,
        225000,
        1217813,
    )


def test_an_account_sales_of_a_textbook(shop: TriedShop) -> None:
    # Textbook "Accounting Terminology Used in Consignment": realised 530,000, expenses 22,500, 6 % of gross, advance
    # 100,000: commission 31,800, 375,700 remitted. Read. The advance stands here as a debt that is set off.
    instrument = shop.consigned(
        "530000.00", commission_rate=F("0.06"), valuation_charge=eur("100000.00"), set_off=True
    )
    shop.act("charge_owner", instrument_id=instrument, kind="valuation")
    sale = shop.sold(instrument, "530000.00", costs=(CostRow(what="expenses", amount=eur("22500.00")),))
    line = shop.sale_line(sale)
    assert (line.commission, line.owner_net) == (3180000, 47570000)
    shop.pay(sale)
    booked = shop.booked(lambda: shop.act("settle", sale_id=sale))
    assert booked == [
        {
            "bank": 5430000 + 10000000,
            "bank_owners": -15430000,
            "owners_pending Orla Fenn": 47570000,
            "owners_held Orla Fenn": -37570000,
            "owners_owe Orla Fenn": -10000000,
        }
    ]


@pytest.mark.parametrize(
    ("cost", "price", "vat"),
    [("1500.00", "2000.00", 8333), ("1800.00", "2100.00", 5000), ("2000.00", "1700.00", 0)],
)
def test_the_margin_scheme_on_the_shops_own(shop: TriedShop, cost: str, price: str, vat: int) -> None:
    # HMRC VAT Notice 718, one sixth of the margin: 1,500 and 2,000 give 83.33; 1,800 and 2,100 50.00; a loss 0. Read.
    instrument = shop.own(cost, price)
    booked = shop.booked(
        lambda: shop.act(
            "sell",
            buyer_id=shop.buyer,
            lines=(shop.line(instrument, price, "own"),),
            tax_scheme="margin",
            tax_rate=F(1, 5),
        )
    )
    bought, sold = eur(cost).minor, eur(price).minor
    wanted = {
        "buyers Tam Brine": sold, "own_sales": -sold, "cost_of_sales": bought, "stock": -bought,
        "vat": -vat, "margin_vat": vat,
    }  # fmt: skip
    assert booked == [{account: minor for account, minor in wanted.items() if minor}]


def test_margin_and_vat_on_commission_of_a_consigned_line(shop: TriedShop) -> None:
    # HMRC VAT Notice 718, agents: sells 10,000 and keeps 15 %: margin 1,500, VAT 250.00. Derived.
    first = shop.consigned(commission_rate=F(3, 20))
    booked = shop.booked(lambda: shop.sold(first, tax_scheme="margin", tax_rate=F(1, 5)))
    assert booked[0]["vat"] == -25000
    assert booked[0]["margin_vat"] == 25000
    assert booked[0]["owners_pending Orla Fenn"] == -850000
    second = shop.consigned(commission_rate=F(3, 20))
    booked = shop.booked(lambda: shop.sold(second, tax_scheme="vat_on_commission", tax_rate=F(1, 5)))
    assert booked == [
        {
            "buyers Tam Brine": 1000000,
            "vat": -30000,
            "commission": -150000,
            "owners_pending Orla Fenn": -820000,
        }
    ]


def test_goods_and_freight_beside_an_instrument(shop: TriedShop) -> None:
    instrument = shop.consigned()
    booked = shop.booked(
        lambda: shop.act(
            "sell",
            buyer_id=shop.buyer,
            lines=(
                shop.line(instrument),
                SellLine(kind="accessory", what="rosin", quantity=3, price=eur("30.00")),
                SellLine(kind="freight", what="crate and carrier", price=eur("120.00"), taxable=False),
                SellLine(kind="work", what="soundpost", price=eur("60.00")),
            ),
            tax_scheme="sales_tax",
            tax_rate=F(1, 10),
        )
    )
    assert [{name: minor for name, minor in entry.items() if name != "sales_tax"} for entry in booked] == [
        {"buyers Tam Brine": 1100000, "commission": -200000, "owners_pending Orla Fenn": -800000},
        {"buyers Tam Brine": 3300, "goods_sales": -3000},
        {"buyers Tam Brine": 12000, "freight": -12000},
        {"buyers Tam Brine": 6600, "goods_sales": -6000},
    ]
    only_goods = shop.booked(
        lambda: shop.act(
            "sell_goods",
            buyer_id=shop.buyer,
            lines=(SellLine(kind="accessory", what="strings", price=eur("90.00")),),
        )
    )
    assert only_goods == [{"buyers Tam Brine": 9000, "goods_sales": -9000}]


def test_one_price_for_all_is_divided_by_asking_prices(shop: TriedShop) -> None:
    first, second = shop.consigned("9000.00"), shop.consigned("3000.00")
    sale = shop.act(
        "sell",
        buyer_id=shop.buyer,
        lines=(shop.line(first, None), shop.line(second, None)),
        price_in_all=eur("11000.01"),
    ).id
    # Three quarters and one quarter of 1,100,001: 825,000.75 and 275,000.25; the unit left goes to the larger fraction.
    assert [shop.sale_line(sale, n).price for n in (1, 2)] == [825001, 275000]


def test_a_discount_moved_to_a_consigned_line_needs_consent(shop: TriedShop) -> None:
    consigned, own = shop.consigned("8000.00"), shop.own("500.00", "2000.00")
    lines = (shop.line(consigned, "7000.00"), shop.line(own, "2000.00", "own"))
    given: dict[str, Any] = {"buyer_id": shop.buyer, "lines": lines, "price_in_all": eur("9000.00")}
    with pytest.raises(Refused) as caught:
        shop.act("sell", **given)
    assert caught.value.field == "lines[0].price"
    assert "7,200.00" in caught.value.sentence()
    shop.act("sell", **given, consents=(consent("discount"),))


def test_referral_second_dealer_and_costs(shop: TriedShop) -> None:
    instrument = shop.consigned(dealers_allowed=True)
    booked = shop.booked(
        lambda: shop.sold(
            instrument,
            referrer_id=shop.player,
            referral_rate=F(1, 20),
            referral_borne_by="both",
            dealer_id=shop.dealer,
            dealer_rate=F(1, 2),
            costs=(
                CostRow(what="valuation", amount=eur("100.00"), before_commission=True),
                CostRow(what="card", rate=F(1, 100), of="buyer_pays", borne_by="shop"),
            ),
            **TOLD,
        )
    )
    assert booked == [
        {
            "buyers Tam Brine": 1000000,
            "commission": -198000,
            "sale_costs": -20000,
            "selling_costs": 10000,
            "fees_due Ida Skerry": -50000,
            "fees_paid": 25000 + 99000,
            "fees_due Hull and Keel": -99000,
            "owners_pending Orla Fenn": -767000,
        }
    ]


def test_heirs_by_shares_and_the_shop_as_part_owner(shop: TriedShop) -> None:
    heirs = shop.consigned("10000.01", row(shop.owner, "1/3"), row(shop.other, "2/3"))
    booked = shop.booked(lambda: shop.sold(heirs, "10000.01"))
    # A fifth is 2,000.002: 2,000.00; the net 8,000.01 by thirds: 2,666.67 and 5,333.34.
    assert (booked[0]["owners_pending Orla Fenn"], booked[0]["owners_pending Ivo Marsh"]) == (
        -266667,
        -533334,
    )
    shared = shop.consigned("1000.00", row(shop.owner, "3/4"), row(shop.shop_person, "1/4"))
    booked = shop.booked(lambda: shop.sold(shared, "1000.00"))
    assert booked == [
        {
            "buyers Tam Brine": 100000,
            "commission": -20000,
            "own_sales": -20000,
            "owners_pending Orla Fenn": -60000,
        }
    ]


def test_a_net_below_nothing_is_the_owners_debt(shop: TriedShop) -> None:
    instrument = shop.consigned("100.00")
    booked = shop.booked(
        lambda: shop.sold(instrument, "100.00", costs=(CostRow(what="new neck", amount=eur("150.00")),))
    )
    assert booked[0]["owners_owe Orla Fenn"] == 7000
    assert shop.owed(shop.owner) == (0, 0, 7000)


def test_the_floor_by_consent_or_made_up(shop: TriedShop) -> None:
    by_consent = shop.consigned(floor=eur("8500.00"))
    sale = shop.sold(by_consent, consents=(consent("floor"),))
    assert (shop.sale_line(sale).owner_net, shop.sale_line(sale).made_up) == (800000, 0)
    made_up = shop.consigned(floor=eur("8500.00"))
    sale = shop.sold(made_up, make_up=True)
    line = shop.sale_line(sale)
    assert (line.owner_net, line.commission, line.made_up) == (850000, 150000, 50000)


def test_kin_buys_with_consent_and_the_unsigned_is_sold_by_saying_so(shop: TriedShop) -> None:
    shop.sold(shop.consigned(), buyer_id=shop.kin, consents=(consent("self_dealing"),))
    shop.sold(shop.consigned(signed=False), sell_unsigned=True)


def test_an_exempt_sale_with_its_reason(shop: TriedShop) -> None:
    sale = shop.sold(shop.consigned(), **EXEMPT, exempt_reason="resale certificate")
    assert shop.sale_line(sale).sales_tax == 0
    assert shop.sale(sale).exempt_reason == "resale certificate"


def test_a_hold_over_does_not_stop_a_sale(shop: TriedShop) -> None:
    instrument = shop.consigned()
    shop.act("hold", instrument_id=instrument, person_id=shop.player, until=shop.today + timedelta(days=3))
    shop.pass_days(4)
    shop.sold(instrument)


def test_part_exchange_counts_once_it_is_funded(any_shop: TriedShop) -> None:
    shop = any_shop
    instrument = shop.consigned()
    sales: list[int] = []
    booked = shop.booked(
        lambda: sales.append(
            shop.sold(
                instrument,
                part_exchange=(
                    PartExchangeRow(kind="violin", description="student violin", allowance=eur("1000.00")),
                ),
            )
        )
    )
    sale = sales[0]
    assert booked[1] == {"stock": 100000, "part_exchange Tam Brine": -100000}
    shop.pay(sale, "9000.00")
    with pytest.raises(Refused, match="has not cleared"):
        shop.act("settle", sale_id=sale)
    assert shop.booked(lambda: shop.act("clear_payments", sale_id=sale)) == [
        {
            "part_exchange Tam Brine": 100000,
            "buyers Tam Brine": -100000,
            "bank_owners": 100000,
            "bank": -100000,
        }
    ]
    shop.act("settle", sale_id=sale)
    assert shop.owed(shop.owner) == (0, 800000, 0)
    assert shop.balances()["bank_owners"] == 800000


LINE = SellLine(kind="accessory", what="rosin", price=eur("12.00"))
TWO = [
    # name, kind of error, field, words, what is given; "agreed" and the like name things of the shop
    ("nobody", NotFound, "buyer_id", "no such person", {"buyer_id": 999_999}),
    ("no lines", Typed, "lines", "Lines is missing", {"lines": ()}),
    ("unknown instrument", NotFound, None, "no such instrument", {"lines": (999_999,)}),
    ("no price", Typed, "lines[0].price", "price is missing", {"price": None}),
    ("nothing", Typed, "lines[0].price", "above zero", {"price": eur("0.00")}),
    ("less than nothing", Typed, "lines[0].price", "above zero", {"price": eur("-5.00")}),
    ("dollars", Typed, "lines[0].price", "in USD", {"price": Money(100, "USD")}),
    ("beyond counting", Typed, "lines[0].price", "too large", {"price": Money(10**30, "EUR")}),
    ("one price of dollars", Typed, "price_in_all", "in USD", {"price": None, "price_in_all": Money(1, "USD")}),
    ("one price of nothing", Typed, "price_in_all", "above zero", {"price": None, "price_in_all": eur("0.00")}),
    ("prices that differ", Typed, "price_in_all", "make them agree", {"price_in_all": eur("9.00")}),
    ("control letters", Typed, "note", "control character", {"note": "bell \x07"}),
    ("a long note", Typed, "note", "at most", {"note": "a" * 21_000}),
    ("an unknown tax", Typed, "tax_scheme", "choose one of", {"tax_scheme": "window"}),
    ("tax without rate", Typed, "tax_rate", "needs a rate", {"tax_scheme": "sales_tax"}),
    ("tax above all", Typed, "tax_rate", "out of bounds", {"tax_scheme": "sales_tax", "tax_rate": F(3, 2)}),
    ("exempt without reason", Refused, "exempt_reason", "needs its reason", EXEMPT),
    ("a cost of nobody", Typed, "costs[0].line", "no line 2", {"costs": (CostRow(line=2, what="x"),)}),
    ("a cost of dollars", Typed, "costs[0].amount", "in USD", {"costs": (CostRow(what="x", amount=Money(1, "USD")),)}),
    ("a cost without amount", Typed, "costs[1].amount", "no amount",
     {"costs": (CostRow(what="x", amount=eur("1.00")), CostRow(what="y"))}),
    (
        "a cost below nothing",
        Typed,
        "costs[0].amount",
        "below zero",
        {"costs": (CostRow(what="x", amount=eur("-1.00")),)},
    ),
    ("a cost without words", Typed, "costs[0].what", "missing", {"costs": (CostRow(what="", amount=eur("1.00")),)}),
    ("costs above the price", Refused, "lines[0].price", "", {
        "costs": (CostRow(what="x", amount=eur("20000.00"), before_commission=True),)}),
    ("a fee to nobody", Typed, "referrer_id", "Say who", {"referral_rate": F(1, 20)}),
    ("no fee", Typed, "referral_rate", "missing", {"referrer_id": "player"}),
    ("two fees", Typed, "referral_fixed", "both",
     {"referrer_id": "player", "referral_rate": F(1, 20), "referral_fixed": eur("1.00"), **TOLD}),
    ("undisclosed", Refused, "told_buyer_on", "disclosed",
     {"referrer_id": "player", "referral_rate": F(1, 20), "told_owner_on": FIRST_DAY}),
    (
        "an unknown referrer",
        NotFound,
        "referrer_id",
        "no such person",
        {"referrer_id": 999_999, "referral_rate": F(1, 20)},
    ),
    ("a dealer without share", Typed, "dealer_id", "together", {"dealer_id": "dealer"}),
    ("a dealer's share below nothing", Typed, "dealer_rate", "out of bounds",
     {"dealer_id": "dealer", "dealer_rate": F(-1, 2)}),
    ("a dealer not allowed", Refused, "dealer_id", "does not allow", {"dealer_id": "dealer", "dealer_rate": F(1, 2)}),
    ("family", Refused, "consents", "tied to the shop", {"buyer_id": "kin"}),
    ("below the floor", Refused, "make_up", "less than the lowest", {"price": eur("8000.00")}),
    ("unsigned", Refused, "sell_unsigned", "not signed", {"lines": ("unsigned",)}),
    ("expired", Refused, "lines[0].instrument_id", "Renew it", {"on": date(2028, 1, 1)}),
    ("on hold", Refused, "lines[0].instrument_id", "on hold for Ida Skerry until 12 Mar 2026", {"lines": ("held",)}),
    ("the deposit has not cleared", Refused, "lines[0].instrument_id", "has not cleared",
     {"lines": ("held",), "buyer_id": "player"}),
    ("another's deposit is held", Refused, "lines[0].instrument_id", "300.00 of Ida Skerry",
     {"lines": ("held",), "on": date(2026, 4, 1)}),
    ("sold twice", Refused, "lines[0].instrument_id", "already sold", {"lines": ("sold_one",)}),
    ("nothing agreed", Refused, "lines[0].instrument_id", "Agree terms first", {"lines": ("raw",)}),
    ("not here", Refused, None, "not in the shop", {"lines": ("gone",)}),
    ("twice on one invoice", Typed, "lines[1].instrument_id", "already", {"lines": ("agreed", "agreed")}),
    ("not the shop's own", Refused, "lines[0].instrument_id", "not the shop's own", {"kind": "own"}),
    ("an unknown kind", Typed, "lines[0].kind", "choose one of", {"kind": "loan"}),
    ("the allowance above the price", Refused, "part_exchange[0].allowance", "at most",
     {"part_exchange": (PartExchangeRow(kind="violin", description="x", allowance=eur("20000.00")),)}),
    ("an allowance of nothing", Refused, "part_exchange[0].allowance", "above zero",
     {"part_exchange": (PartExchangeRow(kind="violin", description="x", allowance=eur("0.00")),)}),
]  # fmt: skip


@pytest.mark.parametrize(
    ("kind", "field", "words", "given"), [case[1:] for case in TWO], ids=[case[0] for case in TWO]
)
def test_what_is_refused(
    still: StillShop, kind: type[LedgerError], field: str | None, words: str, given: dict[str, Any]
) -> None:
    price = given.get("price", eur("10000.00"))
    names = given.get("lines", ("agreed",))
    lines = tuple(
        SellLine(
            kind=given.get("kind", "consigned"),
            instrument_id=getattr(still, name) if isinstance(name, str) else name,
            price=price,
        )
        for name in names
    )
    inputs = {
        name: getattr(still, value) if name.endswith("_id") and isinstance(value, str) else value
        for name, value in given.items()
        if name not in {"price", "lines", "kind"}
    }
    day = still.clock.day
    still.clock.day = max(day, inputs.get("on", day))
    try:
        still.refuses("sell", kind, field, words, **{"buyer_id": still.buyer, "lines": lines, **inputs})
    finally:
        still.clock.day = day


@pytest.mark.parametrize(
    ("field", "line"),
    [
        ("lines[0].what", {"what": ""}),
        ("lines[0].what", {"what": "\x00"}),
        ("lines[0].quantity", {"quantity": 0}),
        ("lines[0].quantity", {"quantity": 10**13}),
        ("lines[0].instrument_id", {"instrument_id": 1}),
    ],
)
def test_goods_that_cannot_be_so(still: StillShop, field: str, line: dict[str, Any]) -> None:
    good = SellLine(**{"kind": "accessory", "what": "rosin", "price": eur("9.00"), **line})
    still.refuses("sell_goods", Typed, field, "", buyer_id=still.buyer, lines=(good,))


def test_goods_have_neither_fees_nor_costs_nor_an_agents_tax(still: StillShop) -> None:
    lines = (SellLine(kind="accessory", what="rosin", price=eur("9.00")),)
    given: dict[str, Any] = {"buyer_id": still.buyer, "lines": lines}
    still.refuses("sell_goods", Typed, "costs[0].line", "Only a consigned line", **given,
                  costs=(CostRow(what="x", amount=eur("1.00")),))  # fmt: skip
    still.refuses(
        "sell_goods", Typed, "dealer_id", "consigned", **given, dealer_id=still.dealer, dealer_rate=F(1, 2)
    )
    still.refuses(
        "sell_goods",
        Typed,
        "referrer_id",
        "consigned",
        **given,
        referrer_id=still.player,
        referral_rate=F(1, 9),
    )
    still.refuses(
        "sell_goods",
        Refused,
        "tax_scheme",
        "invoice of their own",
        **given,
        tax_scheme="margin",
        tax_rate=F(1, 5),
    )
