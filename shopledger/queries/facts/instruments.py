"""An instrument as papers describe it: name, maker and standing, measures as typed, fittings, condition."""

from __future__ import annotations

from datetime import date

from sqlalchemy import bindparam, select

from shopledger.model import Fitting, Instrument, Stay, field_of
from shopledger.papers.parts import InstrumentFacts, LabelledFacts, MeasurementFacts
from shopledger.quantities.errors import NotFound
from shopledger.quantities.measured import other_unit_of
from shopledger.quantities.words import N_, _, count_words
from shopledger.queries.facts.parties import lines_of
from shopledger.queries.materials import capital, components_of, made_of
from shopledger.queries.readings import in_order, newest_readings
from shopledger.rules.materials_parts import component_words
from shopledger.rules.measures import fittings_for, measure_label, part_words
from shopledger.store.unit import Reading

# Put together once, since every paper about an instrument asks them.
_FITTINGS = select(Fitting).where(Fitting.instrument_id == bindparam("instrument"))


def instrument_named(reading: Reading, instrument_id: int) -> Instrument:
    """Give the record of an instrument.

    Raises: NotFound: there is no such instrument.
    """
    instrument = reading.find(Instrument, instrument_id)
    if instrument is None:
        raise NotFound(N_("There is no instrument {id} in this ledger."), id=str(instrument_id))
    return instrument


def name_of(instrument: Instrument) -> str:
    """Give what people call an instrument: its kind, nominal size, strings, and the name it is known by."""
    sort = sort_of(instrument)
    return sort if not instrument.title else _("{sort}, “{title}”").format(sort=sort, title=instrument.title)


def sort_of(instrument: Instrument) -> str:
    """Give what sort of thing it is: kind, nominal size, strings."""
    kind = _(field_of(Instrument.kind).choice_word(instrument.kind))
    words = [kind[:1].upper() + kind[1:]]
    if instrument.size:
        words.append(instrument.size)
    if instrument.string_count:
        words.append(count_words("{n} string", "{n} strings", instrument.string_count))
    return ", ".join(words)


def maker_words(instrument: Instrument) -> tuple[str, str]:
    """Give the standing of the maker's name in words, and the name; of an unknown maker the standing only."""
    standing = _(field_of(Instrument.standing).choice_word(instrument.standing))
    return standing, "" if instrument.standing == "unknown" else instrument.maker


def instrument_facts(
    reading: Reading, instrument_id: int, stay: Stay | None = None, *, going: bool = False
) -> InstrumentFacts:
    """Give an instrument as a paper describes it, with the condition of a stay and what came with it.

    Shape:  `going` takes the condition at hand-over instead of the one at intake, where it was noted.
    """
    instrument = instrument_named(reading, instrument_id)
    standing, maker = maker_words(instrument)
    condition, seen_on = _condition(stay, going)
    return InstrumentFacts(
        number=instrument.number,
        name=name_of(instrument),
        standing=standing,
        maker=maker,
        made=", ".join(part for part in (instrument.made_when, instrument.made_where) if part),
        label_reads=" / ".join(lines_of(instrument.label_text)),
        attributed_by=_attribution(instrument),
        description=_described(instrument),
        measurements=measurements(reading, instrument),
        fittings=fittings(reading, instrument),
        materials=materials(reading, instrument),
        condition=condition,
        condition_on=seen_on,
        comes_with=() if stay is None else lines_of(stay.came_with),
    )


def _attribution(instrument: Instrument) -> str:
    """Give by whom and on what evidence the maker is named."""
    evidence = " ".join(lines_of(instrument.standing_evidence))
    if instrument.standing_by and evidence:
        return _("{who}: {evidence}").format(who=instrument.standing_by, evidence=evidence)
    return instrument.standing_by or evidence


def _described(instrument: Instrument) -> str:
    """Give the description, and the serial number or brand behind it."""
    words = " ".join(lines_of(instrument.description))
    if not instrument.serial:
        return words
    serial = _("Serial or brand: {serial}.").format(serial=instrument.serial)
    return f"{words} {serial}" if words else serial


def _condition(stay: Stay | None, going: bool) -> tuple[tuple[LabelledFacts, ...], date | None]:
    """Give the condition, a part a line where its lines are written so, and the day it was seen."""
    if stay is None:
        return (), None
    if going and stay.condition_out:
        return labelled(stay.condition_out), stay.ended_on
    return labelled(stay.condition), stay.came_in_on if stay.condition else None


def labelled(text: str) -> tuple[LabelledFacts, ...]:
    """Give lines such as "Top: a healed crack" as part and words; a line without a part has none."""
    found = []
    for line in lines_of(text):
        part, colon, words = line.partition(":")
        fits = bool(colon) and len(part) <= 30 and bool(words.strip())
        found.append(LabelledFacts(label=part.strip() if fits else "", words=words.strip() if fits else line))
    return tuple(found)


def measurements(reading: Reading, instrument: Instrument) -> tuple[MeasurementFacts, ...]:
    """Give the newest reading of each measure and side as it was typed, in the order of the kind's set."""
    newest = newest_readings(reading, instrument.id)
    manners = reading.ledger.manners
    return tuple(
        MeasurementFacts(
            label=measure_label(*key),
            typed=newest[key].figure.typed,
            other=other_unit_of(newest[key].figure, manners),
            method=newest[key].how,
        )
        for key in in_order(instrument.kind, newest)
    )


def materials(reading: Reading, instrument: Instrument) -> tuple[LabelledFacts, ...]:
    """Give what is recorded of an instrument's materials, component by component."""
    return tuple(
        LabelledFacts(label=capital(component_words(one.component)), words=made_of(one))
        for one, _evidence in components_of(reading, instrument.id)
    )


def fittings(reading: Reading, instrument: Instrument) -> tuple[LabelledFacts, ...]:
    """Give what is fitted, in the order of the kind's set."""
    rows = reading.session.scalars(_FITTINGS, {"instrument": instrument.id})
    order = {part.key: n for n, part in enumerate(fittings_for(instrument.kind))}
    return tuple(
        LabelledFacts(label=_(part_words(row.part)), words=row.what)
        for row in sorted(rows, key=lambda row: (order.get(row.part, len(order)), row.id))
    )
