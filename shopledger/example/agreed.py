"""What the example's owners agreed: every rule of commission, each instrument's first terms."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from shopledger.example.telling import day, eur
from shopledger.model import Bracket

BRACKETS = (
    Bracket(up_to=eur("5000.00"), rate=Fraction(3, 10)),
    Bracket(up_to=eur("20000.00"), rate=Fraction(1, 5)),
    Bracket(rate=Fraction(12, 100)),
)
"""Marginal: a higher price never leaves the owner less."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Agreed:
    """What was agreed for an instrument, on which day, until which, and who signed; `more` are further terms."""

    thing: str
    on: str
    ends: str
    asking: str
    signed_by: str = ""
    signed_on: str = ""
    rate: str = ""
    brackets: tuple[Bracket, ...] = ()
    fixed: str = ""
    net: str = ""
    amounts: Mapping[str, str] = field(default_factory=dict)
    more: Mapping[str, Any] = field(default_factory=dict)

    def terms(self) -> dict[str, Any]:
        """Give the terms as their form takes them."""
        rule: dict[str, Any] = {"commission_rule": "rate", "commission_rate": Fraction(1, 5)}
        if self.rate:
            rule = {"commission_rule": "rate", "commission_rate": Fraction(self.rate)}
        elif self.brackets:
            rule = {"commission_rule": "brackets", "commission_brackets": self.brackets}
        elif self.fixed:
            rule = {"commission_rule": "fixed", "commission_fixed": eur(self.fixed)}
        elif self.net:
            rule = {"commission_rule": "net_to_owner", "net_to_owner": eur(self.net)}
        return {
            "ends_on": day(self.ends),
            "asking": eur(self.asking),
            "repairs_allowed": True,
            "repairs_up_to": eur("200.00"),
            "trials_allowed": True,
            **rule,
            **{name: eur(amount) for name, amount in self.amounts.items()},
            **self.more,
        }


