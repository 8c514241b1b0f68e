"""The database itself refuses to change what is booked, by whatever statement; one test a statement, on both databases.

Promise 6 of the contributor guide: at least forty attacks. The guards are triggers, since a program that writes past
this one meets them too. SQLite's REPLACE deletes without a DELETE (https://sqlite.org/lang_conflict.html).
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from pathlib import Path

import psycopg
import pytest

from shopledger.store.guards import NEVER_CHANGED
from shopledger.store.prove import prove
from tests.helpers.ledgers import Server, copied
from tests.helpers.tampering import run

REFUSALS = (sqlite3.IntegrityError, psycopg.IntegrityError, psycopg.errors.FeatureNotSupported)
HASH = "ab" * 32
ENTRY = "INSERT INTO entry (id, op_id, booked_on, recorded_at, act, source, reverses) VALUES "
POSTING = "INSERT INTO posting (entry_id, n, account_id, person_id, currency, amount) VALUES "
SEAL = "INSERT INTO seal (entry_id, hash) VALUES "
NEXT = "(SELECT max(entry_id) + 1 FROM seal)"
LAST = "(SELECT max(id) FROM entry)"
"""The entry just written: unsealed, it is the highest."""
NEW_ENTRY = f"{ENTRY}({NEXT}, 'forged', '2025-03-04', '2025-03-04T09:00:00.000000Z', 'forged', '', NULL)"
A_PAIR = f"{POSTING}({LAST}, 1, 1, NULL, 'EUR', 100), ({LAST}, 2, 17, NULL, 'EUR', -100)"


@pytest.fixture(scope="module", params=["sqlite", "postgresql"])
def victim(
    request: pytest.FixtureRequest, told_template: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[str | Path]:
    """Give a told ledger that all attacks of this module share: what is refused leaves no trace."""
    if request.param == "sqlite":
        path = copied(told_template, tmp_path_factory.mktemp("victim"))
        yield path
        assert prove(path) == []
    else:
        server: Server = request.getfixturevalue("server")
        url = server.told()
        yield url
        assert prove(url) == []
        server.drop(url)


@pytest.fixture(scope="module")
def server_victim(server: Server) -> Iterator[str]:
    url = server.told()
    yield url
    assert prove(url) == []
    server.drop(url)


@pytest.fixture(scope="module")
def file_victim(told_template: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    path = copied(told_template, tmp_path_factory.mktemp("file_victim"))
    yield path
    assert prove(path) == []


def refused(place: str | Path, *statements: str) -> str:
    with pytest.raises(REFUSALS) as refusal:
        run(place, *statements)
    return str(refusal.value)


FILLED = {
    "content": (
        "INSERT INTO content (sha256, bytes) SELECT 'a file', salt FROM change_value WHERE change_id = 1",
    )
}
"""A row to attack, where a ledger in a file has none: it keeps its files beside it."""
FIRST_COLUMN = {"posting": "n", "seal": "hash", "content": "sha256", "paper_file": "size", "terms_owner": "n"}


@pytest.mark.parametrize("table", NEVER_CHANGED)
def test_no_update(victim: str | Path, table: str) -> None:
    column = FIRST_COLUMN.get(table, "id")
    assert "never changed" in refused(
        victim, *FILLED.get(table, ()), f"UPDATE {table} SET {column} = {column}"
    )


@pytest.mark.parametrize("table", NEVER_CHANGED)
def test_no_delete(victim: str | Path, table: str) -> None:
    assert "never changed" in refused(victim, *FILLED.get(table, ()), f"DELETE FROM {table}")


ON_BOTH = {
    "a posting in a sealed entry": f"{POSTING}(1, 9, 1, NULL, 'EUR', 5)",
    "a balanced pair in a sealed entry": f"{POSTING}(1, 8, 1, NULL, 'EUR', 5), (1, 9, 2, NULL, 'EUR', -5)",
    "a posting of no entry": f"{POSTING}(999999, 1, 1, NULL, 'EUR', 5)",
    "a posting to no account": f"{NEW_ENTRY}; {POSTING}({LAST}, 1, 999, NULL, 'EUR', 5)",
    "a posting of nobody": f"{NEW_ENTRY}; {POSTING}({LAST}, 1, 1, 999, 'EUR', 5)",
    "an entry without a seal": f"{NEW_ENTRY}; {A_PAIR}",
    "an entry without postings": f"{NEW_ENTRY}; {SEAL}({LAST}, '{HASH}')",
    "one posting": f"{NEW_ENTRY}; {POSTING}({LAST}, 1, 1, NULL, 'EUR', 5); {SEAL}({LAST}, '{HASH}')",
    "no balance": f"{NEW_ENTRY}; {POSTING}({LAST}, 1, 1, NULL, 'EUR', 5), ({LAST}, 2, 17, NULL, 'EUR', -4); "
    f"{SEAL}({LAST}, '{HASH}')",
    "balance only over two currencies": f"{NEW_ENTRY}; {POSTING}({LAST}, 1, 1, NULL, 'EUR', 5), "
    f"({LAST}, 2, 17, NULL, 'USD', -5); {SEAL}({LAST}, '{HASH}')",
    "another currency, balanced": f"{NEW_ENTRY}; {POSTING}({LAST}, 1, 1, NULL, 'USD', 5), "
    f"({LAST}, 2, 17, NULL, 'USD', -5); {SEAL}({LAST}, '{HASH}')",
    "nothing posted": f"{NEW_ENTRY}; {POSTING}({LAST}, 1, 1, NULL, 'EUR', 0)",
    "the same place twice": f"{NEW_ENTRY}; {A_PAIR}; {POSTING}({LAST}, 1, 1, NULL, 'EUR', 5)",
    "a number left out": f"{NEW_ENTRY.replace(NEXT, '(SELECT max(entry_id) + 2 FROM seal)', 1)}; {A_PAIR}; "
    f"{SEAL}({LAST}, '{HASH}')",
    "a number below the first": f"{NEW_ENTRY.replace(NEXT, '0', 1)}; {POSTING}(0, 1, 1, NULL, 'EUR', 5), "
    f"(0, 2, 17, NULL, 'EUR', -5); {SEAL}(0, '{HASH}')",
    "a seal of no entry": f"{SEAL}({NEXT}, '{HASH}')",
    "a second seal": f"{SEAL}(1, '{HASH}')",
    "a hash too short": f"{NEW_ENTRY}; {A_PAIR}; {SEAL}({LAST}, 'ab')",
    "a hash of other letters": f"{NEW_ENTRY}; {A_PAIR}; {SEAL}({LAST}, '{HASH.upper()}')",
    "a hash that is there": f"{NEW_ENTRY}; {A_PAIR}; {SEAL}({LAST}, (SELECT hash FROM seal WHERE entry_id = 1))",
    "an act's id again": NEW_ENTRY.replace("'forged'", "(SELECT op_id FROM entry WHERE id = 1)", 1),
    "a deed's id again": "INSERT INTO deed (id, op_id, act, by, booked_on, recorded_at, subject, subject_id, outcome, "
    "hash) SELECT 9999, op_id, act, by, booked_on, recorded_at, subject, subject_id, outcome, hash FROM deed "
    "WHERE id = 1",
    "a second reversal": f"{NEW_ENTRY.replace('NULL)', '(SELECT max(reverses) FROM entry))')}; {A_PAIR}; "
    f"{SEAL}({LAST}, '{HASH}')",
    "a reversal of nothing": f"{NEW_ENTRY.replace('NULL)', '999999)')}; {A_PAIR}; {SEAL}({LAST}, '{HASH}')",
    "an entry that is there": f"{ENTRY}(1, 'other', '2025-03-04', '2025-03-04T09:00:00.000000Z', 'x', '', NULL)",
    "an entry written over": f"{ENTRY}(1, 'other', '2025-03-04', '2025-03-04T09:00:00.000000Z', 'x', '', NULL) "
    "ON CONFLICT (id) DO UPDATE SET source = 'forged'",
    "a posting written over": f"{POSTING}(1, 1, 1, NULL, 'EUR', 5) ON CONFLICT (entry_id, n) DO UPDATE SET amount = 5",
    "a seal written over": f"{SEAL}(1, '{HASH}') ON CONFLICT (entry_id) DO UPDATE SET hash = '{HASH}'",
    "a paper's number again": "INSERT INTO paper (id, number, kind, facts, facts_sha256, issued_on, op_id, "
    "anchor_entry, anchor_hash) SELECT 9999, number, kind, facts, facts_sha256, issued_on, op_id, anchor_entry, "
    "anchor_hash FROM paper WHERE id = 1",
    "a second file of a paper": "INSERT INTO paper_file (paper_id, sha256, size) SELECT paper_id, sha256, size "
    "FROM paper_file",
    "an account again": "INSERT INTO account (id, code) VALUES (9999, 'bank')",
    "a change's values put in": "UPDATE change_value SET \"values\" = '{}' WHERE change_id = 1",
    "a change's values moved": "UPDATE change_value SET change_id = 99999 WHERE change_id = 1",
    "a change's values deleted": "DELETE FROM change_value WHERE change_id = 1",
    "a change's values doubled": 'INSERT INTO change_value (change_id, salt, "values") VALUES (1, NULL, NULL)',
    "a second live sale of a stay": "UPDATE sale_line SET stay_id = 1 WHERE id = 2",
    "a returned sale that lives again": "UPDATE sale_line SET stay_id = 1, returned_on = NULL WHERE id = 3",
    "a second open stay": "INSERT INTO stay (id, number, instrument_id, reason, came_in_on, came_with, condition, "
    "identity_seen, authority, no_liens, register_checked, handed_to, condition_out) SELECT 999, 'TI 999', "
    "instrument_id, reason, came_in_on, '', '', '', '', no_liens, '', '', '' FROM stay WHERE id = 1",
    "a second hold in force": "INSERT INTO hold (id, stay_id, person_id, since, until, ending) "
    "SELECT 999, stay_id, person_id, since, until, '' FROM hold",
    "a sale for nothing": "UPDATE sale_line SET price = 0 WHERE id = 1",
    "a payment of nothing": "UPDATE payment SET minor = 0 WHERE id = 1",
    "a payout below zero": "UPDATE payout SET minor = -1 WHERE id = 1",
    "a choice that is none": "UPDATE payment SET method = 'barter' WHERE id = 1",
    "a second shop": "INSERT INTO shop (id, name, address, phone, email, country, currency, locale, time_zone, "
    "paper_size, tax_scheme, retention_years, pay_within_days, tax_on_labour, tax_on_parts, tax_on_services, "
    "work_tax_basis, allowed_excess, estimate_days, person_id, ledger_key) SELECT 2, name, address, phone, email, "
    "country, currency, locale, time_zone, paper_size, tax_scheme, retention_years, pay_within_days, tax_on_labour, "
    "tax_on_parts, tax_on_services, work_tax_basis, allowed_excess, estimate_days, person_id, ledger_key FROM shop",
    "a sale of nobody": "UPDATE sale SET buyer_id = 999 WHERE id = 1",
    "a person with entries deleted": "DELETE FROM person WHERE id = 4",
}


WHY: dict[str, tuple[str, ...]] = {
    "a posting in a sealed entry": ("guard: the entry is sealed",),
    "a balanced pair in a sealed entry": ("guard: the entry is sealed",),
    "a posting of no entry": ("FOREIGN KEY", "fk_posting_entry_id_entry"),
    "a posting to no account": ("FOREIGN KEY", "fk_posting_account_id_account"),
    "a posting of nobody": ("FOREIGN KEY", "fk_posting_person_id_person"),
    "an entry without a seal": ("FOREIGN KEY", "fk_entry_id_seal"),
    "an entry without postings": ("guard: fewer than two postings",),
    "one posting": ("guard: fewer than two postings",),
    "no balance": ("guard: the entry does not balance",),
    "balance only over two currencies": ("guard: another currency than the ledger's",),
    "another currency, balanced": ("guard: another currency than the ledger's",),
    "nothing posted": ("ck_posting_not_zero",),
    "the same place twice": ("guard: the entry is sealed", "pk_posting"),
    "a number left out": ("guard: not the next number",),
    "a number below the first": ("guard: not the next number",),
    "a seal of no entry": ("guard: not the next number",),
    "a second seal": ("guard: not the next number",),
    "a hash too short": ("guard: a hash has 64 hexadecimal letters",),
    "a hash of other letters": ("guard: a hash has 64 hexadecimal letters",),
    "a hash that is there": ("guard: seal.hash is there already", "uq_seal_hash"),
    "an act's id again": ("guard: entry.op_id is there already", "uq_entry_op_id"),
    "a deed's id again": ("guard: deed.op_id is there already", "uq_deed_op_id"),
    "a second reversal": ("guard: entry.reverses is there already", "uq_entry_reverses"),
    "a reversal of nothing": ("FOREIGN KEY", "fk_entry_reverses_entry"),
    "an entry that is there": ("guard: entry.id is there already", "pk_entry"),
    "an entry written over": ("guard: entry.id is there already", "guard: entry is never changed"),
    "a posting written over": ("guard: the entry is sealed",),
    "a seal written over": ("guard: not the next number",),
    "a paper's number again": ("guard: paper.number is there already", "uq_paper_number"),
    "a second file of a paper": ("guard: paper_file.paper_id is there already", "pk_paper_file"),
    "an account again": ("guard: account.code is there already", "uq_account_code"),
    "a change's values put in": ("guard: change_value is only emptied",),
    "a change's values moved": ("guard: change_value is only emptied",),
    "a change's values deleted": ("guard: change_value is only emptied",),
    "a change's values doubled": ("guard: change_value is never replaced", "pk_change_value"),
    "a second live sale of a stay": ("sale_line.stay_id", "uq_sale_line_live"),
    "a returned sale that lives again": ("sale_line.stay_id", "uq_sale_line_live"),
    "a second open stay": ("stay.instrument_id", "uq_stay_open"),
    "a second hold in force": ("hold.stay_id", "uq_hold_in_force"),
    "a sale for nothing": ("ck_sale_line_price_above_zero",),
    "a payment of nothing": ("ck_payment_above_zero",),
    "a payout below zero": ("ck_payout_above_zero",),
    "a choice that is none": ("ck_payment_method_choice",),
    "a second shop": ("ck_shop_only_one",),
    "a sale of nobody": ("FOREIGN KEY", "fk_sale_buyer_id_person"),
    # Several rows refer to this person; which of them speaks first is the server’s own affair.
    "a person with entries deleted": ("FOREIGN KEY", '_person" on table'),
}
"""What the refusal has to name, so that no attack fails by a slip of its own: on SQLite, on PostgreSQL."""


@pytest.mark.parametrize("attack", ON_BOTH)
def test_refused(victim: str | Path, attack: str) -> None:
    said = refused(victim, *ON_BOTH[attack].split("; "))
    assert WHY[attack][0 if isinstance(victim, Path) else -1] in said


REPLACED = {
    "account": ("id = 1", "code = 'bank'"),
    "entry": ("id = 1", "reverses IS NOT NULL"),
    "posting": ("entry_id = 1 AND n = 1",),
    "seal": ("entry_id = 1",),
    "terms": ("id = 1",),
    "terms_owner": ("id = 1",),
    "price_change": ("id = 1",),
    "custody": ("id = 1",),
    "line_entry": ("id = 1",),
    "paper": ("id = 1",),
    "paper_file": ("paper_id = 1",),
    "deed": ("id = 1",),
    "change": ("id = 1",),
    "change_value": ("change_id = 1",),
}


@pytest.mark.parametrize(
    "verb", ["INSERT OR REPLACE", "REPLACE", "INSERT OR IGNORE", "INSERT OR FAIL", "INSERT OR ROLLBACK"]
)
@pytest.mark.parametrize(
    ("table", "where"), [(table, where) for table, places in REPLACED.items() for where in places]
)
def test_no_replace_on_sqlite(file_victim: Path, verb: str, table: str, where: str) -> None:
    message = refused(file_victim, f"{verb} INTO {table} SELECT * FROM {table} WHERE {where}")
    assert "guard" in message


@pytest.mark.parametrize(
    "statement",
    [
        "INSERT OR REPLACE INTO entry SELECT 99999, op_id, booked_on, recorded_at, act, 'forged', NULL FROM entry",
        "INSERT OR REPLACE INTO seal SELECT max(entry_id) + 1, (SELECT hash FROM seal WHERE entry_id = 1) FROM seal",
        "INSERT OR REPLACE INTO paper (number, kind, facts, facts_sha256, issued_on, op_id, anchor_entry, anchor_hash) "
        "SELECT number, kind, 'forged', facts_sha256, issued_on, op_id, anchor_entry, anchor_hash FROM paper",
        "INSERT OR REPLACE INTO line_entry (sale_line_id, entry_id, role) SELECT 2, entry_id, 'forged' FROM line_entry",
        "INSERT OR REPLACE INTO deed SELECT 9999, op_id, act, 'forged', booked_on, recorded_at, subject, subject_id, "
        "outcome, hash FROM deed",
        "UPDATE OR REPLACE entry SET id = 2 WHERE id = 1",
        "UPDATE OR IGNORE posting SET amount = 1 WHERE entry_id = 1",
        "DELETE FROM posting WHERE entry_id = 1 AND n = 1",
    ],
)
def test_no_replace_by_another_key_on_sqlite(file_victim: Path, statement: str) -> None:
    assert "guard" in refused(file_victim, statement)


@pytest.mark.parametrize("recursive", ["ON", "OFF"])
def test_no_replace_whatever_the_connection_is_set_to(told_file: Path, recursive: str) -> None:
    file = sqlite3.connect(told_file, isolation_level=None)
    try:
        file.execute(f"PRAGMA recursive_triggers={recursive}")
        file.execute("PRAGMA foreign_keys=OFF")
        with pytest.raises(sqlite3.IntegrityError, match="guard"):
            file.execute(
                "REPLACE INTO entry SELECT id, op_id, booked_on, recorded_at, act, 'forged', reverses FROM entry"
            )
    finally:
        file.close()


@pytest.mark.parametrize("table", [*NEVER_CHANGED, "change_value"])
@pytest.mark.parametrize(
    "how", ["TRUNCATE {table}", "TRUNCATE {table} CASCADE", "TRUNCATE ONLY {table} RESTART IDENTITY CASCADE"]
)
def test_no_truncate_on_a_server(server_victim: str, table: str, how: str) -> None:
    refused(server_victim, how.format(table=table))


@pytest.mark.parametrize(
    "statement",
    [
        "COPY posting FROM PROGRAM 'printf ''1\\t9\\t1\\t\\\\N\\tEUR\\t5\\n'''",
        "MERGE INTO posting USING (SELECT 1 AS entry_id) AS s ON posting.entry_id = s.entry_id "
        "WHEN MATCHED THEN UPDATE SET amount = 5",
        "MERGE INTO entry USING (SELECT 1 AS id) AS s ON entry.id = s.id WHEN MATCHED THEN DELETE",
        "WITH gone AS (DELETE FROM seal RETURNING *) SELECT count(*) FROM gone",
        "UPDATE posting SET amount = p.amount FROM posting p WHERE p.entry_id = posting.entry_id",
        "UPDATE entry SET source = 'forged' WHERE ctid = (SELECT min(ctid) FROM entry)",
    ],
)
def test_refused_on_a_server(server_victim: str, statement: str) -> None:
    refused(server_victim, statement)


def test_the_values_of_a_change_may_be_emptied(told_place: str | Path) -> None:
    run(told_place, 'UPDATE change_value SET "values" = NULL, salt = NULL WHERE change_id = 1')
    assert prove(told_place) == []
