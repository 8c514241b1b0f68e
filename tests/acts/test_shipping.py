"""Sending with a carrier: after a sale, for a trial, to a dealer, a workshop or its owner; and where it arrived."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest

from shopledger.acts import act
from shopledger.acts.shipping_ready import SendRow
from shopledger.quantities.errors import LedgerError, Refused, Typed
from shopledger.queries.papers import paper_bytes
from tests.acts.test_papers_left import left, stated, twice
from tests.helpers.away import endings, may_go, now, offered, placing, sending
from tests.helpers.shops import TriedShop, eur
from tests.helpers.trials import bow, consigned, lent
from tests.helpers.trials import row as lent_row
from tests.papers.reading_back import in_order, text_of


def test_what_is_sold_is_sent_and_handed_over_by_its_arrival(any_shop: TriedShop) -> None:
    shop = any_shop
    cello = shop.consigned()
    sale = shop.sold(cello)
    shop.pay(sale)
    outcome = twice(
        shop,
        "send",
        shipment={
            "why": "sale",
            "to_id": shop.buyer,
            "carrier": "Tideway Parcels",
            "tracking": "TP 4410",
            "insured_for": eur("9500.00"),
        },
        lines=(SendRow(instrument_id=cello, value=eur("9500.00")),),
    )
    assert left(shop, outcome) == [("shipment", "SH 2026-001")]
    there = now(shop, cello)
    assert (there.place, there.holder, there.person_id, there.insured_for) == (
        "away", "carrier", shop.buyer, 950000,
    )  # fmt: skip
    assert (there.insured_by, there.risk, there.words) == ("carrier", "shop", "SH 2026-001")
    assert "arrived" in offered(shop, cello)
    assert not {"send", "placing_back", "place_with_dealer"} & offered(shop, cello)
    with pytest.raises(Refused, match="underway with Tideway Parcels"):
        shop.act("hand_over", instrument_id=cello, handed_to="Tam Brine")
    assert in_order(
        text_of(paper_bytes(shop.ledger, outcome.papers[0])).replace("\u00a0", " "),
        *("Packing list", "Tam Brine", "SH 2026-001", "sold", "SI 2026-001", "Tideway Parcels", "TP 4410"),
        *("9,500.00", "What is in it", "Taken over by the carrier", "neither prices nor values for customs"),
    )
    shop.pass_days(3)
    arrived = twice(shop, "arrived", instrument_id=cello, how="Left with the porter, who signed.")
    assert left(shop, arrived) == [("release", "RL 2026-001")]
    assert stated(shop, arrived.papers[0]).carrier == "Tideway Parcels"
    assert now(shop, cello).place == "handed_over"
    assert shop.wrong() == []


def test_what_is_on_trial_is_sent_to_its_player(any_shop: TriedShop) -> None:
    shop = any_shop
    cello, stick = consigned(shop), bow(shop)
    trial = lent(shop, lent_row(cello, "9500.00"), lent_row(stick, "900.00"))
    sending(shop, "trial", shop.player, cello, stick)
    there = now(shop, stick)
    assert (there.place, there.holder, there.trial_id) == ("on_trial", "carrier", trial)
    with pytest.raises(Refused, match="take it back from the trial"):
        shop.act("arrived", instrument_id=cello, where="here")
    shop.act("arrived", instrument_id=cello)
    there = now(shop, stick)
    assert (there.place, there.holder, there.insured_for, there.risk) == (
        "on_trial",
        "player",
        90000,
        "player",
    )
    assert there.shipment_id is None
    shop.act("take_trial_back", trial_id=trial)
    assert now(shop, cello).place == "here"
    assert shop.wrong() == []


def test_what_is_placed_is_sent_to_its_dealer_and_may_come_back_undelivered(any_shop: TriedShop) -> None:
    shop = any_shop
    cello, own = may_go(shop), shop.own()
    placing(shop, cello)
    placing(shop, own)
    sending(shop, "dealer", shop.dealer, cello, own)
    assert (now(shop, cello).holder, now(shop, cello).placing_id) == ("carrier", 1)
    with pytest.raises(Refused, match="is underway with"):
        shop.act("placing_back", instrument_id=cello)
    shop.act("arrived", instrument_id=own)
    assert (now(shop, cello).holder, now(shop, cello).insured_by) == ("dealer", "dealer")
    again = shop.consigned(dealers_allowed=True)
    placing(shop, again)
    sending(shop, "dealer", shop.dealer, again)
    shop.act("arrived", instrument_id=again, where="here", how="Refused at the door.")
    assert now(shop, again).place == "here"
    assert endings(shop) == [("PL 2026-001", None), ("PL 2026-002", None), ("PL 2026-003", "back")]
    assert shop.wrong() == []


def test_it_goes_to_its_owner_to_a_workshop_and_elsewhere(any_shop: TriedShop) -> None:
    shop = any_shop
    cello, worked_on, own = shop.consigned(), shop.taken_in(reason="repair"), shop.own()
    sending(shop, "return", shop.owner, cello)
    arrived = shop.act("arrived", instrument_id=cello)
    assert left(shop, arrived) == [("release", "RL 2026-001")]
    assert now(shop, cello).place == "handed_over"
    sending(shop, "workshop", shop.dealer, worked_on)
    shop.act("arrived", instrument_id=worked_on)
    assert (now(shop, worked_on).place, now(shop, worked_on).holder) == ("away", "workshop")
    shop.act("placing_back", instrument_id=worked_on)
    assert now(shop, worked_on).place == "here"
    sending(shop, "other", shop.kin, own)
    shop.act("arrived", instrument_id=own)
    assert (now(shop, own).place, now(shop, own).holder) == ("away", "other")
    shop.act("placing_back", instrument_id=own)
    assert shop.wrong() == []


def test_work_that_is_sent_home_is_collected_by_its_job(shop: TriedShop) -> None:
    cello = shop.taken_in(reason="repair")
    shop.act("open_job_here", instrument_id=cello, client_id=shop.owner, bill_to="client", hears="a bridge")
    sending(shop, "return", shop.owner, cello)
    assert left(shop, shop.act("arrived", instrument_id=cello)) == []
    assert (now(shop, cello).place, now(shop, cello).holder) == ("away", "owner")
    assert shop.wrong() == []


def test_what_is_lost_on_the_way_is_lost(shop: TriedShop) -> None:
    first, second = may_go(shop), may_go(shop)
    for one in (first, second):
        placing(shop, one)
    sending(shop, "dealer", shop.dealer, first, second)
    shop.act("report_loss", instrument_id=first, what_happened="The van burnt.", agreed_value=eur("9000.00"))
    shop.act("arrived", instrument_id=second)
    assert (now(shop, first).place, now(shop, second).place) == ("lost", "away")
    assert shop.wrong() == []


def refused(
    shop: TriedShop, kind: type[LedgerError], words: str, field: str | None, *given: Any, **more: Any
) -> None:
    """Make sure that nothing can be sent so, in these words, and that nothing is written."""
    before = shop.rows()
    with pytest.raises(kind, match=words) as caught:
        sending(shop, *given, **more)
    assert (type(caught.value), caught.value.field) == (kind, field)
    assert shop.rows() == before


def test_what_can_not_be_sent_is_refused_in_words(shop: TriedShop) -> None:
    first = "lines[0].instrument_id"
    cello = may_go(shop, trials_allowed=True)
    refused(shop, Refused, "is not sold", first, "sale", shop.buyer, cello)
    refused(shop, Refused, "is not on trial", first, "trial", shop.player, cello)
    refused(shop, Refused, "is not placed", first, "dealer", shop.dealer, cello)
    refused(shop, Refused, "nobody to return it to", first, "return", shop.owner, shop.own())
    refused(shop, Typed, "shop itself", "shipment.to_id", "other", shop.shop_person, cello)
    refused(shop, Typed, "Carrier is missing", "shipment.carrier", "other", shop.kin, cello, carrier="")
    refused(shop, Typed, "no place of ISO 3166", "shipment.goes_to", "other", shop.kin, cello, goes_to="XQ")
    refused(shop, Typed, "What is sent is missing", "lines", "other", shop.kin)
    refused(shop, Typed, "on the list already", "lines[1].instrument_id", "other", shop.kin, cello, cello)
    sold = shop.consigned()
    shop.sold(sold)
    refused(shop, Refused, "buyer still owes", "unpaid", "sale", shop.buyer, sold)
    refused(shop, Refused, "It is sold", first, "return", shop.owner, sold)
    lent(shop, lent_row(cello))
    refused(shop, Refused, "goes to nobody else", "shipment.to_id", "trial", shop.kin, cello)
    refused(shop, Refused, "is not here", first, "workshop", shop.dealer, cello)
    placed = may_go(shop)
    placing(shop, placed)
    refused(shop, Refused, "goes to nobody else", "shipment.to_id", "dealer", shop.kin, placed)
    sending(shop, "dealer", shop.dealer, placed)
    refused(shop, Refused, "is underway", first, "dealer", shop.dealer, placed)
    shop.pass_days(-1)
    with pytest.raises(Typed, match="nothing can happen to it before"):
        shop.act("arrived", instrument_id=placed)
    shop.pass_days(1)
    with pytest.raises(Refused, match="is not underway"):
        shop.act("arrived", instrument_id=shop.own())


def test_the_form_is_filled_by_how_it_stands_and_warns(shop: TriedShop) -> None:
    one = act("send")
    assert one.prefill is not None
    assert one.preview is not None
    cello = consigned(shop)
    with shop.ledger.read() as reading:
        assert one.prefill(reading, cello)["shipment"] == {"why": "other"}
    trial = lent(shop, lent_row(cello, "9500.00"))
    with shop.ledger.read() as reading:
        given = one.prefill(reading, cello)
    assert given["shipment"] == {"why": "trial", "to_id": shop.player}
    assert given["lines"][0].value == eur("9500.00")
    shop.act("set_country", country="US")
    shop.act("record_materials", instrument_id=cello, components=())
    form = shop.form(
        "send",
        shipment={**given["shipment"], "carrier": "Tideway", "goes_to": "CH", "insured_for": eur("5.00")},
        lines=given["lines"],
    )
    with shop.ledger.read() as reading:
        told = one.preview(reading, form)
    assert told.title == "To Ida Skerry with Tideway"
    assert "less than 9,500.00" in told.warnings[0]
    assert "Protected materials, loan abroad" in told.warnings[1]
    shop.act("take_trial_back", trial_id=trial)
    shop.sold(cello)
    with shop.ledger.read() as reading:
        assert one.prefill(reading, cello)["shipment"] == {"why": "sale", "to_id": shop.buyer}
    placed = may_go(shop)
    placing(shop, placed, until=shop.today + timedelta(days=9))
    with shop.ledger.read() as reading:
        assert one.prefill(reading, placed)["shipment"] == {"why": "dealer", "to_id": shop.dealer}
