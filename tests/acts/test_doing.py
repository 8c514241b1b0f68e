"""Doing an act: once however often it is sent, numbers without gaps, one winner where two sell the same."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import select

from shopledger import acts
from shopledger.acts.billing_ready import WorkRow
from shopledger.acts.doing import commit_act
from shopledger.acts.estimating_forms import EstimateRow
from shopledger.acts.selling_forms import PartExchangeRow, SellLine
from shopledger.model import Agreement, Payment, Person, Sale, Stay
from shopledger.quantities.errors import Bug, LedgerError, NotFound, Refused, Trouble, Typed
from shopledger.queries.shapes import Subject
from shopledger.store.unit import Writing
from tests.acts.test_billing import here, left, ready
from tests.acts.test_collecting import billed
from tests.helpers.shops import FIRST_DAY, StillShop, TriedShop, eur, row
from tests.helpers.trials import bow, consigned, lent
from tests.helpers.trials import row as lend_row


def test_the_same_form_sent_twice_books_once(any_shop: TriedShop) -> None:
    shop = any_shop
    form = shop.form("sell", buyer_id=shop.buyer, lines=(shop.line(shop.consigned()),))
    first = acts.do(shop.ledger, acts.act("sell"), form)
    before = shop.rows()
    assert acts.do(shop.ledger, acts.act("sell"), form) == first
    assert shop.rows() == before
    other = shop.form("add_person", op_id=form.op_id, person={"name": "Someone Else"})
    with pytest.raises(Bug, match="carries the id of a form"):
        acts.do(shop.ledger, acts.act("add_person"), other)
    assert shop.rows() == before


def test_a_commit_that_reports_failure_and_yet_is_there(
    shop: TriedShop, monkeypatch: pytest.MonkeyPatch
) -> None:
    sale = shop.sold(shop.consigned())
    form = shop.form("take_payment", sale_id=sale, amount=eur("100.00"))
    real = Writing.commit

    def commits_and_fails(writing: Writing) -> None:
        real(writing)
        raise Trouble("The disk failed.")

    monkeypatch.setattr(Writing, "commit", commits_and_fails)
    first = commit_act(shop.ledger, acts.act("take_payment"), form)
    monkeypatch.setattr(Writing, "commit", real)
    assert commit_act(shop.ledger, acts.act("take_payment"), form) == first
    assert shop.owes(sale) == 990000


def test_a_commit_that_fails_leaves_nothing(shop: TriedShop, monkeypatch: pytest.MonkeyPatch) -> None:
    sale = shop.sold(shop.consigned())
    form = shop.form("take_payment", sale_id=sale, amount=eur("100.00"))
    before = shop.rows()

    def fails(_writing: Writing) -> None:
        raise Trouble("The disk is full.")

    with monkeypatch.context() as patched:
        patched.setattr(Writing, "commit", fails)
        with pytest.raises(Trouble):
            commit_act(shop.ledger, acts.act("take_payment"), form)
    assert shop.rows() == before
    commit_act(shop.ledger, acts.act("take_payment"), form)
    assert shop.owes(sale) == 990000


def test_numbers_have_no_gaps_through_refusals_and_years(any_shop: TriedShop) -> None:
    shop = any_shop
    for year in (2026, 2027):
        shop.clock.day = date(year, 12, 30)
        for n in range(3):
            instrument = shop.consigned()
            # The allowance is refused late, after the invoice had its number.
            with pytest.raises(Refused):
                shop.sold(
                    instrument,
                    part_exchange=(
                        PartExchangeRow(kind="violin", description="x", allowance=eur("20000.00")),
                    ),
                )
            sale = shop.sold(instrument)
            shop.pay(sale, f"{n + 1}.00")
            with pytest.raises(Refused):
                shop.pay(sale, "10000.00")
    numbered: tuple[tuple[Any, str], ...] = (
        (Sale, "SI"), (Payment, "PR"), (Agreement, "AG"), (Stay, "TI"),
    )  # fmt: skip
    with shop.ledger.read() as reading:
        for record, letters in numbered:
            found = list(reading.session.scalars(select(record.number).order_by(record.id)))
            assert found == [f"{letters} {year}-{n:03d}" for year in (2026, 2027) for n in (1, 2, 3)]
        people = list(reading.session.scalars(select(Person.number).order_by(Person.id)))
        assert people == [f"P {n:03d}" for n in range(len(people))]


def test_two_threads_sell_the_same_on_a_server(server_place: str) -> None:
    shop = TriedShop(server_place)
    for _round in range(3):
        instrument = shop.consigned()
        forms = [
            shop.form("sell", buyer_id=buyer, lines=(shop.line(instrument),))
            for buyer in (shop.buyer, shop.player)
        ]
        with ThreadPoolExecutor(2) as pool:
            tries = [pool.submit(commit_act, shop.ledger, acts.act("sell"), form) for form in forms]
        errors = [one.exception() for one in tries if one.exception() is not None]
        assert len(errors) == 1
        assert isinstance(errors[0], Refused)
        assert "already sold" in errors[0].sentence()
    with shop.ledger.read() as reading:
        found = list(reading.session.scalars(select(Sale.number).order_by(Sale.id)))
    shop.ledger.close()
    assert found == [f"SI 2026-{n:03d}" for n in (1, 2, 3)]
    assert shop.wrong() == []


SELLS = """
import sys
from datetime import date, timedelta
from pathlib import Path
from shopledger.acts import act, new_op_id
from shopledger.acts.doing import commit_act
from shopledger.acts.selling_forms import SellLine
from shopledger.quantities.errors import Refused
from shopledger.quantities.money import Money
from shopledger.store.ledger import open_ledger
ledger, won = open_ledger(Path(sys.argv[1])), 0
print("ready", flush=True)
sys.stdin.readline()
for instrument in map(int, sys.argv[3:]):
    line = SellLine(kind="consigned", instrument_id=instrument, price=Money(1000000, "EUR"))
    form = act("sell").form(op_id=new_op_id(), on=date(2026, 3, 2), buyer_id=int(sys.argv[2]), lines=(line,))
    try:
        commit_act(ledger, act("sell"), form)
        won += 1
    except Refused as error:
        assert "already sold" in error.sentence(), error
