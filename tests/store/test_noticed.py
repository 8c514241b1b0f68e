"""Whatever is changed past the guards is noticed by the proof: planted one by one, on both databases.

Promise 6 of the contributor guide: guards dropped for a moment and put back, rows changed in the file or by the
server's owner, guards, indexes and checks taken away or weakened.
"""

from __future__ import annotations

import hashlib
import sqlite3
from pathlib import Path

import pytest
from sqlalchemy import create_engine, select, text
from sqlalchemy.orm import Session

from shopledger.model import Account, Entry, Person, Posting
from shopledger.rules.journal import FIRST_HASH, SealedEntry, SealedPosting, seal_hash
from shopledger.store.engine import make_engine
from shopledger.store.guards import POSTGRESQL_FUNCTIONS, postgresql_guards, sqlite_guards
from shopledger.store.proof.finding import Wrong
from shopledger.store.prove import prove, prove_connected
from shopledger.store.trouble import told
from tests.helpers.ledgers import Server, copied
from tests.helpers.tampering import raw, rewrite_form, run, tamper

LAST_ENTRY = "(SELECT max(id) FROM entry)"
LAST_DEED = "(SELECT max(id) FROM deed)"

IN_THE_JOURNAL = {
    "amounts changed so that it still balances": (
        "UPDATE posting SET amount = amount + 700 WHERE entry_id = 3 AND amount > 0",
        "UPDATE posting SET amount = amount - 700 WHERE entry_id = 3 AND amount < 0 AND n = "
        "(SELECT min(n) FROM posting WHERE entry_id = 3 AND amount < 0)",
    ),
    "an amount changed": "UPDATE posting SET amount = amount + 1 WHERE entry_id = 2 AND n = 1",
    "two amounts exchanged": "UPDATE posting SET amount = -amount WHERE entry_id = 3",
    "another account": "UPDATE posting SET account_id = account_id + 1 "
    "WHERE entry_id = 3 AND n = 1 AND person_id IS NULL",
    "another person": "UPDATE posting SET person_id = 3 WHERE entry_id = 1 AND n = 1",
    "a currency": "UPDATE posting SET currency = 'USD' WHERE entry_id = 3",
    "the order of postings": "UPDATE posting SET n = n + 10 WHERE entry_id = 3",
    "a posting deleted": "DELETE FROM posting WHERE entry_id = 1 AND n = 2",
    "all postings deleted": "DELETE FROM posting WHERE entry_id = 3",
    "a pair of postings added": "INSERT INTO posting (entry_id, n, account_id, person_id, currency, amount) VALUES "
    "(3, 8, 1, NULL, 'EUR', 5), (3, 9, 2, NULL, 'EUR', -5)",
    "a source": "UPDATE entry SET source = 'forged' WHERE id = 2",
    "a day": "UPDATE entry SET booked_on = '2024-12-31' WHERE id = 2",
    "an instant": "UPDATE entry SET recorded_at = '2024-12-31T00:00:00.000000Z' WHERE id = 2",
    "an act": "UPDATE entry SET act = 'forged' WHERE id = 2",
    "an op_id": "UPDATE entry SET op_id = 'forged' WHERE id = 2",
    "what it reverses": "UPDATE entry SET reverses = NULL WHERE reverses IS NOT NULL",
    "a reversal pointed elsewhere": "UPDATE entry SET reverses = 3 WHERE reverses IS NOT NULL",
    "a hash": f"UPDATE seal SET hash = '{'0' * 63}1' WHERE entry_id = 2",
    "two hashes exchanged": (
        f"UPDATE seal SET hash = '{'a' * 64}' WHERE entry_id = 2",
        "UPDATE seal SET hash = (SELECT s.hash FROM seal s WHERE s.entry_id = 3) WHERE entry_id = 2 AND 1 = 0",
    ),
    "a seal deleted": "DELETE FROM seal WHERE entry_id = 2",
    "an entry deleted": "DELETE FROM entry WHERE id = 2",
    "the last entry deleted with all that is its": (
        f"DELETE FROM posting WHERE entry_id = {LAST_ENTRY}",
        f"DELETE FROM seal WHERE entry_id = {LAST_ENTRY}",
        f"DELETE FROM entry WHERE id = {LAST_ENTRY}",
    ),
    "an entry in the middle deleted with all that is its": (
        "DELETE FROM posting WHERE entry_id = 3",
        "DELETE FROM seal WHERE entry_id = 3",
        "DELETE FROM entry WHERE id = 3",
    ),
    "a person's number": "UPDATE person SET number = 'P 999' WHERE id = 4",
    "an account's code": "UPDATE account SET code = 'petty' WHERE code = 'bank'",
    "an account taken away": "DELETE FROM account WHERE code = 'losses'",
}

