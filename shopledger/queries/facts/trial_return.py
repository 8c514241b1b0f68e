"""What a receipt back from a trial states: what came back, in which condition, what is new, and what is still out."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date

from shopledger.model import ConditionMark, field_of
from shopledger.papers.trial import LentFacts
from shopledger.papers.trial_return import BackFacts, TrialReturnFacts
from shopledger.quantities.words import _
from shopledger.queries.condition import side_by_side
from shopledger.queries.facts.parties import lines_of
from shopledger.queries.facts.trials import lent_facts, report_numbers, trial_head
from shopledger.queries.on_trial import LineOfTrial, deposit_held_for, lines_of_trial, trial_named
from shopledger.rules.condition import Change, part_words, term_words
from shopledger.store.unit import Reading


def trial_return_facts(
    reading: Reading, trial_id: int, numbers: Collection[int], number: str, on: date
) -> TrialReturnFacts:
    """Give what the receipt of lines that came back states; `numbers` are those of the lines.

    Raises: NotFound: there is no such trial.
    """
    trial = trial_named(reading, trial_id)
    lines = lines_of_trial(reading, trial_id)
    back = [line for line in lines if line.n in numbers]
    out = [line for line in lines if line.is_out]
    held = deposit_held_for(reading, trial_id)
    return TrialReturnFacts(
        **trial_head(reading, trial, number, on),
        back_on=on,
        back=tuple(
            _back(reading, line, named) for line, named in zip(back, lent_facts(reading, back), strict=True)
        ),
        still_out=lent_facts(reading, [line for line in out if line.decided_on is None]),
        kept=lent_facts(reading, [line for line in out if line.decided_on is not None]),
        deposit_held=held if held.minor else None,
    )


def _back(reading: Reading, line: LineOfTrial, named: LentFacts) -> BackFacts:
    compared = line.report_out_id is not None and line.report_back_id is not None
    return BackFacts(
        line=named,
        condition=lines_of(line.condition_back),
        report_number=report_numbers(reading, [line.report_back_id]).get(line.report_back_id or 0, ""),
        new=new_marks(reading, line),
        compared=compared,
    )


def new_marks(reading: Reading, line: LineOfTrial) -> tuple[str, ...]:
    """Give in words what the report back has that the one going out has not, or has less grave.

    Shape:  nothing where one of the two reports was not made, since then nobody can tell.
    """
    if line.report_out_id is None or line.report_back_id is None:
        return ()
    severity = field_of(ConditionMark.severity)
    return tuple(
        _("{part}: {term}, {severity}").format(
            part=_(part_words(row.part)),
            term=_(term_words(row.term)),
            severity=_(severity.choice_word(row.after.severity)),
        )
        for row in side_by_side(reading, line.report_out_id, line.report_back_id)
        if row.after is not None and row.change in (Change.NEW, Change.GRAVER)
    )
