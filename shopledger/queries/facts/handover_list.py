"""What the list of others' property and money states: each thing in the shop's care, whose money, whether covered."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from sqlalchemy import func, select

from shopledger.model import (
    Account,
    Custody,
    Entry,
    Instrument,
    Person,
    Posting,
    SaleLine,
    Stay,
    field_of,
)
from shopledger.papers.handover_list import HandoverListFacts, HeldMoneyLine, PropertyLine
from shopledger.quantities.money import Money, total
from shopledger.quantities.showing import show_day, show_money
from shopledger.quantities.words import _
from shopledger.queries.facts.instruments import name_of
from shopledger.queries.facts.parties import head, lines_of
from shopledger.queries.facts.waiting import waiting_by_owner
from shopledger.queries.standing import (
    Party,
    Place,
    asking_price,
    last_agreement,
    owners_by_instrument,
    places_on,
)
from shopledger.store.unit import Reading

_HELD = ("owners_held", "owners_pending", "owners_owe", "deposits", "part_exchange", "buyers")
_BANK = ("bank", "bank_owners")
_GONE = ("handed_over", "lost")


def handover_list_facts(reading: Reading, as_of: date, number: str, issued_on: date) -> HandoverListFacts:
    """Give what the list states for a day: others' property with place and owner, others' money and its cover."""
    things = tuple(_things(reading, as_of))
    money = _money(reading, as_of)
    return HandoverListFacts(
        **head(reading, number, issued_on),
        as_of=as_of,
        property=things,
        value_total=total([one.value for one in things if one.value is not None], reading.currency),
        money=money,
        held_total=total([line.held for line in money], reading.currency),
        bank=_bank(reading, as_of),
        where_papers=(
            _("The ledger is kept as {name}; papers and photographs are kept with it.").format(
                name=reading.ledger.name
            ),
        ),
    )


def _things(reading: Reading, as_of: date) -> Iterable[PropertyLine]:
    """Give every thing in the shop's care on a day that isn't all its own, by number."""
    places = [place for place in places_on(reading, as_of) if place.place not in _GONE]
    owners = owners_by_instrument(reading, [place.instrument_id for place in places], as_of)
    people = _people(reading, owners, places)
    shop = reading.shop().person_id
    for place in places:
        parties = [party for party in owners.get(place.instrument_id, ()) if party.person_id != shop]
        if not parties:
            continue
        instrument = reading.session.get_one(Instrument, place.instrument_id)
        stay = reading.session.get_one(Stay, place.stay_id)
        yield PropertyLine(
            number=instrument.number,
            what=name_of(instrument),
            place=_place_words(place, people),
            since=place.since,
            why_here=_why_here(reading, stay, as_of),
            owner="; ".join(_owner_words(party) for party in parties),
            contact=tuple(line for party in parties for line in _contact(people[party.person_id])),
            value=_value(reading, stay),
        )


def _people(
    reading: Reading, owners: Mapping[int, tuple[Party, ...]], places: Iterable[Place]
) -> Mapping[int, Person]:
    keys = {party.person_id for parties in owners.values() for party in parties}
    keys |= {place.person_id for place in places if place.person_id is not None}
    rows = reading.session.scalars(select(Person).where(Person.id.in_(keys)))
    return {person.id: person for person in rows}


def _owner_words(party: Party) -> str:
    share = "" if party.share == 1 else f" ({party.share.numerator}/{party.share.denominator})"
    return f"{party.name}{share}"


def _contact(person: Person) -> tuple[str, ...]:
    return tuple(part for part in (*lines_of(person.address), person.phone, person.email) if part)


def _place_words(place: Place, people: Mapping[int, Person]) -> str:
    """Give where it is, with whom, and how to reach them."""
    words = _(field_of(Custody.place).choice_word(place.place))
    if place.person_id is not None and place.person_id in people:
        person = people[place.person_id]
        words = ", ".join(
            part
            for part in (_("{place}: {name}").format(place=words, name=person.name), person.phone)
            if part
        )
    return f"{words}; {place.words}" if place.words else words


def _why_here(reading: Reading, stay: Stay, as_of: date) -> str:
    """Give why it is here: waiting for its buyer where it is sold, else what it was left for."""
    sold = reading.session.scalar(
        select(SaleLine.id).where(SaleLine.stay_id == stay.id, SaleLine.returned_on.is_(None))
    )
    if sold is not None:
        return _("sold, waiting for the buyer; entry {number}").format(number=stay.number)
    reason = _(field_of(Stay.reason).choice_word(stay.reason))
    return _("{reason}; entry {number} of {since}").format(
        reason=reason, number=stay.number, since=_day(reading, min(stay.came_in_on, as_of))
    )


def _day(reading: Reading, day: date) -> str:
    return show_day(day, reading.ledger.manners)


def _value(reading: Reading, stay: Stay) -> Money | None:
    """Give what it is worth here: the agreed value, else the value to insure, else the asking price."""
    agreed = last_agreement(reading, stay.id)
    if agreed is not None and agreed.terms.agreed_value is not None:
        return reading.money(agreed.terms.agreed_value)
    if stay.insured_value is not None:
        return reading.money(stay.insured_value)
    return asking_price(reading, stay.id)


def _sums(reading: Reading, as_of: date) -> Mapping[int, Mapping[str, int]]:
    """Give the balances by person and account from what was booked up to a day."""
    rows = reading.session.execute(
        select(Posting.person_id, Account.code, func.sum(Posting.amount))
        .join(Account, Account.id == Posting.account_id)
        .join(Entry, Entry.id == Posting.entry_id)
        .where(Account.code.in_(_HELD), Posting.person_id.is_not(None), Entry.booked_on <= as_of)
        .group_by(Posting.person_id, Account.code)
    )
    found: dict[int, dict[str, int]] = {}
    for person_id, code, minor in rows:
        found.setdefault(person_id or 0, {})[code] = int(minor)
    return found


def _money(reading: Reading, as_of: date) -> tuple[HeldMoneyLine, ...]:
    """Give everybody whose money the shop holds or who owes it as an owner, by number; owner and buyer apart."""
    sums = _sums(reading, as_of)
    come_in = waiting_by_owner(reading, as_of)
    shop = reading.shop().person_id
    people = reading.session.scalars(
        select(Person).where(Person.id.in_(sums), Person.id != shop).order_by(Person.number)
    )
    lines: list[HeldMoneyLine] = []
    for person in people:
        of = sums[person.id]
        pending = -of.get("owners_pending", 0)
        waiting = min(pending, come_in.get(person.id, 0))
        owes = max(0, of.get("owners_owe", 0))
        # What an owner paid and no longer owes is theirs to have back at once.
        due = -of.get("owners_held", 0) + max(0, -of.get("owners_owe", 0))
        words = _owner_status(reading, pending - waiting)
        if due or waiting or owes or pending > 0:
            lines.append(_line(reading, person, due, waiting, owes, words))
        for code, about, is_due in (
            ("deposits", _("deposit, for a thing held"), True),
            ("part_exchange", _("allowance for part-exchange"), False),
            ("buyers", _("to be given back as buyer"), True),
        ):
            owed = max(0, -of.get(code, 0))
            if owed:
                lines.append(_line(reading, person, owed if is_due else 0, 0 if is_due else owed, 0, about))
    return tuple(lines)


def _owner_status(reading: Reading, still_to_come: int) -> str:
    """Give the words behind an owner's money: how much more is theirs once it is paid to the shop."""
    if still_to_come <= 0:
        return _("as owner")
    amount = show_money(reading.money(still_to_come), reading.ledger.manners)
    return _("as owner; {amount} more once it is paid to the shop").format(amount=amount)


def _line(reading: Reading, person: Person, due: int, waiting: int, owes: int, words: str) -> HeldMoneyLine:
    return HeldMoneyLine(
        number=person.number,
        name=person.name,
        contact=_contact(person),
        due=reading.money(due),
        waiting=reading.money(waiting),
        owes=reading.money(owes),
        held=reading.money(due + waiting - owes),
        words=words,
    )


def _bank(reading: Reading, as_of: date) -> Money:
    """Give what lies on the shop's accounts, its own money and that of owners together."""
    minor = reading.session.scalar(
        select(func.sum(Posting.amount))
        .join(Account, Account.id == Posting.account_id)
        .join(Entry, Entry.id == Posting.entry_id)
        .where(Account.code.in_(_BANK), Entry.booked_on <= as_of)
    )
    return reading.money(int(minor or 0))
