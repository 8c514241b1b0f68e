"""One command prints every ratio and gap that the program is held to: `python -m tests.bench [NAME …]`."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable

from tests.bench.measuring import Gap, Ratio

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")


def _version() -> Ratio:
    from tests.bench.starting import version

    return version()


def _window() -> Ratio:
    from tests.bench.showing import first_table

    return first_table()


def _invoice() -> Ratio:
    from tests.bench.invoice import one_invoice

    return one_invoice()


def _act() -> Ratio:
    from tests.bench.acting import act_beside_rows

    return act_beside_rows()


def _photograph() -> Gap:
    from tests.bench.photographs import one_photograph

    return one_photograph()


def _photographs() -> Gap:
    from tests.bench.photographs import many_photographs

    return many_photographs()


def _today() -> Ratio:
    from tests.bench.gathering import page_of_the_day

    return page_of_the_day()


def _wanted() -> Ratio:
    from tests.bench.ranking import wish_ranked

    return wish_ranked()


BENCHES: dict[str, Callable[[], Ratio | Gap]] = {
    "version": _version,
    "window": _window,
    "invoice": _invoice,
    "act": _act,
    "today": _today,
    "wanted": _wanted,
    "photograph": _photograph,
    "photographs": _photographs,
}


def main(wanted: list[str]) -> int:
    """Print what is wanted, all where none is named; 1 where one is above its bound."""
    unknown = [name for name in wanted if name not in BENCHES]
    if unknown:
        print(f"There is no bench {unknown[0]}; there are {', '.join(BENCHES)}.", file=sys.stderr)
        return 2
    within = True
    for name in wanted or BENCHES:
        measured = BENCHES[name]()
        print(measured.line(), flush=True)
        within &= measured.within
    return 0 if within else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
