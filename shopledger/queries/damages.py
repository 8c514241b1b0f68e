"""Valuations and damage for the pages of an instrument and of a trial."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sqlalchemy import ColumnElement, select

from shopledger.model import Damage, Stay, Valuation, field_of
from shopledger.quantities.showing import show_amount, show_day
from shopledger.quantities.words import N_, _
from shopledger.queries.sheet_shapes import Fact, Group

if TYPE_CHECKING:
    from shopledger.store.unit import Reading


def valuations_of(reading: Reading, instrument_id: int) -> Group:
    """Give what an instrument was said to be worth, newest first: by whom, for what, and whether an appraisal."""
    rows = reading.session.scalars(
        select(Valuation).where(Valuation.instrument_id == instrument_id).order_by(Valuation.id.desc())
    )
    manners = reading.ledger.manners
    facts = []
    for one in rows:
        said = [
            _(field_of(Valuation.purpose).choice_word(one.purpose)),
            one.valued_by,
            show_day(one.valued_on, manners),
            _("certified appraisal, by its author's word") if one.is_appraisal else _("no appraisal"),
        ]
        facts.append(Fact(one.number, reading.money(one.value), ", ".join(said)))
    return Group(N_("Valuations"), tuple(facts))


def damages_of_instrument(reading: Reading, instrument_id: int) -> Group:
    """Give the damage to an instrument in the shop's care, newest first."""
    return _damages(reading, Stay.instrument_id == instrument_id)


def damages_of_trial(reading: Reading, trial_id: int) -> Group:
    """Give the damage that happened on a trial, newest first."""
    return _damages(reading, Damage.trial_id == trial_id)


def _damages(reading: Reading, which: ColumnElement[bool]) -> Group:
    rows = reading.session.scalars(
        select(Damage).join(Stay, Stay.id == Damage.stay_id).where(which).order_by(Damage.id.desc())
    )
    return Group(
        N_("Damage"), tuple(Fact(one.number, one.what_happened, _claim(reading, one)) for one in rows)
    )


def _claim(reading: Reading, damage: Damage) -> str:
    """Give in words who bears damage and how its claim stands."""
    manners = reading.ledger.manners
    said = [_("found on {day}").format(day=show_day(damage.found_on, manners))]
    if damage.borne_by:
        bearer = _(field_of(Damage.borne_by).choice_word(damage.borne_by))
        said.append(_("borne by {who}").format(who=bearer))
    if damage.claimed is not None:
        said.append(_("claimed {amount}").format(amount=show_amount(reading.money(damage.claimed), manners)))
    if damage.closed_on is None:
        said.append(_("not closed"))
    else:
        paid = _("nothing") if damage.paid is None else show_amount(reading.money(damage.paid), manners)
        said.append(
            _("closed on {day}, paid {paid}").format(day=show_day(damage.closed_on, manners), paid=paid)
        )
    return "; ".join(said)
