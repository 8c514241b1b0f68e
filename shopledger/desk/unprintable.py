"""What of a paper can't be printed, told over its pages."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtWidgets import QLabel

from shopledger.desk.labels import CELL, GROUP, label
from shopledger.quantities.words import _


def unprintable_words(lines: Iterable[str]) -> QLabel | None:
    """Give the words on letters that the papers' type lacks, by a line for each text; None where there are none."""
    told = list(dict.fromkeys(lines))
    if not told:
        return None
    words = _(
        "Some letters can't be printed, since the papers' type lacks them. A hollow square stands for each on paper;"
        " the ledger keeps them as they were typed. To have them read there too, write them in Latin letters beside."
    )
    made = label("\n".join([words, *told]), tone="ochre", select=True)
    made.setObjectName("unprintable")
    made.setContentsMargins(GROUP, 0, GROUP, CELL)
    return made
