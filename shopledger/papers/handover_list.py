"""The list of other people's property and money, for whoever must return it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from shopledger.papers.parts import PaperFacts
from shopledger.quantities.money import Money


@dataclass(frozen=True, slots=True, kw_only=True)
class PropertyLine:
    """A thing of someone else in the shop's care: what, where it is, whose, how to reach them."""

    number: str
    what: str
    place: str
    since: date | None = None
    why_here: str = ""
    owner: str
    contact: tuple[str, ...] = ()
    value: Money | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldMoneyLine:
    """What the shop holds for one person: for an owner what is due and what waits, for a buyer what was paid in advance.

    Shape:  `due` + `waiting` − `owes` = `held`; negative where the person owes the shop more than it holds.
    """

    number: str
    name: str
    contact: tuple[str, ...] = ()
    due: Money
    waiting: Money
    owes: Money
    held: Money
    words: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class HandoverListFacts(PaperFacts):
    """What the list states, on one day.

    Shape:  `value_total` and `held_total` are the sums of the two tables, `value_total` over the lines with a value;
            `bank` is what lies on the shop's accounts, None where not said; `where_papers` says where ledger, keys and papers are.
    """

    as_of: date
    property: tuple[PropertyLine, ...]
    value_total: Money
    money: tuple[HeldMoneyLine, ...]
    held_total: Money
    bank: Money | None = None
    where_papers: tuple[str, ...] = ()
    contact: tuple[str, ...] = ()
