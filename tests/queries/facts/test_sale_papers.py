"""What buyers and others are given, from the invoice to the list of all that is others', read back in full."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest
from sqlalchemy import select

from shopledger.model import Payment, Refund, SaleLine
from shopledger.papers.rendering import render
from shopledger.quantities.errors import NotFound
from shopledger.quantities.money import total
from shopledger.queries.facts.handover_list import handover_list_facts
from shopledger.queries.facts.invoice import invoice_facts
from shopledger.queries.facts.referral import referral_facts
from shopledger.queries.owing import balances
from tests.papers.reading_back import in_order, text_of
from tests.queries.facts.story import BACK, PAID, SOLD, Told, usd


def test_the_invoice_equals_the_records(told: Told) -> None:
    facts = told.papers("invoice")[0]
    with told.ledger.read() as reading:
        lines = reading.session.scalars(
            select(SaleLine).where(SaleLine.sale_id == told.ids["the sale"]).order_by(SaleLine.n)
        ).all()
    assert [line.amount.minor for line in facts.lines] == [line.price for line in lines]
    assert facts.total.minor == sum(line.buyer_pays for line in lines)
    assert facts.tax.amount is not None
    assert facts.tax.amount.minor == sum(line.sales_tax for line in lines)
    # 8.25% of 11,250.00 is 928.125, half away from zero 928.13 (Streamlined Sales and Use Tax Agreement, s. 324).
    assert [line.tax for line in facts.lines] == [usd("928.13"), usd("1.49")]
    assert facts.tax.taxable == usd("11268.00")
    cello = facts.lines[0]
    assert (cello.price, cello.discount, cello.amount) == (usd("12000.00"), usd("750.00"), usd("11250.00"))
    assert cello.details == ("Cello, 4/4, 4 strings",)
    assert [(line.what, line.amount) for line in facts.payments] == [("Deposit", usd("500.00"))]
    assert facts.balance == usd("11697.62")
    text = text_of(told.file_of(facts.number))
    assert in_order(text, "12,000.00", "11,250.00", "929.62", "12,197.62", "500.00", "11,697.62")


def test_an_invoice_made_again_shows_what_was_paid_since(told: Told) -> None:
    with told.ledger.read() as reading:
        paid = invoice_facts(reading, told.ids["the sale"], "SI 2026-001/2", BACK)
        back = invoice_facts(reading, told.ids["the returned sale"], "SI 2026-002/2", BACK)
    assert paid.balance == usd("0.00")
    assert paid.sale_number == "SI 2026-001"
    assert [line.cleared for line in paid.payments] == [True, True, True]
    # Credited 1,948.50, paid 1,000.00, given back 400.00: 600.00 are still the buyer's.
    assert [line.amount for line in back.payments] == [usd("1000.00"), usd("1948.50"), usd("-400.00")]
    assert back.balance == usd("-600.00")
    assert "600.00" in text_of(render("invoice", back))


def test_the_bill_of_sale_names_sellers_and_signs_for_them(told: Told) -> None:
    sold, own = told.papers("bill_of_sale")
    assert [seller.party.name for seller in sold.sellers] == ["Marit Ostby", "Ines Ostby"]
    assert (sold.price, sold.signed_by, sold.own) == (usd("11250.00"), "shop", False)
    assert len(sold.warranties) == 1
    assert (own.sellers, own.own) == ((), True)
    text = text_of(told.file_of(sold.number))
    assert in_order(text, "Marit Ostby", "Tobias Renn", "11,250.00", "nobody else has a claim", "as agent")


def test_receipts_say_where_the_invoice_stands(told: Told) -> None:
    deposit, first, second, *_others = told.papers("payment_receipt")
    assert deposit.deposit
    assert deposit.invoiced is None
    assert "the Ostby cello" in deposit.applied[0].what
    # Set off was 500.00; then 6,000.00, then the rest: each receipt goes on from the one before.
    assert [(one.paid_before, one.amount, one.balance) for one in (first, second)] == [
        (usd("500.00"), usd("6000.00"), usd("5697.62")),
        (usd("6500.00"), usd("5697.62"), usd("0.00")),
    ]
    assert (first.cleared_on, second.cleared_on) == (None, PAID)
    assert total([line.amount for line in first.applied], "USD") == first.amount
    assert in_order(text_of(told.file_of(first.number)), "12,197.62", "500.00", "6,000.00", "5,697.62")


def test_a_claim_paid_has_its_receipt(told: Told) -> None:
    claim = told.papers("payment_receipt")[-1]
    with told.ledger.read() as reading:
        payment = reading.session.scalars(select(Payment).where(Payment.loss_id.is_not(None))).one()
    assert (claim.number, claim.amount.minor) == (payment.number, payment.minor)
    assert claim.applied[0].what.startswith("Claim for the loss LD 2026-001")


def test_the_referral_is_disclosed_with_its_working(told: Told) -> None:
    (facts,) = told.papers("referral")
    # 5% of 11,250.00.
    assert (facts.rate, facts.of, facts.fee) == (Fraction(1, 20), "price", usd("562.50"))
    assert (facts.owner_part, facts.shop_part) == (usd("0.00"), usd("562.50"))
    assert (facts.told_buyer_on, facts.told_owner_on) == (SOLD, SOLD)
    assert [owner.party.name for owner in facts.owners] == ["Marit Ostby", "Ines Ostby"]
    assert in_order(text_of(told.file_of(facts.number)), "Klara Veen", "5% of the price: US$562.50", "562.50")


def test_a_sale_without_a_referral_discloses_none(told: Told) -> None:
    with told.ledger.read() as reading, pytest.raises(NotFound, match="no referral"):
        referral_facts(reading, told.ids["the returned sale"], "RD 9", BACK)


def test_the_credit_note_mirrors_the_line_to_the_cent(told: Told) -> None:
    (facts,) = told.papers("credit_note")
    sold = told.papers("invoice")[1]
    assert facts.total == sold.total == usd("1948.50")
    assert [line.amount for line in facts.lines] == [line.amount for line in sold.lines]
    assert (facts.set_against, facts.balance) == (usd("948.50"), usd("1000.00"))
    assert facts.reason == "too bright for the hall"
    assert in_order(text_of(told.file_of(facts.number)), "1,948.50", "\u2212948.50", "1,000.00")


def test_the_refund_says_what_is_still_owed(told: Told) -> None:
    (facts,) = told.papers("refund_receipt")
    with told.ledger.read() as reading:
        refund = reading.session.scalars(select(Refund)).one()
    assert facts.amount.minor == refund.minor == 400_00
    assert (facts.still_owed, facts.credit_note_number) == (usd("600.00"), "CN 2026-001")
    assert in_order(text_of(told.file_of(facts.number)), "400.00", "still owes Tobias Renn US$600.00")


def test_the_list_holds_everything_that_is_others(told: Told) -> None:
    (facts,) = told.papers("handover_list")
    assert [(line.what, line.owner, line.value) for line in facts.property] == [
        ("Viola, \u201cthe tall viola\u201d", "Jon Aakre", usd("400.00"))
    ]
    held = {(line.name, line.words): line.held for line in facts.money}
    assert held == {
        ("Marit Ostby", "as owner"): usd("1931.67"),
        ("Ines Ostby", "as owner"): usd("5863.33"),
        ("Tobias Renn", "to be given back as buyer"): usd("600.00"),
        ("Jon Aakre", "as owner"): usd("-75.00"),
    }
    with told.ledger.read() as reading:
        sums = balances(reading)
    assert facts.bank is not None
    assert facts.bank.minor == sums["bank"] + sums["bank_owners"]
    # Money held for owners covers what is set aside for them: the promise of the journal.
    assert sums["bank_owners"] >= -sums["owners_held"]
    # 1,931.67, 5,863.33 and 600.00 belong to others; the 75.00 that one of them owes the shop pays none of it.
    assert in_order(
        text_of(told.file_of(facts.number)),
        *("400.00", "1,931.67", "5,863.33", "debts not taken off 8,395.00", "\u221275.00"),
        *("debts taken off 8,320.00", "covers the US$8,395.00"),
    )


def test_the_list_of_an_earlier_day_is_that_of_the_day(told: Told) -> None:
    with told.ledger.read() as reading:
        winter = handover_list_facts(reading, date(2026, 2, 25), "HL 8", BACK)
        spring = handover_list_facts(reading, SOLD, "HL 9", BACK)
    assert [line.number for line in winter.property] == ["No. 001", "No. 002", "No. 003", "No. 004"]
    assert winter.property[0].owner == "Marit Ostby (1/3); Ines Ostby (2/3)"
    deposit = next(line for line in winter.money if line.name == "Tobias Renn")
    assert (deposit.due, deposit.words) == (usd("500.00"), "deposit, for a thing held")
    # Sold and partly paid, nothing settled: of the net only what the deposit brought in waits for the owners.
    cello = next(line for line in spring.property if line.number == "No. 001")
    assert (cello.owner, cello.why_here[:4]) == ("Tobias Renn", "sold")
    waits = total([line.waiting for line in spring.money if line.words.startswith("as owner")], "USD")
    assert usd("0.00") < waits < usd("500.00")
    assert b"%PDF" in render("handover_list", spring)
