"""How an act is declared: once, with its name, words, key, form, when it is allowed and what it does.

Buttons, keys, the go-to line and the handbook derive from these declarations.
"""

from __future__ import annotations

import uuid
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any, Generic, TypeVar

from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.words import N_
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Preview

if TYPE_CHECKING:
    from shopledger.store.unit import Reading, Writing


def new_op_id() -> str:
    """Give a fresh id for one filled form: made before its first try and kept through every retry."""
    return str(uuid.uuid4())


@dataclass(frozen=True, kw_only=True)
class Form:
    """What every act is given: its own id, the day it is booked on, and who does it."""

    op_id: str
    on: date = ask(Field(N_("On"), Kind.DAY, required=True, help=N_("The day this is booked on.")))
    by: str = ""


F = TypeVar("F", bound=Form)


@dataclass(frozen=True, slots=True)
class Outcome:
    """What an act left: what it was about, which kinds of thing it changed, which papers wait to be issued."""

    subject: Subject
    id: int
    changed: frozenset[Subject]
    papers: tuple[int, ...] = ()


def always(_reading: Reading, _id: int) -> None:
    """Allow an act at any time."""


@dataclass(frozen=True, slots=True)
class Act(Generic[F]):
    """One thing the shop does.

    Shape:  `allowed(reading, id)` raises `Refused` where the act is not for now; `prefill(reading, id)` gives values
            for inputs; `preview(reading, form)` says what the act would do and raises what the act would raise;
            `run(writing, form)` does it inside one transaction, without committing.
    """

    name: str
    text: str
    subject: Subject
    form: type[F]
    run: Callable[[Writing, F], Outcome]
    subject_input: str = ""
    """The input that is filled with the id of the selected row."""
    allowed: Callable[[Reading, int], None] = always
    prefill: Callable[[Reading, int], Mapping[str, Any]] | None = None
    preview: Callable[[Reading, F], Preview] | None = None
    shortcut: str = ""
    opposite: str = ""
    """The name of the act that undoes it."""
    help: str = ""
    papers: tuple[str, ...] = ()
    """The kinds of paper that it may leave; a form with any shows them before they are issued."""
    preview_without: frozenset[str] = frozenset()
    """Required inputs that the preview can do without; they are None in its form while nothing stands in them."""
