"""The story of an invented shop, told through the acts: a paper of every kind is left on the way.

A cello of two heirs is agreed, changed, held, sold through a referral, paid in two parts, settled and paid out; the
shop's own violin is held by a player who stays away, sold, and comes back; a bow is lost; a gamba goes home with a
charge unpaid; a viola stays.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from typing import Any

from sqlalchemy import select

from shopledger.acts import act, do
from shopledger.acts.declare import Outcome
from shopledger.acts.describing import FittingRow, MeasureRow
from shopledger.acts.owning import OwnerRow
from shopledger.acts.selling_forms import CostRow, SellLine
from shopledger.model import Paper, PaperFile, Person
from shopledger.papers.facts import from_json
from shopledger.papers.registry import kind_named
from shopledger.quantities.lengths import read_length
from shopledger.quantities.money import Money
from shopledger.store.ledger import Ledger
from shopledger.store.new_ledger import NewShop

SHOP = NewShop(
    name="Gullstrand Bench",
    address="3 Ropewalk\nSaltmere",
    phone="555-0100",
    email="bench@example.org",
    currency="USD",
    locale="en_GB",
    time_zone="UTC",
    tax_scheme="sales_tax",
    tax_rate=Fraction(33, 400),
    tax_from=date(2025, 1, 1),
    tax_source="invented for tests",
)
TAKEN_IN = date(2026, 1, 5)
SOLD = date(2026, 3, 2)
PAID = date(2026, 3, 20)
BACK = date(2026, 4, 1)


def usd(text: str) -> Money:
    """Give an amount of the shop's currency."""
    return Money.parse(text, "USD")


@dataclass
class Told:
    """The shop, who and what is in it by name, and its papers."""

    ledger: Ledger
    ids: dict[str, int] = field(default_factory=dict)
    count: int = 0

    def do(self, name: str, on: date, **inputs: Any) -> Outcome:
        """Do an act."""
        self.count += 1
        one = act(name)
        return do(self.ledger, one, one.form(op_id=f"story-{self.count}", on=on, by="the maker", **inputs))

    def papers(self, kind: str) -> list[Any]:
        """Give what every paper of a kind states, in order."""
        with self.ledger.read() as reading:
            rows = reading.session.scalars(select(Paper.facts).where(Paper.kind == kind).order_by(Paper.id))
            return [from_json(kind_named(kind).facts, text) for text in rows]

    def file_of(self, number: str) -> bytes:
        """Give the file of an issued paper."""
        with self.ledger.read() as reading:
            sha256 = reading.session.scalars(
                select(PaperFile.sha256)
                .join(Paper, Paper.id == PaperFile.paper_id)
                .where(Paper.number == number)
            ).one()
        return self.ledger.files.get(sha256)

    def all_facts(self) -> list[tuple[str, str]]:
        """Give number and facts of every paper, in order."""
        with self.ledger.read() as reading:
            rows = reading.session.execute(select(Paper.number, Paper.facts).order_by(Paper.id))
            return [(number, facts) for number, facts in rows]


def _person(told: Told, name: str, **more: Any) -> int:
    told.do("add_person", TAKEN_IN, person={"name": name, **more})
    with told.ledger.read() as reading:
        told.ids[name] = reading.session.scalars(select(Person.id).where(Person.name == name)).one()
    return told.ids[name]


def _take_in(
    told: Told, name: str, owners: tuple[OwnerRow, ...], instrument: Mapping[str, Any], **more: Any
) -> None:
    done = told.do("take_in", TAKEN_IN, instrument={"title": name, **instrument}, owners=owners, **more)
    told.ids[name] = done.id


TERMS: Mapping[str, Any] = {
    "ends_on": date(2026, 12, 31),
    "asking": usd("12000.00"),
    "commission_rule": "rate",
    "commission_rate": Fraction(1, 5),
    "floor": usd("8500.00"),
    "set_off": True,
    "valuation_charge": usd("25.00"),
    "goods_use": "equipment",
    "note": "The bridge by the maker stays with it.",
}


