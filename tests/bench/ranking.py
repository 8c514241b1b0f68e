"""How long the ranking of what is wanted takes on a large shop, beside the plain SQL and numpy's arithmetic."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import numpy as np
from sqlalchemy.dialects import sqlite

from shopledger.acts import act
from shopledger.acts.declare import new_op_id
from shopledger.acts.doing import commit_act
from shopledger.acts.wanting_forms import CriterionRow
from shopledger.queries.wish_matches import Wanted, candidates, criteria_of, figure_of, matches
from shopledger.store.ledger import Ledger, open_ledger
from tests.bench.large import large_ledger
from tests.bench.measuring import Ratio, compare, seconds

SHOWN = 12
WANTED = (
    CriterionRow(what="price", value="at most 40000", must=True),
    CriterionRow(what="measure:string_length", value="685-692 mm", must=False, weight=3),
    CriterionRow(what="measure:body_length", value="750 mm", must=False, weight=2),
    CriterionRow(what="price", value="12000", must=False),
    CriterionRow(what="maker", value="Merrow", must=False),
)


def wish_ranked() -> Ratio:
    """Compare a wish ranked over 100,000 instruments with reading the same columns and reckoning them with numpy."""
    with TemporaryDirectory() as folder:
        where = large_ledger(Path(folder))
        with open_ledger(where) as ledger:
            wish = _noted(ledger)
            with ledger.read() as reading:
                criteria = criteria_of(reading, wish)
                asked = candidates("cello").add_columns(
                    *(figure_of(reading, "cello", one).label(f"k{n}") for n, one in enumerate(criteria))
                )
            words = str(asked.compile(dialect=sqlite.dialect(), compile_kwargs={"literal_binds": True}))
            ours = _ours(ledger, wish)
            with closing(sqlite3.connect(where)) as bare:
                plain = _plain(bare, words, criteria)
                if [key for key, _score in plain] != [key for key, _score in ours]:
                    raise AssertionError("The two ways rank differently.")
                return compare(
                    "a wish ranked over 100,000 ÷ its plain SQL and numpy",
                    lambda: seconds(lambda: _ours(ledger, wish)),
                    lambda: seconds(lambda: _plain(bare, words, criteria)),
                    bound=1.5,
                    runs=15,
                )


def _noted(ledger: Ledger) -> int:
    one = act("note_wish")
    form = one.form(
        op_id=new_op_id(), on=ledger.today(), wish={"person_id": 2, "kind": "cello"}, criteria=WANTED
    )
    return commit_act(ledger, one, form).id


def _ours(ledger: Ledger, wish: int) -> list[tuple[int, float | None]]:
    with ledger.read() as reading:
        found, _count = matches(reading, wish, limit=SHOWN)
        return [(one.instrument_id, one.likeness) for one in found]


def _plain(bare: sqlite3.Connection, words: str, criteria: tuple[Wanted, ...]) -> list[tuple[int, Any]]:
    """Read the columns and rank them: unknown musts, then the coefficient, then the price, then the key."""
    table = np.array(bare.execute(words).fetchall(), dtype=object)
    keys, asking = table[:, 0].astype(np.int64), table[:, 4].astype(float)
    count = len(keys)
    keep, unknown = np.ones(count, bool), np.zeros(count, int)
    above, below = np.zeros(count), np.zeros(count)
    for n, wanted in enumerate(criteria):
        figure = table[:, 5 + n].astype(float)
        known = ~np.isnan(figure)
        if wanted.stretch is None:
            score = figure
        else:
            low = -np.inf if wanted.stretch.low is None else wanted.stretch.low
            high = np.inf if wanted.stretch.high is None else wanted.stretch.high
            if wanted.is_must:
                keep &= ~known | ((figure >= low) & (figure <= high))
                unknown += ~known
                continue
            ends = [float(end) for end in wanted.stretch.ends]
            spread = max(np.nanmax(figure), *ends) - min(np.nanmin(figure), *ends)
            away = np.maximum(np.maximum(low - figure, figure - high), 0)
            score = 1 - away / spread if spread else np.ones(count)
        above += np.where(known, wanted.weight * score, 0)
        below += np.where(known, wanted.weight, 0)
    with np.errstate(invalid="ignore"):
        likeness = above / below
    order = np.lexsort((keys, np.nan_to_num(asking, nan=np.inf), -np.nan_to_num(likeness, nan=-1), unknown))
    order = order[keep[order]][:SHOWN]
    return [(int(keys[one]), float(likeness[one])) for one in order]
