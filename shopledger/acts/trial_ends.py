"""From a trial on to the sale of what is kept and the report of what is lost: those acts, begun at the trial."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from shopledger.acts.declare import Act
from shopledger.acts.losing import ReportLoss, prefill_loss, run_report_loss
from shopledger.acts.selling import LEAVES, prefill_sell, run_sell
from shopledger.acts.selling_forms import Sell, SellLine
from shopledger.acts.selling_preview import preview_sell
from shopledger.acts.trial_back import refuse_none_to_buy, to_be_bought
from shopledger.acts.trials import lines_out, trial_going
from shopledger.quantities.errors import Refused
from shopledger.quantities.words import N_
from shopledger.queries.on_trial import LineOfTrial
from shopledger.queries.shapes import Subject
from shopledger.store.unit import Reading


def prefill_sell_kept(reading: Reading, trial_id: int) -> Mapping[str, Any]:
    """Give the player as the buyer, and a line for each thing to be bought: instruments at their asking prices."""
    trial = trial_going(reading, trial_id)
    lines: list[SellLine] = []
    tax: dict[str, Any] = {}
    for line in to_be_bought(reading, trial_id):
        if line.instrument_id is None:
            lines.append(SellLine(kind="accessory", what=line.words, price=reading.money(line.value)))
            continue
        one = prefill_sell(reading, line.instrument_id)
        lines += one["lines"]
        tax = tax or {name: one[name] for name in ("tax_scheme", "tax_rate")}
    return {"buyer_id": trial.person_id, "lines": tuple(lines), **tax}


def _instruments_out(reading: Reading, trial_id: int) -> tuple[LineOfTrial, ...]:
    """Give the lines of a trial that are instruments and still out.

    Raises: Refused: there is none.
    """
    trial = trial_going(reading, trial_id)
    lines = tuple(line for line in lines_out(reading, trial_id) if line.instrument_id is not None)
    if not lines:
        raise Refused(N_("No instrument is out with the trial {trial}."), trial=trial.number)
    return lines


def refuse_no_instrument(reading: Reading, trial_id: int) -> None:
    """Refuse to report a loss where no instrument is out."""
    _instruments_out(reading, trial_id)


def prefill_lost(reading: Reading, trial_id: int) -> Mapping[str, Any]:
    """Give the first instrument that is out, and its agreed value."""
    line = _instruments_out(reading, trial_id)[0]
    assert line.instrument_id is not None
    value = prefill_loss(reading, line.instrument_id)["agreed_value"]
    return {"instrument_id": line.instrument_id, "agreed_value": value or reading.money(line.value)}


SELL_KEPT = Act(
    name="sell_kept",
    text=N_("Sell what is kept"),
    subject=Subject.TRIAL,
    form=Sell,
    run=run_sell,
    subject_input="trial_id",
    allowed=refuse_none_to_buy,
    prefill=prefill_sell_kept,
    preview=preview_sell,
    opposite="take_back",
    help=N_("The deposit of the trial is set off against the invoice."),
    papers=LEAVES,
    preview_without=frozenset({"buyer_id"}),
)
LOST_ON_TRIAL = Act(
    name="lost_on_trial",
    text=N_("Report a loss"),
    subject=Subject.TRIAL,
    form=ReportLoss,
    run=run_report_loss,
    allowed=refuse_no_instrument,
    prefill=prefill_lost,
    papers=("loss_report",),
)
ACTS = (SELL_KEPT, LOST_ON_TRIAL)
