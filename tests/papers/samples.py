"""Sample facts for every kind of paper: an ordinary case, a long one (long names, many lines), and an empty one.

Everything is invented: a retired maker in a harbour town that does not exist. The same samples serve the
tests and the pictures.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import Any

from shopledger.papers.account_sales import AccountSalesFacts
from shopledger.papers.addendum import AddendumFacts, ChangeLine
from shopledger.papers.agreement import AgreementFacts
from shopledger.papers.bill_of_sale import BillOfSaleFacts
from shopledger.papers.charge_note import ChargeNoteFacts
from shopledger.papers.credit_note import CreditNoteFacts
from shopledger.papers.handover_list import HandoverListFacts, HeldMoneyLine, PropertyLine
from shopledger.papers.intake import IntakeFacts, TitleFacts
from shopledger.papers.invoice import InvoiceFacts
from shopledger.papers.parts import (
    AmountLine,
    BracketFacts,
    CautionFacts,
    ChargeTermFacts,
    CommissionFacts,
    CostTermFacts,
    GoodsLine,
    InstrumentFacts,
    LabelledFacts,
    MeasurementFacts,
    OwnerFacts,
    PaperFacts,
    PartExchangeLine,
    PartyFacts,
    PaymentLine,
    ShareLine,
    ShopFacts,
    TaxFacts,
    TermsFacts,
    WorkingLine,
)
from shopledger.papers.payment_receipt import PaymentReceiptFacts
from shopledger.papers.referral import ReferralFacts
from shopledger.papers.refund_receipt import RefundReceiptFacts
from shopledger.papers.release import ReleaseFacts
from shopledger.papers.remittance import RemittanceFacts
from shopledger.quantities.money import Money

LONG_NAME = "Maximiliane Theodora von Hohenwartenberg-Oberlindenstein Roth"[:60]
LONG_LINES = (
    "c/o Harbour Chamber Music and Early Instrument Society, Room 14",
    "The Old Customs House, Upper Lighthouse Terrace 128 b, third floor",
    "Saltmarsh Quarter by the Inner Harbour Basin",
    "Port Ellery 00417-2209, County of the Northern Estuaries",
    "The United Islands of Merrow and Saint Brannoc",
)


def usd(text: str) -> Money:
    """Give an amount in the currency of the samples."""
    return Money.parse(text, "USD")


SHOP = ShopFacts(
    name="Aldous Fenwright, Instruments",
    address=("7 Ropewalk Lane", "Port Ellery 00412"),
    phone="555-0114",
    email="bench@fenwright.example.org",
    tax_number="Seller\u2019s permit 00-417-22",
    place="Port Ellery",
)
LETTER = replace(SHOP, paper="Letter")
LONG_SHOP = replace(
    SHOP,
    name="Workshop for Cellos, Violas da Gamba and Bows of A. Fenwright",
    address=LONG_LINES,
    web="https://fenwright.example.org/instruments",
)

OWNER = PartyFacts(
    number="P 014",
    name="Ottoline Marrack",
    address=("3 Chandler\u2019s Row", "Port Ellery 00412"),
    phone="555-0131",
    email="ottoline@example.org",
)
LONG_OWNER = PartyFacts(
    number="P 015",
    name=LONG_NAME,
    address=LONG_LINES,
    phone="555-0132",
    email="maximiliane.theodora.hohenwartenberg@letters.example.org",
    acting_as="executor of the estate of Balthasar Hohenwartenberg",
)
HEIRS = tuple(
    OwnerFacts(
        party=PartyFacts(
            number=f"P 0{20 + n}", name=name, address=("Tern Cottage", f"{n} Spit Road"), phone=f"555-012{n}"
        ),
        share=share,
    )
    for n, (name, share) in enumerate(
        (
            ("Ansgar Pell", Fraction(1, 2)),
            ("Brida Pell", Fraction(1, 3)),
            ("Corwin Pell-Østergaard", Fraction(1, 6)),
        )
    )
)
BUYER = PartyFacts(
    number="P 031",
    name="Ignatius Quill",
    address=("22 Belfry Close", "Little Staithe 00430"),
    phone="555-0155",
    email="quill@example.org",
)

GAMBA = InstrumentFacts(
    number="No. 027",
    name="Bass viola da gamba, six strings",
    standing="made by",
    maker="Aldous Fenwright, Port Ellery",
    made="1994",
    label_reads="Aldous Fenwright fecit Port Ellery 1994",
    attributed_by="by the maker himself, who knows the scroll and his own brand under the button",
    measurements=(
        MeasurementFacts(label="body", typed="688 mm", other="27 1/16 in", method="back, over the arch"),
        MeasurementFacts(
            label="string length", typed="695 mm", other="27 3/8 in", method="nut to bridge, straight"
        ),
        MeasurementFacts(label="upper bouts", typed='12 3/4"', other="323.9 mm", method="straight"),
        MeasurementFacts(label="ribs, treble side", typed="128 mm", other="5 1/32 in"),
        MeasurementFacts(label="weight", typed="3.1 kg", other="6 lb 13 oz"),
    ),
    fittings=(
        LabelledFacts(label="pegs", words="boxwood, conical"),
        LabelledFacts(label="fingerboard", words="maple, veneered with plum"),
        LabelledFacts(label="tailpiece", words="pear, hooked"),
    ),
    materials=(
        LabelledFacts(label="back and ribs", words="sycamore"),
        LabelledFacts(label="front", words="spruce, bent in five staves"),
        LabelledFacts(label="nut", words="bone; not examined further, so unknown"),
    ),
    condition=(
        LabelledFacts(
            label="front",
            words="closed crack below the treble f-hole, 41 mm, cleated; no movement under the finger",
        ),
        LabelledFacts(
            label="varnish", words="worn at the neck root; small scratch at the lower bout, bass side, 12 mm"
        ),
        LabelledFacts(label="set-up", words="bridge leans 1 mm to the tailpiece"),
    ),
    condition_on=date(2026, 3, 4),
    comes_with=(
        "case, canvas over plywood, one latch replaced",
        "bow No. 027-b, snakewood, and half a cake of rosin",
    ),
)

TERMS = TermsFacts(
    asking=usd("12000.00"),
    asking_not_below=usd("11000.00"),
    commission=CommissionFacts(rate=Fraction(1, 5), least=usd("500.00")),
    begins_on=date(2026, 3, 4),
    ends_on=date(2027, 3, 3),
    floor=usd("8500.00"),
    costs=(CostTermFacts(what="New bridge", amount=usd("180.00")),),
    pay_within_days=30,
    approval_days=7,
    repairs_allowed=True,
    repairs_up_to=usd("250.00"),
    set_off=True,
    agreed_value=usd("9500.00"),
    trial_days=10,
    charges=(
        ChargeTermFacts(what="withdrawal", amount=usd("150.00")),
        ChargeTermFacts(what="storage", amount=usd("20.00"), per="month", after_days=365),
    ),
    private_sale_commission=True,
    tail_days=60,
    deposit_to_owner=Fraction(1, 2),
    deposit_to_shop=Fraction(1, 2),
)
LONG_TERMS = replace(
    TERMS,
    commission=CommissionFacts(
        brackets=(
            BracketFacts(up_to=usd("5000.00"), rate=Fraction(3, 10)),
            BracketFacts(up_to=usd("20000.00"), rate=Fraction(1, 5)),
            BracketFacts(rate=Fraction(12, 100)),
        ),
        least=usd("500.00"),
        most=usd("4000.00"),
    ),
    costs=(
        CostTermFacts(what="New bridge", amount=usd("180.00"), before_commission=True),
        CostTermFacts(what="Card fee", rate=Fraction(29, 1000), rate_of="buyer_pays", borne_by="both"),
        CostTermFacts(
            what="Valuation by a sworn valuer of the county, with photographs and a letter to the insurer"
        ),
    ),
    vat_on_commission=Fraction(1, 5),
    referral_borne_by="both",
    dealers_allowed=True,
    other_dealer_share=Fraction(1, 2),
    insurance_note="The excess of the policy is USD 500.00 an event.",
    owner_approves_each_sale=True,
    further_words=(
        "The owner may play it at the shop on Thursday afternoons.",
        "The bow is not sold apart from it.",
    ),
)

WORKING = (
    WorkingLine(label="Price", how="the asking price", amount=usd("12000.00")),
    WorkingLine(label="Commission", how="20% of 12,000.00", amount=usd("-2400.00")),
    WorkingLine(label="Costs", how="new bridge 180.00", amount=usd("-180.00")),
)
SALE_WORKING = (
    WorkingLine(label="Price", how="agreed with the buyer", amount=usd("11250.00")),
    WorkingLine(
        label="Discount",
        how="asking price 12,000.00 \u2212 price 11,250.00",
        amount=usd("750.00"),
        counts=False,
    ),
    WorkingLine(label="Commission", how="20% of 11,250.00", amount=usd("-2250.00")),
    WorkingLine(label="Owner\u2019s costs", how="new bridge 180.00", amount=usd("-180.00")),
)
GAMBA_LINE = GoodsLine(
    kind="consigned",
    number="No. 027",
    what="Bass viola da gamba, six strings",
    details=("made by Aldous Fenwright, Port Ellery, 1994", "with case and bow No. 027-b"),
    price=usd("12000.00"),
    discount=usd("750.00"),
    amount=usd("11250.00"),
)


def _paper(number: str, shop: ShopFacts) -> dict[str, Any]:
    """Give the fields that every paper has."""
    return {
        "number": number,
        "issued_on": date(2026, 3, 4),
        "shop": shop,
        "anchor_entry": 1204,
        "anchor_hash": "3fa902bc11d7e5a04c7790b1e2c3d4f5061728394a5b6c7d8e9fa0b1c2d3e4f5",
    }


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


def ordinary(shop: ShopFacts = SHOP) -> dict[str, PaperFacts]:
    """Give an ordinary paper of every kind, by the kind's name."""
    owner = (OwnerFacts(party=OWNER),)
    return {
        "agreement": AgreementFacts(
            **_paper("AG 2026-014", shop),
            agreed_on=date(2026, 3, 4),
            owners=owner,
            instrument=GAMBA,
            entry_number="TI 2026-031",
            terms=TERMS,
            example=WORKING,
            example_net=usd("9420.00"),
            cautions=CautionFacts(filing="may_be_met"),
        ),
        "addendum": AddendumFacts(
            **_paper("AG 2026-014/2", shop),
            agreement_number="AG 2026-014",
            agreement_on=date(2026, 3, 4),
            nth=2,
            effective_on=date(2026, 6, 1),
            owners=owner,
            instrument_number="No. 027",
            instrument_name=GAMBA.name,
            changes=(
                ChangeLine(what="Asking price", before="USD 12,000.00", after="USD 11,400.00"),
                ChangeLine(what="Lowest net to owner", before="USD 8,500.00", after="USD 8,200.00"),
                ChangeLine(what="Trials", before="for up to 10 days", after="for up to 14 days"),
            ),
            reason="Two players found it heavy at the price; owner and shop agreed by letter on 28 May 2026.",
            example=(
                WorkingLine(label="Price", how="the asking price", amount=usd("11400.00")),
                WorkingLine(label="Commission", how="20% of 11,400.00", amount=usd("-2280.00")),
            ),
            example_net=usd("9120.00"),
        ),
        "intake": IntakeFacts(
            **_paper("TI 2026-031", shop),
            entry_number="TI 2026-031",
            received_on=date(2026, 3, 2),
            brought_by=OWNER,
            owners=owner,
            reason="to sell",
            instrument=GAMBA,
            value_to_insure=usd("9500.00"),
            title=TitleFacts(
                identity_seen="passport",
                identity_seen_on=date(2026, 3, 2),
                authority="own purchase, invoice of 1994 seen",
                no_liens=True,
                register="Stolen instruments, county list",
                register_checked_on=date(2026, 3, 2),
            ),
            pictures=6,
        ),
        "invoice": InvoiceFacts(
            **_paper("SI 2026-009", shop),
            sold_on=date(2026, 3, 20),
            buyer=BUYER,
            lines=(GAMBA_LINE,),
            tax=TaxFacts(
                scheme="sales_tax",
                label="Sales tax",
                rate=Fraction(825, 10000),
                taxable=usd("11250.00"),
                amount=usd("928.13"),
            ),
            payments=(
                PaymentLine(
                    on=date(2026, 3, 12), what="Deposit", how="card", reference="4471", amount=usd("1000.00")
                ),
                PaymentLine(
                    on=date(2026, 3, 20),
                    what="Payment",
                    how="bank transfer",
                    amount=usd("4000.00"),
                    cleared=False,
                ),
            ),
            total=usd("12178.13"),
            balance=usd("7178.13"),
            due_on=date(2026, 4, 3),
            approval_until=date(2026, 3, 27),
            payment_words=(
                "By transfer to the account 00-114 at the Bank of Port Ellery, naming the invoice.",
            ),
            cautions=CautionFacts(
                materials=(
                    "The bow is of snakewood, which is not listed; its ivory tip was replaced by bone in "
                    "2003.",
                )
            ),
        ),
        "credit_note": CreditNoteFacts(
            **_paper("CN 2026-002", shop),
            invoice_number="SI 2026-009",
            invoice_on=date(2026, 3, 20),
            returned_on=date(2026, 3, 26),
            buyer=BUYER,
            reason="Returned within the approval time: the string is too long for the player\u2019s hand.",
            lines=(GAMBA_LINE,),
            tax=TaxFacts(
                scheme="sales_tax",
                label="Sales tax",
                rate=Fraction(825, 10000),
                taxable=usd("11250.00"),
                amount=usd("928.13"),
            ),
            total=usd("12178.13"),
            set_against=usd("7178.13"),
            refunds=(
                PaymentLine(on=date(2026, 3, 27), what="Refund", how="bank transfer", amount=usd("5000.00")),
            ),
            balance=usd("0.00"),
        ),
        "bill_of_sale": BillOfSaleFacts(
            **_paper("BS 2026-009", shop),
            invoice_number="SI 2026-009",
            agreement_number="AG 2026-014",
            sold_on=date(2026, 3, 20),
            sellers=owner,
            buyer=BUYER,
            instrument=GAMBA,
            price=usd("11250.00"),
            approval_until=date(2026, 3, 27),
            warranties=("The seller states that the instrument is theirs to sell.",),
        ),
        "payment_receipt": PaymentReceiptFacts(
            **_paper("PR 2026-018", shop),
            received_on=date(2026, 3, 20),
            payer=BUYER,
            amount=usd("4000.00"),
            method="bank transfer",
            reference="QUILL 027",
            invoice_number="SI 2026-009",
            applied=(
                AmountLine(
                    what="Bass viola da gamba, six strings", reference="No. 027", amount=usd("4000.00")
                ),
            ),
            invoiced=usd("12178.13"),
            paid_before=usd("1000.00"),
            balance=usd("7178.13"),
        ),
        "refund_receipt": RefundReceiptFacts(
            **_paper("RF 2026-002", shop),
            paid_on=date(2026, 3, 27),
            payee=BUYER,
            amount=usd("5000.00"),
            method="bank transfer",
            credit_note_number="CN 2026-002",
            invoice_number="SI 2026-009",
            reason="returned within the approval time",
            applied=(
                AmountLine(what="Deposit", on=date(2026, 3, 12), amount=usd("1000.00")),
                AmountLine(what="Payment", on=date(2026, 3, 20), amount=usd("4000.00")),
            ),
            still_owed=usd("0.00"),
        ),
        "referral": ReferralFacts(
            **_paper("RD 2026-001", shop),
            referrer=PartyFacts(name="Hesper Lune", address=("Conservatory, North Quay",)),
            buyer=BUYER,
            owners=owner,
            instrument_number="No. 027",
            instrument_name=GAMBA.name,
            price=usd("11250.00"),
            rate=Fraction(1, 20),
            fee=usd("562.50"),
            borne_by="both",
            owner_part=usd("281.25"),
            shop_part=usd("281.25"),
            working=(WorkingLine(label="Fee", how="5% of the price 11,250.00", amount=usd("562.50")),),
            relation="The referrer teaches the buyer and is not related to the shop.",
        ),
        "account_sales": AccountSalesFacts(
            **_paper("AS 2026-009", shop),
            agreement_number="AG 2026-014",
            agreement_on=date(2026, 3, 4),
            invoice_number="SI 2026-009",
            sold_on=date(2026, 3, 20),
            owners=owner,
            instrument_number="No. 027",
            instrument_name=GAMBA.name,
            asking=usd("12000.00"),
            price=usd("11250.00"),
            working=SALE_WORKING,
            owner_net=usd("8820.00"),
            set_offs=(
                AmountLine(
                    on=date(2026, 3, 10), what="Valuation", reference="CH 2026-003", amount=usd("120.00")
                ),
            ),
            payouts=(
                AmountLine(
                    on=date(2026, 3, 30), what="Payout", reference="RM 2026-007", amount=usd("4000.00")
                ),
            ),
            balance=usd("4700.00"),
            due_on=date(2026, 4, 19),
            due_words="The rest waits for the last of the buyer\u2019s money to clear.",
            floor=usd("8500.00"),
            floor_words="The net is above it.",
        ),
        "remittance": RemittanceFacts(
            **_paper("RM 2026-007", shop),
            paid_on=date(2026, 3, 30),
            owner=OWNER,
            amount=usd("8700.00"),
            method="bank transfer",
            reference="AS 2026-009",
            destination="account ending 41",
            lines=(
                AmountLine(
                    on=date(2026, 3, 20),
                    what="Net of the sale",
                    reference="AS 2026-009",
                    how=GAMBA.name,
                    amount=usd("8820.00"),
                ),
                AmountLine(
                    on=date(2026, 3, 10),
                    what="Set off: valuation",
                    reference="CH 2026-003",
                    amount=usd("-120.00"),
                ),
            ),
            still_held=usd("0.00"),
        ),
        "charge_note": ChargeNoteFacts(
            **_paper("CH 2026-003", shop),
            act="storage",
            booked_on=date(2026, 3, 10),
            owners=owner,
            instrument_number="No. 027",
            instrument_name=GAMBA.name,
            agreement_number="AG 2026-014",
            lines=(WorkingLine(label="Storage", how="3 months at 20.00", amount=usd("60.00")),),
            total=usd("60.00"),
            by_words="For storage: USD 20.00 a month, from 365 days after taking in.",
            set_off=True,
            balance_after=usd("-60.00"),
        ),
        "release": ReleaseFacts(
            **_paper("RL 2026-004", shop),
            entry_number="TI 2026-031",
            taken_in_on=date(2026, 3, 2),
            handed_over_on=date(2026, 9, 14),
            to=OWNER,
            owners=owner,
            instrument=GAMBA,
            agreement_number="AG 2026-014",
            reason="The owner takes it back; the agreement ended on 14 Sep 2026.",
            open_charges=(
                AmountLine(
                    on=date(2026, 9, 14),
                    what="Taking back before the term is over",
                    reference="CH 2026-011",
                    amount=usd("150.00"),
                ),
            ),
            open_total=usd("150.00"),
        ),
        "handover_list": HandoverListFacts(
            **_paper("HL 2026-001", shop),
            as_of=date(2026, 3, 4),
            property=tuple(_property(n) for n in range(5)),
            value_total=sum((line.value for line in map(_property, range(5)) if line.value), usd("0")),
            money=tuple(_held(n) for n in range(3)),
            held_total=sum((_held(n).held for n in range(3)), usd("0")),
            bank=usd("31250.40"),
            where_papers=(
                "The ledger is on the computer in the workshop; a copy of every night lies on the drive in "
                "the desk.",
                "Signed agreements are in the grey cabinet, by number.",
            ),
            contact=("Jory Tamblyn, book-keeper, 555-0177", "Perran Voss, lawyer, 555-0178"),
        ),
    }


