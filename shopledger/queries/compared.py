"""A sheet of paper compared with the ledger by the code at its foot: which paper it is, and whether the facts agree."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from sqlalchemy import Row, select

from shopledger.model import Paper, Person
from shopledger.papers.facts import digest_of
from shopledger.papers.marks import read_mark
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import _
from shopledger.queries.papers import title_of
from shopledger.store.looking import looking


@dataclass(frozen=True, slots=True)
class Compared:
    """What the ledger says of a sheet of paper.

    Shape:  `digest` is what the code on the sheet holds, `kept` the SHA-256 of the facts in the ledger; where there
            is no paper of the number, `kind`, `to` and `kept` are empty and `issued_on` is None. `to` is empty too
            for a paper that goes to nobody.
    """

    number: str
    digest: str
    matches: bool
    says: str
    kind: str = ""
    issued_on: date | None = None
    to: str = ""
    kept: str = ""


def compare(where: str | Path, mark: str) -> Compared:
    """Compare the text of a scanned code with what the ledger keeps; nothing is written or migrated.

    Raises: Typed: the text is not of a paper's code. Trouble: the ledger can't be read.
    """
    number, digest = read_mark(mark)
    with looking(where) as looked:
        row = looked.connection.execute(
            select(Paper.kind, Paper.issued_on, Paper.facts, Paper.facts_sha256, Person.name)
            .outerjoin(Person, Person.id == Paper.person_id)
            .where(Paper.number == number)
        ).first()
    if row is None:
        words = _("There is no paper {number} in this ledger. It may be of another ledger, or made up.")
        return Compared(number, digest, matches=False, says=words.format(number=number))
    return _told(row, number, digest)


def _told(row: Row[str, date, str, str, str | None], number: str, digest: str) -> Compared:
    kind, issued_on, facts, stated, name = row
    kept = digest_of(facts)
    matches = digest == kept == stated
    to = name or ""
    if kept != stated:
        verdict = _(
            "What the ledger keeps of it was changed behind the program: shopledger prove tells more."
        )
    elif matches:
        verdict = _(
            "The code matches what the ledger keeps. It can't show whether the words over it were altered: compare them"
            " with the paper that the ledger keeps."
        )
    else:
        verdict = _("The code doesn't match: this sheet states something else than the ledger keeps.")
    issued = _("issued on {day} to {person}") if to else _("issued on {day}")
    says = _("{paper} {number}, {issued}. {verdict}").format(
        paper=_(title_of(kind)),
        number=number,
        issued=issued.format(day=show_day(issued_on), person=to),
        verdict=verdict,
    )
    return Compared(number, digest, matches, says, kind, issued_on, to, kept)
