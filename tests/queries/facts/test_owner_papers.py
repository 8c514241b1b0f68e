"""What owners are given: intake, agreement, addendum, account sales, remittance, charge, release, read back in full."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest
from sqlalchemy import select

from shopledger.model import LineOwner, Loss, Payout, SaleLine, Settlement, SettlementShare
from shopledger.papers.facts import digest
from shopledger.papers.parts import LabelledFacts
from shopledger.papers.rendering import render
from shopledger.quantities.errors import NotFound
from shopledger.queries.facts.account_sales import account_sales_facts
from shopledger.queries.facts.addendum import ending_facts
from shopledger.queries.facts.fee_note import fee_note_facts
from shopledger.queries.facts.loss_report import loss_report_facts
from tests.papers.reading_back import in_order, text_of
from tests.queries.facts.story import BACK, PAID, TAKEN_IN, Told, usd


def test_the_receipt_of_intake_states_the_thing_as_it_came(told: Told) -> None:
    facts = told.papers("intake")[0]
    assert [measure.label for measure in facts.instrument.measurements] == [
        "body length",
        "vibrating string length",
        "ribs at the upper block, bass side",
        "ribs at the upper block, treble side",
    ]
    body, string = facts.instrument.measurements[:2]
    # 1 in = 25.4 mm exactly (international inch of 1959): 29.5 in are 749.3 mm; 690.5 mm are nearest to 27 3/16 in.
    assert (body.typed, body.other, body.method) == ('29 1/2"', "749.3 mm", "over the arch, button out")
    assert (string.typed, string.other) == ("690.5 mm", "\u2248 27 3/16 in")
    assert [fitting.label for fitting in facts.instrument.fittings] == ["pegs", "tailpiece"]
    assert facts.instrument.condition == (
        LabelledFacts(label="Top", words="two healed cracks"),
        LabelledFacts(label="", words="well kept"),
    )
    assert facts.instrument.comes_with == ("hard case", "bow")
    assert facts.brought_by.name == "Marit Ostby"
    assert [(owner.party.name, owner.share) for owner in facts.owners] == [
        ("Marit Ostby", Fraction(1, 3)),
        ("Ines Ostby", Fraction(2, 3)),
    ]
    assert (facts.title.register, facts.title.register_says) == ("Stolen list", "nothing found")
    text = text_of(told.file_of(facts.number))
    assert in_order(
        text, "attributed to Orla Ostby, about 1890", "Orla Ostby / Saltmere 1891", "690.5 mm", "passport"
    )


def test_the_agreement_works_an_example_at_the_asking_price(told: Told) -> None:
    facts = told.papers("agreement")[0]
    # Consignment statements take the commission off the price: 20% of 12,000.00 (reckoning of the program, by hand).
    assert [(line.label, line.amount) for line in facts.example] == [
        ("Price", usd("12000.00")),
        ("Commission", usd("-2400.00")),
    ]
    assert facts.example_net == usd("9600.00")
    assert (facts.terms.floor, facts.terms.set_off) == (usd("8500.00"), True)
    assert [(charge.what, charge.amount) for charge in facts.terms.charges] == [("valuation", usd("25.00"))]
    assert facts.signed_on == TAKEN_IN
    assert facts.cautions.filing == "may_be_met"
    assert not facts.cautions.makers_own_work
    text = text_of(told.file_of(facts.number))
    assert in_order(text, "20% of the price", "8,500.00", "12,000.00", "2,400.00", "9,600.00", "9-102(a)(20)")


# UCC 9-102(a)(20): valued per delivery; an amateur's own instrument is consumer goods.
def test_cautions_go_by_the_delivery_and_the_use(told: Told) -> None:
    _cello, bow, gamba = told.papers("agreement")
    # The bow of 600 and the viola of 400 came on one day from one owner.
    assert bow.cautions.filing == "may_be_met"
    assert gamba.cautions.filing == "not_met"
    assert gamba.signed_on is None


def test_the_addendum_names_what_changed_and_nothing_else(told: Told) -> None:
    (facts,) = told.papers("addendum")
    assert [(line.what, line.before, line.after) for line in facts.changes] == [
        ("Commission at least", "", "US$1,000.00"),
        ("The owner is paid \u2026 within", "30 days", "14 days"),
    ]
    assert (facts.nth, facts.act, facts.new_owners) == (1, "change", ())
    assert facts.example_net == usd("9600.00")
    assert in_order(text_of(told.file_of(facts.number)), "What changes", "30 days", "14 days", "9,600.00")


def test_account_sales_shows_each_owner_the_whole_and_their_part(told: Told) -> None:
    marit, ines, lost = told.papers("account_sales")
    assert [owner.party.name for owner in lost.owners] == ["Jon Aakre"]
    # The example of the reckoning itself: 11,250.00 at 20% with a cost of 180.00 leaves 8,820.00.
    assert [(line.label, line.amount) for line in marit.working if line.counts] == [
        ("Price", usd("11250.00")),
        ("Commission", usd("-2250.00")),
        ("Owner's costs", usd("-180.00")),
        ("The other owners\u2019 parts", usd("-5880.00")),
    ]
    # Largest remainder: 1/3 and 2/3 of 8,820.00 need no rounding.
    assert (marit.owner_net, ines.owner_net) == (usd("2940.00"), usd("5880.00"))
    # A valuation of 25.00 was charged by shares, 8.33 and 16.67, and is set off where the agreement says so.
    assert [line.amount for line in marit.set_offs] == [usd("8.33")]
    assert [line.amount for line in ines.set_offs] == [usd("16.67")]
    assert (marit.balance, ines.balance) == (usd("2931.67"), usd("5863.33"))
    assert marit.due_on == date(2026, 4, 3)
    text = text_of(told.file_of(marit.number))
    assert in_order(
        text, "11,250.00", "\u22122,250.00", "\u2212180.00", "\u22125,880.00", "2,940.00", "2,931.67"
    )
    assert "Klara Veen has US$562.50" in text
    assert "928.13" in text


def test_account_sales_of_several_owners_together_shares_the_net(told: Told) -> None:
    with told.ledger.read() as reading:
        facts = account_sales_facts(reading, 1, None, "AS 1", BACK)
        nets = reading.session.scalars(select(LineOwner.net).order_by(LineOwner.n)).all()
        line = reading.session.get_one(SaleLine, 1)
    assert [share.amount.minor for share in facts.shares] == list(nets)
    assert sum(nets) == line.owner_net == facts.owner_net.minor
    # Later, what was paid out since stands there too.
    assert [line.amount for line in facts.payouts] == [usd("1000.00")]
    assert facts.balance == usd("7795.00")
    assert b"%PDF" in render("account_sales", facts)


def test_a_loss_is_accounted_for_by_its_agreed_value(told: Told) -> None:
    with told.ledger.read() as reading:
        loss = reading.session.scalars(select(Loss)).one()
        settlement = reading.session.scalars(select(Settlement).where(Settlement.loss_id == loss.id)).one()
        facts = account_sales_facts(reading, settlement.id, told.ids["Jon Aakre"], "AS 2", BACK)
    assert [(line.label, line.amount) for line in facts.working] == [
        ("Agreed value", usd("600.00")),
        ("Excess", usd("-100.00")),
    ]
    assert facts.owner_net.minor == loss.owner_net == 500_00
    assert facts.balance == usd("0.00")
    assert "Stolen from a locked car." in facts.notes[0]
    assert "500.00" in text_of(render("account_sales", facts))


def test_a_loss_is_reported_as_it_will_be_accounted_for(told: Told) -> None:
    (facts,) = told.papers("loss_report")
    assert [(line.label, line.amount) for line in facts.working] == [
        ("Agreed value", usd("600.00")),
        ("Excess", usd("-100.00")),
    ]
    assert (facts.held, facts.claimed, facts.excess_borne_by) == (usd("500.00"), usd("500.00"), "owner")
    assert [owner.party.name for owner in facts.owners] == ["Jon Aakre"]
    assert in_order(
        text_of(told.file_of(facts.number)), "Stolen from a locked car.", "500.00", "the owner bears it"
    )
    with told.ledger.read() as reading, pytest.raises(NotFound, match="no loss 99"):
        loss_report_facts(reading, 99, "LD 9", BACK)


def test_a_fee_and_a_forfeited_deposit_are_noted(told: Told) -> None:
    (fee,) = told.papers("fee_note")
    # 5 % of 11,250.00.
    assert [line.amount for line in fee.lines] == [usd("562.50")]
    assert fee.still_owed == usd("0.00")
    assert in_order(text_of(told.file_of(fee.number)), "Klara Veen", "562.50", "no fee is owed any more")
    (forfeited,) = told.papers("forfeit_note")
    assert (forfeited.deposit, forfeited.goes_back) == (usd("50.00"), usd("0.00"))
    assert in_order(text_of(told.file_of(forfeited.number)), "stayed away", "To the shop", "50.00")
    with told.ledger.read() as reading, pytest.raises(NotFound, match="no payment of a fee 99"):
        fee_note_facts(reading, 99, "FP 9", BACK)


def test_an_unknown_settlement_is_refused_in_words(told: Told) -> None:
    with told.ledger.read() as reading, pytest.raises(NotFound, match="no settlement 99"):
        account_sales_facts(reading, 99, None, "AS 3", BACK)


def test_the_remittance_adds_up_from_the_settlement_to_the_payout(told: Told) -> None:
    marit, jon = told.papers("remittance")
    assert [line.amount for line in marit.lines] == [
        usd("2940.00"),
        usd("-8.33"),
        usd("-1931.67"),
    ]
    with told.ledger.read() as reading:
        paid = reading.session.scalars(select(Payout.minor).order_by(Payout.id)).all()
        shares = reading.session.scalars(select(SettlementShare).order_by(SettlementShare.id)).all()
    assert [marit.amount.minor, jon.amount.minor] == list(paid)
    assert marit.still_held.minor == shares[0].minor - shares[0].set_off - paid[0]
    assert in_order(text_of(told.file_of(marit.number)), "2,940.00", "\u22128.33", "1,000.00", "1,931.67")
    assert jon.still_held == usd("0.00")


def test_a_charge_quotes_the_term_that_allows_it(told: Told) -> None:
    notes = told.papers("charge_note")
    assert [(note.act, note.total) for note in notes] == [
        ("valuation", usd("8.33")),
        ("valuation", usd("16.67")),
        ("withdrawal", usd("75.00")),
    ]
    assert notes[0].by_words == "Charge for a valuation: US$25.00."
    assert notes[2].balance_after == usd("-75.00")
    assert in_order(text_of(told.file_of(notes[2].number)), "Charge for withdrawal", "owes the shop US$75.00")


def test_a_release_states_condition_and_what_is_unpaid(told: Told) -> None:
    bought, home = told.papers("release")
    assert (bought.to.name, bought.agreement_number, bought.handed_over_on) == ("Tobias Renn", "", PAID)
    assert home.to.number == home.owners[0].party.number
    assert home.instrument.condition == (LabelledFacts(label="sound", words="as it came"),)
    assert home.instrument.condition_on == BACK
    assert [(line.what, line.amount) for line in home.open_charges] == [
        ("withdrawal, AG 2026-003", usd("75.00"))
    ]
    assert home.open_total == usd("75.00")
    assert "He plays it himself again." in home.reason
    assert "75.00" in text_of(told.file_of(home.number))


def test_the_end_of_an_agreement_can_be_stated(told: Told) -> None:
    with told.ledger.read() as reading:
        facts = ending_facts(reading, 3, "AG 2026-003/2", BACK)
    assert (facts.act, facts.effective_on, facts.nth) == ("end", BACK, 1)
    assert (facts.changes[0].before, facts.changes[0].after) == ("31 Dec 2026", "1 Apr 2026")
    assert "withdrawn by the owner" in text_of(render("addendum", facts))


def test_the_same_ledger_gives_the_same_facts(told: Told) -> None:
    with told.ledger.read() as reading:
        one = account_sales_facts(reading, 1, None, "AS 1", BACK)
        two = account_sales_facts(reading, 1, None, "AS 1", BACK)
    assert digest(one) == digest(two)
