"""What a report of a loss states: what was lost and since when, what is held for its owners, and who bears what."""

from __future__ import annotations

from datetime import date

from shopledger.model import Agreement, Loss, Stay
from shopledger.papers.loss_report import LossReportFacts
from shopledger.papers.parts import ShareLine
from shopledger.papers.terms_care import loss_clause
from shopledger.quantities.errors import NotFound
from shopledger.quantities.words import N_, _
from shopledger.queries.facts.instruments import instrument_named, name_of
from shopledger.queries.facts.parties import head
from shopledger.queries.facts.settled import loss_working, parts_of_loss
from shopledger.queries.facts.terms import terms_facts
from shopledger.queries.standing import AgreementNow, last_agreement
from shopledger.store.unit import Reading


def loss_report_facts(reading: Reading, loss_id: int, number: str, issued_on: date) -> LossReportFacts:
    """Give what the report of a loss states.

    Raises: NotFound: there is no such loss.
    """
    loss = reading.session.get(Loss, loss_id)
    if loss is None:
        raise NotFound(N_("There is no loss {id} in this ledger."), id=str(loss_id))
    stay = reading.session.get_one(Stay, loss.stay_id)
    instrument = instrument_named(reading, stay.instrument_id)
    agreed = last_agreement(reading, stay.id)
    parts = parts_of_loss(reading, loss, stay.instrument_id)
    return LossReportFacts(
        **head(reading, number, issued_on),
        lost_on=loss.lost_on,
        owners=tuple(part.owner for part in parts),
        instrument_number=instrument.number,
        instrument_name=name_of(instrument),
        entry_number=stay.number,
        taken_in_on=stay.came_in_on,
        agreement_number="" if agreed is None else agreed.number,
        what_happened=loss.what_happened,
        reported_to=loss.reported_to,
        agreed_value=reading.money(loss.agreed_value),
        excess=reading.money(loss.excess),
        excess_borne_by=loss.excess_borne_by,
        claimed=reading.money(loss.agreed_value - loss.excess),
        working=loss_working(reading, loss),
        held=reading.money(loss.owner_net),
        shares=tuple(
            ShareLine(name=part.owner.party.name, share=part.owner.share, amount=part.net) for part in parts
        )
        if len(parts) > 1
        else (),
        by_words=_by_words(reading, agreed),
    )


def _by_words(reading: Reading, agreed: AgreementNow | None) -> tuple[str, ...]:
    """Quote what the agreement says about a loss."""
    if agreed is None:
        return (_("Nothing was agreed for it: the whole value is held, and the shop bears an excess."),)
    agreement = reading.session.get_one(Agreement, agreed.agreement_id)
    return tuple(loss_clause(terms_facts(reading, agreed.terms, agreement), reading.ledger.manners))
