"""The example's placings with another dealer: one sold there, one that came back, one whose day has passed."""

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


THREADS = (with_another_dealer, sold_by_the_dealer)
