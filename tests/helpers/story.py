"""A small story of a shop, written through the unit of work alone: one of every record that money leaves.

A cello of two heirs is sold with a second line beside it, paid, settled, partly paid out; the shop's own violin is
sold and comes back; a viola waits with a deposit. Every figure is reckoned by the rules, none is typed in.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import date
from fractions import Fraction
from typing import Any

from shopledger.model import (
    Agreement,
    Charge,
    Custody,
    FeePayment,
    Fitting,
    Hold,
    Instrument,
    LineCost,
    LineEntry,
    LineOwner,
    LineReferral,
    Measurement,
    Ownership,
    OwnershipShare,
    Paper,
    PaperFile,
    Payment,
    PaymentShare,
    Payout,
    PayoutShare,
    Person,
    Picture,
    PriceChange,
    Refund,
    RefundShare,
    Sale,
    SaleLine,
    Settlement,
    SettlementShare,
    Signature,
    Stay,
    Terms,
    TermsOwner,
)
from shopledger.quantities.money import Money
from shopledger.rules import terms as rules
from shopledger.rules.journal import Amount
from shopledger.rules.posting import Fee, LineFigures, OwnerNet, line_amounts
from shopledger.rules.reckon_written import case_text
from shopledger.rules.reckoning import reckon
from shopledger.rules.split import FIGURES
from shopledger.store.ledger import Ledger
from shopledger.store.unit import Writing

DAY = date(2025, 3, 4)


@contextmanager
def act(ledger: Ledger, op_id: str, name: str = "told", on: date = DAY) -> Iterator[Writing]:
    """Do one act by hand: begun, finished and committed around what is written inside."""
    with ledger.write() as writing:
        writing.begin_act(op_id=op_id, act=name, on=on, by="the maker")
        yield writing
        writing.finish_act("shop", 1, {"told": op_id})
        writing.commit()


def book(ledger: Ledger, op_id: str, *amounts: Amount, source: str = "a test") -> int:
    """Do an act that books one entry; give its number."""
    with act(ledger, op_id) as writing:
        return writing.book(amounts, source)


def pair(minor: int = 100) -> tuple[Amount, Amount]:
    """Give the smallest entry."""
    return Amount("bank", minor), Amount("capital", -minor)


def some_entries(ledger: Ledger, count: int = 3) -> list[int]:
    """Book a few entries, each by an act of its own."""
    return [book(ledger, f"entry-{n}", *pair(100 * (n + 1))) for n in range(count)]


def person(writing: Writing, name: str, **more: Any) -> Person:
    """Add a person."""
    found: Person = writing.add(Person(number=writing.number("person"), name=name, **more))
    return found


def stay_of(
    writing: Writing, kind: str, reason: str, owners: Sequence[tuple[Person, Fraction]], **more: Any
) -> Stay:
    """Take an instrument in."""
    instrument = writing.add(Instrument(number=writing.number("instrument"), kind=kind, **more))
    ownership = writing.add(Ownership(instrument_id=instrument.id, since=DAY, how="said at intake"))
    for n, (owner, share) in enumerate(owners, 1):
        writing.add(OwnershipShare(ownership_id=ownership.id, person_id=owner.id, share=share, n=n))
    stay: Stay = writing.add(
        Stay(
            number=writing.number("stay"),
            instrument_id=instrument.id,
            reason=reason,
            came_in_on=DAY,
            no_liens=True,
        )
    )
    writing.add(Custody(stay_id=stay.id, place="here", since=DAY))
    return stay


def leave(writing: Writing, kind: str, number: str, **states: Any) -> None:
    """Leave a paper with a file, as an act and the rendering after it do."""
    facts = json.dumps(
        {"number": number, **states}, sort_keys=True, separators=(",", ":"), ensure_ascii=False
    )
    entry, sealed = writing.last_seal()
    paper = writing.add(
        Paper(
            number=number,
            kind=kind,
            facts=facts,
            facts_sha256=hashlib.sha256(facts.encode()).hexdigest(),
            issued_on=DAY,
            op_id=writing.op_id,
            anchor_entry=entry,
            anchor_hash=sealed,
        )
    )
    content = f"%PDF-1.7 {number}".encode()
    writing.add(PaperFile(paper_id=paper.id, sha256=writing.ledger.files.put(content), size=len(content)))


def tell(ledger: Ledger) -> None:
    """Tell the whole story."""
    _take_in(ledger)
    _sell(ledger)
    _settle(ledger)
    _own_and_back(ledger)
    _deposit(ledger)


def _take_in(ledger: Ledger) -> None:
    with act(ledger, "people") as w:
        ada = person(w, "Adaline Fenwraith", address="9 Net Loft\nSaltmere", phone="555-0101")
        bo = person(w, "Bø Fenwraith", email="bo@example.org", notes='He says "soon",\nand means it.')
        person(w, "Célestine Oar", plays="cello")
        person(w, "Dunstan Wick")
        person(w, "The Tarred Rope, dealers", kind="firm")
        owners = [(ada, Fraction(1, 3)), (bo, Fraction(2, 3))]
    with act(ledger, "take-in") as w:
        stay = stay_of(
            w, "cello", "to_sell", owners, maker="Orla Fenwraith", standing="made_by", title="the Fenwraith cello",
            made_when="about 1890", label_text="=Orla made me\r\nin Saltmere", own_work=False,
        )  # fmt: skip
        w.add(Measurement(instrument_id=stay.instrument_id, measure="string_length", nm=690_500_000,
                          typed="690.5 mm", taken_on=DAY))  # fmt: skip
        w.add(Fitting(instrument_id=stay.instrument_id, part="pegs", what="pearwood"))
        w.add(Picture(instrument_id=stay.instrument_id, stay_id=stay.id, taken_on=DAY, caption="front",
                      sha256=w.ledger.files.put(b"\x89PNG front")))  # fmt: skip
        leave(w, "intake", stay.number)
    with act(ledger, "agree") as w:
        agreement = w.add(Agreement(number=w.number("agreement"), stay_id=stay.id, begins_on=DAY))
        terms = w.add(
            Terms(
                agreement_id=agreement.id, n=1, kind="first", agreed_on=DAY, ends_on=date(2026, 3, 4),
                asking=12_000_00, commission_rate=Fraction(1, 5), set_off=True, repairs_allowed=True,
            )
        )  # fmt: skip
        for n, (owner, share) in enumerate(owners, 1):
            w.add(TermsOwner(terms_id=terms.id, person_id=owner.id, share=share, n=n))
        w.add(PriceChange(stay_id=stay.id, since=DAY, asking=12_000_00))
        w.add(Signature(terms_id=terms.id, signed_on=DAY, signed_by="Adaline Fenwraith",
                        scan_sha256=w.ledger.files.put(b"scan of the signed paper")))  # fmt: skip
        leave(w, "agreement", agreement.number)


def _sell(ledger: Ledger) -> None:
    with act(ledger, "sell") as w:
        ada, bo, buyer, referrer = (w.session.get_one(Person, key) for key in (2, 3, 4, 5))
        eur = ledger.currency
        case = rules.Case(
            currency=eur,
            asking=Money(12_000_00, eur),
            price=Money(11_250_00, eur),
            terms=rules.Terms(rules.CommissionRate(Fraction(1, 5))),
            costs=(rules.Cost("new bridge", Money(180_00, eur)),),
            referral=rules.Referral(
                fixed=Money(250_01, eur),
                borne_by=rules.Bearer.BOTH,
                disclosed_to=(rules.Side.BUYER, rules.Side.OWNER),
            ),
            tax=rules.Tax(rules.Scheme.MARGIN, Fraction(23, 100)),
            owners=(
                rules.OwnerShare(ada.number, Fraction(1, 3)),
                rules.OwnerShare(bo.number, Fraction(2, 3)),
            ),
        )
        split = reckon(case)
        sale = w.add(Sale(number=w.number("sale"), buyer_id=buyer.id, sold_on=DAY, tax_scheme="margin",
                          tax_rate=Fraction(23, 100)))  # fmt: skip
        nets = [each.amount.minor for each in split.owners]
        fee = split.referral_owner.minor + split.referral_shop.minor
        figures = {name: getattr(split, name).minor for name in FIGURES if name != "floor_short_by"}
        entry = w.book(
            line_amounts(
                LineFigures(
                    kind="consigned",
                    buyer_id=buyer.id,
                    **{name: figures[name] for name in ("price", "buyer_pays", "sales_tax", "commission",
                       "owner_costs", "shop_costs", "vat_on_commission", "margin_vat")},
                    owners=(OwnerNet(ada.id, nets[0]), OwnerNet(bo.id, nets[1])),
                    fees=(Fee(referrer.id, fee, split.referral_shop.minor),),
                )
            ),
            f"{sale.number} line 1",
        )  # fmt: skip
        line = w.add(
            SaleLine(
                sale_id=sale.id, n=1, kind="consigned", instrument_id=1, stay_id=1, terms_id=1, what="cello",
                asking=12_000_00, reckoned_from=case_text(case), **figures,
            )
        )  # fmt: skip
        w.add(LineEntry(sale_line_id=line.id, entry_id=entry, role="sale"))
        for n, (owner, share, net) in enumerate(
            zip((ada, bo), (Fraction(1, 3), Fraction(2, 3)), nets, strict=True), 1
        ):
            w.add(LineOwner(sale_line_id=line.id, person_id=owner.id, share=share, net=net, n=n))
        w.add(LineCost(sale_line_id=line.id, what="new bridge", minor=180_00, borne_by="owner", spent=True))
        w.add(LineReferral(sale_line_id=line.id, person_id=referrer.id, minor=fee, borne_by="both",
                           told_buyer_on=DAY, told_owner_on=DAY))  # fmt: skip
        _goods_line(w, sale, 2, "accessory", 50_00)
        leave(w, "invoice", sale.number, total="11300.00")
    with act(ledger, "pay") as w:
        whole = 11_300_00
        received = w.book([Amount("in_transit", whole), Amount("buyers", -whole, 4)], "SI 2025-001 payment")
        payment = w.add(Payment(number=w.number("payment"), person_id=4, sale_id=1, method="transfer", minor=whole,
                                received_on=DAY, entry_id=received))  # fmt: skip
        for line_id, minor in ((1, 11_250_00), (2, 50_00)):
            w.add(PaymentShare(payment_id=payment.id, sale_line_id=line_id, minor=minor))
        payment.cleared_entry_id = w.book(
            [Amount("in_transit", -whole), Amount("bank_owners", 11_250_00), Amount("bank", 50_00)], "cleared"
        )
        payment.cleared_on = DAY
        leave(w, "payment_receipt", payment.number)


def _goods_line(
    w: Writing, sale: Sale, n: int, kind: str, minor: int, *, cost: int = 0, stay: Stay | None = None
) -> SaleLine:
    amounts = line_amounts(
        LineFigures(kind=kind, buyer_id=sale.buyer_id, price=minor, buyer_pays=minor, cost=cost)
    )
    entry = w.book(amounts, f"{sale.number} line {n}")
    line: SaleLine = w.add(
        SaleLine(
            sale_id=sale.id, n=n, kind=kind, what=kind, asking=minor, price=minor, buyer_pays=minor, cost=cost,
            shop_keeps=minor - cost, reckoned_from="{}", stay_id=stay.id if stay else None,
            instrument_id=stay.instrument_id if stay else None,
        )
    )  # fmt: skip
    w.add(LineEntry(sale_line_id=line.id, entry_id=entry, role="sale"))
    return line


def _settle(ledger: Ledger) -> None:
    with act(ledger, "charge") as w:
        entry = w.book([Amount("owners_owe", 25_00, 2), Amount("charges", -25_00)], "valuation")
        w.add(Charge(number=w.number("charge"), person_id=2, stay_id=1, kind="valuation", what="valuation",
                     minor=25_00, charged_on=DAY, entry_id=entry))  # fmt: skip
    with act(ledger, "settle") as w:
        line = w.session.get_one(SaleLine, 1)
        nets = {owner.person_id: owner.net for owner in w.session.query(LineOwner).order_by(LineOwner.n)}
        released = line.price - line.owner_net
        entry = w.book(
            [
                *(Amount("owners_pending", net, who) for who, net in nets.items()),
                *(Amount("owners_held", -net, who) for who, net in nets.items()),
                Amount("bank", released + 25_00),
                Amount("bank_owners", -released - 25_00),
                Amount("owners_held", 25_00, 2),
                Amount("owners_owe", -25_00, 2),
            ],
            "account sales",
        )
        settlement = w.add(Settlement(number=w.number("settlement"), sale_line_id=1, settled_on=DAY,
                                      released=released, entry_id=entry))  # fmt: skip
        for who, net in nets.items():
            w.add(
                SettlementShare(
                    settlement_id=settlement.id, person_id=who, minor=net, set_off=25_00 if who == 2 else 0
                )
            )
        leave(w, "account_sales", settlement.number)
    with act(ledger, "pay-owner") as w:
        minor = nets[2] - 25_00
        entry = w.book([Amount("owners_held", minor, 2), Amount("bank_owners", -minor)], "payout")
        payout = w.add(Payout(number=w.number("payout"), person_id=2, method="transfer", minor=minor, paid_on=DAY,
                              reference="-1 to Ada", entry_id=entry))  # fmt: skip
        w.add(PayoutShare(payout_id=payout.id, settlement_share_id=1, minor=minor))
        leave(w, "remittance", payout.number)
    with act(ledger, "pay-fee") as w:
        entry = w.book([Amount("fees_due", 250_01, 5), Amount("bank", -250_01)], "fee")
        w.add(
            FeePayment(
                number=w.number("fee"), person_id=5, method="cash", minor=250_01, paid_on=DAY, entry_id=entry
            )
        )


def _own_and_back(ledger: Ledger) -> None:
    with act(ledger, "own") as w:
        shop = w.session.get_one(Person, 1)
        stay = stay_of(w, "violin", "own", [(shop, Fraction(1))], own_work=True)
        stay.cost = 900_00
        w.book([Amount("stock", 900_00), Amount("capital", -900_00)], "made here")
        sale = w.add(Sale(number=w.number("sale"), buyer_id=4, sold_on=DAY))
        line = _goods_line(w, sale, 1, "own", 2_000_00, cost=900_00, stay=stay)
        received = w.book([Amount("in_transit", 2_000_00), Amount("buyers", -2_000_00, 4)], "payment")
        cleared = w.book([Amount("in_transit", -2_000_00), Amount("bank", 2_000_00)], "cleared")
        payment = w.add(Payment(number=w.number("payment"), person_id=4, sale_id=sale.id, method="card",
                                minor=2_000_00, received_on=DAY, cleared_on=DAY, entry_id=received,
                                cleared_entry_id=cleared))  # fmt: skip
        w.add(PaymentShare(payment_id=payment.id, sale_line_id=line.id, minor=2_000_00))
    with act(ledger, "take-back") as w:
        line = w.session.get_one(SaleLine, line.id)
        sold = w.session.query(LineEntry).filter_by(sale_line_id=line.id).one()
        back = w.reverse(sold.entry_id, "returned")
        w.add(LineEntry(sale_line_id=line.id, entry_id=back, role="return"))
        line.returned_on, line.returned_why = DAY, "too bright for her ear"
        entry = w.book([Amount("buyers", 2_000_00, 4), Amount("bank", -2_000_00)], "refund")
        refund = w.add(Refund(number=w.number("refund"), person_id=4, sale_id=line.sale_id, method="card",
                              minor=2_000_00, paid_on=DAY, entry_id=entry))  # fmt: skip
        w.add(RefundShare(refund_id=refund.id, sale_line_id=line.id, minor=2_000_00))
        leave(w, "credit_note", w.number("credit"))


def _deposit(ledger: Ledger) -> None:
    with act(ledger, "hold") as w:
        dunstan = w.session.get_one(Person, 5)
        stay = stay_of(w, "viola", "to_sell", [(dunstan, Fraction(1))], description="sound of dusk – 𝄞")
        hold = w.add(Hold(stay_id=stay.id, person_id=4, since=DAY, until=date(2025, 4, 1)))
        entry = w.book([Amount("in_transit", 100_00), Amount("deposits", -100_00, 4)], "deposit")
        w.add(Payment(number=w.number("payment"), person_id=4, hold_id=hold.id, method="cash", minor=100_00,
                      received_on=DAY, entry_id=entry))  # fmt: skip
