"""Who stands on a paper: the shop at its head, owners, buyers and others; and where the journal stood."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from fractions import Fraction
from typing import TypedDict

from sqlalchemy import bindparam, select

from shopledger.model import LineOwner, Person
from shopledger.papers.parts import OwnerFacts, PartyFacts, ShopFacts
from shopledger.quantities.errors import NotFound
from shopledger.quantities.words import N_
from shopledger.queries.standing import Party, owners_of, parties_of
from shopledger.store.unit import Reading

_OWNERS_OF_LINE = (
    select(LineOwner.person_id, LineOwner.share)
    .where(LineOwner.sale_line_id == bindparam("line"))
    .order_by(LineOwner.n)
)


class Head(TypedDict):
    """What every paper has, by the names of its facts."""

    number: str
    issued_on: date
    shop: ShopFacts
    anchor_entry: int | None
    anchor_hash: str


def head(reading: Reading, number: str, issued_on: date) -> Head:
    """Give what every paper has: its number and day, the shop, and the last entry of the journal as its anchor."""
    entry, hash_ = anchor(reading)
    return Head(
        number=number, issued_on=issued_on, shop=shop_facts(reading), anchor_entry=entry, anchor_hash=hash_
    )


def anchor(reading: Reading) -> tuple[int | None, str]:
    """Give number and hash of the journal's last entry; None and nothing while the journal is empty."""
    entry, sealed = reading.last_seal()
    return (entry, sealed) if entry else (None, "")


def shop_facts(reading: Reading) -> ShopFacts:
    """Give the shop as its letterhead shows it, with the manners its papers are written in."""
    shop = reading.shop()
    return ShopFacts(
        name=shop.name,
        address=lines_of(shop.address),
        phone=shop.phone,
        email=shop.email,
        paper=shop.paper_size,
        manners=reading.ledger.manners,
    )


def party_facts(reading: Reading, person_id: int, acting_as: str = "") -> PartyFacts:
    """Give a person or firm as papers name them.

    Raises: NotFound: there is no such person.
    """
    person = reading.find(Person, person_id)
    if person is None:
        raise NotFound(N_("There is no person {id} in this ledger."), id=str(person_id))
    return PartyFacts(
        name=person.name,
        number=person.number,
        address=lines_of(person.address),
        phone=person.phone,
        email=person.email,
        acting_as=acting_as,
    )


def owner_facts(reading: Reading, owners: Iterable[tuple[int, Fraction]]) -> tuple[OwnerFacts, ...]:
    """Give owners with their shares, in the order named."""
    return tuple(OwnerFacts(party=party_facts(reading, person), share=share) for person, share in owners)


def owners_of_line(reading: Reading, sale_line_id: int) -> tuple[OwnerFacts, ...]:
    """Give whose a consigned line was when it was sold, with their shares, in the order named."""
    rows = reading.once(
        ("owners of line", sale_line_id),
        lambda: reading.session.execute(_OWNERS_OF_LINE, {"line": sale_line_id}).all(),
    )
    return owner_facts(reading, ((int(person), share) for person, share in rows))


def owners_on(reading: Reading, instrument_id: int, on: date) -> tuple[OwnerFacts, ...]:
    """Give who owned an instrument on a day, with their shares; nobody where the ledger doesn't know."""
    return of_parties(reading, owners_of(reading, instrument_id, on))


def owners_by_terms(reading: Reading, terms_id: int) -> tuple[OwnerFacts, ...]:
    """Give who is party to terms, with their shares."""
    return of_parties(reading, parties_of(reading, terms_id))


def of_parties(reading: Reading, parties: Iterable[Party]) -> tuple[OwnerFacts, ...]:
    """Give owners as papers name them, from how they stand in the ledger."""
    return owner_facts(reading, ((party.person_id, party.share) for party in parties))


def lines_of(text: str) -> tuple[str, ...]:
    """Give the lines of a text, without empty ones."""
    return tuple(line.strip() for line in text.splitlines() if line.strip())
