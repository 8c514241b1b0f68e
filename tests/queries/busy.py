"""A shop with something in every state: what is asked of it is compared with what was done in it."""

from __future__ import annotations

from datetime import timedelta
from fractions import Fraction
from pathlib import Path

from shopledger.acts.describing import FittingRow, MeasureRow
from shopledger.acts.selling_forms import SellLine
from shopledger.quantities.lengths import read_length
from tests.helpers.shops import TriedShop, eur, row


class BusyShop(TriedShop):
    """The shop after some months."""

    def __init__(self, place: str | Path) -> None:
        super().__init__(place)
        self.plain = self.consigned("12000.00", floor=eur("8000.00"))
        self.viola = self._measured_viola()
        self.unsigned = self.consigned("4000.00", signed=False)
        self.raw = self.taken_in()
        self.mine = self.own()
        self.gone = self.taken_in()
        self.pass_days(3)
        self.act("return_to_owner", instrument_id=self.gone, handed_to="Orla Fenn")
        self.act("change_price", instrument_id=self.plain, asking=eur("11000.00"), why="it waits",
                 consent_by="Orla Fenn", consent_how="by letter", consent_on=self.today)  # fmt: skip
        self.held = self.consigned("9000.00")
        self.act("hold", instrument_id=self.held, person_id=self.player, until=self.today + timedelta(days=10),
                 deposit=eur("300.00"))  # fmt: skip
        self.owing_one = self.consigned()
        self.owing = self.sold(self.owing_one)
        self.pay(self.owing, "2500.00")
        self.uncleared = self.sold(self.consigned())
        self.pay(self.uncleared, cleared=False)
        self.to_settle = self.sold(self.consigned())
        self.pay(self.to_settle)
        self.to_pay_one, self.to_pay = self.settled("6000.00")
        heirs = (row(self.owner, "1/3"), row(self.other, "1/3"), row(self.dealer, "1/3"))
        self.heirs_one = self.consigned("10000.01", *heirs, pay_owner="as_money_clears")
        self.heirs = self.sold(self.heirs_one, "10000.01")
        self.pay(self.heirs, "3333.33")
        self.act("settle", sale_id=self.heirs)
        self.pay(self.heirs, "1000.00")
        self.paid_out_one, self.paid_out = self.settled("5000.00")
        self.act("pay_owner", person_id=self.owner, amount=self._held_of(self.owner))
        self.act("hand_over", instrument_id=self.paid_out_one, handed_to="Tam Brine")
        self.approval = self.sold(self.consigned(approval_days=14))
        self.pay(self.approval)
        self.back_one = self.consigned()
        self.back = self.sold(self.back_one)
        self.act("take_back", sale_id=self.back, why="too bright")
        self.goods = self._goods_and_own()
        self.lost = self.consigned()
        self.act("report_loss", instrument_id=self.lost, what_happened="fire", agreed_value=eur("9000.00"),
                 excess=eur("500.00"))  # fmt: skip
        self.act("charge_owner", instrument_id=self.viola, kind="valuation")
        self.clock.day = self.clock.day + timedelta(days=9)

    def _held_of(self, person: int) -> object:
        with self.ledger.read() as reading:
            return reading.money(self.owed(person)[1])

    def _measured_viola(self) -> int:
        """A viola with measures in both units, five strings, fittings and words with accents."""
        instrument = self.act(
            "take_in",
            instrument={
                "kind": "viola", "maker": "Béla Öster", "standing": "attributed_to", "made_when": "about 1890",
                "string_count": 5, "size": "16 in", "notes": "smells of the sea",
            },
            owners=(row(self.other),),
            stay={"reason": "to_sell"},
            fittings=(FittingRow(part="pegs", what="boxwood"),),
            measures=(
                MeasureRow(measure="string_length", value=read_length("14 1/8 in")),
                MeasureRow(measure="body_length", value=read_length("412 mm"), method="over the arch"),
            ),
        ).id  # fmt: skip
        self.act(
            "agree_terms",
            instrument_id=instrument,
            terms={
                "ends_on": self.today + timedelta(days=20),
                "asking": eur("3500.00"),
                "commission_rate": Fraction(1, 5),
                "valuation_charge": eur("40.00"),
            },
            signed_by="Ivo Marsh",
        )
        return instrument

    def _goods_and_own(self) -> int:
        sale = self.act(
            "sell",
            buyer_id=self.player,
            lines=(
                self.line(self.mine, "2100.00", "own"),
                SellLine(kind="accessory", what="rosin", price=eur("20.00")),
            ),
        ).id
        self.pay(sale)
        return sale
