"""What holds for every test: Qt draws without a screen, a failed random case says how to have it again, statements
are put together once, nothing is kept in the folders of whoever runs it, and there are ledgers on both databases.
"""

from __future__ import annotations

import os
from collections.abc import Iterator

import pytest
from hypothesis import settings

from tests.helpers.engines import statements_shared
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
    "kept_apart",
    "ledger",
    "place",
    "server",
    "server_ledger",
    "server_place",
    "statements",
    "told_file",
    "told_ledger",
    "told_place",
    "told_server",
    "told_template",
]

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

# No limits of time, since a busy machine is no fault of the program; the printed blob brings a failed case back.
settings.register_profile("house", deadline=None, print_blob=True)
settings.load_profile("house")


@pytest.fixture(scope="session", autouse=True)
def kept_apart(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", str(tmp_path_factory.mktemp("kept")))
        yield


@pytest.fixture(scope="session", autouse=True)
def statements() -> Iterator[None]:
    with statements_shared():
        yield
