"""Taking back, whole or in part, to the cent, however far the money had gone; and a later reduction."""

from __future__ import annotations

from fractions import Fraction

import pytest
from sqlalchemy import select

from shopledger.acts.selling_forms import CostRow, SellLine
from shopledger.model import LineEntry
from shopledger.quantities.errors import NotFound, Refused, Typed
from shopledger.quantities.money import Money
from shopledger.queries.papers import paper_bytes
from tests.helpers.jobs import preview_of, refused
from tests.helpers.shops import FIRST_DAY, StillShop, TriedShop, eur, row
from tests.papers.reading_back import text_of


def test_an_unpaid_sale_mirrors_to_the_cent(any_shop: TriedShop) -> None:
    shop = any_shop
    instrument = shop.consigned("625743.54")
    # EN 16931 samples, BIS3 positive and negative: 625,743.54 at 25 % and its mirror, 156,435.89. Read.
    sold = shop.booked(
        lambda: shop.sold(instrument, "625743.54", tax_scheme="sales_tax", tax_rate=Fraction(1, 4))
    )
    assert sold[0]["sales_tax"] == -15643589
    back = shop.booked(lambda: shop.with_papers("take_back", sale_id=1, why="wolf note"))
    assert back == [{account: -minor for account, minor in sold[0].items()}]
    assert shop.balances() == {}
    shop.sold(instrument)  # its agreement goes on
    with pytest.raises(Refused, match="was taken back"):
        shop.act("take_back", sale_id=1, why="again")


def test_after_settlement_what_was_set_aside_and_released_goes_back(shop: TriedShop) -> None:
    _instrument, sale = shop.settled()
    assert shop.booked(lambda: shop.act("take_back", sale_id=sale, why="wolf note")) == [
        {
            "owners_held Orla Fenn": 800000,
            "owners_pending Orla Fenn": -800000,
            "bank_owners": 200000,
            "bank": -200000,
        },
        {"buyers Tam Brine": -1000000, "commission": 200000, "owners_pending Orla Fenn": 800000},
    ]
    assert shop.booked(lambda: shop.with_papers("give_back", sale_id=sale, amount=eur("10000.00"))) == [
        {"buyers Tam Brine": 1000000, "bank_owners": -1000000}
    ]
    assert shop.balances() == {}


def test_after_a_payout_the_owner_owes_it_and_the_shop_makes_it_good(any_shop: TriedShop) -> None:
    shop = any_shop
    _instrument, sale = shop.settled()
    shop.act("pay_owner", person_id=shop.owner, amount=eur("3000.00"))
    shop.act("take_back", sale_id=sale, why="wolf note")
    assert shop.owed(shop.owner) == (0, 0, 300000)
    shop.act("give_back", sale_id=sale, amount=eur("10000.00"))
    assert shop.balances() == {"owners_owe": 300000, "bank": -300000}
    shop.act("take_owners_payment", person_id=shop.owner, amount=eur("3000.00"))
    assert shop.balances() == {}


def test_what_was_set_off_is_owed_again(shop: TriedShop) -> None:
    instrument = shop.consigned(withdrawal_charge=eur("50.00"), set_off=True)
    shop.act("charge_owner", instrument_id=instrument, kind="withdrawal")
    sale = shop.sold(instrument)
    shop.pay(sale)
    shop.act("settle", sale_id=sale)
    shop.act("take_back", sale_id=sale, why="wolf note")
    assert shop.owed(shop.owner) == (0, 0, 5000)
    shop.act("give_back", sale_id=sale, amount=eur("10000.00"))
    assert shop.balances() == {"owners_owe": 5000, "charges": -5000}


def test_a_fee_already_paid_is_to_be_paid_back(shop: TriedShop) -> None:
    sale = shop.sold(
        shop.consigned(),
        referrer_id=shop.player,
        referral_fixed=eur("400.00"),
        told_buyer_on=FIRST_DAY,
        told_owner_on=FIRST_DAY,
    )
    shop.act("pay_fee", person_id=shop.player, amount=eur("150.00"))
    shop.act("take_back", sale_id=sale, why="wolf note")
    assert shop.balances() == {"fees_owe": 15000, "bank": -15000}


@pytest.mark.parametrize(
    ("bearer", "left"), [("owner", {"owners_owe": 18000}), ("shop", {"selling_costs": 18000})]
)
def test_costs_really_spent_stay_with_whom_the_agreement_names(
    shop: TriedShop, bearer: str, left: dict[str, int]
) -> None:
    sale = shop.sold(
        shop.consigned(failed_sale_costs_by=bearer),
        costs=(
            CostRow(what="new bridge", amount=eur("180.00"), spent=True),
            CostRow(what="freight", amount=eur("70.00"), borne_by="shop"),
        ),
    )
    shop.act("take_back", sale_id=sale, why="wolf note")
    assert shop.balances() == {**left, "sale_costs": -18000}


