"""Samples of the papers of what is elsewhere, valued or damaged: an ordinary, a long and an empty case of each."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import Any

from shopledger.papers.damage_report import DamageFacts
from shopledger.papers.parts import (
    CautionFacts,
    InstrumentFacts,
    OwnerFacts,
    PaperFacts,
    PartyFacts,
    ShopFacts,
)
from shopledger.papers.placing import PlacingFacts
from shopledger.papers.shipment import SentFacts, ShipmentFacts
from shopledger.papers.valuation import ValuationFacts
from shopledger.papers.workshop import ThingFacts
from tests.papers.sample_things import LONG_LINES, LONG_OWNER, OWNER, every_paper, usd

CELLO = ThingFacts(
    number="No. 031",
    name="Cello, “the Ostby cello”",
    maker="made by Aldous Fenwright, Port Ellery, 1987",
)
LONG_THING = ThingFacts(
    number="No. 1031",
    name="Five-stringed violoncello piccolo after a lost model, with carved head and inlay, and its covers",
    maker=f"attributed to {LONG_OWNER.name}, 1994",
)
DEALER = replace(OWNER, name="Hull and Keel, Strings", number="P 021")


def away_ordinary(shop: ShopFacts) -> dict[str, PaperFacts]:
    """Give an ordinary paper of every kind about what is elsewhere, valued or damaged."""
    return {
        "placing": PlacingFacts(
            **every_paper("PL 2026-004", shop),
            placing_number="PL 2026-004",
            dealer=DEALER,
            since=date(2026, 4, 2),
            until=date(2026, 7, 31),
            thing=CELLO,
            agreement_number="AG 2026-007",
            asking=usd("12800.00"),
            dealer_rate=Fraction(2, 5),
            value=usd("9500.00"),
            risk="the other dealer",
            insured_by="the other dealer",
            terms=("Shown in the window on weekdays only.",),
        ),
        "shipment": ShipmentFacts(
            **every_paper("SH 2026-002", shop),
            to=OWNER,
            sent_on=date(2026, 4, 2),
            why="on trial",
            reference="TR 2026-011",
            carrier="Tideway Parcels",
            tracking="TP 4410 2207",
            lines=(
                SentFacts(n=1, thing=CELLO, comes_with=("Case", "Rosin"), value=usd("9500.00")),
                SentFacts(n=2, thing=ThingFacts(number="No. 032", name="Bow"), value=usd("900.00")),
            ),
            whole=usd("10400.00"),
            insured_for=usd("10400.00"),
            insured_by="the carrier",
            risk="the shop",
        ),
        "valuation": ValuationFacts(
            **every_paper("VA 2026-005", shop),
            requested_by=OWNER,
            instrument=InstrumentFacts(
                number="No. 031",
                name="Cello, “the Ostby cello”",
                standing="made by",
                maker="Aldous Fenwright",
                made="Port Ellery, 1987",
            ),
            value=usd("11500.00"),
            purpose="insurance",
            valued_by="Aldous Fenwright",
            valued_on=date(2026, 3, 30),
            basis=("Replacement by one of like quality from the trade, tax included.",),
            interest="to_sell",
        ),
        "damage_report": DamageFacts(
            **every_paper("DM 2026-001", shop),
            damage_number="DM 2026-001",
            owners=(OwnerFacts(party=OWNER),),
            thing=CELLO,
            entry_number="TI 2026-019",
            trial_number="TR 2026-011",
            happened_on=date(2026, 4, 10),
            found_on=date(2026, 4, 18),
            was="on trial: with Ottoline Marrack",
            what_happened="A chair fell against it at a rehearsal.",
            report_number="CR 2026-012",
            borne_by="the player",
            reported_to="Harbour Mutual, claim 88",
            claimed=usd("450.00"),
        ),
    }


def away_long(shop: ShopFacts) -> dict[str, PaperFacts]:
    """Give the same papers with long names, addresses and words."""
    papers: dict[str, Any] = dict(away_ordinary(shop))
    papers["placing"] = replace(
        papers["placing"],
        dealer=LONG_OWNER,
        thing=LONG_THING,
        until_before=date(2026, 6, 30),
        terms=LONG_LINES,
    )
    papers["shipment"] = replace(
        papers["shipment"],
        to=LONG_OWNER,
        to_place=LONG_LINES,
        goes_to="CH",
        lines=tuple(
            SentFacts(n=n, thing=LONG_THING, comes_with=LONG_LINES[:2], value=usd("123456.78"))
            for n in range(1, 41)
        ),
        whole=usd("4938271.20"),
        cautions=CautionFacts(
            materials=("Bow stick, Paubrasilia echinata: may need papers before it crosses a border.",)
        ),
    )
    papers["valuation"] = replace(
        papers["valuation"],
        requested_by=LONG_OWNER,
        valued_by=LONG_OWNER.name,
        basis=LONG_LINES,
        is_appraisal=True,
        interest="",
    )
    papers["damage_report"] = replace(
        papers["damage_report"],
        owners=(OwnerFacts(party=LONG_OWNER),),
        thing=LONG_THING,
        what_happened=" ".join(LONG_LINES * 3),
        closed_on=date(2026, 6, 1),
        paid=usd("400.00"),
        outcome="The insurer paid less its excess.",
    )
    return papers


def away_empty(shop: ShopFacts) -> dict[str, PaperFacts]:
    """Give the same papers with nothing in them that may be left out."""
    day = date(2026, 1, 2)
    head: dict[str, Any] = {"issued_on": day, "shop": shop}
    bow = ThingFacts(number="No. 001", name="Bow")
    someone = PartyFacts(name="Someone")
    return {
        "placing": PlacingFacts(
            number="PL 1",
            **head,
            placing_number="PL 1",
            dealer=someone,
            since=day,
            until=day,
            thing=bow,
            value=usd("1.00"),
            risk="the shop",
            insured_by="nobody",
        ),
        "shipment": ShipmentFacts(
            number="SH 1",
            **head,
            to=someone,
            sent_on=day,
            why="other",
            carrier="A carrier",
            lines=(SentFacts(n=1, thing=bow),),
            insured_by="nobody",
            risk="the shop",
        ),
        "valuation": ValuationFacts(
            number="VA 1",
            **head,
            instrument=InstrumentFacts(number="No. 001", name="Bow"),
            value=usd("1.00"),
            purpose="other",
            valued_by="Someone",
            valued_on=day,
        ),
        "damage_report": DamageFacts(
            number="DM 1",
            **head,
            damage_number="DM 1",
            owners=(OwnerFacts(party=someone),),
            thing=bow,
            found_on=day,
            what_happened="It fell.",
        ),
    }
