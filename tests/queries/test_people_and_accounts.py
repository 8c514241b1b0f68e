"""People and accounts: what is owed either way, a journal that balances, and whether owners' money is there."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import func, select

from shopledger.model import Entry, Person, Posting, Seal, fields_of
from shopledger.quantities.errors import NotFound
from shopledger.queries import accounts, people
from shopledger.queries.account_sheets import entry_of_row, row_of_posting
from shopledger.queries.owing import balances, owner_accounts
from shopledger.rules.journal import CHART
from shopledger.store.unit import Reading
from tests.helpers.shops import TriedShop, eur
from tests.queries.busy import BusyShop

COLUMNS = [column.name for column in people.TABLE.columns]
TABLES = (people.TABLE, accounts.JOURNAL, accounts.BALANCES, accounts.OWNERS)


def cells(reading: Reading, table: Any, key: int) -> dict[str, Any]:
    (row,) = table.page(reading, [key])
    return dict(zip([column.name for column in table.columns], row.cells, strict=True))


def test_columns_of_people_derive_from_the_declared_fields() -> None:
    declared = [name for name, field in fields_of(Person).items() if field.in_table]
    assert [*declared, "owed", "owes"] == COLUMNS


def test_views_of_people(busy: BusyShop, reading: Reading) -> None:
    def view(name: str) -> set[int]:
        return set(people.TABLE.ids(reading, name, "", "name", False))

    assert view("all") == set(reading.session.scalars(select(Person.id)))
    assert view("buyers") == {busy.buyer, busy.player}
    assert {busy.owner, busy.other, busy.dealer} <= view("owners")
    assert view("owners").isdisjoint({busy.kin, busy.shop_person})
    owing = view("owing")
    for person in view("all"):
        row = cells(reading, people.TABLE, person)
        assert (person in owing) == bool(row["owed"].minor or row["owes"].minor)


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.name)
@pytest.mark.parametrize("descending", [False, True])
def test_every_table_gives_as_many_rows_as_ids_in_every_order(
    reading: Reading, table: Any, descending: bool
) -> None:
    for view in table.views:
        all_ids = set(table.ids(reading, view.name, "", table.sort, table.descending))
        for column in table.columns:
            if column.sortable:
                found = table.ids(reading, view.name, "", column.name, descending)
                assert len(found) == len(all_ids)
                assert set(found) == all_ids
                assert [row.id for row in table.page(reading, found)] == list(found)
                assert all(len(row.cells) == len(table.columns) for row in table.page(reading, found[:3]))


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.name)
def test_pages_ask_as_much_for_one_row_as_for_all(
    busy: BusyShop, reading: Reading, table: Any, counted: Callable[[Any, Any], int]
) -> None:
    found = table.ids(reading, "all", "", table.sort, False)
    table.page(reading, found)
    one = counted(busy.ledger, lambda: table.page(reading, found[:1]))
    assert counted(busy.ledger, lambda: table.page(reading, found)) == one


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=40)
@given(st.text(max_size=60))
def test_hostile_words_are_only_words(reading: Reading, typed: str) -> None:
    for table in TABLES:
        found = table.ids(reading, "all", typed, table.sort, False)
        assert len(found) <= len(table.ids(reading, "all", "", table.sort, False))


def test_the_page_about_an_owner(busy: BusyShop, reading: Reading) -> None:
    sheet = people.sheet(reading, busy.other)
    groups = {group.title: group.facts for group in sheet.groups}
    assert [fact.value for fact in groups["Owns here"]] == ["No. 002 viola Béla Öster"]
    assert [fact.value for fact in groups["Charges"]] == [eur("40.00")]
    lines = {line.label: line for line in sheet.money}
    account = owner_accounts(reading, [busy.other])[busy.other]
    assert lines["Owed by owners"].amount == account.owes == eur("40.00")
    assert lines["Owed to owners, not yet due"].amount == account.pending
    assert lines["Owed to owners and set aside"].amount == account.held
    assert lines["Owed by owners"].how == "since 5 Mar 2026"
    assert sheet.standing.startswith("They are owed ")


def test_the_page_about_a_buyer(busy: BusyShop, reading: Reading) -> None:
    sheet = people.sheet(reading, busy.buyer)
    groups = {group.title: group.facts for group in sheet.groups}
    assert "returned 5 Mar 2026" in next(
        fact.quiet for fact in groups["Bought"] if fact.label == "SI 2026-008"
    )
    held = {group.title: group.facts for group in people.sheet(reading, busy.player).groups}[
        "On hold for them"
    ]
    assert [fact.quiet for fact in held] == ["until 15 Mar 2026"]


def test_since_when_is_the_day_after_which_it_was_never_nought(shop: TriedShop) -> None:
    instrument = shop.consigned("1000.00", valuation_charge=eur("40.00"))
    shop.act("charge_owner", instrument_id=instrument, kind="valuation")
    shop.pass_days(2)
    shop.act("take_owners_payment", person_id=shop.owner, amount=eur("40.00"))
    shop.pass_days(2)
    shop.act("charge_owner", instrument_id=instrument, kind="valuation")
    shop.pass_days(2)
    with shop.ledger.read() as reading:
        (line, total) = people.sheet(reading, shop.owner).money
        assert (line.amount, line.how, total.label) == (eur("40.00"), "since 6 Mar 2026", "They owe")


def test_the_journal_shows_every_posting_and_balances(busy: BusyShop, reading: Reading) -> None:
    found = accounts.JOURNAL.ids(reading, "all", "", "entry", True)
    assert len(found) == reading.session.scalar(select(func.count()).select_from(Posting))
    assert len(set(found)) == len(found)
    by_entry: dict[int, int] = defaultdict(int)
    entries = []
    for row in accounts.JOURNAL.page(reading, found):
        entry, _on, _account, _person, debit, credit, _source = row.cells
        assert (debit is None) != (credit is None)
        by_entry[entry] += debit.minor if debit is not None else -credit.minor  # type: ignore[index,union-attr,attr-defined]
        entries.append(entry)
    assert set(by_entry.values()) == {0}
    assert entries == sorted(entries, reverse=True)  # type: ignore[type-var]
    assert set(by_entry) == set(reading.session.scalars(select(Entry.id)))


def test_rows_of_the_journal_name_their_entry() -> None:
    for entry, n in ((1, 1), (7, 12), (10**9, 9_999)):
        assert entry_of_row(row_of_posting(entry, n)) == (entry, n)
    assert entry_of_row(7) == (7, 0)


def test_words_narrow_the_journal(busy: BusyShop, reading: Reading) -> None:
    def rows(words: str) -> list[tuple[object, ...]]:
        found = accounts.JOURNAL.ids(reading, "all", words, "entry", False)
        return [row.cells for row in accounts.JOURNAL.page(reading, found)]

    assert {row[2] for row in rows("commission")} == {"commission"}
    assert {row[3] for row in rows("tam brine")} == {"Tam Brine"}
    assert {str(row[6]) for row in rows("SI 2026-004")} >= {"SI 2026-004 line 1"}
    # A person is found by their number too.
    assert all("004" in str(row[6]) or row[3] == "Ida Skerry" for row in rows("2026-004"))
    assert rows("%") == rows("")
    assert rows("nobody") == []


def test_the_page_about_an_entry(busy: BusyShop, reading: Reading) -> None:
    for row in accounts.JOURNAL.ids(reading, "all", "", "entry", False)[::7]:
        entry, _n = entry_of_row(row)
        sheet = accounts.entry_sheet(reading, row)
        assert sheet.id == entry
        assert accounts.entry_sheet(reading, entry) == sheet
        assert sheet.money[-1].amount == eur("0.00")
        seal = {fact.label: fact.value for group in sheet.groups for fact in group.facts}
        assert seal["Seal"] == reading.session.scalar(select(Seal.hash).where(Seal.entry_id == entry))
    (reversal,) = {
        entry_of_row(row)[0] for row in accounts.JOURNAL.ids(reading, "reversals", "", "entry", True)
    }
    assert "It reverses entry" in accounts.entry_sheet(reading, reversal).standing
    with pytest.raises(NotFound):
        accounts.entry_sheet(reading, 10**9)


def test_papers_of_the_act_stand_with_each_of_its_entries(busy: BusyShop, reading: Reading) -> None:
    row = accounts.JOURNAL.ids(reading, "all", "SI 2026-004 line", "entry", False)[0]
    assert "Invoice" in {paper.title for paper in accounts.entry_sheet(reading, row).papers}


def test_balances_are_those_of_the_journal(busy: BusyShop, reading: Reading) -> None:
    found = accounts.BALANCES.ids(reading, "all", "", "", False)
    rows = [row.cells for row in accounts.BALANCES.page(reading, found)]
    assert [row[1] for row in rows] == [rule.code for rule in CHART]
    sums = balances(reading)
    told = {row[1]: row[2].minor if row[2] else -row[3].minor for row in rows if row[2] or row[3]}  # type: ignore[attr-defined]
    assert told == {code: minor for code, minor in sums.items() if minor}
    assert sum(sums.values()) == 0
    assert all(type(minor) is int for minor in sums.values())
    for key in found:
        assert accounts.account_sheet(reading, key).money[-1].amount is not None
    with pytest.raises(NotFound):
        accounts.account_sheet(reading, 10**9)


def test_what_is_owed_to_owners_is_what_accounts_says(busy: BusyShop, reading: Reading) -> None:
    found = accounts.OWNERS.ids(reading, "all", "", "person", False)
    kept = owner_accounts(reading)
    assert set(found) == set(kept)
    for row in accounts.OWNERS.page(reading, found):
        account = kept[row.id]
        assert row.cells[1:5] == (account.pending, account.held, account.owes, account.net)
        assert row.cells[5] is not None
    assert set(accounts.OWNERS.ids(reading, "to_pay", "", "net", True)) == {
        key for key, account in kept.items() if account.held.minor
    }


def test_owners_money_is_there(busy: BusyShop, reading: Reading) -> None:
    covered = accounts.covered(reading)
    assert covered.is_covered
    assert covered.missing == eur("0.00")
    assert covered.held.minor == sum(account.held.minor for account in owner_accounts(reading).values())
    assert covered.bank.minor == balances(reading)["bank_owners"]
