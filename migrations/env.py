"""How alembic reaches the ledger: through the connection that `shopledger.store.migrate` hands over."""

from __future__ import annotations

from typing import Any

from alembic import context
from sqlalchemy import Connection, MetaData

from shopledger.model import tables

PLUGINS = ["alembic.autogenerate.*", "alembic.ext.checkconstraint_byname"]
OWN = ("search_fts", "search_words")


def include_object(_thing: Any, name: str | None, _kind: str, _reflected: bool, _compared: Any) -> bool:
    """Leave out search's own tables and index, which the guards put up."""
    return not (name or "").startswith(OWN)


def run(connection: Connection, metadata: MetaData) -> None:
    """Run the asked migrations on a connection, inside its transaction."""
    context.configure(
        connection=connection,
        target_metadata=metadata,
        render_as_batch=connection.dialect.name == "sqlite",
        transactional_ddl=True,
        transaction_per_migration=False,
        include_object=include_object,
        autogenerate_plugins=PLUGINS,
        user_module_prefix="types.",
    )
    context.run_migrations()


_connection = context.config.attributes["connection"]
run(_connection, tables(_connection.dialect.name))
