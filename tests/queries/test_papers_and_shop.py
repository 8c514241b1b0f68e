"""Papers as they were issued, the shop's own page and tax, and whom a picker offers."""

from __future__ import annotations

import hashlib
from datetime import date
from fractions import Fraction

import pytest
from sqlalchemy import insert

from shopledger.model import DatedRate
from shopledger.papers.registry import KINDS
from shopledger.quantities.errors import LedgerError, NotFound, Trouble
from shopledger.queries import shop_sheet
from shopledger.queries.papers import paper_bytes, papers_of, picture_bytes, title_of
from shopledger.queries.pickers import find_instruments, find_people
from shopledger.queries.shop import tax_now
from shopledger.store.unit import Reading
from tests.helpers.shops import FIRST_DAY, TriedShop
from tests.queries.busy import BusyShop


def test_titles_are_those_of_the_kinds_of_paper() -> None:
    assert {kind.name: kind.title for kind in KINDS.values()} == {name: title_of(name) for name in KINDS}
    assert title_of("unheard of") == "unheard of"


def test_a_paper_is_given_byte_for_byte(shop: TriedShop) -> None:
    instrument = shop.with_papers(
        "take_in", instrument={"kind": "cello"}, owners=(), stay={"reason": "own"}
    ).id
    with shop.ledger.read() as reading:
        (paper,) = papers_of(reading, instrument_id=instrument)
    assert (paper.title, paper.issued, paper.on) == ("Receipt of intake", True, FIRST_DAY)
    content = paper_bytes(shop.ledger, paper.id)
    assert content.startswith(b"%PDF")
    assert hashlib.sha256(content).hexdigest() in set(shop.ledger.files.names())
    with pytest.raises(NotFound, match="no paper"):
        paper_bytes(shop.ledger, 10**9)


def test_a_paper_that_waits_says_so(shop: TriedShop) -> None:
    instrument = shop.taken_in()
    with shop.ledger.read() as reading:
        (paper,) = papers_of(reading, instrument_id=instrument)
    assert not paper.issued
    with pytest.raises(Trouble, match="not issued yet"):
        paper_bytes(shop.ledger, paper.id)


@pytest.mark.parametrize("name", ["", "../../etc/passwd", "0" * 64, "\x00"])
def test_a_picture_that_is_not_there_is_said(shop: TriedShop, name: str) -> None:
    with pytest.raises(LedgerError, match="missing"):
        picture_bytes(shop.ledger, name)


def test_rates_are_dated(busy: BusyShop) -> None:
    with busy.ledger.read() as reading:
        scheme, rate = tax_now(reading, FIRST_DAY)
        assert (scheme, rate) == ("margin", Fraction(23, 100))
        assert tax_now(reading, date(1990, 1, 1)) == ("none", None)


def test_the_newest_rate_begun_counts(shop: TriedShop) -> None:
    with shop.ledger.write() as writing:
        writing.session.connection().execute(
            insert(DatedRate).values(
                scheme="margin", rate=Fraction(1, 4), from_on=date(2026, 7, 1), source="invented for tests"
            )
        )
        writing.commit()
    with shop.ledger.read() as reading:
        assert tax_now(reading, date(2026, 6, 30))[1] == Fraction(23, 100)
        assert tax_now(reading, date(2026, 7, 1))[1] == Fraction(1, 4)
        facts = [fact for group in shop_sheet.sheet(reading).groups for fact in group.facts]
    assert [fact.quiet for fact in facts if fact.value == "25%"] == ["from 1 Jul 2026, invented for tests"]


def test_pickers_offer_what_fits(busy: BusyShop, reading: Reading) -> None:
    assert [choice.words for choice in find_people(reading, "fenn")] == ["Orla Fenn, P 001"]
    assert len(find_people(reading, "", 3)) == 3
    assert [choice.id for choice in find_instruments(reading, "oster viola")] == [busy.viola]
    assert [choice.words for choice in find_instruments(reading, "oster")] == ["No. 002 viola Béla Öster"]
    assert find_people(reading, "'; drop table person; --") == ()
