"""A valuation: who says so, for what, on what basis; no appraisal unless its author says so."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest

from shopledger.acts import act
from shopledger.quantities.errors import LedgerError, NotFound, Typed
from shopledger.queries.damages import valuations_of
from shopledger.queries.instrument_sheet import sheet
from shopledger.queries.papers import paper_bytes
from tests.acts.test_papers_left import left, stated, twice
from tests.helpers.shops import TriedShop, eur
from tests.papers.reading_back import in_order, text_of


def said(shop: TriedShop, **given: Any) -> dict[str, Any]:
    """Give a valuation by the shop for an insurer."""
    return {
        "value": eur("11000.00"),
        "purpose": "insurance",
        "valued_by": "Ansel Quill",
        "valued_on": shop.today,
        **given,
    }


def test_a_valuation_is_no_appraisal_by_itself(any_shop: TriedShop) -> None:
    shop = any_shop
    cello = shop.consigned()
    basis = "Replacement by one of like quality."
    outcome = twice(
        shop, "record_valuation", instrument_id=cello, valuation=said(shop, basis=basis, for_id=shop.owner)
    )
    assert left(shop, outcome) == [("valuation", "VA 2026-001")]
    facts = stated(shop, outcome.papers[0])
    assert (facts.is_appraisal, facts.interest, facts.value) == (False, "to_sell", eur("11000.00"))
    text = text_of(paper_bytes(shop.ledger, outcome.papers[0])).replace("\u00a0", " ")
    assert in_order(
        text,
        *("Valuation", "no certified appraisal", "Orla Fenn", "VA 2026-001", "insurance", "11,000.00"),
        *("Replacement by one", "Ansel Quill", "has the instrument to sell", "no certified appraisal"),
        "with an interest in the figure",
    )
    assert "called a certified appraisal" not in text
    with shop.ledger.read() as reading:
        (fact,) = valuations_of(reading, cello).facts
        assert any(group.title == "Valuations" for group in sheet(reading, cello).groups)
    assert fact.label == "VA 2026-001"
    assert fact.quiet == "insurance, Ansel Quill, 2 Mar 2026, no appraisal"
    assert shop.wrong() == []


def test_an_appraisal_is_one_on_its_authors_word(shop: TriedShop) -> None:
    gone = shop.consigned()
    shop.act("return_to_owner", instrument_id=gone, handed_to="Orla Fenn")
    outcome = shop.with_papers(
        "record_valuation", instrument_id=gone, valuation=said(shop, is_appraisal=True, purpose="estate")
    )
    assert stated(shop, outcome.papers[0]).interest == ""
    text = text_of(paper_bytes(shop.ledger, outcome.papers[0]))
    assert in_order(
        text, "called a certified appraisal by its author", "whom it may concern", "on the word of"
    )


@pytest.mark.parametrize(
    ("kind", "words", "field", "given"),
    [
        (Typed, "above zero", "valuation.value", {"value": eur("0.00")}),
        (Typed, "Value is missing", "valuation.value", {"value": None}),
        (Typed, "Valued by is missing", "valuation.valued_by", {"valued_by": ""}),
        (Typed, "Purpose is missing", "valuation.purpose", {"purpose": None}),
        (NotFound, "no such person", "valuation.for_id", {"for_id": 99}),
    ],
)
def test_what_can_not_be_so_is_refused(
    shop: TriedShop, kind: type[LedgerError], words: str, field: str, given: dict[str, Any]
) -> None:
    cello = shop.consigned()
    before = shop.rows()
    with pytest.raises(kind, match=words) as caught:
        shop.act("record_valuation", instrument_id=cello, valuation=said(shop, **given))
    assert caught.value.field == field
    with pytest.raises(Typed, match="after the day of this act"):
        shop.act(
            "record_valuation",
            instrument_id=cello,
            valuation=said(shop, valued_on=shop.today + timedelta(days=1)),
        )
    assert shop.rows() == before


def test_the_form_warns_of_an_interest(shop: TriedShop) -> None:
    one = act("record_valuation")
    assert one.prefill is not None
    assert one.preview is not None
    cello = shop.consigned()
    with shop.ledger.read() as reading:
        given = one.prefill(reading, cello)["valuation"]
        form = shop.form("record_valuation", instrument_id=cello, valuation={**given, "is_appraisal": True})
        told = one.preview(reading, form)
    assert given["value"] == eur("10000.00")
    assert "is_appraisal" not in given
    assert ["has an interest" in told.warnings[0], "It has to be one" in told.warnings[1]] == [True, True]
