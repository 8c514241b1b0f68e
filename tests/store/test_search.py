"""Search finds by plain words on both databases alike, and nothing that is typed breaks it."""

from __future__ import annotations

import random
import string
from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import select

from shopledger.model import Instrument, Person, Search
from shopledger.store.ledger import Ledger
from shopledger.store.matching import matching, plain_words
from tests.helpers.ledgers import Server, copied, opened
from tests.helpers.story import act


@pytest.fixture(scope="module", params=["sqlite", "postgresql"])
def told(
    request: pytest.FixtureRequest, told_template: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Ledger]:
    """Give a told ledger that all tests which only ask share."""
    if request.param == "sqlite":
        with opened(copied(told_template, tmp_path_factory.mktemp("asked"))) as ledger:
            yield ledger
    else:
        server: Server = request.getfixturevalue("server")
        url = server.told()
        with opened(url) as ledger:
            yield ledger
        server.drop(url)


def found(ledger: Ledger, subject: str, typed: str) -> list[int]:
    with ledger.read() as reading:
        question = matching(reading.session, subject, typed)
        assert question is not None
        return sorted(reading.session.scalars(question))


@pytest.mark.parametrize(
    ("typed", "people"),
    [
        ("Adaline", [2]),
        ("adal", [2]),
        ("ADAL fen", [2]),
        ("fenwraith", [2, 3]),
        ("Bø", [3]),
        ("bo", [3]),
        ("celestine", [4]),
        ("CÉLESTINE", [4]),
        ("ce\u0301lestine", [4]),
        ("example.org", [3]),
        ("bo@example.org", [3]),
        ("example", [3]),
        ("555-0101", [2]),
        ("0101", [2]),
        ("P 001", [2]),
        ("net loft", [2]),
        ("loft net", [2]),
        ("cello", [4]),
        ("zither", []),
        ("adaline zither", []),
    ],
)
def test_people(told: Ledger, typed: str, people: list[int]) -> None:
    assert found(told, "person", typed) == people


@pytest.mark.parametrize(
    ("typed", "instruments"),
    [
        ("cello", [1]),
        ("fenwraith", [1]),
        ("bo fenwraith", [1]),
        ("1890", [1]),
        ("pearwood", [1]),
        ("690.5", [1]),
        ("690,5 mm", [1]),
        ("TI 2025-001", [1]),
        ("ti 2025", [1, 2, 3]),
        ("AG 2025-001", [1]),
        ("orla made", [1]),
        ("viola", [3]),
        ("dusk", [3]),
    ],
)
def test_instruments(told: Ledger, typed: str, instruments: list[int]) -> None:
    assert found(told, "instrument", typed) == instruments


def test_sales(told: Ledger) -> None:
    assert found(told, "sale", "SI 2025-001") == [1]
    assert found(told, "sale", "célestine") == [1, 2]
    assert found(told, "sale", "accessory") == [1]
    assert found(told, "sale", "PR 2025-001") == [1]


def test_what_changes_is_found_anew(told_ledger: Ledger) -> None:
    with act(told_ledger, "renamed") as writing:
        writing.session.get_one(Person, 2).name = "Adeline Oakum"
        writing.session.get_one(Instrument, 3).title = "the Gannet"
    assert found(told_ledger, "person", "adaline") == []
    assert found(told_ledger, "person", "oakum") == [2]
    assert found(told_ledger, "instrument", "oakum") == [1]
    assert found(told_ledger, "instrument", "gannet") == [3]
    with told_ledger.read() as reading:
        twice = reading.session.execute(select(Search.subject, Search.subject_id)).all()
    assert len(twice) == len(set(twice))


@pytest.mark.parametrize("typed", ["", "   ", "***", "-", '"', "!@#$%^&()", "\n\t", "´`", "\x00", "—"])
def test_nothing_to_search_for(told: Ledger, typed: str) -> None:
    with told.read() as reading:
        assert matching(reading.session, "person", typed) is None


HOSTILE = [
    '"',
    "'",
    "''",
    '"" OR ""',
    "a AND",
    "AND",
    "NOT",
    "NEAR(a b)",
    "NEAR",
    "OR",
    "a*b",
    "*",
    "words:a",
    "^a",
    "a - b",
    "(a",
    "a)",
    "{a b}: c",
    "a+b",
    "\\",
    "a\\",
    "';DROP TABLE person;--",
    "%",
    "_",
    "a & b",
    "a | b",
    "!a",
    "a:*",
    "<->",
    "a <2> b",
    "a\x00b",
    "\ud800",
    "a\ud800b",
    "\u202e",
    "ﬁ",
    "½",
    "²",
    "١٢٣",
    "漢字",
    "ไทย",
    "𝄞",
    "🎻 cello",
    "ß",
    "İ",
    "x" * 10_000,
    "a " * 10_000,
    "1e5",
    "-1",
    "0x10",
    "1.5e+3",
    "http://a.example.org/b?c=d",
    "a@b",
    "/etc/passwd",
    "<b>a</b>",
    "&amp;",
    ":a",
    ":asked",
    "%(asked)s",
    "?",
    "$1",
    "{}",
    "{0}",
]


@pytest.mark.parametrize("typed", HOSTILE, ids=range(len(HOSTILE)))
def test_nothing_typed_breaks_it(told: Ledger, typed: str) -> None:
    for subject in ("person", "instrument", "sale"):
        with told.read() as reading:
            question = matching(reading.session, subject, typed)
            if question is not None:
                assert isinstance(reading.session.scalars(question).all(), list)


def test_random_strings_break_nothing(told: Ledger) -> None:
    seed = random.randrange(2**32)
    print("seed", seed)
    draw = random.Random(seed)
    letters = string.printable + "\"'*():&|!<>^-~\\äßøÉ½漢🎻\u0301\u200b\u202e"
    with told.read() as reading:
        for _n in range(400):
            typed = "".join(draw.choices(letters, k=draw.randrange(1, 40)))
            question = matching(reading.session, "person", typed)
            if question is not None:
                reading.session.scalars(question).all()


def test_words_written_are_cut_like_words_asked(told: Ledger) -> None:
    """Every word of everything written finds what it was written for, on either database."""
    with told.read() as reading:
        rows = reading.session.execute(select(Search.subject, Search.subject_id, Search.words)).all()
    assert len(rows) > 8
    for subject, subject_id, words in rows:
        assert words.split() == [word for one in words.split() for word in plain_words(one)]
        for word in sorted(set(words.split())):
            assert subject_id in found(told, subject, word), word


def test_at_most_a_dozen_words_count() -> None:
    assert plain_words(" ".join("abcdefghijklmnop")) == list("abcdefghijkl")
    assert [len(word) for word in plain_words("x" * 500)] == [60]
