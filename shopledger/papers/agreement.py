"""The consignment agreement: who leaves what with the shop, on which terms, in plain words, with a worked example."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from shopledger.papers import describing
from shopledger.papers.adding import working_must_add_up
from shopledger.papers.cautions import GENERAL, words_of
from shopledger.papers.parts import (
    NO_CAUTIONS,
    CautionFacts,
    InstrumentFacts,
    OwnerFacts,
    PaperFacts,
    TermsFacts,
    WorkingLine,
)
from shopledger.papers.terms import clauses_of
from shopledger.quantities.money import Money
from shopledger.quantities.words import _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class AgreementFacts(PaperFacts):
    """What a consignment agreement states.

    Shape:  `example` reckons a sale at the asking price, `example_net` being the sum of its counting lines;
            `signed_on` is None while it is not signed; `entry_number` is that of taking in; `renews` is the
            number of the agreement that this one renews.
    """

    agreed_on: date
    owners: tuple[OwnerFacts, ...]
    instrument: InstrumentFacts
    entry_number: str = ""
    renews: str = ""
    terms: TermsFacts
    example: tuple[WorkingLine, ...]
    example_net: Money
    cautions: CautionFacts = NO_CAUTIONS
    signed_on: date | None = None


def compose(facts: AgreementFacts, sheet: Sheet) -> None:
    """Write the agreement on a sheet."""
    working_must_add_up("example", facts.example, facts.example_net)
    sheet.title(_("Consignment agreement"), _("between the owner and the shop that sells for the owner"))
    sheet.grid(
        sheet.owner_blocks(facts.owners),
        [
            (_("Agreement"), facts.number),
            (_("Agreed on"), sheet.day(facts.agreed_on)),
            (_("Entry"), facts.entry_number),
            (_("Renews"), facts.renews),
            (_("Ends on"), sheet.day(facts.terms.ends_on)),
        ],
    )
    sheet.section(
        _("What this is"),
        _(
            "The owner leaves the instrument with {shop} (the shop) to sell. It stays the owner\u2019s "
            "property until it is sold; the "
            "shop sells as the owner\u2019s agent and holds what is the owner\u2019s for the owner."
        ).format(shop=facts.shop.name),
    )
    sheet.owner_table(facts.owners)
    describing.what_it_is(facts.instrument, sheet)
    describing.measures_and_fittings(facts.instrument, sheet)
    describing.condition_and_company(facts.instrument, sheet)
    for clause in clauses_of(facts.terms, facts.shop.manners):
        sheet.section(clause.head, *clause.says)
    sheet.heading(
        _("Worked example"),
        _(
            "How a sale at the asking price would be reckoned, before anything else stands on the account. "
            "An example, not a promise."
        ),
    )
    sheet.working(facts.example, sheet.net_words(facts.example_net), facts.example_net)
    sheet.cautions(words_of(facts.cautions, GENERAL))
    sheet.signatures(
        [*((_("Owner"), owner.party.name) for owner in facts.owners), (_("For the shop"), facts.shop.name)],
        before=_(
            "A later change is an addendum signed by both sides. Both sides have read this agreement and "
            "keep a copy."
        ),
        signed_on=facts.signed_on,
    )
