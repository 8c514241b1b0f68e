"""What some of the example's instruments and bows are made of, as far as anybody knows; a statement of one of them."""

from __future__ import annotations

from datetime import date

from shopledger.acts.materials import ComponentRow, EvidenceRow
from shopledger.example.telling import Teller, Thread, day

COUNTRY = "PT"


def _sure(component: str, material: str, species: str, *evidence: EvidenceRow) -> ComponentRow:
    return ComponentRow(
        component=component, material=material, species=species, is_certain=True, evidence=evidence
    )


def _thought(component: str, material: str = "", species: str = "", mass: str = "") -> ComponentRow:
    return ComponentRow(component=component, material=material, species=species, mass=mass)


def _seen(words: str, on: date) -> EvidenceRow:
    return EvidenceRow(sort="opinion", what=words, dated_on=on, place="Saltmere")


OLD_BOW = (
    _sure(
        "bow_stick",
        "pernambuco",
        "Paubrasilia echinata",
        _seen("Elias Merrow, by colour, weight and grain", day("2025-01-28")),
    ),
    _thought("frog", "ebony"),
    _thought("slide", "mother-of-pearl"),
    _thought("tip", "ivory or bone: not told apart", mass="0.4 g"),
    _sure("winding", "silver wire", "silver"),
    _thought("grip", "lizard"),
)
OWN_BOW = (
    _sure(
        "bow_stick",
        "pernambuco",
        "Paubrasilia echinata",
        EvidenceRow(
            sort="receipt",
            what="Six stick blanks, bought of Ridgeway Tonewood",
            dated_on=day("1991-05-14"),
            place="Wrackport",
        ),
    ),
    _thought("frog", "ebony"),
    _sure("tip", "ox bone", "bone"),
    _sure("winding", "silver wire", "silver"),
)
CARBON_BOW = (
    _sure("bow_stick", "carbon, veneered", "carbon fibre"),
    _thought("frog", "ebony"),
    _sure("tip", "steel", "steel"),
)
ASKED_ABOUT = (
    _thought("bow_stick", "pernambuco", "Paubrasilia echinata"),
    _thought("tip", "ivory or bone: not known", mass="0.5 g"),
)
CELLO = (
    _sure("top", "spruce", "Picea abies"),
    _sure("back_ribs", "maple", "Acer pseudoplatanus"),
    _thought("fingerboard", "ebony"),
    _thought("pegs", "rosewood"),
    _thought("tailpiece", "ebony"),
)
VIOL = (
    _sure("top", "spruce", "Picea abies"),
    _sure("back_ribs", "maple", "Acer pseudoplatanus"),
    _sure("fingerboard", "maple, veneered", "maple"),
    _sure("nut", "bone", "bone"),
    _thought("inlay"),
)


def what_things_are_made_of(teller: Teller) -> Thread:
    """The shop says where it is; bows and instruments are gone through; a statement is made before a sale abroad."""
    yield day("2024-11-19")
    teller.do("set_country", country=COUNTRY)
    yield day("2025-01-28")
    _record(teller, "sea-bow", OLD_BOW)
    yield day("2026-03-10")
    for key, rows in (("own-bow", CARBON_BOW), ("tidewell", CELLO), ("fenwraith", VIOL)):
        _record(teller, key, rows)
    yield day("2026-03-11")
    teller.do(
        "state_materials",
        instrument_id=teller.things["sea-bow"],
        act="sale_abroad",
        act_on=teller.clock.today,
        from_place=COUNTRY,
        to_place="CH",
    )
    yield day("2026-05-26")
    _record(teller, "keep-bow", OWN_BOW)
    yield day("2026-09-29")
    _record(teller, "thole-bow", ASKED_ABOUT)


def _record(teller: Teller, key: str, rows: tuple[ComponentRow, ...]) -> None:
    teller.do("record_materials", instrument_id=teller.things[key], components=rows)
