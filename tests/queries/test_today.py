"""The page of the day: what waits is there on its day, with its amount and its act, and gone once it is done."""

from __future__ import annotations

from datetime import timedelta

from shopledger.queries import today
from shopledger.queries.due_lines import SHOWN, DueLine
from shopledger.queries.shapes import Subject, Tone
from shopledger.queries.today_things import AGREEMENT_DAYS, COPY_DAYS, HOLD_DAYS, WORK_DAYS
from shopledger.rules.trial_state import DUE_SOON_DAYS
from tests.acts.test_collecting import billed
from tests.helpers.jobs import job_on
from tests.helpers.shops import TriedShop, eur
from tests.helpers.trials import bow, consigned, lent, row, sell_kept


def waiting(shop: TriedShop, name: str) -> tuple[DueLine, ...]:
    with shop.ledger.read() as reading:
        return next((one.lines for one in today.sections(reading) if one.name == name), ())


def test_a_new_shop_has_only_a_copy_to_make(any_shop: TriedShop) -> None:
    shop = any_shop
    with shop.ledger.read() as reading:
        (only,) = today.sections(reading)
    assert (only.name, only.count, only.more, only.lines[0].acts) == ("copies", 1, 0, ("note_copy",))


def test_a_copy_is_told_of_again_once_it_is_old(any_shop: TriedShop) -> None:
    shop = any_shop
    shop.act("note_copy", where_kept="  a disk in the cupboard ")
    shop.pass_days(COPY_DAYS)
    assert waiting(shop, "copies") == ()
    shop.pass_days(1)
    (line,) = waiting(shop, "copies")
    assert (line.what, line.says) == ("The last copy is 8 days old", "kept: a disk in the cupboard")
    assert shop.wrong() == []


def test_money_goes_from_the_buyer_through_settling_to_the_owner(any_shop: TriedShop) -> None:
    shop = any_shop
    cello = shop.consigned("10000.00")
    sale = shop.sold(cello)
    (owing,) = waiting(shop, "buyers_owing")
    assert (owing.subject, owing.key, owing.amount, owing.acts) == (
        Subject.SALE, sale, eur("10000.00"), ("take_payment",),
    )  # fmt: skip
    shop.pay(sale, cleared=False)
    assert waiting(shop, "buyers_owing") == ()
    (payment,) = waiting(shop, "to_clear")
    assert (payment.key, payment.amount, payment.acts) == (sale, eur("10000.00"), ("clear_payments",))
    assert waiting(shop, "to_settle") == ()
    shop.act("clear_payments", sale_id=sale)
    assert waiting(shop, "to_clear") == ()
    (due,) = waiting(shop, "to_settle")
    assert (due.key, due.amount, due.acts) == (sale, eur("8000.00"), ("settle",))
    shop.act("settle", sale_id=sale)
    assert waiting(shop, "to_settle") == ()
    (owner,) = waiting(shop, "owners_to_pay")
    assert (owner.subject, owner.key, owner.amount, owner.tone) == (
        Subject.PERSON, shop.owner, eur("8000.00"), Tone.SOON,
    )  # fmt: skip
    with shop.ledger.read() as reading:
        within = reading.shop().pay_within_days
    shop.pass_days(within)
    assert waiting(shop, "owners_to_pay")[0].tone is Tone.SOON
    shop.pass_days(1)
    assert waiting(shop, "owners_to_pay")[0].tone is Tone.LATE
    shop.act("pay_owner", person_id=shop.owner, amount=eur("8000.00"))
    assert waiting(shop, "owners_to_pay") == ()


def test_an_agreement_is_told_of_a_month_before_its_end_by_its_newest_terms(any_shop: TriedShop) -> None:
    shop = any_shop
    cello = shop.consigned(ends_on=shop.today + timedelta(days=AGREEMENT_DAYS + 1))
    assert waiting(shop, "agreements") == ()
    shop.pass_days(1)
    (line,) = waiting(shop, "agreements")
    assert (line.key, line.tone, line.says) == (cello, Tone.SOON, "agreement AG 2026-001, 30 days left")
    shop.pass_days(AGREEMENT_DAYS + 1)
    (line,) = waiting(shop, "agreements")
    assert (line.tone, line.says) == (Tone.LATE, "agreement AG 2026-001, 1 day over")
    shop.act("renew", instrument_id=cello, ends_on=shop.today + timedelta(days=200))
    assert waiting(shop, "agreements") == ()
    shop.pass_days(190)
    assert [line.key for line in waiting(shop, "agreements")] == [cello]
    shop.act("return_to_owner", instrument_id=cello, handed_to="Orla Fenn")
    assert waiting(shop, "agreements") == ()