def test_spent_costs_of_heirs_and_of_the_shop_as_part_owner(shop: TriedShop) -> None:
    instrument = shop.consigned(
        "1000.00", row(shop.owner, "1/2"), row(shop.shop_person, "1/2"), failed_sale_costs_by="owner"
    )
    sale = shop.sold(
        instrument, "1000.00", costs=(CostRow(what="new bridge", amount=eur("180.00"), spent=True),)
    )
    shop.act("take_back", sale_id=sale, why="wolf note")
    assert shop.balances() == {"owners_owe": 9000, "selling_costs": 9000, "sale_costs": -18000}


def test_one_line_of_several_comes_back(shop: TriedShop) -> None:
    first, own = shop.consigned(), shop.own()
    sale = shop.act(
        "sell",
        buyer_id=shop.buyer,
        lines=(
            shop.line(first),
            shop.line(own, "2000.00", "own"),
            SellLine(kind="accessory", what="rosin", price=eur("12.00")),
        ),
    ).id
    shop.pay(sale)
    shop.act("take_back", sale_id=sale, lines="2, 3", why="too heavy")
    assert shop.owes(sale) == -201200
    shop.act("give_back", sale_id=sale, amount=eur("2012.00"))
    assert shop.balances() == {
        "bank": -150000,
        "bank_owners": 1000000,
        "stock": 150000,
        "commission": -200000,
        "owners_pending": -800000,
    }
    shop.act("settle", sale_id=sale)
    with pytest.raises(Typed, match="Line 2"):
        shop.act("take_back", sale_id=sale, lines="2", why="again")


def test_it_comes_back_from_the_buyers_hands(shop: TriedShop) -> None:
    instrument, sale = shop.settled()
    shop.with_papers("hand_over", instrument_id=instrument, handed_to="Tam Brine")
    shop.act("take_back", sale_id=sale, why="wolf note")
    shop.sold(instrument)


def test_it_came_in_again_for_a_repair(shop: TriedShop) -> None:
    instrument, sale = shop.settled()
    shop.act("hand_over", instrument_id=instrument, handed_to="Tam Brine")
    shop.act("take_in_again", instrument_id=instrument, stay={"reason": "repair"})
    with pytest.raises(Refused, match="came in again as TI 2026-002"):
        shop.act("take_back", sale_id=sale, why="wolf note")
    shop.act("return_to_owner", instrument_id=instrument, handed_to="Tam Brine")
    shop.act("take_back", sale_id=sale, why="wolf note")


def test_what_changed_owner_since_does_not_come_back(shop: TriedShop) -> None:
    instrument, sale = shop.settled()
    shop.act("hand_over", instrument_id=instrument, handed_to="Tam Brine")
    shop.act("take_in_again", instrument_id=instrument, owners=(row(shop.player),), stay={"reason": "value"})
    with pytest.raises(Refused, match="changed owner since"):
        shop.act("take_back", sale_id=sale, why="wolf note")


def test_no_entry_is_reversed_twice(any_shop: TriedShop) -> None:
    shop = any_shop
    sale = shop.sold(shop.consigned())
    shop.act("take_back", sale_id=sale, why="wolf note")
    with shop.ledger.write() as writing:
        writing.begin_act(op_id="again", act="take_back", on=shop.today, by="")
        first = writing.session.scalars(select(LineEntry.entry_id).order_by(LineEntry.id).limit(1)).one()
        with pytest.raises(Exception, match="reverses"):
            writing.reverse(first, "again")


def test_a_reduction_posts_the_difference(shop: TriedShop) -> None:
    sale = shop.sold(
        shop.consigned(dealers_allowed=True),
        referrer_id=shop.player,
        referral_rate=Fraction(1, 20),
        told_buyer_on=FIRST_DAY,
        told_owner_on=FIRST_DAY,
        dealer_id=shop.dealer,
        dealer_rate=Fraction(1, 4),
    )
    shop.act("pay_fee", person_id=shop.player, amount=eur("500.00"))
    shop.act("pay_fee", person_id=shop.dealer, amount=eur("100.00"))
    assert shop.booked(
        lambda: shop.with_papers("reduce_price", sale_id=sale, line=1, price=eur("9000.00"), why="a crack")
    ) == [
        {
            "buyers Tam Brine": -100000,
            "commission": 20000,
            "fees_due Ida Skerry": 5000,
            "fees_paid": -5000 - 5000,
            "fees_due Hull and Keel": 5000,
            "owners_pending Orla Fenn": 80000,
        },
        {"fees_owe Ida Skerry": 5000, "fees_due Ida Skerry": -5000},
    ]
    shop.act("take_back", sale_id=sale, why="wolf note")
    # What was paid in fees, 500.00 and 100.00, is all that is left, to be paid back.
    assert shop.balances() == {"fees_owe": 60000, "bank": -60000}


def test_a_reduction_after_settlement_is_covered_by_what_the_shop_took(shop: TriedShop) -> None:
    # A net promised: the price falls, the owner's net stays, so that what was released has to come back.
    instrument = shop.consigned(commission_rule="net_to_owner", net_to_owner=eur("8000.00"))
    sale = shop.sold(instrument)
    shop.pay(sale)
    shop.act("settle", sale_id=sale)
    shop.act("reduce_price", sale_id=sale, price=eur("9500.00"), why="a crack")
    shop.act("give_back", sale_id=sale, amount=eur("500.00"))
    assert shop.balances() == {
        "bank": 150000,
        "bank_owners": 800000,
        "commission": -150000,
        "owners_held": -800000,
    }


