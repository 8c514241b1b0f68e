"""An instrument by what is scanned or typed: its number, its entry, its serial, a claim number, or a paper's code."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from typing import TYPE_CHECKING

from sqlalchemy import func, or_, select

from shopledger.model import Instrument, Job, Paper, Stay
from shopledger.papers.marks import read_mark
from shopledger.quantities.errors import NotFound, Typed
from shopledger.quantities.words import N_
from shopledger.queries.declared import instrument_words
from shopledger.rules.claims import looks_like_claim, read_claim
from shopledger.rules.series import SERIES

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

LONGEST = 300
"""Letters of what is scanned: a paper's code has fewer than a hundred."""
_COUNTED = re.compile(r"(?:no\.?\s*)?0*([1-9][0-9]{0,8})", re.IGNORECASE)
_ENTRY = re.compile(r"ti\s*([0-9]{4})\s*-\s*([0-9]{1,9})", re.IGNORECASE)


def plain_code(typed: str) -> str:
    """Give what was scanned without what a scanner puts around it: signs of control, blanks, full-width letters."""
    plain = unicodedata.normalize("NFKC", typed)
    kept = "".join(letter if unicodedata.category(letter)[0] != "C" else " " for letter in plain)
    return " ".join(kept.split())


def instrument_by_code(reading: Reading, typed: str, field: str = "code") -> int:
    """Give the instrument that is meant.

    Raises: Typed: nothing was typed, it is too long, or a claim number with a slip. NotFound: nothing here is called
            so. Typed: several are.
    """
    code = plain_code(typed)
    if not code or len(code) > LONGEST:
        raise Typed(
            N_("Scan a number, or type one: that of an instrument, its serial, or a claim number."),
            field=field,
        )
    found = list(dict.fromkeys(_meant(reading, code, typed.strip())))
    if not found and looks_like_claim(code):
        try:
            read_claim(code)
        except Typed as error:
            error.field = field
            raise
    if not found:
        raise NotFound(
            N_("Nothing in this ledger has the number or serial “{code}”."), field=field, code=code[:60]
        )
    if len(found) > 1:
        words = instrument_words(reading, found)
        raise Typed(
            N_("“{code}” may be {several}: type the number that begins with “No.”."),
            field=field,
            code=code,
            several=" / ".join(words[key] for key in sorted(found)),
        )
    return found[0]


def _meant(reading: Reading, code: str, as_typed: str) -> Iterator[int]:
    """Give every instrument that a code may mean, one or several times."""
    ask = reading.session.scalars
    counted = _COUNTED.fullmatch(code)
    if counted is not None:
        number = SERIES["instrument"].write(0, int(counted[1]))
        yield from ask(select(Instrument.id).where(Instrument.number == number))
        if code[:1] in "nN":
            return
    entry = _ENTRY.fullmatch(code)
    if entry is not None:
        number = SERIES["stay"].write(int(entry[1]), int(entry[2]))
        yield from ask(select(Stay.instrument_id).where(Stay.number == number))
    # Case and outer blanks don't tell two serials apart; letters that a database can't fold stand as they were typed.
    serial = func.trim(Instrument.serial)
    yield from ask(
        select(Instrument.id).where(
            Instrument.serial != "",
            or_(func.lower(serial) == code.lower(), serial.in_((code, as_typed))),
        )
    )
    if looks_like_claim(code):
        try:
            claim = read_claim(code)
        except Typed:
            return
        yield from ask(select(Job.instrument_id).where(Job.number == claim))
    try:
        paper, _digest = read_mark(code)
    except Typed:
        return
    yield from (
        key for key in ask(select(Paper.instrument_id).where(Paper.number == paper)) if key is not None
    )
