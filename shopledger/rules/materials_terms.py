"""What is asked about protected materials, and what is answered: acts, parts of an instrument, findings.

An answer is a caution and never leave to do anything: nothing is "fine" where something is unknown.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from fractions import Fraction


class Answer(StrEnum):
    """What can be answered, the gravest first."""

    MAY_NEED_PAPERS = "may_need_papers"
    CANNOT_TELL = "cannot_tell"
    SEEMS_EXEMPT = "seems_exempt"
    NOT_LISTED = "not_listed"


class Act(StrEnum):
    """What is to be done with the instrument; `travel` crosses a border unless both places are in one country."""

    SALE_HOME = "sale_home"
    SALE_ABROAD = "sale_abroad"
    LOAN_ABROAD = "loan_abroad"
    REPAIR_ABROAD = "repair_abroad"
    TRAVEL = "travel"


@dataclass(frozen=True, slots=True)
class MaterialPart:
    """A part of an instrument or bow and what it is made of.

    Units:  `mass_g` in grams, exact.
    Shape:  `species` is a scientific or a trade name, "" where it isn't known; whatever else is None isn't known.
            `taken_before` is a day before which it surely was taken from the wild.
    """

    component: str
    species: str
    certain: bool = False
    finished: bool | None = None
    made_on: date | None = None
    taken_before: date | None = None
    imported_on: date | None = None
    mass_g: Fraction | None = None
    evidence: str = ""


@dataclass(frozen=True, slots=True)
class MaterialsCase:
    """An act on a day with the parts it concerns.

    Shape:  `from_place` and `to_place` are ISO 3166, "US" or "US-CA", "" where they aren't told; `re_export` is None
            where it isn't told.
    """

    on: date
    act: Act
    parts: tuple[MaterialPart, ...]
    from_place: str = ""
    to_place: str = ""
    re_export: bool | None = None


@dataclass(frozen=True, slots=True)
class Ground:
    """What an answer rests on: the rule, who says so, when that was last gone through, and who can tell."""

    rule: str
    source: str
    verified_on: date
    ask: str


@dataclass(frozen=True, slots=True)
class Finding:
    """The answer for one part, why, and what it rests on."""

    component: str
    species: str
    answer: Answer
    because: str
    ground: Ground


@dataclass(frozen=True, slots=True)
class Judgement:
    """The findings of a case, one a part in their order; `gravest` speaks for the whole."""

    case: MaterialsCase
    findings: tuple[Finding, ...]
    gravest: Finding
    advice: tuple[str, ...] = field(default=())

    @property
    def answer(self) -> Answer:
        """The answer for the whole: that of the gravest part."""
        return self.gravest.answer


def gravity(answer: Answer) -> int:
    """Give how grave an answer is: 3 for may need papers down to 0 for not listed."""
    return len(Answer) - 1 - list(Answer).index(answer)


def gravest_of(findings: Iterable[Finding]) -> Finding:
    """Give the gravest finding, of equally grave ones the first; there must be one."""
    return max(findings, key=lambda finding: gravity(finding.answer))
