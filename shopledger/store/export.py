"""The export: the whole ledger in open formats, so that it can be read without this program.

Every text comes out as it is, whatever it begins with: this is a copy of the ledger, not a sheet for a person, and a
value must come back from it as it went in. The form of CSV is that of RFC 4180.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
import shutil
import tempfile
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from sqlalchemy import Column, Connection, Table, select

from shopledger.model import (
    Account,
    Entry,
    Paper,
    PaperFile,
    Person,
    Picture,
    Posting,
    Shop,
    Signature,
    tables,
)
from shopledger.quantities.errors import LedgerError, Trouble
from shopledger.quantities.fields import Kind
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_
from shopledger.store.engine import name_of
from shopledger.store.export_form import HOW_TO_READ, csv_line, written
from shopledger.store.files import Files
from shopledger.store.ledger import files_of
from shopledger.store.looking import looking
from shopledger.store.migrate import stored_revision

FORMAT = 1
"""The version of the form; counted up when a reader of the one before would misread the new one."""
MANIFEST = "manifest.json"
JOURNAL = ("entry", "date", "account", "person", "debit", "credit", "currency", "source")
LEFT_OUT = frozenset({"content"})
"""Tables that are no CSV: the bytes of files, which are written as files."""


def export(where: str | Path, out: str | Path) -> Path:
    """Write the whole ledger into a new folder and give it; the ledger is only read, in one snapshot.

    Shape:  a CSV a table (rows by key, columns as in the model), `journal.csv`, `papers/NUMBER.pdf`, `files/SHA-256`
            with the pictures and scans, `README.txt` with the forms of values, `manifest.json` with the SHA-256 of
            every other file. The same ledger gives the same bytes.
    Raises: Trouble: the ledger can't be read, a file is missing or damaged, or the folder can't be written or isn't
            empty; then nothing is left behind.
    """
    out = Path(out)
    _refuse_taken(out)
    with looking(where) as looked:
        files = files_of(looked.where, looked.engine)
        return _whole(out, _Exporting(looked.connection, files), name_of(looked.where))


def _refuse_taken(out: Path) -> None:
    if out.is_dir() and not any(out.iterdir()):
        return
    if out.exists() or out.is_symlink():
        raise Trouble(
            N_("{folder} is there already and isn't empty. Name a folder that isn't there yet."),
            folder=out.name,
        )


def _whole(out: Path, exporting: _Exporting, name: str) -> Path:
    """Write under another name first, so that an export broken off is never taken for a whole one."""
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
        unfinished = Path(tempfile.mkdtemp(dir=out.parent, prefix=f".{out.name}-unfinished-"))
    except OSError as error:
        raise _cant_write(out, error) from error
    try:
        exporting.write(unfinished)
        if out.is_dir():
            out.rmdir()
        unfinished.rename(out)
    except LedgerError:
        raise
    except OSError as error:
        raise _cant_write(out, error) from error
    except (ValueError, TypeError, ArithmeticError) as error:
        raise Trouble(
            N_("{name} holds a value that can't be read ({said}). Let “shopledger prove” go through it."),
            name=name,
            said=str(error),
        ) from error
    finally:
        shutil.rmtree(unfinished, ignore_errors=True)
    return out


def _cant_write(out: Path, error: OSError) -> Trouble:
    return Trouble(
        N_("The export can't be written to {folder} ({said}). Check the disk, or name another folder."),
        folder=out.name,
        said=error.strerror or str(error),
    )


class _Exporting:
    """One export under way: what it reads from, and the digests of what it wrote."""

    def __init__(self, connection: Connection, files: Files) -> None:
        self.connection = connection
        self.files = files
        self.digests: dict[str, str] = {}
        self.currency = str(connection.execute(select(Shop.currency)).scalar_one())

    def write(self, folder: Path) -> None:
        """Write everything into an empty folder, the manifest last."""
        for table in sorted(tables().tables.values(), key=lambda each: each.name):
            if table.name not in LEFT_OUT:
                self._put(folder, f"{table.name}.csv", self._table(table))
        self._put(folder, "journal.csv", self._journal())
        for path, sha256 in self._papers():
            self._put(folder, path, [self.files.get(sha256)])
        for path, content in self._kept_files():
            self._put(folder, path, [content])
        about = HOW_TO_READ.format(
            format=FORMAT, currency=self.currency, revision=stored_revision(self.connection)
        )
        self._put(folder, "README.txt", [about.encode()])
        manifest = {"format": FORMAT, "files": dict(sorted(self.digests.items()))}
        text = json.dumps(manifest, indent=1, ensure_ascii=False) + "\n"
        self._put(folder, MANIFEST, [text.encode()])

    def _put(self, folder: Path, path: str, parts: Iterable[bytes]) -> None:
        digest = hashlib.sha256()
        place = folder / path
        place.parent.mkdir(exist_ok=True)
        with place.open("xb") as file:
            for part in parts:
                digest.update(part)
                file.write(part)
            file.flush()
            os.fsync(file.fileno())
        self.digests[path] = digest.hexdigest()

    def _table(self, table: Table) -> Iterator[bytes]:
        yield csv_line(column.name for column in table.columns)
        currencies = [self._currency_of(column) for column in table.columns]
        order = list(table.primary_key.columns)
        for row in self.connection.execute(select(*table.columns).order_by(*order)):
            yield csv_line(written(value, currency) for value, currency in zip(row, currencies, strict=True))

    def _currency_of(self, column: Column[Any]) -> str | None:
        """Give the currency of a column of money, None for any other column."""
        field = column.info.get("field")
        money = field is not None and field.kind is Kind.MONEY
        return self.currency if money or (column.table.name, column.name) == ("posting", "amount") else None

    def _journal(self) -> Iterator[bytes]:
        yield csv_line(JOURNAL)
        question = (
            select(
                Posting.entry_id,
                Entry.booked_on,
                Account.code,
                Person.number,
                Posting.amount,
                Posting.currency,
                Entry.source,
            )
            .join(Entry, Entry.id == Posting.entry_id)
            .join(Account, Account.id == Posting.account_id)
            .outerjoin(Person, Person.id == Posting.person_id)
            .order_by(Posting.entry_id, Posting.n)
        )
        for entry, day, account, person, minor, currency, source in self.connection.execute(question):
            amount = written(Money(abs(minor), currency))
            sides = (amount, None) if minor > 0 else (None, amount)
            yield csv_line(
                (
                    written(entry),
                    written(day),
                    written(account),
                    written(person),
                    *sides,
                    written(currency),
                    written(source),
                )
            )

    def _papers(self) -> Iterator[tuple[str, str]]:
        """Give the path and file of every paper that was rendered."""
        question = select(Paper.number, PaperFile.sha256).join(PaperFile, PaperFile.paper_id == Paper.id)
        for number, sha256 in self.connection.execute(question.order_by(Paper.id)):
            yield paper_path(number), sha256

    def _kept_files(self) -> Iterator[tuple[str, bytes]]:
        """Give the path and bytes of every picture and scan, each once."""
        names = set(self.connection.scalars(select(Picture.sha256)))
        names |= set(
            self.connection.scalars(select(Signature.scan_sha256).where(Signature.scan_sha256 != ""))
        )
        for sha256 in sorted(names):
            content = self.files.get(sha256)
            yield f"files/{sha256}{_ending(content)}", content


def paper_path(number: str) -> str:
    """Give the path of a paper by its number: what no file may be called becomes a dash."""
    return f"papers/{re.sub(r'[^0-9A-Za-z. -]', '-', number)}.pdf"


_BEGINNINGS = ((b"\x89PNG", ".png"), (b"\xff\xd8\xff", ".jpg"), (b"RIFF", ".webp"), (b"%PDF", ".pdf"))


def _ending(content: bytes) -> str:
    """Give the ending of a file's name by how it begins, so that it opens with a click; "" where it isn't known."""
    return next((ending for beginning, ending in _BEGINNINGS if content.startswith(beginning)), "")