IN_THE_RECORDS = {
    "an act renamed": "UPDATE deed SET act = 'forged' WHERE id = 2",
    "who did it": "UPDATE deed SET by = 'nobody' WHERE id = 2",
    "the day of an act": "UPDATE deed SET booked_on = '2024-12-31' WHERE id = 2",
    "the outcome of an act": "UPDATE deed SET outcome = '{}' WHERE id = 2",
    "the hash of an act": f"UPDATE deed SET hash = '{'0' * 64}' WHERE id = 2",
    "the last act deleted with its changes": (
        f"DELETE FROM change_value WHERE change_id IN (SELECT id FROM change WHERE deed_id = {LAST_DEED})",
        f"DELETE FROM change WHERE deed_id = {LAST_DEED}",
        f"DELETE FROM deed WHERE id = {LAST_DEED}",
    ),
    "a change deleted": "DELETE FROM change WHERE id = 1",
    "a change's values deleted": "DELETE FROM change_value WHERE change_id = 1",
    "a change's values rewritten": "UPDATE change_value SET \"values\" = replace(\"values\", 'Adaline', 'Adelina')",
    "a change emptied by halves": "UPDATE change_value SET salt = NULL WHERE change_id = 1",
    "a digest": f"UPDATE change SET digest = '{'0' * 64}' WHERE id = 1",
    "a change of another row": "UPDATE change SET row_id = row_id + 1 WHERE record = 'person'",
    "a name": "UPDATE person SET name = 'Somebody Else' WHERE id = 2",
    "a price": "UPDATE sale_line SET price = price - 100 WHERE id = 1",
    "a commission against a net": "UPDATE sale_line SET commission = commission + 100, owner_net = owner_net - 100 "
    "WHERE id = 1",
    "a discount": "UPDATE sale_line SET discount = 0 WHERE id = 1",
    "what it was reckoned from": "UPDATE sale_line "
    "SET reckoned_from = replace(reckoned_from, '1/5', '1/4') WHERE id = 1",
    "an owner's part": "UPDATE line_owner SET net = net - 1 WHERE n = 1",
    "an owner's share": "UPDATE line_owner SET share = '1/2' WHERE n = 1",
    "shares of an ownership": "UPDATE ownership_share SET share = '1/2' WHERE id = 1",
    "shares in terms": "UPDATE terms_owner SET share = '1/2' WHERE id = 1",
    "a return undone": "UPDATE sale_line SET returned_on = NULL WHERE returned_on IS NOT NULL",
    "a return invented": "UPDATE sale_line SET returned_on = '2025-03-04' WHERE id = 2",
    "the link of a line to its entry": "DELETE FROM line_entry WHERE id = 1",
    "a fee": "UPDATE line_referral SET minor = minor + 1",
    "a payment": "UPDATE payment SET minor = minor + 1 WHERE id = 1",
    "a payment's method": "UPDATE payment SET method = 'part_exchange' WHERE id = 1",
    "a payment's part": "UPDATE payment_share SET minor = minor + 1 WHERE id = 1",
    "a refund": "UPDATE refund SET minor = minor + 1",
    "a refund's part": "UPDATE refund_share SET minor = minor + 1",
    "a payout": "UPDATE payout SET minor = minor + 1",
    "a payout's person": "UPDATE payout SET person_id = 3",
    "a payout's part": "UPDATE payout_share SET minor = minor + 1",
    "a settlement's share": "UPDATE settlement_share SET minor = minor + 1 WHERE id = 1",
    "a set-off": "UPDATE settlement_share SET set_off = 0",
    "a charge": "UPDATE charge SET minor = minor + 1",
    "a fee paid": "UPDATE fee_payment SET minor = minor + 1",
    "terms": "UPDATE terms SET floor = 1",
    "terms of owners": "UPDATE terms_owner SET person_id = 4 WHERE id = 1",
    "an asking price": "UPDATE price_change SET asking = 1",
    "where it was": "UPDATE custody SET place = 'away' WHERE id = 1",
    "a paper's facts with their digest": "UPDATE paper SET facts = '', "
    f"facts_sha256 = '{hashlib.sha256().hexdigest()}' WHERE kind = 'invoice'",
    "a paper's day": "UPDATE paper SET issued_on = '2024-12-31' WHERE id = 1",
    "a row added": "INSERT INTO fitting (id, instrument_id, part, what) VALUES (99, 1, 'endpin', 'steel')",
    "a row taken away": "DELETE FROM fitting",
    "a row that refers to nothing": "UPDATE picture SET instrument_id = 999",
    "a counter put back": "UPDATE counter SET last = last - 1 WHERE series = 'sale'",
    "a counter put forward": "UPDATE counter SET last = last + 1 WHERE series = 'sale'",
    "the counter of acts": "UPDATE counter SET last = last + 1 WHERE series = 'deed'",
    "a series that is none": "INSERT INTO counter (series, year, last) VALUES ('forged', 2025, 1)",
    "a number": "UPDATE sale SET number = 'SI 2025-009' WHERE id = 1",
    "a paper's facts": "UPDATE paper SET facts = replace(facts, '11300', '11400') WHERE kind = 'invoice'",
    "a paper's digest": f"UPDATE paper SET facts_sha256 = '{'0' * 64}' WHERE id = 1",
    "a paper's anchor": "UPDATE paper SET anchor_entry = anchor_entry + 1 WHERE id = 3",
    "a paper's anchoring hash": f"UPDATE paper SET anchor_hash = '{'0' * 64}' WHERE id = 3",
    "a paper's file": f"UPDATE paper_file SET sha256 = '{'0' * 64}' WHERE paper_id = 1",
    "a paper's length": "UPDATE paper_file SET size = size + 1 WHERE paper_id = 1",
    "a picture's file": f"UPDATE picture SET sha256 = '{'0' * 64}'",
    "a scan's file": f"UPDATE signature SET scan_sha256 = '{'0' * 64}'",
    "a paper of a sale that isn't there": "DELETE FROM sale WHERE id = 1",
    "a rate not in lowest terms": "UPDATE sale SET tax_rate = '46/200' WHERE id = 1",
}
PLANTED = IN_THE_JOURNAL | IN_THE_RECORDS


