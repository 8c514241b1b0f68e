"""Search: the words by which things are found that have a table, written anew by the acts that touch them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence, Set

from sqlalchemy import bindparam, insert, select, union_all, update
from sqlalchemy.orm import Session

from shopledger.model import (
    Agreement,
    Component,
    Estimate,
    Fitting,
    Goods,
    Instrument,
    Job,
    JobNote,
    LineReferral,
    Measurement,
    Ownership,
    OwnershipShare,
    Payment,
    Person,
    Record,
    Sale,
    SaleLine,
    Search,
    Stay,
    Trial,
    TrialLine,
    Wish,
    fields_of,
)
from shopledger.quantities.fields import Kind
from shopledger.store.matching import cut


def _searchable(record: Record) -> Iterable[str]:
    for name, field in fields_of(type(record)).items():
        if field.searchable:
            value = getattr(record, name)
            if value is not None:
                yield field.choice_word(value) if field.kind is Kind.CHOICE else str(value)


_OF_INSTRUMENT = union_all(
    select(Stay.number).where(Stay.instrument_id == bindparam("key")),
    select(Job.number).where(Job.instrument_id == bindparam("key")),
    select(Trial.number)
    .join(TrialLine, TrialLine.trial_id == Trial.id)
    .join(Stay, Stay.id == TrialLine.stay_id)
    .where(Stay.instrument_id == bindparam("key")),
    select(Agreement.number)
    .join(Stay, Stay.id == Agreement.stay_id)
    .where(Stay.instrument_id == bindparam("key")),
    select(Fitting.what).where(Fitting.instrument_id == bindparam("key")),
    select(Component.material + " " + Component.species).where(Component.instrument_id == bindparam("key")),
    select(Measurement.typed).where(Measurement.instrument_id == bindparam("key")),
    select(Person.name)
    .join(OwnershipShare, OwnershipShare.person_id == Person.id)
    .join(Ownership, Ownership.id == OwnershipShare.ownership_id)
    .where(Ownership.instrument_id == bindparam("key")),
)
_OF_SALE = union_all(
    select(Person.name).join(Sale, Sale.buyer_id == Person.id).where(Sale.id == bindparam("key")),
    select(SaleLine.what).where(SaleLine.sale_id == bindparam("key")),
    select(Instrument.number)
    .join(SaleLine, SaleLine.instrument_id == Instrument.id)
    .where(SaleLine.sale_id == bindparam("key")),
    select(Payment.number).where(Payment.sale_id == bindparam("key")),
)
_OF_JOB = union_all(
    select(Person.name).join(Job, Job.client_id == Person.id).where(Job.id == bindparam("key")),
    select(Estimate.number).where(Estimate.job_id == bindparam("key")),
    select(JobNote.words).where(JobNote.job_id == bindparam("key")),
)
_OF_TRIAL = union_all(
    select(Person.name).join(Trial, Trial.person_id == Person.id).where(Trial.id == bindparam("key")),
    select(TrialLine.what).where(TrialLine.trial_id == bindparam("key")),
)
"""What is found beside a record's own words, of an instrument, a sale, a job or a trial in one question."""
_AT = (Search.subject == bindparam("about"), Search.subject_id == bindparam("key"))
_WORDS_NOW = select(Search.words).where(*_AT)
_WRITE_ANEW = update(Search).where(*_AT).values(words=bindparam("anew"))
_WRITE = insert(Search)


def _instrument_words(session: Session, instrument: Instrument) -> list[str]:
    return [
        *_searchable(instrument),
        *session.connection().execute(_OF_INSTRUMENT, {"key": instrument.id}).scalars(),
    ]


def _sale_words(session: Session, sale: Sale) -> list[str]:
    return [*_searchable(sale), *session.connection().execute(_OF_SALE, {"key": sale.id}).scalars()]


def _job_words(session: Session, job: Job) -> list[str]:
    """Give the words of a job and its instrument, and the claim number also as one word, as it may be typed."""
    return [
        *_searchable(job),
        job.number.replace("-", ""),
        *_searchable(session.get_one(Instrument, job.instrument_id)),
        *session.connection().execute(_OF_JOB, {"key": job.id}).scalars(),
    ]


def _trial_words(session: Session, trial: Trial) -> list[str]:
    """Give the words of a trial, its player, and every instrument lent."""
    lent = (
        select(Instrument)
        .join(Stay, Stay.instrument_id == Instrument.id)
        .join(TrialLine, TrialLine.stay_id == Stay.id)
        .where(TrialLine.trial_id == trial.id)
    )
    return [
        *_searchable(trial),
        *session.connection().execute(_OF_TRIAL, {"key": trial.id}).scalars(),
        *(word for instrument in session.scalars(lent) for word in _searchable(instrument)),
    ]


