"""What a payout remittance states: what was paid to an owner, and which settlements it pays."""

from __future__ import annotations

from datetime import date

from sqlalchemy import func, select

from shopledger.model import (
    Hold,
    Instrument,
    Job,
    Loss,
    Payout,
    PayoutShare,
    SaleLine,
    Settlement,
    SettlementShare,
    Stay,
    TrialLine,
)
from shopledger.papers.parts import AmountLine
from shopledger.papers.remittance import RemittanceFacts
from shopledger.quantities.errors import NotFound
from shopledger.quantities.money import total
from shopledger.quantities.words import N_, _
from shopledger.queries.facts.instruments import name_of
from shopledger.queries.facts.invoice import method_words
from shopledger.queries.facts.parties import head, party_facts
from shopledger.queries.owing import owner_account
from shopledger.store.unit import Reading


def remittance_facts(reading: Reading, payout_id: int, number: str, issued_on: date) -> RemittanceFacts:
    """Give what the remittance of a payout states.

    Raises: NotFound: there is no such payout.
    """
    payout = reading.session.get(Payout, payout_id)
    if payout is None:
        raise NotFound(N_("There is no payout {id} in this ledger."), id=str(payout_id))
    return RemittanceFacts(
        **head(reading, number, issued_on),
        paid_on=payout.paid_on,
        owner=party_facts(reading, payout.person_id),
        amount=reading.money(payout.minor),
        method=method_words(payout.method),
        reference=payout.reference,
        lines=_lines(reading, payout),
        still_held=owner_account(reading, payout.person_id).held,
    )


def _lines(reading: Reading, payout: Payout) -> tuple[AmountLine, ...]:
    """Give, settlement by settlement, what was due, what came off it before, and what is paid now."""
    rows = reading.session.execute(
        select(SettlementShare, Settlement, PayoutShare.minor)
        .join(SettlementShare, SettlementShare.id == PayoutShare.settlement_share_id)
        .join(Settlement, Settlement.id == SettlementShare.settlement_id)
        .where(PayoutShare.payout_id == payout.id)
        .order_by(Settlement.id)
    )
    lines: list[AmountLine] = []
    for share, settlement, paid_now in rows:
        lines.append(
            AmountLine(
                what=what_was_settled(reading, settlement),
                on=settlement.settled_on,
                reference=settlement.number,
                amount=reading.money(share.minor),
            )
        )
        before = _paid_before(reading, share.id, payout.id)
        left = share.minor - share.set_off - share.taken_back - before - paid_now
        for words, minor in (
            (_("set off against what was owed"), share.set_off),
            (_("taken back by a return"), share.taken_back),
            (_("paid before"), before),
            (_("kept for a later payout"), left),
        ):
            if minor:
                lines.append(
                    AmountLine(what=words, reference=settlement.number, amount=reading.money(-minor))
                )
    rest = reading.money(payout.minor) - total([line.amount for line in lines], reading.currency)
    if rest:
        lines.append(AmountLine(what=_("on account"), amount=rest))
    return tuple(lines)


def what_was_settled(reading: Reading, settlement: Settlement) -> str:
    """Give in words what a settlement is about: a thing sold, a loss, a forfeited deposit, a sale for what was owed."""
    if settlement.sale_line_id is not None:
        return reading.session.get_one(SaleLine, settlement.sale_line_id).what
    if settlement.loss_id is not None:
        loss = reading.session.get_one(Loss, settlement.loss_id)
        return _("Held for the loss {number}").format(number=loss.number)
    if settlement.job_id is not None:
        job = reading.session.get_one(Job, settlement.job_id)
        return _("Left of a sale for what was owed, job {number}").format(number=job.number)
    stay_id = _stay_of_deposit(reading, settlement)
    if stay_id is not None:
        instrument = reading.session.scalars(
            select(Instrument).join(Stay, Stay.instrument_id == Instrument.id).where(Stay.id == stay_id)
        ).one()
        return _("Part of a forfeited deposit: {instrument}").format(instrument=name_of(instrument))
    return settlement.number


def _stay_of_deposit(reading: Reading, settlement: Settlement) -> int | None:
    """Give the stay for whose instrument a deposit was forfeited, by a hold or by a line of a trial."""
    if settlement.hold_id is not None:
        return reading.session.scalar(select(Hold.stay_id).where(Hold.id == settlement.hold_id))
    return reading.session.scalar(select(TrialLine.stay_id).where(TrialLine.id == settlement.trial_line_id))


def _paid_before(reading: Reading, share_id: int, payout_id: int) -> int:
    paid = select(func.sum(PayoutShare.minor)).where(
        PayoutShare.settlement_share_id == share_id, PayoutShare.payout_id < payout_id
    )
    return int(reading.session.scalar(paid) or 0)
