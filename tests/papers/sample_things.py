"""The people, instruments, terms and lines that the sample papers are made of; all of them invented."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import Any

from shopledger.papers.handover_list import HeldMoneyLine, PropertyLine
from shopledger.papers.parts import (
    BracketFacts,
    ChargeTermFacts,
    CommissionFacts,
    CostTermFacts,
    GoodsLine,
    InstrumentFacts,
    LabelledFacts,
    MeasurementFacts,
    OwnerFacts,
    PartyFacts,
    ShopFacts,
    TermsFacts,
    WorkingLine,
)
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


def every_paper(number: str, shop: ShopFacts) -> dict[str, Any]:
    """Give the fields that every paper has."""
    return {
        "number": number,
        "issued_on": date(2026, 3, 4),
        "shop": shop,
        "anchor_entry": 1204,
        "anchor_hash": "3fa902bc11d7e5a04c7790b1e2c3d4f5061728394a5b6c7d8e9fa0b1c2d3e4f5",
    }


def property_line(n: int) -> PropertyLine:
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


def held_line(n: int) -> HeldMoneyLine:
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
