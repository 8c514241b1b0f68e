"""Errors as the window says them: a sentence of the ledger, or a fault of the program said plainly."""

from __future__ import annotations

from shopledger.quantities.errors import LedgerError
from shopledger.quantities.manners import Manners
from shopledger.quantities.words import _


def sentence(error: Exception, manners: Manners, label: str = "") -> str:
    """Give the sentence for an error; `label` is the marked word of the input it is about, where there is one.

    Shape:  what isn't one of the ledger's own errors is the program's fault, and the sentence says so: nothing was
            booked, nothing typed is lost.
    """
    if isinstance(error, LedgerError):
        if label:
            error.values["field"] = error.values["label"] = _(label)
        return error.sentence(manners)
    return _(
        "This is a fault of the program, not yours: {what}. Nothing was booked by it, and what you typed is still"
        " here. Close the program, open it again, and report the fault with these words."
    ).format(what=f"{type(error).__name__}: {error}"[:300])
