"""The example's twelve sales, each told from the counter to the last payment, or to where it stands now."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from shopledger.acts.selling_forms import CostRow, PartExchangeRow, SellLine
from shopledger.example.telling import Teller, Thread, day, eur

SALES_TAX = Fraction(8, 100)


def _sell(teller: Teller, name: str, buyer: str, *lines: SellLine, **more: Any) -> int:
    inputs = {"tax_scheme": "sales_tax", "tax_rate": SALES_TAX, **more}
    sale = teller.do("sell", buyer_id=teller.who(buyer), lines=lines, **inputs).id
    teller.sales[name] = sale
    return sale


def _line(teller: Teller, thing: str, price: str = "", kind: str = "consigned") -> SellLine:
    return SellLine(kind=kind, instrument_id=teller.things[thing], price=eur(price) if price else None)


def _goods(kind: str, what: str, price: str, quantity: int = 1) -> SellLine:
    return SellLine(kind=kind, what=what, price=eur(price), quantity=quantity)


def with_every_figure(teller: Teller) -> Thread:
    """A cello of the shop's own make, with a discount, a new bridge and a referral that both sides know of."""
    yield day("2025-02-18")
    sale = _sell(
        teller, "figures", "tam", _line(teller, "tidewell", "22500.00"),
        costs=(CostRow(what="new bridge", amount=eur("180.00"), spent=True),),
        referrer_id=teller.who("ida"), referral_rate=Fraction(2, 100),
        told_buyer_on=day("2025-02-11"), told_owner_on=day("2025-02-12"),
    )  # fmt: skip
    teller.pay(sale, "10000.00", cleared=False)
    yield day("2025-02-21")
    teller.do("clear_payments", sale_id=sale)
    yield day("2025-03-04")
    teller.pay(sale)
    teller.do("settle", sale_id=sale)
    teller.do("hand_over", instrument_id=teller.things["tidewell"], handed_to="Tam Brinegard",
              condition_out="As sold, with its case.")  # fmt: skip
    yield day("2025-03-18")
    teller.pay_owner("orla", reference="the Tidewell cello")
    teller.do("pay_fee", person_id=teller.who("ida"), amount=eur("450.00"))
    yield day("2025-04-08")
    teller.do(
        "move_own_money",
        kind="sale_costs",
        amount=eur("180.00"),
        words="bridge blank and work, the Tidewell cello",
    )


def in_instalments(teller: Teller) -> Thread:
    """A student pays a piccolo cello month by month; one cheque comes back; its owner is paid as money clears."""
    yield day("2026-04-21")
    cello = teller.things["wenna-picc"]
    sale = _sell(teller, "instalments", "silvan", _line(teller, "wenna-picc", "10000.00"))
    teller.pay(sale, "2800.00")
    teller.do("settle", sale_id=sale)
    teller.do("hand_over", instrument_id=cello, handed_to="Silvan Rookley", unpaid=True)
    yield day("2026-05-05")
    teller.pay_owner("wenna", reference="first instalment")
    teller.pay(sale, "2000.00", method="cheque", reference="cheque 118", cleared=False)
    yield day("2026-05-08")
    teller.do("clear_payments", sale_id=sale)
    yield day("2026-05-15")
    teller.do("bounce_payment", sale_id=sale, number=teller.last_receipt(sale))
    yield day("2026-06-05")
    teller.pay(sale, "2000.00", reference="in place of cheque 118")
    teller.do("settle", sale_id=sale)
    yield day("2026-06-19")
    teller.pay_owner("wenna", "1000.00", reference="second instalment, in part")
    yield day("2026-11-05")
    teller.pay(sale, "2000.00", cleared=False)


