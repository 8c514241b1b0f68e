"""What holds for every test: Qt draws without a screen, and a failed random case says how to have it again."""

from __future__ import annotations

import os

from hypothesis import settings

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

# No limits of time, since a busy machine is no fault of the program; the printed blob brings a failed case back.
settings.register_profile("house", deadline=None, print_blob=True)
settings.load_profile("house")
