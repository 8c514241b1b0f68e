"""Things that go out on trial in the shop in which acts are tried."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from sqlalchemy import select

from shopledger.acts import act
from shopledger.acts.declare import Outcome
from shopledger.acts.trial_forms import LendRow
from shopledger.model import Custody, Trial, TrialLine
from shopledger.queries.on_trial import LineOfTrial, deposit_held_for, lines_of_trial
from tests.helpers.shops import TriedShop, eur

FORTNIGHT = timedelta(days=14)


def consigned(shop: TriedShop, asking: str = "10000.00", **terms: Any) -> int:
    """Consign a cello that may go out on trial."""
    return shop.consigned(asking, **{"trials_allowed": True, **terms})


def bow(shop: TriedShop) -> int:
    """Take in a bow of the shop's own, asked 900.00."""
    return shop.act(
        "take_in",
        instrument={"kind": "bow", "description": "trade work"},
        stay={"reason": "own"},
        cost=eur("300.00"),
        asking=eur("900.00"),
    ).id


def row(instrument: int | None = None, value: str | None = "10000.00", **inputs: Any) -> LendRow:
    """Give a row of what is lent."""
    return LendRow(instrument_id=instrument, value=None if value is None else eur(value), **inputs)


def lent(shop: TriedShop, *rows: LendRow, days: int = 14, trial: Any = None, **inputs: Any) -> int:
    """Lend things to the player; give the trial."""
    return lending(shop, *rows, days=days, trial=trial, **inputs).id


def lending(shop: TriedShop, *rows: LendRow, days: int = 14, trial: Any = None, **inputs: Any) -> Outcome:
    """Lend things to the player; give what that leaves."""
    given = {"person_id": shop.player, "due_on": shop.today + timedelta(days=days), **(trial or {})}
    return shop.act("lend_on_trial", trial=given, lines=rows, **inputs)


def sell_kept(shop: TriedShop, trial: int, **inputs: Any) -> Outcome:
    """Sell what is to be bought, as the form is filled beforehand, without tax."""
    one = act("sell_kept")
    assert one.prefill is not None
    with shop.ledger.read() as reading:
        given = dict(one.prefill(reading, trial))
    return shop.act(
        "sell_kept", **{**given, "tax_scheme": "none", "tax_rate": None, "trial_id": trial, **inputs}
    )


def lines(shop: TriedShop, trial: int) -> tuple[LineOfTrial, ...]:
    with shop.ledger.read() as reading:
        return lines_of_trial(reading, trial)


def decisions(shop: TriedShop, trial: int) -> list[str | None]:
    return [line.decision for line in lines(shop, trial)]


def ended(shop: TriedShop, trial: int) -> date | None:
    with shop.ledger.read() as reading:
        return reading.session.get_one(Trial, trial).ended_on


def held(shop: TriedShop, trial: int) -> int:
    with shop.ledger.read() as reading:
        return deposit_held_for(reading, trial).minor


def where(shop: TriedShop, trial: int, n: int = 1) -> Custody:
    """Give the newest row of custody of what a line lent."""
    with shop.ledger.read() as reading:
        return reading.session.scalars(
            select(Custody)
            .join(TrialLine, TrialLine.stay_id == Custody.stay_id)
            .where(TrialLine.trial_id == trial, TrialLine.n == n)
            .order_by(Custody.id.desc())
            .limit(1)
        ).one()