@pytest.fixture(scope="module")
def guarded(server: Server) -> str:
    return server.told()


@pytest.fixture(params=["sqlite", "postgresql"])
def fresh(request: pytest.FixtureRequest) -> str | Path:
    found: str | Path = request.getfixturevalue("told_file" if request.param == "sqlite" else "told_server")
    return found


def says(found: list[Wrong]) -> str:
    return "\n".join(f"{wrong.what} {wrong.where}: {wrong.says}" for wrong in found)


def statements_of(planted: str) -> tuple[str, ...]:
    statements = PLANTED[planted]
    return (statements,) if isinstance(statements, str) else statements


def compare(planted: str, found: list[Wrong]) -> None:
    assert found, planted
    assert all(wrong.says and "{" not in wrong.says for wrong in found)
    if planted in IN_THE_JOURNAL:
        assert {"entry", "chain", "deed", "account"} & {wrong.what for wrong in found}, says(found)


@pytest.mark.parametrize("planted", PLANTED)
def test_noticed_in_a_file(told_file: Path, planted: str) -> None:
    tamper(told_file, *statements_of(planted))
    compare(planted, prove(told_file))


@pytest.mark.parametrize("planted", PLANTED)
def test_noticed_on_a_server(guarded: str, planted: str) -> None:
    """Tamper and prove inside one transaction that is rolled back, so that all share one database."""
    engine = make_engine(guarded)
    try:
        with told(guarded), engine.connect() as connection:
            connection.execute(text("SET session_replication_role = replica"))
            for statement in statements_of(planted):
                connection.execute(text(statement))
            connection.execute(text("SET session_replication_role = origin"))
            compare(planted, prove_connected(guarded, engine, connection))
    finally:
        engine.dispose()


def chain_again(place: str | Path) -> list[str]:
    """Reckon every seal anew, as whoever knows the program's source could after changing an entry."""
    url = (
        f"sqlite:///{place}"
        if isinstance(place, Path)
        else place.replace("postgresql://", "postgresql+psycopg://")
    )
    engine = create_engine(url)
    statements, before = [], FIRST_HASH
    with Session(engine) as session:
        for entry in session.scalars(select(Entry).order_by(Entry.id)):
            rows = session.execute(
                select(Posting.n, Account.code, Person.number, Posting.currency, Posting.amount)
                .join(Account, Account.id == Posting.account_id)
                .outerjoin(Person, Person.id == Posting.person_id)
                .where(Posting.entry_id == entry.id)
            )
            postings = tuple(SealedPosting(n, code, number or "", *more) for n, code, number, *more in rows)
            before = seal_hash(
                before,
                SealedEntry(entry.id, entry.op_id, entry.booked_on, entry.recorded_at, entry.act, entry.source,
                            entry.reverses, postings),
            )  # fmt: skip
            statements.append(f"UPDATE seal SET hash = '{before}' WHERE entry_id = {entry.id}")
    engine.dispose()
    return statements


