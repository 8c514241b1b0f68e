"""A child of the bench: shows a first table, by the program's own window or by a bare script, and leaves.

`python -m tests.bench.first_table ours LEDGER [NOTES]` opens the window; with NOTES it also writes down which libraries
were loaded and what the table showed. `… bare LEDGER NOTES` loads the same libraries, opens the same file and shows the
same rows.
"""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path
from typing import Any


def leave_after_first_painting(kind: Any, notes: Path | None) -> None:
    """End the process once a table of this kind has been painted with rows in it.

    The painting itself tells of it. A filter of the application's events would be asked at each event of each widget,
    and weigh most on the window that has more of them.
    """
    from PySide6.QtCore import QTimer

    paint = kind.paintEvent

    def paint_and_leave(view: Any, event: Any) -> None:
        if view.model().rowCount() > 0:
            kind.paintEvent = paint
            # Put in the queue before the painting queues anything else, and done once it is over.
            QTimer.singleShot(0, lambda: _leave(view, notes))
        paint(view, event)

    kind.paintEvent = paint_and_leave


def _leave(view: Any, notes: Path | None) -> None:
    """Write the notes where they are wanted, and end at once, without taking anything down."""
    if notes is not None:
        from PySide6.QtCore import Qt

        model = view.model()
        rows, columns = range(model.rowCount()), range(model.columnCount())
        shown = [[str(model.index(r, c).data() or "") for c in columns] for r in rows]
        heads = [str(model.headerData(c, Qt.Orientation.Horizontal) or "") for c in columns]
        own = {"shopledger", "tests", "__main__"} | sys.stdlib_module_names
        loaded = [name for name in sys.modules if name.split(".")[0] not in own]
        notes.write_text(json.dumps({"loaded": loaded, "heads": heads, "rows": shown}), encoding="utf-8")
    os._exit(0)


def ours(ledger: str, notes: Path | None) -> int:
    """Open the program's window."""
    from shopledger.screen import load_window

    run_window = load_window()
    from shopledger.desk.table_view import TableView

    leave_after_first_painting(TableView, notes)
    return run_window(ledger)


def bare(ledger: str, notes: Path) -> int:
    """Show the rows in a plain table, with the same libraries loaded and the same file read."""
    from contextlib import suppress
    from importlib import import_module

    told = json.loads(notes.read_text(encoding="utf-8"))
    for name in told["loaded"]:
        # Some libraries name modules that can't be imported by themselves.
        with suppress(ImportError):
            import_module(name)
    from PySide6.QtGui import QPaintEvent, QStandardItem, QStandardItemModel
    from PySide6.QtWidgets import QApplication, QTableView
    from sqlalchemy import create_engine, text

    application = QApplication(sys.argv[:1])

    class Plain(QTableView):
        def paintEvent(self, event: QPaintEvent) -> None:
            super().paintEvent(event)

    leave_after_first_painting(Plain, None)
    with create_engine(f"sqlite:///{ledger}").connect() as connection:
        connection.execute(text("SELECT * FROM instrument")).all()
    model = QStandardItemModel()
    model.setHorizontalHeaderLabels(told["heads"])
    for row in told["rows"]:
        model.appendRow([QStandardItem(cell) for cell in row])
    view = Plain()
    view.setModel(model)
    view.resize(1280, 800)
    view.show()
    return application.exec()


def main(arguments: list[str]) -> int:
    """Show the table in the way that is named first."""
    way, ledger, *rest = arguments
    if way == "bare":
        return bare(ledger, Path(rest[0]))
    return ours(ledger, Path(rest[0]) if rest else None)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
