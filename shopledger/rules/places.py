"""Places by their codes of ISO 3166: countries, and the parts of those whose parts are known."""

from __future__ import annotations

import re
from functools import cache

from shopledger.quantities.assets import asset
from shopledger.quantities.errors import Typed
from shopledger.quantities.numbers import brief, nearest
from shopledger.quantities.words import N_

_PLACE = re.compile(r"[A-Z]{2}(-[A-Z0-9]{1,3})?")


def read_place(text: str, field: str) -> str:
    """Give the code of a place as people type it, in small or capital letters; "" where nothing is typed.

    Raises:  Typed: no such code, or no such part of a country whose parts are known; the nearest is named.
    """
    code = "".join(text.split()).upper()
    return known_place(code, field) if code else ""


def check_place(text: str) -> None:
    """Refuse a place that is none, as a check of a field.

    Raises:  Typed, as `read_place`, about no field yet.
    """
    read_place(text, "")


def known_place(code: str, field: str) -> str:
    """Give a code of ISO 3166.

    Raises:  Typed, as `read_place`.
    """
    countries, parts_of = known_places()
    country, _sign, within = code.partition("-")
    if not _PLACE.fullmatch(code) or country not in countries:
        near = nearest(code.upper(), countries)
        raise Typed(
            N_("“{code}” is no place of ISO 3166. Write it as {example}."),
            field=field,
            code=brief(code),
            example="GB" if code.upper() == "UK" else near or "US, US-CA",
        )
    if within and country in parts_of and within not in parts_of[country]:
        raise Typed(
            N_("“{code}” is no part of {country} in ISO 3166. Write one such as {near}."),
            field=field,
            code=code,
            country=country,
            near=f"{country}-{nearest(within, parts_of[country]) or parts_of[country][0]}",
        )
    return code


@cache
def known_places() -> tuple[tuple[str, ...], dict[str, tuple[str, ...]]]:
    """Give the codes of the countries, and of the parts of those whose parts are known; read once."""
    import tomllib

    written = tomllib.loads(asset("materials", "places.toml").read_text(encoding="utf-8"))
    parts = {country: tuple(codes.split()) for country, codes in written["parts"].items()}
    return tuple(written["countries"].split()), parts
