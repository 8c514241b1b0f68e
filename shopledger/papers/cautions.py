"""The cautions of papers: short, general, and deferring to whoever is licensed to advise."""

from __future__ import annotations

from shopledger.papers.parts import CautionFacts
from shopledger.quantities.words import N_, _

GENERAL = N_(
    "General information, not advice. Rules on sale, consignment, tax and insurance differ by place and "
    "change: ask a "
    "lawyer, an accountant or an insurer."
)
FILING_MAY_BE_MET = N_(
    "Filing (United States): the conditions of section 9-102(a)(20) of the Uniform Commercial Code on goods "
    "consigned to a "
    "dealer may be met here. Without a filing by the owner, creditors of the shop may have a claim on the "
    "instrument. Ask a lawyer "
    "before it is left."
)
FILING_NOT_MET = N_(
    "Filing (United States): by the facts given, the conditions of section 9-102(a)(20) of the Uniform "
    "Commercial Code on goods "
    "consigned to a dealer do not seem to be met. Other rules may protect the shop\u2019s creditors all the "
    "same. Ask a lawyer."
)
MAKERS_OWN_WORK = N_(
    "Maker\u2019s own work: the owner made the instrument or is the maker\u2019s heir. In some places (New "
    "York: Arts and "
    "Cultural Affairs Law, section 12.01) a maker\u2019s work on consignment is trust property and what it "
    "brings is held in trust. "
    "Ask a lawyer."
)
MATERIALS = N_(
    "Protected materials: rules on sale, travel and shipping differ by place and change. What is unknown is "
    "not thereby free. "
    "Ask the authority before a sale, a trip or a shipment."
)
TAX = N_(
    "Tax is stated as reckoned by the shop from the rate it was given. Rules differ by place and change: "
    "ask an accountant."
)
VALUE = N_("A value to insure is not a certified appraisal unless it says who made it.")


def words_of(facts: CautionFacts, *general: str) -> list[str]:
    """Give the cautions of a paper, translated: those of its facts, then the general ones named."""
    said: list[str] = []
    if facts.filing == "may_be_met":
        said.append(_(FILING_MAY_BE_MET))
    elif facts.filing == "not_met":
        said.append(_(FILING_NOT_MET))
    if facts.makers_own_work:
        said.append(_(MAKERS_OWN_WORK))
    if facts.materials:
        said.extend([*facts.materials, _(MATERIALS)])
    said.extend(facts.further)
    return said + [_(caution) for caution in general]
