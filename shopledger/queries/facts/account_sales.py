"""What an account sales states: every figure of a sale with its working, what came off the net since, what is left."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from sqlalchemy import select

from shopledger.model import Payout, PayoutShare, Settlement, SettlementShare
from shopledger.papers.account_sales import AccountSalesFacts
from shopledger.papers.parts import AmountLine, ShareLine
from shopledger.quantities.errors import NotFound
from shopledger.quantities.money import Money, total
from shopledger.quantities.showing import show_day, show_money
from shopledger.quantities.words import N_, _
from shopledger.queries.facts.debts import charges_set_off, repairs_left
from shopledger.queries.facts.instruments import instrument_named, name_of
from shopledger.queries.facts.invoice import method_words
from shopledger.queries.facts.parties import head
from shopledger.queries.facts.remarks import floor_words, notes_on, referral_words, tax_words
from shopledger.queries.facts.settled import Settled, for_one, settled_by
from shopledger.store.unit import Reading


def account_sales_facts(
    reading: Reading, settlement_id: int, person_id: int | None, number: str, issued_on: date
) -> AccountSalesFacts:
    """Give what the account of a settlement states, to one owner or, without a person, to all of them together.

    Shape:  to one of several owners the others' parts come off the net before it is theirs; debts are told to none but
            who owes them.
    Raises: NotFound: there is no such settlement.
    """
    settlement = reading.session.get(Settlement, settlement_id)
    if settlement is None:
        raise NotFound(N_("There is no settlement {id} in this ledger."), id=str(settlement_id))
    settled = settled_by(reading, settlement)
    if person_id is not None:
        settled = for_one(reading, settled, person_id)
    shares = _shares(reading, settlement, [part.person_id for part in settled.parts])
    set_offs = (*_shops_own(reading, settled), *_set_offs(reading, shares))
    payouts = _payouts(reading, [share.id for share, _settlement in shares])
    off = total([line.amount for line in (*set_offs, *payouts)], reading.currency)
    due_on, due_words = _due(reading, settled, settlement, shares)
    instrument = instrument_named(reading, settled.instrument_id)
    agreement = settled.agreement
    several = len(settled.parts) > 1
    return AccountSalesFacts(
        **head(reading, number, issued_on),
        agreement_number="" if agreement is None else agreement.number,
        agreement_on=None if agreement is None else agreement.begins_on,
        invoice_number=settled.invoice_number,
        sold_on=settled.sold_on,
        owners=tuple(part.owner for part in settled.parts),
        instrument_number=instrument.number,
        instrument_name=name_of(instrument),
        asking=settled.asking,
        price=settled.price,
        working=settled.working,
        owner_net=settled.net,
        shares=tuple(
            ShareLine(name=part.owner.party.name, share=part.owner.share, amount=part.net)
            for part in settled.parts
        )
        if several
        else (),
        set_offs=set_offs,
        payouts=payouts,
        balance=settled.net - off,
        due_on=due_on,
        due_words=due_words,
        floor=settled.floor,
        floor_words=floor_words(reading, settled),
        referral_words=referral_words(reading, settled),
        tax_words=tax_words(reading, settled),
        notes=(*notes_on(reading, settled), *_repairs_left(reading, settled, settlement, person_id)),
    )


def _shares(
    reading: Reading, settlement: Settlement, people: Sequence[int]
) -> tuple[tuple[SettlementShare, Settlement], ...]:
    """Give these owners' parts of what was settled of the same thing up to this settlement."""
    rows = reading.session.execute(
        select(SettlementShare, Settlement)
        .join(Settlement, Settlement.id == SettlementShare.settlement_id)
        .where(
            Settlement.sale_line_id == settlement.sale_line_id
            if settlement.sale_line_id is not None
            else Settlement.loss_id == settlement.loss_id,
            Settlement.id <= settlement.id,
            SettlementShare.person_id.in_(people),
        )
        .order_by(Settlement.id, SettlementShare.id)
    )
    return tuple((share, of) for share, of in rows)


def _shops_own(reading: Reading, settled: Settled) -> tuple[AmountLine, ...]:
    """Give what of the net is the shop's own as a part owner: it is no payout."""
    shop = reading.shop().person_id
    return tuple(
        AmountLine(what=_("The shop\u2019s own part"), amount=part.net)
        for part in settled.parts
        if part.person_id == shop and part.net
    )


def _set_offs(
    reading: Reading, shares: Sequence[tuple[SettlementShare, Settlement]]
) -> tuple[AmountLine, ...]:
    """Give what was set off, charge by charge: a repair by the claim number of its job."""
    return tuple(
        line
        for share, settlement in shares
        if share.set_off
        for line in charges_set_off(reading, share, settlement)
    )


def _repairs_left(
    reading: Reading, settled: Settled, settlement: Settlement, person_id: int | None
) -> tuple[str, ...]:
    """Say to one owner which repairs of the thing sold are not set off; to all together nobody's debts are told."""
    if person_id is None or settled.line is None or settled.line.stay_id is None:
        return ()
    return repairs_left(reading, person_id, settlement, settled.line.stay_id)


def _payouts(reading: Reading, share_ids: Sequence[int]) -> tuple[AmountLine, ...]:
    """Give what was paid out of the net so far."""
    rows = reading.session.execute(
        select(Payout, PayoutShare.minor)
        .join(Payout, Payout.id == PayoutShare.payout_id)
        .where(PayoutShare.settlement_share_id.in_(share_ids))
        .order_by(Payout.id, PayoutShare.id)
    )
    return tuple(
        AmountLine(
            what=_("Payout"),
            amount=reading.money(minor),
            on=payout.paid_on,
            reference=payout.number,
            how=method_words(payout.method),
        )
        for payout, minor in rows
    )


def _due(
    reading: Reading,
    settled: Settled,
    settlement: Settlement,
    shares: Sequence[tuple[SettlementShare, Settlement]],
) -> tuple[date | None, str]:
    """Give by when the whole is paid and what it waited for; while only a part is due, words alone."""
    pay_by = settlement.settled_on + timedelta(days=settled.pay_within_days)
    shop = reading.shop().person_id
    theirs = total([part.net for part in settled.parts if part.person_id != shop], reading.currency)
    so_far = sum(share.minor - share.taken_back for share, _settlement in shares if share.person_id != shop)
    if settled.line is None:
        waited = _("The claim has been paid, as far as it stands here.")
    elif so_far >= theirs.minor:
        waited = _("The buyer has paid in full and the money has cleared.")
    else:
        waited = _("Part of the buyer\u2019s money has cleared; the rest is due to the owner as it clears.")
    if so_far >= theirs.minor:
        return pay_by, waited
    now = sum(share.minor - share.set_off for share, of in shares if of.id == settlement.id)
    return None, f"{waited} {_now_words(reading, reading.money(now), pay_by)}"


def _now_words(reading: Reading, now: Money, pay_by: date) -> str:
    manners = reading.ledger.manners
    return _("{amount} of it is due now and is to be paid by {day}.").format(
        amount=show_money(now, manners), day=show_day(pay_by, manners)
    )
