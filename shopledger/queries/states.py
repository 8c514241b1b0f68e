"""The states of sales, jobs, trials, goods, wishes, counts, as chips show them; `place_states` has those of places."""

from __future__ import annotations

from shopledger.quantities.words import N_
from shopledger.queries.place_states import PLACE_STATES
from shopledger.queries.shapes import Shape, State, Tone
from shopledger.rules import job_state, trial_state

NEEDS_YOU = State("needs_you", N_("needs you"), Shape.TRIANGLE, Tone.LATE)
PAID = State("paid", N_("paid"), Shape.DISC, Tone.IN_ORDER)
OWING = State("owing", N_("buyer owes"), Shape.TRIANGLE, Tone.SOON)
OWES = State("owes", N_("owes the shop"), Shape.TRIANGLE, Tone.SOON)
UNCLEARED = State("uncleared", N_("not cleared"), Shape.HALF, Tone.SOON)
TO_SETTLE = State("to_settle", N_("to settle"), Shape.TRIANGLE, Tone.SOON)
OWED = State("owed", N_("owner to pay"), Shape.TRIANGLE, Tone.LATE)
SETTLED = State("settled", N_("settled"), Shape.RING, Tone.QUIET)
RETURNED = State("returned", N_("returned"), Shape.RING, Tone.QUIET)
IN_STOCK = State("in_stock", N_("in stock"), Shape.DISC, Tone.IN_ORDER)
LOW = State("low", N_("low"), Shape.HALF, Tone.SOON)
NONE_LEFT = State("none_left", N_("none left"), Shape.TRIANGLE, Tone.LATE)
OFFERED = State("offered", N_("offered"), Shape.DISC, Tone.IN_ORDER)
LEFT_OUT = State("left_out", N_("left out"), Shape.RING, Tone.QUIET)
WISH_GOING = State("looked_for", N_("looked for"), Shape.DISC, Tone.IN_ORDER)
WISH_OVER = State("wish_over", N_("no longer looked for"), Shape.RING, Tone.QUIET)
JOB_STATES = {
    code: State(code, job_state.JOB_STATES[code], shape, tone)
    for code, shape, tone in (
        (job_state.TO_ESTIMATE, Shape.TRIANGLE, Tone.SOON),
        (job_state.WAITS_FOR_CLIENT, Shape.HALF, Tone.ELSEWHERE),
        (job_state.AGREED, Shape.DISC, Tone.SOON),
        (job_state.ON_BENCH, Shape.LOZENGE, Tone.SOON),
        (job_state.WAITS_FOR_PART, Shape.HALF, Tone.SOON),
        (job_state.READY, Shape.DISC, Tone.IN_ORDER),
        (job_state.DECLINED, Shape.TRIANGLE, Tone.SOON),
        (job_state.COLLECTED, Shape.RING, Tone.QUIET),
        (job_state.RETURNED, Shape.RING, Tone.QUIET),
        (job_state.LIEN, Shape.RING, Tone.LATE),
        (job_state.STAYS, Shape.RING, Tone.QUIET),
        (job_state.LOST, Shape.TRIANGLE, Tone.LATE),
    )
}
"""The states of jobs by their codes, in the order of a job's course."""
TRIAL_STATES = {
    code: State(code, trial_state.TRIAL_STATES[code], shape, tone)
    for code, shape, tone in (
        (trial_state.OVERDUE, Shape.TRIANGLE, Tone.LATE),
        (trial_state.DUE_SOON, Shape.HALF, Tone.SOON),
        (trial_state.OUT, Shape.HALF, Tone.ELSEWHERE),
        (trial_state.TO_BUY, Shape.DISC, Tone.SOON),
        (trial_state.TO_SETTLE, Shape.TRIANGLE, Tone.SOON),
        (trial_state.OVER, Shape.RING, Tone.QUIET),
    )
}
"""The states of trials by their codes, what needs the shop first."""
COUNTING = State("counting", N_("going on"), Shape.HALF, Tone.SOON)
ALL_SEEN = State("all_seen", N_("all seen"), Shape.DISC, Tone.IN_ORDER)
SOME_MISSING = State("some_missing", N_("something missing"), Shape.TRIANGLE, Tone.LATE)
STATES = (*PLACE_STATES, NEEDS_YOU, PAID, OWING, OWES, UNCLEARED, TO_SETTLE, OWED, SETTLED, RETURNED, IN_STOCK, LOW,
          NONE_LEFT, OFFERED, LEFT_OUT, WISH_GOING, WISH_OVER, COUNTING, ALL_SEEN, SOME_MISSING,
          *JOB_STATES.values(), *TRIAL_STATES.values())  # fmt: skip
"""Every state there is; no module but these two has words for one."""