def _property(n: int) -> PropertyLine:
    """Give a line of property."""
    return PropertyLine(
        number=f"No. {n:03d}",
        what=(
            "Bass viola da gamba, six strings",
            "Violoncello piccolo, five strings",
            "Treble viol",
            "Cello bow",
        )[n % 4],
        place=("workshop, rack 2", "on trial with Ignatius Quill until 14 Mar 2026", "bench")[n % 3],
        since=date(2026, 1, 1 + n % 28),
        why_here=("to sell", "to be repaired")[n % 2],
        owner=("Ottoline Marrack", "Ansgar Pell", "Sister Benedicta of the Choir School")[n % 3],
        contact=("3 Chandler\u2019s Row, Port Ellery 00412", "555-0131"),
        value=None if n % 7 == 3 else usd(f"{1250 + 775 * n}.00"),
    )


def _held(n: int) -> HeldMoneyLine:
    """Give a line of money held."""
    due, waiting, owes = (
        usd(f"{n * 410}.00"),
        usd("4700.00") if n % 2 == 0 else usd("0"),
        usd("60.00") if n % 3 == 1 else usd("0"),
    )
    return HeldMoneyLine(
        number=f"P {14 + n:03d}",
        name=("Ottoline Marrack", "Ansgar Pell", "Ignatius Quill")[n % 3],
        contact=("3 Chandler\u2019s Row, Port Ellery 00412", "555-0131"),
        due=due,
        waiting=waiting,
        owes=owes,
        held=due + waiting - owes,
        words="net of sales not paid out",
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
        property=tuple(_property(n) for n in range(40)),
        value_total=sum((line.value for line in map(_property, range(40)) if line.value), usd("0")),
        money=tuple(_held(n) for n in range(40)),
        held_total=sum((_held(n).held for n in range(40)), usd("0")),
    )
    return papers


