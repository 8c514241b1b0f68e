"""The look of Qt's own controls, said once: underlined inputs as on a paper form, hairlines, no boxes in boxes.

The words of the style sheet take their colours from the palette; fonts are set on widgets, never here, so that the
tabular figures stay.
"""

from __future__ import annotations

import sys

from PySide6.QtWidgets import QApplication

from shopledger.desk.fonts import load_fonts, sans
from shopledger.desk.palette import Colours, Scheme, choose, wanted

_RULES = """
QLabel[tone="quiet"] {{ color: {quiet}; }}
QLabel[tone="varnish"] {{ color: {varnish}; }}
QLabel[tone="moss"] {{ color: {moss}; }}
QLabel[tone="ochre"] {{ color: {ochre}; }}
QLabel[tone="madder"] {{ color: {madder}; }}
QLabel[tone="slate"] {{ color: {slate}; }}
QToolTip {{ background: {ink}; color: {paper}; border: 0; padding: 4px 8px; }}

QScrollArea, QAbstractScrollArea {{ border: 0; }}
QLineEdit, QPlainTextEdit, QComboBox {{
    background: transparent; color: {ink}; border: 0; border-bottom: 1px solid {edge}; border-radius: 0;
    padding: 3px 0 4px 0; selection-background-color: {varnish}; selection-color: {sheet};
}}
QLineEdit, QComboBox {{ min-height: 20px; }}
QLineEdit:focus, QPlainTextEdit:focus, QComboBox:focus {{
    border-bottom: 2px solid {varnish}; padding-bottom: 3px;
}}
QLineEdit[wrong="true"], QPlainTextEdit[wrong="true"], QComboBox[wrong="true"] {{
    border-bottom: 2px solid {madder}; padding-bottom: 3px;
}}
QLineEdit:disabled, QPlainTextEdit:disabled, QComboBox:disabled {{ color: {quiet}; }}
QLineEdit:read-only {{ border-bottom-color: {hairline}; }}
QComboBox::drop-down {{ border: 0; width: 0; }}
QComboBox::down-arrow {{ image: none; }}
QComboBox QAbstractItemView {{
    background: {sheet}; color: {ink}; border: 1px solid {edge}; padding: 4px; outline: 0;
    selection-background-color: {selected}; selection-color: {ink};
}}

QPushButton {{
    color: {varnish}; background: transparent; border: 1px solid {varnish_line}; border-radius: 4px;
    padding: 3px 11px; min-height: 20px;
}}
QPushButton:hover {{ background: {hovered}; }}
QPushButton:pressed {{ background: {selected}; }}
QPushButton:focus {{ border: 2px solid {varnish}; padding: 2px 10px; }}
QPushButton:disabled {{ color: {quiet}; border-color: {hairline}; }}
QPushButton[weight="main"] {{ background: {varnish}; color: {sheet}; border: 1px solid {varnish}; }}
QPushButton[weight="main"]:focus {{ border: 2px solid {ink}; }}
QPushButton[weight="main"]:disabled {{ background: {hairline}; color: {quiet}; border-color: {hairline}; }}
QPushButton[weight="quiet"] {{ border: 1px solid transparent; color: {quiet}; padding: 3px 7px; }}
QPushButton[weight="quiet"]:hover {{ color: {varnish}; background: transparent; }}
QPushButton[weight="quiet"]:focus {{ border: 1px solid {varnish}; color: {varnish}; }}
QPushButton[weight="view"] {{
    border: 0; border-bottom: 2px solid transparent; border-radius: 0; color: {quiet}; padding: 3px 0 3px 0;
}}
QPushButton[weight="view"]:hover {{ color: {varnish}; background: transparent; }}
QPushButton[weight="view"]:checked {{ color: {ink}; border-bottom: 2px solid {varnish}; }}
QPushButton[weight="view"]:focus {{ color: {varnish}; border-bottom: 2px solid {ink}; }}
QPushButton[weight="row"] {{
    border: 0; border-bottom: 1px solid {hairline}; border-radius: 0; color: {ink}; text-align: left;
    padding: 5px 0; min-height: 20px;
}}
QPushButton[weight="row"]:hover {{ color: {varnish}; background: transparent; }}
QPushButton[weight="row"]:focus {{ border-bottom: 2px solid {varnish}; padding: 5px 0 4px 0; }}

QCheckBox, QRadioButton {{ spacing: 8px; min-height: 24px; }}
QCheckBox::indicator, QRadioButton::indicator {{ width: 14px; height: 14px; border: 1px solid {edge}; }}
QCheckBox::indicator {{ border-radius: 2px; }}
QRadioButton::indicator {{ border-radius: 7px; }}
QCheckBox::indicator:checked, QRadioButton::indicator:checked {{
    background: {varnish}; border: 1px solid {varnish};
}}
QCheckBox:focus, QRadioButton:focus {{ color: {varnish}; }}

QListWidget {{ background: transparent; border: 0; outline: 0; }}
QListWidget::item {{ min-height: 32px; padding: 0 12px; border: 0; color: {ink}; }}
QListWidget::item:hover {{ background: {hovered}; }}
QListWidget::item:selected {{ background: {selected}; color: {ink}; }}
QListWidget[weight="places"]::item {{ padding: 0 12px 0 17px; border-left: 3px solid transparent; }}
QListWidget[weight="places"]::item:selected {{
    background: transparent; color: {varnish}; border-left: 3px solid {varnish};
}}
QListWidget[weight="found"] {{ border-bottom: 1px solid {hairline}; }}
QListWidget[weight="found"]::item {{ min-height: 28px; padding: 0 4px; }}

QTableView {{ background: transparent; border: 0; outline: 0; }}
QTableView::item {{ border: 0; }}
QHeaderView {{ background: transparent; border: 0; }}
QTableCornerButton::section {{ background: transparent; border: 0; }}

QScrollBar:vertical {{ background: transparent; width: 10px; margin: 0; }}
QScrollBar:horizontal {{ background: transparent; height: 10px; margin: 0; }}
QScrollBar::handle {{ background: {handle}; border-radius: 3px; margin: 2px; }}
QScrollBar::handle:vertical {{ min-height: 32px; }}
QScrollBar::handle:horizontal {{ min-width: 32px; }}
QScrollBar::add-line, QScrollBar::sub-line {{ width: 0; height: 0; }}
QScrollBar::add-page, QScrollBar::sub-page {{ background: transparent; }}
QAbstractScrollArea::corner {{ background: transparent; border: 0; }}
QSplitter::handle {{ background: {hairline}; }}
QProgressBar {{ background: {hairline}; border: 0; border-radius: 2px; max-height: 4px; }}
QProgressBar::chunk {{ background: {varnish}; border-radius: 2px; }}
"""


def rules(palette: Colours) -> str:
    """Give the style sheet in the colours of a palette."""
    names = {name: getattr(palette, name) for name in palette.__dataclass_fields__}
    return _RULES.format(
        **names,
        edge=palette.edge.name(),
        selected=palette.selected.name(),
        hovered=palette.hovered.name(),
        varnish_line=palette.wash(palette.varnish, 0.5).name(),
        handle=palette.wash(palette.quiet, 0.4).name(),
    )


ALIKE = ("-style", "fusion")
"""What Qt is asked at its start, so that every system draws its controls alike.

A style that is handed over from here later has to be known here first, with all its enums: that takes longer.
"""


def application() -> QApplication:
    """Give the application, drawn alike on every system; made where there is none."""
    app = QApplication.instance() or QApplication([*sys.argv[:1], *ALIKE])
    assert isinstance(app, QApplication)
    return app


def dress(app: QApplication, scheme: Scheme) -> None:
    """Give the application its fonts and colours; called again when the scheme changes."""
    load_fonts()
    palette = wanted(scheme, app)
    app.setPalette(choose(palette))
    app.setFont(sans())
    sheet = rules(palette)
    if app.styleSheet() != sheet:
        app.setStyleSheet(sheet)
