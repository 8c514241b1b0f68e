"""What holds for every test: Qt draws without a screen, and each run says how its random cases can be had again."""

from __future__ import annotations

import os

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
