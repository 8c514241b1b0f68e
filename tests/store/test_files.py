"""Files by content: kept once, never changed, given back only as what their name says; on disk and in a table alike."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest
from sqlalchemy import text

from shopledger.quantities.errors import NotFound, Trouble
from shopledger.store.files import FolderFiles
from shopledger.store.ledger import Ledger
from tests.helpers.tampering import tamper

PAGE = b"%PDF-1.7 a page"
NAME = hashlib.sha256(PAGE).hexdigest()


def test_what_was_put_comes_back(ledger: Ledger) -> None:
    assert ledger.files.put(PAGE) == NAME
    assert ledger.files.get(NAME) == PAGE
    assert list(ledger.files.names()) == [NAME]


def test_the_same_file_is_kept_once(ledger: Ledger) -> None:
    assert {ledger.files.put(PAGE) for _n in range(3)} == {NAME}
    ledger.files.put(b"")
    ledger.files.put(bytes(range(256)) * 4000)
    names = list(ledger.files.names())
    assert len(names) == 3
    assert names == sorted(names)


def test_none_yet(ledger: Ledger) -> None:
    assert list(ledger.files.names()) == []


@pytest.mark.parametrize(
    "name", [NAME, "", "../../etc/passwd", "A" * 64, "ab", "0" * 63, f"{'0' * 63}/", f"{NAME}\n"]
)
def test_a_file_that_isnt_there(ledger: Ledger, name: str) -> None:
    with pytest.raises(NotFound, match="is missing"):
        ledger.files.get(name)


def test_a_changed_file_is_not_given(file_ledger: Ledger) -> None:
    file_ledger.files.put(PAGE)
    path = Path(f"{file_ledger.where}.files") / NAME[:2] / NAME
    path.chmod(0o600)
    path.write_bytes(PAGE + b" forged")
    with pytest.raises(Trouble, match="was changed"):
        file_ledger.files.get(NAME)
    file_ledger.files.put(PAGE)  # whoever has the right one can put it back
    assert file_ledger.files.get(NAME) == PAGE


def test_a_changed_row_is_not_given(server_ledger: Ledger) -> None:
    server_ledger.files.put(PAGE)
    tamper(str(server_ledger.where), "UPDATE content SET bytes = 'forged'::bytea")
    with pytest.raises(Trouble, match="was changed"):
        server_ledger.files.get(NAME)


def test_a_place_that_cant_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / "shop.ledger.files").write_text("in the way")
    with pytest.raises(Trouble, match="can't be kept"):
        FolderFiles(tmp_path / "shop.ledger.files").put(PAGE)


def test_what_is_half_written_is_not_taken_for_a_file(tmp_path: Path) -> None:
    files = FolderFiles(tmp_path / "kept")
    files.put(PAGE)
    (tmp_path / "kept" / NAME[:2] / ".new-abc").write_bytes(b"half")
    (tmp_path / "kept" / NAME[:2] / "notes.txt").write_bytes(b"not ours")
    assert list(files.names()) == [NAME]


def test_a_failed_server_is_told(server_ledger: Ledger) -> None:
    with server_ledger.engine.begin() as connection:
        connection.execute(text("ALTER TABLE content RENAME TO gone"))
    for act in (lambda: server_ledger.files.put(PAGE), lambda: server_ledger.files.get(NAME)):
        with pytest.raises(Trouble, match="can't be used now"):
            act()


def test_a_file_survives_beside_an_act_that_fails(ledger: Ledger) -> None:
    # Files are written before COMMIT: one that no row names is only room, a row without its file would be a loss.
    with ledger.write() as writing:
        writing.ledger.files.put(PAGE)
    assert ledger.files.get(NAME) == PAGE