def test_a_chain_made_anew_is_noticed_by_papers_and_acts(fresh: str | Path) -> None:
    tamper(fresh, "UPDATE entry SET source = 'forged' WHERE id = 1")
    tamper(fresh, *chain_again(fresh))
    kinds = {wrong.what for wrong in prove(fresh)}
    assert "chain" not in kinds
    assert {"anchor", "deed"} <= kinds


def test_an_entry_added_in_form_but_by_no_act_is_noticed(fresh: str | Path) -> None:
    number = "(SELECT max(entry_id) + 1 FROM seal)"
    run(
        fresh,
        "INSERT INTO entry (id, op_id, booked_on, recorded_at, act, source, reverses) VALUES "
        f"({number}, 'forged', '2025-03-04', '2025-03-04T09:00:00.000000Z', 'forged', '', NULL)",
        "INSERT INTO posting (entry_id, n, account_id, person_id, currency, amount) VALUES "
        f"({LAST_ENTRY}, 1, 1, NULL, 'EUR', 100), ({LAST_ENTRY}, 2, 17, NULL, 'EUR', -100)",
        f"INSERT INTO seal (entry_id, hash) VALUES ({LAST_ENTRY}, '{'ab' * 32}')",
    )
    tamper(fresh, *chain_again(fresh)[-1:])
    found = prove(fresh)
    assert {wrong.what for wrong in found} == {"entry"}, says(found)
    assert "belongs to no act" in found[0].says


def test_one_wrong_entry_is_named_once(fresh: str | Path) -> None:
    tamper(fresh, "UPDATE entry SET source = 'forged' WHERE id = 5")
    assert [(wrong.what, wrong.where) for wrong in prove(fresh)] == [("chain", "5")]


def test_owners_money_uncovered_is_noticed(fresh: str | Path) -> None:
    tamper(
        fresh,
        "UPDATE posting SET amount = amount - 500000 "
        "WHERE account_id = (SELECT id FROM account WHERE code = 'bank_owners') "
        "AND amount > 0",
    )
    assert "bank_owners" in {wrong.where for wrong in prove(fresh)}


@pytest.mark.parametrize("name", sorted(sqlite_guards()))
def test_each_guard_of_a_file_dropped_is_noticed(told_file: Path, name: str) -> None:
    run(told_file, f"DROP TRIGGER {name}")
    assert [(wrong.what, wrong.where) for wrong in prove(told_file)] == [("guard", name)]


@pytest.mark.parametrize(
    ("name", "old", "new"),
    [
        ("guard_seal", "< 2", "< 0"),
        ("guard_posting_open", "n = NEW.n", "n = -1"),
        ("guard_entry_no_update", "BEFORE UPDATE ON entry", "BEFORE UPDATE OF act ON entry"),
        ("guard_paper_no_replace", "number = NEW.number", "number = ''"),
    ],
)
def test_a_guard_weakened_is_noticed(told_file: Path, name: str, old: str, new: str) -> None:
    rewrite_form(told_file, (name, old, new))
    assert [(wrong.what, wrong.where) for wrong in prove(told_file)] == [("guard", name)]


@pytest.mark.parametrize("name", sorted(postgresql_guards()))
def test_each_guard_of_a_server_dropped_or_put_to_sleep_is_noticed(guarded: str, name: str) -> None:
    words = postgresql_guards()[name]
    table = words.split(" ON ")[1].split()[0]
    run(guarded, f"DROP TRIGGER {name} ON {table}")
    assert [(wrong.what, wrong.where) for wrong in prove(guarded)] == [("guard", name)]
    run(guarded, words, f"ALTER TABLE {table} DISABLE TRIGGER {name}")
    assert [(wrong.what, wrong.where) for wrong in prove(guarded)] == [("guard", name)]
    run(guarded, f"ALTER TABLE {table} ENABLE TRIGGER {name}")


