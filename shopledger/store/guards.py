"""The guards of the database: triggers by which the journal, the papers and the change record can't be changed.

They stand in one list for each database, since a rebuild of a table on SQLite drops its triggers: `put_up` puts them
back, and a test compares what is there with this list.
"""

from __future__ import annotations

from collections.abc import Iterable

from sqlalchemy import Connection, text

NEVER_CHANGED = (
    "account",
    "entry",
    "posting",
    "seal",
    "terms",
    "terms_owner",
    "price_change",
    "custody",
    "line_entry",
    "paper",
    "paper_file",
    "content",
    "deed",
    "change",
)
"""Tables in which nothing is ever updated or deleted."""

_KEYS = {
    "account": ("id", "code"),
    "entry": ("id", "op_id", "reverses"),
    "seal": ("entry_id", "hash"),
    "terms": ("id",),
    "terms_owner": ("id",),
    "price_change": ("id",),
    "custody": ("id",),
    "line_entry": ("id", "entry_id"),
    "paper": ("id", "number"),
    "paper_file": ("paper_id",),
    "content": ("sha256",),
    "deed": ("id", "op_id"),
    "change": ("id",),
}


def sqlite_guards() -> dict[str, str]:
    """Give the triggers of a SQLite ledger by name."""
    made: dict[str, str] = {}
    for table in NEVER_CHANGED:
        for verb in ("UPDATE", "DELETE"):
            name = f"guard_{table}_no_{verb.lower()}"
            made[name] = (
                f"CREATE TRIGGER {name} BEFORE {verb} ON {table} "
                f"BEGIN SELECT RAISE(ABORT, 'guard: {table} is never changed'); END"
            )
        keys = _KEYS.get(table)
        if keys:  # INSERT OR REPLACE is a delete: refused before it happens
            name = f"guard_{table}_no_replace"
            checks = " ".join(
                f"SELECT RAISE(ABORT, 'guard: {table}.{key} is there already') "
                f"WHERE EXISTS (SELECT 1 FROM {table} WHERE {key} = NEW.{key});"
                for key in keys
            )
            made[name] = f"CREATE TRIGGER {name} BEFORE INSERT ON {table} BEGIN {checks} END"
    made["guard_posting_open"] = (
        "CREATE TRIGGER guard_posting_open BEFORE INSERT ON posting "
        "WHEN EXISTS (SELECT 1 FROM seal WHERE entry_id = NEW.entry_id) "
        "OR EXISTS (SELECT 1 FROM posting WHERE entry_id = NEW.entry_id AND n = NEW.n) "
        "BEGIN SELECT RAISE(ABORT, 'guard: the entry is sealed'); END"
    )
    made["guard_posting_currency"] = (
        "CREATE TRIGGER guard_posting_currency BEFORE INSERT ON posting "
        "WHEN NEW.currency <> (SELECT currency FROM shop WHERE id = 1) "
        "BEGIN SELECT RAISE(ABORT, 'guard: another currency than the ledger''s'); END"
    )
    made["guard_seal"] = (
        "CREATE TRIGGER guard_seal BEFORE INSERT ON seal BEGIN "
        "SELECT RAISE(ABORT, 'guard: not the next number') "
        "WHERE NEW.entry_id <> (SELECT coalesce(max(entry_id), 0) + 1 FROM seal) "
        "OR NOT EXISTS (SELECT 1 FROM entry WHERE id = NEW.entry_id); "
        "SELECT RAISE(ABORT, 'guard: fewer than two postings') "
        "WHERE (SELECT count(*) FROM posting WHERE entry_id = NEW.entry_id) < 2; "
        "SELECT RAISE(ABORT, 'guard: the entry does not balance') "
        "WHERE EXISTS (SELECT 1 FROM posting WHERE entry_id = NEW.entry_id GROUP BY currency HAVING sum(amount) <> 0); "
        "SELECT RAISE(ABORT, 'guard: a hash has 64 hexadecimal letters') "
        "WHERE length(NEW.hash) <> 64 OR NEW.hash GLOB '*[^0-9a-f]*'; "
        "END"
    )
    # An erasure may empty the values of a change; nothing else may be done to them.
    made["guard_change_value_no_delete"] = (
        "CREATE TRIGGER guard_change_value_no_delete BEFORE DELETE ON change_value "
        "BEGIN SELECT RAISE(ABORT, 'guard: change_value is only emptied'); END"
    )
    made["guard_change_value_only_emptied"] = (
        "CREATE TRIGGER guard_change_value_only_emptied BEFORE UPDATE ON change_value "
        'WHEN NEW.change_id <> OLD.change_id OR NEW."values" IS NOT NULL OR NEW.salt IS NOT NULL '
        "BEGIN SELECT RAISE(ABORT, 'guard: change_value is only emptied'); END"
    )
    made["guard_change_value_no_replace"] = (
        "CREATE TRIGGER guard_change_value_no_replace BEFORE INSERT ON change_value "
        "WHEN EXISTS (SELECT 1 FROM change_value WHERE change_id = NEW.change_id) "
        "BEGIN SELECT RAISE(ABORT, 'guard: change_value is never replaced'); END"
    )
    for verb, body in (
        ("insert", "INSERT INTO search_fts(rowid, words) VALUES (NEW.id, NEW.words);"),
        ("delete", "INSERT INTO search_fts(search_fts, rowid, words) VALUES ('delete', OLD.id, OLD.words);"),
        (
            "update",
            "INSERT INTO search_fts(search_fts, rowid, words) VALUES ('delete', OLD.id, OLD.words); "
            "INSERT INTO search_fts(rowid, words) VALUES (NEW.id, NEW.words);",
        ),
    ):
        name = f"search_after_{verb}"
        made[name] = f"CREATE TRIGGER {name} AFTER {verb.upper()} ON search BEGIN {body} END"
    return made


