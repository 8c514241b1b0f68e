"""Every rule of a commission on the agreement, in a shop whose commission bears VAT; and what no paper may state."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import select, update

from shopledger.acts.owning import OwnerRow
from shopledger.acts.selling_forms import CostRow, SellLine
from shopledger.model import LineReferral, Person, SaleLine, Settlement
from shopledger.model.agreements import Bracket
from shopledger.papers.rendering import render
from shopledger.quantities.errors import Bug, NotFound, Refused
from shopledger.quantities.showing import show_amount
from shopledger.queries.facts.account_sales import account_sales_facts
from shopledger.queries.facts.addendum import addendum_facts, ending_facts
from shopledger.queries.facts.agreement import agreement_facts
from shopledger.queries.facts.bill_of_sale import bill_of_sale_facts
from shopledger.queries.facts.charge_note import charge_note_facts
from shopledger.queries.facts.credit_note import credit_note_facts
from shopledger.queries.facts.instruments import instrument_facts
from shopledger.queries.facts.intake import intake_facts
from shopledger.queries.facts.invoice import invoice_facts
from shopledger.queries.facts.parties import anchor, party_facts
from shopledger.queries.facts.payment_receipt import payment_receipt_facts
from shopledger.queries.facts.reckoned import split_of_line
from shopledger.queries.facts.refund_receipt import refund_receipt_facts
from shopledger.queries.facts.remittance import remittance_facts
from tests.helpers.ledgers import migrated, opened
from tests.papers.reading_back import in_order, text_of
from tests.queries.facts.story import SHOP, TAKEN_IN, TERMS, Told, usd

ON = date(2026, 2, 2)


@pytest.fixture(scope="session")
def vat_template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give a file with a new shop whose commission bears VAT of 20%, to copy."""
    answers = replace(
        SHOP, tax_scheme="vat_on_commission", tax_rate=Fraction(1, 5), tax_from=date(2025, 1, 1)
    )
    path = tmp_path_factory.mktemp("terms") / "shop.ledger"
    migrated(path, answers).close()
    return path


@pytest.fixture
def shop(vat_template: Path, tmp_path: Path) -> Iterator[Told]:
    """Give a shop of its own to a test, with an owner, a buyer and a referrer."""
    shutil.copy(vat_template, tmp_path / "shop.ledger")
    with opened(tmp_path / "shop.ledger") as ledger:
        told = Told(ledger)
        for name in ("Solveig Dahl", "Tobias Renn", "Klara Veen"):
            told.do("add_person", TAKEN_IN, person={"name": name})
        with ledger.read() as reading:
            told.ids = {name: key for key, name in reading.session.execute(select(Person.id, Person.name))}
        yield told


def _taken_in(told: Told, owners: tuple[OwnerRow, ...] = (), **stay: Any) -> int:
    owners = owners or (OwnerRow(person_id=told.ids["Solveig Dahl"]),)
    return told.do(
        "take_in", TAKEN_IN, instrument={"kind": "viola"}, owners=owners, stay={"reason": "to_sell", **stay}
    ).id


def _agreed(told: Told, instrument: int, **terms: Any) -> Any:
    plain = {"ends_on": date(2026, 12, 31), "asking": usd("12000.00"), **terms}
    told.do("agree_terms", TAKEN_IN, instrument_id=instrument, terms=plain, signed_by="Solveig Dahl")
    return told.papers("agreement")[-1]


# By hand from the rules of the reckoning, the VAT of 20% on each commission charged on top of it:
# 30% of 5,000 + 20% of 7,000 = 2,900; a net of 9,000 leaves 3,000, which is a commission of 2,500 and its VAT.
@pytest.mark.parametrize(
    ("terms", "net"),
    [
        ({"commission_rule": "rate", "commission_rate": Fraction(1, 5)}, "9120.00"),
        ({"commission_rule": "fixed", "commission_fixed": usd("900.00")}, "10920.00"),
        ({"commission_rule": "net_to_owner", "net_to_owner": usd("9000.00")}, "9000.00"),
        (
            {
                "commission_rule": "brackets",
                "commission_brackets": (
                    Bracket(up_to=usd("5000.00"), rate=Fraction(3, 10)),
                    Bracket(up_to=usd("20000.00"), rate=Fraction(1, 5)),
                    Bracket(rate=Fraction(3, 25)),
                ),
            },
            "8520.00",
        ),
        (
            {
                "commission_rule": "rate",
                "commission_rate": Fraction(1, 5),
                "most": usd("2000.00"),
                "least": usd("1.00"),
            },
            "9600.00",
        ),
    ],
)
def test_every_rule_is_stated_and_worked(shop: Told, terms: dict[str, Any], net: str) -> None:
    facts = _agreed(shop, _taken_in(shop), **terms)
    assert facts.example_net == usd(net)
    stated = facts.terms.commission
    assert [bool(rule) for rule in (stated.rate, stated.brackets, stated.fixed, stated.net_to_owner)].count(
        True
    ) == 1
    assert facts.terms.vat_on_commission == Fraction(1, 5)
    text = text_of(shop.file_of(facts.number))
    assert in_order(text, "VAT", "Worked example", show_amount(usd(net)))


