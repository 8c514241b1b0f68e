"""What a note of a fee paid states: to whom, how, and for which sales."""

from __future__ import annotations

from datetime import date

from sqlalchemy import select

from shopledger.model import FeePayment, LineReferral, Sale, SaleLine
from shopledger.papers.fee_note import FeeNoteFacts
from shopledger.papers.parts import AmountLine
from shopledger.quantities.errors import NotFound
from shopledger.quantities.words import N_, _
from shopledger.queries.facts.invoice import method_words
from shopledger.queries.facts.parties import head, party_facts
from shopledger.queries.owing import balance
from shopledger.store.unit import Reading


def fee_note_facts(reading: Reading, fee_id: int, number: str, issued_on: date) -> FeeNoteFacts:
    """Give what the note of a fee paid states, as things stand after its payment.

    Raises: NotFound: there is no such payment.
    """
    fee = reading.session.get(FeePayment, fee_id)
    if fee is None:
        raise NotFound(N_("There is no payment of a fee {id} in this ledger."), id=str(fee_id))
    still_owed = -balance(reading, "fees_due", fee.person_id)
    return FeeNoteFacts(
        **head(reading, number, issued_on),
        paid_on=fee.paid_on,
        payee=party_facts(reading, fee.person_id),
        amount=reading.money(fee.minor),
        method=method_words(fee.method),
        reference=fee.reference,
        lines=_lines(reading, fee, still_owed.minor),
        still_owed=still_owed,
    )


def _lines(reading: Reading, fee: FeePayment, still_owed: int) -> tuple[AmountLine, ...]:
    """Give the sales a payment is for: what is owed are the newest fees, and of those it pays the oldest first."""
    rows = reading.session.execute(
        select(LineReferral.minor, LineReferral.as_dealer, SaleLine.what, Sale.number, Sale.sold_on)
        .join(SaleLine, SaleLine.id == LineReferral.sale_line_id)
        .join(Sale, Sale.id == SaleLine.sale_id)
        .where(LineReferral.person_id == fee.person_id, SaleLine.returned_on.is_(None))
        .order_by(LineReferral.id.desc())
    )
    kept, left = still_owed, fee.minor
    lines: list[AmountLine] = []
    for minor, as_dealer, what, number, on in rows:
        later = min(kept, minor)
        kept -= later
        part = min(left, minor - later)
        left -= part
        if part:
            how = _("as a second dealer") if as_dealer else _("for bringing the buyer")
            lines.append(AmountLine(what=what, on=on, reference=number, how=how, amount=reading.money(part)))
    if left:
        lines.append(AmountLine(what=_("on account"), amount=reading.money(left)))
    return tuple(reversed(lines))
