"""The example's cases, which are kept on the record like instruments, since their weight is what a player carries."""

from __future__ import annotations

from shopledger.example.things import Thing

CASES = (
    Thing(
        key="canvas-case",
        kind="case",
        on="2026-11-20",
        reason="own",
        standing="unknown",
        words="Cello case on wheels, older; the straps are new.",
        figures="1360 mm, 520 mm, 340 mm",
        more_figures={"case_weight": "3.4 kg"},
        value="180",
        cost="60",
        asking="160",
        condition="A dent at the lid; both locks shut.",
    ),
)