SQLITE_EXTRAS = {
    "search_fts": (
        "CREATE VIRTUAL TABLE search_fts USING fts5(words, content='search', content_rowid='id', "
        "tokenize='unicode61 remove_diacritics 2', prefix='2 3')"
    )
}
"""What a SQLite ledger has besides tables and triggers."""

POSTGRESQL_EXTRAS = {
    "search_words": "CREATE INDEX search_words ON search USING gin (to_tsvector('simple', words))",
}
"""What a PostgreSQL ledger has besides tables and triggers."""

POSTGRESQL_FUNCTIONS = {
    "guard_never_changed": """
        BEGIN RAISE EXCEPTION 'guard: % is never changed', TG_TABLE_NAME USING ERRCODE = '23514'; END """,
    "guard_only_emptied": """
        BEGIN
          IF TG_OP <> 'UPDATE' OR NEW.change_id <> OLD.change_id
             OR NEW."values" IS NOT NULL OR NEW.salt IS NOT NULL THEN
            RAISE EXCEPTION 'guard: change_value is only emptied' USING ERRCODE = '23514';
          END IF;
          RETURN NEW;
        END """,
    "guard_posting_open": """
        BEGIN
          IF EXISTS (SELECT 1 FROM seal WHERE entry_id = NEW.entry_id) THEN
            RAISE EXCEPTION 'guard: the entry is sealed' USING ERRCODE = '23514';
          END IF;
          IF NEW.currency <> (SELECT currency FROM shop WHERE id = 1) THEN
            RAISE EXCEPTION 'guard: another currency than the ledger''s' USING ERRCODE = '23514';
          END IF;
          RETURN NEW;
        END """,
    "guard_seal": """
        BEGIN
          IF NEW.entry_id <> (SELECT coalesce(max(entry_id), 0) + 1 FROM seal)
             OR NOT EXISTS (SELECT 1 FROM entry WHERE id = NEW.entry_id) THEN
            RAISE EXCEPTION 'guard: not the next number' USING ERRCODE = '23514';
          END IF;
          IF (SELECT count(*) FROM posting WHERE entry_id = NEW.entry_id) < 2 THEN
            RAISE EXCEPTION 'guard: fewer than two postings' USING ERRCODE = '23514';
          END IF;
          IF EXISTS (SELECT 1 FROM posting WHERE entry_id = NEW.entry_id GROUP BY currency HAVING sum(amount) <> 0) THEN
            RAISE EXCEPTION 'guard: the entry does not balance' USING ERRCODE = '23514';
          END IF;
          IF NEW.hash !~ '^[0-9a-f]{64}$' THEN
            RAISE EXCEPTION 'guard: a hash has 64 hexadecimal letters' USING ERRCODE = '23514';
          END IF;
          RETURN NEW;
        END """,
}
"""The bodies of the functions that a PostgreSQL ledger's triggers call, by name."""


def postgresql_guards() -> dict[str, str]:
    """Give the triggers of a PostgreSQL ledger by name, in the words in which the server gives them back."""
    made: dict[str, str] = {}
    for table in NEVER_CHANGED:
        made[f"guard_{table}_no_change"] = (
            f"CREATE TRIGGER guard_{table}_no_change BEFORE DELETE OR UPDATE ON {table} "
            "FOR EACH ROW EXECUTE FUNCTION guard_never_changed()"
        )
        made[f"guard_{table}_no_truncate"] = (
            f"CREATE TRIGGER guard_{table}_no_truncate BEFORE TRUNCATE ON {table} "
            "FOR EACH STATEMENT EXECUTE FUNCTION guard_never_changed()"
        )
    made["guard_posting_open"] = (
        "CREATE TRIGGER guard_posting_open BEFORE INSERT ON posting FOR EACH ROW EXECUTE FUNCTION guard_posting_open()"
    )
    made["guard_seal"] = (
        "CREATE TRIGGER guard_seal BEFORE INSERT ON seal FOR EACH ROW EXECUTE FUNCTION guard_seal()"
    )
    made["guard_change_value_only_emptied"] = (
        "CREATE TRIGGER guard_change_value_only_emptied BEFORE DELETE OR UPDATE ON change_value "
        "FOR EACH ROW EXECUTE FUNCTION guard_only_emptied()"
    )
    made["guard_change_value_no_truncate"] = (
        "CREATE TRIGGER guard_change_value_no_truncate BEFORE TRUNCATE ON change_value "
        "FOR EACH STATEMENT EXECUTE FUNCTION guard_never_changed()"
    )
    return made


