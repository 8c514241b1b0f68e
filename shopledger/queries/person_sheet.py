"""The page about a person: what they own here, what they bought, what is owed and since when, charges, papers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING

from sqlalchemy import func, select

from shopledger.model import (
    Account,
    Charge,
    Entry,
    FeePayment,
    Hold,
    Job,
    Ownership,
    OwnershipShare,
    Payment,
    Payout,
    Person,
    Posting,
    Sale,
    SaleLine,
    Stay,
    Trial,
)
from shopledger.quantities.showing import show_amount, show_day
from shopledger.quantities.words import N_, _
from shopledger.queries.away_lines import placings_of_dealer
from shopledger.queries.declared import facts_of, instrument_words, row_of
from shopledger.queries.due import unpaid_shares
from shopledger.queries.job_lines import jobs_of_client
from shopledger.queries.owing import balances_by_person, charge_stands
from shopledger.queries.papers import numbered, papers_of
from shopledger.queries.shapes import State, Subject
from shopledger.queries.sheet_shapes import Fact, Group, History, Line, Mark, MarkKind, Sheet
from shopledger.queries.states import OWED, OWES
from shopledger.queries.trial_lines import trials_of_player
from shopledger.queries.wish_sheet import wishes_of_player
from shopledger.rules.journal import ACCOUNTS, CHART, Side

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

BY_PERSON = tuple(rule.code for rule in CHART if rule.by_person)
THE_OTHER_WAY = {
    "buyers": N_("to give back to them"),
    "owners_pending": N_("they owe it, not yet charged"),
    "owners_held": N_("more was paid than was set aside"),
}
"""What a balance means that stands on the other side than usual."""


def sheet(reading: Reading, id: int) -> Sheet:
    """Give the page about a person.

    Raises: NotFound: there is no such person.
    """
    row = row_of(reading, Person, id)
    return Sheet(
        subject=Subject.PERSON,
        id=id,
        title=row.name,
        line=" · ".join(part for part in (row.number, row.plays, row.phone, row.email) if part),
        standing=_standing(reading, id),
        state=_state(reading, id),
        groups=(
            Group(N_("Who they are"), facts_of(reading, Person, row, without=("number", "name"))),
            Group(N_("Owns here"), owned_here(reading, id)),
            Group(N_("Bought"), _bought(reading, id)),
            Group(N_("On trial with them"), trials_of_player(reading, id)),
            Group(N_("With them to be sold"), placings_of_dealer(reading, id)),
            Group(N_("Looks for"), wishes_of_player(reading, id)),
            Group(N_("Jobs"), jobs_of_client(reading, id)),
            Group(N_("On hold for them"), _holds(reading, id)),
            Group(N_("Charges"), _charges(reading, id)),
        ),
        money=_money(reading, id),
        money_title=N_("What is owed"),
        papers=papers_of(reading, person_id=id),
        history=_history(reading, id),
    )


def owned_here(reading: Reading, person_id: int) -> tuple[Fact, ...]:
    """Give the instruments with the shop of which a person is an owner now, with the entry and how long."""
    newest = (
        select(func.max(Ownership.id))
        .join(Stay, Stay.instrument_id == Ownership.instrument_id)
        .where(Stay.ended_on.is_(None))
        .group_by(Ownership.instrument_id)
    )
    rows = reading.session.execute(
        select(Ownership.instrument_id, Stay.number, Stay.came_in_on)
        .join(OwnershipShare, OwnershipShare.ownership_id == Ownership.id)
        .join(Stay, (Stay.instrument_id == Ownership.instrument_id) & Stay.ended_on.is_(None))
        .where(Ownership.id.in_(newest.scalar_subquery()), OwnershipShare.person_id == person_id)
        .order_by(Ownership.instrument_id)
    ).all()
    words = instrument_words(reading, [row.instrument_id for row in rows])
    manners = reading.ledger.manners
    return tuple(
        Fact(
            N_("Instrument"),
            words[row.instrument_id],
            _("{entry}, here since {day}").format(entry=row.number, day=show_day(row.came_in_on, manners)),
        )
        for row in rows
    )


def _bought(reading: Reading, person_id: int) -> tuple[Fact, ...]:
    manners = reading.ledger.manners
    rows = reading.session.execute(
        select(Sale.number, Sale.sold_on, SaleLine.what, SaleLine.price, SaleLine.returned_on)
        .join(SaleLine, SaleLine.sale_id == Sale.id)
        .where(Sale.buyer_id == person_id)
        .order_by(Sale.id.desc(), SaleLine.n)
    )
    facts = []
    for number, sold_on, what, price, returned_on in rows:
        quiet = [show_day(sold_on, manners), show_amount(reading.money(price), manners)]
        if returned_on is not None:
            quiet.append(_("returned {day}").format(day=show_day(returned_on, manners)))
        facts.append(Fact(number, what, ", ".join(quiet)))
    return tuple(facts)


def _holds(reading: Reading, person_id: int) -> tuple[Fact, ...]:
    rows = reading.session.execute(
        select(Stay.instrument_id, Hold.until)
        .join(Stay, Stay.id == Hold.stay_id)
        .where(Hold.person_id == person_id, Hold.ended_on.is_(None))
        .order_by(Hold.id)
    ).all()
    words = instrument_words(reading, [row.instrument_id for row in rows])
    manners = reading.ledger.manners
    return tuple(
        Fact(N_("Instrument"), words[key], _("until {day}").format(day=show_day(until, manners)))
        for key, until in rows
    )


def _charges(reading: Reading, person_id: int) -> tuple[Fact, ...]:
    manners = reading.ledger.manners
    rows = reading.session.execute(
        select(Charge.number, Charge.minor, Charge.what, Charge.charged_on)
        .where(Charge.person_id == person_id, charge_stands())
        .order_by(Charge.id.desc())
    )
    return tuple(
        Fact(number, reading.money(minor), f"{what}, {show_day(on, manners)}")
        for number, minor, what, on in rows
    )


def since_by_person(reading: Reading, person_ids: Sequence[int]) -> Mapping[int, Mapping[str, date]]:
    """Give by person and account since when something stands there: the day after which it was never nought.

    Shape:  accounts whose balance is nought are left out.
    """
    rows = reading.session.execute(
        select(Posting.person_id, Account.code, Entry.booked_on, func.sum(Posting.amount))
        .join(Account, Account.id == Posting.account_id)
        .join(Entry, Entry.id == Posting.entry_id)
        .where(Posting.person_id.in_(person_ids))
        .group_by(Posting.person_id, Account.code, Entry.id, Entry.booked_on)
        .order_by(Entry.id)
    )
    balance: dict[tuple[int, str], int] = {}
    since: dict[tuple[int, str], date] = {}
    for person_id, code, booked_on, amount in rows:
        if person_id is None:
            continue
        if not balance.get((person_id, code)):
            since[person_id, code] = booked_on
        balance[person_id, code] = balance.get((person_id, code), 0) + int(amount)
    found: dict[int, dict[str, date]] = {}
    for (person_id, code), day in since.items():
        if balance[person_id, code]:
            found.setdefault(person_id, {})[code] = day
    return found


def _money(reading: Reading, person_id: int) -> tuple[Line, ...]:
    """Give every balance of a person that isn't nought, with since when, and the two totals."""
    sums = balances_by_person(reading, BY_PERSON, [person_id]).get(person_id, {})
    since = since_by_person(reading, [person_id]).get(person_id, {})
    manners = reading.ledger.manners
    lines: list[Line] = []
    for rule in CHART:
        minor = sums.get(rule.code, 0)
        if not minor:
            continue
        usual = minor < 0 if rule.side is Side.DEBT else minor > 0
        how = _("since {day}").format(day=show_day(since[rule.code], manners)) if rule.code in since else ""
        words = _(ACCOUNTS[rule.code].words)
        amount = reading.money(-minor if rule.side is Side.DEBT else minor)
        note = "" if usual else _(THE_OTHER_WAY.get(rule.code, N_("on the other side than usual")))
        lines.append(Line(words[:1].upper() + words[1:], how, amount, note=note))
        if rule.code == "owners_held":
            lines.extend(_set_aside(reading, person_id))
    owed = sum(-minor for minor in sums.values() if minor < 0)
    owes = sum(minor for minor in sums.values() if minor > 0)
    if owed:
        lines.append(Line(_("Owed to them"), amount=reading.money(owed), strong=True))
    if owes:
        lines.append(Line(_("They owe"), amount=reading.money(owes), strong=True))
    return tuple(lines)


