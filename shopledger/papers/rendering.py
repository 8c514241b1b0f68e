"""From facts to the bytes of a PDF: the same facts always give the same bytes."""

from __future__ import annotations

from collections.abc import Callable
from hashlib import sha256

from shopledger.papers.facts import digest
from shopledger.papers.parts import PaperFacts
from shopledger.papers.registry import Kind, kind_named
from shopledger.quantities.errors import Bug
from shopledger.quantities.numbers import brief
from shopledger.quantities.words import N_, _

LONGEST_NUMBER = 40
"""Letters of a paper's number: it stands in the foot and in the code."""


def render(
    kind: Kind | str,
    facts: PaperFacts,
    *,
    mark: bytes | None = None,
    issued: bool = True,
    photograph: Callable[[str], bytes] | None = None,
) -> bytes:
    """Give the PDF of a paper.

    Shape:  `mark` is the picture (PNG or JPEG) that `facts.shop.mark_sha256` names, None where it names none;
            it is a part of the facts by its digest, so that the same facts give the same bytes. A paper that
            is not `issued` says so at the head, across and at the foot of every page, and bears no code.
            `photograph` gives the file of a photograph that the facts name by its SHA-256.
    Raises: Bug: the facts are of another kind, the mark or a photograph is not the one named, the number is no
            number, or a table doesn't add up.
    """
    # The layout library is slow to load, so it is loaded when the first paper is laid out.
    from shopledger.papers import letterhead, style
    from shopledger.papers.sheet import Sheet

    kind = kind_named(kind) if isinstance(kind, str) else kind
    if type(facts) is not kind.facts:
        raise Bug(N_("A paper of the kind {kind} was given the facts of another."), kind=kind.name)
    if (sha256(mark).hexdigest() if mark is not None else "") != facts.shop.mark_sha256:
        raise Bug(N_("The mark handed to a paper is not the one its facts name."))
    if not (0 < len(facts.number) <= LONGEST_NUMBER and facts.number.isprintable()):
        raise Bug(N_("The number of a paper is one short line, not {number}."), number=brief(facts.number))
    style.register_faces()
    sheet = Sheet(facts, photograph, issued=issued)
    kind.compose(facts, sheet)
    around = letterhead.Around(
        facts=facts, title=_(kind.title), digest=digest(facts), mark=mark, issued=issued
    )
    return letterhead.build(around, sheet.story)


def photographs_in(facts: PaperFacts) -> tuple[str, ...]:
    """Give the photographs that a paper shows, by their SHA-256; none for a kind that shows none."""
    return tuple(one.sha256 for one in getattr(facts, "photographs", ()))