def of_three_heirs(teller: Teller) -> Thread:
    """A viol of three heirs: one is paid in full, one in part, one with what comes later."""
    yield day("2025-06-24")
    sale = _sell(teller, "heirs", "maeve", _line(teller, "fenwraith", "17250.01"))
    teller.pay(sale)
    yield day("2025-06-26")
    teller.do("settle", sale_id=sale)
    teller.do("hand_over", instrument_id=teller.things["fenwraith"], handed_to="Maeve Sandrift")
    yield day("2025-07-10")
    teller.pay_owner("adaline", reference="half of the viol")
    teller.pay_owner("bastian", "2000.00", reference="a quarter, in part")


def two_owners(teller: Teller) -> Thread:
    """A viola and a bow of two owners go under one price."""
    yield day("2025-09-23")
    sale = _sell(
        teller, "two_owners", "ambrose", _line(teller, "lanyard-viola"), _line(teller, "viola-bow"),
        price_in_all=eur("11800.00"),
    )  # fmt: skip
    teller.pay(sale, method="card")
    teller.do("settle", sale_id=sale)
    for thing in ("lanyard-viola", "viola-bow"):
        teller.do("hand_over", instrument_id=teller.things[thing], handed_to="Ambrose Keel")
    yield day("2025-10-07")
    teller.pay_owner("perpetua", reference="viola")
    teller.pay_owner("ida", reference="bow")


def the_shops_own(teller: Teller) -> Thread:
    """A cello of the shop's own, bought back years ago, goes at more than it cost."""
    yield day("2025-11-25")
    sale = _sell(teller, "own", "mirabel", _line(teller, "quay", "15000.00", "own"))
    teller.pay(sale)
    teller.do("hand_over", instrument_id=teller.things["quay"], handed_to="Mirabel Tern")


def with_goods(teller: Teller) -> Thread:
    """A treble viol under a promised net, with a case and freight on the same invoice."""
    yield day("2025-08-26")
    sale = _sell(
        teller, "goods", "linnet", _line(teller, "treble", "5100.00"),
        _goods("accessory", "Rosin for gut strings", "24.00", 2),
        _goods("accessory", "Case for a treble viol", "310.00"),
        _goods("freight", "Carrier, insured, to Wrackport", "65.00"),
        note="The case follows from its maker within a week.",
    )  # fmt: skip
    teller.pay(sale)
    yield day("2025-09-02")
    teller.do("settle", sale_id=sale)
    teller.do("hand_over", instrument_id=teller.things["treble"], handed_to="the carrier, for Linnet Shoal")
    teller.pay_owner("corin", "4200.00", reference="on account: treble viol, and a quarter")


def with_part_exchange(teller: Teller) -> Thread:
    """A violin against another and money; the shop bears the discount."""
    yield day("2026-01-27")
    sale = _sell(
        teller, "part_exchange", "dunstan", _line(teller, "nerys-violin", "8200.00"),
        part_exchange=(PartExchangeRow(kind="violin", description="Violin labelled Penhale 1968, 4/4, with case",
                                       allowance=eur("4800.00")),),
    )  # fmt: skip
    teller.pay(sale)
    yield day("2026-01-30")
    teller.do("clear_payments", sale_id=sale)
    teller.do("settle", sale_id=sale)
    teller.do("hand_over", instrument_id=teller.things["nerys-violin"], handed_to="Dunstan Wick")
    yield day("2026-02-10")
    teller.pay_owner("nerys", reference="violin")


def from_a_hold(teller: Teller) -> Thread:
    """A bass viol held with a deposit, then bought; storage that its owner owed is set off."""
    yield day("2025-12-16")
    viol = teller.things["tides"]
    teller.do("hold", instrument_id=viol, person_id=teller.who("hester"), until=day("2026-01-16"),
              deposit=eur("1000.00"), cleared=True)  # fmt: skip
    teller.do("charge_owner", instrument_id=viol, kind="storage", months=9)
    yield day("2026-01-12")
    sale = _sell(teller, "hold", "hester", _line(teller, "tides", "13000.00"))
    teller.pay(sale)
    teller.do("settle", sale_id=sale)
    teller.do("hand_over", instrument_id=viol, handed_to="Hester Bight")
    yield day("2026-02-03")
    teller.pay_owner("jonas", reference="bass viol, storage set off")


