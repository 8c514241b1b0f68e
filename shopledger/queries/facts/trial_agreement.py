"""What a trial agreement states: what goes out with whom until when, at which value and whose risk, which deposit."""

from __future__ import annotations

from datetime import date

from shopledger.model import Trial, field_of
from shopledger.papers.parts import CautionFacts
from shopledger.papers.trial_agreement import TrialAgreementFacts
from shopledger.quantities.money import total
from shopledger.quantities.words import _
from shopledger.queries.facts.parties import lines_of
from shopledger.queries.facts.trials import lent_facts, trial_head
from shopledger.queries.materials import crossing_words
from shopledger.queries.on_trial import deposits_of_trial, lines_of_trial, trial_named
from shopledger.rules.materials_terms import Act
from shopledger.store.unit import Reading


def trial_agreement_facts(reading: Reading, trial_id: int, number: str, on: date) -> TrialAgreementFacts:
    """Give what the agreement of a trial states.

    Raises: NotFound: there is no such trial.
    """
    trial = trial_named(reading, trial_id)
    out = lines_of_trial(reading, trial_id)
    lines = lent_facts(reading, out)
    crossing = crossing_words(
        reading,
        Act.LOAN_ABROAD,
        trial.began_on,
        trial.goes_to,
        [one.instrument_id for one in out if one.instrument_id is not None],
    )
    deposits = deposits_of_trial(reading, trial_id)
    return TrialAgreementFacts(
        **trial_head(reading, trial, number, on),
        lines=lines,
        whole=total([line.value for line in lines], reading.currency),
        risk=_(field_of(Trial.risk).choice_word(trial.risk)),
        insured_by=_(field_of(Trial.insured_by).choice_word(trial.insured_by)),
        insurance=trial.insurance,
        carriage_by=_(field_of(Trial.carriage_by).choice_word(trial.carriage_by)),
        at_place=lines_of(trial.at_place),
        goes_to=trial.goes_to,
        identity_seen=trial.identity_seen,
        deposit=reading.money(sum(one.minor for one in deposits)) if deposits else None,
        deposit_number=", ".join(one.number for one in deposits),
        signed_on=trial.signed_on,
        note=" ".join(lines_of(trial.note)),
        cautions=CautionFacts(materials=crossing),
    )
