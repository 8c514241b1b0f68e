"""Damage in the shop's care: what happened, on which trial, who bears it; its claim closed, and no money booked."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest

from shopledger.acts import act
from shopledger.acts.conditions import MarkRow
from shopledger.quantities.errors import LedgerError, Refused, Typed
from shopledger.queries.instrument_sheet import sheet
from shopledger.queries.papers import paper_bytes
from shopledger.queries.trial_sheet import sheet as trial_sheet
from tests.acts.test_papers_left import left, stated, twice
from tests.helpers.away import offered
from tests.helpers.shops import FIRST_DAY, TriedShop, eur
from tests.helpers.trials import consigned, lent
from tests.helpers.trials import row as lent_row
from tests.papers.reading_back import in_order, text_of


def test_damage_on_a_trial_is_reported_claimed_and_closed(any_shop: TriedShop) -> None:
    shop = any_shop
    cello = consigned(shop)
    trial = lent(shop, lent_row(cello))
    shop.pass_days(10)
    shop.act("take_trial_back", trial_id=trial, marks=(MarkRow(part="top", term="crack"),))
    entries = shop.last_entry()
    outcome = twice(
        shop,
        "record_damage",
        instrument_id=cello,
        damage={
            "happened_on": FIRST_DAY + timedelta(days=4),
            "found_on": shop.today,
            "what_happened": "A chair fell against it.",
            "borne_by": "player",
            "reported_to": "Harbour Mutual, claim 88",
            "claimed": eur("450.00"),
        },
    )
    assert left(shop, outcome) == [("damage_report", "DM 2026-001")]
    facts = stated(shop, outcome.papers[0])
    assert (facts.trial_number, facts.was, facts.report_number) == (
        "TR 2026-001", "on trial: with Ida Skerry", "CR 2026-001",
    )  # fmt: skip
    assert in_order(
        text_of(paper_bytes(shop.ledger, outcome.papers[0])).replace("\u00a0", " "),
        *("Report of damage", "Orla Fenn", "DM 2026-001", "6 Mar 2026", "12 Mar 2026", "TR 2026-001"),
        *("on trial: with Ida Skerry", "A chair fell", "CR 2026-001", "the player", "claim 88", "450.00"),
        "as it was found",
    )
    shop.pass_days(20)
    closed = twice(
        shop,
        "close_claim",
        instrument_id=cello,
        damage="DM 2026-001",
        paid=eur("400.00"),
        outcome="Paid less the excess.",
    )
    assert left(shop, closed) == [("damage_report", "DM 2026-001/2")]
    again = stated(shop, closed.papers[0])
    assert (again.closed_on, again.paid, again.outcome) == (
        shop.today,
        eur("400.00"),
        "Paid less the excess.",
    )
    assert shop.last_entry() == entries
    with shop.ledger.read() as reading:
        told = [
            fact.quiet
            for page in (sheet(reading, cello), trial_sheet(reading, trial))
            for group in page.groups
            if group.title == "Damage"
            for fact in group.facts
        ]
    assert len(told) == 2
    assert told[0] == (
        "found on 12 Mar 2026; borne by the player; claimed 450.00; closed on 1 Apr 2026, paid 400.00"
    )
    assert shop.wrong() == []


def test_closing_is_offered_while_something_is_open(shop: TriedShop) -> None:
    own = shop.own()
    assert "record_damage" in offered(shop, own)
    assert "close_claim" not in offered(shop, own)
    for _n in range(2):
        shop.act(
            "record_damage", instrument_id=own, damage={"found_on": shop.today, "what_happened": "It fell."}
        )
    assert "close_claim" in offered(shop, own)
    with pytest.raises(Typed, match="DM 2026-001, DM 2026-002"):
        shop.act("close_claim", instrument_id=own, damage="DM 2025-001", outcome="glued")
    shop.act("close_claim", instrument_id=own, damage="DM 2026-002", outcome="glued")
    shop.act("close_claim", instrument_id=own, damage=" DM 2026-001", outcome="glued")
    with pytest.raises(Refused, match="no damage on record"):
        shop.act("close_claim", instrument_id=own, damage="DM 2026-001", outcome="glued")
    assert shop.wrong() == []


@pytest.mark.parametrize(
    ("kind", "words", "field", "given"),
    [
        (Typed, "What happened is missing", "damage.what_happened", {"what_happened": ""}),
        (Typed, "after the day of this act", "damage.found_on", {"found_on": FIRST_DAY + timedelta(days=9)}),
        (Typed, "after it was found", "damage.happened_on", {"happened_on": FIRST_DAY + timedelta(days=1)}),
        (Typed, "came in on", "damage.happened_on", {"happened_on": FIRST_DAY - timedelta(days=1)}),
        (Typed, "came in on", "damage.found_on", {"found_on": FIRST_DAY - timedelta(days=1)}),
        (Typed, "above zero", "damage.claimed", {"claimed": eur("0.00")}),
    ],
)
def test_what_can_not_be_so_is_refused(
    shop: TriedShop, kind: type[LedgerError], words: str, field: str, given: dict[str, Any]
) -> None:
    own = shop.own()
    before = shop.rows()
    with pytest.raises(kind, match=words) as caught:
        shop.act(
            "record_damage",
            instrument_id=own,
            damage={"found_on": FIRST_DAY, "what_happened": "It fell.", **given},
        )
    assert caught.value.field == field
    assert shop.rows() == before


def test_what_left_the_shop_is_not_damaged_here(shop: TriedShop) -> None:
    gone = shop.consigned()
    shop.act("return_to_owner", instrument_id=gone, handed_to="Orla Fenn")
    with pytest.raises(Refused, match="not in the shop"):
        shop.act(
            "record_damage", instrument_id=gone, damage={"found_on": shop.today, "what_happened": "It fell."}
        )


def test_the_forms_say_that_no_money_is_booked(shop: TriedShop) -> None:
    record, close = act("record_damage"), act("close_claim")
    assert record.prefill is not None
    assert record.preview is not None
    assert close.prefill is not None
    assert close.preview is not None
    cello = consigned(shop)
    lent(shop, lent_row(cello))
    with shop.ledger.read() as reading:
        given = record.prefill(reading, cello)["damage"]
        assert given == {"found_on": shop.today, "borne_by": "player"}
        damage = {**given, "what_happened": "It fell.", "claimed": eur("90.00")}
        told = record.preview(reading, shop.form("record_damage", instrument_id=cello, damage=damage))
    assert [line.how for line in told.lines] == ["on trial: with Ida Skerry", "TR 2026-001"]
    assert "time to report" in told.warnings[0]
    assert "books no money" in told.warnings[1]
    shop.act("record_damage", instrument_id=cello, damage=damage)
    with shop.ledger.read() as reading:
        filled = close.prefill(reading, cello)
        assert filled == {"damage": "DM 2026-001", "paid": eur("90.00")}
        over = {**filled, "paid": eur("100.00"), "outcome": "paid"}
        told = close.preview(reading, shop.form("close_claim", instrument_id=cello, **over))
    assert "more than was claimed: 90.00" in told.warnings[0]
    shop.pass_days(-1)
    with pytest.raises(Typed, match="can't be closed before"):
        shop.act("close_claim", instrument_id=cello, damage="DM 2026-001", outcome="paid")
    shop.pass_days(1)
