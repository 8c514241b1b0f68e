"""How things stand now: the agreement in force, the asking price, owners, stay, place, hold and live sale of a thing.

Acts and sheets ask here, so that each answer is given in one place. The newest row is the one with the highest key,
never the one with the latest day. What money stands where is answered by `queries.owing`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import TYPE_CHECKING

from sqlalchemy import ColumnElement, Select, bindparam, func, select

from shopledger.model import (
    Agreement,
    Custody,
    Hold,
    Instrument,
    Ownership,
    OwnershipShare,
    Person,
    PriceChange,
    Sale,
    SaleLine,
    Signature,
    Stay,
    Terms,
    TermsOwner,
)
from shopledger.quantities.errors import NotFound
from shopledger.quantities.words import N_

if TYPE_CHECKING:
    from shopledger.quantities.money import Money
    from shopledger.store.unit import Reading


@dataclass(frozen=True, slots=True)
class Party:
    """One owner with their share."""

    person_id: int
    number: str
    name: str
    share: Fraction


@dataclass(frozen=True, slots=True)
class AgreementNow:
    """An agreement with its newest terms, the owners who are party to them, and whether they are signed.

    `terms` is the record itself, whose rows are never changed.
    """

    agreement_id: int
    number: str
    stay_id: int
    begins_on: date
    ended_on: date | None
    ended_how: str | None
    terms: Terms
    owners: tuple[Party, ...]
    signed_on: date | None

    @property
    def in_force(self) -> bool:
        """Whether nobody ended it; it may have run out all the same (`terms.ends_on`)."""
        return self.ended_on is None

    def ran_out(self, on: date) -> bool:
        """Whether its last day is over on a day."""
        return self.terms.ends_on < on


@dataclass(frozen=True, slots=True)
class StayNow:
    """A stay with the place where the instrument is now."""

    id: int
    number: str
    instrument_id: int
    reason: str
    came_in_on: date
    ended_on: date | None
    ending: str | None
    place: str
    since: date
    with_id: int | None
    with_name: str


@dataclass(frozen=True, slots=True)
class HoldNow:
    """A hold in force: for whom and until when."""

    id: int
    stay_id: int
    person_id: int
    name: str
    since: date
    until: date


@dataclass(frozen=True, slots=True)
class LiveLine:
    """The one sale line of a stay that was not returned."""

    id: int
    sale_id: int
    number: str
    n: int
    kind: str
    sold_on: date
    buyer_id: int
    buyer: str
    price: Money
    buyer_pays: Money


@dataclass(frozen=True, slots=True)
class Place:
    """Where one instrument is, or was on a day."""

    instrument_id: int
    stay_id: int
    place: str
    since: date
    person_id: int | None
    words: str


# Put together once: acts ask these, some of them more than once.
_PARTIES = (
    select(Person, TermsOwner.share)
    .join(Person, Person.id == TermsOwner.person_id)
    .where(TermsOwner.terms_id == bindparam("terms"))
    .order_by(TermsOwner.n)
)
_HOLD_IN_FORCE = (
    select(Hold.id, Hold.stay_id, Hold.person_id, Person.name, Hold.since, Hold.until)
    .join(Person, Person.id == Hold.person_id)
    .where(Hold.stay_id == bindparam("stay"), Hold.ended_on.is_(None))
)
_LAST_PRICE = (
    select(PriceChange.asking)
    .where(PriceChange.stay_id == bindparam("stay"))
    .order_by(PriceChange.id.desc())
    .limit(1)
)


def _owners(*of_ownership: ColumnElement[bool]) -> Select[int, int, str, str, Fraction]:
    newest = (
        select(func.max(Ownership.id))
        .where(Ownership.instrument_id.in_(bindparam("instruments", expanding=True)), *of_ownership)
        .group_by(Ownership.instrument_id)
    )
    return (
        select(Ownership.instrument_id, Person.id, Person.number, Person.name, OwnershipShare.share)
        .join(OwnershipShare, OwnershipShare.ownership_id == Ownership.id)
        .join(Person, Person.id == OwnershipShare.person_id)
        .where(Ownership.id.in_(newest.scalar_subquery()))
        .order_by(Ownership.instrument_id, OwnershipShare.n)
    )


_OWNERS_NOW, _OWNERS_ON = _owners(), _owners(Ownership.since <= bindparam("on"))


def owners_of(reading: Reading, instrument_id: int, on: date | None = None) -> tuple[Party, ...]:
    """Give who owns an instrument, now or on a day, in the order they were named; nobody where it isn't known."""
    return owners_by_instrument(reading, [instrument_id], on).get(instrument_id, ())


def owners_by_instrument(
    reading: Reading, instrument_ids: Iterable[int], on: date | None = None
) -> Mapping[int, tuple[Party, ...]]:
    """Give the owners of several instruments, now or on a day."""
    values: dict[str, object] = {"instruments": list(instrument_ids)}
    rows = reading.rows(*(_OWNERS_NOW, values) if on is None else (_OWNERS_ON, {**values, "on": on}))
    found: dict[int, list[Party]] = {}
    for about, person_id, number, name, share in rows:
        found.setdefault(about, []).append(Party(person_id, number, name, share))
    return {about: tuple(parties) for about, parties in found.items()}


def parties_of(reading: Reading, terms_id: int) -> tuple[Party, ...]:
    """Give the owners who are party to terms, in the order they were named."""
    # The whole record, since an act that asks for the parties books to them and names them on its papers.
    return tuple(
        Party(person.id, person.number, person.name, share)
        for person, share in reading.session.execute(_PARTIES, {"terms": terms_id})
    )


