"""How often garbage is looked for while the example is built: seldom, since little of what is made is any."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager

SELDOM = (50_000, 50, 50)
"""Thresholds of the garbage collector while the example is built: it looks for cycles less often than usual."""


def look_for_garbage_seldom() -> None:
    """Let this process look for garbage seldom, for as long as it lives."""
    gc.set_threshold(*SELDOM)


@contextmanager
def seldom_collected() -> Iterator[None]:
    """Look for garbage seldom inside: the acts, and loading them, make many things and few cycles."""
    usual = gc.get_threshold()
    look_for_garbage_seldom()
    try:
        yield
    finally:
        gc.set_threshold(*usual)
