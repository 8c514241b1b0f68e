"""While a trial goes on: a later end, signatures, letters of its end; its deposit, which is the player's money."""

from __future__ import annotations

from datetime import timedelta
from fractions import Fraction

import pytest

from shopledger.acts import next_acts
from shopledger.quantities.errors import NotFound, Refused, Typed
from shopledger.queries.shapes import Subject
from tests.acts.test_papers_left import left, stated, twice
from tests.helpers.jobs import prefilled, preview_of, refused
from tests.helpers.shops import TriedShop, eur
from tests.helpers.trials import bow, consigned, decisions, ended, held, lent, row, sell_kept, where


def offered(shop: TriedShop, trial: int) -> set[str]:
    with shop.ledger.read() as reading:
        return {one.name for one in next_acts(reading, Subject.TRIAL, trial)}


def test_a_later_end_is_agreed_and_the_earlier_stays_on_record(any_shop: TriedShop) -> None:
    shop = any_shop
    trial = lent(shop, row(consigned(shop)), row(None, "90.00", what="a case"))
    first, second = shop.today + timedelta(days=21), shop.today + timedelta(days=30)
    shop.pass_days(20)  # also when it is over already
    told = preview_of(shop, "extend_trial", trial_id=trial, due_on=first, agreed_by="by telephone")
    assert [line.how for line in told.lines] == ["16 Mar 2026", "23 Mar 2026"]
    outcome = twice(shop, "extend_trial", trial_id=trial, due_on=first, agreed_by="by telephone")
    assert left(shop, outcome) == [("trial_extension", "TR 2026-001/2")]
    outcome = shop.act("extend_trial", trial_id=trial, due_on=second, agreed_by="by letter")
    assert left(shop, outcome) == [("trial_extension", "TR 2026-001/3")]
    facts = stated(shop, outcome.papers[0])
    assert (facts.due_before_on, facts.due_on) == (first, second)
    assert decisions(shop, trial) == [None, None]


def test_an_end_that_is_not_later_or_not_agreed_is_refused(shop: TriedShop) -> None:
    cello = consigned(shop, ends_on=shop.today + timedelta(days=20))
    trial = lent(shop, row(cello), row(bow(shop), "900.00"))
    given = {"trial_id": trial, "agreed_by": "by telephone"}
    due = shop.today + timedelta(days=14)
    sentence = refused(shop, Typed, "due_on", "extend_trial", **given, due_on=due)
    assert "It is due on 16 Mar 2026 as agreed before" in sentence
    sentence = refused(shop, Refused, "due_on", "extend_trial", **given, due_on=due + timedelta(days=7))
    assert "AG 2026-001 ends on 22 Mar 2026, before the trial would" in sentence
    shop.act("add_addendum", instrument_id=cello, terms={"trials_allowed": False}, signed_by="Orla Fenn")
    sentence = refused(shop, Refused, None, "extend_trial", **given, due_on=due + timedelta(days=2))
    assert "does not allow trials" in sentence
    # What came back asks nothing of its agreement any more.
    shop.act("take_trial_back", trial_id=trial, lines="1")
    shop.act("extend_trial", **given, due_on=due + timedelta(days=40))
    shop.act("take_trial_back", trial_id=trial)
    refused(shop, Refused, None, "extend_trial", **given, due_on=due + timedelta(days=50))
    refused(shop, NotFound, None, "extend_trial", **{**given, "trial_id": 9}, due_on=due)


def test_signatures_are_recorded_once(shop: TriedShop) -> None:
    trial = lent(shop, row(consigned(shop)))
    assert prefilled(shop, "sign_trial", trial) == {"signed_on": shop.today}
    later = shop.today + timedelta(days=1)
    refused(shop, Typed, "signed_on", "sign_trial", trial_id=trial, signed_on=later)
    twice(shop, "sign_trial", trial_id=trial, signed_on=shop.today)
    sentence = refused(shop, Refused, None, "sign_trial", trial_id=trial, signed_on=shop.today)
    assert sentence == "TR 2026-001 was signed on 2 Mar 2026."
    assert "sign_trial" not in offered(shop, trial)


def test_a_letter_reminds_and_does_nothing_else(any_shop: TriedShop) -> None:
    shop = any_shop
    trial = lent(shop, row(consigned(shop)), row(bow(shop), "900.00"))
    sentence = refused(shop, Refused, None, "remind_of_trial", trial_id=trial)
    assert "a reminder is written from 7 days before" in sentence
    shop.pass_days(40)
    told = preview_of(shop, "remind_of_trial", trial_id=trial)
    assert told.lines[0].how == "16 Mar 2026, 26 days over"
    outcome = twice(shop, "remind_of_trial", trial_id=trial)
    assert left(shop, outcome) == [("trial_reminder", "TL 2026-001")]
    assert (decisions(shop, trial), where(shop, trial).place) == ([None, None], "on_trial")
    sentence = refused(shop, Refused, "on", "remind_of_trial", trial_id=trial)
    assert "went out on 11 Apr 2026 already" in sentence
    shop.pass_days(7)
    shop.act("decide_to_buy", trial_id=trial, lines="2")
    outcome = shop.act("remind_of_trial", trial_id=trial)
    assert left(shop, outcome) == [("trial_reminder", "TL 2026-002")]
    shop.act("decide_to_buy", trial_id=trial)
    shop.pass_days(7)
    sentence = refused(shop, Refused, None, "remind_of_trial", trial_id=trial)
    assert "waits to be decided" in sentence


