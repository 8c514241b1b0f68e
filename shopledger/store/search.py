"""Search: the words by which an instrument, a person or a sale is found, the same answer on both databases.

The words are folded (no accents, no case) when they are written and when they are asked for. What a user types never
reaches the query syntax of either database: it is cut into plain words first.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence

from sqlalchemy import ColumnElement, Select, delete, func, insert, literal_column, select, text
from sqlalchemy.orm import Session

from shopledger.model import (
    Agreement,
    Fitting,
    Instrument,
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
    fields_of,
)
from shopledger.quantities.fields import Kind

LONGEST_WORD = 60
MOST_WORDS = 12
_WORD = re.compile(r"[^\W_]+", re.UNICODE)


_WHOLE_LETTERS = str.maketrans(
    {"ø": "o", "ł": "l", "đ": "d", "ð": "d", "ħ": "h", "\u0131": "i", "æ": "ae", "œ": "oe", "þ": "th"}
)
"""Letters that Unicode doesn't take apart into a plain one and its mark."""


def fold(words: str) -> str:
    """Give words without accents and case, so that Händel is found by handel and Øster by oster."""
    decomposed = unicodedata.normalize("NFKD", words.casefold())
    bare = "".join(letter for letter in decomposed if not unicodedata.combining(letter))
    return unicodedata.normalize("NFC", bare.translate(_WHOLE_LETTERS))


def plain_words(typed: str) -> list[str]:
    """Cut what was typed into folded words of letters and figures; at most a dozen, none over sixty letters long."""
    return _cut(typed)[:MOST_WORDS]


def _cut(words: str) -> list[str]:
    # Written and asked words are cut alike, since each database would cut an address or a length its own way.
    return [word[:LONGEST_WORD] for word in _WORD.findall(fold(words))]


def matching(session: Session, subject: str, typed: str) -> Select[int] | None:
    """Give a query for the ids of a subject whose words begin with every typed word; None where nothing was typed."""
    words = plain_words(typed)
    if not words:
        return None
    found: ColumnElement[bool]
    if session.get_bind().dialect.name == "sqlite":
        asked = " AND ".join(f'"{word}"*' for word in words)
        hits = text("SELECT rowid FROM search_fts WHERE search_fts MATCH :asked").bindparams(asked=asked)
        found = Search.id.in_(hits.columns(literal_column("rowid")).scalar_subquery())
    else:
        asked = " & ".join(f"'{word}':*" for word in words)
        vector = func.to_tsvector(literal_column("'simple'"), Search.words)
        found = vector.op("@@")(func.to_tsquery(literal_column("'simple'"), asked))
    return select(Search.subject_id).where(Search.subject == subject, found)


def _searchable(record: Record) -> Iterable[str]:
    for name, field in fields_of(type(record)).items():
        if field.searchable:
            value = getattr(record, name)
            if value is not None:
                yield field.choice_word(value) if field.kind is Kind.CHOICE else str(value)


def _instrument_words(session: Session, instrument: Instrument) -> list[str]:
    words = list(_searchable(instrument))
    stays = session.scalars(select(Stay).where(Stay.instrument_id == instrument.id)).all()
    numbers = select(Agreement.number).where(Agreement.stay_id.in_([stay.id for stay in stays]))
    words += [stay.number for stay in stays]
    words += session.scalars(numbers).all()
    words += session.scalars(select(Fitting.what).where(Fitting.instrument_id == instrument.id)).all()
    words += session.scalars(
        select(Measurement.typed).where(Measurement.instrument_id == instrument.id)
    ).all()
    owners = (
        select(Person.name)
        .join(OwnershipShare, OwnershipShare.person_id == Person.id)
        .join(Ownership, Ownership.id == OwnershipShare.ownership_id)
        .where(Ownership.instrument_id == instrument.id)
    )
    words += session.scalars(owners).all()
    return words


def _sale_words(session: Session, sale: Sale) -> list[str]:
    words = list(_searchable(sale))
    words += session.scalars(select(Person.name).where(Person.id == sale.buyer_id)).all()
    words += session.scalars(select(SaleLine.what).where(SaleLine.sale_id == sale.id)).all()
    numbers = select(Instrument.number).join(SaleLine, SaleLine.instrument_id == Instrument.id)
    words += session.scalars(numbers.where(SaleLine.sale_id == sale.id)).all()
    words += session.scalars(select(Payment.number).where(Payment.sale_id == sale.id)).all()
    return words


def _about(session: Session, record: Record) -> list[tuple[str, int]]:
    """Which subjects a written record has words in."""
    match record:
        case Instrument():
            return [("instrument", record.id)]
        case Person():
            owned = (
                select(Ownership.instrument_id)
                .join(OwnershipShare, OwnershipShare.ownership_id == Ownership.id)
                .where(OwnershipShare.person_id == record.id)
            )
            bought = select(Sale.id).where(Sale.buyer_id == record.id)
            return [
                ("person", record.id),
                *(("instrument", key) for key in session.scalars(owned)),
                *(("sale", key) for key in session.scalars(bought)),
            ]
        case Stay() | Fitting() | Measurement() | Ownership():
            return [("instrument", record.instrument_id)]
        case OwnershipShare():
            return [("instrument", session.get_one(Ownership, record.ownership_id).instrument_id)]
        case Agreement():
            return [("instrument", session.get_one(Stay, record.stay_id).instrument_id)]
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
    return list(_searchable(session.get_one(Person, subject_id)))


def refresh_words(session: Session, touched: Iterable[Record]) -> None:
    """Write anew the words of every subject that the touched records belong to."""
    subjects = dict.fromkeys(about for record in list(touched) for about in _about(session, record))
    connection = session.connection()
    for subject, subject_id in subjects:
        words = " ".join(_cut(" ".join(words_of(session, subject, subject_id))))
        connection.execute(delete(Search).where(Search.subject == subject, Search.subject_id == subject_id))
        connection.execute(insert(Search).values(subject=subject, subject_id=subject_id, words=words))
