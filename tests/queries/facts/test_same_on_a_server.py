"""The same story on a server: every paper states the same, letter by letter."""

from __future__ import annotations

from tests.helpers.ledgers import Server, migrated
from tests.queries.facts.story import SHOP, Told, tell

TOLD = {
    *("intake", "agreement", "addendum", "release", "loss_report", "handover_list"),
    *("invoice", "bill_of_sale", "referral", "credit_note", "payment_receipt", "refund_receipt"),
    *("account_sales", "remittance", "charge_note", "fee_note", "forfeit_note"),
}
"""The kinds of the main job; the tests of the others' acts run on both databases."""


def test_papers_state_the_same_on_both_databases(told: Told, server: Server) -> None:
    place = server.empty()
    with migrated(place, SHOP) as ledger:
        on_server = tell(ledger).all_facts()
    server.drop(place)
    on_file = told.all_facts()
    assert [number for number, _facts in on_server] == [number for number, _facts in on_file]
    for (number, one), (_number, other) in zip(on_server, on_file, strict=True):
        # The list names the ledger it came from, which is another one; all else is equal.
        if not number.startswith("HL"):
            assert one == other, number


def test_every_kind_of_paper_is_told(told: Told) -> None:
    assert [kind for kind in sorted(TOLD) if not told.papers(kind)] == []
