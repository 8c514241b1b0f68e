"""The first thing that runs: it answers `--version` by itself and hands everything else to the command line.

It imports nothing but the version, so that the answer comes at once; libraries wait until a command needs them.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence

from shopledger import __version__


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the program with these arguments (those of the process where there are none) and give its exit status."""
    given = sys.argv[1:] if arguments is None else list(arguments)
    if given[:1] == ["--version"]:
        print(f"shopledger {__version__}")
        return 0
    from shopledger.cli import run

    return run(given)
