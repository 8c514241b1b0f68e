"""The manners that are kept between two starts: the same as found, and never trusted where the file isn't whole."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from shopledger.quantities.errors import Typed
from shopledger.quantities.manners import Manners
from shopledger.store import kept_manners
from shopledger.store.kept_manners import manners_kept
from shopledger.store.ledger import open_ledger
from shopledger.store.manners import manners_of

PLACES = [("en_US", "USD"), ("de_CH", "CHF"), ("en_IN", "INR"), ("ja_JP", "JPY"), ("pt_PT", "EUR")]


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "of a user" / "manners.json"


def no_library(_locale: str, _currency: str) -> Manners:
    raise AssertionError("the library was asked")


@pytest.mark.parametrize(("locale", "currency"), PLACES)
def test_what_is_kept_is_what_was_found(
    file: Path, monkeypatch: pytest.MonkeyPatch, locale: str, currency: str
) -> None:
    for each in PLACES:
        assert manners_kept(*each, file) == manners_of(*each)
    monkeypatch.setattr(kept_manners, "manners_of", no_library)
    again = manners_kept(locale, currency, file)
    assert again == manners_of(locale, currency)
    assert hash(again) == hash(manners_of(locale, currency))


def test_an_unknown_locale_is_refused_and_not_kept(file: Path) -> None:
    with pytest.raises(Typed):
        manners_kept("xx_XX", "EUR", file)
    assert not file.exists()


@pytest.mark.parametrize("spoil", ["cut", "letter", "empty", "bytes", "folder"])
def test_a_damaged_file_is_as_good_as_none(file: Path, spoil: str) -> None:
    manners_kept("de_CH", "CHF", file)
    whole = file.read_bytes()
    match spoil:
        case "cut":
            file.write_bytes(whole[:-20])
        case "letter":
            file.write_bytes(whole.replace(b"d. MMM y", b"m. MMM y"))
        case "empty":
            file.write_bytes(b"")
        case "bytes":
            file.write_bytes(b"\xff\xfe" + whole)
        case "folder":
            file.unlink()
            file.mkdir()
    assert spoil == "folder" or file.read_bytes() != whole
    assert manners_kept("de_CH", "CHF", file) == manners_of("de_CH", "CHF")
    if spoil != "folder":
        assert file.read_bytes() == whole
    assert [each.name for each in file.parent.iterdir()] == [file.name]


@pytest.mark.parametrize("other", ["library", "parts"])
def test_what_another_library_or_program_left_is_found_anew(
    file: Path, monkeypatch: pytest.MonkeyPatch, other: str
) -> None:
    manners_kept("de_CH", "CHF", file)
    told = json.loads(file.read_text(encoding="utf-8").partition("\n")[2])
    told["kept"]["de_CH CHF"]["decimal"] = "!"
    told[other] = "another" if other == "library" else ["another"]
    words = json.dumps(told)
    file.write_text(f"{kept_manners._digest(words)}\n{words}", encoding="utf-8")
    assert manners_kept("de_CH", "CHF", file).decimal == "."


def test_where_nothing_can_be_kept_the_library_answers(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    assert manners_kept("en_US", "USD", tmp_path / "file" / "manners.json") == manners_of("en_US", "USD")


def test_a_ledger_opens_by_what_is_kept(file_place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with open_ledger(file_place) as ledger:
        before = ledger.manners
    monkeypatch.setattr(kept_manners, "manners_of", no_library)
    with open_ledger(file_place) as ledger:
        assert ledger.manners == before
