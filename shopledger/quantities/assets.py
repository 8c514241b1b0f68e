"""Where the assets lie: beside a checkout, or inside an installed wheel."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

from shopledger.quantities.errors import Trouble
from shopledger.quantities.words import N_


def asset(*parts: str) -> Path:
    """Give the path of an asset, e.g. `asset("fonts", "SourceSans3-Regular.ttf")`.

    A wheel carries the assets as `shopledger/_assets`; in a checkout they lie in `assets/` beside the package.
    Raises: Trouble: the asset is not there (the program was copied without its assets).
    """
    package = Path(str(files("shopledger")))
    for root in (package / "_assets", package.parent / "assets"):
        path = root.joinpath(*parts)
        if path.exists():
            return path
    raise Trouble(
        N_("The file {name} of the program is missing. Install the program again."), name="/".join(parts)
    )
