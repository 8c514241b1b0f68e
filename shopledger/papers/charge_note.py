"""The charge note: what is charged to or put to an owner's account without a sale."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers.adding import working_must_add_up
from shopledger.papers.cautions import GENERAL
from shopledger.papers.parts import OwnerFacts, PaperFacts, WorkingLine
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_, _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class ChargeNoteFacts(PaperFacts):
    """What a charge note states.

    Shape:  `act` is "withdrawal", "storage", "insurance", "valuation", "repair", "private_sale",
            "forfeited_deposit", "loss" or "other"; the counting lines of `lines` add up to `total`: positive
            is charged to the owner, negative is put to the owner's credit; `balance_after` is what is held
            for the owner after it (negative: the owner owes), None where not said; `by_words` quotes the term
            of the agreement that allows it.
    """

    act: str
    booked_on: date
    owners: tuple[OwnerFacts, ...]
    instrument_number: str = ""
    instrument_name: str = ""
    agreement_number: str = ""
    lines: tuple[WorkingLine, ...]
    total: Money
    by_words: str = ""
    pay_by: date | None = None
    set_off: bool = False
    balance_after: Money | None = None
    notes: tuple[str, ...] = ()


_TITLES = {
    "withdrawal": N_("Charge for taking back"),
    "storage": N_("Charge for storage"),
    "insurance": N_("Charge for insurance"),
    "valuation": N_("Charge for a valuation"),
    "repair": N_("Charge for a repair"),
    "private_sale": N_("Commission on a sale by the owner"),
    "forfeited_deposit": N_("A forfeited deposit"),
    "loss": N_("Held for the owner after a loss"),
    "other": "",
}


def compose(facts: ChargeNoteFacts, sheet: Sheet) -> None:
    """Write the note on a sheet."""
    working_must_add_up("charge", facts.lines, facts.total)
    sheet.title(_("Charge note"), _(_TITLES[facts.act]))
    sheet.grid(
        sheet.owner_blocks(facts.owners),
        [
            (_("Note"), facts.number),
            (_("Booked on"), sheet.day(facts.booked_on)),
            (_("Agreement"), facts.agreement_number),
            (_("Pay by"), "" if facts.pay_by is None else sheet.day(facts.pay_by)),
        ],
    )
    sheet.owner_table(facts.owners)
    if facts.instrument_name:
        sheet.section(
            _("Instrument"),
            sheet.both(facts.instrument_name, facts.instrument_number),
        )
    sheet.heading(_("How it is reckoned"))
    credit = facts.total.minor < 0
    words = _("To the owner\u2019s credit") if credit else _("Charged to the owner\u2019s account")
    sheet.working(facts.lines, words, facts.total)
    sheet.section(_("By the agreement"), facts.by_words)
    if not credit and facts.total:
        sheet.section(
            _("How it is paid"),
            _("It is set off against what the owner is paid.")
            if facts.set_off
            else _("It is to be paid on its own; nothing is set off against what the owner is paid."),
        )
    if facts.balance_after is not None:
        sheet.section(_("After this"), sheet.held_sentence(facts.balance_after))
    sheet.section(_("Notes"), *facts.notes)
    sheet.cautions([_(GENERAL)])
