"""Placing with another dealer: what may go, whose risk it is there, longer, back, sold by the dealer, lost there."""

from __future__ import annotations

from datetime import timedelta
from fractions import Fraction
from typing import Any

import pytest

from shopledger.acts import act
from shopledger.quantities.errors import LedgerError, NotFound, Refused, Typed
from shopledger.queries.papers import paper_bytes
from tests.acts.test_papers_left import left, stated, twice
from tests.helpers.away import endings, may_go, now, offered, placing
from tests.helpers.shops import TriedShop, eur
from tests.helpers.trials import lent
from tests.helpers.trials import row as lent_row
from tests.papers.reading_back import in_order, text_of


def test_a_consigned_cello_goes_to_another_dealer(any_shop: TriedShop) -> None:
    shop = any_shop
    cello = may_go(shop)
    until = shop.today + timedelta(days=60)
    outcome = twice(
        shop,
        "place_with_dealer",
        instrument_id=cello,
        placing={
            "dealer_id": shop.dealer,
            "until": until,
            "value": eur("9000.00"),
            "asking": eur("10500.00"),
            "dealer_rate": Fraction(2, 5),
            "terms": "In the window on weekdays only.",
        },
    )
    assert left(shop, outcome) == [("placing", "PL 2026-001")]
    here = now(shop, cello)
    assert (here.place, here.holder, here.person_id, here.words) == (
        "away", "dealer", shop.dealer, "PL 2026-001",
    )  # fmt: skip
    assert (here.risk, here.insured_by, here.insured_for) == ("dealer", "dealer", 900000)
    facts = stated(shop, outcome.papers[0])
    assert (facts.agreement_number, facts.until, facts.value) == ("AG 2026-001", until, eur("9000.00"))
    assert in_order(
        text_of(paper_bytes(shop.ledger, outcome.papers[0])).replace("\u00a0", " "),
        *("Placing", "Hull and Keel", "PL 2026-001", "1 May 2026", "belongs to someone who left it"),
        *("AG 2026-001", "10,500.00", "40% of the shop’s commission", "9,000.00", "the other dealer"),
        *(
            "doesn’t buy it in silence",
            "Silence sells nothing",
            "weekdays only",
            "The dealer",
            "For the shop",
        ),
        *("9-102(a)(20)", "not a certified appraisal"),
    )
    assert shop.wrong() == []


def test_the_shops_own_goes_and_comes_back(any_shop: TriedShop) -> None:
    shop = any_shop
    own = shop.own()
    placed = placing(shop, own, dealer_rate=Fraction(1, 4))
    assert stated(shop, placed.papers[0]).agreement_number == ""
    assert {"extend_placing", "placing_back", "sell", "report_loss"} <= offered(shop, own)
    assert not {"place_with_dealer", "lend_on_trial", "open_job_here"} & offered(shop, own)
    later = shop.today + timedelta(days=90)
    longer = twice(shop, "extend_placing", instrument_id=own, until=later)
    assert left(shop, longer) == [("placing", "PL 2026-001/2")]
    facts = stated(shop, longer.papers[0])
    assert (facts.until_before, facts.until) == (shop.today + timedelta(days=60), later)
    shop.pass_days(40)
    twice(shop, "placing_back", instrument_id=own, words="Its strings are new.")
    assert (now(shop, own).place, now(shop, own).words) == ("here", "Its strings are new.")
    assert endings(shop) == [("PL 2026-001", "back")]
    assert "place_with_dealer" in offered(shop, own)
    assert not {"extend_placing", "placing_back"} & offered(shop, own)
    placing(shop, own)
    assert endings(shop)[1] == ("PL 2026-002", None)
    assert shop.wrong() == []


def refused(
    shop: TriedShop, kind: type[LedgerError], words: str, field: str | None, instrument: int, **given: Any
) -> None:
    """Make sure that an instrument can't be placed so, in these words, and that nothing is written."""
    before = shop.rows()
    with pytest.raises(kind, match=words) as caught:
        placing(shop, instrument, **given)
    assert (type(caught.value), caught.value.field) == (kind, field)
    assert shop.rows() == before


def test_what_may_not_go_to_another_dealer_is_refused_in_words(shop: TriedShop) -> None:
    refused(shop, Refused, "AG 2026-001 does not allow another dealer", None, shop.consigned())
    refused(shop, Refused, "Nothing is agreed", None, shop.taken_in())
    refused(shop, Refused, "not here to be sold", None, shop.taken_in(reason="repair"))
    sold = may_go(shop)
    shop.sold(sold)
    refused(shop, Refused, "It is sold", None, sold)
    kept = may_go(shop)
    shop.act("hold", instrument_id=kept, person_id=shop.buyer, until=shop.today + timedelta(days=9))
    refused(shop, Refused, "on hold for Tam Brine", None, kept)
    tried = may_go(shop, trials_allowed=True)
    lent(shop, lent_row(tried))
    refused(shop, Refused, "on trial with Ida Skerry", None, tried)
    worked_on = may_go(shop)
    shop.act(
        "open_job_here", instrument_id=worked_on, client_id=shop.owner, bill_to="owner", hears="a bridge"
    )
    refused(shop, Refused, "has the job", None, worked_on)
    there = may_go(shop)
    placing(shop, there)
    refused(shop, Refused, "is with Hull and Keel already", None, there)
    refused(shop, NotFound, "no such instrument", None, 99)