def _wish_words(session: Session, wish: Wish) -> list[str]:
    """Give the words of a wish and of its player."""
    return [*_searchable(wish), *_searchable(session.get_one(Person, wish.person_id))]


_SUBJECTS = (Instrument, Person, Sale, Job, Goods, Trial, Wish)
"""The records that are found by words; a table of theirs is named as its subject is."""


def _about(session: Session, record: Record) -> list[tuple[str, int]]:
    """Which subjects a written record has words in."""
    match record:
        case Instrument():
            jobs = select(Job.id).where(Job.instrument_id == record.id)
            lent = (
                select(TrialLine.trial_id)
                .join(Stay, Stay.id == TrialLine.stay_id)
                .where(Stay.instrument_id == record.id)
            )
            return [
                ("instrument", record.id),
                *(("job", key) for key in session.scalars(jobs)),
                *(("trial", key) for key in session.scalars(lent)),
            ]
        case Person():
            owned = (
                select(Ownership.instrument_id)
                .join(OwnershipShare, OwnershipShare.ownership_id == Ownership.id)
                .where(OwnershipShare.person_id == record.id)
            )
            bought = select(Sale.id).where(Sale.buyer_id == record.id)
            left = select(Job.id).where(Job.client_id == record.id)
            took = select(Trial.id).where(Trial.person_id == record.id)
            looked = select(Wish.id).where(Wish.person_id == record.id)
            return [
                ("person", record.id),
                *(("instrument", key) for key in session.scalars(owned)),
                *(("sale", key) for key in session.scalars(bought)),
                *(("job", key) for key in session.scalars(left)),
                *(("trial", key) for key in session.scalars(took)),
                *(("wish", key) for key in session.scalars(looked)),
            ]
        case Stay() | Fitting() | Measurement() | Component() | Ownership():
            return [("instrument", record.instrument_id)]
        case OwnershipShare():
            return [("instrument", session.get_one(Ownership, record.ownership_id).instrument_id)]
        case Agreement():
            return [("instrument", session.get_one(Stay, record.stay_id).instrument_id)]
        case Job():
            return [("job", record.id), ("instrument", record.instrument_id)]
        case Estimate() | JobNote():
            return [("job", record.job_id)]
        case Trial():
            return [("trial", record.id)]
        case TrialLine() if record.stay_id is not None:
            lent_from = session.get_one(Stay, record.stay_id)
            return [("trial", record.trial_id), ("instrument", lent_from.instrument_id)]
        case TrialLine():
            return [("trial", record.trial_id)]
        case Wish():
            return [("wish", record.id)]
        case Goods():
            return [("goods", record.id)]
        case Sale():
            return [("sale", record.id)]
        case SaleLine():
            return [("sale", record.sale_id)]
        case Payment() if record.sale_id is not None:
            return [("sale", record.sale_id)]
        case LineReferral():
            return [("sale", session.get_one(SaleLine, record.sale_line_id).sale_id)]
        case _:
            return []


def words_of(session: Session, subject: str, subject_id: int) -> Sequence[str]:
    """Give the words by which one row is found, not yet folded."""
    if subject == "instrument":
        return _instrument_words(session, session.get_one(Instrument, subject_id))
    if subject == "sale":
        return _sale_words(session, session.get_one(Sale, subject_id))
    if subject == "job":
        return _job_words(session, session.get_one(Job, subject_id))
    if subject == "trial":
        return _trial_words(session, session.get_one(Trial, subject_id))
    if subject == "wish":
        return _wish_words(session, session.get_one(Wish, subject_id))
    if subject == "goods":
        return list(_searchable(session.get_one(Goods, subject_id)))
    return list(_searchable(session.get_one(Person, subject_id)))


def refresh_words(session: Session, touched: Iterable[Record], new: Set[Record]) -> None:
    """Write anew the words of every subject that the touched records belong to; the new ones have none yet."""
    fresh = {(str(record.__tablename__), record.id) for record in new if isinstance(record, _SUBJECTS)}
    subjects = dict.fromkeys(about for record in list(touched) for about in _about(session, record))
    connection = session.connection()
    for subject, subject_id in subjects:
        # Each word once and in order, so that words which are what they were are seen to be, and nothing is written.
        words = " ".join(sorted(set(cut(" ".join(words_of(session, subject, subject_id))))))
        row = {"about": subject, "key": subject_id}
        now = None if (subject, subject_id) in fresh else connection.execute(_WORDS_NOW, row).scalar()
        if now == words:
            continue
        if now is None:
            connection.execute(_WRITE, {"subject": subject, "subject_id": subject_id, "words": words})
        else:
            connection.execute(_WRITE_ANEW, {**row, "anew": words})
