"""The sets of measures and fittings: whole for every kind, read strictly, and taken as makers take them."""

from __future__ import annotations

import pytest

from shopledger.model.instruments import INSTRUMENT_KINDS
from shopledger.quantities.errors import NotFound, Trouble
from shopledger.quantities.lengths import read_length
from shopledger.rules.measures import (
    SIDES,
    fittings_for,
    measure_words,
    measures_for,
    parse_sets,
    part_words,
    sets,
)

KINDS = [code for code, _words in INSTRUMENT_KINDS]


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_has_measures_and_fittings_with_words(kind: str) -> None:
    measures, fittings = measures_for(kind), fittings_for(kind)
    assert measures
    assert fittings
    assert all(measure.words and set(measure.sides) <= set(SIDES) for measure in measures)
    assert all(part.words for part in fittings)
    assert len({measure.key for measure in measures}) == len(measures)
    assert len({part.key for part in fittings}) == len(fittings)


def test_no_kind_of_the_data_is_unknown_to_the_model() -> None:
    assert set(sets().measures) == set(KINDS) == set(sets().fittings)


# Common practice, no source: a body need not be symmetrical, so ribs are measured on each side (job description).
def test_ribs_are_measured_on_each_side_and_bouts_also_across() -> None:
    by_key = {measure.key: measure for measure in measures_for("viola_da_gamba")}
    assert by_key["ribs_lower"].sides == ("bass", "treble")
    assert by_key["lower_bout"].sides == ("", "bass", "treble")


# Players speak of viola sizes by body length in inches, makers work in millimetres: common practice, no source.
def test_a_viola_body_is_typed_in_inches_and_a_cello_body_in_millimetres() -> None:
    def unit(kind: str) -> str:
        return next(measure.unit for measure in measures_for(kind) if measure.key == "body_length")

    assert unit("viola") == "in"
    assert unit("cello") == "mm"
    assert read_length("16.5", default_unit=unit("viola")).nm == read_length("419.1 mm").nm


def test_the_method_takes_at_most_a_word_of_each_group() -> None:
    body = next(measure for measure in measures_for("violin") if measure.key == "body_length")
    assert set(body.methods) == {
        "over the arch",
        "straight",
        "button out",
        "button in",
        "over the arch, button out",
        "over the arch, button in",
        "straight, button out",
        "straight, button in",
    }
    bridge = next(measure for measure in measures_for("violin") if measure.key == "bridge_height")
    assert bridge.methods == ()


def test_an_unknown_kind_is_refused_with_the_nearest() -> None:
    with pytest.raises(NotFound, match="nearest is violin"):
        measures_for("violn")
    with pytest.raises(NotFound, match="other"):
        fittings_for("zzz")


def test_words_of_keys_that_are_in_no_set_are_the_keys() -> None:
    assert measure_words("string_length") == "vibrating string length"
    assert part_words("frets") == "frets"
    assert measure_words("scroll height") == "scroll height"
    assert part_words("armrest") == "armrest"


def test_every_word_is_named_once_for_translation() -> None:
    words = sets().words
    assert len(set(words)) == len(words)
    assert {"body length", "over the arch", "tailpiece"} <= set(words)


@pytest.mark.parametrize(
    "text",
    [
        "this is no toml [",
        "[measures]\n[fittings]\n[kinds.violin]\nmeasures = ['stop']\nfittings = []",
        "[measures]\n[fittings]",
        "measures = 1\nfittings = 2\nkinds = 3",
    ],
)
def test_broken_sets_are_trouble_in_words(text: str) -> None:
    with pytest.raises(Trouble, match="Install the program again"):
        parse_sets(text)
