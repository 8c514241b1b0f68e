"""Colours of the window: two palettes over the Fusion style, the only place with colour literals.

The room is light or dark as the system says, or as chosen in Settings. Whatever is painted by hand asks `colours()`
while it paints, so that a change of palette needs no more than a repaint.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QApplication

from shopledger.queries.shapes import Tone


class Scheme(Enum):
    """Which palette is wanted: the system's, or one of the two."""

    SYSTEM = "system"
    LIGHT = "light"
    DARK = "dark"


@dataclass(frozen=True, slots=True)
class Colours:
    """One palette by the names of things; every value is a colour as `#RRGGBB`."""

    paper: str
    sheet: str
    ink: str
    quiet: str
    hairline: str
    varnish: str
    moss: str
    ochre: str
    madder: str
    slate: str

    def tone(self, tone: Tone) -> QColor:
        """Give the colour of a tone."""
        return QColor(str(getattr(self, tone.value)))

    def wash(self, colour: QColor | str, share: float, ground: str = "") -> QColor:
        """Give a ground tinted with a share (0 to 1) of a colour; the ground is the sheet unless said."""
        top, under = QColor(colour), QColor(ground or self.sheet)
        mixed = (
            round(over * share + below * (1 - share))
            for over, below in (
                (top.red(), under.red()),
                (top.green(), under.green()),
                (top.blue(), under.blue()),
            )
        )
        return QColor(*mixed)

    @property
    def selected(self) -> QColor:
        """The ground of the selected row."""
        return self.wash(self.varnish, 0.08, self.paper)

    @property
    def hovered(self) -> QColor:
        """The ground of whatever the pointer is over."""
        return self.wash(self.varnish, 0.04, self.paper)

    @property
    def edge(self) -> QColor:
        """The line under an input: at least 3 to 1 against the sheet, unlike a hairline."""
        return self.wash(self.quiet, 0.8)


LIGHT = Colours(
    paper="#FAF7F2",
    sheet="#FFFFFF",
    ink="#2A2622",
    quiet="#6B635A",
    hairline="#E3DCD1",
    varnish="#8A4B1F",
    moss="#4F6B3A",
    ochre="#8A6112",
    madder="#9B2F2F",
    slate="#3F5E78",
)
DARK = Colours(
    paper="#1E1B18",
    sheet="#26221E",
    ink="#EDE6DC",
    quiet="#A89D90",
    hairline="#3A342E",
    varnish="#D08A4E",
    moss="#8FB070",
    ochre="#D9A64A",
    madder="#D9736B",
    slate="#86A9C6",
)

GROUND, LOOKED_AT = 0.28, 0.45
"""The share of a tone in the ground of a stretch of custody, and in that of the one that is looked at."""

_shown = LIGHT


def colours() -> Colours:
    """Give the palette that is shown now."""
    return _shown


def wanted(scheme: Scheme, app: QApplication) -> Colours:
    """Give the palette for a scheme, asking the system where that is wished."""
    if scheme is Scheme.SYSTEM:
        dark = app.styleHints().colorScheme() is Qt.ColorScheme.Dark
        return DARK if dark else LIGHT
    return DARK if scheme is Scheme.DARK else LIGHT


def choose(palette: Colours) -> QPalette:
    """Make this the palette that is shown and give it in Qt's roles."""
    global _shown
    _shown = palette
    return _as_roles(palette)


def _as_roles(palette: Colours) -> QPalette:
    roles = QPalette()
    role = QPalette.ColorRole
    for name, colour in (
        (role.Window, palette.paper),
        (role.WindowText, palette.ink),
        (role.Base, palette.sheet),
        (role.AlternateBase, palette.paper),
        (role.Text, palette.ink),
        (role.Button, palette.sheet),
        (role.ButtonText, palette.ink),
        (role.BrightText, palette.sheet),
        (role.ToolTipBase, palette.ink),
        (role.ToolTipText, palette.sheet),
        (role.PlaceholderText, palette.quiet),
        (role.Highlight, palette.varnish),
        (role.HighlightedText, palette.sheet),
        (role.Accent, palette.varnish),
        (role.Link, palette.varnish),
        (role.LinkVisited, palette.varnish),
        (role.Light, palette.sheet),
        (role.Midlight, palette.hairline),
        (role.Mid, palette.hairline),
        (role.Dark, palette.quiet),
        (role.Shadow, palette.hairline),
    ):
        roles.setColor(name, QColor(colour))
    for name in (role.WindowText, role.Text, role.ButtonText):
        roles.setColor(QPalette.ColorGroup.Disabled, name, QColor(palette.quiet))
    return roles
