"""How quickly the program answers: its version beside Python doing nothing."""

from __future__ import annotations

from tests.bench.measuring import Ratio, compare, process

# What the installed command does, without depending on whether it is installed.
VERSION = "import sys; from shopledger.boot import main; sys.exit(main(['--version']))"


def version() -> Ratio:
    """Compare `shopledger --version` with `python -c pass`."""
    return compare(
        "shopledger --version ÷ python -c pass",
        process(["-c", VERSION]),
        process(["-c", "pass"]),
        bound=3,
        runs=25,
    )
