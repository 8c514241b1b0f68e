"""Papers: the facts each states, its number, and the file that was rendered from them, kept by content."""

from __future__ import annotations

from datetime import date

from sqlalchemy.orm import Mapped

from shopledger.model.record import Record, hidden, key, link, shown
from shopledger.model.types import Bytes, Whole, Words
from shopledger.quantities.fields import Field, Kind
from shopledger.quantities.words import N_


class Paper(Record):
    """A paper that an act left: its facts are never changed; the file follows after the commit."""

    __tablename__ = "paper"

    id: Mapped[int] = key()
    number: Mapped[str] = shown(Field(N_("Paper"), searchable=True), unique=True)
    kind: Mapped[str] = hidden(Words(), "the kind's name in the list of papers")
    facts: Mapped[str] = hidden(Words(), "canonical JSON of what the paper states")
    facts_sha256: Mapped[str] = hidden(Words(), "printed in the code on the paper")
    issued_on: Mapped[date] = shown(Field(N_("Issued on"), Kind.DAY, required=True))
    op_id: Mapped[str] = hidden(Words(), "the act that left it", index=True)
    instrument_id: Mapped[int | None] = link("instrument.id", index=True)
    person_id: Mapped[int | None] = link("person.id", index=True)
    sale_id: Mapped[int | None] = link("sale.id", index=True)
    job_id: Mapped[int | None] = link("job.id", index=True)
    trial_id: Mapped[int | None] = link("trial.id", index=True)
    wish_id: Mapped[int | None] = link("wish.id", index=True)
    anchor_entry: Mapped[int] = hidden(Whole(), "the last entry when it was written; 0 before the first")
    anchor_hash: Mapped[str] = hidden(Words(), "that entry's hash")


class PaperFile(Record):
    """The rendered file of a paper."""

    __tablename__ = "paper_file"
    kept = False

    paper_id: Mapped[int] = link("paper.id", primary_key=True, autoincrement=False)
    sha256: Mapped[str] = hidden(Words(), "the name of the file")
    size: Mapped[int] = hidden(Whole(), "its length in bytes")


class Content(Record):
    """Files by content, where the ledger is a server's database and has no folder beside it."""

    __tablename__ = "content"
    kept = False

    sha256: Mapped[str] = hidden(Words(), "the name of the file", primary_key=True)
    bytes: Mapped[bytes] = hidden(Bytes(), "the file")
