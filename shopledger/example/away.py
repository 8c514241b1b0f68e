"""The example's placings with another dealer, one sold, one back, one over; a valuation, and damage."""

from __future__ import annotations

from fractions import Fraction

from shopledger.acts.shipping_ready import SendRow
from shopledger.example.telling import Teller, Thread, day, eur


def with_another_dealer(teller: Teller) -> Thread:
    """A violin of the shop's own is at the dealer's in Wrackport, for longer than first agreed, and comes back."""
    yield day("2026-04-14")
    violin, dealer = teller.things["small-violin"], teller.who("dealer")
    teller.do(
        "place_with_dealer",
        instrument_id=violin,
        placing={"dealer_id": dealer, "until": day("2026-06-30"), "value": eur("900.00"),
                 "dealer_rate": Fraction(1, 4), "terms": "In the window, out of the sun."},
    )  # fmt: skip
    yield day("2026-06-29")
    teller.do("extend_placing", instrument_id=violin, until=day("2026-09-30"))
    yield day("2026-10-02")
    teller.do("placing_back", instrument_id=violin, words="By the dealer's van; unsold.")


def sold_by_the_dealer(teller: Teller) -> Thread:
    """A viola whose owner allows another dealer is sent there, and is sold through that dealer in November."""
    yield day("2026-10-01")
    teller.do(
        "place_with_dealer",
        instrument_id=teller.things["keel-viola"],
        placing={"dealer_id": teller.who("dealer"), "until": day("2026-11-30"), "value": eur("9000.00"),
                 "asking": eur("9200.00"), "dealer_rate": Fraction(3, 10)},
    )  # fmt: skip
    teller.do(
        "send",
        shipment={"why": "dealer", "to_id": teller.who("dealer"), "carrier": "Harbour Van Lines",
                  "tracking": "HV 2207-41", "insured_for": eur("9000.00")},
        lines=(SendRow(instrument_id=teller.things["keel-viola"], value=eur("9000.00")),),
    )  # fmt: skip
    yield day("2026-10-03")
    teller.do("arrived", instrument_id=teller.things["keel-viola"], how="Case dry, seals whole.")


def still_there(teller: Teller) -> Thread:
    """A viola of the shop's own is still at the dealer's though its day has passed."""
    yield day("2026-08-18")
    teller.do(
        "place_with_dealer",
        instrument_id=teller.things["own-viola"],
        placing={"dealer_id": teller.who("dealer"), "until": day("2026-11-20"), "value": eur("4200.00"),
                 "dealer_rate": Fraction(1, 4), "insured_by": "shop", "risk": "shop"},
    )  # fmt: skip


def valued_and_damaged(teller: Teller) -> Thread:
    """A cello on offer is valued for its owner's insurer; a violin is scratched in the shop, and the insurer pays."""
    yield day("2026-05-19")
    teller.do(
        "record_valuation",
        instrument_id=teller.things["spar"],
        valuation={"value": eur("30000.00"), "purpose": "insurance", "valued_by": "Elias Merrow",
                   "valued_on": day("2026-05-18"), "for_id": teller.who("celestine"),
                   "basis": "What one of like quality would cost from the trade; seen and played on the bench."},
    )  # fmt: skip
    yield day("2026-10-06")
    violin = teller.things["small-violin"]
    teller.do(
        "record_damage",
        instrument_id=violin,
        damage={"happened_on": day("2026-10-01"), "found_on": day("2026-10-05"),
                "what_happened": "A scratch on the back, seen when it was unpacked from the dealer's van.",
                "borne_by": "dealer", "reported_to": "Ebbing and Low, by letter; their insurer's claim 7714.",
                "claimed": eur("120.00")},
    )  # fmt: skip
    yield day("2026-11-10")
    teller.do("close_claim", instrument_id=violin, damage="DM 2026-001", paid=eur("120.00"),
              outcome="Paid in full; retouched on the bench.")  # fmt: skip


THREADS = (with_another_dealer, sold_by_the_dealer, still_there, valued_and_damaged)
