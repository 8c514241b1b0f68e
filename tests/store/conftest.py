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
    told_file,
    told_ledger,
    told_place,
    told_server,
    told_template,
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
    "told_file",
    "told_ledger",
    "told_place",
    "told_server",
    "told_template",
]
