"""Lets `python -m shopledger` do what the command `shopledger` does."""

from __future__ import annotations

import sys

from shopledger.boot import main

if __name__ == "__main__":
    sys.exit(main())
