"""Whether there is a screen for a window, and starting the window in words where Qt can't be loaded.

A bare server lacks a display, and often the system libraries that Qt needs; both are told in a sentence before Qt gets
the chance to abort the program.
"""

from __future__ import annotations

import gc
import sys
from collections.abc import Callable, Mapping
from pathlib import Path

from shopledger.quantities.errors import Trouble
from shopledger.quantities.words import N_

DEBIAN_PACKAGES = (
    "libgl1",
    "libegl1",
    "libglib2.0-0",
    "libfontconfig1",
    "libxkbcommon0",
    "libdbus-1-3",
    "libxkbcommon-x11-0",
    "libxcb-cursor0",
    "libxcb-icccm4",
    "libxcb-keysyms1",
    "libxcb-shape0",
    "libwayland-cursor0",
)
"""What Qt and its plugin for X look for and a bare Debian lacks; the README lists the same."""

_WITHOUT_SCREEN = {"offscreen", "minimal", "minimalegl", "vkkhrdisplay"}
_NEEDS_DISPLAY = {"xcb": "DISPLAY", "wayland": "WAYLAND_DISPLAY", "wayland-egl": "WAYLAND_DISPLAY"}


def has_screen(environ: Mapping[str, str], platform: str = sys.platform) -> bool:
    """Tell whether a window would be seen: always on Windows and macOS, elsewhere where a display is named."""
    named = [
        part.split(":")[0].strip() for part in environ.get("QT_QPA_PLATFORM", "").split(";") if part.strip()
    ]
    if named and all(part in _WITHOUT_SCREEN for part in named):
        return False
    if platform in {"win32", "darwin"}:
        return True
    # Qt tries the platforms that are named in turn, and any display where none is.
    wanted = [_NEEDS_DISPLAY.get(part) for part in named or _NEEDS_DISPLAY]
    return any(display is None or bool(environ.get(display)) for display in wanted)


def open_window(ledger: str | None) -> int:
    """Open the window on a ledger (the last one where none is named) and give its exit status once it is closed.

    Raises: Trouble: Qt, or a system library that it needs, is missing.
    """
    try:
        _load_platform_plugin()
        run_window = load_window()
    except ImportError as error:
        gc.enable()
        of_qt = error.name is not None and error.name.split(".")[0] in {"PySide6", "shiboken6"}
        if of_qt and isinstance(error, ModuleNotFoundError):
            raise Trouble(
                N_("Qt is not installed, so there is no window: install {package} into this Python."),
                package="PySide6-Essentials",
            ) from None
        # Qt is there and can't be loaded; a module of our own that is missing is a fault of the program.
        if of_qt or ".so" in str(error):
            raise _library_missing(error) from None
        raise
    return run_window(ledger)


def load_window() -> Callable[[str | None], int]:
    """Load the window with all that its first table takes, and give what runs it; no garbage is looked for until then.

    Raises: ImportError: Qt or a system library that it needs is missing.
    """
    # Nothing that is made while the window comes up is garbage; `run_window` lets it be looked for again.
    gc.disable()
    # First what doesn't need Qt: once PySide is loaded, it reads the source of each module that is imported after it.
    from shopledger.quantities import showing as _showing
    from shopledger.queries import stock as _stock
    from shopledger.store import ledger as _ledger

    del _showing, _stock, _ledger
    from shopledger.desk.start import run_window

    return run_window


def _library_missing(error: Exception) -> Trouble:
    """Give the sentence for a system library that Qt can't find."""
    return Trouble(
        N_(
            "Qt can't start the window, since a system library is missing ({library})."
            " On Debian: apt-get install {packages}"
        ),
        library=str(error).split(":")[0],
        packages=" ".join(DEBIAN_PACKAGES),
    )


def _load_platform_plugin() -> None:
    """Load Qt's plugin for X by hand first: Qt itself would abort the program where one of its libraries is missing."""
    import os

    if sys.platform != "linux" or not os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"):
        return
    if os.environ.get("QT_QPA_PLATFORM", "xcb") != "xcb":
        return
    import ctypes
    from importlib.util import find_spec

    found = find_spec("PySide6")
    if found is None or found.origin is None:
        return
    plugin = Path(found.origin).parent / "Qt" / "plugins" / "platforms" / "libqxcb.so"
    if plugin.exists():
        try:
            ctypes.CDLL(str(plugin))
        except OSError as error:
            raise _library_missing(error) from None