def test_an_addendum_shows_a_scale_and_ties_of_owners_in_words(shop: Told) -> None:
    viola = _taken_in(shop)
    _agreed(shop, viola, commission_rule="rate", commission_rate=Fraction(1, 5), maker_tie="heir")
    assert shop.papers("agreement")[-1].cautions.makers_own_work
    brackets = (Bracket(up_to=usd("5000.00"), rate=Fraction(3, 10)), Bracket(rate=Fraction(3, 25)))
    shop.do(
        "add_addendum",
        ON,
        instrument_id=viola,
        terms={
            "commission_rule": "brackets",
            "commission_rate": None,
            "commission_brackets": brackets,
            "repairs_allowed": True,
            "ends_on": date(2027, 1, 31),
            "note": "Asked by letter.\nAnswered.",
        },
    )
    (facts,) = shop.papers("addendum")
    changes = {line.what: (line.before, line.after) for line in facts.changes}
    assert changes == {
        "Ends on": ("31 Dec 2026", "31 Jan 2027"),
        "The shop earns": ("a share of the price", "a share by brackets of the price"),
        "Commission rate": ("20%", ""),
        "Commission by brackets": ("", "30% up to US$5,000.00; 12% above that"),
        "Repairs may be done": ("no", "yes"),
        "Further words": ("", "Asked by letter.; Answered."),
    }
    # 30% of 5,000 and 12% of 7,000 are 2,340; with VAT of 468 the owner has 9,192.
    assert facts.example_net == usd("9192.00")


def test_a_renewal_says_so(shop: Told) -> None:
    viola = _taken_in(shop)
    _agreed(shop, viola, commission_rule="rate", commission_rate=Fraction(1, 5))
    shop.do("renew", ON, instrument_id=viola, ends_on=date(2027, 6, 30))
    (facts,) = shop.papers("addendum")
    assert (facts.act, [line.what for line in facts.changes], facts.example) == ("renewal", ["Ends on"], ())


def _sold(told: Told, *instruments: int, **more: Any) -> int:
    return told.do(
        "sell",
        ON,
        buyer_id=told.ids["Tobias Renn"],
        lines=tuple(
            SellLine(kind="consigned", instrument_id=one, price=usd("11250.00")) for one in instruments
        ),
        tax_scheme="vat_on_commission",
        tax_rate=Fraction(1, 5),
        **more,
    ).id


def test_a_referral_on_two_lines_is_disclosed_on_one_sheet(shop: Told) -> None:
    things = [_taken_in(shop) for _n in range(2)]
    for one in things:
        _agreed(shop, one, commission_rule="rate", commission_rate=Fraction(1, 5))
    _sold(
        shop, *things, referrer_id=shop.ids["Klara Veen"], referral_rate=Fraction(1, 10), referral_of="commission",
        referral_borne_by="both", told_buyer_on=ON, told_owner_on=ON,
    )  # fmt: skip
    (facts,) = shop.papers("referral")
    # 10% of a commission of 2,250.00 twice; halves, of which an odd cent would be the shop's.
    assert (facts.fee, facts.owner_part, facts.shop_part) == (usd("450.00"), usd("225.00"), usd("225.00"))
    assert facts.instrument_number == "No. 001, No. 002"
    assert len(facts.owners) == 1
    with shop.ledger.read() as reading:
        assert sum(reading.session.scalars(select(LineReferral.minor))) == facts.fee.minor


def test_money_that_clears_in_part_is_accounted_for_in_part(shop: Told) -> None:
    viola = _taken_in(shop)
    _agreed(
        shop, viola, commission_rule="rate", commission_rate=Fraction(1, 5), pay_owner="as_money_clears",
        floor=usd("9000.00"),
    )  # fmt: skip
    sale = _sold(shop, viola, make_up=True, costs=(CostRow(what="new bridge", amount=usd("180.00")),))
    shop.do("take_payment", ON, sale_id=sale, amount=usd("5625.00"), cleared=True)
    shop.do("settle", ON, sale_id=sale)
    (half,) = shop.papers("account_sales")
    # The floor of 9,000.00 is made up from the commission; half is paid, so half of the net is due.
    assert half.owner_net == usd("9000.00")
    assert (half.due_on, half.balance) == (None, usd("9000.00"))
    assert "US$4,500.00 of it is due now" in half.due_words
    assert "gave up US$525.00 of its commission" in half.floor_words
    counted = [
        (line.label, line.amount) for line in half.working if line.counts and "ommission" in line.label
    ]
    assert counted == [
        ("Commission after making up", usd("-1725.00")),
        ("VAT on the commission", usd("-345.00")),
    ]
    shop.do("pay_owner", ON, person_id=shop.ids["Solveig Dahl"], amount=usd("4500.00"))
    shop.do("take_payment", ON, sale_id=sale, amount=usd("5625.00"), cleared=True)
    shop.do("settle", ON, sale_id=sale)
    whole = shop.papers("account_sales")[-1]
    assert [line.amount for line in whole.payouts] == [usd("4500.00")]
    assert (whole.balance, whole.due_on) == (usd("4500.00"), date(2026, 3, 4))
    assert in_order(text_of(shop.file_of(whole.number)), "9,000.00", "\u22124,500.00", "4,500.00")


