"""The table of jobs by the day they are promised for: whose, what is wanted, where each stands, what is owed for it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from sqlalchemy import BigInteger, ColumnElement, Select, case, func, select, type_coerce

from shopledger.model import Job, JobBill, Person
from shopledger.quantities.errors import NotFound, Typed
from shopledger.quantities.fields import Kind
from shopledger.quantities.words import N_
from shopledger.queries.declared import column_of, instrument_words, shown, table_columns, table_fields
from shopledger.queries.job_lines import in_short, state_code
from shopledger.queries.owing import sales_money
from shopledger.queries.shapes import Column, Row, Subject, Table, View
from shopledger.queries.sheet_shapes import Sheet
from shopledger.queries.states import JOB_STATES
from shopledger.rules import job_state as states
from shopledger.rules.claims import looks_like_claim, read_claim
from shopledger.store.matching import cut, matching

if TYPE_CHECKING:
    from shopledger.quantities.errors import LedgerError
    from shopledger.quantities.money import Money
    from shopledger.store.unit import Reading

__all__ = ["TABLE", "by_claim", "ids", "page", "sheet", "slip_in", "state_code"]

_NUMBER, *_FURTHER = table_columns(Job)
COLUMNS = (
    _NUMBER,
    Column("client", N_("Client"), Kind.TEXT, 18),
    Column("instrument", N_("Instrument"), Kind.TEXT, 24, lesser=True),
    Column("wanted", N_("What is wanted"), Kind.TEXT, 26),
    *_FURTHER,
    Column("state", N_("State"), Kind.TEXT, 16),
    Column("owes", N_("Client owes"), Kind.MONEY, 11, sortable=False, lesser=True),
)
VIEWS = (
    View("open", N_("Open")),
    View("to_estimate", N_("To estimate")),
    View("waits_for_client", N_("Waiting for the client")),
    View("on_bench", N_("On the bench")),
    View("waits_for_part", N_("Waiting for a part")),
    View("ready", N_("Ready")),
    View("collected", N_("Collected")),
    View("declined", N_("Declined")),
    View("all", N_("All")),
)
STATES_OF_VIEW: Mapping[str, tuple[str, ...]] = {
    "to_estimate": (states.TO_ESTIMATE,),
    "waits_for_client": (states.WAITS_FOR_CLIENT,),
    "on_bench": (states.AGREED, states.ON_BENCH),
    "waits_for_part": (states.WAITS_FOR_PART,),
    "ready": (states.READY,),
    "collected": (states.COLLECTED,),
    "declined": (states.DECLINED, states.RETURNED),
}
"""The states that each view shows; those of no view are found among the open or all."""


def _view(view: str) -> list[ColumnElement[bool]]:
    """Give what holds for the rows of a view."""
    if view == "open":
        return [Job.ended_on.is_(None)]
    if view in STATES_OF_VIEW:
        return [state_code().in_(STATES_OF_VIEW[view])]
    return []


def _sorted_by(column: str) -> ColumnElement[Any]:
    """Give what a column is sorted by; claim numbers are given in the order of the keys."""
    match column:
        case "client":
            return func.lower(Person.name)
        case "instrument":
            return type_coerce(Job.instrument_id, BigInteger())
        case "wanted":
            return func.lower(Job.hears)
        case "state":
            return case({code: n for n, code in enumerate(JOB_STATES)}, value=state_code())
        case _ if column in table_fields(Job) and column != "number":
            found: ColumnElement[Any] = column_of(Job, column)
            return found
        case _:
            return type_coerce(Job.id, BigInteger())


def ids(reading: Reading, view: str, words: str, sort: str, descending: bool) -> Sequence[int]:
    """Give the ids of the jobs of a view that fit what is typed, sorted; those without a value come last."""
    order = _sorted_by(sort)
    question: Select[Any] = select(type_coerce(Job.id, BigInteger())).where(*_view(view))
    if sort == "client":
        question = question.join(Person, Person.id == Job.client_id)
    found = matching(reading.session, Subject.JOB.value, _claim_or_words(words))
    if found is not None:
        question = question.where(Job.id.in_(found.scalar_subquery()))
    question = question.order_by(
        (order.desc() if descending else order.asc()).nulls_last(),
        Job.id.desc() if descending else Job.id.asc(),
    )
    return reading.session.connection().execute(question).scalars().all()


def _claim_or_words(typed: str) -> str:
    """Give a claim number as one word of digits, however its parts were set off; else what was typed."""
    return "".join(cut(typed)) if looks_like_claim(typed) else typed


def slip_in(typed: str) -> LedgerError | None:
    """Give what is wrong with a claim number as it was typed; None where it is right, or something else was typed."""
    try:
        if looks_like_claim(typed):
            read_claim(typed)
    except Typed as error:
        return error
    return None


def by_claim(reading: Reading, typed: str) -> tuple[int, str] | None:
    """Give the job of a claim number and how it is named; None where something else was typed.

    Raises: Typed: the number has a slip. NotFound: there is no job of that number.
    """
    if not looks_like_claim(typed):
        return None
    number = read_claim(typed)
    found = reading.session.execute(
        select(Job.id, Job.instrument_id, Person.name)
        .join(Person, Person.id == Job.client_id)
        .where(Job.number == number)
    ).first()
    if found is None:
        raise NotFound(N_("There is no job {number} in this ledger. Read the number again."), number=number)
    instrument = instrument_words(reading, [found.instrument_id])[found.instrument_id]
    return found.id, f"{number} {found.name}, {instrument}"


def page(reading: Reading, ids: Sequence[int]) -> Sequence[Row]:
    """Give the rows of these jobs in this order; of those that are gone there is no row."""
    wanted = list(ids)
    fields = table_fields(Job)
    rows = reading.session.execute(
        select(
            Job.id,
            Person.name,
            Job.instrument_id,
            Job.hears,
            state_code(),
            *(column_of(Job, name) for name in fields),
        )
        .join(Person, Person.id == Job.client_id)
        .where(Job.id.in_(wanted))
    ).all()
    words = instrument_words(reading, [row.instrument_id for row in rows])
    owed = _owed(reading, wanted)
    found: dict[int, Row] = {}
    for key, client, instrument_id, hears, code, *values in rows:
        number, *further = (
            shown(reading, field, value) for field, value in zip(fields.values(), values, strict=True)
        )
        cells = (number, client, words[instrument_id], in_short(hears), *further, JOB_STATES[code])
        found[key] = Row(key, (*cells, owed.get(key)))
    return tuple(found[key] for key in ids if key in found)


def _owed(reading: Reading, job_ids: Sequence[int]) -> Mapping[int, Money]:
    """Give by job what its client owes on the bill that stands; jobs that are not billed to a client are left out."""
    rows = reading.session.execute(
        select(JobBill.job_id, JobBill.sale_id).where(
            JobBill.job_id.in_(job_ids), JobBill.taken_back_on.is_(None), JobBill.sale_id.is_not(None)
        )
    )
    sale_of = {job_id: sale_id for job_id, sale_id in rows if sale_id is not None}
    money = sales_money(reading, sale_of.values())
    return {job_id: money[sale_id].owes for job_id, sale_id in sale_of.items()}


def sheet(reading: Reading, job_id: int) -> Sheet:
    """Give the sheet of a job.

    Raises: NotFound: there is no such job.
    """
    # What a sheet reads is loaded with the first of them, after the table is shown.
    from shopledger.queries import job_sheet

    return job_sheet.sheet(reading, job_id)


TABLE = Table(
    name="jobs",
    subject=Subject.JOB,
    columns=COLUMNS,
    views=VIEWS,
    ids=ids,
    page=page,
    sort="promised_on",
    hint=N_("claim number, client, instrument, what is wanted"),
    empty=N_("Jobs stand here from the day they are left, by the day they are promised for."),
    first_act="open_job",
    slip=slip_in,
)
