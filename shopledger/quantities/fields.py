"""The declaration of a field: said once beside the column or the act's input, and everything else derives from it.

Forms, tables, sheets, search, CSV columns, checks and the handbook's tables read these declarations; none of them
keeps a list of its own.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import MISSING, dataclass, fields
from dataclasses import field as dataclass_field
from enum import Enum
from typing import Any

from shopledger.quantities.errors import Typed
from shopledger.quantities.words import N_


class Kind(Enum):
    """What sort of value a field holds, and so how it is typed, shown, sorted and stored."""

    TEXT = "text"
    """One line of words: `str`."""
    LINES = "lines"
    """Several lines of words: `str` with line feeds."""
    MONEY = "money"
    """An amount in the ledger's currency: `Money` in forms, minor units in columns."""
    RATE = "rate"
    """A share of one: `Fraction` in forms, its own exact text in columns."""
    LENGTH = "length"
    """A length shown as it was typed: `Length`."""
    MEASURED = "measured"
    """A figure in the unit of the measure beside it: `Length`, `Mass`, `Angle`, or `str` as typed, read by the act."""
    DAY = "day"
    """A day of the shop's calendar: `datetime.date`."""
    COUNT = "count"
    """A whole number that is not below zero: `int`."""
    CHOICE = "choice"
    """One of the codes in `choices`: `str`."""
    YES_NO = "yes_no"
    """`bool`."""
    PERSON = "person"
    """A person of the ledger: the id, an `int`."""
    INSTRUMENT = "instrument"
    """An instrument of the ledger: the id, an `int`."""
    GOODS = "goods"
    """A sort of part or accessory: the id, an `int`."""
    WORK = "work"
    """A line of the shop's own price list of work: the id, an `int`."""
    PICTURES = "pictures"
    """Files of photographs to keep: a tuple of `bytes`."""
    SCAN = "scan"
    """A file to keep as it is (a scanned, signed paper): `bytes`."""
    GROUP = "group"
    """A record of its own in the form (`of`): a mapping of the names of its fields to values."""
    ROWS = "rows"
    """A list of rows (`of`): a tuple of instances of that form."""


Check = Callable[[Any], None]
"""Raises `Typed` when a value can't be so; is given the value, never None."""


@dataclass(frozen=True, slots=True)
class Field:
    """One thing that a person can type or read: its words, kind and checks.

    Shape:  `label`, `help` and the second of each pair in `choices` are marked words (N_), translated when shown;
            `unit` is shown behind the value; `of` is the form of a GROUP or of each of the ROWS.
    """

    label: str
    kind: Kind = Kind.TEXT
    unit: str = ""
    required: bool = False
    in_table: bool = False
    lesser: bool = False
    """Of what stands in tables: left out first where not every column has the room it needs."""
    searchable: bool = False
    help: str = ""
    checks: tuple[Check, ...] = ()
    choices: tuple[tuple[str, str], ...] = ()
    of: type | None = None
    given: bool = False
    """True where the program gives the value: shown, never typed."""
    under: str = ""
    """The heading under which a form folds it away, since it isn't usually needed; marked words."""
    first: tuple[str, ...] = ()
    """Of a GROUP: the names of the fields that are usually needed; all others are folded away. Empty: none is."""
    new_in: str = ""
    """Of what is chosen by name: the GROUP beside it into which one goes who isn't in the ledger yet."""
    listed: Callable[[str], tuple[tuple[str, str], ...]] | None = None
    """Of a TEXT: gives the codes with their marked words that it is chosen from, for a kind of instrument."""
    asked_with: tuple[str, tuple[str, ...]] = ("", ())
    """The CHOICE beside it and those of its codes with which it is asked; with others it has its usual value."""
    pins: str = ""
    """Of ROWS that can stand on photographs: the PICTURES beside them."""
    personal: bool = False
    """True where the value is about a person and an erasure must empty it."""

    def choice_word(self, code: str | None) -> str:
        """Give the marked word of a code of this field, or the code itself where it is none of them."""
        return dict(self.choices).get(code or "", code or "")

    def check(self, name: str, value: object) -> None:
        """Refuse a value that is missing though required, is no choice, or fails a check.

        Raises: Typed, with the field's name.
        """
        if value is None or value == "" or value == ():
            if self.required:
                raise Typed(N_("{label} is missing: it has to be given."), field=name, label=self.label)
            return
        if self.kind is Kind.CHOICE and value not in dict(self.choices):
            raise Typed(
                N_("{label} can't be “{value}”: choose one of {choices}."),
                field=name,
                label=self.label,
                value=str(value),
                choices=", ".join(code for code, _word in self.choices),
            )
        if self.kind in {Kind.TEXT, Kind.LINES} and isinstance(value, str):
            _check_text(self, name, value)
        if self.kind is Kind.COUNT and isinstance(value, int) and not 0 <= value <= 10**12:
            raise Typed(N_("{label} has to be a whole number from 0 up."), field=name, label=self.label)
        for one in self.checks:
            try:
                one(value)
            except Typed as error:
                error.field = error.field or name
                error.values.setdefault("label", self.label)
                raise


LONGEST_LINE = 400
LONGEST_TEXT = 20_000


def _check_text(field: Field, name: str, value: str) -> None:
    limit = LONGEST_LINE if field.kind is Kind.TEXT else LONGEST_TEXT
    if len(value) > limit:
        raise Typed(
            N_("{label} is {n} characters long: at most {limit} are kept."),
            field=name,
            label=field.label,
            n=len(value),
            limit=limit,
        )
    if any(ord(letter) < 32 and letter not in "\n\t" for letter in value) or "\x7f" in value:
        raise Typed(N_("{label} holds a control character: type it without."), field=name, label=field.label)
    if any(0xD800 <= ord(letter) <= 0xDFFF for letter in value):
        raise Typed(N_("{label} holds half a character: type it anew."), field=name, label=field.label)


def ask(field: Field, default: Any = MISSING) -> Any:
    """Declare an input of an act's form: a dataclass field that carries the declaration.

    An input that isn't required and has no default of its own defaults to None (YES_NO to False, ROWS and PICTURES
    to an empty tuple, GROUP to an empty mapping).
    """
    if default is MISSING and not field.required:
        if field.kind is Kind.YES_NO:
            default = False
        elif field.kind in {Kind.ROWS, Kind.PICTURES}:
            default = ()
        elif field.kind is Kind.GROUP:
            return dataclass_field(default_factory=dict, metadata={"field": field})
        else:
            default = None
    if default is MISSING:
        return dataclass_field(metadata={"field": field})
    return dataclass_field(default=default, metadata={"field": field})


def inputs(form: type) -> Mapping[str, Field]:
    """Give the declared inputs of a form in their order, by name."""
    return {f.name: f.metadata["field"] for f in fields(form) if "field" in f.metadata}


def check_inputs(form: object) -> None:
    """Check every declared input of a form's instance, rows of rows included.

    Raises: Typed: the first input that can't be so; the field is its path, as `costs[1].amount`.
    """
    for name, field in inputs(type(form)).items():
        value = getattr(form, name)
        field.check(name, value)
        if field.kind is Kind.ROWS:
            for n, row in enumerate(value):
                try:
                    check_inputs(row)
                except Typed as error:
                    error.field = f"{name}[{n}].{error.field}"
                    raise
