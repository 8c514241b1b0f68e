"""Facts as canonical JSON: the text whose SHA-256 a paper carries, and back again.

The same facts always give the same text: keys sorted, no spaces, strings in NFC, no float. What each value
is told from the
annotations of the dataclass, so nothing in the text names a class.
"""

from __future__ import annotations

import json
import types
import unicodedata
from collections.abc import Hashable, Mapping
from dataclasses import fields, is_dataclass
from datetime import date, datetime
from fractions import Fraction
from functools import cache
from hashlib import sha256
from typing import Any, TypeVar, Union, cast, get_args, get_origin, get_type_hints

from shopledger.quantities.errors import Bug, Typed
from shopledger.quantities.words import N_

Facts = TypeVar("Facts")
_AS_JSON = json.JSONEncoder(sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False).encode


def to_json(facts: object) -> str:
    """Give the canonical JSON of a facts dataclass.

    Raises: Bug: a value is of a kind that facts may not hold (a float, a record, a list).
    """
    return _AS_JSON(_plain(facts))


def digest(facts: object) -> str:
    """Give the SHA-256 of the canonical JSON of the facts, 64 hexadecimal digits."""
    return digest_of(to_json(facts))


def digest_of(stated: str) -> str:
    """Give the SHA-256 of facts that are canonical JSON already, 64 hexadecimal digits."""
    return sha256(stated.encode("utf-8", "surrogatepass")).hexdigest()


def from_json(cls: type[Facts], text: str) -> Facts:
    """Give back the facts of the class that `to_json` wrote.

    Raises: Typed: the text is no JSON, or doesn't fit the class (a key too many or missing, a value of
            another kind).
    """
    try:
        value: Facts = _read(cls, json.loads(text), cls.__name__)
    except (json.JSONDecodeError, RecursionError) as error:
        raise Typed(
            N_("The facts of a paper can't be read: they are no JSON. Restore them from a backup.")
        ) from error
    return value


def _plain(value: object) -> object:
    """Give what JSON can hold for one value of the facts."""
    if value is None or isinstance(value, bool | int):
        return value
    if isinstance(value, str):
        return unicodedata.normalize("NFC", value)
    if isinstance(value, Fraction):
        return f"{value.numerator}/{value.denominator}"
    if isinstance(value, date) and not isinstance(value, datetime):
        return value.isoformat()
    if isinstance(value, tuple):
        return [_plain(one) for one in value]
    if is_dataclass(value) and not isinstance(value, type):
        return {name: _plain(getattr(value, name)) for name in _names(type(value))}
    raise Bug(
        N_("The facts of a paper hold a value of the kind {kind}, which they may not."),
        kind=type(value).__name__,
    )


@cache
def _names(cls: Hashable) -> tuple[str, ...]:
    """Give the names of the fields of a facts class."""
    return tuple(one.name for one in fields(cast(Any, cls)))


@cache
def _kinds(cls: Hashable) -> Mapping[str, Any]:
    """Give the annotated kind of each field of a facts class."""
    hints = get_type_hints(cls)
    return {one.name: hints[one.name] for one in fields(cast(Any, cls))}


def _misfit(where: str) -> Typed:
    """Give the refusal that names the place that doesn't fit."""
    return Typed(
        N_("The facts of a paper can't be read: {where} doesn't fit. Restore them from a backup."),
        where=where,
    )


def _read(kind: Any, value: object, where: str) -> Any:
    """Give the value of the annotated kind from what JSON held."""
    origin = get_origin(kind)
    if origin in (Union, types.UnionType):
        return _read_union(get_args(kind), value, where)
    if origin is tuple:
        return _read_tuple(get_args(kind), value, where)
    if is_dataclass(kind) and isinstance(kind, type):
        return _read_dataclass(kind, value, where)
    if kind is date or kind is Fraction:
        return _read_text_value(kind, value, where)
    if kind in (str, int, bool) and type(value) is kind:
        return value
    raise _misfit(where)


def _read_union(kinds: tuple[Any, ...], value: object, where: str) -> Any:
    """Give None, or the value of the one other kind; facts know no wider unions."""
    if value is None and type(None) in kinds:
        return None
    others = [kind for kind in kinds if kind is not type(None)]
    if len(others) != 1:
        raise _misfit(where)
    return _read(others[0], value, where)


def _read_tuple(kinds: tuple[Any, ...], value: object, where: str) -> tuple[Any, ...]:
    """Give a tuple, of any length of one kind or with a kind for each place."""
    if not isinstance(value, list):
        raise _misfit(where)
    if len(kinds) == 2 and kinds[1] is Ellipsis:
        return tuple(_read(kinds[0], one, f"{where}[{n}]") for n, one in enumerate(value))
    if len(kinds) != len(value):
        raise _misfit(where)
    return tuple(
        _read(kind, one, f"{where}[{n}]") for n, (kind, one) in enumerate(zip(kinds, value, strict=True))
    )


def _read_dataclass(kind: type[Any], value: object, where: str) -> Any:
    """Give an instance; every field must be there and no other, so that nothing is read over."""
    kinds = _kinds(cast(Hashable, kind))
    if not isinstance(value, dict) or set(value) != set(kinds):
        raise _misfit(where)
    try:
        return kind(**{name: _read(one, value[name], f"{where}.{name}") for name, one in kinds.items()})
    except (TypeError, ValueError) as error:
        if isinstance(error, Typed):
            raise
        raise _misfit(where) from error


def _read_text_value(kind: Any, value: object, where: str) -> Any:
    """Give the day or the fraction that a text stands for."""
    if not isinstance(value, str):
        raise _misfit(where)
    try:
        return date.fromisoformat(value) if kind is date else Fraction(value)
    except (ValueError, ZeroDivisionError) as error:
        raise _misfit(where) from error
