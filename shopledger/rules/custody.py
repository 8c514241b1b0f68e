"""Where an instrument is on any day, by the recorded rows: with whom, since when, at whose risk, insured by whom.

Rows of custody are never changed, so that a day in the past answers today as it answered then. Of several rows of one
day the last one counts; where a row says nothing of risk and insurance they follow from what was agreed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from shopledger.quantities.words import N_

NOT_YET = "not_yet"
HERE = "here"
BENCH = "workshop"
ON_TRIAL = "on_trial"
AWAY = "away"
HANDED_OVER = "handed_over"
LOST = "lost"
PLACES: dict[str, str] = {
    NOT_YET: N_("not yet in"),
    HERE: N_("here"),
    BENCH: N_("at the bench"),
    ON_TRIAL: N_("on trial"),
    AWAY: N_("away"),
    HANDED_OVER: N_("handed over"),
    LOST: N_("lost"),
}
"""Every place there is, by its code."""
IN_SHOP = frozenset({HERE, BENCH})
GONE = frozenset({NOT_YET, HANDED_OVER, LOST})
"""Places of what is not in the shop's care."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """One row of custody.

    Units:  `insured_for` in minor units.
    Shape:  rows are given in the order in which they were written; `stay` is that of the stay they belong to.
    """

    stay: int
    place: str
    since: date
    holder: str | None = None
    person_id: int | None = None
    words: str = ""
    risk: str | None = None
    insured_by: str | None = None
    insured_for: int | None = None
    trial_id: int | None = None
    placing_id: int | None = None
    shipment_id: int | None = None


@dataclass(frozen=True, slots=True)
class Insured:
    """Who insures what is in the shop under an agreement from a day on, and for what; None where no value is agreed."""

    since: date
    by: str
    agreed_value: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Where an instrument is on a day; risk and insurance are None where nobody has said."""

    place: str
    stay: int | None = None
    since: date | None = None
    holder: str | None = None
    person_id: int | None = None
    words: str = ""
    risk: str | None = None
    insured_by: str | None = None
    insured_for: int | None = None
    trial_id: int | None = None
    placing_id: int | None = None
    shipment_id: int | None = None

    @property
    def in_care(self) -> bool:
        """Whether the shop has to answer for it."""
        return self.place not in GONE


def last_move(moves: Sequence[Moved], on: date) -> Moved | None:
    """Give the row that says where it is on a day; None before the first."""
    return next((move for move in reversed(moves) if move.since <= on), None)


def standing(
    moves: Sequence[Moved],
    on: date,
    *,
    reason: str = "",
    insured: Sequence[Insured] = (),
    insured_value: int | None = None,
) -> Standing:
    """Give where an instrument is on a day.

    Shape:  `moves` are all rows of the instrument as they were written; `reason`, `insured` and `insured_value` are
            those of the stay that the day falls into (`last_move` says which).
    """
    at = last_move(moves, on)
    if at is None:
        return Standing(place=NOT_YET)
    risk, by, amount = at.risk, at.insured_by, at.insured_for
    if at.place not in GONE:
        risk_here, by_here, amount_here = cover(reason, on, insured, insured_value)
        amount = amount_here if amount is None else amount
        if at.place in IN_SHOP:
            # What lies in the shop is its own to answer for, whatever became of it on the way.
            risk, by = risk or risk_here, by or by_here
    return Standing(
        place=at.place,
        stay=at.stay,
        since=at.since,
        holder=at.holder,
        person_id=at.person_id,
        words=at.words,
        risk=risk,
        insured_by=by,
        insured_for=amount,
        trial_id=at.trial_id,
        placing_id=at.placing_id,
        shipment_id=at.shipment_id,
    )


def cover(
    reason: str, on: date, insured: Sequence[Insured], insured_value: int | None
) -> tuple[str | None, str | None, int | None]:
    """Give who bears the risk of what is in the shop, who insures it, and for what.

    Shape:  by the terms last agreed on that day; else by the value to insure that was named when it came in; the
            shop's own is the shop's. A job or an intake without either leaves insurance open.
    """
    agreed = next((one for one in reversed(insured) if one.since <= on), None)
    if agreed is not None:
        # By its agreement the shop holds the value for the owner after a loss, whoever insures it.
        value = insured_value if agreed.agreed_value is None else agreed.agreed_value
        return "shop", agreed.by, value
    if reason == "own":
        return "shop", "shop", insured_value
    if insured_value is not None:
        return "shop", "shop", insured_value
    return None, None, None
