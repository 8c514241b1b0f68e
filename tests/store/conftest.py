"""Ledgers on both databases for the tests of the store."""

from __future__ import annotations

from tests.helpers.ledgers import (
    file_ledger,
    file_place,
    file_template,
    ledger,
    place,
    server,
    server_ledger,
    server_place,
)

__all__ = [
    "file_ledger",
    "file_place",
    "file_template",
    "ledger",
    "place",
    "server",
    "server_ledger",
    "server_place",
]
