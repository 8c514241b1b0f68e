"""Files that wait elsewhere are kept all together or not at all, on disk and in a table alike."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest

from shopledger.quantities.errors import NotFound, Refused, Trouble
from shopledger.store.files import UnkeptFiles
from shopledger.store.ledger import Ledger


def waiting(folder: Path, count: int) -> dict[str, Path]:
    """Give files of two megabytes and more that wait in a folder, by their names to be."""
    found = {}
    for n in range(count):
        content = bytes([n]) * (2_000_000 + n)
        path = folder / f"photograph {n}"
        path.write_bytes(content)
        found[hashlib.sha256(content).hexdigest()] = path
    return found


def left_over(ledger: Ledger) -> list[Path]:
    """Give all files beside a ledger in a file; nothing for one on a server."""
    folder = Path(f"{ledger.where}.files")
    return [path for path in folder.rglob("*") if path.is_file()]


def test_all_are_kept_and_told_one_by_one(ledger: Ledger, tmp_path: Path) -> None:
    files = waiting(tmp_path, 4)
    told: list[tuple[int, int]] = []
    ledger.files.put_files(files, lambda done, of: told.append((done, of)))
    assert told == [(n, 4) for n in range(5)]
    assert set(ledger.files.names()) == set(files)
    for sha256, path in files.items():
        assert ledger.files.holds(sha256)
        assert ledger.files.get(sha256) == path.read_bytes()
    ledger.files.put_files(files)
    assert len(list(ledger.files.names())) == 4
    assert not ledger.files.holds("0" * 64)


@pytest.mark.parametrize("at", [0, 1, 3, 4])
def test_stopped_at_any_of_them_none_is_kept(ledger: Ledger, tmp_path: Path, at: int) -> None:
    kept = b"kept before"
    ledger.files.put(kept)
    before = left_over(ledger)

    def stop(done: int, of: int) -> None:
        if done == at:
            raise Refused("enough")

    with pytest.raises(Refused, match="enough"):
        ledger.files.put_files(waiting(tmp_path, 4), stop)
    assert list(ledger.files.names()) == [hashlib.sha256(kept).hexdigest()]
    assert left_over(ledger) == before


def test_one_that_was_changed_while_it_waited_is_told_and_none_is_kept(
    ledger: Ledger, tmp_path: Path
) -> None:
    files = waiting(tmp_path, 3)
    list(files.values())[1].write_bytes(b"something else")
    with pytest.raises(Trouble, match="was changed while it waited"):
        ledger.files.put_files(files)
    assert list(ledger.files.names()) == []
    assert left_over(ledger) == []


def test_one_that_was_damaged_since_it_was_kept_is_written_anew(file_ledger: Ledger, tmp_path: Path) -> None:
    files = waiting(tmp_path, 1)
    file_ledger.files.put_files(files)
    [sha256] = files
    path = Path(f"{file_ledger.where}.files") / sha256[:2] / sha256
    assert path.stat().st_mode & 0o777 == 0o400
    path.chmod(0o600)
    path.write_bytes(b"damaged")
    file_ledger.files.put_files(files)
    assert file_ledger.files.get(sha256) == files[sha256].read_bytes()


def test_a_trial_reads_them_where_they_wait(ledger: Ledger, tmp_path: Path) -> None:
    files = waiting(tmp_path, 2)
    trial = UnkeptFiles(ledger.files)
    trial.put_files(files)
    for sha256, path in files.items():
        assert trial.holds(sha256)
        assert trial.get(sha256) == path.read_bytes()
        with pytest.raises(NotFound):
            ledger.files.get(sha256)
    assert not trial.holds("0" * 64)
    assert list(ledger.files.names()) == []