def test_a_deposit_is_owed_to_the_player_and_given_back(any_shop: TriedShop) -> None:
    shop = any_shop
    trial = lent(shop, row(consigned(shop)))
    given = {"trial_id": trial, "amount": eur("400.00")}
    refused(shop, Typed, "amount", "take_trial_deposit", trial_id=trial, amount=eur("0.00"))
    booked = shop.booked(lambda: twice(shop, "take_trial_deposit", **given))
    assert booked == [{"in_transit": 40000, "deposits Ida Skerry": -40000}]
    assert shop.act("take_trial_deposit", trial_id=trial, amount=eur("50.00")).papers
    for name in ("give_trial_deposit_back", "forfeit_trial_deposit"):
        assert name not in offered(shop, trial)
    sentence = refused(shop, Refused, None, "give_trial_deposit_back", trial_id=trial)
    assert "No deposit that has cleared is held for the trial TR 2026-001" in sentence
    booked = shop.booked(lambda: twice(shop, "clear_trial_deposit", trial_id=trial))
    assert booked == [{"in_transit": -40000, "bank": 40000}, {"in_transit": -5000, "bank": 5000}]
    refused(shop, Refused, None, "clear_trial_deposit", trial_id=trial)
    told = preview_of(shop, "give_trial_deposit_back", trial_id=trial)
    assert told.lines[0].amount == eur("450.00")
    assert "Still out, and then without a deposit: No. 001 cello" in told.warnings[0]
    shop.act("take_trial_back", trial_id=trial)
    # All came back, but the shop still holds the player's money: it isn't over.
    assert (ended(shop, trial), held(shop, trial)) == (None, 45000)
    booked = shop.booked(lambda: twice(shop, "give_trial_deposit_back", trial_id=trial, method="cash"))
    assert booked == [
        {"deposits Ida Skerry": 40000, "bank": -40000},
        {"deposits Ida Skerry": 5000, "bank": -5000},
    ]
    assert ended(shop, trial) == shop.today
    assert shop.balances() == {}
    for name in ("take_trial_deposit", "clear_trial_deposit", "bounce_trial_deposit"):
        more = {"amount": eur("1.00")} if name == "take_trial_deposit" else {}
        assert "ended on" in refused(shop, Refused, None, name, trial_id=trial, **more)


def test_a_deposit_that_came_back_is_undone(any_shop: TriedShop) -> None:
    shop = any_shop
    trial = lent(shop, row(consigned(shop)), deposit=eur("400.00"), cleared=True)
    booked = shop.booked(lambda: twice(shop, "bounce_trial_deposit", trial_id=trial))
    assert booked == [
        {"in_transit": 40000, "bank": -40000},
        {"in_transit": -40000, "deposits Ida Skerry": 40000},
    ]
    assert (held(shop, trial), where(shop, trial).place) == (0, "on_trial")
    refused(shop, Refused, None, "bounce_trial_deposit", trial_id=trial)
    shop.act("take_trial_deposit", trial_id=trial, amount=eur("30.00"))
    shop.act("take_trial_back", trial_id=trial)
    assert ended(shop, trial) is None
    shop.act("bounce_trial_deposit", trial_id=trial)
    assert ended(shop, trial) == shop.today


def test_what_is_kept_of_a_deposit_is_shared_as_agreed(any_shop: TriedShop) -> None:
    shop = any_shop
    cello = consigned(shop, deposit_to_owner=Fraction(1, 2), deposit_to_shop=Fraction(1, 4))
    trial = lent(shop, row(cello), row(None, "90.00", what="a case"), deposit=eur("100.00"), cleared=True)
    assert prefilled(shop, "forfeit_trial_deposit", trial) == {"amount": eur("100.00")}
    given = {"trial_id": trial, "line": 1, "amount": eur("80.00"), "why": "a chip"}
    sentence = refused(shop, Typed, "line", "forfeit_trial_deposit", **{**given, "line": 2})
    assert "Line 2 is no instrument of the ledger" in sentence
    refused(shop, Typed, "line", "forfeit_trial_deposit", **{**given, "line": 3})
    sentence = refused(shop, Refused, "amount", "forfeit_trial_deposit", **{**given, "amount": eur("100.01")})
    assert "100.00 is held" in sentence.replace("€", "")
    booked = shop.booked(lambda: twice(shop, "forfeit_trial_deposit", **given))
    assert booked == [
        {
            "deposits Ida Skerry": 6000,
            "forfeits": -2000,
            "bank_owners": 4000,
            "bank": -4000,
            "owners_held Orla Fenn": -4000,
        },
        {"deposits Ida Skerry": 2000, "bank": -2000},
    ]
    assert held(shop, trial) == 2000


def test_where_nothing_is_agreed_of_a_deposit_it_goes_back(shop: TriedShop) -> None:
    trial = lent(shop, row(consigned(shop)), deposit=eur("100.00"), cleared=True)
    given = {"trial_id": trial, "amount": eur("80.00"), "why": "a chip"}
    sentence = refused(shop, Refused, "amount", "forfeit_trial_deposit", **given)
    assert "doesn't say that a deposit is forfeited" in sentence


@pytest.mark.parametrize("lines", ["1", "2"])
def test_a_deposit_is_set_off_whichever_of_the_things_is_sold(shop: TriedShop, lines: str) -> None:
    trial = lent(
        shop, row(bow(shop), "900.00"), row(bow(shop), "900.00"), deposit=eur("100.00"), cleared=True
    )
    shop.act("decide_to_buy", trial_id=trial, lines=lines)
    sell_kept(shop, trial)
    assert (shop.owes(1), held(shop, trial)) == (80000, 0)
    assert ended(shop, trial) is None
