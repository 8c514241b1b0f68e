"""What SQLAlchemy put together for one database of a run serves the others, as it does within one engine.

Each test opens a ledger of its own, so that otherwise each puts the same statements together anew, which takes more
than half of its time. The statements, the databases and the program's engines are the real ones.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any
from unittest.mock import patch

import sqlalchemy
from sqlalchemy import Engine, event

import shopledger.store.engine


@contextmanager
def statements_shared() -> Iterator[None]:
    """Let the engines that the program makes inside share their statements, those of each driver for itself."""
    dialects: dict[str, sqlalchemy.Dialect] = {}
    statements: dict[str, dict[Any, Any]] = {}

    def make(*given: Any, **named: Any) -> Engine:
        engine = sqlalchemy.create_engine(*given, **named)
        driver = engine.driver
        # A statement is kept for the dialect that it was put together for.
        if driver in dialects:
            engine.dialect = dialects[driver]
        else:

            @event.listens_for(engine, "connect", once=True)
            def on_connected(_driver: Any, _record: Any) -> None:
                # Only now the dialect knows what it has to know of its server.
                dialects.setdefault(driver, engine.dialect)

        engine.update_execution_options(compiled_cache=statements.setdefault(driver, {}))
        return engine

    with patch.object(shopledger.store.engine, "create_engine", make):
        yield
