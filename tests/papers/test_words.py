"""What each paper says: its parts in order, its figures, its sums, its cautions, and the sums it refuses."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import Any

import pytest

from shopledger.papers.parts import CautionFacts, OwnerFacts, TaxFacts, WorkingLine
from shopledger.papers.rendering import render
from shopledger.quantities.errors import Bug
from shopledger.quantities.manners import Manners
from tests.papers import samples
from tests.papers.reading_back import in_order, text_of
from tests.papers.sample_things import OWNER, usd

ORDINARY: dict[str, Any] = samples.ordinary()
LONG: dict[str, Any] = samples.long()
EMPTY: dict[str, Any] = samples.empty()


def _says(kind: str, facts: Any) -> str:
    """Give the text of a paper with plain blanks."""
    return text_of(samples.rendered(kind, facts)).replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("kind", "parts"),
    [
        (
            "agreement",
            (
                *(
                    "Consignment agreement",
                    "Owner",
                    "Ottoline Marrack",
                    "AG 2026-014",
                    "It stays the owner’s property",
                ),
                *(
                    "made by Aldous Fenwright",
                    "688 mm",
                    "27 1/16 in",
                    "over the arch",
                    "boxwood",
                    "Condition",
                ),
                *(
                    "Asking price",
                    "Commission",
                    "20%",
                    "Lowest net to owner",
                    "USD 8,500.00",
                    "Term and ending",
                ),
                *("3 Mar 2027", "Insurance", "USD 9,500.00", "Trials", "10 days", "Repairs", "USD 250.00"),
                *(
                    "Charges without a sale",
                    "USD 150.00",
                    "Worked example",
                    "12,000.00",
                    "−2,400.00",
                    "−180.00",
                ),
                *(
                    "Owner’s net",
                    "9,420.00",
                    "9-102(a)(20)",
                    "may be met",
                    "Signatures",
                    "signature date place",
                ),
            ),
        ),
        (
            "addendum",
            (
                "Addendum",
                "number 2",
                "AG 2026-014",
                "until now",
                "from 1 Jun 2026",
                "USD 12,000.00 USD 11,400.00",
            ),
        ),
        (
            "intake",
            (
                *("Receipt of intake", "TI 2026-031", "to sell", "closed crack", "canvas over plywood"),
                *("6 photographs", "USD 9,500.00", "passport, seen on 2 Mar 2026", "asked on 2 Mar 2026"),
                *("not a certified appraisal", "Brought by", "For the shop"),
            ),
        ),
        (
            "invoice",
            (
                *(
                    "Invoice",
                    "Ignatius Quill",
                    "No. 027",
                    "12,000.00 −750.00 11,250.00",
                    "Sum of the lines 11,250.00",
                ),
                *("8.25% of 11,250.00", "928.13", "Total with tax", "12,178.13", "Deposit", "−1,000.00"),
                *("not cleared yet", "−4,000.00", "Balance due", "7,178.13", "line by line", "owner’s agent"),
                *(
                    "27 Mar 2026",
                    "ask an accountant",
                ),
            ),
        ),
        (
            "credit_note",
            (
                "to the invoice SI 2026-009 of 20 Mar 2026",
                "Credited to the buyer 12,178.13",
                "−7,178.13",
                "−5,000.00",
            ),
        ),
        (
            "bill_of_sale",
            (
                "Bill of sale",
                "Ottoline Marrack",
                "Ignatius Quill",
                "USD 11,250.00",
                "passes the ownership",
                "as agent",
            ),
        ),
        (
            "payment_receipt",
            (
                "Receipt for payment",
                "USD 4,000.00",
                "not yet",
                "12,178.13",
                "−1,000.00",
                "−4,000.00",
                "7,178.13",
            ),
        ),
        (
            "refund_receipt",
            ("Receipt for refund", "USD 5,000.00", "1,000.00", "4,000.00", "5,000.00", "nothing is owed"),
        ),
        (
            "referral",
            (
                "to buyer and owner",
                "Hesper Lune",
                "5% of the price: USD 562.50",
                "USD 281.25",
                "Buyer",
                "Owner",
            ),
        ),
        (
            "account_sales",
            (
                *("Account sales", "statement of sale to the owner", "agreed with the buyer 11,250.00"),
                *("12,000.00 − price 11,250.00 750.00", "20% of 11,250.00 −2,250.00", "−180.00", "8,820.00"),
                *(
                    "−120.00",
                    "−4,000.00",
                    "Still to be paid to the owner 4,700.00",
                    "by 19 Apr 2026",
                    "USD 8,500.00",
                ),
            ),
        ),
        (
            "remittance",
            ("Payout remittance", "USD 8,700.00", "account ending 41", "8,820.00", "−120.00", "8,700.00"),
        ),
        (
            "charge_note",
            (
                "Charge for storage",
                "3 months at 20.00 60.00",
                "Charged to the owner’s account 60.00",
                "set off",
            ),
        ),
        (
            "loss_report",
            (
                *(
                    "Report of a loss",
                    "2 Jul 2026",
                    "TI 2026-031",
                    "A pipe burst",
                    "Harbour Mutual, claim 7-214",
                ),
                *(
                    "Agreed value",
                    "9,500.00",
                    "borne by the owner",
                    "−500.00",
                    "Held for the owner",
                    "9,000.00",
                ),
                *("The insurer keeps USD 500.00; the owner bears it", "Claimed of the insurer: USD 9,000.00"),
                *("By the agreement", "ask the insurer about the claim"),
            ),
        ),
        (
            "fee_note",
            (
                *(
                    "Note of a fee paid",
                    "Hesper Lune",
                    "USD 500.00",
                    "bank transfer",
                    "SI 2026-021",
                    "500.00",
                ),
                *("The shop still owes Hesper Lune USD 62.50", "owed back to the shop", "ask an accountant"),
            ),
        ),
        (
            "forfeit_note",
            (
                *(
                    "Note of a forfeited deposit",
                    "23 Jun 2026",
                    "PR 2026-018",
                    "12 Jun 2026",
                    "Not heard of again.",
                ),
                *(
                    "To the owner",
                    "50%",
                    "75.00",
                    "To the shop",
                    "25%",
                    "37.50",
                    "Back to the player",
                    "37.50",
                ),
                *("The deposit", "150.00", "has 50% and the shop 25%", "USD 37.50 goes back to"),
            ),
        ),
        (
            "release",
            (
                "Release to owner",
                "14 Sep 2026",
                "Comes with",
                "Still to be paid",
                "150.00",
                "no longer has them",
            ),
        ),
        (
            "handover_list",
            (
                *(
                    "Others’ property and money",
                    "Property",
                    "workshop, rack 2",
                    "unknown",
                    "10,425.00",
                    "Money",
                ),
                *(
                    *("Held for others together, debts not taken off 10,630.00", "−60.00"),
                    "Left, their own debts taken off 10,570.00",
                    "USD 31,250.40; that covers the USD 10,630.00 that belong to others",
                    "what one person owes the shop pays nobody else",
                ),
            ),
        ),
    ],
)
def test_an_ordinary_paper_says_its_parts_in_order(kind: str, parts: tuple[str, ...]) -> None:
    text = _says(kind, ORDINARY[kind])
    assert in_order(text, *parts), text


@pytest.mark.parametrize("kind", EMPTY)
def test_an_empty_paper_says_nothing_of_what_is_not_there(kind: str) -> None:
    text = _says(kind, EMPTY[kind])
    assert "None" not in text.replace("None The shop", "")
    assert "our number" not in text


def test_zero_is_a_dash_and_below_zero_has_a_true_minus_and_words() -> None:
    text = _says("account_sales", LONG["account_sales"])
    assert "Balance: the owner owes the shop −300.00" in text
    assert "The owner owes the shop USD 300.00." in text
    assert "Nothing is owed either way –" in _says("credit_note", ORDINARY["credit_note"])


def test_an_owner_who_owes_after_a_sale_is_told_so_at_the_net() -> None:
    facts = replace(
        ORDINARY["account_sales"],
        working=(
            WorkingLine(label="Price", how="", amount=usd("100.00")),
            WorkingLine(label="Costs", how="", amount=usd("-180.00")),
        ),
        owner_net=usd("-80.00"),
        set_offs=(),
        payouts=(),
        balance=usd("-80.00"),
    )
    assert "Owner’s net: the owner owes the shop −80.00" in _says("account_sales", facts)


def test_shares_of_heirs_add_up_to_the_net() -> None:
    text = _says("account_sales", LONG["account_sales"])
    assert in_order(
        text, "1/2 Ansgar Pell 4,410.00", "1/3 Brida Pell 2,940.00", "1/6", "1,470.00", "8,820.00"
    )


def test_amounts_and_days_follow_the_manners_of_the_shop() -> None:
    manners = Manners(language="de", decimal=",", group=".", day_pattern="dd.MM.y")
    facts = samples.ordinary(replace(samples.SHOP, manners=manners))["invoice"]
    text = _says("invoice", facts)
    assert "12.178,13" in text
    assert "20.03.2026" in text
    assert "8,25% of 11.250,00" in text


def test_the_margin_scheme_shows_no_tax() -> None:
    text = _says("invoice", LONG["invoice"])
    assert "Margin scheme, second-hand goods" in text
    assert "can’t be deducted" in text
    assert "Total with tax" not in text
    assert in_order(text, "Part-exchange: Treble viol", "−600.00", "Balance: the shop owes the buyer −180.00")


def test_an_exemption_says_its_reason() -> None:
    text = _says("credit_note", LONG["credit_note"])
    assert in_order(text, "Sales tax, exempt –", "Exempt: sold to a school, certificate 12 seen.")


def test_tax_on_the_invoice_says_its_basis() -> None:
    # Streamlined Sales and Use Tax Agreement, section 324: the seller chooses item or invoice; the paper says which.
    tax = replace(ORDINARY["invoice"].tax, basis="invoice")
    assert "reckoned once, on the sum" in _says("invoice", replace(ORDINARY["invoice"], tax=tax))


def test_a_line_with_its_own_tax_says_it() -> None:
    line = replace(ORDINARY["invoice"].lines[0], tax=usd("928.13"))
    assert "tax on this line 928.13" in _says("invoice", replace(ORDINARY["invoice"], lines=(line,)))


def test_a_tax_without_a_rate_still_has_its_row() -> None:
    tax = TaxFacts(scheme="sales_tax", amount=usd("928.13"))
    assert "Sales tax 928.13" in _says("invoice", replace(ORDINARY["invoice"], tax=tax))


@pytest.mark.parametrize(
    ("facts", "says"),
    [
        (CautionFacts(filing="may_be_met"), "may be met here"),
        (CautionFacts(filing="not_met"), "do not seem to be met"),
        (CautionFacts(makers_own_work=True), "held in trust"),
        (CautionFacts(materials=("Rosewood: see the list of 2026.",)), "What is unknown is not thereby free"),
        (CautionFacts(further=("Mind the dog.",)), "Mind the dog."),
        (CautionFacts(), "ask a lawyer"),
    ],
)
def test_cautions_follow_the_facts(facts: CautionFacts, says: str) -> None:
    assert says in _says("agreement", replace(ORDINARY["agreement"], cautions=facts))


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"of": "commission", "fee": None}, "The fee is 5% of the shop’s commission."),
        ({"of": "fixed", "rate": None, "fee": usd("250.00")}, "The fee is USD 250.00."),
        ({"of": "fixed", "rate": None, "fee": None}, "The fee is not agreed yet."),
        ({"borne_by": "shop"}, "The shop bears it out of its commission."),
        ({"borne_by": "owner"}, "it comes off the owner’s net"),
        ({}, "half each, an odd cent the shop"),
        ({"told_owner_on": date(2026, 3, 2)}, "Told to the owner on 2 Mar 2026."),
    ],
)
def test_a_referral_says_fee_bearer_and_who_was_told(changes: dict[str, Any], says: str) -> None:
    changes = {"working": (), "shop_part": None, **changes}
    assert says in _says("referral", replace(ORDINARY["referral"], **changes))


def test_a_fee_of_several_steps_shows_them() -> None:
    working = (
        WorkingLine(label="Commission", how="20% of 11,250.00", amount=usd("2250.00"), counts=False),
        WorkingLine(label="Fee", how="25% of it", amount=usd("562.50")),
    )
    text = _says("referral", replace(ORDINARY["referral"], working=working))
    assert in_order(text, "How the fee is reckoned", "2,250.00", "562.50", "Fee 562.50")


@pytest.mark.parametrize(
    ("insured_by", "says"),
    [("shop", "The shop insures it"), ("owner", "The owner insures it"), ("nobody", "It is not insured")],
)
def test_an_intake_says_who_insures(insured_by: str, says: str) -> None:
    assert says in _says("intake", replace(ORDINARY["intake"], insured_by=insured_by))


@pytest.mark.parametrize(
    ("no_liens", "says"),
    [(True, "nobody else has a claim"), (False, "see notes"), (None, "Claims of others not asked")],
)
def test_an_intake_says_what_is_known_of_claims(no_liens: bool | None, says: str) -> None:
    title = replace(ORDINARY["intake"].title, no_liens=no_liens)
    assert says in _says("intake", replace(ORDINARY["intake"], title=title))


@pytest.mark.parametrize(
    ("balance", "says"),
    [
        ("0.00", "The shop holds nothing for the owner"),
        ("12.00", "The shop holds USD 12.00 for the owner."),
        ("-12.00", "The owner owes the shop USD 12.00."),
    ],
)
def test_a_remittance_says_what_is_still_held(balance: str, says: str) -> None:
    assert says in _says("remittance", replace(ORDINARY["remittance"], still_held=usd(balance)))


@pytest.mark.parametrize(
    ("balance", "before", "says"),
    [("0.00", "8178.13", "Balance: paid in full"), ("-1.00", "8179.13", "the shop owes the buyer")],
)
def test_a_receipt_says_where_the_invoice_stands(balance: str, before: str, says: str) -> None:
    facts = replace(ORDINARY["payment_receipt"], balance=usd(balance), paid_before=usd(before), deposit=True)
    text = _says("payment_receipt", facts)
    assert "Receipt for a deposit" in text
    assert says in text


def test_an_invoice_paid_in_full_says_so() -> None:
    line = replace(ORDINARY["invoice"].payments[0], amount=usd("12178.13"))
    facts = replace(ORDINARY["invoice"], payments=(line,), balance=usd("0.00"))
    assert "Balance: paid in full –" in _says("invoice", facts)


def test_an_invoice_can_be_held_and_sent() -> None:
    facts = replace(ORDINARY["invoice"], hold_until=date(2026, 4, 1), ship_to=OWNER, shipping="By carrier.")
    text = _says("invoice", facts)
    assert in_order(text, "Goes to", "Ottoline Marrack", "Held until", "1 Apr 2026")
    assert "By carrier." in text


def test_a_charge_note_to_the_owners_credit_says_so() -> None:
    text = _says("charge_note", LONG["charge_note"])
    assert in_order(
        text, "Held for the owner after a loss", "−9,500.00", "500.00", "To the owner’s credit −9,000.00"
    )


def test_a_loss_of_several_owners_says_each_ones_part_and_who_bears_the_excess() -> None:
    text = _says("loss_report", LONG["loss_report"])
    assert in_order(
        text, "How the owners share it", "Held for the owners together 9,500.00", "the shop bears it"
    )
    bare = _says("loss_report", EMPTY["loss_report"])
    assert in_order(bare, "Nobody is on record as told", "not known to keep anything")


def test_a_deposit_of_which_nothing_goes_back_says_so() -> None:
    assert "Nothing of it goes back." in _says("forfeit_note", EMPTY["forfeit_note"])
    assert "With this no fee is owed any more." in _says("fee_note", EMPTY["fee_note"])


def test_a_charge_that_is_not_set_off_says_so() -> None:
    assert "nothing is set off" in _says("charge_note", replace(ORDINARY["charge_note"], set_off=False))


@pytest.mark.parametrize(
    ("act", "says"),
    [
        ("change", "Addendum"),
        ("renewal", "renewal"),
        ("end", "end of the agreement"),
        ("owner", "change of owner"),
    ],
)
def test_an_addendum_says_what_it_does(act: str, says: str) -> None:
    assert says in _says("addendum", replace(ORDINARY["addendum"], act=act))


def test_a_signed_agreement_says_when() -> None:
    assert "Signed on paper on 5 Mar 2026." in _says("agreement", LONG["agreement"])
    assert "Signed on paper" not in _says("agreement", ORDINARY["agreement"])


def test_each_owner_signs_a_bill_of_sale_where_owners_sign() -> None:
    text = _says("bill_of_sale", LONG["bill_of_sale"])
    assert text.count("signature date place") == 4
    assert in_order(text, "3 people, named below", "Sellers", "Ansgar Pell", "Corwin Pell-Østergaard")


def test_the_shops_own_instrument_is_sold_by_the_shop() -> None:
    text = _says("bill_of_sale", replace(ORDINARY["bill_of_sale"], own=True))
    assert in_order(text, "Seller", "Aldous Fenwright, Instruments", "Buyer", "Ignatius Quill")
    assert "as agent" not in text


def test_two_owners_stand_in_the_grid_with_their_shares() -> None:
    owners = (
        OwnerFacts(party=OWNER, share=Fraction(1, 2)),
        OwnerFacts(party=replace(OWNER, name="Ansgar Pell"), share=Fraction(1, 2)),
    )
    text = _says("account_sales", replace(ORDINARY["account_sales"], owners=owners))
    assert in_order(
        text, "Owners", "Ottoline Marrack", "share 1/2", "Ansgar Pell", "share 1/2", "How the net"
    )


def test_a_list_says_when_the_bank_falls_short() -> None:
    # 10,630.00 are due or waiting; the 60.00 that one person owes don't lessen what belongs to the others.
    text = _says("handover_list", replace(ORDINARY["handover_list"], bank=usd("10000.00")))
    assert "that is USD 630.00 less than the USD 10,630.00 that belong to others" in text
    assert "Is it covered" not in _says("handover_list", replace(ORDINARY["handover_list"], bank=None))


def test_a_list_on_which_nobody_owes_needs_one_sum() -> None:
    facts = ORDINARY["handover_list"]
    money = tuple(line for line in facts.money if not line.owes)
    held = sum((line.held for line in money), usd("0"))
    text = _says("handover_list", replace(facts, money=money, held_total=held))
    assert "Held for others together 10,220.00" in text
    assert "debts" not in text.lower()


def test_a_release_by_carrier_says_by_whom() -> None:
    assert "Sent by Harbour Carriers." in _says("release", LONG["release"])


def _more(name: str) -> Callable[[Any], Any]:
    """Give a change that makes one amount a cent too much."""
    return lambda facts: replace(facts, **{name: getattr(facts, name) + usd("0.01")})


@pytest.mark.parametrize(
    ("kind", "spoil"),
    [
        ("agreement", _more("example_net")),
        ("addendum", _more("example_net")),
        ("invoice", _more("total")),
        ("invoice", _more("balance")),
        ("invoice", lambda facts: replace(facts, lines=(replace(facts.lines[0], discount=usd("0")),))),
        (
            "invoice",
            lambda facts: replace(facts, lines=(), tax=TaxFacts(), total=usd("0"), balance=usd("-5000.00")),
        ),
        ("credit_note", _more("total")),
        ("credit_note", _more("balance")),
        ("payment_receipt", _more("amount")),
        ("payment_receipt", _more("balance")),
        ("refund_receipt", _more("amount")),
        ("referral", _more("owner_part")),
        ("account_sales", _more("owner_net")),
        ("account_sales", _more("balance")),
        ("account_sales", lambda facts: replace(facts, shares=LONG["account_sales"].shares[:2])),
        ("remittance", _more("amount")),
        ("charge_note", _more("total")),
        ("loss_report", _more("held")),
        ("loss_report", _more("claimed")),
        ("loss_report", lambda facts: replace(facts, shares=LONG["loss_report"].shares[:2])),
        ("fee_note", _more("amount")),
        ("forfeit_note", _more("deposit")),
        ("release", _more("open_total")),
        ("handover_list", _more("value_total")),
        ("handover_list", _more("held_total")),
        (
            "handover_list",
            lambda facts: replace(
                facts,
                money=(replace(facts.money[0], due=facts.money[0].due + usd("1")), *facts.money[1:]),
            ),
        ),
    ],
)
def test_a_paper_whose_figures_do_not_add_up_is_never_printed(kind: str, spoil: Callable[[Any], Any]) -> None:
    with pytest.raises(Bug, match=r"add up|has no line"):
        render(kind, spoil(ORDINARY[kind]))
