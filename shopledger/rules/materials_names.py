"""What a name of a material means: one species for sure, one of several, or nothing that is known here."""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping
from functools import cache

from shopledger.quantities.numbers import nearest
from shopledger.rules.materials_data import Materials, Species, Vague, materials


def meaning_of(name: str, known: Materials | None = None) -> Species | Vague | None:
    """Give the species that a scientific or trade name surely means, the vague name it is, or None.

    Shape:  capitals, hyphens, double spaces and a last full stop make no difference; nothing is guessed from a
            similar name.
    """
    names = _names() if known is None else _names_of(known)
    return names.get(_plain(name))


def nearest_name(name: str) -> str | None:
    """Give the known name that looks most like this one, None where none is near."""
    return nearest(name, [each for species in materials().species.values() for each in species.also])


def _plain(name: str) -> str:
    letters = unicodedata.normalize("NFKC", name).casefold().replace("-", " ").replace("_", " ")
    return " ".join(letters.split()).removesuffix(".")


def _names_of(known: Materials) -> Mapping[str, Species | Vague]:
    names: dict[str, Species | Vague] = {
        _plain(name): species for species in known.species.values() for name in (species.name, *species.also)
    }
    # A name that is called vague is vague, whatever else it stands under.
    names.update({_plain(name): vague for vague in known.vague for name in vague.names})
    return names


@cache
def _names() -> Mapping[str, Species | Vague]:
    return _names_of(materials())
