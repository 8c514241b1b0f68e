"""Samples of the papers of trials: an ordinary, a long and an empty case of each."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

from shopledger.papers.parts import CautionFacts, PaperFacts, PartyFacts, ShopFacts
from shopledger.papers.trial import LentFacts
from shopledger.papers.trial_agreement import TrialAgreementFacts
from shopledger.papers.trial_extension import TrialExtensionFacts
from shopledger.papers.trial_reminder import TrialReminderFacts
from shopledger.papers.trial_return import BackFacts, TrialReturnFacts
from tests.papers.sample_things import LONG_LINES, LONG_OWNER, OWNER, every_paper, usd

TRIAL = "TR 2026-011"
CELLO = LentFacts(
    n=1,
    name="Cello, “the Ostby cello”",
    number="No. 031",
    maker="made by Aldous Fenwright, Port Ellery, 1987",
    value=usd("9500.00"),
    report_number="CR 2026-009",
)
BOW = LentFacts(n=2, name="Bow", number="No. 032", value=usd("900.00"), condition=("Hair: new in February.",))
CASE = LentFacts(n=3, name="a cello case, canvas over plywood", value=usd("150.00"))
HEAD: dict[str, Any] = {
    "trial_number": TRIAL,
    "player": OWNER,
    "began_on": date(2026, 4, 2),
    "due_on": date(2026, 4, 16),
}


def trials_ordinary(shop: ShopFacts) -> dict[str, PaperFacts]:
    """Give an ordinary paper of every kind of a trial."""
    return {
        "trial_agreement": TrialAgreementFacts(
            **every_paper(TRIAL, shop),
            **HEAD,
            lines=(CELLO, BOW, CASE),
            whole=usd("10550.00"),
            risk="the player",
            insured_by="the player",
            insurance="Harbour Mutual, policy seen",
            carriage_by="the player",
            at_place=("3 Chandler\u2019s Row", "Port Ellery"),
            identity_seen="identity card",
            deposit=usd("500.00"),
            deposit_number="PR 2026-044",
            note="She plays it at two rehearsals.",
        ),
        "trial_extension": TrialExtensionFacts(
            **every_paper(f"{TRIAL}/2", shop),
            **{**HEAD, "due_on": date(2026, 4, 30)},
            agreed_on=date(2026, 4, 15),
            due_before_on=date(2026, 4, 16),
            agreed_by="the player, by telephone",
            lines=(CELLO,),
        ),
        "trial_return": TrialReturnFacts(
            **every_paper(f"{TRIAL}/3", shop),
            **HEAD,
            back_on=date(2026, 4, 18),
            back=(
                BackFacts(
                    line=CELLO,
                    condition=("Scratched by a chair, the player says.",),
                    report_number="CR 2026-012",
                    new=("back: scratch, slight",),
                    compared=True,
                ),
                BackFacts(line=CASE),
            ),
            kept=(BOW,),
            deposit_held=usd("500.00"),
        ),
        "trial_reminder": TrialReminderFacts(
            **every_paper("TL 2026-003", shop),
            **HEAD,
            sent_on=date(2026, 4, 20),
            lines=(CELLO, CASE),
            earlier=(date(2026, 4, 12),),
        ),
    }


def trials_long(shop: ShopFacts) -> dict[str, PaperFacts]:
    """Give papers of a trial of forty things, with long words for each, lent to someone with a long name."""
    long_words = (
        "Five-stringed violoncello piccolo after a lost model, with carved head and inlay, and its covers"
    )
    things = tuple(
        replace(
            CELLO,
            n=n,
            name=f"{long_words}, {n}",
            maker=f"attributed to {LONG_OWNER.name}, 1994",
            condition=LONG_LINES,
            value=usd("123456.78"),
        )
        for n in range(1, 41)
    )
    head = {**HEAD, "player": LONG_OWNER}
    papers: dict[str, Any] = {}
    for name, facts in trials_ordinary(shop).items():
        papers[name] = replace(facts, player=LONG_OWNER)
    papers["trial_agreement"] = replace(
        papers["trial_agreement"],
        lines=things,
        whole=usd("4938271.20"),
        at_place=LONG_LINES,
        goes_to="CH",
        cautions=CautionFacts(
            materials=("Bow stick, Paubrasilia echinata: may need papers before it crosses a border.",)
        ),
    )
    papers["trial_extension"] = replace(papers["trial_extension"], lines=things)
    papers["trial_reminder"] = replace(
        papers["trial_reminder"], lines=things, earlier=tuple(date(2026, 4, day) for day in range(1, 20))
    )
    papers["trial_return"] = TrialReturnFacts(
        **every_paper(f"{TRIAL}/4", shop),
        **head,
        back_on=date(2026, 4, 16),
        back=tuple(
            BackFacts(line=thing, condition=LONG_LINES, new=("back: scratch, slight",), compared=True)
            for thing in things[:20]
        ),
        still_out=things[20:],
        deposit_held=usd("123456.78"),
    )
    return papers


def trials_empty(shop: ShopFacts) -> dict[str, PaperFacts]:
    """Give papers of a trial with nothing in them that may be left out."""
    day = date(2026, 1, 2)
    head: dict[str, Any] = {
        "issued_on": day,
        "shop": shop,
        "trial_number": "TR 1",
        "player": PartyFacts(name="Someone"),
        "began_on": day,
        "due_on": day,
    }
    thing = LentFacts(n=1, name="Bow", value=usd("1.00"))
    return {
        "trial_agreement": TrialAgreementFacts(
            number="TR 1",
            **head,
            lines=(thing,),
            whole=usd("1.00"),
            risk="the shop",
            insured_by="nobody",
            carriage_by="the shop",
        ),
        "trial_extension": TrialExtensionFacts(
            number="TR 1/2", **head, agreed_on=day, due_before_on=day, lines=(thing,)
        ),
        "trial_return": TrialReturnFacts(number="TR 1/3", **head, back_on=day, back=(BackFacts(line=thing),)),
        "trial_reminder": TrialReminderFacts(number="TL 1", **head, sent_on=day, lines=(thing,)),
    }
