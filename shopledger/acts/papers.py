"""Papers: an act stores what its paper states; the file is rendered after the commit, as often as it takes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from shopledger.model import Paper, PaperFile, tables
from shopledger.quantities.errors import NotFound
from shopledger.quantities.words import N_, _
from shopledger.store.engine import for_writing
from shopledger.store.ledger import Ledger
from shopledger.store.trouble import told
from shopledger.store.unit import Reading, Writing

if TYPE_CHECKING:
    from shopledger.papers.parts import PaperFacts


@dataclass(frozen=True, slots=True)
class PaperDraft:
    """A paper as an act would leave it: its number is the next one now, and another act may take it.

    Shape:  `photographs` are the files that the facts name, by SHA-256, since an act that is only tried keeps none.
    """

    kind: str
    number: str
    facts: PaperFacts
    photographs: Mapping[str, bytes] = field(default_factory=dict)


def drafts_of(writing: Writing, paper_ids: Sequence[int]) -> tuple[PaperDraft, ...]:
    """Give what papers state that were left in a unit under way, in the order of their ids as given."""
    from shopledger.papers.facts import from_json
    from shopledger.papers.registry import kind_named
    from shopledger.papers.rendering import photographs_in

    drafts = []
    for key in paper_ids:
        paper = writing.session.get_one(Paper, key)
        facts = from_json(kind_named(paper.kind).facts, paper.facts)
        shown = {name: writing.ledger.files.get(name) for name in photographs_in(facts)}
        drafts.append(PaperDraft(paper.kind, paper.number, facts, shown))
    return tuple(drafts)


def draw_draft(draft: PaperDraft) -> bytes:
    """Render a paper that was not issued; its marks say so on every page. Nothing is kept."""
    from shopledger.papers.rendering import render

    return render(draft.kind, draft.facts, issued=False, photograph=draft.photographs.__getitem__)


def title_of_draft(draft: PaperDraft) -> str:
    """Give the title of the paper, without its number."""
    from shopledger.papers.registry import kind_named

    return _(kind_named(draft.kind).title)


def unprintable_on_draft(draft: PaperDraft) -> tuple[str, ...]:
    """Give a line for each text on the paper with letters that its type lacks."""
    from shopledger.papers.facts import to_json
    from shopledger.papers.unprintable import lines_of, unprintable

    return lines_of(unprintable(to_json(draft.facts)))


def leave_paper(
    writing: Writing,
    kind: str,
    facts: PaperFacts,
    *,
    instrument_id: int | None = None,
    person_id: int | None = None,
    sale_id: int | None = None,
    job_id: int | None = None,
    trial_id: int | None = None,
    wish_id: int | None = None,
) -> int:
    """Store what a paper states, under its number, in the act's own transaction; give the paper's id."""
    left = stating(
        writing,
        kind,
        facts,
        instrument_id=instrument_id,
        person_id=person_id,
        sale_id=sale_id,
        job_id=job_id,
        trial_id=trial_id,
        wish_id=wish_id,
    )
    return leave_together(writing, [left])[0]


def further_number(reading: Reading, number: str) -> str:
    """Give the number of the next paper after the first of something that goes on: `TR 2026-001/2`."""
    n = reading.session.scalar(
        select(func.count())
        .select_from(Paper)
        .where((Paper.number == number) | Paper.number.startswith(f"{number}/"))
    )
    return f"{number}/{int(n or 0) + 1}"


def leave_together(writing: Writing, papers: Sequence[Paper]) -> list[int]:
    """Store what several papers of one act state, in one go; give their ids."""
    writing.session.add_all(papers)
    writing.session.flush()
    return [int(paper.id) for paper in papers]


def stating(
    writing: Writing,
    kind: str,
    facts: PaperFacts,
    *,
    instrument_id: int | None = None,
    person_id: int | None = None,
    sale_id: int | None = None,
    job_id: int | None = None,
    trial_id: int | None = None,
    wish_id: int | None = None,
) -> Paper:
    """Give the record of a paper that states these facts, not yet stored."""
    from shopledger.papers.facts import digest_of, to_json

    anchor_entry, anchor_hash = writing.last_seal()
    stated = to_json(facts)
    return Paper(
        number=facts.number,
        kind=kind,
        facts=stated,
        facts_sha256=digest_of(stated),
        issued_on=facts.issued_on,
        op_id=writing.op_id,
        instrument_id=instrument_id,
        person_id=person_id,
        sale_id=sale_id,
        job_id=job_id,
        trial_id=trial_id,
        wish_id=wish_id,
        anchor_entry=anchor_entry,
        anchor_hash=anchor_hash,
    )


def issue_paper(ledger: Ledger, paper_id: int) -> str:
    """Render a paper and keep its file, once; give the file's name (its SHA-256). Safe to repeat.

    Raises: NotFound: there is no such paper. Trouble: the file can't be kept.
    """
    with ledger.read() as reading:
        have = reading.session.execute(
            select(PaperFile.sha256).where(PaperFile.paper_id == paper_id)
        ).scalar()
        if have is not None:
            return str(have)
        row = reading.session.execute(select(Paper.kind, Paper.facts).where(Paper.id == paper_id)).first()
    if row is None:
        raise NotFound(N_("There is no paper {id}."), id=str(paper_id))
    from shopledger.papers.facts import from_json
    from shopledger.papers.registry import kind_named
    from shopledger.papers.rendering import render

    facts = from_json(kind_named(row[0]).facts, row[1])
    return keep_paper(ledger, paper_id, render(row[0], facts, photograph=ledger.files.get))


def keep_paper(ledger: Ledger, paper_id: int, content: bytes) -> str:
    """Keep the rendered file of a paper, once; give the file's name (its SHA-256). Safe to repeat.

    Raises: Trouble: the file can't be kept.
    """
    return keep_papers(ledger, {paper_id: content})[0]


def keep_papers(ledger: Ledger, contents: Mapping[int, bytes]) -> list[str]:
    """Keep the rendered files of several papers in one go, each once; give the files' names. Safe to repeat.

    Shape:  `contents` is the file of each paper by its id.
    Raises: Trouble: a file can't be kept.
    """
    names = {paper_id: ledger.files.put(content) for paper_id, content in contents.items()}
    tables()
    with told(ledger.where), Session(for_writing(ledger.engine)) as session:
        # Two windows may render the same paper at once: the same facts give the same bytes, and one row stays.
        have = set(session.scalars(select(PaperFile.paper_id).where(PaperFile.paper_id.in_(names))))
        session.add_all(
            PaperFile(paper_id=paper_id, sha256=sha256, size=len(contents[paper_id]))
            for paper_id, sha256 in names.items()
            if paper_id not in have
        )
        session.commit()
    return list(names.values())
