"""The receipt of intake: what was left with the shop, by whom, in which condition, and at what value it is insured."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers import describing
from shopledger.papers.cautions import GENERAL, VALUE, words_of
from shopledger.papers.parts import (
    NO_CAUTIONS,
    CautionFacts,
    InstrumentFacts,
    OwnerFacts,
    PaperFacts,
    PartyFacts,
)
from shopledger.quantities.money import Money
from shopledger.quantities.words import _, count_words

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class TitleFacts:
    """What was seen and said about whose it is.

    Shape:  `identity_seen` names the document ("passport", never its number); `authority` is that of an heir
            or agent and what shows it; `no_liens` is the bringer's statement; `register` and `register_says`
            with the day it was asked, None if not.
    """

    identity_seen: str = ""
    identity_seen_on: date | None = None
    authority: str = ""
    no_liens: bool | None = None
    register: str = ""
    register_checked_on: date | None = None
    register_says: str = ""


NOTHING_SEEN = TitleFacts()


@dataclass(frozen=True, slots=True, kw_only=True)
class IntakeFacts(PaperFacts):
    """What a receipt of intake states.

    Shape:  `brought_by` is whoever stood in the room, `owners` whose it is; `reason` is in the reader's words
            ("to sell", "to be repaired"); `insured_by` is "shop", "owner" or "nobody"; `pictures` counts the
            photographs kept.
    """

    entry_number: str
    received_on: date
    brought_by: PartyFacts
    owners: tuple[OwnerFacts, ...]
    reason: str
    instrument: InstrumentFacts
    value_to_insure: Money | None = None
    insured_by: str = "shop"
    title: TitleFacts = NOTHING_SEEN
    pictures: int = 0
    notes: str = ""
    cautions: CautionFacts = NO_CAUTIONS


def compose(facts: IntakeFacts, sheet: Sheet) -> None:
    """Write the receipt on a sheet."""
    sheet.title(_("Receipt of intake"), _("what was left with the shop, and in which condition"))
    brought = [(_("Brought by"), sheet.party(facts.brought_by))]
    same = len(facts.owners) == 1 and facts.owners[0].party == facts.brought_by
    sheet.grid(
        brought if same else [*brought, *sheet.owner_blocks(facts.owners)],
        [
            (_("Entry"), facts.entry_number),
            (_("Received on"), sheet.day(facts.received_on)),
            (_("Reason"), facts.reason),
            (_("Receipt"), facts.number),
        ],
    )
    if same:
        sheet.section(
            _("Owner"), _("{name} says the instrument is theirs.").format(name=facts.brought_by.name)
        )
    sheet.owner_table(facts.owners)
    describing.what_it_is(facts.instrument, sheet)
    if not facts.instrument.comes_with:
        sheet.section(_("Comes with"), _("nothing else"))
    describing.condition_and_company(facts.instrument, sheet)
    if facts.pictures:
        sheet.section(
            _("Photographs"),
            count_words(
                "{n} photograph is kept with the entry.",
                "{n} photographs are kept with the entry.",
                facts.pictures,
            ),
        )
    describing.measures_and_fittings(facts.instrument, sheet)
    sheet.section(_("Value to insure"), _value_words(facts, sheet))
    sheet.pairs(_("Whose it is"), _title_pairs(facts.title, sheet))
    sheet.section(_("Notes"), facts.notes)
    sheet.cautions(words_of(facts.cautions, VALUE, GENERAL))
    sheet.signatures(
        [(_("Brought by"), facts.brought_by.name), (_("For the shop"), facts.shop.name)],
        before=_("The instrument and what is named here were handed to the shop in the condition described."),
    )


def _value_words(facts: IntakeFacts, sheet: Sheet) -> str:
    """Give what it is insured for, and by whom."""
    value = (
        _("No value was agreed.")
        if facts.value_to_insure is None
        else f"{sheet.money(facts.value_to_insure)}."
    )
    by = {
        "shop": _("The shop insures it while it is here."),
        "owner": _("The owner insures it, also while it is here."),
        "nobody": _("It is not insured while it is here; the risk is the owner\u2019s."),
    }[facts.insured_by]
    return f"{value} {by}"


def _title_pairs(title: TitleFacts, sheet: Sheet) -> list[tuple[str, str]]:
    """Give what was seen and said about whose it is."""
    identity = title.identity_seen or _("not seen")
    if title.identity_seen and title.identity_seen_on is not None:
        identity = _("{document}, seen on {day}").format(
            document=title.identity_seen, day=sheet.day(title.identity_seen_on)
        )
    if title.register_checked_on is None:
        register = _("not asked yet")
    else:
        register = _("{register}, asked on {day}: {answer}").format(
            register=title.register or _("register of stolen instruments"),
            day=sheet.day(title.register_checked_on),
            answer=title.register_says or _("nothing found"),
        )
    liens = {
        None: _("not asked"),
        True: _("the bringer states that nobody else has a claim on it"),
        False: _("someone else has a claim on it; see notes"),
    }[title.no_liens]
    return [
        (_("Identity"), identity),
        (_("Authority"), title.authority),
        (_("Claims of others"), liens),
        (_("Stolen register"), register),
    ]