def test_the_shops_own_is_reduced_with_its_taxes(shop: TriedShop) -> None:
    # HMRC VAT Notice 718: a margin of 500.00 holds 83.33, one of 300.00 holds 50.00. Read.
    sale = shop.act(
        "sell",
        buyer_id=shop.buyer,
        lines=(shop.line(shop.own("1800.00", "2300.00"), "2300.00", "own"),),
        tax_scheme="margin",
        tax_rate=Fraction(1, 5),
    ).id
    assert shop.booked(
        lambda: shop.act("reduce_price", sale_id=sale, price=eur("2100.00"), why="a crack")
    ) == [{"buyers Tam Brine": -20000, "own_sales": 20000, "vat": 3333, "margin_vat": -3333}]


def test_what_is_refused(still: StillShop) -> None:
    still.refuses("take_back", NotFound, None, "no such sale", sale_id=999_999, why="x")
    still.refuses("take_back", Typed, "why", "missing", sale_id=still.open_sale, why="")
    still.refuses(
        "take_back", Typed, "lines", "numbers of the lines", sale_id=still.open_sale, lines="1;x", why="x"
    )
    still.refuses("take_back", Typed, "lines", "Line 7", sale_id=still.open_sale, lines="7", why="x")
    still.refuses("take_back", Typed, "why", "control character", sale_id=still.open_sale, why="\x00")
    reduce = {"sale_id": still.open_sale, "why": "a crack"}
    still.refuses("reduce_price", Typed, "line", "Line 2", **reduce, line=2, price=eur("1.00"))
    still.refuses("reduce_price", Typed, "price", "10,000.00", **reduce, price=eur("10000.00"))
    still.refuses("reduce_price", Typed, "price", "above zero", **reduce, price=eur("0.00"))
    still.refuses("reduce_price", Typed, "price", "in USD", **reduce, price=Money(1, "USD"))
    still.refuses(
        "reduce_price", Refused, "price", "is settled with Orla Fenn", sale_id=still.paid_sale, why="a crack",
        price=eur("9000.00"),
    )  # fmt: skip


def test_a_reduction_below_the_floor_waits_for_consent(any_shop: TriedShop) -> None:
    # 20% of 9,900.00: the owner would get 7,920.00, 80.00 below the lowest net agreed.
    shop = any_shop
    sale = shop.sold(shop.consigned(floor=eur("8000.00")))
    reduce = {"sale_id": sale, "price": eur("9900.00"), "why": "a crack"}
    refused(shop, Refused, "make_up", "reduce_price", **reduce)
    refused(shop, Typed, "consent_by", "reduce_price", **reduce, consent_by="Orla Fenn")
    given = {"consent_by": "Orla Fenn", "consent_how": "by letter", "consent_on": FIRST_DAY}
    shown = preview_of(shop, "reduce_price", **reduce, **given)
    assert [line.amount for line in shown.lines if line.label == "Owner's net"] == [eur("7920.00")]
    assert shop.booked(lambda: shop.act("reduce_price", **reduce, **given)) == [
        {"buyers Tam Brine": -10000, "commission": 2000, "owners_pending Orla Fenn": 8000}
    ]
    shop.pay(sale)
    (paper,) = shop.with_papers("settle", sale_id=sale).papers
    assert "Consent of Orla Fenn on" in text_of(paper_bytes(shop.ledger, paper))


def test_a_consent_is_to_one_price(shop: TriedShop) -> None:
    given = {"consent_by": "Orla Fenn", "consent_how": "by letter", "consent_on": FIRST_DAY}
    sale = shop.sold(shop.consigned(floor=eur("8000.00")))
    shop.act("reduce_price", sale_id=sale, price=eur("9900.00"), why="a crack", **given)
    with pytest.raises(Refused, match=r"160\.00 less than"):
        shop.act("reduce_price", sale_id=sale, price=eur("9800.00"), why="a second crack")


def test_the_shop_may_make_a_reduction_up(shop: TriedShop) -> None:
    sale = shop.sold(shop.consigned(floor=eur("8000.00")))
    assert shop.booked(
        lambda: shop.act("reduce_price", sale_id=sale, price=eur("9900.00"), why="a crack", make_up=True)
    ) == [{"buyers Tam Brine": -10000, "commission": 10000}]


def test_what_the_shops_own_is_reduced_to_is_shown(shop: TriedShop) -> None:
    sale = shop.act(
        "sell", buyer_id=shop.buyer, lines=(shop.line(shop.own("1800.00", "2300.00"), "2300.00", "own"),)
    ).id
    shown = preview_of(shop, "reduce_price", sale_id=sale, price=eur("2100.00"), why="a crack")
    assert [line.amount for line in shown.lines] == [eur("2300.00"), eur("2100.00")]
