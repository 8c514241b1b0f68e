"""The trial agreement: what goes out with whom until when, at which value, at whose risk, and what silence means."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers import cautions
from shopledger.papers.adding import must_add_up
from shopledger.papers.parts import NO_CAUTIONS, CautionFacts
from shopledger.papers.trial import (
    EACH_FOR_ITSELF,
    ON_APPROVAL,
    SILENCE,
    TITLE_STAYS,
    LentFacts,
    TrialFacts,
    write_head,
    write_lent,
)
from shopledger.quantities.money import Money
from shopledger.quantities.words import _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialAgreementFacts(TrialFacts):
    """What a trial agreement states.

    Shape:  the values of `lines` add up to `whole`; `risk`, `insured_by` and `carriage_by` are in the reader's words;
            `deposit` is what is paid with it, None where nothing is.
    """

    lines: tuple[LentFacts, ...]
    whole: Money
    risk: str
    insured_by: str
    insurance: str = ""
    carriage_by: str
    at_place: tuple[str, ...] = ()
    goes_to: str = ""
    identity_seen: str = ""
    deposit: Money | None = None
    deposit_number: str = ""
    signed_on: date | None = None
    note: str = ""
    cautions: CautionFacts = NO_CAUTIONS


def compose(facts: TrialAgreementFacts, sheet: Sheet) -> None:
    """Write the agreement on a sheet."""
    must_add_up("values", (line.value for line in facts.lines), facts.whole)
    sheet.title(_("Trial agreement"), _("lent to be tried, not sold"))
    write_head(
        facts,
        sheet,
        [
            (_("Goes out on"), sheet.day(facts.began_on)),
            (_("Back by"), sheet.strong(sheet.day(facts.due_on))),
            (_("Deposit"), facts.deposit_number),
        ],
    )
    write_lent(_("What goes out"), facts.lines, sheet, facts.whole)
    sheet.pairs(
        _("While it is out"),
        [
            (_("Risk is borne by"), facts.risk),
            (_("Insured by"), ", ".join(part for part in (facts.insured_by, facts.insurance) if part)),
            (_("Carriage is paid by"), facts.carriage_by),
            (_("Played at"), ", ".join(facts.at_place)),
            (_("Country"), facts.goes_to),
            (_("Identity seen"), facts.identity_seen or _("not noted")),
        ],
    )
    sheet.section(_("Deposit"), _deposit_words(facts, sheet))
    sheet.section(
        _("What is agreed"),
        _(TITLE_STAYS),
        _(EACH_FOR_ITSELF),
        _(SILENCE),
        _(
            "The player tells the shop at once of loss or damage, and brings everything back as it is described."
        ),
    )
    sheet.section(_("Note"), facts.note)
    sheet.keep_room(230)
    sheet.signatures(
        [(_("The player"), facts.player.name), (_("For the shop"), facts.shop.name)],
        before=_("Both sides agree to this; the player has what is named here in the condition described."),
        signed_on=facts.signed_on,
    )
    sheet.cautions(cautions.words_of(facts.cautions, cautions.GENERAL, cautions.VALUE, ON_APPROVAL))


def _deposit_words(facts: TrialAgreementFacts, sheet: Sheet) -> str:
    """Say what the deposit is and what becomes of it."""
    if facts.deposit is None:
        return _("No deposit is paid.")
    return _(
        "The shop holds {amount}, which stays the player\u2019s money. It is set off against what the player buys, "
        "else given back when everything is back; nothing of it is kept but what is agreed in writing."
    ).format(amount=sheet.money(facts.deposit))
