"""What was settled: the reckoning behind a settlement, of a sale or of a loss, and each owner's part of the net."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from sqlalchemy import select

from shopledger.model import Account, Agreement, LineOwner, Loss, Posting, SaleLine, Settlement, Stay
from shopledger.papers.owner_working import owner_working
from shopledger.papers.parts import OwnerFacts, WorkingLine
from shopledger.quantities.errors import Bug
from shopledger.quantities.money import Money, total
from shopledger.quantities.showing import show_amount, show_rate
from shopledger.quantities.words import N_, _
from shopledger.queries.facts.bill_of_sale import line_named
from shopledger.queries.facts.invoice import sale_named
from shopledger.queries.facts.parties import owner_facts, owners_of_line
from shopledger.queries.facts.reckoned import split_of_line
from shopledger.queries.facts.terms import terms_named
from shopledger.queries.standing import last_agreement, owners_of
from shopledger.store.unit import Reading


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One owner's part of a net."""

    person_id: int
    owner: OwnerFacts
    net: Money


@dataclass(frozen=True, slots=True, kw_only=True)
class Settled:
    """What an account is about.

    Shape:  the counting lines of `working` add up to `net`, the parts add up to it too; either `line` or
            `loss` is None.
    """

    line: SaleLine | None
    loss: Loss | None
    instrument_id: int
    agreement: Agreement | None
    pay_within_days: int
    invoice_number: str
    sold_on: date
    asking: Money
    price: Money
    working: tuple[WorkingLine, ...]
    net: Money
    floor: Money | None
    short_by: Money
    made_up: Money
    parts: tuple[Part, ...]


def settled_by(reading: Reading, settlement: Settlement) -> Settled:
    """Give what a settlement is about.

    Raises: Bug: it is about neither a line nor a loss.
    """
    if settlement.sale_line_id is not None:
        return _of_line(reading, line_named(reading, settlement.sale_line_id))
    if settlement.loss_id is not None:
        return _of_loss(reading, reading.session.get_one(Loss, settlement.loss_id))
    raise Bug(N_("{number} settles neither a sale nor a loss."), number=settlement.number)


def _of_line(reading: Reading, line: SaleLine) -> Settled:
    if line.terms_id is None or line.instrument_id is None:
        raise Bug(N_("The line “{what}” is not consigned: there is nothing to settle."), what=line.what)
    case, split = split_of_line(reading, line)
    sale = sale_named(reading, line.sale_id)
    terms, agreement = terms_named(reading, line.terms_id)
    rows = reading.session.execute(
        select(LineOwner.person_id, LineOwner.net)
        .where(LineOwner.sale_line_id == line.id)
        .order_by(LineOwner.n)
    )
    owners = owners_of_line(reading, line.id)
    return Settled(
        line=line,
        loss=None,
        instrument_id=line.instrument_id,
        agreement=agreement,
        pay_within_days=terms.pay_within_days,
        invoice_number=sale.number,
        sold_on=sale.sold_on,
        asking=reading.money(line.asking),
        price=split.price,
        working=owner_working(split),
        net=split.owner_net,
        floor=case.terms.floor,
        short_by=split.floor_short_by,
        made_up=split.made_up,
        parts=tuple(
            Part(person_id=person, owner=owner, net=reading.money(net))
            for (person, net), owner in zip(rows, owners, strict=True)
        ),
    )


