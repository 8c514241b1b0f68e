"""What the extension of a trial states: until when it goes on, since when, with whom agreed, for which things."""

from __future__ import annotations

from datetime import date

from shopledger.model import TrialExtension
from shopledger.papers.trial_extension import TrialExtensionFacts
from shopledger.quantities.errors import NotFound
from shopledger.quantities.words import N_
from shopledger.queries.facts.trials import lent_facts, trial_head
from shopledger.queries.on_trial import lines_of_trial, trial_named
from shopledger.store.unit import Reading


def trial_extension_facts(reading: Reading, extension_id: int, number: str, on: date) -> TrialExtensionFacts:
    """Give what the newest extension of a trial states, for what is out now.

    Raises: NotFound: there is no such extension.
    """
    extension = reading.session.get(TrialExtension, extension_id)
    if extension is None:
        raise NotFound(N_("There is no extension {id} in this ledger."), id=str(extension_id))
    trial = trial_named(reading, extension.trial_id)
    return TrialExtensionFacts(
        **trial_head(reading, trial, number, on),
        agreed_on=extension.agreed_on,
        due_before_on=extension.due_before_on,
        agreed_by=extension.agreed_by,
        lines=lent_facts(reading, [line for line in lines_of_trial(reading, trial.id) if line.is_out]),
    )
