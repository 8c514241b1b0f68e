"""Lending on trial: what goes out and what may not; what comes back, line by line."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest

from shopledger.acts import act
from shopledger.acts.conditions import MarkRow
from shopledger.quantities.errors import LedgerError, NotFound, Refused, Typed
from tests.acts.test_papers_left import left, stated, twice
from tests.helpers.shops import TriedShop, eur
from tests.helpers.trials import (
    bow,
    consigned,
    ended,
    lending,
    lent,
    lines,
    row,
    where,
)


def test_a_cello_a_bow_and_a_case_go_out(any_shop: TriedShop) -> None:
    shop = any_shop
    cello, stick = consigned(shop), bow(shop)
    outcome = twice(
        shop,
        "lend_on_trial",
        trial={
            "person_id": shop.player,
            "due_on": shop.today + timedelta(days=14),
            "identity_seen": "passport",
            "insurance": "Harbour Mutual, shown",
            "signed_on": shop.today,
        },
        lines=(
            row(cello, "9500.00"),
            row(stick, "900.00", condition_out="Hair: new."),
            row(None, "150.00", what="a cello case"),
        ),
        deposit=eur("500.00"),
    )
    assert left(shop, outcome) == [("payment_receipt", "PR 2026-001"), ("trial_agreement", "TR 2026-001")]
    trial = outcome.id
    now = where(shop, trial)
    assert (now.place, now.holder, now.person_id) == ("on_trial", "player", shop.player)
    assert (now.risk, now.insured_by, now.insured_for) == ("player", "player", 950000)
    assert now.trial_id == trial
    assert [(line.words, line.value) for line in lines(shop, trial)][2] == ("a cello case", 15000)
    assert shop.balances()["deposits"] == -50000
    facts = stated(shop, outcome.papers[0])
    assert (facts.whole, facts.deposit, facts.due_on) == (
        eur("10550.00"),
        eur("500.00"),
        shop.today + timedelta(days=14),
    )


def test_a_trial_begins_at_the_instrument_or_at_the_player(shop: TriedShop) -> None:
    cello = consigned(shop, "8000.00")
    begun, to = act("lend_on_trial"), act("lend_to")
    assert begun.prefill is not None
    assert to.prefill is not None
    with shop.ledger.read() as reading:
        begun.allowed(reading, cello)
        given = begun.prefill(reading, cello)
        assert given["lines"] == (row(cello, "8000.00"),)
        to.allowed(reading, shop.player)
        assert to.prefill(reading, shop.player)["trial"] == {"person_id": shop.player}
        with pytest.raises(Refused, match="shop itself"):
            to.allowed(reading, shop.shop_person)
    insured = shop.act(
        "take_in",
        instrument={"kind": "viola"},
        stay={"reason": "own", "insured_value": eur("700.00")},
        cost=eur("100.00"),
        asking=eur("900.00"),
    ).id
    with shop.ledger.read() as reading:
        assert begun.prefill(reading, insured)["lines"][0].value == eur("700.00")
    shop.act("hold", instrument_id=cello, person_id=shop.player, until=shop.today)
    with shop.ledger.read() as reading:
        assert begun.prefill(reading, cello)["trial"] == {"person_id": shop.player}
    lent(shop, row(cello))


def refused(
    shop: TriedShop, kind: type[LedgerError], words: str, field: str | None, *rows: Any, **inputs: Any
) -> None:
    """Make sure that things can't go out so, in these words, and that nothing is written."""
    before = shop.rows()
    with pytest.raises(kind, match=words) as caught:
        lending(shop, *rows, **inputs)
    assert (type(caught.value), caught.value.field) == (kind, field)
    assert shop.rows() == before


def test_no_end_and_no_value_is_no_trial(shop: TriedShop) -> None:
    cello = consigned(shop)
    refused(shop, Typed, "Value is missing", "lines[0].value", row(cello, None))
    refused(shop, Typed, "above zero", "lines[0].value", row(cello, "0.00"))
    refused(shop, Typed, "Back by is missing", "trial.due_on", row(cello), trial={"due_on": None})
    refused(shop, Typed, "before it goes out", "trial.due_on", row(cello), days=-1)
    refused(shop, Typed, "What goes out is missing", "lines")
    refused(shop, Typed, "Player is missing", "trial.person_id", row(cello), trial={"person_id": None})
    refused(shop, NotFound, "no such person", "trial.person_id", row(cello), trial={"person_id": 99})
    refused(shop, Typed, "shop itself", "trial.person_id", row(cello), trial={"person_id": shop.shop_person})
    refused(shop, Typed, "Choose an instrument, or say it", "lines[0].what", row(None, "5.00", what=" "))
    refused(shop, Typed, "its own words", "lines[0].what", row(cello, "5.00", what="a cello"))
    refused(shop, Typed, "on the list already", "lines[1].instrument_id", row(cello), row(cello))
    refused(shop, Typed, "after the day of this act", "trial.signed_on", row(cello),
            trial={"signed_on": shop.today + timedelta(days=1)})  # fmt: skip
    refused(shop, Typed, "above zero", "deposit", row(cello), deposit=eur("0.00"))