def _set_aside(reading: Reading, person_id: int) -> tuple[Line, ...]:
    """Give what is set aside by settlement, the oldest first, as payouts pay it."""
    manners = reading.ledger.manners
    return tuple(
        Line(
            _("of it by {number}").format(number=one.number),
            _("since {day}").format(day=show_day(one.settled_on, manners)),
            one.left,
        )
        for one in unpaid_shares(reading, person_id)
    )


def _standing(reading: Reading, person_id: int) -> str:
    """Give in one sentence what is owed either way."""
    sums = balances_by_person(reading, BY_PERSON, [person_id]).get(person_id, {})
    owed = sum(-minor for minor in sums.values() if minor < 0)
    owes = sum(minor for minor in sums.values() if minor > 0)
    manners = reading.ledger.manners
    days = since_by_person(reading, [person_id]).get(person_id, {})
    day = show_day(min(days.values()), manners) if days else ""
    if owed and owes:
        return _("They are owed {owed} and owe {owes}, the oldest since {day}.").format(
            owed=show_amount(reading.money(owed), manners),
            owes=show_amount(reading.money(owes), manners),
            day=day,
        )
    if owed:
        return _("They are owed {owed}, the oldest since {day}.").format(
            owed=show_amount(reading.money(owed), manners), day=day
        )
    if owes:
        return _("They owe {owes}, the oldest since {day}.").format(
            owes=show_amount(reading.money(owes), manners), day=day
        )
    return _("Nothing is owed either way.")