def _of_loss(reading: Reading, loss: Loss) -> Settled:
    """Give a loss as a settlement states it: to whoever owned the thing, the shop left out."""
    stay = reading.session.get_one(Stay, loss.stay_id)
    agreed = last_agreement(reading, stay.id)
    shop = reading.shop()
    value, net = reading.money(loss.agreed_value), reading.money(loss.owner_net)
    nothing = reading.money(0)
    return Settled(
        line=None,
        loss=loss,
        instrument_id=stay.instrument_id,
        agreement=None if agreed is None else reading.session.get_one(Agreement, agreed.agreement_id),
        pay_within_days=shop.pay_within_days if agreed is None else agreed.terms.pay_within_days,
        invoice_number="",
        sold_on=loss.lost_on,
        asking=value if agreed is None else reading.money(agreed.terms.asking),
        price=value,
        working=loss_working(reading, loss),
        net=net,
        floor=None,
        short_by=nothing,
        made_up=nothing,
        parts=parts_of_loss(reading, loss, stay.instrument_id),
    )


def parts_of_loss(reading: Reading, loss: Loss, instrument_id: int) -> tuple[Part, ...]:
    """Give what is held for each owner of a loss, by its own entry: it is theirs whoever owns the instrument by now."""
    rows = reading.session.execute(
        select(Posting.person_id, Posting.amount)
        .join(Account, Account.id == Posting.account_id)
        .where(Posting.entry_id == loss.entry_id, Account.code == "owners_pending")
        .order_by(Posting.n)
    )
    held = [(int(person_id), -minor) for person_id, minor in rows if person_id is not None]
    shares = {party.person_id: party.share for party in owners_of(reading, instrument_id, loss.lost_on)}
    people = [
        (person_id, shares.get(person_id, Fraction(minor, loss.owner_net))) for person_id, minor in held
    ]
    return tuple(
        Part(person_id=person_id, owner=owner, net=reading.money(minor))
        for (person_id, minor), owner in zip(held, owner_facts(reading, people), strict=True)
    )


def loss_working(reading: Reading, loss: Loss) -> tuple[WorkingLine, ...]:
    """Give how what is held for a loss comes about: agreed value, less what terms and the shop's own part take off it.

    Shape:  the lines add up to what is held for the owners.
    """
    lines = [
        WorkingLine(
            label=_("Agreed value"), how=_("by the agreement"), amount=reading.money(loss.agreed_value)
        )
    ]
    if loss.excess and loss.excess_borne_by == "owner":
        lines.append(
            WorkingLine(label=_("Excess"), how=_("borne by the owner"), amount=reading.money(-loss.excess))
        )
    if loss.commission:
        lines.append(
            WorkingLine(
                label=_("Commission"), how=_("agreed on a loss"), amount=reading.money(-loss.commission)
            )
        )
    own = loss.owner_net - sum(line.amount.minor for line in lines)
    if own:
        lines.append(
            WorkingLine(
                label=_("The shop\u2019s own part"), how=_("as a part owner"), amount=reading.money(own)
            )
        )
    return tuple(lines)


def for_one(reading: Reading, settled: Settled, person_id: int) -> Settled:
    """Give an account of several owners as one of them has it: the others' parts come off the net, visibly.

    Raises: Bug: the person is none of the owners.
    """
    own = [part for part in settled.parts if part.person_id == person_id]
    if len(own) != 1:
        raise Bug("person {person} is no owner of this settlement", person=str(person_id))
    if len(settled.parts) == 1:
        return settled
    others = _others(reading, settled, [part for part in settled.parts if part.person_id != person_id])
    return replace(settled, working=(*settled.working, *others), net=own[0].net, parts=tuple(own))


def _others(reading: Reading, settled: Settled, others: Sequence[Part]) -> tuple[WorkingLine, WorkingLine]:
    """Give the whole net on the way, and what of it is the other owners'."""
    manners = reading.ledger.manners
    theirs = total([part.net for part in others], settled.net.currency)
    share = sum((part.owner.share for part in others), Fraction(0))
    how = _("{share} of the net {net}, by largest remainder").format(
        share=show_rate(share, manners), net=show_amount(settled.net, manners, dash=False)
    )
    whole = WorkingLine(label=_("Net of the whole"), how="", amount=settled.net, counts=False)
    return whole, WorkingLine(label=_("The other owners\u2019 parts"), how=how, amount=-theirs)
