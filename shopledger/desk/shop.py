"""What the window may ask and do: the open ledger, its questions and its acts, wired in one place.

Screens are given a `Shop` and nothing else. They read inside `with shop.ledger.read() as reading:` and keep only the
frozen rows they were given.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.quantities.fields import Field
from shopledger.queries.shapes import Sheet, Subject, Table

if TYPE_CHECKING:
    from shopledger.store.ledger import Ledger
    from shopledger.store.unit import Reading

AnyAct = Act[Any]


@dataclass(frozen=True)
class Shop:
    """An open ledger with the questions and acts of the trade.

    Shape:  `tables` are the tables by the name of their place, in order; `sheets` gives the page about a subject;
            `people` and `instruments` are the tables in which pickers look.
    """

    ledger: Ledger
    tables: Mapping[str, tuple[Table, ...]]
    sheets: Mapping[Subject, Callable[[Reading, int], Sheet]]
    people: Table
    instruments: Table
    acts: tuple[AnyAct, ...]
    next_acts: Callable[[Reading, Subject, int], tuple[AnyAct, ...]]
    do: Callable[[Ledger, AnyAct, Form], Outcome]
    paper: Callable[[Ledger, int], bytes]
    picture: Callable[[Ledger, str], bytes]
    fields_of: Callable[[type], Mapping[str, Field]]
    facts: Callable[[Reading], Sheet]
    """The shop's own page: its name, address, currency, tax."""
    _by_name: dict[str, AnyAct] = field(default_factory=dict)

    def act(self, name: str) -> AnyAct | None:
        """Give the act of that name, or None where there is none."""
        if not self._by_name:
            self._by_name.update({one.name: one for one in self.acts})
        return self._by_name.get(name)
