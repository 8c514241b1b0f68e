"""Sample facts for every kind of paper: an ordinary case, a long one, and an empty one.

Everything is invented: a retired maker in a harbour town that does not exist. The same samples serve the tests,
the pictures and the bench.
"""

from __future__ import annotations

from tests.papers.sample_empty import empty
from tests.papers.sample_long import long
from tests.papers.sample_ordinary import ordinary
from tests.papers.sample_things import LETTER, LONG_SHOP, SHOP

__all__ = ["LETTER", "LONG_SHOP", "SHOP", "empty", "long", "ordinary"]
