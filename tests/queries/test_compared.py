"""A sheet of paper compared with the ledger by the code at its foot, on both databases."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import select

from shopledger.model import Paper
from shopledger.papers.marks import mark_text
from shopledger.quantities.errors import Trouble, Typed
from shopledger.queries.compared import compare
from shopledger.queries.papers import paper_bytes
from tests.helpers.shops import TriedShop
from tests.helpers.tampering import tamper
from tests.papers.reading_back import codes_of


@pytest.fixture
def sold(place: str | Path) -> Iterator[tuple[TriedShop, int]]:
    """A shop that issued the papers of a sale, and its invoice."""
    shop = TriedShop(place)
    outcome = shop.with_papers("sell", buyer_id=shop.buyer, lines=(shop.line(shop.consigned()),))
    yield shop, outcome.papers[0]
    shop.ledger.close()


def test_the_code_of_an_issued_paper_matches(sold: tuple[TriedShop, int]) -> None:
    shop, key = sold
    for mark in codes_of(paper_bytes(shop.ledger, key)):
        found = compare(shop.ledger.where, f" {mark}\n")
        assert found.matches
        assert (found.kind, found.issued_on, found.to) == ("invoice", shop.today, "Tam Brine")
        assert found.digest == found.kept == mark[-64:]
        assert found.says.startswith(
            f"Invoice {found.number}, issued on 2 Mar 2026 to Tam Brine. The code matches what the ledger keeps."
        )


def test_another_digest_or_number_does_not_match(sold: tuple[TriedShop, int]) -> None:
    shop, key = sold
    with shop.ledger.read() as reading:
        number, digest = reading.session.execute(
            select(Paper.number, Paper.facts_sha256).where(Paper.id == key)
        ).one()
    other = compare(shop.ledger.where, mark_text(number, ("0" if digest[0] != "0" else "1") + digest[1:]))
    assert not other.matches
    assert other.kept == digest
    assert "this sheet states something else than the ledger keeps" in other.says
    missing = compare(shop.ledger.where, mark_text("SI 1999-001", digest))
    assert (missing.matches, missing.kind, missing.issued_on, missing.kept) == (False, "", None, "")
    assert missing.says.startswith("There is no paper SI 1999-001 in this ledger.")


def test_a_paper_that_goes_to_nobody_names_nobody(sold: tuple[TriedShop, int]) -> None:
    shop, _key = sold
    key = shop.with_papers("list_others").papers[0]
    [mark, *_more] = codes_of(paper_bytes(shop.ledger, key))
    found = compare(shop.ledger.where, mark)
    assert found.matches
    assert found.to == ""
    assert f"{found.number}, issued on 2 Mar 2026. The code" in found.says


def test_facts_changed_behind_the_program_never_match(sold: tuple[TriedShop, int]) -> None:
    shop, key = sold
    [mark, *_more] = codes_of(paper_bytes(shop.ledger, key))
    where = shop.ledger.where
    shop.ledger.close()
    tamper(where, f"UPDATE paper SET facts = replace(facts, 'Tam Brine', 'Sam Brine') WHERE id = {key}")
    found = compare(where, mark)
    assert not found.matches
    assert "changed behind the program" in found.says
    # Neither does a sheet that was made to fit the changed facts.
    assert not compare(where, mark_text(found.number, found.kept)).matches


@pytest.mark.parametrize("mark", ["", "SI 2026-001", "0" * 64, "SI 2026-001 " + "A" * 64, "x\n" + "0" * 64])
def test_what_is_no_code_is_refused(mark: str, tmp_path: Path) -> None:
    with pytest.raises(Typed, match="not from a paper of the ledger"):
        compare(tmp_path / "none.ledger", mark)


def test_a_ledger_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(Trouble, match="There is no ledger at"):
        compare(tmp_path / "none.ledger", mark_text("SI 2026-001", "0" * 64))
    assert list(tmp_path.iterdir()) == []