def tell(ledger: Ledger) -> Told:
    """Tell the whole story."""
    told = Told(ledger)
    _people_and_things(told)
    _agree(told)
    _sell(told)
    _pay_and_settle(told)
    _forfeit(told)
    _own_and_back(told)
    _lose(told)
    _return(told)
    told.do("list_others", date(2026, 5, 1))
    return told


def _people_and_things(told: Told) -> None:
    marit = _person(told, "Marit Ostby", address="9 Net Loft\nSaltmere", phone="555-0101")
    ines = _person(told, "Ines Ostby", email="ines@example.org")
    _person(told, "Tobias Renn", address="1 Quay")
    _person(told, "Klara Veen", relation="none")
    lone = _person(told, "Jon Aakre", phone="555-0104")
    _person(told, "Harbour Mutual", kind="firm")
    heirs = (OwnerRow(person_id=marit, share=Fraction(1, 3)), OwnerRow(person_id=ines, share=Fraction(2, 3)))
    _take_in(
        told,
        "the Ostby cello",
        heirs,
        {
            "kind": "cello", "size": "4/4", "string_count": 4, "maker": "Orla Ostby", "standing": "attributed_to",
            "standing_by": "the shop", "standing_evidence": "form of the scroll", "made_when": "about 1890",
            "label_text": "Orla Ostby\nSaltmere 1891",
        },
        stay={
            "reason": "to_sell", "came_with": "hard case\nbow", "condition": "Top: two healed cracks\nwell kept",
            "insured_value": usd("12000.00"), "identity_seen": "passport", "authority": "grant of probate seen",
            "no_liens": True, "register_checked": "Stolen list: nothing found", "register_checked_on": TAKEN_IN,
        },
        fittings=(FittingRow(part="tailpiece", what="boxwood"), FittingRow(part="pegs", what="pearwood")),
        measures=(
            MeasureRow(measure="string_length", value=read_length("690.5 mm")),
            MeasureRow(measure="body_length", value=read_length('29 1/2"'), method="over the arch, button out"),
            MeasureRow(measure="ribs_upper", value=read_length("115 mm"), side="treble"),
            MeasureRow(measure="ribs_upper", value=read_length("116 mm"), side="bass"),
        ),
    )  # fmt: skip
    alone = (OwnerRow(person_id=lone),)
    _take_in(
        told,
        "the little bow",
        alone,
        {"kind": "bow"},
        stay={"reason": "to_sell", "insured_value": usd("600.00")},
    )
    _take_in(
        told,
        "the ferry gamba",
        alone,
        {"kind": "viola_da_gamba"},
        stay={"reason": "to_sell", "condition": "sound"},
    )
    _take_in(
        told,
        "the tall viola",
        alone,
        {"kind": "viola"},
        stay={"reason": "to_sell", "insured_value": usd("400.00")},
    )
    _take_in(
        told, "the bench violin", (), {"kind": "violin", "own_work": True}, stay={"reason": "own"},
        cost=usd("900.00"), paid_from="capital", asking=usd("2000.00"),
    )  # fmt: skip


def _agree(told: Told) -> None:
    cello = told.ids["the Ostby cello"]
    told.do("agree_terms", TAKEN_IN, instrument_id=cello, terms=TERMS, signed_by="Marit Ostby, Ines Ostby")
    told.do(
        "add_addendum",
        date(2026, 2, 1),
        instrument_id=cello,
        terms={**TERMS, "pay_within_days": 14, "discount_borne_by": "as_it_falls", "least": usd("1000.00")},
        signed_by="both",
    )
    told.do("charge_owner", date(2026, 2, 10), instrument_id=cello, kind="valuation")


