"""Samples of the statement of materials: an ordinary, a long and an empty case."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from shopledger.papers.materials_statement import ComponentFacts, MaterialsFacts
from shopledger.papers.parts import PaperFacts, ShopFacts
from shopledger.papers.workshop import ThingFacts
from tests.papers.sample_things import LONG_NAME, every_paper

ASK = "the CITES management authority of the country it leaves and of the one it enters"
STICK = ComponentFacts(
    component="Bow stick",
    material="pernambuco",
    species="Paubrasilia echinata",
    certainty="certain",
    known=("finished", "made on 31 Dec 1994"),
    evidence=("receipt: two boards, Saltmere (12 Apr 1991, Saltmere)",),
    answer="may need papers",
    because="From 5 March 2026 a sale across a border needs CITES permits, for existing bows too.",
    rule="CITES Appendix II, annotation #10 as amended at CoP20",
    source="CITES CoP20, as reported by makers' and musicians' associations",
    verified_on=date(2026, 11, 25),
    ask=ASK,
)
TIP = ComponentFacts(
    component="Tip",
    species="unknown",
    certainty="not certain",
    known=("weight 0.4 g",),
    evidence=("none",),
    answer="can't be told",
    because="The species isn't told.",
    rule="What isn't known is not decided",
    source="The caution of this program; no law says it",
    verified_on=date(2026, 11, 25),
    ask=ASK,
)


def materials_ordinary(shop: ShopFacts) -> dict[str, PaperFacts]:
    """Give an ordinary statement of materials."""
    return {
        "materials_statement": MaterialsFacts(
            **every_paper("MA 2026-002", shop),
            thing=ThingFacts(number="No. 031", name="Bow", maker="made by Aldous Fenwright, 1994"),
            act="sale abroad",
            act_on=date(2026, 3, 5),
            from_place="US-MA",
            to_place="DE",
            re_export="not told",
            answer="may need papers",
            answer_because=f"Bow stick: {STICK.because}",
            ask=ASK,
            components=(STICK, TIP),
            advice=("Keep what proves species, dates and origin.",),
        )
    }


def materials_long(shop: ShopFacts) -> dict[str, PaperFacts]:
    """Give one with long names and many components."""
    paper = materials_ordinary(shop)["materials_statement"]
    assert isinstance(paper, MaterialsFacts)
    many = tuple(
        replace(one, component=f"{one.component} {n}", material=LONG_NAME, evidence=(LONG_NAME,) * 6)
        for n in range(10)
        for one in (STICK, TIP)
    )
    return {
        "materials_statement": replace(
            paper, thing=replace(paper.thing, name=LONG_NAME), components=many, advice=(LONG_NAME,) * 4
        )
    }


def materials_empty(shop: ShopFacts) -> dict[str, PaperFacts]:
    """Give one of a thing of which no component is recorded."""
    day = date(2026, 1, 1)
    return {
        "materials_statement": MaterialsFacts(
            number="MA 1",
            issued_on=day,
            shop=shop,
            thing=ThingFacts(number="No. 001", name="Bow"),
            act="travel",
            act_on=day,
            answer="can't be told",
            answer_because="No component is recorded.",
            ask=ASK,
        )
    }
