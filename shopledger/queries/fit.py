"""Which standard size an instrument feels like, for its page and papers, each figure with what it was held against."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from shopledger.quantities.lengths import Length
from shopledger.quantities.words import _
from shopledger.queries.readings import Key, Taken, newest_readings
from shopledger.queries.sheet_shapes import Fact
from shopledger.rules import fit as rules
from shopledger.rules.fit import Feel, Verdict
from shopledger.rules.handbook import sources_of, told

if TYPE_CHECKING:
    from shopledger.quantities.manners import Manners
    from shopledger.store.unit import Reading


def fit_of(
    reading: Reading, instrument_id: int, kind: str, newest: Mapping[Key, Taken] | None = None
) -> tuple[Feel, ...]:
    """Give what an instrument feels like by each of the five; `newest` are its readings where they are at hand."""
    if kind not in rules.SIZED_KINDS:
        return ()
    taken = {
        key: rules.Taken(one.figure, one.method)
        for key, one in (newest or newest_readings(reading, instrument_id)).items()
        if isinstance(one.figure, Length)
    }
    return rules.fit(kind, taken, reading.ledger.manners)


def compared_words(feel: Feel, manners: Manners) -> str:
    """Say with what a figure was compared: the handbook's figures by their sizes; nothing where there are none."""
    return told(feel.used, manners)


def feel_facts(reading: Reading, instrument_id: int, kind: str) -> tuple[Fact, ...]:
    """Give for a page what was measured and feels like a size, each by itself; nothing where nothing was measured."""
    manners = reading.ledger.manners
    feels = [
        feel for feel in fit_of(reading, instrument_id, kind) if feel.verdict is not Verdict.NOT_MEASURED
    ]
    return tuple(
        Fact(feel.words, feel.said(manners), "; ".join(part for part in _behind(feel, manners) if part))
        for feel in feels
    )


def _behind(feel: Feel, manners: Manners) -> tuple[str, ...]:
    compared = compared_words(feel, manners)
    handbook = ""
    if compared:
        handbook = _("handbook: {values} [{sources}]").format(
            values=compared, sources="; ".join(sources_of(feel.used))
        )
    return feel.typed, feel.how, handbook, *feel.cautions
