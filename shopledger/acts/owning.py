"""Ownership: whose an instrument is, by shares, from a day on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from shopledger.acts.people import person_of
from shopledger.model import Ownership, OwnershipShare
from shopledger.quantities.errors import Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.words import N_
from shopledger.queries.standing import owners_of
from shopledger.store.unit import Reading, Writing


@dataclass(frozen=True, kw_only=True)
class OwnerRow:
    """One owner and their share; a single owner's share is the whole."""

    person_id: int = ask(Field(N_("Owner"), Kind.PERSON, required=True))
    share: Fraction | None = ask(
        Field(N_("Share"), Kind.RATE, help=N_("Such as 1/3; empty for a single owner."))
    )


@dataclass(frozen=True, slots=True)
class Share:
    """An owner's exact share of an instrument."""

    person_id: int
    share: Fraction


WHOLE = Fraction(1)
"""The share of a single owner."""


def shares_of(rows: Sequence[OwnerRow], *, path: str = "owners") -> tuple[Share, ...]:
    """Give owners' shares from a form's rows; a single owner owns the whole, several empty shares are equal.

    Raises: Typed: nobody is named, one is named twice, or the shares don't sum to one.
    """
    if not rows:
        raise Typed(N_("Nobody owns it so far: name its owner."), field=path)
    people = [row.person_id for row in rows]
    if len(set(people)) != len(people):
        raise Typed(N_("One owner is named twice: put the two shares together."), field=path)
    if all(row.share is None for row in rows):
        return tuple(Share(row.person_id, Fraction(1, len(rows))) for row in rows)
    missing = [n for n, row in enumerate(rows) if row.share is None]
    if missing:
        raise Typed(N_("This owner's share is missing."), field=f"{path}[{missing[0]}].share")
    shares = tuple(Share(row.person_id, row.share or Fraction(0)) for row in rows)
    together = sum((share.share for share in shares), Fraction(0))
    if together != 1 or any(share.share <= 0 for share in shares):
        raise Typed(
            N_("The owners' shares come to {together}: they have to come to exactly 1."),
            field=path,
            together=together,
        )
    return shares


def record_owners(writing: Writing, instrument_id: int, shares: Sequence[Share], how: str) -> None:
    """Record who owns an instrument from the act's day on; earlier owners stay on record."""
    for n, share in enumerate(shares):
        person_of(writing, share.person_id, f"owners[{n}].person_id")
    ownership = put_ownership(writing, instrument_id, how)
    writing.session.flush()
    put_shares(writing, ownership, shares)


def put_ownership(writing: Writing, instrument_id: int, how: str) -> Ownership:
    """Begin an ownership on the act's day; it has its key once something that follows is written."""
    ownership = Ownership(instrument_id=instrument_id, since=writing.on, how=how)
    writing.put(ownership)
    return ownership


def put_shares(writing: Writing, ownership: Ownership, shares: Sequence[Share]) -> None:
    """Say who owns by what share what has its key by now."""
    for n, share in enumerate(shares, 1):
        writing.put(
            OwnershipShare(ownership_id=ownership.id, person_id=share.person_id, share=share.share, n=n)
        )


def owners_now(reading: Reading, instrument_id: int) -> tuple[Share, ...]:
    """Give who owns an instrument now, in the order they were named."""
    return tuple(Share(party.person_id, party.share) for party in owners_of(reading, instrument_id))


def shop_person(reading: Reading) -> int:
    """Give the shop's own record among the people."""
    return reading.shop().person_id
