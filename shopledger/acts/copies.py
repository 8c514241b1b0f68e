"""Copies of the ledger: noting that one was made and where it is kept, so that the page of the day tells its age."""

from __future__ import annotations

from dataclasses import dataclass

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.model import SafeCopy, field_of
from shopledger.quantities.errors import Typed
from shopledger.quantities.fields import ask
from shopledger.quantities.words import N_
from shopledger.queries.shapes import Subject
from shopledger.store.unit import Writing


@dataclass(frozen=True, kw_only=True)
class NoteCopy(Form):
    """A copy of the ledger and its folder of files, made on the day of the form."""

    where_kept: str = ask(field_of(SafeCopy.where_kept))


def run_note_copy(writing: Writing, form: NoteCopy) -> Outcome:
    """Note the copy; the ledger can't tell by itself whether it was made."""
    where = form.where_kept.strip()
    if not where:
        raise Typed(
            N_("Where the copy is kept is missing: name the disk or the place, apart from this machine."),
            field="where_kept",
        )
    writing.add(SafeCopy(made_on=form.on, where_kept=where))
    return Outcome(Subject.SHOP, 1, frozenset({Subject.SHOP}))


NOTE_COPY = Act(
    name="note_copy",
    text=N_("Note a copy of the ledger"),
    subject=Subject.SHOP,
    form=NoteCopy,
    run=run_note_copy,
    help=N_(
        "Copy the ledger's file and the folder of the same name that ends in .files while the window is closed, "
        "then say here where the copy is kept."
    ),
)
ACTS = (NOTE_COPY,)
