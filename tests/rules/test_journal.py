"""The canonical form of an entry and its seal: fixed, NFC, and changed by every change."""

from __future__ import annotations

import unicodedata
from dataclasses import replace
from datetime import UTC, date, datetime

import pytest

from shopledger.rules.journal import (
    ACCOUNTS,
    CHART,
    FIRST_HASH,
    SealedEntry,
    SealedPosting,
    canonical,
    seal_hash,
)
from shopledger.rules.series import SERIES, year_of

ENTRY = SealedEntry(
    number=7,
    op_id="a-b",
    booked_on=date(2026, 3, 4),
    recorded_at=datetime(2026, 3, 4, 9, 30, tzinfo=UTC),
    act="sell",
    source="SI 2026-001 line 1",
    reverses=None,
    postings=(
        SealedPosting(1, "buyers", "P 002", "EUR", 1000),
        SealedPosting(2, "commission", "", "EUR", -1000),
    ),
)


def test_the_canonical_form_is_this_text() -> None:
    # Written out, since every seal ever made depends on it.
    assert canonical(ENTRY) == (
        "shop-ledger entry 1\n7\na-b\n2026-03-04\n2026-03-04T09:30:00.000000Z\nsell\nSI 2026-001 line 1\n\n"
        "1\tbuyers\tP 002\tEUR\t1000\n2\tcommission\t\tEUR\t-1000"
    )
    assert seal_hash(FIRST_HASH, ENTRY) == seal_hash(FIRST_HASH, replace(ENTRY))


@pytest.mark.parametrize(
    "changed",
    [
        replace(ENTRY, number=8),
        replace(ENTRY, op_id="a-c"),
        replace(ENTRY, booked_on=date(2026, 3, 5)),
        replace(ENTRY, recorded_at=datetime(2026, 3, 4, 9, 30, 0, 1, tzinfo=UTC)),
        replace(ENTRY, act="sel"),
        replace(ENTRY, source="SI 2026-001 line 1\n"),
        replace(ENTRY, source="SI 2026-001 line 1\\n"),
        replace(ENTRY, reverses=6),
        replace(ENTRY, postings=ENTRY.postings[:1]),
        replace(ENTRY, postings=(replace(ENTRY.postings[0], amount=1001), ENTRY.postings[1])),
        replace(ENTRY, postings=(replace(ENTRY.postings[0], person="P 003"), ENTRY.postings[1])),
        replace(ENTRY, postings=(replace(ENTRY.postings[0], currency="USD"), ENTRY.postings[1])),
        replace(ENTRY, postings=(replace(ENTRY.postings[0], account="bank"), ENTRY.postings[1])),
    ],
)
def test_every_change_changes_the_seal(changed: SealedEntry) -> None:
    assert seal_hash(FIRST_HASH, changed) != seal_hash(FIRST_HASH, ENTRY)


def test_the_seal_hangs_on_the_one_before() -> None:
    assert seal_hash("1" * 64, ENTRY) != seal_hash(FIRST_HASH, ENTRY)


def test_the_order_of_postings_and_the_spelling_of_letters_do_not_matter() -> None:
    turned = replace(ENTRY, postings=ENTRY.postings[::-1])
    composed = replace(ENTRY, source="Händel")
    decomposed = replace(ENTRY, source=unicodedata.normalize("NFD", "Händel"))
    assert canonical(turned) == canonical(ENTRY)
    assert canonical(composed) == canonical(decomposed)


def test_codes_and_series_are_each_their_own() -> None:
    assert len(ACCOUNTS) == len(CHART)
    assert len({series.letters for series in SERIES.values()}) == len(SERIES)
    assert SERIES["sale"].write(2026, 7) == "SI 2026-007"
    assert SERIES["person"].write(0, 1234) == "P 1234"
    assert year_of("sale", date(2026, 1, 1)) == 2026
    assert year_of("person", date(2026, 1, 1)) == 0
