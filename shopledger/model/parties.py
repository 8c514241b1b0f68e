"""The parties to terms: the owners who agreed, and whose signature stands on paper."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from shopledger.model.record import Record, hidden, key, link, shown
from shopledger.model.types import Whole, Words
from shopledger.quantities.fields import Field, Kind
from shopledger.quantities.words import N_


class TermsOwner(Record):
    """An owner who is party to these terms, and their share."""

    __tablename__ = "terms_owner"
    __table_args__ = (UniqueConstraint("terms_id", "person_id"),)

    id: Mapped[int] = key()
    terms_id: Mapped[int] = link("terms.id")
    person_id: Mapped[int] = shown(Field(N_("Owner"), Kind.PERSON, required=True), index=True)
    share: Mapped[Fraction] = shown(Field(N_("Share"), Kind.RATE, required=True))
    n: Mapped[int] = hidden(Whole(), "the order in which owners are named")


class Signature(Record):
    """Terms signed on paper: by whom, when, and the scan where there is one."""

    __tablename__ = "signature"

    id: Mapped[int] = key()
    terms_id: Mapped[int] = link("terms.id", unique=True)
    signed_on: Mapped[date] = shown(Field(N_("Signed on"), Kind.DAY, required=True))
    signed_by: Mapped[str] = shown(Field(N_("Signed by"), required=True, personal=True))
    scan_sha256: Mapped[str] = hidden(Words(), "the name of the scan's file", default="")