def empty(shop: ShopFacts | None = None) -> dict[str, PaperFacts]:
    """Give papers with nothing in them that may be left out."""
    bare = shop or ShopFacts(name="Fenwright")
    papers: dict[str, Any] = ordinary(bare)
    someone = PartyFacts(name="Someone")
    owners = (OwnerFacts(party=someone),)
    thing = InstrumentFacts(number="No. 001", name="Bow")
    terms = TermsFacts(
        asking=usd("900.00"),
        commission=CommissionFacts(net_to_owner=usd("700.00")),
        begins_on=date(2026, 1, 1),
        ends_on=date(2026, 12, 31),
        notice_days=0,
        insured_by="nobody",
        trials_allowed=False,
    )
    line = GoodsLine(kind="own", what="Bow", price=usd("900.00"), discount=usd("0"), amount=usd("900.00"))
    price = (WorkingLine(label="Price", how="", amount=usd("0")),)
    day = date(2026, 1, 1)
    made: dict[str, PaperFacts] = {
        "agreement": AgreementFacts(
            number="AG 1",
            issued_on=day,
            shop=bare,
            agreed_on=day,
            owners=owners,
            instrument=thing,
            terms=terms,
            example=price,
            example_net=usd("0"),
        ),
        "addendum": AddendumFacts(
            number="AD 1",
            issued_on=day,
            shop=bare,
            agreement_number="AG 1",
            agreement_on=day,
            nth=1,
            effective_on=day,
            owners=owners,
            instrument_number="No. 001",
            instrument_name="Bow",
            changes=(),
        ),
        "intake": IntakeFacts(
            number="TI 1",
            issued_on=day,
            shop=bare,
            entry_number="TI 1",
            received_on=day,
            brought_by=someone,
            owners=owners,
            reason="to sell",
            instrument=thing,
        ),
        "invoice": InvoiceFacts(
            number="SI 1",
            issued_on=day,
            shop=bare,
            sold_on=day,
            buyer=someone,
            lines=(line,),
            total=usd("900.00"),
            balance=usd("900.00"),
        ),
        "credit_note": CreditNoteFacts(
            number="CN 1",
            issued_on=day,
            shop=bare,
            invoice_number="SI 1",
            invoice_on=day,
            returned_on=day,
            buyer=someone,
            lines=(line,),
            total=usd("900.00"),
            set_against=usd("0"),
            balance=usd("900.00"),
        ),
        "bill_of_sale": BillOfSaleFacts(
            number="BS 1",
            issued_on=day,
            shop=bare,
            sold_on=day,
            own=True,
            buyer=someone,
            instrument=thing,
            price=usd("900.00"),
        ),
        "payment_receipt": PaymentReceiptFacts(
            number="PR 1",
            issued_on=day,
            shop=bare,
            received_on=day,
            payer=someone,
            amount=usd("1.00"),
            method="cash",
        ),
        "refund_receipt": RefundReceiptFacts(
            number="RF 1",
            issued_on=day,
            shop=bare,
            paid_on=day,
            payee=someone,
            amount=usd("1.00"),
            method="cash",
        ),
        "referral": ReferralFacts(
            number="RD 1",
            issued_on=day,
            shop=bare,
            referrer=someone,
            buyer=someone,
            owners=owners,
            instrument_number="No. 001",
            instrument_name="Bow",
        ),
        "account_sales": AccountSalesFacts(
            number="AS 1",
            issued_on=day,
            shop=bare,
            agreement_number="AG 1",
            sold_on=day,
            owners=owners,
            instrument_number="No. 001",
            instrument_name="Bow",
            asking=usd("900.00"),
            price=usd("0"),
            working=price,
            owner_net=usd("0"),
            balance=usd("0"),
        ),
        "remittance": RemittanceFacts(
            number="RM 1",
            issued_on=day,
            shop=bare,
            paid_on=day,
            owner=someone,
            amount=usd("0"),
            method="cash",
            lines=(),
        ),
        "charge_note": ChargeNoteFacts(
            number="CH 1",
            issued_on=day,
            shop=bare,
            act="other",
            booked_on=day,
            owners=owners,
            lines=(),
            total=usd("0"),
        ),
        "release": ReleaseFacts(
            number="RL 1",
            issued_on=day,
            shop=bare,
            entry_number="TI 1",
            handed_over_on=day,
            to=someone,
            owners=owners,
            instrument=thing,
        ),
        "handover_list": HandoverListFacts(
            number="HL 1",
            issued_on=day,
            shop=bare,
            as_of=day,
            property=(),
            value_total=usd("0"),
            money=(),
            held_total=usd("0"),
        ),
    }
    return {name: made[name] for name in papers}
