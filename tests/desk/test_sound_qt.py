"""The Qt that is installed is one that doesn't abort: 6.12.0 did on Python 3.11 after some 570 signals."""

from __future__ import annotations

import subprocess
import sys

CHILD = """
from PySide6.QtCore import QCoreApplication, QObject, Signal

class Bell(QObject):
    rung = Signal()
    told = Signal(object)

application = QCoreApplication([])
bell = Bell()
heard = []
bell.rung.connect(lambda: heard.append(True))
bell.told.connect(heard.append)
for n in range(2000):
    bell.rung.emit()
    bell.told.emit(None)
for n in range(20000):
    bell.setObjectName("bell")
    bell.blockSignals(False)
print(len(heard))
"""


def test_thousands_of_signals_and_void_calls_end_well() -> None:
    # A child, since the fault ends the whole process (it drops references to True and None; exit status 134).
    child = subprocess.run([sys.executable, "-c", CHILD], capture_output=True, text=True, check=False)
    assert (child.stdout, child.returncode) == ("4000\n", 0), child.stderr
