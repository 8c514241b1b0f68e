"""A new ledger, made with its shop, its chart of accounts and its rate of tax."""

from __future__ import annotations

import os
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from pathlib import Path

from sqlalchemy import insert
from sqlalchemy.orm import Session

from shopledger.model import Account, Counter, DatedRate, Person, Shop
from shopledger.quantities import days
from shopledger.quantities.currencies import minor_units
from shopledger.quantities.days import Clock
from shopledger.quantities.errors import Trouble
from shopledger.quantities.words import N_
from shopledger.rules.journal import CHART
from shopledger.rules.series import SERIES
from shopledger.store import migrate
from shopledger.store.engine import make_engine
from shopledger.store.ledger import Ledger, Randomness, as_place, files_folder
from shopledger.store.manners import manners_of
from shopledger.store.trouble import told


@dataclass(frozen=True, kw_only=True)
class NewShop:
    """What a new ledger has to know: the answers of the first start."""

    name: str
    currency: str
    address: str = ""
    phone: str = ""
    email: str = ""
    locale: str = "en_GB"
    time_zone: str = "UTC"
    paper_size: str = "A4"
    tax_scheme: str = "none"
    tax_rate: Fraction | None = None
    tax_from: date | None = None
    tax_source: str = ""


def create_ledger(
    where: str | Path, shop: NewShop, *, clock: Clock = days.now, randomness: Randomness = os.urandom
) -> Ledger:
    """Make a new ledger with its shop, its chart of accounts and its rate of tax; give it open.

    Raises: Trouble: something is there already, or the place can't be written.
            Typed: a currency, zone or locale is unknown.
    """
    where = as_place(where)
    minor_units(shop.currency)
    days.zone(shop.time_zone)
    manners_of(shop.locale, shop.currency)
    if isinstance(where, Path):
        if where.exists() or files_folder(where).exists():
            raise Trouble(N_("{name} is there already. Choose another name, or open it."), name=where.name)
        try:
            where.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise Trouble(
                N_("The folder for {name} can't be made ({said}). Choose another place."),
                name=where.name,
                said=error.strerror or str(error),
            ) from error
        _private(where)
    engine = make_engine(where)
    try:
        with told(where):
            if not isinstance(where, Path):
                with engine.connect() as connection:
                    if migrate.stored_revision(connection) is not None:
                        raise Trouble(
                            N_("The database holds a ledger already. Open it, or name an empty one.")
                        )
            migrate.create(engine)
            with Session(engine) as session:
                _furnish(session, shop, clock, randomness)
                session.commit()
        return Ledger(where, engine, clock, randomness)
    except BaseException:
        engine.dispose()
        if isinstance(where, Path):  # it is ours: made a moment ago, and there was none before
            where.unlink(missing_ok=True)
        raise


def _private(path: Path) -> None:
    """Make the empty file, readable by its user only; one that appeared meanwhile is not touched."""
    try:
        os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o600))
    except FileExistsError:
        raise Trouble(
            N_("{name} is there already. Choose another name, or open it."), name=path.name
        ) from None
    except OSError as error:
        raise Trouble(
            N_("{name} can't be made ({said}). Choose another place."),
            name=path.name,
            said=error.strerror or str(error),
        ) from error


def _furnish(session: Session, shop: NewShop, clock: Clock, randomness: Randomness) -> None:
    connection = session.connection()
    connection.execute(insert(Account), [{"code": rule.code} for rule in CHART])
    # The row that every act updates first is there before the first act: on a server two might else both insert it.
    connection.execute(insert(Counter).values(series="deed", year=0, last=0))
    person = Person(number=SERIES["person"].write(0, 0), name=shop.name, kind="firm", relation="shop",
                    address=shop.address, phone=shop.phone, email=shop.email)  # fmt: skip
    session.add(person)
    session.flush()
    session.add(
        Shop(
            id=1,
            name=shop.name,
            address=shop.address,
            phone=shop.phone,
            email=shop.email,
            currency=shop.currency,
            locale=shop.locale,
            time_zone=shop.time_zone,
            paper_size=shop.paper_size,
            tax_scheme=shop.tax_scheme,
            person_id=person.id,
            ledger_key=randomness(16).hex(),
        )
    )
    if shop.tax_rate is not None:
        session.add(
            DatedRate(
                scheme=shop.tax_scheme,
                rate=shop.tax_rate,
                from_on=shop.tax_from or days.day_of(clock(), shop.time_zone),
                source=shop.tax_source,
            )
        )
