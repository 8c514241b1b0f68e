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

MOST_NAME, MOST_THING, MOST_CAME, MOST_WANTED = 64, 130, 130, 260
"""Letters of a name, of the instrument, of what came with it and of what is wanted: both halves stand on one sheet."""


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
    sheet.title(_("Claim ticket"))
    sheet.claim(
        _("The client\u2019s half: bring it when you collect"),
        facts.claim_number,
        [
            (_("Left by"), one_line(facts.client.name, MOST_NAME)),
            *_thing_rows(facts, MOST_WANTED),
            (_("Days"), _days(facts, sheet)),
            (_("Deposit"), _money(facts, sheet)),
        ],
    )
    sheet.space(6)
    sheet.section(
        _("To collect"),
        _(
            "This ticket says which instrument is yours. Bring it: the instrument is handed over against it. If "
            "it is lost, say so at once, and bring something that shows who you are."
        ),
    )
    sheet.cautions([_(UNCOLLECTED)])
    sheet.cut(_("cut here"))
    sheet.claim(
        _("The tag: stays with the instrument"),
        facts.claim_number,
        [
            (
                _("Client"),
                sheet.both(one_line(facts.client.name, MOST_NAME), one_line(facts.client.phone, MOST_NAME)),
            ),
            *_thing_rows(facts, MOST_WANTED // 2),
            (_("Days"), _days(facts, sheet)),
            (_("Deposit"), _money(facts, sheet)),
        ],
    )


def _thing_rows(facts: ClaimTicketFacts, wanted: int) -> list[tuple[str, str]]:
    """Give what was left: the instrument, what came with it, and in so many letters what is wanted."""
    thing = facts.thing
    number = thing.number.replace(" ", "\u00a0")
    said = ", ".join(part for part in (number, thing.name, thing.maker) if part)
    return [
        (_("Instrument"), one_line(said, MOST_THING)),
        (_("Came with"), one_line(", ".join(facts.came_with), MOST_CAME) or _("nothing else")),
        (_("Wanted"), one_line(facts.wants, wanted)),
    ]


def _days(facts: ClaimTicketFacts, sheet: Sheet) -> str:
    """Give the day it was left and the promised one, or that none is."""
    left = sheet.day(facts.opened_on)
    if facts.promised_on is None:
        return _("left on {left}, no day promised").format(left=left)
    return _("left on {left}, promised for {day}").format(left=left, day=sheet.day(facts.promised_on))


def _money(facts: ClaimTicketFacts, sheet: Sheet) -> str:
    """Give the deposit, and what it is to be insured for."""
    return _("{deposit}; value to insure: {value}").format(
        deposit=_("none paid") if facts.deposit is None else sheet.money(facts.deposit),
        value=_("none agreed") if facts.value is None else sheet.money(facts.value),
    )
