"""What the schedule of goods in custody states: each thing in the shop's care on a day, and what each party insures."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from sqlalchemy import select

from shopledger.model import Instrument, Sale, SaleLine, Stay, field_of
from shopledger.model.stays import INSURERS
from shopledger.papers import custody_list
from shopledger.papers.custody_list import CustodyLine, CustodyListFacts, InsurerTotal
from shopledger.quantities.money import total
from shopledger.quantities.words import _
from shopledger.queries.custody import (
    InCustody,
    custody_on,
    insurer_words,
    names_in,
    place_words,
    risk_words,
)
from shopledger.queries.facts.instruments import maker_words, name_of
from shopledger.queries.facts.parties import head
from shopledger.rules.custody import AWAY, ON_TRIAL
from shopledger.store.unit import Reading

_GROUP_OF = {
    "own": custody_list.OWN,
    "to_sell": custody_list.CONSIGNED,
    "repair": custody_list.REPAIR,
}
_ORDER = tuple(custody_list.GROUPS)
_BY = tuple(code for code, _words in INSURERS)


def custody_list_facts(reading: Reading, as_of: date, number: str, issued_on: date) -> CustodyListFacts:
    """Give what the schedule states for a day, by group and number."""
    found = [one for one in custody_on(reading, as_of) if one.at.in_care]
    lines = _lines(reading, as_of, found)
    return CustodyListFacts(
        **head(reading, number, issued_on),
        as_of=as_of,
        lines=lines,
        totals=_totals(reading, found),
        value_total=total([line.value for line in lines if line.value is not None], reading.currency),
    )


def _lines(reading: Reading, as_of: date, found: Sequence[InCustody]) -> tuple[CustodyLine, ...]:
    names = names_in(reading, found)
    keys = [one.instrument_id for one in found]
    instruments = {
        each.id: each for each in reading.session.scalars(select(Instrument).where(Instrument.id.in_(keys)))
    }
    sold = _sold(reading, as_of, [one.at.stay for one in found if one.at.stay is not None])
    lines = []
    for one in found:
        instrument = instruments[one.instrument_id]
        at = one.at
        lines.append(
            CustodyLine(
                group=group_of(one),
                number=instrument.number,
                what=name_of(instrument),
                maker=" ".join(part for part in maker_words(instrument) if part),
                serial=instrument.serial,
                whose=_whose(one, at.stay in sold),
                place=place_words(at, names),
                since=at.since,
                risk=risk_words(at),
                insured_by=insurer_words(at.insured_by),
                value=None if at.insured_for is None else reading.money(at.insured_for),
                note=at.words,
            )
        )
    return tuple(sorted(lines, key=lambda line: _ORDER.index(line.group)))


def group_of(one: InCustody) -> str:
    """Give under which heading a thing stands: where it is out of the shop, else why it is here."""
    if one.at.place == ON_TRIAL:
        return custody_list.TRIAL
    if one.at.place == AWAY:
        return custody_list.ELSEWHERE
    return _GROUP_OF.get(one.reason, custody_list.KEPT)


def _whose(one: InCustody, is_sold: bool) -> str:
    """Give whose a thing is in few words, without names, which an insurer has no need of."""
    if is_sold:
        return _("sold, not handed over yet")
    if one.reason == "to_sell":
        return _("consigned")
    return _(field_of(Stay.reason).choice_word(one.reason))


def _sold(reading: Reading, as_of: date, stay_ids: Sequence[int]) -> frozenset[int]:
    """Give the stays that were sold by a day and not taken back by it."""
    rows = reading.session.scalars(
        select(SaleLine.stay_id)
        .join(Sale, Sale.id == SaleLine.sale_id)
        .where(
            SaleLine.stay_id.in_(stay_ids),
            Sale.sold_on <= as_of,
            SaleLine.returned_on.is_(None) | (SaleLine.returned_on > as_of),
        )
    )
    return frozenset(key for key in rows if key is not None)


def _totals(reading: Reading, found: Sequence[InCustody]) -> tuple[InsurerTotal, ...]:
    """Give what each party insures, in the order in which they are named everywhere; what nobody has said, last."""
    totals = []
    for code in (*_BY, None):
        theirs = [one.at.insured_for for one in found if one.at.insured_by == code]
        if theirs:
            totals.append(
                InsurerTotal(
                    insured_by=insurer_words(code),
                    things=len(theirs),
                    without_value=sum(value is None for value in theirs),
                    value=reading.money(sum(value or 0 for value in theirs)),
                )
            )
    return tuple(totals)
