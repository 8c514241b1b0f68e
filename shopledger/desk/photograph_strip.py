"""All photographs of a page in one row: made small as they come into sight, opened large."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSize

from shopledger.desk.photographs import SIDE, PhotographList, Tile
from shopledger.desk.picture import pixels
from shopledger.desk.shop import Shop
from shopledger.desk.thumbnails import want
from shopledger.quantities.showing import show_day
from shopledger.quantities.words import _
from shopledger.queries.sheet_shapes import Shot


class PhotographStrip(PhotographList):
    """Kept photographs side by side, named by what they show, else by their day."""

    def __init__(self, shop: Shop, shots: Sequence[Shot]) -> None:
        """Show the photographs in their order."""
        super().__init__(_("Photographs"), rows=0)
        self.setObjectName("photograph_strip")
        self._shop, self._shots = shop, tuple(shots)
        days = [show_day(shot.on, shop.ledger.manners) for shot in shots]
        self.tiles.add(
            [
                Tile(
                    n,
                    shot.caption or day,
                    _("{n} of {m}: {caption}, {day}").format(
                        n=n + 1, m=len(days), caption=shot.caption or _("photograph"), day=day
                    ),
                )
                for n, (shot, day) in enumerate(zip(self._shots, days, strict=True))
            ]
        )
        self.tiles.awaited.connect(self.on_awaited)
        self.clicked.connect(lambda index: self.opened.emit(index.row()))

    def on_awaited(self, n: int) -> None:
        """Ask for one that came into sight."""
        room = pixels(QSize(SIDE, SIDE), self)
        found = want(self, self._shop, self._shots[n].sha256, room, lambda image: self.tiles.show(n, image))
        if found is not None:
            self.tiles.tiles[n].image = found