def test_the_shop_as_a_part_owner_is_not_paid_out(shop: Told) -> None:
    with shop.ledger.read() as reading:
        itself = reading.shop().person_id
    halves = tuple(
        OwnerRow(person_id=one, share=Fraction(1, 2)) for one in (shop.ids["Solveig Dahl"], itself)
    )
    viola = _taken_in(shop, halves)
    _agreed(shop, viola, commission_rule="fixed", commission_fixed=usd("250.00"))
    sale = _sold(shop, viola)
    shop.do("take_payment", ON, sale_id=sale, amount=usd("11250.00"), cleared=True)
    shop.do("settle", ON, sale_id=sale)
    with shop.ledger.read() as reading:
        together = account_sales_facts(reading, 1, None, "AS 9", ON)
        own = account_sales_facts(reading, 1, shop.ids["Solveig Dahl"], "AS 9/1", ON)
    assert together.owner_net == usd("10950.00")
    assert [(line.what, line.amount) for line in together.set_offs] == [
        ("The shop\u2019s own part", usd("5475.00"))
    ]
    assert together.balance == own.balance == usd("5475.00")
    assert b"%PDF" in render("account_sales", together)


def test_the_first_terms_are_no_addendum_and_what_has_not_ended_has_no_end(shop: Told) -> None:
    _agreed(shop, _taken_in(shop), commission_rule="rate", commission_rate=Fraction(1, 5))
    with shop.ledger.read() as reading:
        with pytest.raises(Bug, match="no addendum"):
            addendum_facts(reading, 1, "AG 9", ON)
        with pytest.raises(Bug, match="has not ended"):
            ending_facts(reading, 1, "AG 9", ON)


def test_terms_that_refuse_their_own_asking_price_are_refused(shop: Told) -> None:
    with pytest.raises(Refused, match="below the net"):
        _agreed(shop, _taken_in(shop), commission_rule="net_to_owner", net_to_owner=usd("13000.00"))


def test_figures_that_do_not_follow_from_their_facts_are_never_printed(shop: Told) -> None:
    viola = _taken_in(shop)
    _agreed(shop, viola, commission_rule="rate", commission_rate=Fraction(1, 5))
    _sold(shop, viola)
    with shop.ledger.read() as reading:
        line = reading.session.scalars(select(SaleLine)).one()
        split_of_line(reading, line)
        line.commission += 1
        with pytest.raises(Bug, match=r"commission of the line .* is US.?2250\.01|USD 2,250\.01"):
            split_of_line(reading, line)


@pytest.mark.parametrize(
    "ask",
    [
        lambda reading: agreement_facts(reading, 99, "", ON),
        lambda reading: intake_facts(reading, 99, "", ON),
        lambda reading: invoice_facts(reading, 99, "", ON),
        lambda reading: credit_note_facts(reading, 99, [1], "", ON),
        lambda reading: bill_of_sale_facts(reading, [99], "", ON),
        lambda reading: payment_receipt_facts(reading, 99, "", ON),
        lambda reading: refund_receipt_facts(reading, 99, "", ON),
        lambda reading: remittance_facts(reading, 99, "", ON),
        lambda reading: charge_note_facts(reading, 99, "", ON),
        lambda reading: ending_facts(reading, 99, "", ON),
        lambda reading: instrument_facts(reading, 99),
        lambda reading: party_facts(reading, 99),
    ],
)
def test_what_is_not_there_is_said_in_words(told: Told, ask: Any) -> None:
    with told.ledger.read() as reading, pytest.raises(NotFound, match=r"There (is|are) no"):
        ask(reading)


def test_an_empty_journal_has_no_anchor(shop: Told, told: Told) -> None:
    with shop.ledger.read() as reading:
        assert anchor(reading) == (None, "")
    with told.ledger.read() as reading:
        entry, sealed = anchor(reading)
    assert entry is not None
    assert len(sealed) == 64


def test_a_settlement_of_nothing_is_a_fault(told: Told) -> None:
    with told.ledger.read() as reading:
        reading.session.execute(update(Settlement).where(Settlement.id == 1).values(sale_line_id=None))
        reading.session.expire_all()
        with pytest.raises(Bug, match="neither a sale nor a loss"):
            account_sales_facts(reading, 1, None, "AS 1", ON)


def test_terms_of_the_story_are_those_that_were_typed(told: Told) -> None:
    facts = told.papers("agreement")[0]
    assert facts.terms.asking == TERMS["asking"]
    assert facts.terms.further_words == ("The bridge by the maker stays with it.",)