AGREED = (
    Agreed(
        thing="tidewell",
        on="2024-11-18",
        ends="2025-11-17",
        asking="24000.00",
        rate="1/5",
        signed_by="Orla Tidewell",
        amounts={"floor": "17500.00", "agreed_value": "22000.00"},
        more={"goods_use": "equipment"},
    ),
    Agreed(
        thing="wick-violin",
        on="2024-12-10",
        ends="2025-12-09",
        asking="5900.00",
        rate="1/5",
        signed_by="Dunstan Wick",
        amounts={"withdrawal_charge": "120.00", "valuation_charge": "60.00"},
    ),
    Agreed(
        thing="spar",
        on="2025-01-15",
        ends="2027-01-14",
        asking="34000.00",
        brackets=BRACKETS,
        signed_by="Gwendolen Spar",
        amounts={"agreed_value": "30000.00", "asking_not_below": "32000.00"},
        more={"approval_days": 10, "failed_sale_costs_by": "owner", "set_off": True},
    ),
    Agreed(
        thing="lanyard-viola",
        on="2025-01-21",
        ends="2026-01-20",
        asking="10200.00",
        rate="18/100",
        signed_by="Perpetua Lanyard",
        amounts={"least": "900.00"},
    ),
    Agreed(
        thing="sea-bow",
        on="2025-01-21",
        ends="2026-01-20",
        asking="5200.00",
        rate="1/4",
        signed_by="Tam Brinegard",
        amounts={"floor": "3600.00"},
    ),
    Agreed(
        thing="wenna-picc",
        on="2025-01-28",
        ends="2027-01-27",
        asking="10400.00",
        fixed="1500.00",
        signed_by="Wenna Pellow",
        more={"pay_owner": "as_money_clears", "pay_within_days": 14},
    ),
    Agreed(
        thing="fenwraith",
        on="2025-02-06",
        ends="2026-02-05",
        asking="18500.00",
        brackets=BRACKETS,
        signed_by="Adaline, Bastian and Corin Fenwraith",
        amounts={"agreed_value": "16500.00"},
    ),
    Agreed(
        thing="pupil",
        on="2025-02-20",
        ends="2026-02-19",
        asking="7600.00",
        rate="1/5",
        signed_by="Piran Thole",
        more={"private_sale_commission": True, "tail_days": 90},
    ),
    Agreed(
        thing="tides",
        on="2025-03-11",
        ends="2026-03-10",
        asking="13800.00",
        rate="15/100",
        signed_by="Jonas Quillon",
        amounts={"least": "1500.00", "most": "2000.00", "storage_charge": "25.00"},
        more={"discount_borne_by": "owner", "set_off": True, "goods_use": "equipment"},
    ),
    Agreed(
        thing="nerys-violin",
        on="2025-04-01",
        ends="2026-03-31",
        asking="8600.00",
        rate="22/100",
        signed_by="Nerys Halloway",
        more={"discount_borne_by": "shop"},
    ),
    Agreed(
        thing="ostrand-tenor",
        on="2025-04-22",
        ends="2026-04-21",
        asking="8200.00",
        rate="1/5",
        signed_by="Lorcan Vane, executor",
        amounts={"floor": "6000.00", "insurance_charge": "9.00"},
        more={"deposit_to_shop": Fraction(1, 2), "bill_signed_by": "owner"},
    ),
    Agreed(
        thing="treble",
        on="2025-05-06",
        ends="2026-05-05",
        asking="5300.00",
        net="4200.00",
        signed_by="Corin Fenwraith",
    ),
    Agreed(
        thing="viola-bow",
        on="2025-05-20",
        ends="2026-05-19",
        asking="2300.00",
        rate="1/5",
        signed_by="Ida Skerrow",
    ),
    Agreed(
        thing="keel-viola",
        on="2025-12-03",
        ends="2026-12-02",
        asking="9200.00",
        rate="1/5",
        signed_by="Ambrose Keel",
        more={"approval_days": 14, "dealers_allowed": True, "goods_use": "equipment"},
    ),
    Agreed(
        thing="school-cello",
        on="2025-06-11",
        ends="2026-06-10",
        asking="12800.00",
        rate="7/40",
        signed_by="Mirabel Tern",
    ),
    Agreed(
        thing="violin-bow",
        on="2025-07-22",
        ends="2026-07-21",
        asking="3000.00",
        rate="1/5",
        signed_by="Nerys Halloway",
    ),
    Agreed(
        thing="viol-bow",
        on="2025-08-05",
        ends="2026-12-31",
        asking="1100.00",
        fixed="200.00",
        signed_by="Jonas Quillon",
    ),
    Agreed(
        thing="lost",
        on="2025-08-19",
        ends="2026-08-18",
        asking="6400.00",
        rate="1/5",
        signed_by="Tilda Marram",
        amounts={"agreed_value": "5600.00"},
        more={"loss_commission": False},
    ),
    Agreed(
        thing="radek-cello",
        on="2025-09-02",
        ends="2026-09-01",
        asking="19500.00",
        rate="1/5",
        signed_by="Radek Morrow",
        amounts={"asking_not_below": "17500.00", "most": "3500.00"},
    ),
    Agreed(
        thing="ossian-violin",
        on="2025-10-07",
        ends="2026-10-06",
        asking="4200.00",
        rate="1/5",
        signed_by="Ossian Drift",
    ),
    Agreed(
        thing="strand-picc",
        on="2025-11-12",
        ends="2026-12-11",
        asking="8900.00",
        rate="1/5",
        signed_by="Célestine Oar",
    ),
    Agreed(
        thing="fathom-viola",
        on="2025-12-09",
        ends="2026-11-08",
        asking="4600.00",
        rate="1/5",
        signed_by="Isolde Fathom",
    ),
    Agreed(
        thing="linnet-treble",
        on="2026-01-20",
        ends="2027-01-19",
        asking="3600.00",
        rate="1/5",
        signed_by="Linnet Shoal",
        amounts={"asking_not_below": "3200.00"},
        more={"deposit_to_owner": Fraction(1, 2), "deposit_to_shop": Fraction(1, 2)},
    ),
    Agreed(thing="labelled", on="2026-10-13", ends="2027-10-12", asking="9800.00", rate="1/5"),
)
"""All but one: a second agreement follows a change of owner."""
