"""Samples of the papers of custody: the schedule for the insurer and a count, an ordinary, a long and an empty one."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

from shopledger.papers.custody_list import GROUPS, CustodyLine, CustodyListFacts, InsurerTotal
from shopledger.papers.parts import PaperFacts, ShopFacts
from shopledger.papers.stock_take import CountedFacts, StockTakeFacts
from tests.papers.sample_things import LONG_LINES, LONG_NAME, every_paper, usd

OWN = CustodyLine(
    group="own",
    number="No. 012",
    what="Violin, 4/4, 4 strings",
    maker="labelled Corin Ames",
    serial="=17",
    whose="the shop's own",
    place="here",
    since=date(2026, 1, 20),
    risk="the shop",
    insured_by="the shop",
)
CONSIGNED = CustodyLine(
    group="consigned",
    number="No. 031",
    what="Cello, “the Ostby cello”",
    maker="made by Aldous Fenwright",
    whose="consigned",
    place="here",
    since=date(2026, 2, 3),
    risk="the shop",
    insured_by="the shop",
    value=usd("9500.00"),
)
LENT = replace(
    CONSIGNED,
    group="trial",
    number="No. 027",
    what="Bass viola da gamba, six strings",
    place="on trial: with Ida Skerry",
    risk="the player",
    insured_by="the player",
    value=usd("11000.00"),
    note="TR 2026-011",
)
COUNTED = CountedFacts(
    number="No. 012", what="Violin, 4/4, 4 strings", maker="labelled Corin Ames", note="Lent in a hurry?"
)
SHOP_INSURES = InsurerTotal(insured_by="the shop", things=2, without_value=1, value=usd("9500.00"))
PLAYER_INSURES = InsurerTotal(insured_by="the player", things=1, without_value=0, value=usd("11000.00"))


def custody_ordinary(shop: ShopFacts) -> dict[str, PaperFacts]:
    """Give an ordinary paper of every kind of custody."""
    return {
        "custody_list": CustodyListFacts(
            **every_paper("CS 2026-002", shop),
            as_of=date(2026, 3, 3),
            lines=(OWN, CONSIGNED, LENT),
            totals=(SHOP_INSURES, PLAYER_INSURES),
            value_total=usd("20500.00"),
        ),
        "stock_take": StockTakeFacts(
            **every_paper("ST 2026-001", shop),
            began_on=date(2026, 3, 2),
            ended_on=date(2026, 3, 4),
            counted_by="Aldous Fenwright",
            expected=2,
            missing=(COUNTED,),
            unexpected=(
                CountedFacts(number="No. 027", what="Bass viola da gamba", note="on trial: with Ida Skerry"),
            ),
            seen=(
                CountedFacts(
                    number="No. 031", what="Cello, “the Ostby cello”", maker="made by Aldous Fenwright"
                ),
            ),
            note=("Met, in no book: a bow without a frog",),
        ),
    }


def custody_long(shop: ShopFacts) -> dict[str, PaperFacts]:
    """Give the same with forty things, long names and notes."""
    papers: dict[str, Any] = dict(custody_ordinary(shop))
    lines = tuple(
        CustodyLine(
            group=group,
            number=f"No. {1000 + n}",
            what="Five-stringed violoncello piccolo after a lost model, with carved head and inlay, and its covers",
            maker=f"attributed to {LONG_NAME}",
            serial="0123456789" * 3,
            whose="to be looked after",
            place=f"away: with another workshop, {LONG_NAME}",
            since=date(2026, 3, 1),
            risk="the other workshop",
            insured_by=f"the insurers of {LONG_NAME}",
            value=usd("123456.78"),
            note="Left in the lower room beside the window until the varnish is dry.",
        )
        for n, group in enumerate(sorted((*GROUPS,) * 7, key=list(GROUPS).index)[:40])
    )
    whole = InsurerTotal(
        insured_by=f"the insurers of {LONG_NAME}", things=40, without_value=0, value=usd("4938271.20")
    )
    papers["custody_list"] = replace(
        papers["custody_list"], lines=lines, totals=(whole,), value_total=whole.value
    )
    things = tuple(
        CountedFacts(number=line.number, what=line.what, maker=line.maker, note=line.note) for line in lines
    )
    papers["stock_take"] = replace(
        papers["stock_take"],
        counted_by=LONG_NAME,
        expected=60,
        missing=things[:20],
        unexpected=things[:5],
        seen=things,
        note=LONG_LINES,
    )
    return papers


def custody_empty(shop: ShopFacts) -> dict[str, PaperFacts]:
    """Give the same with nothing in it that may be left out."""
    day = date(2026, 1, 2)
    return {
        "custody_list": CustodyListFacts(
            number="CS 1", issued_on=day, shop=shop, as_of=day, lines=(), totals=(), value_total=usd("0")
        ),
        "stock_take": StockTakeFacts(
            number="ST 1", issued_on=day, shop=shop, began_on=day, ended_on=day, expected=0
        ),
    }
