"""Describing: measures and parts are written as they are spoken, kept by their code, and refused in words."""

from __future__ import annotations

import pytest
from sqlalchemy import select

from shopledger.acts.describing import FittingRow, MeasureRow
from shopledger.acts.owning import OwnerRow
from shopledger.model import Fitting, Measurement
from shopledger.quantities.errors import Typed
from shopledger.quantities.lengths import read_length
from shopledger.rules.measures import called, fittings_for, measures_for
from tests.helpers.shops import TriedShop


@pytest.mark.parametrize("kind", ["violin", "viola", "cello", "viola_da_gamba", "bow"])
def test_every_measure_and_part_is_known_by_its_code_and_by_its_words(kind: str) -> None:
    for measure in measures_for(kind):
        assert called(measure.key, measures_for(kind)) == measure
        assert called(f" {measure.words.upper()} ", measures_for(kind)) == measure
    for part in fittings_for(kind):
        assert called(part.key, fittings_for(kind)) == part
        assert called(part.words.title(), fittings_for(kind)) == part


def test_a_beginning_is_enough_where_only_one_begins_so(shop: TriedShop) -> None:
    instrument = shop.taken_in(OwnerRow(person_id=shop.owner))
    readings = (
        MeasureRow(measure="Body", value=read_length("755 mm")),
        MeasureRow(measure="vibrating string", value=read_length("27 3/16 in")),
    )
    shop.act("measure", instrument_id=instrument, measures=readings)
    shop.act("describe", instrument_id=instrument, fittings=(FittingRow(part="Tailpiece", what="boxwood"),))
    with shop.ledger.read() as reading:
        kept = reading.session.execute(
            select(Measurement.measure, Measurement.typed)
            .where(Measurement.instrument_id == instrument)
            .order_by(Measurement.id)
        )
        assert [tuple(one) for one in kept] == [("body_length", "755 mm"), ("string_length", "27 3/16 in")]
        part = reading.session.scalar(select(Fitting.part).where(Fitting.instrument_id == instrument))
        assert part == "tailpiece"


@pytest.mark.parametrize("typed", ["string", "b", "scroll", "'; DROP TABLE measurement"])
def test_what_could_be_several_or_is_none_is_refused_with_the_words_to_choose_from(
    shop: TriedShop, typed: str
) -> None:
    instrument = shop.taken_in(OwnerRow(person_id=shop.owner))
    before = shop.rows()
    with pytest.raises(Typed, match="vibrating string length") as refused:
        shop.act(
            "measure",
            instrument_id=instrument,
            measures=(MeasureRow(measure=typed, value=read_length("690")),),
        )
    assert refused.value.field == "measures[0].measure"
    assert shop.rows() == before
