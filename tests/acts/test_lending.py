"""Lending on trial: what goes out and what may not; taken back, kept, lost, line by line; ended when all is decided."""

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
    decisions,
    ended,
    held,
    lending,
    lent,
    lines,
    row,
    sell_kept,
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


def test_what_is_kept_is_sold_with_the_deposit_set_off(any_shop: TriedShop) -> None:
    shop = any_shop
    cello, stick = consigned(shop), bow(shop)
    trial = lent(shop, row(cello), row(stick, "900.00"), deposit=eur("500.00"), cleared=True)
    shop.pass_days(5)
    form = shop.form("decide_to_buy", trial_id=trial, lines="2")
    from shopledger.acts.doing import commit_act

    assert commit_act(shop.ledger, act("decide_to_buy"), form) == commit_act(
        shop.ledger, act("decide_to_buy"), form
    )
    assert decisions(shop, trial) == [None, "bought"]
    assert where(shop, trial, 2).place == "on_trial"
    assert shop.booked(lambda: sell_kept(shop, trial)) == [
        {"buyers Ida Skerry": 90000, "own_sales": -90000, "cost_of_sales": 30000, "stock": -30000},
        {"deposits Ida Skerry": 50000, "buyers Ida Skerry": -50000},
    ]
    assert shop.owes(1) == 40000
    assert [line.sale_id for line in lines(shop, trial)] == [None, 1]
    # The cello is still out, and nothing of it is decided by the sale of the bow.
    assert decisions(shop, trial) == [None, "bought"]
    assert ended(shop, trial) is None
    shop.act("take_trial_back", trial_id=trial)
    assert ended(shop, trial) == shop.today
    shop.act("hand_over", instrument_id=stick, handed_to="Ida Skerry", unpaid=True)
    assert where(shop, trial, 2).place == "handed_over"


def test_a_deposit_above_the_invoice_stays_held_while_things_are_out(any_shop: TriedShop) -> None:
    shop = any_shop
    cello, stick = consigned(shop), bow(shop)
    trial = lent(shop, row(cello), row(stick, "900.00"), deposit=eur("2000.00"), cleared=True)
    shop.act("decide_to_buy", trial_id=trial, lines="2")
    outcome = sell_kept(shop, trial)
    assert [kind for kind, _number in left(shop, outcome)] == ["invoice", "bill_of_sale"]
    assert (shop.owes(1), held(shop, trial)) == (0, 110000)
    shop.act("take_trial_back", trial_id=trial)
    assert ended(shop, trial) is None
    assert shop.booked(lambda: shop.act("give_trial_deposit_back", trial_id=trial, method="cash")) == [
        {"deposits Ida Skerry": 110000, "bank": -110000}
    ]
    assert ended(shop, trial) == shop.today


def test_what_of_the_last_things_deposit_is_above_goes_back(shop: TriedShop) -> None:
    stick = bow(shop)
    trial = lent(
        shop,
        row(stick, "900.00"),
        row(None, "80.00", what="a bow case"),
        deposit=eur("2000.00"),
        cleared=True,
    )
    shop.act("decide_to_buy", trial_id=trial)
    outcome = sell_kept(shop, trial)
    # 900.00 and 80.00 are set off, 1,020.00 goes back.
    assert [kind for kind, _number in left(shop, outcome)] == ["refund_receipt", "invoice", "bill_of_sale"]
    assert stated(shop, outcome.papers[2]).amount == eur("1020.00")
    assert [line.sale_id for line in lines(shop, trial)] == [1, 1]
    assert ended(shop, trial) == shop.today
    invoice = stated(shop, outcome.papers[0])
    assert [payment.amount for payment in invoice.payments] == [eur("980.00")]


def test_a_thing_that_is_not_on_the_invoice_stays_out(shop: TriedShop) -> None:
    trial = lent(shop, row(bow(shop), "900.00"), row(None, "80.00", what="a bow case"))
    shop.act("decide_to_buy", trial_id=trial)
    with shop.ledger.read() as reading:
        prefill = act("sell_kept").prefill
        assert prefill is not None
        first = prefill(reading, trial)["lines"][0]
    sell_kept(shop, trial, lines=(first,))
    assert [line.is_out for line in lines(shop, trial)] == [False, True]
    shop.act("take_trial_back", trial_id=trial)
    assert ended(shop, trial) == shop.today