def test_a_hold_is_told_of_when_its_day_is_near(any_shop: TriedShop) -> None:
    shop = any_shop
    cello = shop.consigned()
    shop.act(
        "hold", instrument_id=cello, person_id=shop.player, until=shop.today + timedelta(days=HOLD_DAYS + 1)
    )
    assert waiting(shop, "holds") == ()
    shop.pass_days(1)
    (line,) = waiting(shop, "holds")
    assert (line.key, line.says) == (cello, "on hold for Ida Skerry, 3 days left")
    shop.act("end_hold", instrument_id=cello)
    assert waiting(shop, "holds") == ()


def test_promised_work_leads_to_its_next_step(any_shop: TriedShop) -> None:
    shop = any_shop
    day = shop.today
    far = day + timedelta(days=WORK_DAYS + 1)
    known = {"promised_on": day}
    jobs = {
        job_on(shop, shop.taken_in(reason="repair"), **known): ("estimate_job", "approve_job"),
        job_on(shop, shop.taken_in(reason="repair"), estimated_on=day, **known): ("approve_job",),
        job_on(shop, shop.taken_in(reason="repair"), approved_on=day, **known): ("put_on_bench",),
        job_on(shop, shop.taken_in(reason="repair"), begun_on=day, **known): ("mark_ready",),
        job_on(shop, shop.taken_in(reason="repair"), begun_on=day, waits_for="a bridge", **known): (
            "part_came",
        ),
    }
    job_on(shop, shop.taken_in(reason="repair"), promised_on=far)
    job_on(shop, shop.taken_in(reason="repair"), promised_on=day, ready_on=day)
    lines = waiting(shop, "promised")
    assert {line.key: line.acts for line in lines} == jobs
    assert [line.says for line in lines][-1] == (
        "promised to Orla Fenn, that is today; it waits for a bridge"
    )
    shop.pass_days(1)
    assert len(waiting(shop, "promised")) == len(jobs) + 1
    assert waiting(shop, "promised")[0].tone is Tone.LATE


def test_what_nobody_fetches_is_told_of_when_a_reminder_is_due(any_shop: TriedShop) -> None:
    shop = any_shop
    job = billed(shop)
    unbilled = job_on(shop, shop.taken_in(reason="repair"), ready_on=shop.today)
    shop.pass_days(29)
    assert waiting(shop, "uncollected") == ()
    shop.pass_days(1)
    line, other = waiting(shop, "uncollected")
    assert (line.key, line.says) == (job, "Ida Skerry has not fetched it for 30 days: a reminder is due")
    assert (line.acts, other.key, other.acts) == (("remind",), unbilled, ("bill_job",))
    shop.act("remind", job_id=job)
    assert [one.key for one in waiting(shop, "uncollected")] == [unbilled]
    shop.pass_days(30)
    assert [one.key for one in waiting(shop, "uncollected")] == [job, unbilled]


def test_many_are_counted_and_the_first_are_shown(any_shop: TriedShop) -> None:
    shop = any_shop
    for n in range(SHOWN + 3):
        shop.consigned(ends_on=shop.today + timedelta(days=30 - n))
    with shop.ledger.read() as reading:
        section = next(one for one in today.sections(reading) if one.name == "agreements")
    assert (section.count, len(section.lines), section.more) == (SHOWN + 3, SHOWN, 3)
    days = [line.on for line in section.lines if line.on is not None]
    assert days == sorted(days)


def test_the_gravest_stands_first(any_shop: TriedShop) -> None:
    shop = any_shop
    shop.sold(shop.consigned())
    shop.consigned(ends_on=shop.today + timedelta(days=1))
    shop.settled()
    with shop.ledger.read() as reading:
        names = [section.name for section in today.sections(reading)]
    assert names == ["owners_to_pay", "agreements", "buyers_owing", "copies"]


