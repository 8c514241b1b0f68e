"""A long paper of every kind: 60-character names, five-line addresses, several owners, forty lines."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

from shopledger.papers.addendum import ChangeLine
from shopledger.papers.intake import TitleFacts
from shopledger.papers.parts import (
    AmountLine,
    CautionFacts,
    InstrumentFacts,
    LabelledFacts,
    OwnerFacts,
    PaperFacts,
    PartExchangeLine,
    PaymentLine,
    ShareLine,
    ShopFacts,
    TaxFacts,
    WorkingLine,
)
from tests.papers.sample_ordinary import ordinary
from tests.papers.sample_things import (
    GAMBA,
    GAMBA_LINE,
    HEIRS,
    LONG_NAME,
    LONG_OWNER,
    LONG_SHOP,
    LONG_TERMS,
    SALE_WORKING,
    held_line,
    property_line,
    usd,
)


def _long_instrument() -> InstrumentFacts:
    """Give an instrument with everything, at length."""
    return replace(
        GAMBA,
        name="Five-stringed violoncello piccolo after a lost model, with carved head and inlay",
        maker=LONG_NAME,
        measurements=GAMBA.measurements * 4,
        condition=GAMBA.condition * 3
        + (
            LabelledFacts(
                label="everything else that was looked at",
                words="Nothing further was seen in daylight. " * 12,
            ),
        ),
        description="Two corners of the purfling were let in again in 2011; the neck was never reset. " * 3,
        materials=(
            *GAMBA.materials,
            LabelledFacts(label="bow frog", words="ebony; lizard thumb grip, species unknown"),
        ),
    )


def long(shop: ShopFacts = LONG_SHOP) -> dict[str, PaperFacts]:
    """Give papers with 60-character names, five-line addresses, several owners and forty lines."""
    papers: dict[str, Any] = ordinary(shop)
    owner = (OwnerFacts(party=LONG_OWNER),)
    buyer = replace(LONG_OWNER, number="P 032", acting_as="")
    instrument = _long_instrument()
    lines = tuple(
        replace(
            GAMBA_LINE,
            kind=("consigned", "own", "accessory", "freight", "work")[n % 5],
            number=f"No. {100 + n}",
            what=(
                "String set",
                LONG_NAME,
                "End pin, carbon, with a hard tip and a leather collar, shop-made",
            )[n % 3],
            details=GAMBA_LINE.details if n % 4 == 0 else (),
            quantity=1 + n % 3,
            price=usd("100.00"),
            discount=usd("10.00") if n % 5 == 0 else usd("0"),
            amount=usd("90.00") if n % 5 == 0 else usd("100.00"),
        )
        for n in range(40)
    )
    total = sum((line.amount for line in lines), usd("0"))
    working = SALE_WORKING + tuple(
        WorkingLine(
            label=f"Step {n} with a label that is rather long",
            how="a figure on the way that is not counted here",
            amount=usd("1.00"),
            counts=False,
        )
        for n in range(40)
    )
    for name in papers:
        changes: dict[str, Any] = {}
        if hasattr(papers[name], "owners"):
            changes["owners"] = owner
        if hasattr(papers[name], "buyer"):
            changes["buyer"] = buyer
        if hasattr(papers[name], "instrument"):
            changes["instrument"] = instrument
        if hasattr(papers[name], "instrument_name"):
            changes["instrument_name"] = instrument.name
        papers[name] = replace(papers[name], **changes)
    papers["agreement"] = replace(
        papers["agreement"],
        owners=HEIRS,
        terms=LONG_TERMS,
        cautions=CautionFacts(
            filing="not_met", makers_own_work=True, materials=("Lizard: rules may apply.",)
        ),
        signed_on=date(2026, 3, 5),
        renews="AG 2025-003",
    )
    papers["addendum"] = replace(
        papers["addendum"],
        act="owner",
        new_owners=HEIRS,
        changes=tuple(
            ChangeLine(
                what=f"Term {n}",
                before="what it was until now, at some length",
                after="what it is from now on " * (1 + n % 4),
            )
            for n in range(40)
        ),
    )
    papers["intake"] = replace(
        papers["intake"],
        brought_by=replace(LONG_OWNER, acting_as="agent of the owner"),
        owners=HEIRS,
        title=TitleFacts(authority="letter of all heirs of 1 Mar 2026, copy kept", no_liens=None),
        notes="The case smells of smoke. " * 10,
    )
    papers["invoice"] = replace(
        papers["invoice"],
        ship_to=replace(buyer, name="Little Staithe Baroque Players, goods entrance"),
        lines=lines,
        tax=TaxFacts(scheme="margin"),
        part_exchanges=(
            PartExchangeLine(what="Treble viol, unlabelled", number="No. 044", allowance=usd("600.00")),
        ),
        payments=tuple(
            PaymentLine(
                on=date(2026, 3, 1 + n),
                what="Instalment",
                how="bank transfer",
                reference=f"{n}",
                amount=usd("250.00"),
            )
            for n in range(14)
        ),
        total=total,
        balance=total - usd("600.00") - usd("3500.00"),
        shipping="Carrier, insured for USD 4,000.00, signature required.",
    )
    papers["credit_note"] = replace(
        papers["credit_note"],
        lines=lines,
        tax=TaxFacts(
            scheme="sales_tax",
            label="Sales tax",
            amount=usd("0"),
            exempt_reason="sold to a school, certificate 12 seen",
        ),
        total=total,
        set_against=usd("0"),
        refunds=(),
        balance=total,
    )
    papers["bill_of_sale"] = replace(papers["bill_of_sale"], sellers=HEIRS, signed_by="owner")
    papers["payment_receipt"] = replace(
        papers["payment_receipt"],
        payer=buyer,
        applied=tuple(
            AmountLine(
                what=f"Instrument {n}: {instrument.name}", reference=f"No. {n:03d}", amount=usd("100.00")
            )
            for n in range(40)
        ),
        cleared_on=date(2026, 3, 21),
    )
    papers["refund_receipt"] = replace(papers["refund_receipt"], payee=buyer, still_owed=usd("12.00"))
    papers["referral"] = replace(
        papers["referral"], owners=HEIRS, referrer=LONG_OWNER, told_buyer_on=date(2026, 3, 1)
    )
    papers["account_sales"] = replace(
        papers["account_sales"],
        owners=HEIRS,
        working=working,
        shares=tuple(
            ShareLine(name=heir.party.name, share=heir.share, amount=amount)
            for heir, amount in zip(HEIRS, usd("8820.00").shared([heir.share for heir in HEIRS]), strict=True)
        ),
        payouts=(
            AmountLine(on=date(2026, 3, 30), what="Payout", reference="RM 2026-007", amount=usd("9000.00")),
        ),
        balance=usd("-300.00"),
        tax_words="VAT on the commission is in the working.",
        referral_words="A fee of USD 562.50 was disclosed to both sides in RD 2026-001; the shop bears it.",
        reverses="AS 2026-004",
    )
    papers["remittance"] = replace(
        papers["remittance"],
        owner=LONG_OWNER,
        amount=usd("40.00"),
        lines=tuple(
            AmountLine(
                what=f"Account {n}: {instrument.name}", reference=f"AS 2026-{n:03d}", amount=usd("1.00")
            )
            for n in range(40)
        ),
    )
    papers["charge_note"] = replace(
        papers["charge_note"],
        act="loss",
        owners=HEIRS,
        lines=(
            WorkingLine(
                label="Agreed value",
                how="held for the owner in place of the instrument",
                amount=usd("-9500.00"),
            ),
            WorkingLine(label="Excess", how="borne by the owner", amount=usd("500.00")),
        ),
        total=usd("-9000.00"),
        balance_after=usd("9000.00"),
        notes=("The report of the loss has the number LD 2026-001.",),
    )
    papers["loss_report"] = replace(
        papers["loss_report"],
        owners=HEIRS,
        instrument_name=instrument.name,
        excess_borne_by="shop",
        working=(WorkingLine(label="Agreed value", how="by the agreement", amount=usd("9500.00")),),
        held=usd("9500.00"),
        shares=tuple(
            ShareLine(name=heir.party.name, share=heir.share, amount=amount)
            for heir, amount in zip(HEIRS, usd("9500.00").shared([heir.share for heir in HEIRS]), strict=True)
        ),
    )
    papers["fee_note"] = replace(
        papers["fee_note"],
        payee=LONG_OWNER,
        amount=usd("40.00"),
        lines=tuple(
            AmountLine(what=f"{n}: {instrument.name}", reference=f"SI 2026-{n:03d}", amount=usd("1.00"))
            for n in range(40)
        ),
    )
    papers["forfeit_note"] = replace(
        papers["forfeit_note"], player=LONG_OWNER, instrument_name=instrument.name
    )
    papers["release"] = replace(
        papers["release"],
        to=LONG_OWNER,
        owners=HEIRS,
        authority="letter of all heirs",
        by_hand=False,
        carrier="Harbour Carriers",
    )
    papers["handover_list"] = replace(
        papers["handover_list"],
        property=tuple(property_line(n) for n in range(40)),
        value_total=sum((line.value for line in map(property_line, range(40)) if line.value), usd("0")),
        money=tuple(held_line(n) for n in range(40)),
        held_total=sum((held_line(n).held for n in range(40)), usd("0")),
    )
    return papers