def _sell(told: Told) -> None:
    cello, tobias = told.ids["the Ostby cello"], told.ids["Tobias Renn"]
    told.do(
        "hold", date(2026, 2, 20), instrument_id=cello, person_id=tobias, until=date(2026, 3, 10),
        deposit=usd("500.00"), cleared=True,
    )  # fmt: skip
    done = told.do(
        "sell",
        SOLD,
        buyer_id=tobias,
        lines=(
            SellLine(kind="consigned", instrument_id=cello, price=usd("11250.00")),
            SellLine(kind="accessory", what="rosin", quantity=2, price=usd("18.00")),
        ),
        tax_scheme="sales_tax",
        tax_rate=Fraction(33, 400),
        costs=(CostRow(line=1, what="new bridge", amount=usd("180.00"), spent=True),),
        referrer_id=told.ids["Klara Veen"],
        referral_rate=Fraction(1, 20),
        told_buyer_on=SOLD,
        told_owner_on=SOLD,
    )
    told.ids["the sale"] = done.id


def _pay_and_settle(told: Told) -> None:
    sale = told.ids["the sale"]
    told.do("take_payment", SOLD, sale_id=sale, amount=usd("6000.00"), reference="first half")
    told.do("take_payment", PAID, sale_id=sale, amount=usd("5697.62"), cleared=True)
    told.do("clear_payments", PAID, sale_id=sale)
    told.do("settle", PAID, sale_id=sale)
    told.do("pay_owner", PAID, person_id=told.ids["Marit Ostby"], amount=usd("1000.00"))
    told.do("pay_fee", PAID, person_id=told.ids["Klara Veen"], amount=usd("562.50"))
    told.do("hand_over", PAID, instrument_id=told.ids["the Ostby cello"], handed_to="Tobias Renn")


def _own_and_back(told: Told) -> None:
    tobias = told.ids["Tobias Renn"]
    done = told.do(
        "sell",
        PAID,
        buyer_id=tobias,
        lines=(SellLine(kind="own", instrument_id=told.ids["the bench violin"], price=usd("1800.00")),),
        tax_scheme="sales_tax",
        tax_rate=Fraction(33, 400),
    )
    told.ids["the returned sale"] = done.id
    told.do("take_payment", PAID, sale_id=done.id, amount=usd("1000.00"), method="card", cleared=True)
    told.do("take_back", BACK, sale_id=done.id, why="too bright for the hall")
    told.do("give_back", BACK, sale_id=done.id, amount=usd("400.00"), method="card")


def _forfeit(told: Told) -> None:
    """A player holds the shop's own violin and stays away."""
    violin = told.ids["the bench violin"]
    told.do(
        "hold", SOLD, instrument_id=violin, person_id=told.ids["Klara Veen"], until=date(2026, 3, 9),
        deposit=usd("50.00"), cleared=True,
    )  # fmt: skip
    told.do("end_hold", PAID, instrument_id=violin, deposit="forfeit", why="stayed away")


def _lose(told: Told) -> None:
    bow = told.ids["the little bow"]
    terms = {
        **TERMS, "asking": usd("600.00"), "floor": None, "note": "", "excess_borne_by": "owner", "goods_use": "unknown",
    }  # fmt: skip
    told.do("agree_terms", TAKEN_IN, instrument_id=bow, terms=terms, signed_by="Jon Aakre")
    told.do(
        "report_loss", BACK, instrument_id=bow, what_happened="Stolen from a locked car.",
        agreed_value=usd("600.00"), excess=usd("100.00"),
    )  # fmt: skip
    told.do("claim_paid", BACK, instrument_id=bow, person_id=told.ids["Harbour Mutual"], amount=usd("500.00"))
    told.do("settle_loss", BACK, instrument_id=bow)
    told.do("pay_owner", BACK, person_id=told.ids["Jon Aakre"], amount=usd("500.00"))


def _return(told: Told) -> None:
    gamba = told.ids["the ferry gamba"]
    terms = {
        **TERMS,
        "asking": usd("3000.00"),
        "floor": None,
        "goods_use": "consumer",
        "withdrawal_charge": usd("75.00"),
    }
    told.do("agree_terms", BACK, instrument_id=gamba, terms=terms)
    told.do("charge_owner", BACK, instrument_id=gamba, kind="withdrawal")
    told.do(
        "return_to_owner", BACK, instrument_id=gamba, handed_to="Jon Aakre", condition_out="sound: as it came",
        why="He plays it himself again.",
    )  # fmt: skip
