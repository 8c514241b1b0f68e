"""Timing two ways of doing the same in turn, so that a busy moment falls on both."""

from __future__ import annotations

import gc
import statistics
import subprocess
import sys
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from time import perf_counter

ROOT = Path(__file__).parents[2]
Timed = Callable[[], float]
"""Does the thing once and gives the seconds that it took."""


@dataclass(frozen=True, slots=True)
class Ratio:
    """How long ours takes beside the bare way, and the ratio it is held to.

    Units:  seconds; the ratio is the median of the ratios of runs side by side.
    """

    name: str
    ours: float
    bare: float
    ratio: float
    bound: float

    @property
    def within(self) -> bool:
        """Whether it is what it is held to."""
        return self.ratio <= self.bound

    def line(self) -> str:
        """Give the ratio on one line of the table."""
        verdict = "within" if self.within else "ABOVE"
        times = f"{self.ours * 1000:9.1f} ms ÷ {self.bare * 1000:9.1f} ms"
        return f"{self.name:<58} {times} = {self.ratio:5.2f}  ({verdict} {self.bound:g})"


@dataclass(frozen=True, slots=True)
class Gap:
    """How long the window didn't answer at the longest, while something went on and while nothing did.

    Units:  milliseconds.
    """

    name: str
    longest: float
    idle: float
    bound: float

    @property
    def within(self) -> bool:
        """Whether it is what it is held to."""
        return self.longest <= self.bound

    def line(self) -> str:
        """Give the gap on one line of the table."""
        verdict = "within" if self.within else "ABOVE"
        told = f"longest gap {self.longest:.1f} ms, left alone {self.idle:.1f} ms"
        return f"{self.name}: {told}  ({verdict} {self.bound:g} ms)"


def compare(name: str, ours: Timed, bare: Timed, *, bound: float, runs: int, warm: int = 2) -> Ratio:
    """Do both ways in turn so many times, after some that don't count, and give their ratio."""
    for _ in range(warm):
        ours(), bare()
    pairs = []
    for n in range(runs):
        gc.collect()
        # Each goes first every other time, so that neither always finds the caches warm.
        if n % 2:
            first = ours()
            pairs.append((first, bare()))
        else:
            second = bare()
            pairs.append((ours(), second))
    return Ratio(
        name,
        statistics.median(pair[0] for pair in pairs),
        statistics.median(pair[1] for pair in pairs),
        statistics.median(pair[0] / pair[1] for pair in pairs),
        bound,
    )


def compare_worst(name: str, ours: Timed, bare: Timed, *, bound: float, runs: int, warm: int = 3) -> Ratio:
    """Do both ways in turn so many times and give the ratio of the times that 99 of 100 runs stay under."""
    for _ in range(warm):
        ours(), bare()
    gc.collect()
    pairs = [(ours(), bare()) for _ in range(runs)]
    worst_ours, worst_bare = (statistics.quantiles(times, n=100)[-1] for times in zip(*pairs, strict=True))
    return Ratio(name, worst_ours, worst_bare, worst_ours / worst_bare, bound)


def seconds(action: Callable[[], object]) -> float:
    """Give how long the action takes."""
    begun = perf_counter()
    action()
    return perf_counter() - begun


def process(arguments: Sequence[str], environ: Mapping[str, str] | None = None) -> Timed:
    """Give a timed run of Python with these arguments in a process of its own, started from the checkout."""

    def timed() -> float:
        begun = perf_counter()
        subprocess.run(
            [sys.executable, *arguments], cwd=ROOT, env=environ, stdout=subprocess.DEVNULL, check=True
        )
        return perf_counter() - begun

    return timed