def test_what_may_not_go_out_is_refused_in_words(shop: TriedShop) -> None:
    first = "lines[0].instrument_id"
    refused(shop, Refused, "AG 2026-001 does not allow trials", first, row(shop.consigned()))
    refused(shop, Refused, "Nothing is agreed", first, row(shop.taken_in()))
    refused(shop, Refused, "is not here to be sold", first, row(shop.taken_in(reason="repair")))
    sold = consigned(shop)
    shop.sold(sold)
    refused(shop, Refused, "It is sold", first, row(sold))
    away = consigned(shop)
    shop.act("return_to_owner", instrument_id=away, handed_to="Orla Fenn")
    refused(shop, Refused, "not in the shop", first, row(away))
    kept = consigned(shop)
    shop.act("hold", instrument_id=kept, person_id=shop.buyer, until=shop.today + timedelta(days=9))
    refused(shop, Refused, "on hold for Tam Brine", first, row(kept))
    worked_on = consigned(shop)
    shop.act(
        "open_job_here", instrument_id=worked_on, client_id=shop.owner, bill_to="owner", hears="a new bridge"
    )
    refused(shop, Refused, "has the job 26-0001-", first, row(worked_on))
    out = consigned(shop)
    lent(shop, row(out))
    refused(shop, Refused, "on trial with Ida Skerry until 16 Mar 2026", first, row(out))
    ends = consigned(shop)
    refused(shop, Refused, "ends on 2 Mar 2027, before", "trial.due_on", row(ends), days=400)
    shop.pass_days(-1)
    refused(shop, Typed, "nothing can happen to it before", "on", row(ends))
    shop.pass_days(1)
    refused(shop, NotFound, "no such instrument", None, row(99))


def test_only_some_acts_are_offered_at_each_state(shop: TriedShop) -> None:
    from shopledger.acts import next_acts
    from shopledger.queries.shapes import Subject

    def offered(subject: Subject, key: int) -> set[str]:
        with shop.ledger.read() as reading:
            return {one.name for one in next_acts(reading, subject, key)}

    cello = consigned(shop)
    assert "lend_on_trial" in offered(Subject.INSTRUMENT, cello)
    trial = lent(shop, row(cello), row(None, "100.00", what="a case"))
    at_instrument = offered(Subject.INSTRUMENT, cello)
    assert not {"lend_on_trial", "return_to_owner", "open_job_here"} & at_instrument
    assert "sell" in at_instrument
    assert offered(Subject.TRIAL, trial) == {
        "take_trial_back",
        "decide_to_buy",
        "lose_thing",
        "lost_on_trial",
        "extend_trial",
        "sign_trial",
        "take_trial_deposit",
    }
    shop.act("decide_to_buy", trial_id=trial)
    assert {"sell_kept", "stay_on_trial", "take_trial_back"} <= offered(Subject.TRIAL, trial)
    assert "decide_to_buy" not in offered(Subject.TRIAL, trial)
    shop.act("take_trial_back", trial_id=trial)
    assert offered(Subject.TRIAL, trial) == set()


def test_the_preview_says_what_is_at_stake_and_what_is_wanting(shop: TriedShop) -> None:
    one = act("lend_on_trial")
    assert one.preview is not None
    cello = consigned(shop, signed=False)
    form = shop.form(
        "lend_on_trial",
        trial={"person_id": shop.player, "due_on": shop.today, "insured_by": "nobody"},
        lines=(row(cello, "9500.00"), row(None, "150.00", what="a case")),
        deposit=eur("500.00"),
    )
    with shop.ledger.read() as reading:
        told = one.preview(reading, form)
    assert "Ida Skerry" in told.title
    assert [line.amount for line in told.lines] == [
        eur("9500.00"), eur("150.00"), eur("9650.00"), eur("500.00")
    ]  # fmt: skip
    said = " ".join(told.warnings)
    for words in ("AG 2026-001 is not signed", "not signed yet", "Nobody insures", "No identity", "Line 1"):
        assert words in said
    assert shop.rows()["trial"] == 0


