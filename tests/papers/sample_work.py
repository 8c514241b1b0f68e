"""Samples of the workshop's papers: an ordinary, a long and an empty case of each."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import Any

from shopledger.papers.claim_ticket import ClaimTicketFacts
from shopledger.papers.collection import CollectionFacts
from shopledger.papers.condition_report import (
    ComparedFacts,
    ConditionFacts,
    MarkFacts,
    PhotographFacts,
    PinFacts,
)
from shopledger.papers.estimate import EstimateFacts, EstimateLineFacts
from shopledger.papers.lien_sale import LienSaleFacts
from shopledger.papers.parts import AmountLine, LabelledFacts, PaperFacts, PartyFacts, PaymentLine, ShopFacts
from shopledger.papers.reminder import ReminderFacts
from shopledger.papers.setup_sheet import SetupFacts, SetupMeasureFacts, SetupStringFacts
from shopledger.papers.work_invoice import WorkInvoiceFacts, WorkLineFacts
from shopledger.papers.workshop import TaxOnWork, ThingFacts
from tests.papers.sample_photographs import LYING_NAME, UPRIGHT_NAME
from tests.papers.sample_things import LONG_NAME, LONG_OWNER, OWNER, every_paper, usd

CLAIM = "26-0014-7"
THING = ThingFacts(
    number="No. 027",
    name="Bass viola da gamba, six strings",
    maker="made by Aldous Fenwright, Port Ellery, 1994",
)
LONG_THING = ThingFacts(
    number="No. 128",
    name="Five-stringed violoncello piccolo after a lost model, with carved head and inlay",
    maker=f"attributed to {LONG_NAME}, 1994",
)
WANTS = "The low D buzzes when it is played hard; the pegs slip in dry weather."
COMPANY = ("case, canvas over plywood, one latch replaced", "bow No. 027-b, snakewood")
TAX = TaxOnWork(rate=Fraction("0.0825"), basis="item")


def work_ordinary(shop: ShopFacts) -> dict[str, PaperFacts]:
    """Give an ordinary paper of every kind of the workshop."""
    job: dict[str, Any] = {"claim_number": CLAIM, "client": OWNER, "thing": THING}
    return {
        "claim_ticket": ClaimTicketFacts(
            **every_paper(CLAIM, shop),
            **job,
            opened_on=date(2026, 3, 4),
            promised_on=date(2026, 3, 20),
            came_with=COMPANY,
            wants=WANTS,
            deposit=usd("50.00"),
            value=usd("9500.00"),
        ),
        "estimate": EstimateFacts(
            **every_paper("ES 2026-009", shop),
            **job,
            made_on=date(2026, 3, 6),
            valid_until=date(2026, 4, 5),
            wants=WANTS,
            sees="The low frets are worn; the second peg is out of round.",
            hourly_rate=usd("80.00"),
            lines=(
                EstimateLineFacts(
                    kind="labour",
                    what="Find and cure the buzz",
                    minutes=60,
                    minutes_high=150,
                    low=usd("80.00"),
                    high=usd("200.00"),
                ),
                EstimateLineFacts(
                    kind="labour", what="Fit pegs", minutes=90, low=usd("120.00"), high=usd("120.00")
                ),
                EstimateLineFacts(
                    kind="part", what="Peg, boxwood", quantity=2, low=usd("36.00"), high=usd("36.00")
                ),
                EstimateLineFacts(
                    kind="service",
                    what="Turning of collars",
                    low=usd("25.00"),
                    high=usd("25.00"),
                    taxed=False,
                ),
            ),
            discount=usd("11.00"),
            # By item, 8.25% of 80.00, 120.00 and 36.00: 6.60 + 9.90 + 2.97; at most 16.50 + 9.90 + 2.97. The discount
            # is on what is not taxed.
            net_low=usd("250.00"),
            net_high=usd("370.00"),
            tax=TAX,
            tax_low=usd("19.47"),
            tax_high=usd("29.37"),
            total_low=usd("269.47"),
            total_high=usd("399.37"),
            replaces="ES 2026-007",
            approved=usd("200.00"),
            notes=("New frets would be a job of their own.",),
        ),
        "work_invoice": WorkInvoiceFacts(
            **every_paper("SI 2026-041", shop),
            **job,
            billed_on=date(2026, 3, 18),
            lines=(
                WorkLineFacts(
                    kind="labour",
                    what="Find and cure the buzz",
                    minutes=105,
                    hourly=usd("80.00"),
                    amount=usd("140.00"),
                ),
                WorkLineFacts(kind="labour", what="Fit pegs", minutes=80, amount=usd("120.00")),
                WorkLineFacts(kind="part", what="Peg, boxwood", quantity=2, amount=usd("36.00")),
                WorkLineFacts(kind="service", what="Turning of collars", amount=usd("25.00"), taxed=False),
                WorkLineFacts(kind="labour", what="Not billed", amount=usd("-20.00"), taxed=False),
            ),
            net=usd("301.00"),
            tax=TAX,
            # 8.25% by item of 140.00, 120.00 and 36.00: 11.55 + 9.90 + 2.97.
            tax_amount=usd("24.42"),
            total=usd("325.42"),
            payments=(
                PaymentLine(
                    on=date(2026, 3, 18),
                    what="Deposit",
                    how="deposit set off",
                    reference="PR 2026-031",
                    amount=usd("50.00"),
                ),
                PaymentLine(
                    on=date(2026, 3, 18), what="Payment", how="card", amount=usd("100.00"), cleared=False
                ),
            ),
            balance=usd("175.42"),
            approved=usd("400.00"),
            notes=("Pegs want turning once a week until summer.",),
        ),
        "collection": CollectionFacts(
            **every_paper("CL 2026-012", shop),
            **job,
            handed_over_on=date(2026, 3, 21),
            handed_to="Ottoline Marrack",
            identity_seen="passport",
            came_with=COMPANY,
            condition=(
                LabelledFacts(label="Top", words="as it came; nothing new"),
                LabelledFacts(label="Pegs", words="two new, boxwood"),
            ),
            work_done=("Find and cure the buzz", "Fit pegs", "Peg, boxwood", "Turning of collars"),
            invoice_number="SI 2026-041",
            billed=usd("325.42"),
            paid=usd("150.00"),
            balance=usd("175.42"),
            owing_agreed="She pays the rest by transfer before 10 April, as her letter of 20 March says.",
        ),
        "setup_sheet": SetupFacts(
            **every_paper("SU 2026-005", shop),
            **job,
            set_up_on=date(2026, 3, 17),
            measures=(
                SetupMeasureFacts(
                    label="Bridge height",
                    before="82.5 mm",
                    before_other="\u2248 3 1/4 in",
                    after="84 mm",
                    after_other="\u2248 3 5/16 in",
                    difference="+1.5 mm",
                ),
                SetupMeasureFacts(
                    label="String height at the end of the fingerboard, bass",
                    before='1/4"',
                    before_other="\u2248 6.4 mm",
                    after='7/32"',
                    after_other="\u2248 5.6 mm",
                    difference="\u22121/32 in",
                ),
                SetupMeasureFacts(label="Afterlength", after="112 mm", after_other="\u2248 4 13/32 in"),
            ),
            strings=(
                SetupStringFacts(place="No. 1", before="D4, gut, 0.70 mm", after="D4, gut, 0.72 mm"),
                SetupStringFacts(place="No. 2", after="A3, gut, 0.92 mm"),
            ),
        ),
        "condition_report": ConditionFacts(
            **every_paper("CR 2026-008", shop),
            report_number="CR 2026-008",
            thing=THING,
            occasion="back from a trial",
            made_on=date(2026, 3, 4),
            made_by="the maker",
            seen_by="daylight and a lens",
            overall=("In good order; it was played much.",),
            marks=(
                MarkFacts(
                    n=1,
                    part="top",
                    term="crack",
                    severity="marked",
                    note="from the treble sound hole, 42 mm",
                    photograph=1,
                ),
                MarkFacts(n=2, part="lower rib at the end pin", term="dent", severity="slight", photograph=2),
                MarkFacts(n=3, part="frets", term="wear", severity="noted"),
            ),
            photographs=(
                PhotographFacts(
                    n=1,
                    sha256=LYING_NAME,
                    caption="top, treble side",
                    taken_on=date(2026, 3, 4),
                    pins=(PinFacts(n=1, x=6200, y=4100), PinFacts(n=3, x=0, y=10_000)),
                ),
                PhotographFacts(n=2, sha256=UPRIGHT_NAME, pins=(PinFacts(n=2, x=5000, y=9000),)),
            ),
            earlier_number="CR 2026-006",
            earlier_on=date(2026, 2, 10),
            compared=(
                ComparedFacts(
                    part="top",
                    term="crack",
                    before="slight",
                    after="marked: from the treble sound hole, 42 mm",
                    change="graver",
                ),
                ComparedFacts(part="lower rib at the end pin", term="dent", after="slight", change="new"),
                ComparedFacts(part="back", term="scratch", before="noted", change="gone"),
            ),
        ),
        "lien_sale": LienSaleFacts(
            **every_paper("LS 2026-001", shop),
            **job,
            sold_on=date(2026, 8, 3),
            sold_to="Ebbing and Low, Strings",
            opened_on=date(2026, 3, 4),
            ready_on=date(2026, 3, 18),
            written=(date(2026, 4, 17), date(2026, 5, 17), date(2026, 6, 16)),
            invoice_number="SI 2026-021",
            # California Civil Code 3051 and 3052, as in the shop's references: 900, 310 and 40 leave 550.
            price=usd("900.00"),
            costs=usd("40.00"),
            costs_left=usd("0"),
            due=usd("310.00"),
            to_shop=usd("310.00"),
            still_due=usd("0"),
            surplus=usd("550.00"),
            held_for=(AmountLine(what="Ida Skerrow", amount=usd("550.00"), reference="AS 2026-004"),),
            by_what_right=("Three letters; notice of the sale on 2 July.", "Gone through with a solicitor."),
        ),
        "reminder": ReminderFacts(
            **every_paper("RC 2026-003", shop),
            **job,
            after_days=60,
            sent_on=date(2026, 5, 17),
            ready_on=date(2026, 3, 18),
            opened_on=date(2026, 3, 4),
            came_with=COMPANY,
            due=usd("175.42"),
            earlier=(date(2026, 4, 17),),
        ),
    }


def work_long(shop: ShopFacts) -> dict[str, PaperFacts]:
    """Give the workshop's papers with 60-letter names and forty lines."""
    papers: dict[str, Any] = work_ordinary(shop)
    for name, facts in papers.items():
        changes: dict[str, Any] = {"thing": LONG_THING}
        if hasattr(facts, "client"):
            changes["client"] = LONG_OWNER
        if hasattr(facts, "came_with"):
            changes["came_with"] = COMPANY * 5
        papers[name] = replace(facts, **changes)
    papers["claim_ticket"] = replace(papers["claim_ticket"], wants=f"{WANTS} " * 9)
    forty = tuple(
        EstimateLineFacts(
            kind=("labour", "part", "service")[n % 3],
            what=("Dress the fingerboard", LONG_NAME, "Turning, staining and fitting of a hook bar")[n % 3],
            minutes=45 if n % 3 == 0 else None,
            quantity=1 + n % 2,
            low=usd("60.00"),
            high=usd("60.00") if n % 4 else usd("90.00"),
        )
        for n in range(40)
    )
    papers["estimate"] = replace(
        papers["estimate"],
        lines=forty,
        discount=usd("0"),
        net_low=usd("2400.00"),
        net_high=usd("2700.00"),
        tax=TaxOnWork(rate=Fraction("0.0825"), basis="invoice"),
        tax_low=usd("198.00"),
        tax_high=usd("222.75"),
        total_low=usd("2598.00"),
        total_high=usd("2922.75"),
        notes=("The corners of the purfling were let in again in 2011. " * 6,),
    )
    papers["work_invoice"] = replace(
        papers["work_invoice"],
        lines=tuple(
            WorkLineFacts(
                kind=line.kind,
                what=line.what,
                minutes=line.minutes,
                hourly=usd("80.00") if line.minutes else None,
                quantity=line.quantity,
                amount=line.low,
            )
            for line in forty
        ),
        net=usd("2400.00"),
        tax=TaxOnWork(rate=Fraction("0.0825"), basis="invoice"),
        tax_amount=usd("198.00"),
        total=usd("2598.00"),
        balance=usd("2448.00"),
    )
    papers["collection"] = replace(
        papers["collection"],
        handed_to=LONG_NAME,
        work_done=tuple(line.what for line in forty),
        condition=papers["collection"].condition * 8,
    )
    papers["setup_sheet"] = replace(
        papers["setup_sheet"],
        measures=papers["setup_sheet"].measures * 14,
        strings=papers["setup_sheet"].strings * 4,
        notes=(LONG_NAME,),
    )
    papers["condition_report"] = replace(
        papers["condition_report"],
        made_by=LONG_NAME,
        marks=tuple(
            replace(mark, n=n + 1, note="a healed split, seen in raking light, stable " * (n % 3))
            for n, mark in enumerate(papers["condition_report"].marks * 14)
        ),
        photographs=papers["condition_report"].photographs * 4,
        compared=papers["condition_report"].compared * 14,
    )
    papers["lien_sale"] = replace(
        papers["lien_sale"],
        sold_to=LONG_NAME,
        price=usd("200.00"),
        costs=usd("240.00"),
        costs_left=usd("40.00"),
        to_shop=usd("0"),
        still_due=usd("310.00"),
        surplus=usd("0"),
        held_for=(),
        by_what_right=("The notice was read out at the door, and hung there for thirty days. " * 30,),
    )
    papers["reminder"] = replace(
        papers["reminder"], after_days=90, earlier=(date(2026, 4, 17), date(2026, 5, 17))
    )
    return papers