def test_a_sale_at_the_instrument_decides_its_line_too(shop: TriedShop) -> None:
    cello = consigned(shop)
    trial = lent(shop, row(cello))
    prefill = act("sell").prefill
    assert prefill is not None
    with shop.ledger.read() as reading:
        assert prefill(reading, cello)["buyer_id"] == shop.player
        preview = act("sell").preview
        assert preview is not None
        preview(reading, shop.form("sell", buyer_id=None, lines=(shop.line(cello),)))
    sale = shop.act("sell", buyer_id=shop.player, lines=(shop.line(cello),)).id
    assert (decisions(shop, trial), ended(shop, trial)) == (["bought"], shop.today)
    shop.pay(sale)


def test_nobody_else_buys_what_is_on_trial(shop: TriedShop) -> None:
    cello = consigned(shop)
    trial = lent(shop, row(cello), deposit=eur("100.00"))
    for name in ("sell", "sell_kept"):
        with pytest.raises(
            Refused, match=r"on trial with Ida Skerry until 16 Mar 2026\. Take it back"
        ) as caught:
            shop.act(name, buyer_id=shop.buyer, lines=(shop.line(cello),))
        assert caught.value.field == "lines[0].instrument_id"
    with pytest.raises(Refused, match="PR 2026-001 has not cleared"):
        shop.act("sell", buyer_id=shop.player, lines=(shop.line(cello),))
    shop.act("bounce_trial_deposit", trial_id=trial)
    shop.act("sell", buyer_id=shop.player, lines=(shop.line(cello),))


def test_nothing_is_sold_or_taken_back_by_silence(shop: TriedShop) -> None:
    cello = consigned(shop)
    trial = lent(shop, row(cello), days=3)
    rows = shop.rows()
    shop.pass_days(300)
    assert shop.rows() == rows
    assert (decisions(shop, trial), where(shop, trial).place) == ([None], "on_trial")
    with pytest.raises(Refused, match="on trial with Ida Skerry until 5 Mar 2026"):
        shop.act("return_to_owner", instrument_id=cello, handed_to="Orla Fenn")


def test_a_decision_to_buy_can_be_taken_back(shop: TriedShop) -> None:
    trial = lent(shop, row(consigned(shop)), row(bow(shop), "900.00"))
    shop.act("decide_to_buy", trial_id=trial)
    with pytest.raises(Refused, match="waits to be decided"):
        shop.act("decide_to_buy", trial_id=trial)
    shop.act("stay_on_trial", trial_id=trial, lines="2")
    assert decisions(shop, trial) == ["bought", None]
    shop.act("take_trial_back", trial_id=trial)
    assert decisions(shop, trial) == ["returned", "returned"]
    shop.act("lend_on_trial", trial={"person_id": shop.buyer, "due_on": shop.today}, lines=(row(1),))


def test_a_sale_from_a_trial_taken_back_brings_the_instrument_back(any_shop: TriedShop) -> None:
    shop = any_shop
    stick = bow(shop)
    trial = lent(shop, row(stick, "900.00"), deposit=eur("900.00"), cleared=True)
    shop.act("decide_to_buy", trial_id=trial)
    sell_kept(shop, trial)
    assert where(shop, trial).place == "on_trial"
    shop.act("take_back", sale_id=1, why="too stiff")
    assert where(shop, trial).place == "here"
    shop.act("give_back", sale_id=1, amount=eur("900.00"))
    assert "deposits" not in shop.balances()
    lent(shop, row(stick, "900.00"))


def test_what_is_lost_on_trial_decides_its_line(any_shop: TriedShop) -> None:
    shop = any_shop
    cello = consigned(shop)
    trial = lent(shop, row(cello, "9000.00"), row(None, "80.00", what="a case"))
    lost = act("lost_on_trial")
    assert lost.prefill is not None
    with shop.ledger.read() as reading:
        assert lost.prefill(reading, trial) == {"instrument_id": cello, "agreed_value": eur("9000.00")}
    shop.act("lost_on_trial", instrument_id=cello, what_happened="a train", agreed_value=eur("9000.00"))
    assert decisions(shop, trial) == ["lost", None]
    assert where(shop, trial).place == "lost"
    with pytest.raises(Typed, match="What happened"):
        shop.act("lose_thing", trial_id=trial, what_happened="")
    shop.act("lose_thing", trial_id=trial, what_happened="with the train")
    assert (decisions(shop, trial), ended(shop, trial)) == (["lost", "lost"], shop.today)


def test_an_instrument_is_not_lost_as_a_thing(shop: TriedShop) -> None:
    trial = lent(shop, row(consigned(shop)))
    with pytest.raises(Refused, match="Nothing without a number"):
        shop.act("lose_thing", trial_id=trial, what_happened="gone")
