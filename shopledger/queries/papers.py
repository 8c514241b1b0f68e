"""Papers and pictures: which papers there are about a thing, and their bytes as they were issued."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from sqlalchemy import ColumnElement, select

from shopledger.model import Paper, PaperFile, Stay, TrialLine
from shopledger.quantities.errors import NotFound, Trouble
from shopledger.quantities.words import N_
from shopledger.queries.sheet_shapes import PaperRow

if TYPE_CHECKING:
    from shopledger.store.ledger import Ledger
    from shopledger.store.unit import Reading


def title_of(kind: str) -> str:
    """Give the marked title of a kind of paper; of one that isn't known, its own name."""
    from shopledger.papers.registry import KINDS

    return KINDS[kind].title if kind in KINDS else kind


def _papers(reading: Reading, *which: ColumnElement[bool]) -> tuple[PaperRow, ...]:
    rows = reading.session.execute(
        select(Paper.id, Paper.number, Paper.kind, Paper.issued_on, PaperFile.sha256)
        .outerjoin(PaperFile, PaperFile.paper_id == Paper.id)
        .where(*which)
        .order_by(Paper.id.desc())
    )
    return tuple(
        PaperRow(key, number, title_of(kind), on, issued=sha256 is not None)
        for key, number, kind, on, sha256 in rows
    )


def papers_of(
    reading: Reading,
    *,
    instrument_id: int | None = None,
    person_id: int | None = None,
    sale_id: int | None = None,
    job_id: int | None = None,
    trial_id: int | None = None,
    wish_id: int | None = None,
    op_id: str | None = None,
) -> tuple[PaperRow, ...]:
    """Give the papers about a thing, the newest first; of several things named, those about all of them."""
    asked: Sequence[tuple[ColumnElement[bool], object]] = (
        (Paper.instrument_id == instrument_id, instrument_id),
        (Paper.person_id == person_id, person_id),
        (Paper.sale_id == sale_id, sale_id),
        (Paper.job_id == job_id, job_id),
        (Paper.trial_id == trial_id, trial_id),
        (Paper.wish_id == wish_id, wish_id),
        (Paper.op_id == op_id, op_id),
    )
    return _papers(reading, *(which for which, value in asked if value is not None))


def papers_about(reading: Reading, instrument_id: int, sale_ids: Sequence[int]) -> tuple[PaperRow, ...]:
    """Give the papers about an instrument, its sales and its trials, each once, the newest first.

    Of a trial of several things, those about one of the others are left out.
    """
    trials = (
        select(TrialLine.trial_id)
        .join(Stay, Stay.id == TrialLine.stay_id)
        .where(Stay.instrument_id == instrument_id)
        .scalar_subquery()
    )
    return _papers(
        reading,
        (Paper.instrument_id == instrument_id)
        | Paper.sale_id.in_(sale_ids)
        | (Paper.trial_id.in_(trials) & Paper.instrument_id.is_(None)),
    )


def numbered(reading: Reading, numbers: Sequence[str]) -> Mapping[str, int]:
    """Give the papers of these numbers by number; numbers without a paper are left out."""
    rows = reading.session.execute(select(Paper.number, Paper.id).where(Paper.number.in_(numbers)))
    return {number: key for number, key in rows}  # noqa: C416 - a result has keys(), so dict() misreads it


def paper_row(reading: Reading, paper_id: int) -> PaperRow:
    """Give one paper.

    Raises: NotFound: there is no such paper.
    """
    found = _papers(reading, Paper.id == paper_id)
    if not found:
        raise NotFound(N_("There is no paper with the key {id} in this ledger."), id=paper_id)
    return found[0]


def unprintable_on(reading: Reading, paper_id: int) -> tuple[str, ...]:
    """Give a line for each text on a paper with letters that its type lacks."""
    from shopledger.papers.unprintable import lines_of, unprintable

    stated = reading.session.scalar(select(Paper.facts).where(Paper.id == paper_id))
    return lines_of(unprintable(stated or "{}"))


def paper_csv(reading: Reading, paper_id: int) -> bytes:
    """Give what a paper states as CSV for a spreadsheet; nothing of a kind that is no list.

    Raises: NotFound: there is no such paper.
    """
    from shopledger.papers.facts import from_json
    from shopledger.papers.registry import kind_named

    row = reading.session.execute(select(Paper.kind, Paper.facts).where(Paper.id == paper_id)).first()
    if row is None:
        raise NotFound(N_("There is no paper with the key {id} in this ledger."), id=paper_id)
    kind = kind_named(row[0])
    return b"" if kind.csv is None else kind.csv(from_json(kind.facts, row[1]))


def paper_bytes(ledger: Ledger, paper_id: int) -> bytes:
    """Give an issued paper, byte for byte as it was issued.

    Raises: NotFound: there is no such paper, or its file is missing. Trouble: it waits to be issued, or was changed.
    """
    with ledger.read() as reading:
        row = paper_row(reading, paper_id)
        sha256 = reading.session.scalar(select(PaperFile.sha256).where(PaperFile.paper_id == paper_id))
    if sha256 is None:
        raise Trouble(
            N_("{paper} is not issued yet: its file is still to be made. Issue it, then open it."),
            paper=row.number,
        )
    return ledger.files.get(sha256)


def picture_bytes(ledger: Ledger, sha256: str) -> bytes:
    """Give a photograph's file.

    Raises: NotFound: the file is missing. Trouble: it was changed since it was kept.
    """
    return ledger.files.get(sha256)