def agreement_now(reading: Reading, agreement_id: int) -> AgreementNow:
    """Give an agreement with its newest terms.

    Raises: NotFound: there is no such agreement.
    """
    found = reading.session.execute(
        select(Agreement, Terms, Signature.signed_on)
        .join(Terms, Terms.agreement_id == Agreement.id)
        .outerjoin(Signature, Signature.terms_id == Terms.id)
        .where(Agreement.id == agreement_id)
        .order_by(Terms.n.desc())
        .limit(1)
    ).first()
    if found is None:
        raise NotFound(N_("There is no agreement with the key {id} in this ledger."), id=agreement_id)
    agreement, terms, signed_on = found
    return AgreementNow(
        agreement_id=agreement.id,
        number=agreement.number,
        stay_id=agreement.stay_id,
        begins_on=agreement.begins_on,
        ended_on=agreement.ended_on,
        ended_how=agreement.ended_how,
        terms=terms,
        owners=parties_of(reading, terms.id),
        signed_on=signed_on,
    )


def last_agreement(reading: Reading, stay_id: int) -> AgreementNow | None:
    """Give the newest agreement of a stay, in force or ended; None where none was made."""
    found = reading.session.scalar(select(func.max(Agreement.id)).where(Agreement.stay_id == stay_id))
    return None if found is None else agreement_now(reading, int(found))


def agreement_in_force(reading: Reading, stay_id: int) -> AgreementNow | None:
    """Give the agreement of a stay that nobody has ended; None where there is none."""
    found = last_agreement(reading, stay_id)
    return found if found is not None and found.in_force else None


def asking_price(reading: Reading, stay_id: int) -> Money | None:
    """Give the asking price of a stay: its newest price, else that of its newest terms; None where none was set."""
    asking = reading.rows(_LAST_PRICE, {"stay": stay_id}).scalar()
    if asking is None:
        agreed = last_agreement(reading, stay_id)
        asking = None if agreed is None else agreed.terms.asking
    return None if asking is None else reading.money(asking)


def _stay(reading: Reading, *which: ColumnElement[bool]) -> StayNow | None:
    found = reading.session.execute(
        select(
            Stay.id,
            Stay.number,
            Stay.instrument_id,
            Stay.reason,
            Stay.came_in_on,
            Stay.ended_on,
            Stay.ending,
            Custody.place,
            Custody.since,
            Custody.person_id,
            Person.name,
        )
        .outerjoin(Custody, Custody.stay_id == Stay.id)
        .outerjoin(Person, Person.id == Custody.person_id)
        .where(*which)
        .order_by(Stay.id.desc(), Custody.id.desc())
        .limit(1)
    ).first()
    if found is None:
        return None
    place = found.place or "here"
    since = found.since or found.came_in_on
    return StayNow(*found[:7], place, since, found.person_id, found.name or "")


def open_stay(reading: Reading, instrument_id: int) -> StayNow | None:
    """Give the stay an instrument is in now; None where it isn't with the shop."""
    return _stay(reading, Stay.instrument_id == instrument_id, Stay.ended_on.is_(None))


def last_stay(reading: Reading, instrument_id: int) -> StayNow | None:
    """Give the newest stay of an instrument, open or ended; None where it was never taken in."""
    return _stay(reading, Stay.instrument_id == instrument_id)


def hold_in_force(reading: Reading, stay_id: int) -> HoldNow | None:
    """Give the hold on a stay that nobody has ended, also one whose day is over; None where there is none."""
    found = reading.once(("hold", stay_id), lambda: reading.rows(_HOLD_IN_FORCE, {"stay": stay_id}).first())
    return None if found is None else HoldNow(*found)


def live_line(reading: Reading, stay_id: int) -> LiveLine | None:
    """Give the sale line of a stay that was not returned; None where it isn't sold."""
    found = reading.session.execute(
        select(
            SaleLine.id,
            SaleLine.sale_id,
            Sale.number,
            SaleLine.n,
            SaleLine.kind,
            Sale.sold_on,
            Sale.buyer_id,
            Person.name,
            SaleLine.price,
            SaleLine.buyer_pays,
        )
        .join(Sale, Sale.id == SaleLine.sale_id)
        .join(Person, Person.id == Sale.buyer_id)
        .where(SaleLine.stay_id == stay_id, SaleLine.returned_on.is_(None))
    ).first()
    if found is None:
        return None
    return LiveLine(*found[:8], reading.money(found.price), reading.money(found.buyer_pays))


def places_on(reading: Reading, day: date, instrument_ids: Sequence[int] | None = None) -> tuple[Place, ...]:
    """Give where every instrument was on a day, by number; those that had not come in yet are left out.

    Shape:  of several stays the newest that had begun counts; what was handed over stays in the answer as such.
    """
    stays = select(func.max(Stay.id)).where(Stay.came_in_on <= day).group_by(Stay.instrument_id)
    if instrument_ids is not None:
        stays = stays.where(Stay.instrument_id.in_(instrument_ids))
    rows = (
        select(func.max(Custody.id))
        .where(Custody.since <= day, Custody.stay_id.in_(stays.scalar_subquery()))
        .group_by(Custody.stay_id)
    )
    found = reading.session.execute(
        select(Stay.instrument_id, Stay.id, Custody.place, Custody.since, Custody.person_id, Custody.words)
        .join(Custody, Custody.stay_id == Stay.id)
        .join(Instrument, Instrument.id == Stay.instrument_id)
        .where(Custody.id.in_(rows.scalar_subquery()))
        .order_by(Instrument.id)
    )
    return tuple(Place(*row) for row in found)
