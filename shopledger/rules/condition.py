"""What a condition report looks at by kind of instrument, how a part and a term are read, and how two reports compare.

The forms are data and their words are translated where they are shown. Two reports compare by part and term, marks in
the same words with each other and then the gravest with the gravest, so that a second crack of one part is a new one
and never a change of the first.
"""

from __future__ import annotations

import tomllib
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from functools import cache
from itertools import zip_longest
from types import MappingProxyType
from typing import Any

from shopledger.quantities.assets import asset
from shopledger.quantities.errors import NotFound, Trouble, Typed
from shopledger.quantities.numbers import brief, nearest
from shopledger.quantities.words import N_, _

SEVERITY_ORDER = ("noted", "slight", "marked", "grave")
"""How grave a mark can be, mildest first."""


@dataclass(frozen=True, slots=True)
class View:
    """One side one looks at, and its parts by their codes."""

    words: str
    parts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ConditionForm:
    """The views and terms of a kind of instrument."""

    views: tuple[View, ...]
    terms: tuple[str, ...]

    @property
    def parts(self) -> tuple[str, ...]:
        """Every part in the order in which one looks, by code."""
        return tuple(part for view in self.views for part in view.parts)


@dataclass(frozen=True, slots=True)
class Forms:
    """The forms of every kind, and the marked words of parts and terms by code."""

    by_kind: Mapping[str, ConditionForm]
    part_words: Mapping[str, str]
    term_words: Mapping[str, str]

    @property
    def words(self) -> tuple[str, ...]:
        """Every word of the forms, each once."""
        views = [view.words for form in self.by_kind.values() for view in form.views]
        return tuple(dict.fromkeys([*self.part_words.values(), *self.term_words.values(), *views]))


def parse_forms(text: str) -> Forms:
    """Give the forms that a text in TOML holds.

    Raises: Trouble: the text is no TOML, or names a part, term or form that it doesn't declare.
    """
    try:
        written = tomllib.loads(text)
        parts, terms = written["parts"], written["terms"]
        forms = {name: _form(said, parts, terms) for name, said in written["forms"].items()}
        return Forms(
            by_kind=MappingProxyType({kind: forms[name] for kind, name in written["kinds"].items()}),
            part_words=MappingProxyType(dict(parts)),
            term_words=MappingProxyType(dict(terms)),
        )
    except (tomllib.TOMLDecodeError, KeyError, TypeError, AttributeError, ValueError) as error:
        raise Trouble(
            N_("The forms of condition reports can't be read ({said}). Install the program again."),
            said=str(error),
        ) from error


def _form(said: Mapping[str, Any], parts: Mapping[str, str], terms: Mapping[str, str]) -> ConditionForm:
    form = ConditionForm(
        tuple(View(view["words"], tuple(view["parts"])) for view in said["views"]), tuple(said["terms"])
    )
    unknown = [part for part in form.parts if part not in parts] + [t for t in form.terms if t not in terms]
    if unknown:
        raise KeyError(unknown[0])
    return form


@cache
def forms() -> Forms:
    """Give the forms that come with the program; read once."""
    return parse_forms(asset("condition", "forms.toml").read_text(encoding="utf-8"))


def form_for(kind: str) -> ConditionForm:
    """Give the form of a kind of instrument.

    Raises: NotFound: there is no such kind; the nearest one is named.
    """
    by_kind = forms().by_kind
    if kind not in by_kind:
        raise NotFound(
            N_("There is no kind of instrument called {kind}. The nearest is {near}."),
            kind=kind,
            near=nearest(kind, list(by_kind)) or "other",
        )
    return by_kind[kind]


def part_words(code: str) -> str:
    """Give the marked words of a part; of one that is in no form, its own name."""
    return forms().part_words.get(code, code)


def term_words(code: str) -> str:
    """Give the marked words of a term; of one that is in no form, its own name."""
    return forms().term_words.get(code, code)


def parts_listed(kind: str) -> tuple[tuple[str, str], ...]:
    """Give the parts of a kind of instrument in order, by code with marked words; of all kinds where it isn't known."""
    return tuple(dict.fromkeys((part, part_words(part)) for form in _forms_of(kind) for part in form.parts))


def terms_listed(kind: str) -> tuple[tuple[str, str], ...]:
    """Give the terms for a kind of instrument, by code with marked words; of all kinds where it isn't known."""
    return tuple(dict.fromkeys((term, term_words(term)) for form in _forms_of(kind) for term in form.terms))


def _forms_of(kind: str) -> Iterable[ConditionForm]:
    by_kind = forms().by_kind
    return [by_kind[kind]] if kind in by_kind else by_kind.values()


