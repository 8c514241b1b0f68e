"""What a bill of sale states: whose an instrument was, whose it is, at what price, and who signs."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from shopledger.model import Person, Sale, SaleLine, Stay
from shopledger.papers.bill_of_sale import BillOfSaleFacts
from shopledger.papers.parts import NO_CAUTIONS, CautionFacts
from shopledger.quantities.errors import Bug, NotFound
from shopledger.quantities.words import N_, _
from shopledger.queries.facts.instruments import instrument_facts
from shopledger.queries.facts.invoice import sale_named
from shopledger.queries.facts.parties import head, owners_of_line, party_facts
from shopledger.queries.facts.terms import terms_named
from shopledger.queries.materials import caution_words, sale_cautions
from shopledger.store.unit import Reading


def bill_of_sale_facts(
    reading: Reading, sale_line_ids: Sequence[int], number: str, issued_on: date
) -> BillOfSaleFacts:
    """Give what a bill of sale states: a bill is about one instrument, so about one line.

    Raises: NotFound: there is no such line. Bug: more lines than one, or one that sells no instrument.
    """
    if len(sale_line_ids) != 1:
        raise Bug("a bill of sale is about one line, not {n}", n=len(sale_line_ids))
    line = line_named(reading, sale_line_ids[0])
    if line.instrument_id is None:
        raise Bug(N_("The line “{what}” sells no instrument: it has no bill of sale."), what=line.what)
    sale = sale_named(reading, line.sale_id)
    terms, agreement = (None, None) if line.terms_id is None else terms_named(reading, line.terms_id)
    stay = None if line.stay_id is None else reading.session.get_one(Stay, line.stay_id)
    instrument = instrument_facts(reading, line.instrument_id, stay)
    return BillOfSaleFacts(
        **head(reading, number, issued_on),
        invoice_number=sale.number,
        agreement_number="" if agreement is None else agreement.number,
        sold_on=sale.sold_on,
        sellers=owners_of_line(reading, line.id),
        own=line.kind == "own",
        buyer=party_facts(reading, sale.buyer_id),
        instrument=instrument,
        price=reading.money(line.price),
        signed_by="shop" if terms is None else terms.bill_signed_by,
        approval_until=sale.approval_until,
        warranties=(_("On leaving it with the shop, the seller stated that nobody else has a claim on it."),)
        if stay is not None and stay.no_liens and line.kind == "consigned"
        else (),
        cautions=CautionFacts(materials=_materials(reading, sale, line.instrument_id))
        if instrument.materials
        else NO_CAUTIONS,
    )


def _materials(reading: Reading, sale: Sale, instrument_id: int) -> tuple[str, ...]:
    """Give what the materials on record may need for the sale, by the buyer's country; both ways while unknown."""
    country = reading.session.get_one(Person, sale.buyer_id).country
    return tuple(
        caution_words(one) for one in sale_cautions(reading, instrument_id, sale.sold_on, country or None)
    )


def line_named(reading: Reading, sale_line_id: int) -> SaleLine:
    """Give the record of a line.

    Raises: NotFound: there is no such line.
    """
    line = reading.session.get(SaleLine, sale_line_id)
    if line is None:
        raise NotFound(N_("There is no sale line {id} in this ledger."), id=str(sale_line_id))
    return line
