"""Currencies of ISO 4217: which codes there are and how many decimals each has.

The figures come from the package `iso4217`, which carries the published table; it is read at the first
question, since the commands that need no money should not wait for it.
"""

from __future__ import annotations

from functools import cache

from shopledger.quantities.errors import Typed
from shopledger.quantities.numbers import brief, nearest
from shopledger.quantities.words import N_


@cache
def _minor_units_by_code() -> dict[str, int]:
    """Give the number of decimals of every currency that has minor units (gold and test codes have none)."""
    from iso4217 import raw_table

    return {
        code: int(str(row["CcyMnrUnts"]))
        for code, row in raw_table.items()
        if code is not None and str(row["CcyMnrUnts"]).isdigit()
    }


def known(code: str) -> bool:
    """Tell whether the code is a currency of ISO 4217 in which an amount can be counted."""
    return code in _minor_units_by_code()


def codes() -> tuple[str, ...]:
    """Give every known code in alphabetical order, for a list to choose from."""
    return tuple(sorted(_minor_units_by_code()))


def minor_units(code: str, *, field: str = "currency") -> int:
    """Give the number of decimals of a currency: 2 for USD, 0 for JPY, 3 for KWD.

    Raises:  Typed where ISO 4217 does not know the code; the nearest known one is named.
    Source:  the table of ISO 4217 as the package `iso4217` carries it.
    """
    units = _minor_units_by_code().get(code)
    if units is not None:
        return units
    near = nearest(code, _minor_units_by_code())
    if near is not None:
        raise Typed(
            N_("“{code}” is no currency of ISO 4217 to count money in. The nearest is {near}."),
            field=field,
            code=brief(code),
            near=near,
        )
    raise Typed(
        N_("“{code}” is no currency of ISO 4217. Write its code in three capitals, such as USD or EUR."),
        field=field,
        code=brief(code),
    )
