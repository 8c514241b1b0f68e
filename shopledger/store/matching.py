"""What is typed to find something, cut into plain words and matched with those that the search has of each thing.

The words are folded (no accents, no case) when they are written and when they are asked for. What a user types never
reaches the query syntax of either database: it is cut into plain words first.
"""

from __future__ import annotations

import re
import unicodedata

from sqlalchemy import ColumnElement, Select, func, literal_column, select, text
from sqlalchemy.orm import Session

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
    return cut(typed)[:MOST_WORDS]


def cut(words: str) -> list[str]:
    """Cut words into folded ones of letters and figures, none over sixty letters long."""
    # Written and asked words are cut alike, since each database would cut an address or a length its own way.
    return [word[:LONGEST_WORD] for word in _WORD.findall(fold(words))]


def matching(session: Session, subject: str, typed: str) -> Select[int] | None:
    """Give a query for the ids of a subject whose words begin with every typed word; None where nothing was typed."""
    words = plain_words(typed)
    if not words:
        return None
    from shopledger.model import Search

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