@pytest.mark.parametrize("name", sorted(POSTGRESQL_FUNCTIONS))
def test_a_function_weakened_is_noticed(guarded: str, name: str) -> None:
    head = f"CREATE OR REPLACE FUNCTION {name}() RETURNS trigger LANGUAGE plpgsql AS "
    run(guarded, f"{head} $$ BEGIN RETURN NEW; END $$")
    assert [(wrong.what, wrong.where) for wrong in prove(guarded)] == [("guard", name)]
    run(guarded, f"{head} $${POSTGRESQL_FUNCTIONS[name]}$$")
    assert prove(guarded) == []


IN_A_FILES_FORM = {
    "an index dropped": ("DROP INDEX uq_sale_line_live", "uq_sale_line_live"),
    "another index dropped": ("DROP INDEX uq_stay_open", "uq_stay_open"),
    "a table added": ("CREATE TABLE notes (words TEXT)", "notes"),
    "a view added": ("CREATE VIEW peek AS SELECT * FROM person", "peek"),
    "a column added": ("ALTER TABLE person ADD COLUMN secret TEXT", "person"),
    "a trigger added": ("CREATE TRIGGER helpful AFTER INSERT ON sale BEGIN SELECT 1; END", "helpful"),
    "an index made weaker": (
        "DROP INDEX uq_stay_open; CREATE UNIQUE INDEX uq_stay_open ON stay (id, instrument_id) WHERE ended_on IS NULL",
        "uq_stay_open",
    ),
}


@pytest.mark.parametrize("planted", IN_A_FILES_FORM)
def test_a_files_form_altered_is_noticed(told_file: Path, planted: str) -> None:
    statements, name = IN_A_FILES_FORM[planted]
    run(told_file, *statements.split("; ", 1) if "helpful" not in statements else (statements,))
    assert name in {wrong.where for wrong in prove(told_file)}


@pytest.mark.parametrize(
    ("name", "old", "new"),
    [
        ("posting", "amount <> 0", "amount <> 9"),
        ("sale_line", "price > 0", "price > -9"),
        ("entry", "DEFERRABLE INITIALLY DEFERRED", ""),
        ("payment", "'cheque'", "'barter'"),
        ("seal", "STRICT", ""),
    ],
)
def test_a_check_rewritten_is_noticed(told_file: Path, name: str, old: str, new: str) -> None:
    rewrite_form(told_file, (name, old, new))
    assert ("schema", name) in {(wrong.what, wrong.where) for wrong in prove(told_file)}


IN_A_SERVERS_FORM = {
    "an index dropped": (("DROP INDEX uq_sale_line_live",), "uq_sale_line_live"),
    "an index made weaker": (
        ("DROP INDEX uq_stay_open", "CREATE UNIQUE INDEX uq_stay_open ON stay (id) WHERE ended_on IS NULL"),
        "uq_stay_open",
    ),
    "a check dropped": (("ALTER TABLE posting DROP CONSTRAINT ck_posting_not_zero",), "ck_posting_not_zero"),
    "a check made weaker": (
        (
            "ALTER TABLE sale_line DROP CONSTRAINT ck_sale_line_price_above_zero",
            "ALTER TABLE sale_line ADD CONSTRAINT ck_sale_line_price_above_zero CHECK (price > -9)",
        ),
        "ck_sale_line_price_above_zero",
    ),
    "a check not made sure of": (
        (
            "ALTER TABLE sale_line DROP CONSTRAINT ck_sale_line_price_above_zero",
            "ALTER TABLE sale_line ADD CONSTRAINT ck_sale_line_price_above_zero CHECK (price > 0) NOT VALID",
        ),
        "ck_sale_line_price_above_zero",
    ),
    "a reference dropped": (("ALTER TABLE entry DROP CONSTRAINT fk_entry_id_seal",), "fk_entry_id_seal"),
    "a unique rule dropped": (("ALTER TABLE entry DROP CONSTRAINT uq_entry_op_id",), "uq_entry_op_id"),
    "a column that may be empty": (("ALTER TABLE seal ALTER hash DROP NOT NULL",), "seal.hash"),
    "a column of another kind": (("ALTER TABLE person ALTER notes TYPE varchar(20000)",), "person.notes"),
    "a column added": (("ALTER TABLE person ADD secret text",), "person.secret"),
    "a table added": (("CREATE TABLE notes (words text)",), "notes"),
    "a function added": (
        ("CREATE FUNCTION helpful() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN RETURN NULL; END $$",),
        "helpful",
    ),
}