def read_part(kind: str, typed: str, field: str = "part") -> str:
    """Give the code of the part that was typed, by its code or words.

    Raises: Typed: the form has no such part; the nearest is named, or all of them.
    """
    return _read(
        typed,
        {code: part_words(code) for code in form_for(kind).parts},
        field,
        N_(
            "“{typed}” is no part of this kind of instrument. The nearest is “{near}”; write that or another."
        ),
        N_("“{typed}” is no part of this kind of instrument: write one of {known}."),
    )


def read_term(kind: str, typed: str, field: str = "term") -> str:
    """Give the code of the term that was typed, by its code or words.

    Raises: Typed: the list has no such term; the nearest is named, or all of them.
    """
    return _read(
        typed,
        {code: term_words(code) for code in form_for(kind).terms},
        field,
        N_("“{typed}” is not in the list of terms. The nearest is “{near}”; say more in the note."),
        N_("“{typed}” is not in the list of terms: write one of {known}, and say more in the note."),
    )


def _read(typed: str, words: Mapping[str, str], field: str, near: str, none_near: str) -> str:
    wanted = " ".join(typed.casefold().replace("_", " ").split())
    for code, said in words.items():
        if wanted in (code.replace("_", " "), _(said).casefold()):
            return code
    known = [_(said) for said in words.values()]
    close = nearest(wanted, known)
    if close is not None:
        raise Typed(near, field=field, typed=brief(typed), near=close)
    raise Typed(none_near, field=field, typed=brief(typed), known=", ".join(known))


class Change(Enum):
    """What became of a mark between two reports; the values are marked words."""

    NEW = N_("new")
    GRAVER = N_("graver")
    MILDER = N_("milder")
    REWORDED = N_("described anew")
    UNCHANGED = N_("unchanged")
    GONE = N_("gone")


@dataclass(frozen=True, slots=True)
class Seen:
    """One mark as it is compared: part and term by code, how grave, in words, and its number in its report."""

    part: str
    term: str
    severity: str
    note: str = ""
    n: int = 0


@dataclass(frozen=True, slots=True)
class Compared:
    """A mark of the earlier and of the later report side by side; None where one of them hasn't it."""

    part: str
    term: str
    before: Seen | None
    after: Seen | None
    change: Change


def compare(before: Iterable[Seen], after: Iterable[Seen], parts: Sequence[str] = ()) -> tuple[Compared, ...]:
    """Give every mark of two reports side by side, in the order of `parts`, then by term.

    Shape:  every mark of either report stands in exactly one row.
    """
    earlier, later = _by_place(before), _by_place(after)
    order = {part: n for n, part in enumerate(parts)}
    places = sorted({*earlier, *later}, key=lambda place: (order.get(place[0], len(order)), *place))
    rows: list[Compared] = []
    for part, term in places:
        for one, two in _paired(earlier.get((part, term), []), later.get((part, term), [])):
            rows.append(Compared(part, term, one, two, _change(one, two)))
    return tuple(rows)


def _by_place(marks: Iterable[Seen]) -> dict[tuple[str, str], list[Seen]]:
    found: dict[tuple[str, str], list[Seen]] = defaultdict(list)
    for mark in marks:
        found[mark.part, mark.term].append(mark)
    for place in found.values():
        place.sort(key=lambda mark: -SEVERITY_ORDER.index(mark.severity))
    return found


def _paired(was: Sequence[Seen], now: Sequence[Seen]) -> list[tuple[Seen | None, Seen | None]]:
    """Give the marks of one place in pairs: those in the same words first, then the gravest with the gravest."""
    left = list(now)
    pairs: list[tuple[Seen | None, Seen | None]] = []
    alone: list[Seen] = []
    for one in was:
        same = next((two for two in left if _words(two) and _words(two) == _words(one)), None)
        if same is None:
            alone.append(one)
        else:
            pairs.append((one, same))
            left.remove(same)
    pairs.sort(key=_gravest_first)
    return [*pairs, *zip_longest(alone, left)]


def _gravest_first(pair: tuple[Seen | None, Seen | None]) -> tuple[list[int], list[str]]:
    marks = [mark for mark in pair if mark is not None]
    return sorted(-SEVERITY_ORDER.index(mark.severity) for mark in marks), sorted(mark.note for mark in marks)


def _words(mark: Seen) -> list[str]:
    return mark.note.casefold().split()


def _change(before: Seen | None, after: Seen | None) -> Change:
    if before is None:
        return Change.NEW
    if after is None:
        return Change.GONE
    step = SEVERITY_ORDER.index(after.severity) - SEVERITY_ORDER.index(before.severity)
    if step:
        return Change.GRAVER if step > 0 else Change.MILDER
    # A crack that was six centimetres long and is nine is no graver by its word, but it isn't as it was.
    return Change.UNCHANGED if _words(before) == _words(after) else Change.REWORDED
