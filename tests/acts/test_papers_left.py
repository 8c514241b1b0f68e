"""Which paper an act leaves where it is easily forgotten, and what is said when only the paper fails."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import select

from shopledger.acts import act, do
from shopledger.acts.declare import Outcome
from shopledger.acts.selling_forms import PartExchangeRow
from shopledger.model import Paper
from shopledger.papers.facts import from_json
from shopledger.papers.registry import kind_named
from shopledger.quantities.errors import Trouble
from shopledger.queries.facts.bill_of_sale import bill_of_sale_facts
from shopledger.queries.facts.invoice import invoice_facts, lines_of_sale
from shopledger.queries.papers import paper_bytes
from shopledger.store.files import FolderFiles
from tests.helpers.shops import FIRST_DAY, TriedShop, eur, row
from tests.papers.reading_back import in_order, text_of


def left(shop: TriedShop, outcome: Outcome) -> list[tuple[str, str]]:
    """Give kind and number of each paper an act left, in order."""
    with shop.ledger.read() as reading:
        rows = reading.session.execute(
            select(Paper.kind, Paper.number).where(Paper.id.in_(outcome.papers)).order_by(Paper.id)
        )
        return [(kind, number) for kind, number in rows]


def stated(shop: TriedShop, paper_id: int) -> Any:
    """Give what a paper states."""
    with shop.ledger.read() as reading:
        paper = reading.session.get_one(Paper, paper_id)
        return from_json(kind_named(paper.kind).facts, paper.facts)


def twice(shop: TriedShop, name: str, /, **inputs: Any) -> Outcome:
    """Send one filled form twice, as a double click does; the second time writes nothing."""
    form = shop.form(name, **inputs)
    first = do(shop.ledger, act(name), form)
    rows = shop.rows()
    assert do(shop.ledger, act(name), form) == first
    assert shop.rows() == rows
    return first


def test_a_loss_is_reported_to_its_owner(any_shop: TriedShop) -> None:
    shop = any_shop
    instrument = shop.consigned(excess_borne_by="owner", loss_commission=True, agreed_value=eur("9000.00"))
    shop.pass_days(30)
    outcome = twice(
        shop,
        "report_loss",
        instrument_id=instrument,
        what_happened="A fire in the shed.",
        reported_to="Harbour Mutual, claim 12",
        agreed_value=eur("9000.00"),
        excess=eur("500.00"),
    )
    assert left(shop, outcome) == [("loss_report", "LD 2026-001")]
    facts = stated(shop, outcome.papers[0])
    # 9,000.00 less the excess of 500.00 and 20 % of 9,000.00 in commission, by hand.
    assert [line.amount for line in facts.working] == [eur("9000.00"), eur("-500.00"), eur("-1800.00")]
    assert (facts.held, facts.claimed) == (eur("6700.00"), eur("8500.00"))
    assert facts.held.minor == shop.owed(shop.owner)[0]
    assert (facts.lost_on, facts.taken_in_on) == (shop.today, FIRST_DAY)
    assert in_order(
        text_of(paper_bytes(shop.ledger, outcome.papers[0])),
        *("Report of a loss", "Orla Fenn", "A fire in the shed.", "Harbour Mutual, claim 12", "6,700.00"),
        *("the owner bears it", "Its commission comes off that", "ask the insurer"),
    )


def test_what_the_shop_owns_of_a_loss_comes_off_before_the_owners_share_it(shop: TriedShop) -> None:
    instrument = shop.consigned(
        "900.00", row(shop.owner, "1/2"), row(shop.other, "1/4"), row(shop.shop_person, "1/4")
    )
    reported = shop.with_papers(
        "report_loss", instrument_id=instrument, what_happened="fire", agreed_value=eur("0.03")
    )
    facts = stated(shop, reported.papers[0])
    # Three cents by 1/2, 1/4, 1/4, largest remainder: one each, so that two are held for owners.
    assert [line.amount for line in facts.working] == [eur("0.03"), eur("-0.01")]
    assert [share.amount for share in facts.shares] == [eur("0.01"), eur("0.01")]
    settled = shop.with_papers("settle_loss", instrument_id=instrument, from_own=True)
    assert [stated(shop, paper).owner_net for paper in settled.papers] == [eur("0.01"), eur("0.01")]
    own = shop.own()
    assert (
        left(shop, shop.act("report_loss", instrument_id=own, what_happened="fire", agreed_value=eur("1.00")))
        == []
    )


def test_a_loss_is_held_for_whoever_owned_it_then(shop: TriedShop) -> None:
    instrument = shop.consigned("900.00")
    shop.act("report_loss", instrument_id=instrument, what_happened="a train", agreed_value=eur("900.00"))
    shop.act("take_in_again", instrument_id=instrument, stay={"reason": "keep"})
    shop.act("change_owner", instrument_id=instrument, owners=(row(shop.other),), how="bought it")
    settled = shop.with_papers("settle_loss", instrument_id=instrument, from_own=True)
    assert [owner.party.name for owner in stated(shop, settled.papers[0]).owners] == ["Orla Fenn"]


def test_a_fee_paid_has_its_note(any_shop: TriedShop) -> None:
    shop = any_shop
    told = {"told_buyer_on": FIRST_DAY, "told_owner_on": FIRST_DAY}
    for fee in ("400.00", "300.00"):
        shop.sold(shop.consigned(), referrer_id=shop.player, referral_fixed=eur(fee), **told)
    first = twice(shop, "pay_fee", person_id=shop.player, amount=eur("450.00"), reference="two sales")
    assert left(shop, first) == [("fee_note", "FP 2026-001")]
    facts = stated(shop, first.papers[0])
    # The oldest first: all of the first sale's 400.00 and 50.00 of the second's.
    assert [(line.reference, line.amount) for line in facts.lines] == [
        ("SI 2026-001", eur("400.00")),
        ("SI 2026-002", eur("50.00")),
    ]
    assert facts.still_owed == eur("250.00")
    assert in_order(
        text_of(paper_bytes(shop.ledger, first.papers[0])),
        *(
            "Note of a fee paid",
            "Ida Skerry",
            "450.00",
            "two sales",
            "SI 2026-001",
            "400.00",
            "SI 2026-002",
        ),
        *("50.00", "450.00", "still owes Ida Skerry", "250.00"),
    )
    second = shop.with_papers("pay_fee", person_id=shop.player, amount=eur("250.00"))
    assert [line.amount for line in stated(shop, second.papers[0]).lines] == [eur("250.00")]


def test_a_forfeited_deposit_has_its_note(any_shop: TriedShop) -> None:
    shop = any_shop
    instrument = shop.consigned(deposit_to_owner=Fraction(1, 2), deposit_to_shop=Fraction(1, 4))
    until = shop.today + timedelta(days=10)
    given = {"instrument_id": instrument, "person_id": shop.buyer, "until": until}
    shop.act("hold", **given, deposit=eur("500.01"), cleared=True)
    shop.pass_days(20)
    outcome = twice(shop, "end_hold", instrument_id=instrument, deposit="forfeit", why="stayed away")
    assert left(shop, outcome) == [("forfeit_note", "DF 2026-001"), ("refund_receipt", "RF 2026-001")]
    facts = stated(shop, outcome.papers[0])
    # 50,001 by 1/2, 1/4, 1/4: 25,000.5, 12,500.25 and 12,500.25; the unit left to the largest fraction.
    assert [line.amount for line in facts.working] == [eur("250.01"), eur("125.00"), eur("125.00")]
    assert (facts.deposit, facts.goes_back) == (eur("500.01"), eur("125.00"))
    assert in_order(
        text_of(paper_bytes(shop.ledger, outcome.papers[0])),
        *("Note of a forfeited deposit", "Tam Brine", "stayed away", "250.01", "125.00", "125.00", "500.01"),
        *(
            "the owner has 50% and the shop 25%. The rest goes back to the buyer.",
            "125.00 goes back to Tam Brine",
        ),
    )


def test_a_deposit_on_the_shops_own_is_kept_whole_and_noted(shop: TriedShop) -> None:
    own = shop.own()
    shop.act(
        "hold", instrument_id=own, person_id=shop.buyer, until=shop.today, deposit=eur("90.00"), cleared=True
    )
    outcome = shop.with_papers("end_hold", instrument_id=own, deposit="forfeit")
    facts = stated(shop, outcome.papers[0])
    assert [(line.label, line.amount) for line in facts.working] == [("To the shop", eur("90.00"))]
    assert facts.by_words == "The instrument is the shop\u2019s own; the shop keeps the deposit."


def test_the_end_of_an_agreement_is_stated_to_its_owner(shop: TriedShop) -> None:
    instrument = shop.consigned()
    outcome = shop.with_papers("end_agreement", instrument_id=instrument, how="given_up", why="no room")
    assert left(shop, outcome) == [("addendum", "AG 2026-001/2")]


def test_a_change_of_owner_ends_the_agreement_in_writing(shop: TriedShop) -> None:
    instrument = shop.consigned()
    outcome = shop.with_papers(
        "change_owner", instrument_id=instrument, owners=(row(shop.other),), how="given, letter seen"
    )
    assert left(shop, outcome) == [("addendum", "AG 2026-001/2")]
    without = shop.taken_in()
    assert (
        left(
            shop, shop.act("change_owner", instrument_id=without, owners=(row(shop.other),), how="inherited")
        )
        == []
    )


def test_a_settled_loss_is_accounted_for_to_each_owner(shop: TriedShop) -> None:
    instrument = shop.consigned("900.00", row(shop.owner, "1/3"), row(shop.other, "2/3"))
    shop.act("report_loss", instrument_id=instrument, what_happened="fire", agreed_value=eur("900.00"))
    outcome = shop.with_papers("settle_loss", instrument_id=instrument, from_own=True)
    assert left(shop, outcome) == [("account_sales", "AS 2026-001/1"), ("account_sales", "AS 2026-001/2")]
    assert shop.wrong() == []


def test_what_is_taken_in_part_exchange_has_its_receipt(shop: TriedShop) -> None:
    instrument = shop.consigned()
    exchanged = (PartExchangeRow(kind="violin", description="a violin", allowance=eur("500.00")),)
    outcome = shop.with_papers(
        "sell", buyer_id=shop.buyer, lines=(shop.line(instrument),), part_exchange=exchanged
    )
    assert ("intake", "TI 2026-002") in left(shop, outcome)


def test_an_act_whose_paper_fails_is_said_to_be_done(shop: TriedShop, tmp_path: Path) -> None:
    instrument = shop.consigned()
    blocked = tmp_path / "a file, not a folder"
    blocked.write_text("in the way")
    files, shop.ledger.files = shop.ledger.files, FolderFiles(blocked)
    form = shop.form("end_agreement", instrument_id=instrument, how="given_up")
    with pytest.raises(Trouble, match="done and booked"):
        do(shop.ledger, act("end_agreement"), form)
    shop.ledger.files = files
    outcome = do(shop.ledger, act("end_agreement"), form)
    assert left(shop, outcome) == [("addendum", "AG 2026-001/2")]
    assert shop.wrong() == []


def test_a_sale_states_what_is_read_back_from_it(any_shop: TriedShop) -> None:
    # Its papers are stated from what the act wrote, without reading it back: they must not differ from it.
    shop = any_shop
    held = shop.consigned("900.00", row(shop.owner, "1/3"), row(shop.other, "2/3"))
    until = shop.today + timedelta(days=9)
    shop.act(
        "hold", instrument_id=held, person_id=shop.buyer, until=until, deposit=eur("100.00"), cleared=True
    )
    exchanged = (PartExchangeRow(kind="violin", description="a violin", allowance=eur("50.00")),)
    plain = {"lines": (shop.line(shop.consigned()), shop.line(shop.own(), "2000.00", "own"))}
    for given in (
        plain,
        {"lines": (shop.line(shop.consigned()),), "part_exchange": exchanged},
        {"lines": (shop.line(held, "900.00"),)},
    ):
        outcome = shop.act("sell", buyer_id=shop.buyer, **given)
        invoice, *bills = (stated(shop, paper) for paper in outcome.papers[: 1 + len(given["lines"])])
        with shop.ledger.read() as reading:
            again = invoice_facts(reading, outcome.id, invoice.number, invoice.issued_on)
            lines = lines_of_sale(reading, outcome.id)
            sold = [
                bill_of_sale_facts(reading, [line.id], bill.number, bill.issued_on)
                for line, bill in zip(lines, bills, strict=True)
            ]
        assert [without_anchor(invoice), *map(without_anchor, bills)] == [
            without_anchor(again),
            *map(without_anchor, sold),
        ]
    assert shop.wrong() == []


def without_anchor(facts: Any) -> Any:
    """Give facts without where the journal stood, which later entries move on."""
    return replace(facts, anchor_entry=None, anchor_hash="")
