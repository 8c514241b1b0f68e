"""Which paper an act leaves where it is easily forgotten, and what is said when only the paper fails."""

from __future__ import annotations

from pathlib import Path

import pytest
from sqlalchemy import select

from shopledger.acts import act, do
from shopledger.acts.declare import Outcome
from shopledger.acts.selling_forms import PartExchangeRow
from shopledger.model import Paper
from shopledger.quantities.errors import Trouble
from shopledger.store.files import FolderFiles
from tests.helpers.shops import TriedShop, eur, row


def left(shop: TriedShop, outcome: Outcome) -> list[tuple[str, str]]:
    """Give kind and number of each paper an act left, in order."""
    with shop.ledger.read() as reading:
        rows = reading.session.execute(
            select(Paper.kind, Paper.number).where(Paper.id.in_(outcome.papers)).order_by(Paper.id)
        )
        return [(kind, number) for kind, number in rows]


def test_the_end_of_an_agreement_is_stated_to_its_owner(shop: TriedShop) -> None:
    instrument = shop.consigned()
    outcome = shop.with_papers("end_agreement", instrument_id=instrument, how="given_up", why="no room")
    assert left(shop, outcome) == [("addendum", "AG 2026-001/2")]


def test_a_change_of_owner_ends_the_agreement_in_writing(shop: TriedShop) -> None:
    instrument = shop.consigned()
    outcome = shop.with_papers(
        "change_owner", instrument_id=instrument, owners=(row(shop.other),), how="given, letter seen"
    )
    assert left(shop, outcome) == [("addendum", "AG 2026-001/2")]
    without = shop.taken_in()
    assert (
        left(
            shop, shop.act("change_owner", instrument_id=without, owners=(row(shop.other),), how="inherited")
        )
        == []
    )


def test_a_settled_loss_is_accounted_for_to_each_owner(shop: TriedShop) -> None:
    instrument = shop.consigned("900.00", row(shop.owner, "1/3"), row(shop.other, "2/3"))
    shop.act("report_loss", instrument_id=instrument, what_happened="fire", agreed_value=eur("900.00"))
    outcome = shop.with_papers("settle_loss", instrument_id=instrument, from_own=True)
    assert left(shop, outcome) == [("account_sales", "AS 2026-001/1"), ("account_sales", "AS 2026-001/2")]
    assert shop.wrong() == []


def test_what_is_taken_in_part_exchange_has_its_receipt(shop: TriedShop) -> None:
    instrument = shop.consigned()
    exchanged = (PartExchangeRow(kind="violin", description="a violin", allowance=eur("500.00")),)
    outcome = shop.with_papers(
        "sell", buyer_id=shop.buyer, lines=(shop.line(instrument),), part_exchange=exchanged
    )
    assert ("intake", "TI 2026-002") in left(shop, outcome)


def test_an_act_whose_paper_fails_is_said_to_be_done(shop: TriedShop, tmp_path: Path) -> None:
    instrument = shop.consigned()
    blocked = tmp_path / "a file, not a folder"
    blocked.write_text("in the way")
    files, shop.ledger.files = shop.ledger.files, FolderFiles(blocked)
    form = shop.form("end_agreement", instrument_id=instrument, how="given_up")
    with pytest.raises(Trouble, match="done and booked"):
        do(shop.ledger, act("end_agreement"), form)
    shop.ledger.files = files
    outcome = do(shop.ledger, act("end_agreement"), form)
    assert left(shop, outcome) == [("addendum", "AG 2026-001/2")]
    assert shop.wrong() == []