def _state(reading: Reading, person_id: int) -> State | None:
    """Give the chip of a person: what is set aside waits to be paid, or they owe the shop."""
    if unpaid_shares(reading, person_id):
        return OWED
    sums = balances_by_person(reading, BY_PERSON, [person_id]).get(person_id, {})
    return OWES if any(minor > 0 for minor in sums.values()) else None


def _history(reading: Reading, person_id: int) -> History:
    """Give the marks of a person's dealings: what they brought, bought, paid, were charged and were paid."""
    manners = reading.ledger.manners
    session = reading.session
    events: list[tuple[date, MarkKind, str, str, tuple[Subject, int] | None]] = []

    def amount(minor: int) -> str:
        return show_amount(reading.money(minor), manners)

    owned = session.execute(
        select(Ownership.since, Ownership.instrument_id)
        .join(OwnershipShare, OwnershipShare.ownership_id == Ownership.id)
        .where(OwnershipShare.person_id == person_id)
    ).all()
    words = instrument_words(reading, [row.instrument_id for row in owned])
    for since, key in owned:
        told = _("Owns {instrument}").format(instrument=words[key])
        events.append((since, MarkKind.ARRIVAL, told, "", (Subject.INSTRUMENT, key)))
    for sale_id, number, on in session.execute(
        select(Sale.id, Sale.number, Sale.sold_on).where(Sale.buyer_id == person_id)
    ):
        events.append(
            (on, MarkKind.SALE, _("Bought, {sale}").format(sale=number), number, (Subject.SALE, sale_id))
        )
    for job_id, number, on, ended_on in session.execute(
        select(Job.id, Job.number, Job.opened_on, Job.ended_on).where(Job.client_id == person_id)
    ):
        about = (Subject.JOB, job_id)
        told = _("Left for work, {number}").format(number=number)
        events.append((on, MarkKind.OTHER, told, number, about))
        if ended_on is not None:
            told = _("Work ended, {number}").format(number=number)
            events.append((ended_on, MarkKind.HANDOVER, told, "", about))
    for trial_id, number, on, ended_on in session.execute(
        select(Trial.id, Trial.number, Trial.began_on, Trial.ended_on).where(Trial.person_id == person_id)
    ):
        about = (Subject.TRIAL, trial_id)
        told = _("Took on trial, {number}").format(number=number)
        events.append((on, MarkKind.HANDOVER, told, number, about))
        if ended_on is not None:
            events.append(
                (ended_on, MarkKind.OTHER, _("Trial over, {number}").format(number=number), "", about)
            )
    for number, minor, on in session.execute(
        select(Payment.number, Payment.minor, Payment.received_on).where(Payment.person_id == person_id)
    ):
        events.append(
            (
                on,
                MarkKind.MONEY,
                _("{amount} received ({number})").format(amount=amount(minor), number=number),
                number,
                None,
            )
        )
    charges = (
        select(Charge.number, Charge.minor, Charge.charged_on, Charge.what, Entry.booked_on)
        .outerjoin(Entry, Entry.reverses == Charge.entry_id)
        .where(Charge.person_id == person_id)
    )
    for number, minor, on, what, back_on in session.execute(charges):
        told = _("{amount} charged: {what}").format(amount=amount(minor), what=what)
        events.append((on, MarkKind.MONEY, told, number, None))
        if back_on is not None:
            told = _("{amount} taken back: {what}").format(amount=amount(minor), what=what)
            events.append((back_on, MarkKind.MONEY, told, f"{number}/2", None))
    for key, number, on in session.execute(
        select(Stay.instrument_id, Stay.number, Stay.came_in_on).where(Stay.brought_by_id == person_id)
    ):
        told = _("Brought in, {entry}").format(entry=number)
        events.append((on, MarkKind.ARRIVAL, told, number, (Subject.INSTRUMENT, key)))
    for paid in (Payout, FeePayment):
        rows = session.execute(
            select(paid.number, paid.minor, paid.paid_on).where(paid.person_id == person_id)
        )
        for number, minor, on in rows:
            told = _("{amount} paid to them ({number})").format(amount=amount(minor), number=number)
            events.append((on, MarkKind.MONEY, told, number, None))
    return History((), _marks(reading, events))


def _marks(
    reading: Reading, events: Sequence[tuple[date, MarkKind, str, str, tuple[Subject, int] | None]]
) -> tuple[Mark, ...]:
    papers = numbered(reading, [event[3] for event in events if event[3]])
    marks = [
        Mark(on, kind, words, papers.get(number), subject) for on, kind, words, number, subject in events
    ]
    return tuple(sorted(marks, key=lambda mark: mark.on))
