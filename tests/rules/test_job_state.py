"""The state of a job follows from its days, through the whole course and back."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from shopledger.model.jobs import JOB_ENDINGS
from shopledger.rules.job_state import JOB_STATES, OPEN_STATES, JobDays, job_state

DAY = date(2026, 3, 2)


def test_the_whole_course() -> None:
    days = JobDays()
    seen = [job_state(days)]
    for step in (
        {"estimated_on": DAY},
        {"approved_on": DAY},
        {"begun_on": DAY},
        {"waits_for": "pegs"},
        {"waits_for": ""},
        {"ready_on": DAY},
        {"ended_on": DAY, "ending": "collected"},
    ):
        days = replace(days, **step)  # type: ignore[arg-type]
        seen.append(job_state(days))
    assert seen == [
        "to_estimate",
        "waits_for_client",
        "agreed",
        "on_bench",
        "waits_for_part",
        "on_bench",
        "ready",
        "collected",
    ]


def test_declined_until_it_is_returned() -> None:
    declined = JobDays(estimated_on=DAY, declined_on=DAY)
    assert job_state(declined) == "declined"
    assert job_state(replace(declined, ended_on=DAY, ending="declined")) == "declined_returned"


def test_a_second_approval_outweighs_an_earlier_no() -> None:
    assert job_state(JobDays(estimated_on=DAY, declined_on=DAY, approved_on=DAY)) == "agreed"


@pytest.mark.parametrize("ending", [code for code, _word in JOB_ENDINGS])
def test_every_ending_is_a_state(ending: str) -> None:
    state = job_state(JobDays(ready_on=DAY, waits_for="pegs", ended_on=DAY, ending=ending))
    assert state in JOB_STATES
    assert state not in OPEN_STATES


def test_a_state_of_a_job_that_goes_on_is_open() -> None:
    assert job_state(JobDays(waits_for="pegs")) in OPEN_STATES
    assert set(OPEN_STATES) < set(JOB_STATES)