def test_a_report_going_out_is_set_beside_the_one_coming_back(any_shop: TriedShop) -> None:
    shop = any_shop
    cello, stick = consigned(shop), bow(shop)
    wear = MarkRow(part="top", term="wear")
    with pytest.raises(Typed, match=r"Which line is that about\? Write one of 1, 2") as caught:
        lent(shop, row(cello), row(stick), marks=(wear,))
    assert caught.value.field == "report_line"
    with pytest.raises(Typed, match="Which line"):
        lent(shop, row(cello), row(None, "9.00", what="a case"), marks=(wear,), report_line=2)
    with pytest.raises(Typed, match="no instrument of the ledger here"):
        lent(shop, row(None, "9.00", what="a case"), marks=(wear,))
    out = lending(shop, row(cello), row(stick), marks=(wear,), report_line=1)
    assert left(shop, out) == [("condition_report", "CR 2026-001"), ("trial_agreement", "TR 2026-001")]
    shop.pass_days(10)
    scratch = MarkRow(part="back", term="scratch", severity="slight", note="by the button")
    back = twice(
        shop,
        "take_trial_back",
        trial_id=out.id,
        lines="1",
        condition_back="Scratched by a chair, the player says.",
        marks=(MarkRow(part="top", term="wear", severity="marked"), scratch),
    )
    assert left(shop, back) == [("condition_report", "CR 2026-002"), ("trial_return", "TR 2026-001/2")]
    facts = stated(shop, back.papers[0])
    assert facts.back[0].new == ("top: wear, marked", "back: scratch, slight")
    assert [line.name for line in facts.still_out] == ["Bow"]
    first, second = lines(shop, out.id)
    assert (first.decision, first.condition_back) == ("returned", "Scratched by a chair, the player says.")
    assert second.decision is None
    assert (where(shop, out.id).place, where(shop, out.id, 2).place) == ("here", "on_trial")
    assert ended(shop, out.id) is None
    shop.act("take_trial_back", trial_id=out.id)
    assert ended(shop, out.id) == shop.today


def test_a_report_made_before_belongs_to_the_trial(shop: TriedShop) -> None:
    cello = consigned(shop)
    shop.act("make_report", instrument_id=cello, occasion="trial_out", overall="sound")
    trial = lent(shop, row(cello))
    assert lines(shop, trial)[0].report_out_id == 1
    shop.act("take_trial_back", trial_id=trial)
    assert lines(shop, lent(shop, row(cello)))[0].report_out_id is None


def test_words_of_its_condition_are_about_one_line(shop: TriedShop) -> None:
    trial = lent(shop, row(consigned(shop)), row(bow(shop), "900.00"), row(None, "50.00", what="a case"))
    with pytest.raises(Typed, match="Which line"):
        shop.act("take_trial_back", trial_id=trial, condition_back="scratched")
    shop.act("take_trial_back", trial_id=trial, lines="1 3", condition_back="torn", report_line=3)
    assert [line.condition_back for line in lines(shop, trial)] == ["", "", "torn"]
    shop.act("take_trial_back", trial_id=trial, condition_back="a hair gone")
    assert lines(shop, trial)[1].condition_back == "a hair gone"
    with pytest.raises(Refused, match="ended on"):
        shop.act("take_trial_back", trial_id=trial)


def test_lines_that_are_not_out_are_not_meant(shop: TriedShop) -> None:
    trial = lent(shop, row(consigned(shop)), row(bow(shop), "900.00"))
    shop.act("take_trial_back", trial_id=trial, lines="2")
    for name in ("take_trial_back", "decide_to_buy"):
        with pytest.raises(Typed, match=r"Line 2 can't be meant here\. Type one of 1") as caught:
            shop.act(name, trial_id=trial, lines="1, 2")
        assert caught.value.field == "lines"
        with pytest.raises(Typed, match="Type the numbers of the lines"):
            shop.act(name, trial_id=trial, lines="the cello")
    shop.pass_days(-1)
    with pytest.raises(Typed, match="began on"):
        shop.act("take_trial_back", trial_id=trial)
    shop.pass_days(1)
    with pytest.raises(NotFound, match="no such trial"):
        shop.act("take_trial_back", trial_id=99)
