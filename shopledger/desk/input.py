"""What every input of a form can do, and how the values of inputs become an instance of the form's class."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import MISSING, fields
from typing import Any

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtWidgets import QWidget

from shopledger.quantities.errors import LedgerError
from shopledger.quantities.fields import Kind, inputs
from shopledger.queries.shapes import Subject

Wrong = tuple[str, LedgerError]
"""The path of an input, as `costs[1].amount`, and what is wrong with what stands in it."""


class Input(QWidget):
    """One input: takes what was typed, puts a value, and knows whether a person touched it."""

    changed = Signal()
    """Something was typed or chosen by a person."""
    left = Signal()
    """The keyboard left the input."""
    wanted = Signal(object, str)
    """(picker, words typed): something that isn't in the ledger yet is to be put there first."""
    wide = False
    """Whether it takes the whole width of a form."""
    headed = True
    """Whether, where it takes the whole width, its words stand over it as a heading."""
    says_its_label = False
    """Whether its own words are those of the field."""

    def __init__(self, path: str, parent: QWidget | None = None) -> None:
        """Start empty and untouched."""
        super().__init__(parent)
        self.path = path
        self.touched = False

    def take_keyboard(self) -> None:
        """Take the keyboard, where typing begins."""
        self.setFocus(Qt.FocusReason.OtherFocusReason)

    def take(self, wrong: list[Wrong]) -> object:
        """Give the value, None where it is empty; parts of it that are wrong are appended with their paths.

        Raises: Typed: the whole of it can't be read.
        """
        raise NotImplementedError

    def put(self, value: object) -> None:
        """Show a value, as if it stood there from the start."""
        raise NotImplementedError

    def empty(self) -> bool:
        """Whether nothing stands in it."""
        raise NotImplementedError

    def told(self) -> str:
        """Give what stands in it in few words, for the heading of a part that is folded away."""
        return ""

    def aside(self) -> QWidget | None:
        """Give what is to stand at the right of its words, if anything."""
        return None

    def unit(self) -> str:
        """Give the unit that stands behind it."""
        return ""

    def cell_at(self, path: str) -> QWidget | None:
        """Give the cell inside it that the rest of a path leads to."""
        return None

    def be_about(self, subject: Subject, subject_id: int) -> None:
        """Be told what the form is about; the id is 0 where it is about nothing yet."""

    def stand_beside(self, cells: Mapping[str, Any]) -> None:
        """Be told of the cells among which it stands, by name, once all of them are made."""

    def list_for(self, kind: str) -> None:
        """Be told the kind of instrument that the form is about; empty where it isn't known."""

    def mark_wrong(self, wrong: bool) -> None:
        """Show by more than words that it is wrong, or no longer."""

    def name_for_readers(self, words: str, description: str) -> None:
        """Tell readers of the screen what it is."""
        inner = self.focusProxy() or self
        inner.setAccessibleName(words)
        inner.setAccessibleDescription(description)

    def on_typed(self, *_what: object) -> None:
        """Note that a person changed it."""
        self.touched = True
        self.changed.emit()

    def watch(self, inner: QWidget) -> None:
        """Give the keyboard to an inner widget and notice when it goes."""
        self.setFocusProxy(inner)
        inner.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Notice that the keyboard left the inner widget."""
        if event.type() is QEvent.Type.FocusOut:
            self.left.emit()
        return super().eventFilter(watched, event)


def mark(widget: QWidget, wrong: bool) -> None:
    """Give a control the look of one that is wrong, or take it away."""
    if bool(widget.property("wrong")) != wrong:
        widget.setProperty("wrong", wrong)
        widget.style().unpolish(widget)
        widget.style().polish(widget)


def without_nothing(kind: Kind, value: object) -> object:
    """Give what an empty input of a kind stands for: no words, or None."""
    return "" if value is None and kind in {Kind.TEXT, Kind.LINES} else value


def defaults_of(of: type) -> dict[str, object]:
    """Give the defaults of a form's inputs, by name; an input without one is left out."""
    declared = inputs(of)
    found: dict[str, object] = {}
    for one in fields(of):
        if one.name in declared and one.default is not MISSING:
            found[one.name] = one.default
        elif one.name in declared and one.default_factory is not MISSING:
            found[one.name] = one.default_factory()
    return found


def build(of: type, values: Mapping[str, object], **given: Any) -> Any:
    """Give an instance of a form's class from the values of its inputs and from what isn't typed.

    Shape:  an empty input takes the class's own default where that is empty too.
    """
    declared, defaults = inputs(of), defaults_of(of)
    kept = {}
    for name, value in values.items():
        if value is None and name in defaults and not defaults[name]:
            kept[name] = defaults[name]
        else:
            kept[name] = (
                None if name in defaults and value is None else without_nothing(declared[name].kind, value)
            )
    return of(**kept, **given)


def rebuild(original: Any, values: Mapping[str, object]) -> Any:
    """Give an instance like the original with the values of its inputs in place; what isn't typed stays."""
    declared = inputs(type(original))
    untyped = {
        one.name: getattr(original, one.name)
        for one in fields(original)
        if one.init and one.name not in declared
    }
    return build(type(original), values, **untyped)
