"""The money of an instrument: its sale, its loss, or what a sale at the asking price would leave to whom."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sqlalchemy import select

from shopledger.model import (
    Charge,
    Loss,
    Payment,
    Person,
    SaleLine,
    Settlement,
    SettlementShare,
    Stay,
    field_of,
)
from shopledger.quantities.words import N_, _
from shopledger.queries.due import left_of_share
from shopledger.queries.line_figures import at_asking, figures_of, owners_lines, paid_lines
from shopledger.queries.owing import charge_stands, line_money, whole_sum
from shopledger.queries.sheet_shapes import Line
from shopledger.queries.standing import StayNow, agreement_in_force, asking_price

if TYPE_CHECKING:
    from shopledger.store.unit import Reading


def money_of(reading: Reading, stay: StayNow | None) -> tuple[str, tuple[Line, ...]]:
    """Give the money of the newest sale that stands, else what the asking price would leave; and its heading."""
    charges = _charges(reading, stay)
    line = reading.session.scalars(
        select(SaleLine)
        .where(SaleLine.stay_id == (stay.id if stay else 0), SaleLine.returned_on.is_(None))
        .limit(1)
    ).first()
    if line is not None:
        paid = line_money(reading, line.id)
        return N_("The sale"), (
            *figures_of(reading, line),
            *paid_lines(reading, [paid]),
            *owners_lines(reading, [line.id], reading.ledger.today()),
            *charges,
        )
    if stay is not None and stay.ending == "lost":
        return N_("The loss"), (*_loss(reading, stay), *charges)
    asking = asking_price(reading, stay.id) if stay is not None and stay.ended_on is None else None
    if stay is None or asking is None:
        return N_("Money"), charges
    agreement = agreement_in_force(reading, stay.id)
    if agreement is not None:
        return N_("If it sold at the asking price"), (*at_asking(reading, agreement, asking), *charges)
    cost = reading.session.scalar(select(Stay.cost).where(Stay.id == stay.id))
    lines = [Line(_("Asking price"), amount=asking, strong=True)]
    if cost:
        lines.append(Line(_(field_of(Stay.cost).label), amount=reading.money(cost)))
    return N_("Money"), (*lines, *charges)


def _loss(reading: Reading, stay: StayNow) -> tuple[Line, ...]:
    """Give the figures of a loss: the agreed value, what comes off it, what its owners get, what the insurer paid."""
    loss = reading.session.execute(select(*Loss.__table__.c).where(Loss.stay_id == stay.id)).first()
    if loss is None:
        return ()
    paid = reading.session.scalar(
        select(whole_sum(Payment.minor)).where(Payment.loss_id == loss.id, Payment.bounced_on.is_(None))
    )
    bearer = _(field_of(Loss.excess_borne_by).choice_word(loss.excess_borne_by))
    told = (
        (Loss.agreed_value, "", loss.agreed_value),
        (Loss.excess, _("borne by {bearer}").format(bearer=bearer), loss.excess),
        (Loss.commission, "", loss.commission),
        (Loss.owner_net, "", loss.owner_net),
    )
    lines = [
        Line(_(field_of(column).label), how, reading.money(minor), strong=column is Loss.owner_net)
        for column, how, minor in told
        if minor
    ]
    lines.append(Line(_("Paid by the insurer"), amount=reading.money(int(paid or 0))))
    for share in reading.session.execute(
        select(Person.name, SettlementShare.minor, left_of_share().label("left"))
        .join(Settlement, Settlement.id == SettlementShare.settlement_id)
        .join(Person, Person.id == SettlementShare.person_id)
        .where(Settlement.loss_id == loss.id)
        .order_by(SettlementShare.id)
    ):
        lines.append(
            Line(_("Set aside for {name}").format(name=share.name), amount=reading.money(share.minor))
        )
        if share.left:
            lines.append(Line(_("set aside, to pay"), amount=reading.money(int(share.left))))
    return tuple(lines)


def _charges(reading: Reading, stay: StayNow | None) -> tuple[Line, ...]:
    if stay is None:
        return ()
    rows = reading.session.execute(
        select(Charge.number, Charge.what, Charge.minor)
        .where(Charge.stay_id == stay.id, charge_stands())
        .order_by(Charge.id)
    )
    return tuple(
        Line(_("Charged to the owner: {what}").format(what=what), number, reading.money(minor))
        for number, what, minor in rows
    )
