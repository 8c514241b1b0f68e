"""The proof: a ledger gone through from end to end, reading only; every figure is reckoned anew or compared."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from pathlib import Path

from sqlalchemy import Connection, Engine, select
from sqlalchemy.exc import DatabaseError

from shopledger.model import Person, Shop
from shopledger.quantities.errors import Trouble
from shopledger.quantities.words import N_
from shopledger.store.engine import name_of
from shopledger.store.ledger import files_of
from shopledger.store.looking import looking
from shopledger.store.proof.away import prove_away
from shopledger.store.proof.counts import prove_counts
from shopledger.store.proof.custody import prove_custody
from shopledger.store.proof.deeds import prove_deeds, prove_records
from shopledger.store.proof.estimates import prove_estimates
from shopledger.store.proof.finding import Proof, Wrong
from shopledger.store.proof.goods import prove_goods
from shopledger.store.proof.job_days import prove_days_of_jobs
from shopledger.store.proof.jobs import prove_jobs
from shopledger.store.proof.journal import prove_journal
from shopledger.store.proof.liens import prove_ends_of_jobs
from shopledger.store.proof.moneys import (
    prove_charges,
    prove_fees,
    prove_payments,
    prove_payouts,
    prove_refunds,
)
from shopledger.store.proof.numbers import prove_numbers
from shopledger.store.proof.owners import prove_owners, prove_settlements
from shopledger.store.proof.papers import prove_papers, prove_pictures
from shopledger.store.proof.sales import prove_sales, prove_shares, prove_stays
from shopledger.store.proof.schema import prove_guards, prove_schema
from shopledger.store.proof.stored import prove_file, prove_references, prove_values
from shopledger.store.proof.trials import prove_trials

__all__ = ["Wrong", "prove"]

CHECKS: tuple[tuple[str, Callable[[Proof], None]], ...] = (
    ("file", prove_file),
    ("guard", prove_guards),
    ("schema", prove_schema),
    ("reference", prove_references),
    ("value", prove_values),
    ("entry", prove_journal),
    ("deed", prove_deeds),
    ("record", prove_records),
    ("number", prove_numbers),
    ("stay", prove_stays),
    ("custody", prove_custody),
    ("trial", prove_trials),
    ("placing", prove_away),
    ("count", prove_counts),
    ("share", prove_shares),
    ("sale", prove_sales),
    ("goods", prove_goods),
    ("estimate", prove_estimates),
    ("job", prove_jobs),
    ("job", prove_days_of_jobs),
    ("job", prove_ends_of_jobs),
    ("payment", prove_payments),
    ("refund", prove_refunds),
    ("settlement", prove_settlements),
    ("payout", prove_payouts),
    ("charge", prove_charges),
    ("fee", prove_fees),
    ("owner", prove_owners),
    ("paper", prove_papers),
    ("picture", prove_pictures),
)
"""Every check with the kind of thing it is about, in the order of what the later ones rest on."""


def prove(where: str | Path) -> list[Wrong]:
    """Go through a ledger and give everything that is wrong with it; an empty list where nothing is.

    Nothing is written, migrated or made, so that a ledger in a folder that may only be read is proved too.

    Raises: Trouble: it can't be read: there is none, it is no ledger, too damaged, locked, or of another revision.
    """
    with looking(where) as looked:
        return prove_connected(looked.where, looked.engine, looked.connection)


def prove_connected(where: str | Path, engine: Engine, connection: Connection) -> list[Wrong]:
    """Give everything that is wrong with a ledger as a connection sees it, inside its transaction.

    Raises: Trouble: it holds no shop.
    """
    proof = _begun(where, engine, connection)
    for what, check in CHECKS:
        _checked(proof, what, check)
    return proof.found


def _begun(where: str | Path, engine: Engine, connection: Connection) -> Proof:
    shop = connection.execute(select(Shop.currency, Shop.person_id)).first()
    if shop is None:
        raise Trouble(N_("{name} holds no shop. Restore a backup."), name=name_of(where))
    proof = Proof(where, connection, files_of(where, engine), shop.currency, shop.person_id)
    proof.people = proof.pairs(select(Person.id, Person.number))
    return proof


def _checked(proof: Proof, what: str, check: Callable[[Proof], None]) -> None:
    """Do one check; where what is stored can't even be read, that is what is wrong, and the others go on."""
    try:
        check(proof)
    except (ValueError, TypeError, ArithmeticError, LookupError) as error:
        said = str(error) or type(error).__name__
        proof.wrong(
            what, "", N_("What is stored can't be read ({said}): this check was not finished."), said=said
        )
    except DatabaseError as error:
        if not isinstance(error.orig, sqlite3.DatabaseError) or _is_busy(error.orig):
            raise
        proof.wrong(
            what,
            "",
            N_("The file can't be read here ({said}): this check was not finished."),
            said=str(error.orig),
        )


def _is_busy(error: BaseException) -> bool:
    code = getattr(error, "sqlite_errorcode", None)
    return code is not None and code & 0xFF in {sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED}
