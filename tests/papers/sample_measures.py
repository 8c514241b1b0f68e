"""Samples of the measurement sheet: an ordinary, a long and an empty case."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from shopledger.papers.measurement_sheet import (
    FeelFacts,
    HandbookFacts,
    MeasurementSheetFacts,
    ReadingFacts,
)
from shopledger.papers.parts import PaperFacts, ShopFacts
from shopledger.papers.workshop import ThingFacts
from tests.papers.sample_things import LONG_NAME, every_paper

BACKS = "aitchisoncellos.com, Cello measurement guide"
STRINGS = "Journal of the American Viola Society 41/1 (2025), Viola Fit"
TABLE = (
    "indianetzone.com, Sizes of Cello, approximate dimensions of a 4/4 cello; a general table, not a maker's"
)
BODY = ReadingFacts(
    label="Body length",
    typed="752 mm",
    other="≈ 29 39/64 in",
    method="over the arch, button out",
    taken_on=date(2026, 3, 4),
    taken_by="Aldous Fenwright",
    before="754 mm",
    before_on=date(2019, 9, 2),
    before_method="over the arch",
    grown="−2 mm",
    handbook=(HandbookFacts(words="4/4: 760 mm, up to 10 mm either way (over the arch)", source=1),),
)
STRING = ReadingFacts(
    label="Vibrating string length",
    typed="27 3/16 in",
    other="≈ 690.6 mm",
    taken_on=date(2026, 3, 4),
    taken_by="Aldous Fenwright",
    handbook=(HandbookFacts(words="4/4: about 690 to 695 mm", source=2),),
)
WEIGHT = ReadingFacts(
    label="Weight", typed="2.81 kg", other="≈ 6.19 lb", method="with fittings", taken_on=date(2026, 3, 4)
)
FEELS = (
    FeelFacts(
        label="String length",
        figure="27 3/16 in",
        says="Feels like 4/4.",
        compared="4/4: about 690 to 695 mm",
        sources=(2,),
    ),
    FeelFacts(label="Stop", figure="", says="Not measured."),
    FeelFacts(
        label="Body",
        figure="752 mm",
        says="Feels like 4/4.",
        compared="3/4: 690 mm, up to 10 mm either way; 7/8: 730 mm, up to 10 mm either way; 4/4: 760 mm, up to"
        " 10 mm either way",
        sources=(1,),
        notes=("The handbook takes it over the arch.",),
    ),
    FeelFacts(
        label="Width of the upper bout",
        figure="352 mm",
        says="Larger than 4/4, by 12 mm; no other size is given.",
        compared="4/4: about 340 mm",
        sources=(3,),
    ),
)


def measures_ordinary(shop: ShopFacts) -> dict[str, PaperFacts]:
    """Give an ordinary measurement sheet."""
    return {
        "measurement_sheet": MeasurementSheetFacts(
            **every_paper("MS 2026-004", shop),
            thing=ThingFacts(
                number="No. 014", name="Cello, 4/4, 4 strings", maker="made by Aldous Fenwright, 1987"
            ),
            readings=(BODY, STRING, WEIGHT),
            feels=FEELS,
            sources=(BACKS, STRINGS, TABLE),
            note="The neck was reset in 2019.",
        )
    }


def measures_long(shop: ShopFacts) -> dict[str, PaperFacts]:
    """Give one of forty readings with long names."""
    sheet = measures_ordinary(shop)["measurement_sheet"]
    assert isinstance(sheet, MeasurementSheetFacts)
    reading = replace(BODY, taken_by=LONG_NAME, handbook=BODY.handbook * 2)
    return {
        "measurement_sheet": replace(
            sheet,
            thing=replace(sheet.thing, maker=LONG_NAME),
            readings=(reading, STRING, WEIGHT) * 14,
            feels=FEELS,
            note="Measured by lamplight, and again by day. " * 60,
        )
    }


def measures_empty(shop: ShopFacts) -> dict[str, PaperFacts]:
    """Give one with nothing in it that may be left out."""
    return {
        "measurement_sheet": MeasurementSheetFacts(
            number="MS 1",
            issued_on=date(2026, 1, 1),
            shop=shop,
            thing=ThingFacts(number="No. 001", name="Bow"),
            readings=(),
        )
    }