def guards(dialect: str) -> dict[str, str]:
    """Give the triggers that a ledger on this database has, by name."""
    return sqlite_guards() if dialect == "sqlite" else postgresql_guards()


def standing(connection: Connection) -> dict[str, str]:
    """Give the triggers that are really there, by name, with the words that made them."""
    if connection.dialect.name == "sqlite":
        rows: Iterable[tuple[str, str]] = connection.execute(
            text("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'")
        )
    else:
        rows = connection.execute(
            text(
                "SELECT t.tgname, pg_get_triggerdef(t.oid, true)"
                " || CASE t.tgenabled WHEN 'O' THEN '' ELSE ' disabled' END "
                "FROM pg_trigger t JOIN pg_class c ON c.oid = t.tgrelid "
                "WHERE NOT t.tgisinternal AND c.relnamespace = current_schema()::regnamespace"
            )
        )
    return {name: words for name, words in rows}  # noqa: C416 - a result has keys(), so dict() misreads it


def standing_functions(connection: Connection) -> dict[str, str]:
    """Give the functions that are really there on PostgreSQL, by name, with their bodies."""
    rows = connection.execute(
        text(
            "SELECT proname, prosrc || CASE WHEN prosecdef OR proconfig IS NOT NULL THEN ' altered' ELSE '' END "
            "FROM pg_proc WHERE pronamespace = current_schema()::regnamespace"
        )
    )
    return {name: body for name, body in rows}  # noqa: C416 - as above


def departures(connection: Connection) -> dict[str, str]:
    """Give what is not as the guards' list has it: by name "missing", "changed" or, for what is too many, "unknown"."""
    compared = [(guards(connection.dialect.name), standing(connection))]
    if connection.dialect.name != "sqlite":
        compared.append((POSTGRESQL_FUNCTIONS, standing_functions(connection)))
    found: dict[str, str] = {}
    for wanted, there in compared:
        for name, words in wanted.items():
            if name not in there:
                found[name] = "missing"
            elif there[name] != words:
                found[name] = "changed"
        found.update({name: "unknown" for name in there if name not in wanted})
    return found


def put_up(connection: Connection) -> None:
    """Put up every guard that is missing or other than its list has it, and search's own table or index."""
    sqlite = connection.dialect.name == "sqlite"
    if sqlite:
        have = set(connection.execute(text("SELECT name FROM sqlite_schema")).scalars())
    else:
        have = set(
            connection.execute(
                text("SELECT relname FROM pg_class WHERE relnamespace = current_schema()::regnamespace")
            ).scalars()
        )
        for name, body in POSTGRESQL_FUNCTIONS.items():
            connection.execute(
                text(f"CREATE OR REPLACE FUNCTION {name}() RETURNS trigger LANGUAGE plpgsql AS $${body}$$")
            )
    for name, words in (SQLITE_EXTRAS if sqlite else POSTGRESQL_EXTRAS).items():
        if name not in have:
            connection.execute(text(words))
    there = standing(connection)
    tables = _tables_of(connection)
    for name, words in guards(connection.dialect.name).items():
        if name in there and there[name] != words:
            _drop(connection, name, tables[name])
        if there.get(name) != words:
            connection.execute(text(words))


def take_down(connection: Connection) -> None:
    """Take down every guard, for a migration that has to rebuild what they watch; `put_up` follows in the same step."""
    tables = _tables_of(connection)
    for name in guards(connection.dialect.name):
        if name in tables:
            _drop(connection, name, tables[name])


def _tables_of(connection: Connection) -> dict[str, str]:
    """Give the table of each trigger that is there."""
    rows = connection.execute(
        text(
            "SELECT name, tbl_name FROM sqlite_schema WHERE type = 'trigger'"
            if connection.dialect.name == "sqlite"
            else "SELECT t.tgname, c.relname FROM pg_trigger t JOIN pg_class c ON c.oid = t.tgrelid "
            "WHERE NOT t.tgisinternal AND c.relnamespace = current_schema()::regnamespace"
        )
    )
    return {name: table for name, table in rows}  # noqa: C416 - as above


def _drop(connection: Connection, name: str, table: str) -> None:
    on = "" if connection.dialect.name == "sqlite" else f" ON {table}"
    connection.execute(text(f"DROP TRIGGER {name}{on}"))
