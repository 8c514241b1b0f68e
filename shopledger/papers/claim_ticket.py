"""The claim ticket: one sheet in two halves, the client's and the tag that stays with the instrument."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers.escaping import one_line
from shopledger.papers.workshop import UNCOLLECTED, JobFacts
from shopledger.quantities.money import Money
from shopledger.quantities.words import _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet

MOST_WANTED, MOST_CAME, MOST_NAME = 420, 260, 90
"""Letters of what is wanted, of what came with it, and of a name: both halves stand on one sheet."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClaimTicketFacts(JobFacts):
    """What a claim ticket states.

    Shape:  `wants` is what the client hears and wants, in the client's words; `deposit` is what was paid with it, None
            where nothing was; `value` is what it is insured for while it is here, None where nothing was agreed.
    """

    opened_on: date
    promised_on: date | None = None
    came_with: tuple[str, ...] = ()
    wants: str
    deposit: Money | None = None
    value: Money | None = None


def compose(facts: ClaimTicketFacts, sheet: Sheet) -> None:
    """Write the ticket on a sheet: the client's half, a line to cut, the tag."""
    sheet.title(_("Claim ticket"), _("the client\u2019s half: bring it when you collect"))
    sheet.claim(_("Claim number"), facts.claim_number)
    sheet.pairs(_("Left with the shop"), [(_("By"), _name(facts.client.name)), *_thing_pairs(facts)])
    sheet.pairs(
        _("Agreed"),
        [
            (_("Left on"), sheet.day(facts.opened_on)),
            (_("Promised for"), _promised(facts, sheet)),
            (_("Deposit"), _("none paid") if facts.deposit is None else sheet.money(facts.deposit)),
            (_("Value to insure"), _("none agreed") if facts.value is None else sheet.money(facts.value)),
        ],
    )
    sheet.section(
        _("To collect"),
        _(
            "This ticket says which instrument is yours. Bring it: the instrument is handed over against it. If "
            "it is lost, say so at once, and bring something that shows who you are."
        ),
    )
    sheet.cautions([_(UNCOLLECTED)])
    sheet.cut(_("cut here"))
    sheet.claim(_("Tag: stays with the instrument"), facts.claim_number)
    sheet.pairs(
        _("Tag"),
        [
            (_("Client"), sheet.both(_name(facts.client.name), one_line(facts.client.phone, MOST_NAME))),
            *_thing_pairs(facts),
            (_("In, promised"), f"{sheet.day(facts.opened_on)} \u2192 {_promised(facts, sheet)}"),
            (_("Deposit, value"), _tag_money(facts, sheet)),
        ],
    )


def _thing_pairs(facts: ClaimTicketFacts) -> list[tuple[str, str]]:
    """Give what was left: the instrument, what came with it, and what is to be done."""
    thing = facts.thing
    said = ", ".join(one_line(part, MOST_NAME) for part in (thing.name, thing.maker, thing.number) if part)
    return [
        (_("Instrument"), said),
        (_("Came with"), one_line(", ".join(facts.came_with), MOST_CAME) or _("nothing else")),
        (_("Wanted"), one_line(facts.wants, MOST_WANTED)),
    ]


def _name(name: str) -> str:
    return one_line(name, MOST_NAME)


def _promised(facts: ClaimTicketFacts, sheet: Sheet) -> str:
    """Give the promised day, or that none is."""
    return _("no day promised") if facts.promised_on is None else sheet.day(facts.promised_on)


def _tag_money(facts: ClaimTicketFacts, sheet: Sheet) -> str:
    """Give deposit and value on the tag, each a dash where there is none."""
    return " \u00b7 ".join(
        "\u2013" if money is None else sheet.money(money) for money in (facts.deposit, facts.value)
    )