def test_a_placing_says_until_when_and_at_what_value(shop: TriedShop) -> None:
    cello = may_go(shop)
    refused(shop, Typed, "Until is missing", "placing.until", cello, until=None)
    refused(shop, Typed, "before it goes out", "placing.until", cello, days=-1)
    refused(shop, Refused, "ends on 2 Mar 2027, before", "placing.until", cello, days=400)
    refused(shop, Typed, "Value is missing", "placing.value", cello, value=None)
    refused(shop, Typed, "above zero", "placing.value", cello, value=eur("0.00"))
    refused(shop, Typed, "above zero", "placing.asking", cello, asking=eur("0.00"))
    refused(shop, Typed, "from 0% to 100%", "placing.dealer_rate", cello, dealer_rate=Fraction(5, 4))
    refused(shop, Typed, "Dealer is missing", "placing.dealer_id", cello, dealer_id=None)
    refused(shop, NotFound, "no such person", "placing.dealer_id", cello, dealer_id=99)
    refused(shop, Typed, "shop itself", "placing.dealer_id", cello, dealer_id=shop.shop_person)
    refused(shop, Refused, "Orla Fenn owns it", "placing.dealer_id", cello, dealer_id=shop.owner)
    shop.pass_days(-1)
    refused(shop, Typed, "nothing can happen to it before", "on", cello, days=10)
    shop.pass_days(1)
    placing(shop, cello)
    with pytest.raises(Typed, match="agreed until 1 May 2026 already"):
        shop.act("extend_placing", instrument_id=cello, until=shop.today)
    with pytest.raises(Refused, match="ends on 2 Mar 2027, before"):
        shop.act("extend_placing", instrument_id=cello, until=shop.today + timedelta(days=500))


def test_it_is_sold_to_or_through_the_dealer_and_past_nobody(any_shop: TriedShop) -> None:
    shop = any_shop
    cello, own = may_go(shop), shop.own()
    for instrument in (cello, own):
        placing(shop, instrument)
    with pytest.raises(Refused, match="is with Hull and Keel"):
        shop.sold(cello)
    shop.sold(cello, dealer_id=shop.dealer, dealer_rate=Fraction(2, 5))
    assert endings(shop) == [("PL 2026-001", "sold"), ("PL 2026-002", None)]
    assert now(shop, cello).place == "away"
    shop.act("hand_over", instrument_id=cello, handed_to="Tam Brine", unpaid=True)
    assert now(shop, cello).place == "handed_over"
    sale = shop.act("sell", buyer_id=shop.dealer, lines=(shop.line(own, "1500.00", "own"),)).id
    assert endings(shop)[1] == ("PL 2026-002", "sold")
    shop.act("take_back", sale_id=sale, why="The dealer's buyer changed his mind.")
    assert now(shop, own).place == "here"
    assert shop.wrong() == []


def test_it_does_not_go_to_its_owner_from_there_and_can_be_lost_there(shop: TriedShop) -> None:
    cello = may_go(shop)
    placing(shop, cello)
    with pytest.raises(Refused, match="with Hull and Keel to be sold"):
        shop.act("return_to_owner", instrument_id=cello, handed_to="Orla Fenn")
    shop.act("report_loss", instrument_id=cello, what_happened="A fire.", agreed_value=eur("9000.00"))
    assert endings(shop) == [("PL 2026-001", "lost")]
    with pytest.raises(Refused, match="not in the shop"):
        shop.act("placing_back", instrument_id=cello)
    with pytest.raises(Refused, match="is not away"):
        shop.act("placing_back", instrument_id=shop.own())
    with pytest.raises(Refused, match="is not with another dealer"):
        shop.act("extend_placing", instrument_id=shop.own(), until=shop.today)
    assert shop.wrong() == []


def test_the_form_is_filled_beforehand_and_says_what_follows(shop: TriedShop) -> None:
    place, extend = act("place_with_dealer"), act("extend_placing")
    assert place.prefill is not None
    assert place.preview is not None
    assert extend.preview is not None
    cello = may_go(shop, signed=False, agreed_value=eur("8000.00"))
    with shop.ledger.read() as reading:
        given = place.prefill(reading, cello)["placing"]
        assert (given["value"], given["asking"]) == (eur("8000.00"), eur("10000.00"))
    form = shop.form(
        "place_with_dealer",
        instrument_id=cello,
        placing={**given, "dealer_id": shop.dealer, "until": shop.today, "insured_by": "nobody"},
    )
    with shop.ledger.read() as reading:
        told = place.preview(reading, form)
    assert told.title == "With Hull and Keel until 2 Mar 2026"
    assert [line.label for line in told.lines] == ["Value", "The owner agreed to it"]
    assert "Nobody insures it" in told.warnings[0]
    assert "AG 2026-001 is not signed" in told.warnings[1]
    placing(shop, cello)
    longer = shop.form("extend_placing", instrument_id=cello, until=shop.today + timedelta(days=90))
    with shop.ledger.read() as reading:
        assert extend.preview(reading, longer).lines[1].strong
