"""Of which components an instrument or bow is made, by its kind; and the names of materials to choose from.

The components are the trade's own, from memory; any other may be typed.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from shopledger.quantities.words import N_, _
from shopledger.rules.materials_data import materials

COMPONENT_WORDS: Mapping[str, str] = MappingProxyType(
    {
        "top": N_("top"),
        "back_ribs": N_("back and ribs"),
        "neck": N_("neck and head"),
        "fingerboard": N_("fingerboard"),
        "nut": N_("nut"),
        "pegs": N_("pegs"),
        "tailpiece": N_("tailpiece"),
        "saddle": N_("saddle"),
        "end_button": N_("end button or end pin"),
        "bridge": N_("bridge"),
        "frets": N_("frets"),
        "purfling": N_("purfling"),
        "inlay": N_("inlay"),
        "ornament": N_("carving or ornament"),
        "chin_rest": N_("chin rest"),
        "bow_stick": N_("bow stick"),
        "frog": N_("frog"),
        "slide": N_("slide and eyes of the frog"),
        "tip": N_("tip"),
        "button": N_("button"),
        "mount": N_("mounts"),
        "grip": N_("grip"),
        "winding": N_("winding"),
        "hair": N_("hair"),
        "shell": N_("shell of the case"),
        "covering": N_("covering"),
        "lining": N_("lining"),
        "handle": N_("handle and fittings"),
    }
)
"""The marked words of each component by the code under which it is kept."""

_BODY = ("top", "back_ribs", "neck", "fingerboard", "nut", "pegs", "tailpiece", "saddle", "end_button")
_BODY_MORE = ("bridge", "purfling", "inlay", "ornament")
_USUAL: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "violin": _BODY,
        "viola": _BODY,
        "cello": _BODY,
        "piccolo_cello": _BODY,
        "double_bass": _BODY,
        "viola_da_gamba": _BODY,
        "bow": ("bow_stick", "frog", "slide", "tip", "button", "mount", "grip", "winding", "hair"),
        "case": ("shell", "covering", "lining", "handle"),
    }
)
_MORE: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "violin": (*_BODY_MORE, "chin_rest"),
        "viola": (*_BODY_MORE, "chin_rest"),
        "cello": _BODY_MORE,
        "piccolo_cello": _BODY_MORE,
        "double_bass": _BODY_MORE,
        "viola_da_gamba": ("frets", *_BODY_MORE),
        "bow": ("inlay", "ornament"),
    }
)


def usual_components(kind: str) -> tuple[str, ...]:
    """Give the codes of the components that everything of a kind has; none of a kind that isn't known."""
    return _USUAL.get(kind, ())


def components_listed(kind: str) -> tuple[tuple[str, str], ...]:
    """Give the components to choose from with their marked words: those of a kind, or all where it isn't known."""
    codes = (*_USUAL.get(kind, ()), *_MORE.get(kind, ())) or tuple(COMPONENT_WORDS)
    return tuple((code, COMPONENT_WORDS[code]) for code in codes)


def read_component(typed: str) -> str:
    """Give the code of a component typed by its code or its words; other words as they are."""
    said = " ".join(typed.split())
    for code, words in COMPONENT_WORDS.items():
        if said.casefold() in (code, _(words).casefold(), words.casefold()):
            return code
    return said


def component_words(kept: str) -> str:
    """Give a component in the reader's words."""
    return _(COMPONENT_WORDS[kept]) if kept in COMPONENT_WORDS else kept


def species_listed(_kind: str) -> tuple[tuple[str, str], ...]:
    """Give the names that surely mean one species, to choose from; each is its own code."""
    names = [name for species in materials().species.values() for name in species.also]
    return tuple((name, name) for name in sorted(set(names), key=str.casefold))
