"""What a sale or a loss means for things on trial: who may buy them, the deposit set off, their lines decided."""

from __future__ import annotations

from collections.abc import Iterable

from shopledger.acts.deposits import left_of, set_off
from shopledger.acts.selling_forms import Sell
from shopledger.acts.trials import end_if_over, lines_out
from shopledger.model import Sale, Stay, Trial, TrialLine
from shopledger.quantities.errors import Refused
from shopledger.quantities.words import N_
from shopledger.queries.on_trial import OnTrial, deposits_of_trial, on_trial, trial_named
from shopledger.store.unit import Reading, Writing


def out_with_buyer(reading: Reading, stay: Stay, instrument: str, buyer_id: int) -> OnTrial | None:
    """Give by which line what is to be sold is on trial with its buyer; None where it isn't on trial.

    Raises: Refused: it is on trial with someone else, or the buyer's deposit has not cleared.
    """
    out = on_trial(reading, stay.id)
    if out is None:
        return None
    if out.person_id != buyer_id:
        raise Refused(
            N_(
                "{instrument} is on trial with {player} until {day}. Take it back first, or sell it to {player}."
            ),
            instrument=instrument,
            player=out.name,
            day=out.due_on,
        )
    for deposit in deposits_of_trial(reading, out.trial_id):
        if deposit.cleared_on is None and left_of(reading, deposit):
            raise Refused(
                N_("The deposit {number} has not cleared. Record that it cleared or came back first."),
                number=deposit.number,
            )
    return out


def keep_sold(writing: Writing, form: Sell, sale: Sale, outs: Iterable[OnTrial]) -> list[int]:
    """Decide the lines that a sale sells to their player, set the deposits off, and end trials that are over by it.

    Shape:  `outs` are the lines of the instruments sold; things in words are those of the trial the sale was begun at.
    Give the receipts of what is given back.
    """
    by_trial: dict[int, list[int]] = {}
    for out in outs:
        by_trial.setdefault(out.trial_id, []).append(out.line_id)
    if form.trial_id is not None:
        trial = trial_named(writing, form.trial_id)
        if trial.person_id == sale.buyer_id:
            by_trial.setdefault(trial.id, []).extend(_things_sold(writing, form, trial))
    papers: list[int] = []
    for trial_id, line_ids in by_trial.items():
        for line_id in line_ids:
            line = writing.session.get_one(TrialLine, line_id)
            line.decided_on, line.decision = line.decided_on or writing.on, "bought"
            line.sale_id = sale.id
        writing.session.flush()
        if line_ids:
            papers += _set_off(writing, trial_named(writing, trial_id), sale)
    return papers


def _things_sold(writing: Writing, form: Sell, trial: Trial) -> list[int]:
    """Give the lines of things in words, to be bought, that stand on the invoice in the same words."""
    said = {line.what.strip() for line in form.lines if line.instrument_id is None}
    return [
        line.id
        for line in lines_out(writing, trial.id)
        if line.stay_id is None and line.decision == "bought" and line.words in said
    ]


def _set_off(writing: Writing, trial: Trial, sale: Sale) -> list[int]:
    """Set the cleared deposits of a trial off; what is above the invoice stays held while things are out."""
    deposits = [one for one in deposits_of_trial(writing, trial.id) if one.cleared_on is not None]
    papers = set_off(writing, sale, deposits, keep_rest=bool(lines_out(writing, trial.id)))
    end_if_over(writing, trial)
    return papers


def lose(writing: Writing, stay: Stay) -> None:
    """Decide the line of what is reported as lost while it is on trial."""
    out = on_trial(writing, stay.id)
    if out is not None:
        line = writing.session.get_one(TrialLine, out.line_id)
        line.decided_on, line.decision = writing.on, "lost"
        end_if_over(writing, trial_named(writing, out.trial_id))
