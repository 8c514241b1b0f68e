"""Rendering a paper in another process, so that the acts of the story needn't wait for it: light to import there."""

from __future__ import annotations


def made_ready() -> None:
    """Load all that a paper needs, so that the first one needn't wait for it."""
    from shopledger.papers import letterhead, registry, style

    del letterhead, registry
    style.register_faces()


def rendered(kind: str, facts: str) -> bytes:
    """Give the file of a paper of a kind from the JSON of its facts."""
    from shopledger.papers.facts import from_json
    from shopledger.papers.registry import kind_named
    from shopledger.papers.rendering import render

    return render(kind, from_json(kind_named(kind).facts, facts))
