"""The written form of a case, read strictly: JSON objects whose values are handed out by kind.

Nothing is guessed: a key twice, an unknown key or a value of the wrong kind is refused with its path, and the sentence
says what would be right. Null stands for a key that is left out. Limits keep a hostile file from holding the machine.
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Self, TypeVar

from shopledger.quantities.errors import LedgerError, Typed
from shopledger.quantities.numbers import brief, nearest
from shopledger.quantities.words import N_, _

LONGEST_TEXT = 500
LONGEST_LIST = 200
LONGEST_NUMBER = 100
MOST_OBJECTS = 100_000
WHOLE = "case"
"""The field of a refusal that is about a case as a whole."""

Choice = TypeVar("Choice", bound=StrEnum)

_DAY = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)


@dataclass(frozen=True, slots=True)
class Bounds:
    """What a number may be: from `least` to `most`, both included, or above `least` where it is `open_below`."""

    least: float
    most: float
    open_below: bool = False

    def hold(self, number: float) -> bool:
        """Tell whether the number is finite and within the bounds."""
        return self.least <= number <= self.most and not (self.open_below and number == self.least)


class NumberWritten(str):
    """A JSON number (also NaN and Infinity) kept as it was written: it is never turned into a number."""


class ObjectWritten(dict[str, object]):
    """A JSON object that remembers the first key that stood in it twice."""

    twice: str | None = None

    @classmethod
    def of_pairs(cls, pairs: Iterable[tuple[str, object]]) -> ObjectWritten:
        """Give the object, with the first key that came again."""
        written = cls()
        for key, value in pairs:
            if key in written and written.twice is None:
                written.twice = key
            written[key] = value
        return written


def parse_json(text: str) -> object:
    """Give what the text holds as objects, lists, text, numbers as written, true, false and null.

    Raises:  Typed where it is not JSON, nested beyond reason, or holds more objects than can be answered soon.
    """
    count = 0

    def counted(pairs: list[tuple[str, object]]) -> ObjectWritten:
        nonlocal count
        count += 1
        if count > MOST_OBJECTS:
            raise Typed(
                N_("This holds more than {most} objects. Divide it into several files."), most=MOST_OBJECTS
            )
        return ObjectWritten.of_pairs(pairs)

    try:
        written: object = json.loads(
            text,
            object_pairs_hook=counted,
            parse_int=NumberWritten,
            parse_float=NumberWritten,
            parse_constant=NumberWritten,
        )
    except json.JSONDecodeError as error:
        raise Typed(
            N_("This is not JSON: line {line}, column {column}: {what}. Correct it there."),
            line=error.lineno,
            column=error.colno,
            what=error.msg,
        ) from None
    except RecursionError:
        raise Typed(N_("This is nested far too deep. A case needs no more than five levels.")) from None
    return written


def line_of(error: LedgerError) -> str:
    """Give the refusal as one line that starts with the path of its field."""
    sentence = " ".join(error.sentence().split())
    return f"{error.field}: {sentence}" if error.field else sentence


class Form:
    """One object of the written form at its path: hands out its values by key, each of the kind asked for."""

    def __init__(self, written: object, path: str, known: tuple[str, ...]) -> None:
        """Take an object whose keys are all known and stand in it once.

        Raises:  Typed otherwise; the nearest known key is named.
        """
        self.path = path
        if not isinstance(written, ObjectWritten):
            raise Typed(
                N_("Here stands {kind}. Write an object with these keys: {known}."),
                field=path or WHOLE,
                kind=kind_of(written),
                known=known,
            )
        if written.twice is not None:
            raise Typed(
                N_("This key stands here twice. Keep one of the two."), field=self.at(brief(written.twice))
            )
        for key in written:
            if key not in known:
                raise _unknown_key(self.at(brief(key)), key, known)
        self._values = {key: value for key, value in written.items() if value is not None}

    def at(self, key: str) -> str:
        """Give the path of a key."""
        return f"{self.path}.{key}" if self.path else key

    def has(self, key: str) -> bool:
        """Tell whether the key is written with anything but null."""
        return key in self._values

    def missing(self, key: str, example: str) -> Typed:
        """Give the refusal of a form without the key."""
        return Typed(N_("This is missing. Write it, such as {example}."), field=self.at(key), example=example)

    def text(self, key: str) -> str | None:
        """Give a text of a bearable length, None where it is left out."""
        value = self._text(key, N_("text in quotes"))
        if value is None:
            return None
        if len(value) > LONGEST_TEXT:
            raise Typed(
                N_("This has {length} characters. Write at most {most}."),
                field=self.at(key),
                length=len(value),
                most=LONGEST_TEXT,
            )
        if any("\ud800" <= letter <= "\udfff" for letter in value):
            raise Typed(
                N_("This holds half a character (a lone surrogate). Write it anew."), field=self.at(key)
            )
        return value

    def number(self, key: str, within: Bounds) -> float | None:
        """Give a number within bounds, None where it is left out."""
        value = self._values.get(key)
        return None if value is None else number_of(value, self.at(key), within)

    def needed_number(self, key: str, within: Bounds, example: str) -> float:
        """Give a number within bounds that may not be left out."""
        value = self.number(key, within)
        if value is None:
            raise self.missing(key, example)
        return value

    def day(self, key: str) -> date | None:
        """Give a day written as YYYY-MM-DD, None where it is left out."""
        value = self._text(key, N_('the day as text, such as "2026-03-05"'))
        if value is None:
            return None
        try:
            day = date.fromisoformat(value) if _DAY.fullmatch(value) else None
        except ValueError:
            day = None
        if day is None:
            raise Typed(
                N_(
                    "“{typed}” is no day of the calendar. Write it as year, month and day, such as 2026-03-05."
                ),
                field=self.at(key),
                typed=brief(value),
            )
        return day

    def flag(self, key: str) -> bool | None:
        """Give true or false, None where it is left out."""
        value = self._values.get(key)
        if value is None or isinstance(value, bool):
            return value
        raise self._wrong_kind(key, N_("true or false, without quotes"))

    def choice(self, key: str, choices: type[Choice], default: Choice) -> Choice:
        """Give one of the words allowed, the default where it is left out."""
        value = self._text(key, N_("one of the words allowed, in quotes"))
        return default if value is None else one_of(value, choices, self.at(key))

    def form(self, key: str, known: tuple[str, ...]) -> Self | None:
        """Give the object under a key, None where it is left out."""
        return type(self)(self._values[key], self.at(key), known) if key in self._values else None

    def needed_form(self, key: str, known: tuple[str, ...], example: str) -> Self:
        """Give the object under a key that may not be left out."""
        value = self.form(key, known)
        if value is None:
            raise self.missing(key, example)
        return value

    def items(self, key: str) -> list[tuple[str, object]] | None:
        """Give the members of a list, each with its path; None where it is left out."""
        value = self._values.get(key)
        if value is None:
            return None
        if not isinstance(value, list):
            raise self._wrong_kind(key, N_("a list in square brackets"))
        if len(value) > LONGEST_LIST:
            raise Typed(
                N_("This list has {length} members. Write at most {most}."),
                field=self.at(key),
                length=len(value),
                most=LONGEST_LIST,
            )
        return [(f"{self.at(key)}[{n}]", member) for n, member in enumerate(value)]

    def _text(self, key: str, right: str) -> str | None:
        """Give a text under the key; a number is not text."""
        value = self._values.get(key)
        if value is None or (isinstance(value, str) and not isinstance(value, NumberWritten)):
            return value
        raise self._wrong_kind(key, right)

    def _wrong_kind(self, key: str, right: str) -> Typed:
        """Give the refusal of a value of the wrong kind."""
        return wrong_kind(self._values[key], self.at(key), right)


def one_of(value: str, choices: type[Choice], path: str) -> Choice:
    """Give the choice that the word names; the nearest one is named in the refusal of another word."""
    for choice in choices:
        if value == choice.value:
            return choice
    words = tuple(choice.value for choice in choices)
    near = nearest(value, words)
    if near is not None:
        raise Typed(
            N_("“{value}” is not known here. The nearest is {near}; known are {words}."),
            field=path,
            value=brief(value),
            near=near,
            words=words,
        )
    raise Typed(
        N_("“{value}” is not known here. Write one of {words}."), field=path, value=brief(value), words=words
    )


def number_of(value: object, path: str, within: Bounds) -> float:
    """Give the number that was written, where it is within the bounds.

    Raises:  Typed for anything but a JSON number (NaN and Infinity are none), and for a number out of the bounds.
    """
    if not isinstance(value, NumberWritten):
        raise wrong_kind(value, path, N_("a number without quotes, such as 1.5"))
    number = float(value) if len(value) <= LONGEST_NUMBER else math.nan
    if within.hold(number):
        return number
    template = (
        N_("{number} can't be used here. Write a number above {least} and at most {most}.")
        if within.open_below
        else N_("{number} can't be used here. Write a number from {least} to {most}.")
    )
    raise Typed(
        template,
        field=path,
        number=brief(value, 30),
        least=number_text(within.least),
        most=number_text(within.most),
    )


def number_text(number: float) -> str:
    """Give a number as short as it can be written back: 5 rather than 5.0."""
    return str(int(number)) if number.is_integer() and abs(number) < 1e15 else repr(number)


def wrong_kind(value: object, path: str, right: str) -> Typed:
    """Give the refusal of a value of the wrong kind, with what would be right."""
    return Typed(N_("Here stands {kind}. Write {right}."), field=path, kind=kind_of(value), right=right)


def kind_of(value: object) -> str:
    """Give in words what kind of value was written."""
    match value:
        case NumberWritten():
            return _("the number {number}").format(number=brief(value, 30))
        case str():
            return _("the text “{text}”").format(text=brief(value, 30))
        case bool():
            return "true" if value else "false"
        case list():
            return _("a list")
        case None:
            return "null"
        case _:
            return _("an object")


def _unknown_key(path: str, key: str, known: tuple[str, ...]) -> Typed:
    """Give the refusal of an unknown key with the nearest known one, or with all of them."""
    near = nearest(key, known)
    if near is not None:
        return Typed(N_("This key is not known. The nearest known one is {near}."), field=path, near=near)
    return Typed(N_("This key is not known. Known are {known}."), field=path, known=known)