def test_a_trial_is_told_of_a_week_before_its_day_and_led_on_after_a_letter(any_shop: TriedShop) -> None:
    shop = any_shop
    cello, stick = consigned(shop), bow(shop)
    trial = lent(shop, row(cello), row(stick), days=DUE_SOON_DAYS + 1)
    assert waiting(shop, "trials") == ()
    shop.pass_days(1)
    (line,) = waiting(shop, "trials")
    assert (line.subject, line.key, line.tone) == (Subject.TRIAL, trial, Tone.SOON)
    assert line.says == "on trial with Ida Skerry, 7 days left"
    assert line.what.startswith("No. 001 cello")
    assert ", No. 002 bow" in line.what
    shop.pass_days(DUE_SOON_DAYS + 1)
    (line,) = waiting(shop, "trials")
    assert (line.tone, line.says) == (Tone.LATE, "on trial with Ida Skerry, 1 day over")
    assert line.acts[0] == "remind_of_trial"
    shop.act("remind_of_trial", trial_id=trial)
    assert waiting(shop, "trials")[0].acts == ("take_trial_back",)


def test_what_is_kept_waits_for_its_invoice_and_its_deposit_to_clear(any_shop: TriedShop) -> None:
    shop = any_shop
    trial = lent(shop, row(consigned(shop)), deposit=eur("500.00"))
    (deposit,) = waiting(shop, "to_clear")
    assert (deposit.subject, deposit.key, deposit.acts) == (Subject.TRIAL, trial, ("clear_trial_deposit",))
    shop.act("clear_trial_deposit", trial_id=trial)
    assert waiting(shop, "to_clear") == ()
    assert waiting(shop, "kept") == ()
    shop.act("decide_to_buy", trial_id=trial, lines="1")
    (line,) = waiting(shop, "kept")
    assert (line.key, line.acts, line.says) == (
        trial, ("sell_kept",), "Ida Skerry keeps it: to be sold on an invoice",
    )  # fmt: skip
    sell_kept(shop, trial)
    assert waiting(shop, "kept") == ()
    assert shop.wrong() == []


def test_the_deposit_of_a_hold_waits_at_its_instrument(any_shop: TriedShop) -> None:
    shop = any_shop
    cello = shop.consigned()
    shop.act(
        "hold",
        instrument_id=cello,
        person_id=shop.player,
        until=shop.today + timedelta(days=9),
        deposit=eur("50.00"),
    )
    (line,) = waiting(shop, "to_clear")
    assert (line.subject, line.key, line.acts) == (Subject.INSTRUMENT, cello, ("clear_deposit",))
    shop.act("clear_deposit", instrument_id=cello)
    assert waiting(shop, "to_clear") == ()


def test_what_comes_in_for_a_wish_is_told_of_until_the_player_knows(any_shop: TriedShop) -> None:
    shop = any_shop
    before = shop.consigned()
    shop.pass_days(1)
    wish = shop.act("note_wish", wish={"person_id": shop.player, "kind": "cello"}).id
    shop.pass_days(1)
    # What was here when it was asked for stands on the page of the wish, not on the page of the day.
    assert waiting(shop, "wanted") == ()
    came = shop.consigned("9000.00")
    (line,) = waiting(shop, "wanted")
    assert (line.subject, line.key, line.acts) == (Subject.WISH, wish, ("tell_of_matches",))
    assert f"No. {came:03}" in line.what
    assert f"No. {before:03}" not in line.what
    shop.act("tell_of_matches", wish_id=wish, how="spoken")
    assert waiting(shop, "wanted") == ()
    shop.pass_days(1)
    consent = {"consent_by": "Orla Fenn", "consent_how": "letter", "consent_on": shop.today}
    shop.act("change_price", instrument_id=before, asking=eur("8000.00"), why="autumn", **consent)
    (line,) = waiting(shop, "wanted")
    assert f"No. {before:03}" in line.what
    shop.act("end_wish", wish_id=wish)
    assert waiting(shop, "wanted") == ()
