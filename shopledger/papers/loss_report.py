"""The report of a loss: what was lost in the shop's care, when, what is held for its owners, who bears the excess."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers.adding import must_add_up, working_must_add_up
from shopledger.papers.cautions import GENERAL
from shopledger.papers.parts import OwnerFacts, PaperFacts, ShareLine, WorkingLine
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_, _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet

CLAIM = N_(
    "Insurance: whether, when and how much an insurer pays is for the insurer to say, and the time to report a loss "
    "may be short. What is held here goes by the agreement, not by the policy: ask the insurer about the claim."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class LossReportFacts(PaperFacts):
    """What a report of a loss states.

    Shape:  the counting lines of `working` add up to `held`, which is all that is held for the owners; `shares` are
            each owner's part of it where there are several; `excess_borne_by` is "shop" or "owner"; `by_words`
            quotes what was agreed about a loss; `claimed` is the agreed value less the excess.
    """

    lost_on: date
    owners: tuple[OwnerFacts, ...]
    instrument_number: str = ""
    instrument_name: str
    entry_number: str = ""
    taken_in_on: date | None = None
    agreement_number: str = ""
    what_happened: str
    reported_to: str = ""
    agreed_value: Money
    excess: Money
    excess_borne_by: str = "shop"
    claimed: Money
    working: tuple[WorkingLine, ...]
    held: Money
    shares: tuple[ShareLine, ...] = ()
    by_words: tuple[str, ...] = ()


def compose(facts: LossReportFacts, sheet: Sheet) -> None:
    """Write the report on a sheet."""
    working_must_add_up("loss", facts.working, facts.held)
    must_add_up("claim", (facts.agreed_value, -facts.excess), facts.claimed)
    sheet.title(_("Report of a loss"), _("to the owner, of what was lost in the shop\u2019s care"))
    sheet.grid(
        sheet.owner_blocks(facts.owners),
        [
            (_("Report"), facts.number),
            (_("Lost on"), sheet.day(facts.lost_on)),
            (_("Entry"), facts.entry_number),
            (_("Taken in on"), "" if facts.taken_in_on is None else sheet.day(facts.taken_in_on)),
            (_("Agreement"), facts.agreement_number),
        ],
    )
    sheet.owner_table(facts.owners)
    sheet.section(_("Instrument"), sheet.both(facts.instrument_name, facts.instrument_number))
    sheet.section(_("What happened"), facts.what_happened)
    sheet.section(_("Reported to"), facts.reported_to or _("Nobody is on record as told so far."))
    sheet.heading(_("What is held for the owner"))
    sheet.working(facts.working, _("Held for the owner"), facts.held)
    if facts.shares:
        must_add_up("shares", (line.amount for line in facts.shares), facts.held)
        sheet.heading(_("How the owners share it"))
        sheet.ledger(
            (_("Share"), _("Owner"), sheet.per(facts.held.currency, _("Amount"))),
            [(sheet.share(line.share), line.name, sheet.amount(line.amount)) for line in facts.shares],
            (sheet.label_column, sheet.share_column, sheet.money_column),
        )
        sheet.sums([(_("Held for the owners together"), sheet.amount(facts.held))])
    sheet.section(_("Excess"), _excess_words(facts, sheet))
    sheet.section(
        _("The claim"),
        _("Claimed of the insurer: {amount}.").format(amount=sheet.money(facts.claimed)),
        _(
            "What is held is owed from the day of the loss. It is paid once the insurer has paid, or the shop pays "
            "from its own; an account follows then."
        )
        if facts.held
        else "",
    )
    sheet.section(_("By the agreement"), *facts.by_words)
    sheet.cautions([_(CLAIM), _(GENERAL)])


def _excess_words(facts: LossReportFacts, sheet: Sheet) -> str:
    """Say what the insurer keeps and whose that is."""
    if not facts.excess:
        return _("The insurer is not known to keep anything.")
    words = (
        _("The insurer keeps {amount}; the owner bears it, and it comes off what is held.")
        if facts.excess_borne_by == "owner"
        else _("The insurer keeps {amount}; the shop bears it.")
    )
    return words.format(amount=sheet.money(facts.excess))
