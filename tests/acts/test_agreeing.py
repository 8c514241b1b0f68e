"""Agreeing: terms and what follows from them until the instrument goes."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from typing import Any

import pytest
from sqlalchemy import select

from shopledger.model import Agreement, Terms
from shopledger.model.agreements import Bracket
from shopledger.quantities.errors import LedgerError, NotFound, Refused, Typed
from shopledger.quantities.money import Money
from shopledger.queries.standing import asking_price, last_stay, owners_of
from tests.helpers.shops import FIRST_DAY, StillShop, TriedShop, eur, row

F = Fraction


def asked(shop: TriedShop, instrument: int) -> int:
    with shop.ledger.read() as reading:
        stay = last_stay(reading, instrument)
        assert stay is not None
        found = asking_price(reading, stay.id)
        return found.minor if found else 0


def test_addendum_renewal_signature_and_end(any_shop: TriedShop) -> None:
    shop = any_shop
    instrument = shop.taken_in()
    terms = {"ends_on": date(2026, 9, 1), "asking": eur("9000.00"), "commission_rate": F(1, 5)}
    assert shop.booked(lambda: shop.with_papers("agree_terms", instrument_id=instrument, terms=terms)) == []
    shop.with_papers("sign", instrument_id=instrument, signed_by="Orla Fenn", scan=b"%PDF-1.4 a scan")
    with pytest.raises(Refused, match="is signed"):
        shop.act("sign", instrument_id=instrument, signed_by="Orla Fenn")
    shop.with_papers(
        "add_addendum", instrument_id=instrument, terms={"asking": eur("8500.00")}, signed_by="Orla Fenn"
    )
    shop.with_papers("renew", instrument_id=instrument, ends_on=date(2027, 3, 1), signed_by="Orla Fenn")
    assert asked(shop, instrument) == 850000
    with shop.ledger.read() as reading:
        rows = reading.session.execute(
            select(Terms.kind, Terms.n, Terms.asking, Terms.ends_on).order_by(Terms.n)
        ).all()
    assert [tuple(found) for found in rows] == [
        ("first", 1, 900000, date(2026, 9, 1)),
        ("addendum", 2, 850000, date(2026, 9, 1)),
        ("renewal", 3, 850000, date(2027, 3, 1)),
    ]
    shop.act("end_agreement", instrument_id=instrument, how="withdrawn", why="plays it again")
    with pytest.raises(Refused, match="Agree terms first"):
        shop.sold(instrument)
    shop.act("agree_terms", instrument_id=instrument, terms={**terms, "commission_rule": "fixed",
             "commission_rate": None, "commission_fixed": eur("900.00")})  # fmt: skip


def test_a_price_within_and_outside_what_is_agreed(shop: TriedShop) -> None:
    instrument = shop.consigned(asking_not_below=eur("9000.00"))
    shop.act("change_price", instrument_id=instrument, asking=eur("9000.00"))
    assert asked(shop, instrument) == 900000
    for price in ("8999.99", "10000.01"):
        with pytest.raises(Refused) as caught:
            shop.act("change_price", instrument_id=instrument, asking=eur(price), consent_by="Orla Fenn")
        assert caught.value.field == "consent_by"
    shop.act("change_price", instrument_id=instrument, asking=eur("8999.99"), consent_by="Orla Fenn",
             consent_how="by telephone", consent_on=shop.today)  # fmt: skip
    assert asked(shop, instrument) == 899999


def test_a_change_of_owner_ends_the_agreement(shop: TriedShop) -> None:
    instrument = shop.consigned()
    shop.act(
        "change_owner",
        instrument_id=instrument,
        owners=(row(shop.other, "1/4"), row(shop.player, "3/4")),
        how="inherited",
    )
    with shop.ledger.read() as reading:
        assert [(p.person_id, p.share) for p in owners_of(reading, instrument)] == [
            (shop.other, F(1, 4)), (shop.player, F(3, 4)),
        ]  # fmt: skip
        assert reading.session.scalars(select(Agreement.ended_how)).one() == "owner_changed"
    with pytest.raises(Refused, match="Agree terms first"):
        shop.sold(instrument)


def test_release_and_return(shop: TriedShop) -> None:
    instrument = shop.consigned()
    shop.with_papers("return_to_owner", instrument_id=instrument, handed_to="Orla Fenn", why="plays it again")
    shop.with_papers("take_in_again", instrument_id=instrument, stay={"reason": "to_sell"})
    sold = shop.consigned()
    sale = shop.sold(sold)
    shop.pay(sale, "1.00")
    with pytest.raises(Refused) as caught:
        shop.act("hand_over", instrument_id=sold, handed_to="Tam Brine")
    assert (caught.value.field, "9,999.00" in caught.value.sentence()) == ("unpaid", True)
    shop.with_papers("hand_over", instrument_id=sold, handed_to="Tam Brine", unpaid=True)


TERMS: list[tuple[type[LedgerError], str, str, dict[str, Any]]] = [
    (Typed, "terms.ends_on", "missing", {"ends_on": None}),
    (Typed, "terms.ends_on", "after 2 Mar 2026", {"ends_on": FIRST_DAY}),
    (Typed, "terms.ends_on", "longer", {"ends_on": date.max}),
    (Typed, "terms.asking", "missing", {"asking": None}),
    (Typed, "terms.asking", "above zero", {"asking": eur("0.00")}),
    (Typed, "terms.asking", "below zero", {"asking": eur("-1.00")}),
    (Typed, "terms.asking", "in USD", {"asking": Money(1, "USD")}),
    (Typed, "terms.floor", "in JPY", {"floor": Money(1, "JPY")}),
    (Typed, "terms.commission_rate", "missing", {"commission_rate": None}),
    (Typed, "terms.commission_rate", "out of bounds", {"commission_rate": F(3, 2)}),
    (Typed, "terms.commission_fixed", "Another rule", {"commission_fixed": eur("1.00")}),
    (Typed, "terms.commission_rule", "choose one of", {"commission_rule": "thirds"}),
    (Typed, "terms.commission_brackets[0].up_to", "must be open",
     {"commission_rule": "brackets", "commission_rate": None,
      "commission_brackets": (Bracket(up_to=eur("1.00"), rate=F(1, 5)),)}),
    (Typed, "terms.commission_brackets[0].up_to", "in USD",
     {"commission_rule": "brackets", "commission_rate": None,
      "commission_brackets": (Bracket(up_to=Money(1, "USD"), rate=F(1, 5)), Bracket(rate=F(1, 5)))}),
    (Refused, "terms.least", "above the most", {"least": eur("2.00"), "most": eur("1.00")}),
    (Refused, "terms.least", "promised", {"least": eur("2.00"), "commission_rule": "net_to_owner",
                                          "commission_rate": None, "net_to_owner": eur("5.00")}),
    (Typed, "terms.asking_not_below", "more than the asking", {"asking_not_below": eur("9000.01")}),
    (Typed, "terms.deposit_to_owner", "at most 100%", {"deposit_to_owner": F(2, 3), "deposit_to_shop": F(1, 2)}),
    (Typed, "terms.deposit_to_shop", "0% to 100%", {"deposit_to_shop": F(-1, 2)}),
    (Typed, "terms.tail_days", "at most", {"tail_days": 10**9}),
    (Typed, "terms.approval_days", "whole number", {"approval_days": -1}),
    (Typed, "terms.note", "control character", {"note": "\x07"}),
    (Typed, "terms.note", "at most", {"note": "a" * 21_000}),
    (Typed, "terms.commision", "Write it as", {"commision": 1}),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "field", "words", "given"), TERMS)
def test_terms_that_cannot_stand(
    still: StillShop, kind: type[LedgerError], field: str, words: str, given: dict[str, Any]
) -> None:
    terms = {"ends_on": date(2027, 3, 1), "asking": eur("9000.00"), "commission_rate": F(1, 5), **given}
    still.refuses("agree_terms", kind, field, words, instrument_id=still.raw, terms=terms)
    if kind is Typed and field not in {"terms.ends_on", "terms.commission_rate", "terms.asking_not_below"}:
        still.refuses("add_addendum", kind, field, words, instrument_id=still.agreed, terms=given)


def test_what_is_refused(still: StillShop) -> None:
    terms = {"ends_on": date(2027, 3, 1), "asking": eur("9000.00"), "commission_rate": F(1, 5)}
    still.refuses(
        "agree_terms", Refused, None, "AG 2026-001 is in force", instrument_id=still.agreed, terms=terms
    )
    still.refuses("agree_terms", Refused, None, "nobody to agree with", instrument_id=still.mine, terms=terms)
    still.refuses("agree_terms", Refused, None, "not in the shop", instrument_id=still.gone, terms=terms)
    still.refuses("agree_terms", NotFound, None, "no such instrument", instrument_id=999_999, terms=terms)
    still.refuses(
        "add_addendum",
        Refused,
        None,
        "Nothing in the terms was changed",
        instrument_id=still.agreed,
        terms={},
    )
    still.refuses("add_addendum", Refused, None, "Agree terms first", instrument_id=still.raw, terms={})
    still.refuses(
        "renew", Typed, "ends_on", "has to end after", instrument_id=still.agreed, ends_on=still.today
    )
    still.refuses("sign", Typed, "signed_by", "missing", instrument_id=still.unsigned, signed_by="")
    still.refuses("sign", Refused, None, "Agree terms first", instrument_id=still.raw, signed_by="Orla Fenn")
    still.refuses("end_agreement", Refused, None, "runs until", instrument_id=still.agreed, how="expired")
    still.refuses("end_agreement", Typed, "how", "choose one of", instrument_id=still.agreed, how="sold")
    still.refuses(
        "change_price", Typed, "asking", "above zero", instrument_id=still.agreed, asking=eur("0.00")
    )
    still.refuses(
        "change_price", Typed, "asking", "in USD", instrument_id=still.agreed, asking=Money(1, "USD")
    )
    still.refuses(
        "change_price", Typed, "asking", "asked already", instrument_id=still.agreed, asking=eur("10000.00")
    )
    still.refuses(
        "change_price", Refused, None, "Agree terms first", instrument_id=still.raw, asking=eur("1.00")
    )
    still.refuses(
        "change_price", Refused, None, "It is sold", instrument_id=still.sold_one, asking=eur("1.00")
    )
    who = (row(still.other),)
    still.refuses(
        "change_owner", Refused, None, "It is sold", instrument_id=still.sold_one, owners=who, how="given"
    )
    still.refuses("change_owner", Typed, "how", "missing", instrument_id=still.raw, owners=who, how="")
    still.refuses(
        "change_owner",
        Typed,
        "owners",
        "own it already",
        instrument_id=still.raw,
        owners=(row(still.owner),),
        how="x",
    )
    still.refuses(
        "change_owner",
        NotFound,
        "owners[0].person_id",
        "",
        instrument_id=still.raw,
        owners=(row(999_999),),
        how="x",
    )
    still.refuses(
        "change_owner",
        Refused,
        "owners",
        "sale to itself",
        instrument_id=still.raw,
        owners=(row(still.shop_person),),
        how="x",
    )
    still.refuses(
        "change_owner",
        Refused,
        None,
        "changes owner by a sale",
        instrument_id=still.mine,
        owners=who,
        how="x",
    )
    still.refuses("return_to_owner", Refused, None, "It is sold", instrument_id=still.sold_one, handed_to="x")
    still.refuses("return_to_owner", Refused, None, "on hold for", instrument_id=still.held, handed_to="x")
    still.refuses(
        "return_to_owner", Refused, None, "nobody to return", instrument_id=still.mine, handed_to="x"
    )
    still.refuses("return_to_owner", Typed, "handed_to", "missing", instrument_id=still.raw, handed_to="")
    still.refuses("hand_over", Refused, None, "not sold", instrument_id=still.agreed, handed_to="x")
    still.refuses("hand_over", Refused, None, "not in the shop", instrument_id=still.gone, handed_to="x")
