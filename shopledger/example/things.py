"""How the example writes an instrument: what it is, whose, how it measures in one line, what is fitted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from types import MappingProxyType
from typing import Any

from shopledger.acts.describing import FittingRow, MeasureRow
from shopledger.acts.owning import OwnerRow
from shopledger.example.pictures import draw
from shopledger.example.telling import Teller, Thread, day, eur
from shopledger.quantities.lengths import read_length

MAKER = "Elias Merrow"
"""Whose shop it is; his earlier work comes back to it."""

_BODY = (
    "body_length", "stop", "string_length", "upper_bout", "middle_bout", "lower_bout", "ribs_lower/bass",
    "ribs_lower/treble", "neck_width_nut", "bridge_height", "string_height/bass", "string_height/treble",
)  # fmt: skip
_BOW = ("bow_length", "hair_length", "balance_point")
_BOX = ("length", "width", "depth")

_VIOLIN = {
    "pegs": "ebony", "nut": "ebony", "fingerboard": "ebony", "bridge": "maple, two feet", "tailpiece": "boxwood",
    "tail_cord": "aramid", "end_button": "boxwood", "chin_rest": "boxwood, over the tailpiece",
    "strings": "synthetic core, medium", "case": "oblong, wooden shell",
}  # fmt: skip
_CELLO = {
    "pegs": "rosewood", "nut": "ebony", "fingerboard": "ebony", "bridge": "maple, tall legs", "tailpiece": "ebony",
    "tail_cord": "steel rope", "endpin": "carbon, 10 mm", "strings": "steel, medium", "case": "fibre shell, wheels",
    "case_weight": "4.1 kg",
}  # fmt: skip
FITTED: Mapping[str, Mapping[str, str]] = MappingProxyType(
    {
        "violin": _VIOLIN,
        "viola": _VIOLIN | {"chin_rest": "ebony, beside the tailpiece", "case": "oblong, for 17 in"},
        "cello": _CELLO,
        "piccolo_cello": {key: what for key, what in _CELLO.items() if key != "tail_cord"}
        | {"pegs": "boxwood", "strings": "gut, top string plain", "case": "soft case with a backpack"},
        "viola_da_gamba": {
            "pegs": "plum", "nut": "bone", "fingerboard": "maple, veneered", "frets": "tied gut, double",
            "bridge": "maple, low arch", "tailpiece": "plum", "hook_bar": "plum", "strings": "gut",
            "case": "wooden, felt-lined",
        },
        "bow": {
            "stick": "pernambuco", "frog": "ebony", "button": "silver and ebony", "head_plate": "bone",
            "grip": "silver winding, calf", "hair": "white",
        },
        "case": {"shell": "fibre", "cover": "canvas", "lining": "velvet", "lock": "two"},
        "other": {"case": "none"},
    }
)  # fmt: skip
"""What is usually fitted to a kind; an instrument names what differs."""

STRINGS = MappingProxyType(
    {
        "violin": 4,
        "viola": 4,
        "cello": 4,
        "piccolo_cello": 5,
        "viola_da_gamba": 6,
        "bow": None,
        "case": None,
        "other": None,
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """An instrument as it comes in.

    Shape:  `owners` is one key, or pairs of a key and a share; `figures` are the measures of its kind in their
            order, as typed, with commas between them, "-" for one not taken; `more_figures` are others by their
            measure; `picture` is a tone of varnish.
    """

    key: str
    kind: str
    on: str
    owners: str | tuple[tuple[str, str], ...] = ""
    reason: str = "to_sell"
    maker: str = ""
    standing: str = "made_by"
    standing_by: str = ""
    evidence: str = ""
    when: str = ""
    where: str = ""
    title: str = ""
    size: str = ""
    strings: int | None = None
    serial: str = ""
    label: str = ""
    words: str = ""
    own_work: bool = False
    figures: str = ""
    more_figures: Mapping[str, str] = field(default_factory=dict)
    fitted: Mapping[str, str] = field(default_factory=dict)
    value: str = ""
    came_with: str = ""
    condition: str = ""
    authority: str = "Owner; says it is free of others’ claims."
    cost: str = ""
    paid_from: str = "bank"
    asking: str = ""
    picture: str = ""

    def instrument(self) -> dict[str, Any]:
        """Give it as the form of an instrument takes it."""
        own = self.own_work
        return {
            "kind": self.kind,
            "maker": MAKER if own else self.maker,
            "standing": self.standing,
            "standing_by": MAKER if own else self.standing_by,
            "standing_evidence": "His own work book and brand." if own else self.evidence,
            "made_when": self.when,
            "made_where": "Saltmere" if own else self.where,
            "title": self.title,
            "size": self.size,
            "string_count": self.strings or STRINGS[self.kind],
            "serial": self.serial,
            "label_text": self.label,
            "description": self.words,
            "own_work": self.own_work,
        }

    def owner_rows(self, teller: Teller) -> tuple[OwnerRow, ...]:
        """Give its owners' rows; none for the shop's own."""
        if isinstance(self.owners, str):
            return (OwnerRow(person_id=teller.who(self.owners)),) if self.owners else ()
        return tuple(OwnerRow(person_id=teller.who(key), share=Fraction(share)) for key, share in self.owners)

    def measures(self) -> tuple[MeasureRow, ...]:
        """Give its readings."""
        if not self.figures:
            return ()
        names = {"bow": _BOW, "case": _BOX, "other": _BOX}.get(self.kind, _BODY)
        rows = []
        for name, typed in zip(names, (part.strip() for part in self.figures.split(",")), strict=True):
            if typed != "-":
                measure, _slash, side = name.partition("/")
                rows.append(
                    MeasureRow(
                        measure=measure, side=side, value=read_length(typed), method=self._method(measure)
                    )
                )
        rows += [MeasureRow(measure=measure, value=typed) for measure, typed in self.more_figures.items()]
        return tuple(rows)

    def _method(self, measure: str) -> str:
        if measure == "body_length":
            return "straight, button out" if self.kind == "viola_da_gamba" else "over the arch, button out"
        return "from the frog" if measure == "balance_point" else ""

    def fittings(self) -> tuple[FittingRow, ...]:
        """Give what is fitted."""
        fitted = {**FITTED[self.kind], **self.fitted}
        return tuple(FittingRow(part=part, what=what) for part, what in fitted.items())

    def stay(self) -> dict[str, Any]:
        """Give its stay as the form takes it."""
        theirs = self.reason != "own"
        checked = theirs and bool(self.value)
        return {
            "reason": self.reason,
            "came_with": self.came_with,
            "condition": self.condition,
            "insured_value": eur(self.value) if self.value else None,
            "identity_seen": "passport" if theirs else "",
            "authority": self.authority if theirs else "",
            "no_liens": theirs,
            "register_checked": "the police list of stolen instruments: nothing" if checked else "",
            "register_checked_on": day(self.on) if checked else None,
        }


def come_in(teller: Teller, thing: Thing) -> Thread:
    """Let an instrument come to the counter."""
    yield day(thing.on)
    own = thing.reason == "own"
    outcome = teller.do(
        "take_in",
        instrument=thing.instrument(),
        owners=thing.owner_rows(teller),
        stay=thing.stay(),
        cost=eur(thing.cost) if thing.cost else None,
        paid_from=thing.paid_from,
        asking=eur(thing.asking) if own and thing.asking else None,
        fittings=thing.fittings(),
        measures=thing.measures(),
        pictures=(draw(thing.kind, thing.picture, thing.strings or 6),) if thing.picture else (),
    )
    teller.things[thing.key] = outcome.id
