"""Building the example shop: its papers are made by other processes, which load what they need while this one does."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from shopledger.example.garbage import seldom_collected
from shopledger.example.workers import Workers

if TYPE_CHECKING:
    from shopledger.example.shop import Built


def build(directory: Path) -> Built:
    """Build the example shop in a folder: its ledger, the ledger's files, and its papers as PDF.

    What else lies in the folder stays. The same data come out every time.

    Raises: Trouble: a ledger is there already, or the folder can't be written.
    """
    with seldom_collected(), Workers() as workers:
        # The acts and all that they need, loaded while the other processes load the layout of papers.
        from shopledger.example.shop import tell

        return tell(Path(directory), workers)
