"""How soon the window shows its first table of the example shop, beside a bare script with the same rows."""

from __future__ import annotations

import os
from pathlib import Path
from tempfile import TemporaryDirectory

from shopledger.example.building import build
from tests.bench.measuring import Ratio, compare, process


def first_table() -> Ratio:
    """Compare the window with a bare script that loads the same libraries, opens the same file, shows the same rows."""
    with TemporaryDirectory() as folder:
        build(Path(folder) / "shop")
        ledger, notes = str(Path(folder) / "shop" / "demo.ledger"), str(Path(folder) / "notes.json")
        # What the window remembers stays in the folder, not with whoever runs the bench.
        environ = {
            **os.environ,
            "HOME": folder,
            "XDG_CONFIG_HOME": folder,
            "XDG_CACHE_HOME": folder,
            "QT_QPA_PLATFORM": "offscreen",
            # As an installed program is: compiled once, and not anew at each start, whatever the bench was called with.
            "PYTHONPYCACHEPREFIX": str(Path(folder) / "compiled"),
        }
        environ.pop("PYTHONDONTWRITEBYTECODE", None)
        child = ["-m", "tests.bench.first_table"]
        # The first start compiles and keeps what further ones find; the second tells what these load and show.
        process([*child, "ours", ledger], environ)()
        process([*child, "ours", ledger, notes], environ)()
        return compare(
            "first table of the window ÷ a bare script with its rows",
            process([*child, "ours", ledger], environ),
            process([*child, "bare", ledger, notes], environ),
            bound=1.3,
            runs=21,
        )
