"""What is elsewhere, on the page of the day, in the table of stock and on the instrument's own page."""

from __future__ import annotations

from datetime import timedelta

from shopledger.queries import today
from shopledger.queries.away_lines import placings_of_dealer, shipments_of_instrument
from shopledger.queries.due_lines import DueLine
from shopledger.queries.instrument_sheet import sheet
from shopledger.queries.person_sheet import sheet as person_sheet
from shopledger.queries.shapes import Subject, Tone
from shopledger.queries.stock import ids
from shopledger.queries.today_away import PLACING_DAYS, UNDERWAY_DAYS
from tests.helpers.away import may_go, offered, placing, sending
from tests.helpers.shops import TriedShop
from tests.helpers.trials import consigned, lent, row


def waiting(shop: TriedShop, name: str) -> tuple[DueLine, ...]:
    with shop.ledger.read() as reading:
        return next((one.lines for one in today.sections(reading) if one.name == name), ())


def test_a_placing_is_told_of_when_its_day_is_near_and_over(any_shop: TriedShop) -> None:
    shop = any_shop
    cello, own = may_go(shop), shop.own()
    placing(shop, cello, days=PLACING_DAYS + 1)
    placing(shop, own, days=PLACING_DAYS + 3)
    assert waiting(shop, "placings") == ()
    shop.pass_days(1)
    (near,) = waiting(shop, "placings")
    assert (near.subject, near.key, near.tone) == (Subject.INSTRUMENT, cello, Tone.SOON)
    assert near.says == "with Hull and Keel to be sold (PL 2026-001), 7 days left"
    shop.pass_days(PLACING_DAYS + 1)
    first, second = waiting(shop, "placings")
    assert (first.key, first.tone, second.key, second.tone) == (cello, Tone.LATE, own, Tone.SOON)
    assert first.acts[0] in offered(shop, cello)
    with shop.ledger.read() as reading:
        assert list(ids(reading, "away", "", "number", False)) == [cello, own]
        assert list(ids(reading, "here", "", "number", False)) == []
    shop.act("placing_back", instrument_id=cello)
    assert [line.key for line in waiting(shop, "placings")] == [own]
    shop.act("extend_placing", instrument_id=own, until=shop.today + timedelta(days=30))
    assert waiting(shop, "placings") == ()
    assert shop.wrong() == []


def test_what_has_not_arrived_is_told_of_after_a_week(any_shop: TriedShop) -> None:
    shop = any_shop
    first, second, tried = may_go(shop), may_go(shop), consigned(shop)
    for one in (first, second):
        placing(shop, one)
    sending(shop, "dealer", shop.dealer, first, second)
    trial = lent(shop, row(tried))
    sending(shop, "trial", shop.player, tried)
    shop.pass_days(UNDERWAY_DAYS - 1)
    assert waiting(shop, "underway") == ()
    shop.pass_days(1)
    assert [line.key for line in waiting(shop, "underway")] == [first, second, tried]
    line = waiting(shop, "underway")[0]
    assert line.says == "to Hull and Keel with Tideway Parcels (SH 2026-001) for 7 days"
    assert line.acts[0] in offered(shop, first)
    shop.act("take_trial_back", trial_id=trial)
    shop.act("arrived", instrument_id=first)
    assert waiting(shop, "underway") == ()
    assert shop.wrong() == []


def test_the_page_says_with_whom_it_is_and_how_it_went(shop: TriedShop) -> None:
    cello = may_go(shop)
    placing(shop, cello)
    sending(shop, "dealer", shop.dealer, cello, tracking="TP 4410")
    with shop.ledger.read() as reading:
        page = sheet(reading, cello)
    (where,) = (group for group in page.groups if group.title == "Where it is")
    told = [str(fact.value) for fact in where.facts] + [fact.quiet for fact in where.facts]
    for words in ("Tideway Parcels, TP 4410", "SH 2026-001", "PL 2026-001", "the carrier, for 9,000.00"):
        assert words in told
    assert "Underway with Tideway Parcels to Hull and Keel since 2 Mar 2026 (SH 2026-001)." in page.standing
    shop.act("arrived", instrument_id=cello)
    with shop.ledger.read() as reading:
        page = sheet(reading, cello)
    assert page.standing.startswith(
        "With Hull and Keel to be sold until 1 May 2026, 60 days left (PL 2026-001)."
    )
    assert page.state is not None
    assert page.state.code == "away"


def test_pages_keep_where_it_was_placed_and_how_it_was_sent(any_shop: TriedShop) -> None:
    shop = any_shop
    cello = may_go(shop)
    placing(shop, cello)
    sending(shop, "dealer", shop.dealer, cello, tracking="TP 4410")
    with shop.ledger.read() as reading:
        assert placings_of_dealer(reading, shop.dealer)[0].quiet == "until 1 May 2026"
        assert shipments_of_instrument(reading, cello)[0].quiet == (
            "to another dealer, Tideway Parcels TP 4410, sent on 2 Mar 2026"
        )
    shop.pass_days(2)
    shop.act("arrived", instrument_id=cello)
    shop.act("placing_back", instrument_id=cello)
    with shop.ledger.read() as reading:
        page, dealer = sheet(reading, cello), person_sheet(reading, shop.dealer)
    told = {group.title: [(one.label, one.quiet) for one in group.facts] for group in page.groups}
    assert told["With other dealers"] == [("PL 2026-001", "came back on 4 Mar 2026")]
    assert told["Sent"][0][1].endswith("sent on 2 Mar 2026, arrived on 4 Mar 2026")
    (theirs,) = (group for group in dealer.groups if group.title == "With them to be sold")
    assert [one.label for one in theirs.facts] == ["PL 2026-001"]
