"""The order in which Tab goes through a form: that in which everything stands.

Qt's own order is that in which things were made, so that lines added to a form later would come after all of it; and
its way to change it (`QWidget.setTabOrder`) tears the chain where inputs lend the keyboard to an inner line (Qt 6.11).
"""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLayout, QScrollArea, QWidget


def go_on(page: QWidget, *, onward: bool) -> bool:
    """Take the keyboard to what stands next in a page, or before, and at either end out of it; say whether it went."""
    at = page.focusWidget()
    stops = [one for one in _standing(page) if _stops_at(one, page)]
    if at is None or at not in stops:
        return False
    n = stops.index(at) + (1 if onward else -1)
    found = stops[n] if 0 <= n < len(stops) else _outside(page, at, onward=onward)
    found.setFocus(Qt.FocusReason.TabFocusReason if onward else Qt.FocusReason.BacktabFocusReason)
    return True


def _outside(page: QWidget, at: QWidget, *, onward: bool) -> QWidget:
    """Give what Tab stops at next outside of the page, in Qt's order; where there is nothing, what has the keyboard."""
    window, one = page.window(), at
    while True:
        beside = one.nextInFocusChain() if onward else one.previousInFocusChain()
        if beside is None or beside is at:
            return at
        one = beside
        if not page.isAncestorOf(one) and _stops_at(one, window):
            return one


def _stops_at(one: QWidget, page: QWidget) -> bool:
    takes = one.focusPolicy() & Qt.FocusPolicy.TabFocus
    return bool(takes) and one.focusProxy() is None and one.isEnabled() and one.isVisibleTo(page)


def _standing(widget: QWidget) -> Iterator[QWidget]:
    """Give a widget and all that is laid out in it, in the order of its layouts."""
    yield widget
    inner = widget.widget() if isinstance(widget, QScrollArea) else None
    if inner is not None:
        yield from _standing(inner)
    layout = widget.layout()
    if layout is not None:
        yield from _laid(layout)


def _laid(layout: QLayout) -> Iterator[QWidget]:
    for n in range(layout.count()):
        item = layout.itemAt(n)
        if item is None:
            continue
        inner, within = item.widget(), item.layout()
        if inner is not None:
            yield from _standing(inner)
        elif within is not None:
            yield from _laid(within)
