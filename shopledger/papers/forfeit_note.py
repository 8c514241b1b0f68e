"""The note of a forfeited deposit: whose, why, the words agreed about it, and how it is divided by them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers.adding import working_must_add_up
from shopledger.papers.cautions import GENERAL
from shopledger.papers.parts import PaperFacts, PartyFacts, WorkingLine
from shopledger.quantities.money import Money
from shopledger.quantities.words import _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class ForfeitNoteFacts(PaperFacts):
    """What the note of a forfeited deposit states.

    Shape:  the counting lines of `working` divide the deposit and add up to `deposit`; `goes_back` is the part of it
            that the player gets back; `by_words` are the words agreed with the instrument's owners.
    """

    forfeited_on: date
    player: PartyFacts
    instrument_number: str = ""
    instrument_name: str
    held_since: date
    held_until: date
    deposit_number: str = ""
    agreement_number: str = ""
    why: str = ""
    deposit: Money
    working: tuple[WorkingLine, ...]
    goes_back: Money
    by_words: str = ""


def compose(facts: ForfeitNoteFacts, sheet: Sheet) -> None:
    """Write the note on a sheet."""
    working_must_add_up("deposit", facts.working, facts.deposit)
    sheet.title(_("Note of a forfeited deposit"))
    sheet.grid(
        [(_("Player"), sheet.party(facts.player))],
        [
            (_("Note"), facts.number),
            (_("Forfeited on"), sheet.day(facts.forfeited_on)),
            (_("Deposit"), facts.deposit_number),
            (_("Held from"), sheet.day(facts.held_since)),
            (_("Held until"), sheet.day(facts.held_until)),
            (_("Agreement"), facts.agreement_number),
        ],
    )
    sheet.section(_("Instrument"), sheet.both(facts.instrument_name, facts.instrument_number))
    sheet.section(_("Why"), facts.why)
    sheet.heading(_("How it is divided"))
    sheet.working(facts.working, _("The deposit"), facts.deposit)
    sheet.section(_("By the agreement"), facts.by_words)
    sheet.section(
        _("What goes back"),
        _("{amount} goes back to {name}; a receipt states it.").format(
            amount=sheet.money(facts.goes_back), name=facts.player.name
        )
        if facts.goes_back
        else _("Nothing of it goes back."),
    )
    sheet.cautions([_(GENERAL)])
