"""Values of cells and facts as words, in the reader's manners."""

from __future__ import annotations

import re
import textwrap

from shopledger.quantities.fields import Field, Kind
from shopledger.quantities.manners import Manners, Shown
from shopledger.quantities.money import Money
from shopledger.quantities.showing import show_amount, show_value
from shopledger.quantities.words import _
from shopledger.queries.shapes import State

_UNBROKEN = re.compile(r"\S{45,}")


def cell_words(value: object, manners: Manners) -> str:
    """Give the words of a table's cell: an amount without its currency, since that stands once in the head."""
    if isinstance(value, Money):
        return show_amount(value, manners)
    return fact_words(value, manners)


def fact_words(value: object, manners: Manners) -> str:
    """Give the words of a fact: an amount with its currency, nothing as an en dash left out."""
    if value is None:
        return ""
    if isinstance(value, State):
        return _(value.word)
    if isinstance(value, bool):
        return _("yes") if value else _("no")
    return show_value(value, manners)


def broken(words: str) -> str:
    """Give the words with those that are too long for a line, such as a digest, set over several."""
    return _UNBROKEN.sub(lambda found: "\n".join(textwrap.wrap(found[0], 32)), words)


def quiet_words(value: object, quiet: str, manners: Manners) -> str:
    """Give what stands in quiet ink behind a fact: what it says itself, else the other unit of a length."""
    if quiet or not isinstance(value, Shown):
        return quiet
    # Loaded with the first sheet that has measures on it.
    from shopledger.quantities.lengths import Length, other_unit

    return other_unit(value, manners) if isinstance(value, Length) else quiet


def head_words(label: str, kind: Kind, currency: str) -> str:
    """Give the words of a column's head; one of amounts names the currency, once for all its cells."""
    return f"{_(label)}, {currency}" if kind is Kind.MONEY else _(label)


def typed_words(field: Field, value: object, manners: Manners) -> str:
    """Give a value as it would be typed into an input, so that it can be edited and read again."""
    if value is None:
        return ""
    if isinstance(value, Money):
        return show_amount(value, manners, dash=False)
    if field.kind is Kind.COUNT:
        return str(value)
    return show_value(value, manners)