def work_empty(shop: ShopFacts) -> dict[str, PaperFacts]:
    """Give the workshop's papers with nothing in them that may be left out."""
    day = date(2026, 1, 1)
    thing = ThingFacts(number="No. 001", name="Bow")
    job: dict[str, Any] = {
        "issued_on": day,
        "shop": shop,
        "claim_number": "26-0001-7",
        "client": PartyFacts(name="Someone"),
        "thing": thing,
    }
    nothing = usd("0")
    line = EstimateLineFacts(kind="labour", what="Rehair", low=usd("60.00"), high=usd("60.00"), taxed=False)
    return {
        "claim_ticket": ClaimTicketFacts(number="26-0001-7", **job, opened_on=day, wants="New hair."),
        "estimate": EstimateFacts(
            number="ES 1",
            **job,
            made_on=day,
            valid_until=day,
            hourly_rate=usd("60.00"),
            lines=(line,),
            discount=nothing,
            net_low=usd("60.00"),
            net_high=usd("60.00"),
            tax_low=nothing,
            tax_high=nothing,
            total_low=usd("60.00"),
            total_high=usd("60.00"),
        ),
        "work_invoice": WorkInvoiceFacts(
            number="SI 1",
            **job,
            billed_on=day,
            lines=(WorkLineFacts(kind="labour", what="Rehair", amount=usd("60.00"), taxed=False),),
            net=usd("60.00"),
            tax_amount=nothing,
            total=usd("60.00"),
        ),
        "collection": CollectionFacts(number="CL 1", **job, handed_over_on=day, handed_to="Someone"),
        "setup_sheet": SetupFacts(number="SU 1", **job, set_up_on=day),
        "condition_report": ConditionFacts(
            number="CR 1",
            issued_on=day,
            shop=shop,
            report_number="CR 1",
            thing=thing,
            occasion="other",
            made_on=day,
        ),
        "lien_sale": LienSaleFacts(
            number="LS 1",
            **job,
            sold_on=day,
            sold_to="Someone",
            opened_on=day,
            price=usd("60.00"),
            costs=nothing,
            costs_left=nothing,
            due=usd("60.00"),
            to_shop=usd("60.00"),
            still_due=nothing,
            surplus=nothing,
        ),
        "reminder": ReminderFacts(number="RC 1", **job, after_days=30, sent_on=day, opened_on=day),
    }
