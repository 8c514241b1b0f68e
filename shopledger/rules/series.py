"""Series of numbers: their letters and form; each counts without gaps, those with years anew each year."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Series:
    """One series: its letters, and whether it starts anew each year."""

    letters: str
    yearly: bool = True

    def write(self, year: int, n: int) -> str:
        """Give the number as it is read: `E 2025-014`, or `P 012` for a series without years."""
        return f"{self.letters} {year}-{n:03d}" if self.yearly else f"{self.letters} {n:03d}".strip()


SERIES: dict[str, Series] = {
    "person": Series("P", yearly=False),
    "instrument": Series("No.", yearly=False),
    "stay": Series("TI"),
    "agreement": Series("AG"),
    "sale": Series("SI"),
    "credit": Series("CN"),
    "bill": Series("BS"),
    "disclosure": Series("RD"),
    "payment": Series("PR"),
    "refund": Series("RF"),
    "settlement": Series("AS"),
    "payout": Series("RM"),
    "charge": Series("CH"),
    "fee": Series("FP"),
    "release": Series("RL"),
    "loss": Series("LD"),
    "forfeit": Series("DF"),
    "list": Series("HL"),
    "job": Series("JW"),
    "estimate": Series("ES"),
    "statement": Series("WS"),
    "condition": Series("CR"),
    "collection": Series("CL"),
    "reminder": Series("RC"),
    "lien": Series("LS"),
    "setup": Series("SU"),
    "goods": Series("G", yearly=False),
    "trial": Series("TR"),
    "trial_reminder": Series("TL"),
    "placing": Series("PL"),
    "shipment": Series("SH"),
    "valuation": Series("VA"),
    "damage": Series("DM"),
    "custody_list": Series("CS"),
    "stock_take": Series("ST"),
    "wish": Series("W", yearly=False),
    "matches": Series("WM"),
    "measures": Series("MS"),
    "materials": Series("MA"),
}


def year_of(series: str, on: date) -> int:
    """Give the year a number is counted in, 0 for a series without years."""
    return on.year if SERIES[series].yearly else 0