@pytest.mark.parametrize("planted", IN_A_SERVERS_FORM)
def test_a_servers_form_altered_is_noticed(told_server: str, planted: str) -> None:
    statements, name = IN_A_SERVERS_FORM[planted]
    run(told_server, *statements)
    assert name in {wrong.where for wrong in prove(told_server)}


ILL_FORMED = {
    "a day that isn't": "UPDATE sale SET sold_on = '2025-02-30' WHERE id = 1",
    "a day in words": "UPDATE stay SET came_in_on = 'spring' WHERE id = 1",
    "a day in another form": "UPDATE hold SET until = '1.4.2025'",
    "an instant without its zone": "UPDATE entry SET recorded_at = '2025-03-04T09:00:00.000000' WHERE id = 1",
    "an hour that isn't": "UPDATE deed SET recorded_at = '2025-03-04T25:00:00.000000Z' WHERE id = 1",
    "yes and no beyond": "UPDATE instrument SET own_work = 2 WHERE id = 1",
    "a rate that is none": "UPDATE sale SET tax_rate = 'a fifth' WHERE id = 1",
    "a rate over nothing": "UPDATE line_owner SET share = '1/0' WHERE id = 1",
    "bytes that are no text": "UPDATE person SET notes = CAST(x'fffe41' AS TEXT) WHERE id = 2",
    "facts that are no text": "UPDATE paper SET facts = CAST(x'c328' AS TEXT) WHERE id = 1",
    "a source that is no text": "UPDATE entry SET source = CAST(x'ff' AS TEXT) WHERE id = 1",
    "a change's values that are no JSON": "UPDATE change_value SET \"values\" = 'nothing' WHERE change_id = 1",
    "facts to reckon from that are none": "UPDATE sale_line SET reckoned_from = '{' WHERE id = 1",
}


@pytest.mark.parametrize("planted", ILL_FORMED)
def test_ill_formed_values_are_named_not_stumbled_over(told_file: Path, planted: str) -> None:
    tamper(told_file, ILL_FORMED[planted])
    found = prove(told_file)
    assert found
    # The checks that don't rest on the value were still made.
    assert not [wrong for wrong in found if wrong.what in {"guard", "schema", "file"}]


@pytest.mark.parametrize("what", ["papers", "picture", "scan"])
@pytest.mark.parametrize("how", ["deleted", "emptied", "a byte", "exchanged"])
def test_files_changed_beside_the_ledger_are_noticed(told_file: Path, what: str, how: str) -> None:
    with raw(told_file) as connection:
        question = {
            "papers": "SELECT sha256 FROM paper_file WHERE paper_id = 1",
            "picture": "SELECT sha256 FROM picture",
            "scan": "SELECT scan_sha256 FROM signature",
        }[what]
        (sha256,) = connection.execute(question).fetchone()
    path = told_file.with_name(told_file.name + ".files") / sha256[:2] / sha256
    content = path.read_bytes()
    path.chmod(0o600)
    if how == "deleted":
        path.unlink()
    else:
        path.write_bytes({"emptied": b"", "a byte": content[:-1] + b"!", "exchanged": b"another"}[how])
    found = prove(told_file)
    assert [wrong.what for wrong in found] == [{"papers": "paper"}.get(what, what)]


def test_files_changed_in_the_server_are_noticed(told_server: str) -> None:
    tamper(
        told_server, "UPDATE content SET bytes = 'forged'::bytea WHERE sha256 = (SELECT sha256 FROM picture)"
    )
    assert [wrong.what for wrong in prove(told_server)] == ["picture"]


def test_words_changed_in_the_file_itself_are_noticed(told_file: Path) -> None:
    content = told_file.read_bytes()
    changed = content.replace(b"Adaline Fenwraithperson", b"Adelina Fenwraithperson")
    assert changed != content
    told_file.write_bytes(changed)
    assert {"record"} <= {wrong.what for wrong in prove(told_file)}


def test_a_missing_reference_is_noticed(told_file: Path) -> None:
    file = sqlite3.connect(told_file)
    file.execute("PRAGMA foreign_keys=OFF")
    file.execute("DELETE FROM instrument WHERE id = 3")
    file.commit()
    file.close()
    assert {"reference", "record"} <= {wrong.what for wrong in prove(told_file)}


def test_copies_are_independent(told_template: Path, tmp_path: Path) -> None:
    path = copied(told_template, tmp_path)
    tamper(path, "UPDATE person SET name = 'x' WHERE id = 2")
    assert prove(path)
    assert prove(told_template) == []
