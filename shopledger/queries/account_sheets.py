"""The pages about an entry of the journal and about an account, to read."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sqlalchemy import func, select

from shopledger.model import Account, Deed, Entry, Person, Posting, Seal
from shopledger.quantities.errors import NotFound
from shopledger.quantities.money import Money
from shopledger.quantities.showing import show_amount, show_day
from shopledger.quantities.words import N_, _
from shopledger.queries.owing import balance
from shopledger.queries.papers import papers_of
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Fact, Group, Line, Sheet
from shopledger.rules.journal import ACCOUNTS, Side

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

MOST_POSTINGS = 10_000
"""More than an entry will ever have; makes one number of an entry and the place of a posting in it."""
SIDES = {
    Side.ASSET: N_("what there is or is owed to the shop: debits add to it"),
    Side.DEBT: N_("what the shop owes: credits add to it"),
    Side.INCOME: N_("what the shop earned: credits add to it"),
    Side.EXPENSE: N_("what the shop spent: debits add to it"),
    Side.OWN: N_("what is the shop owner's own: credits add to it"),
}
NEWEST = 30
"""How many postings the page about an account shows."""


def row_of_posting(entry_id: int, n: int) -> int:
    """Give the id of a posting's row in the journal: below nought, so that it is never taken for an entry's."""
    return -(entry_id * MOST_POSTINGS + n)


def entry_of_row(row_id: int) -> tuple[int, int]:
    """Give the entry and the place in it that a row of the journal stands for; an entry's own number has place 0."""
    return (row_id, 0) if row_id >= 0 else divmod(-row_id, MOST_POSTINGS)


def entry_sheet(reading: Reading, id: int) -> Sheet:
    """Give the page about an entry, by its number or by the id of one of its rows in the journal.

    Raises: NotFound: there is no such entry.
    """
    entry_id, _n = entry_of_row(id)
    row = reading.session.execute(
        select(
            Entry.id,
            Entry.op_id,
            Entry.booked_on,
            Entry.recorded_at,
            Entry.act,
            Entry.source,
            Entry.reverses,
            Seal.hash,
        )
        .join(Seal, Seal.entry_id == Entry.id)
        .where(Entry.id == entry_id)
    ).first()
    if row is None:
        raise NotFound(N_("There is no entry {id} in this journal."), id=entry_id)
    reversed_by = reading.session.scalar(select(Entry.id).where(Entry.reverses == entry_id))
    before = reading.session.scalar(select(Seal.hash).where(Seal.entry_id == entry_id - 1))
    # An act that books several entries gives each further one its own id behind a stroke.
    op_id = row.op_id.split("/")[0]
    by = reading.session.scalar(select(Deed.by).where(Deed.op_id == op_id))
    facts = [
        Fact(N_("Booked on"), row.booked_on),
        Fact(N_("Recorded at"), _("{day}, {time} UTC").format(
            day=show_day(row.recorded_at.date(), reading.ledger.manners), time=row.recorded_at.strftime("%H:%M:%S"))),
        Fact(N_("Act"), row.act.replace("_", " ")),
        Fact(N_("Done by"), by),
        Fact(N_("Source"), row.source),
        Fact(N_("Reverses entry"), row.reverses),
        Fact(N_("Reversed by entry"), reversed_by),
    ]  # fmt: skip
    seal = [Fact(N_("Seal"), row.hash), Fact(N_("Seal before"), before)]
    return Sheet(
        subject=Subject.ENTRY,
        id=entry_id,
        title=_("Entry {n}").format(n=entry_id),
        line=row.source,
        standing=_entry_standing(row.reverses, reversed_by),
        groups=(Group(N_("The entry"), tuple(facts)), Group(N_("Its seal"), tuple(seal))),
        money=_postings(reading, entry_id),
        money_title=N_("Debits, and credits with a minus"),
        papers=papers_of(reading, op_id=op_id),
    )


def _entry_standing(reverses: int | None, reversed_by: int | None) -> str:
    if reversed_by is not None:
        return _("Sealed. It was reversed to the cent by entry {n}.").format(n=reversed_by)
    if reverses is not None:
        return _("Sealed. It reverses entry {n} to the cent.").format(n=reverses)
    return _("Sealed: it can be reversed, and never changed.")


def _postings(reading: Reading, entry_id: int) -> tuple[Line, ...]:
    rows = reading.session.execute(
        select(Account.code, Person.name, Posting.amount, Posting.currency)
        .join(Account, Account.id == Posting.account_id)
        .outerjoin(Person, Person.id == Posting.person_id)
        .where(Posting.entry_id == entry_id)
        .order_by(Posting.n)
    ).all()
    lines = [
        Line(_(ACCOUNTS[code].words), name or "", Money(amount, currency))
        for code, name, amount, currency in rows
    ]
    total = reading.money(sum(row.amount for row in rows))
    return (*lines, Line(_("Debits less credits"), amount=total, strong=True))


def account_sheet(reading: Reading, id: int) -> Sheet:
    """Give the page about an account: its balance, the people it is kept by, its newest postings.

    Raises: NotFound: there is no such account.
    """
    code = reading.session.scalar(select(Account.code).where(Account.id == id))
    if code is None:
        raise NotFound(N_("There is no account with the key {id} in this ledger."), id=id)
    rule = ACCOUNTS[code]
    words = _(rule.words)
    total = balance(reading, code)
    return Sheet(
        subject=Subject.ACCOUNT,
        id=id,
        title=words[:1].upper() + words[1:],
        line=code,
        standing=_("{balance}: {side}.").format(
            balance=show_amount(total, reading.ledger.manners, dash=False), side=_(SIDES[rule.side])
        ),
        groups=(Group(N_("Newest postings"), _newest(reading, id)),),
        money=(*_by_person(reading, id), Line(_("Balance"), amount=total, strong=True)),
        money_title=N_("By person") if rule.by_person else N_("Balance"),
    )


def _by_person(reading: Reading, account_id: int) -> tuple[Line, ...]:
    rows = reading.session.execute(
        select(Person.name, Person.number, func.sum(Posting.amount))
        .join(Person, Person.id == Posting.person_id)
        .where(Posting.account_id == account_id)
        .group_by(Person.id, Person.name, Person.number)
        .having(func.sum(Posting.amount) != 0)
        .order_by(func.lower(Person.name), Person.id)
    )
    return tuple(Line(name, number, reading.money(int(minor))) for name, number, minor in rows)


def _newest(reading: Reading, account_id: int) -> tuple[Fact, ...]:
    manners = reading.ledger.manners
    rows = reading.session.execute(
        select(Entry.id, Entry.booked_on, Entry.source, Posting.amount, Posting.currency, Person.name)
        .join(Posting, Posting.entry_id == Entry.id)
        .outerjoin(Person, Person.id == Posting.person_id)
        .where(Posting.account_id == account_id)
        .order_by(Entry.id.desc(), Posting.n)
        .limit(NEWEST)
    )
    return tuple(
        Fact(
            _("Entry {n}").format(n=entry),
            Money(amount, currency),
            ", ".join(part for part in (show_day(on, manners), name or "", source) if part),
        )
        for entry, on, source, amount, currency, name in rows
    )
