"""Assets are found beside a checkout and inside a wheel, and a missing one is told in a sentence."""

from __future__ import annotations

from pathlib import Path

import pytest

from shopledger.quantities import assets
from shopledger.quantities.assets import asset
from shopledger.quantities.errors import Trouble


def test_an_asset_lies_beside_the_checkout() -> None:
    path = asset("fonts", "SourceSans3-Regular.ttf")
    assert path.is_file()
    assert path.parent.parent.name == "assets"


def test_an_installed_wheel_carries_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    package = tmp_path / "shopledger"
    (package / "_assets" / "fonts").mkdir(parents=True)
    (package / "_assets" / "fonts" / "a.ttf").write_bytes(b"")
    monkeypatch.setattr(assets, "files", lambda name: tmp_path / name)
    assert asset("fonts", "a.ttf") == package / "_assets" / "fonts" / "a.ttf"


def test_a_missing_asset_says_what_to_do() -> None:
    with pytest.raises(
        Trouble, match=r"fonts/none\.ttf of the program is missing\. Install the program again\."
    ):
        asset("fonts", "none.ttf")