print(won)
"""


def test_two_processes_sell_the_same_in_one_file(file_place: Path) -> None:
    shop = TriedShop(file_place)
    instruments = [shop.consigned() for _ in range(4)]
    shop.ledger.close()
    running = [
        subprocess.Popen(
            [sys.executable, "-c", SELLS, str(file_place), str(buyer), *map(str, instruments)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            cwd=Path(__file__).parents[2],
        )
        for buyer in (shop.buyer, shop.player)
    ]
    for process in running:
        assert process.stdout is not None
        assert process.stdout.readline() == "ready\n"
    for process in running:
        assert process.stdin is not None
        process.stdin.write("go\n")
        process.stdin.flush()
    won = [int(process.communicate()[0]) for process in running]
    assert [process.returncode for process in running] == [0, 0]
    assert sum(won) == len(instruments)
    assert shop.wrong() == []


def test_an_unknown_act_names_the_nearest() -> None:
    with pytest.raises(NotFound, match="nearest is take_back"):
        acts.act("take_bak")


@pytest.fixture
def still_too(file_place: Path) -> StillShop:
    return StillShop(file_place)


def rich(shop: TriedShop) -> None:
    """Leave things in further states beside those of a still shop."""
    ending = shop.consigned()
    shop.act("end_agreement", instrument_id=ending, how="given_up")
    instrument, sale = shop.settled()
    shop.act("pay_owner", person_id=shop.owner, amount=eur("10.00"))
    shop.act("hand_over", instrument_id=instrument, handed_to="Tam Brine")
    shop.act("take_back", sale_id=sale, why="wolf note")
    shared = shop.consigned("500.00", row(shop.owner, "1/2"), row(shop.shop_person, "1/2"), signed=False)
    shop.act(
        "sell",
        buyer_id=shop.player,
        lines=(shop.line(shared, "400.00"), SellLine(kind="work", what="x", price=eur("1.00"))),
        sell_unsigned=True,
        referrer_id=shop.dealer,
        referral_rate=Fraction(1, 10),
        told_buyer_on=FIRST_DAY,
        told_owner_on=FIRST_DAY,
        part_exchange=(PartExchangeRow(kind="bow", description="a bow", allowance=eur("50.00")),),
    )
    late = shop.consigned()
    shop.act("add_addendum", instrument_id=late, terms={"ends_on": date(2126, 1, 1)})
    at_work(shop)
    out = lent(shop, lend_row(consigned(shop)), lend_row(bow(shop), "900.00"))
    shop.act("decide_to_buy", trial_id=out)
    lent(shop, lend_row(consigned(shop)), deposit=eur("200.00"))
    shop.act("note_wish", wish={"person_id": shop.player, "kind": "cello"})
    shop.act("end_wish", wish_id=shop.act("note_wish", wish={"person_id": shop.player, "kind": "bow"}).id)
    shop.act("begin_count")


def at_work(shop: TriedShop) -> None:
    """Leave goods, a price list, and jobs in every state that acts on them can reach."""
    string = shop.act("add_goods", goods={"what": "String", "sort": "part", "price": eur("9.00")}).id
    shop.act("receive_goods", goods_id=string, quantity=5, cost=eur("3.33"))
    shop.act("add_goods", goods={"what": "Rosin", "sort": "accessory"})
    shop.act("add_work_item", work={"what": "Seam glued", "price": eur("80.00")})
    dropped = shop.act("add_work_item", work={"what": "Bow rehaired", "minutes": 45}).id
    shop.act("leave_out_work_item", work_item_id=dropped)
    left(shop)
    estimated = left(shop, deposit=eur("50.00"))
    shop.act("estimate_job", job_id=estimated, **FILLED["estimate_job"](shop))
    shop.act("approve_job", job_id=left(shop), given_by="Ida Skerry", up_to=eur("100.00"))
    declined, returned = left(shop, deposit=eur("5.00"), cleared=True), left(shop)
    for one in (declined, returned):
        shop.act("decline_job", job_id=one, given_by="Ida Skerry")
    shop.act("return_declined", job_id=returned, handed_to="Ida Skerry")
    busy = left(shop)
    shop.act("put_on_bench", job_id=busy)
    shop.act("use_part", job_id=busy, goods_id=string)
    shop.act("buy_service", job_id=busy, what="Foot turned", cost=eur("31.50"))
    shop.act("wait_for_part", job_id=busy, words="a peg")
    clocked = left(shop)
    shop.act("start_clock", job_id=clocked)
    ready(shop, left(shop), "100.00")
    collected, sold = billed(shop), billed(shop, "310.00")
    shop.act("collect_job", job_id=collected, handed_to="Ida Skerry", amount=eur("80.00"))
    shop.act("sell_for_lien", job_id=sold, **FILLED["sell_for_lien"](shop))
    billed(shop)
    own = ready(shop, here(shop, shop.own(), "shop"))
    shop.act("bill_job", job_id=own, bill_to="shop", lines=(WorkRow(what="Seam glued", amount=eur("80.00")),))
    lost = shop.consigned()
    here(shop, lost, "owner")
    shop.act("report_loss", instrument_id=lost, what_happened="fire", agreed_value=eur("9000.00"))


FILLED: dict[str, Callable[[TriedShop], dict[str, Any]]] = {
    "alter_goods": lambda _shop: {"into_id": 2},
    "approve_job": lambda _shop: {"given_by": "Ida Skerry", "up_to": eur("90.00")},
    "bill_job": lambda _shop: {"lines": (WorkRow(what="Seam glued", amount=eur("80.00")),)},
    "buy_service": lambda _shop: {"what": "Foot turned", "cost": eur("31.50")},
    "close_claim": lambda _shop: {"damage": "DM 2026-001", "outcome": "paid"},
    "count_goods": lambda _shop: {"counted": 2},
    "decline_job": lambda _shop: {"given_by": "Ida Skerry"},
    "estimate_job": lambda _shop: {
        "lines": (EstimateRow(what="Seam glued", amount=eur("80.00")),),
        "hourly_rate": eur("60.00"),
    },
    "extend_placing": lambda shop: {"until": shop.today},
    "extend_trial": lambda shop: {"due_on": shop.today, "agreed_by": "Ida Skerry"},
    "send": lambda _shop: {"lines": ()},
    "tick": lambda _shop: {"code": "001"},
    "measure": lambda _shop: {"measures": ()},
    "reduce_price": lambda _shop: {"price": eur("1.00"), "why": "a crack"},
    "renew": lambda shop: {"ends_on": shop.today},
    "sell": lambda shop: {"buyer_id": shop.player, "lines": ()},
    "sell_for_lien": lambda _shop: {
        "price": eur("900.00"),
        "sold_to": "Hull and Keel",
        "by_what_right": "three letters, notice of sale",
    },
    "sell_goods": lambda shop: {"buyer_id": shop.player, "lines": ()},
    "sell_kept": lambda shop: {"buyer_id": shop.player, "lines": ()},
    "state_materials": lambda shop: {"act_on": shop.today},
    "lend_on_trial": lambda _shop: {"lines": ()},
    "lend_to": lambda _shop: {"lines": ()},
    "take_back_bill": lambda _shop: {"why": "mistyped"},
    "change_work_item": lambda _shop: {"what": "Seam glued"},
    "use_part": lambda _shop: {"goods_id": 1},
}
"""By act what its preview needs filled in, where nothing fills it in beforehand."""


def test_what_an_act_says_beforehand_is_an_answer_or_a_refusal_in_words(still_too: StillShop) -> None:
    """For every act and every thing, in every state: what is allowed, filled in and shown beforehand never fails."""
    shop = still_too
    rich(shop)
    ids = {
        Subject.INSTRUMENT: [*range(1, 50), 999_999],
        Subject.SALE: [*range(1, 10), 999_999],
        Subject.PERSON: [*range(1, 10), 999_999],
        Subject.SHOP: [1],
        Subject.JOB: [*range(1, 16), 999_999],
        Subject.GOODS: [1, 2, 999_999],
        Subject.WORK: [1, 2, 999_999],
        Subject.TRIAL: [1, 2, 999_999],
        Subject.WISH: [1, 2, 999_999],
        Subject.STOCK_TAKE: [1, 999_999],
    }
    seen = 0
    for day in (FIRST_DAY, date(2026, 4, 1), date(2028, 1, 1)):
        shop.clock.day = day
        with shop.ledger.read() as reading:
            for subject, keys in ids.items():
                for key in keys:
                    allowed = acts.next_acts(reading, subject, key)
                    for one in acts.ALL:
                        if one.subject is subject:
                            seen += said_beforehand(shop, reading, one, key, one in allowed)
    assert seen > 3000


def said_beforehand(shop: TriedShop, reading: Any, one: acts.Act[Any], key: int, allowed: bool) -> int:
    values: dict[str, Any] = {one.subject_input: key} if one.subject_input else {}
    if one.prefill is not None:
        try:
            values |= one.prefill(reading, key)
        except LedgerError as error:
            assert not isinstance(error, Bug)
            assert not allowed, (one.name, key, error)
    if one.preview is None:
        return 1
    if one.name in FILLED:
        values = {**FILLED[one.name](shop), **values}
    try:
        one.preview(reading, shop.form(one.name, **values))
    except LedgerError as error:
        assert not isinstance(error, Bug), (one.name, key, error)
    return 1


def test_an_act_is_not_booked_on_a_day_that_has_not_come(shop: TriedShop) -> None:
    instrument = shop.consigned()
    before = shop.rows()
    tomorrow = shop.today + timedelta(days=1)
    with pytest.raises(Typed, match="has not come yet") as refused:
        shop.act("end_agreement", instrument_id=instrument, how="given_up", on=tomorrow)
    assert refused.value.field == "on"
    assert shop.rows() == before
    shop.pass_days(1)
    shop.act("end_agreement", instrument_id=instrument, how="given_up", on=tomorrow)