def to_the_school(teller: Teller) -> Thread:
    """The school buys a cello without tax; a flaw comes to light, the price is reduced, and some goes back."""
    yield day("2026-03-17")
    sale = _sell(
        teller, "exempt", "school", _line(teller, "school-cello", "12400.00"),
        exempt=True, exempt_reason="School, certificate 44-1029",
    )  # fmt: skip
    teller.pay(sale)
    yield day("2026-03-31")
    teller.do("reduce_price", sale_id=sale, price=eur("12000.00"), why="A worm track under the endpin block.")
    teller.do("give_back", sale_id=sale, amount=eur("400.00"))
    teller.do("settle", sale_id=sale)
    teller.do("hand_over", instrument_id=teller.things["school-cello"], handed_to="Saltmere School of Music")
    yield day("2026-04-28")
    teller.pay_owner("mirabel", reference="cello, price reduced")


def below_the_floor(teller: Teller) -> Thread:
    """A bow brings less than its owner's lowest net; the shop makes it up from its commission."""
    yield day("2025-12-02")
    sale = _sell(teller, "made_up", "radek", _line(teller, "sea-bow", "4700.00"), make_up=True)
    teller.pay(sale, method="cash")
    teller.do("settle", sale_id=sale)
    teller.do("hand_over", instrument_id=teller.things["sea-bow"], handed_to="Radek Morrow")


def that_came_back(teller: Teller) -> Thread:
    """A cello comes back within its approval time: everything is reversed to the cent, the adjusting stays."""
    yield day("2026-05-05")
    cello = teller.things["spar"]
    sale = _sell(
        teller, "returned", "celestine", _line(teller, "spar", "33000.00"),
        costs=(CostRow(what="new strings and adjusting", amount=eur("240.00"), spent=True),),
    )  # fmt: skip
    teller.pay(sale)
    teller.do("hand_over", instrument_id=cello, handed_to="Célestine Oar")
    yield day("2026-05-13")
    teller.do("take_back", sale_id=sale, why="A wolf on F that she can’t live with.")
    teller.do("give_back", sale_id=sale, amount=eur("35640.00"))


def of_this_month(teller: Teller) -> Thread:
    """A viola through a second dealer, part of it paid and on its way; the buyer may still return it."""
    yield day("2026-11-12")
    sale = _sell(
        teller, "recent", "isolde", _line(teller, "keel-viola", "9000.00"),
        dealer_id=teller.who("dealer"), dealer_rate=Fraction(3, 10),
    )  # fmt: skip
    teller.pay(sale, "5000.00")
    yield day("2026-11-19")
    teller.pay(sale, "2000.00", method="cheque", reference="cheque 502", cleared=False)


def the_shops_money(teller: Teller) -> Thread:
    """The maker's own money: a beginning, tax handed on, something to live on."""
    yield day("2024-11-16")
    teller.do("move_own_money", kind="put_in", amount=eur("6000.00"), words="to begin with")
    yield day("2025-07-15")
    teller.do(
        "move_own_money", kind="sales_tax", amount=eur("3180.00"), words="sales tax, first half of 2025"
    )
    yield day("2025-12-30")
    teller.do("move_own_money", kind="take_out", amount=eur("6500.00"), words="to live on")
    yield day("2026-01-19")
    teller.do(
        "move_own_money", kind="sales_tax", amount=eur("2960.00"), words="sales tax, second half of 2025"
    )
    yield day("2026-11-02")
    teller.do("note_copy", where_kept="a disk in the harbour bank's box")
    yield day("2026-11-23")
    teller.do("list_others")
    teller.do("print_custody_list", as_of=teller.clock.today)


THREADS = (
    the_shops_money, with_every_figure, in_instalments, of_three_heirs, two_owners, the_shops_own, with_goods,
    with_part_exchange, from_a_hold, to_the_school, below_the_floor, that_came_back, of_this_month,
)  # fmt: skip
