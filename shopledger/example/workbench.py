"""The example's small stock and price list: strings, wood and fittings that come in and go, and what work costs."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from shopledger.acts.goods import PartRow
from shopledger.acts.setting_up import StringRow
from shopledger.example.telling import Teller, Thread, day, eur
from shopledger.quantities.lengths import read_length


@dataclass(frozen=True, slots=True, kw_only=True)
class Sort:
    """A sort of part or accessory: what one is charged at, when it is low, where it is kept."""

    key: str
    what: str
    price: str
    sort: str = "part"
    low_at: int = 0
    kept: str = ""

    def values(self) -> dict[str, Any]:
        """Give it as its form takes it."""
        return {
            "what": self.what,
            "sort": self.sort,
            "price": eur(self.price),
            "low_at": self.low_at,
            "where_kept": self.kept,
        }


SORTS = (
    Sort(key="a-string", what="Cello string A, steel", price="31.00", low_at=2, kept="string drawer, left"),
    Sort(key="gut-d", what="Bass viol string d, plain gut", price="19.50", low_at=3, kept="string drawer, right"),
    Sort(key="bridge", what="Cello bridge blank, maple", price="38.00", low_at=2, kept="shelf over the stove"),
    Sort(key="post", what="Soundpost wood, split spruce", price="9.00", low_at=3, kept="shelf over the stove"),
    Sort(key="hair", what="Hank of white bow hair", price="14.00", low_at=4, kept="hair cupboard"),
    Sort(key="cord", what="Tail cord, aramid", price="7.00", low_at=1, kept="fittings box"),
    Sort(key="button", what="Cello endpin, carbon, 10 mm", price="85.00", kept="fittings box"),
    Sort(key="blank", what="Tailpiece blank, plum", price="24.00", kept="shelf by the window"),
    Sort(key="tailpiece", what="Tailpiece for a bass viol, shaped and fitted", price="135.00", sort="accessory",
         kept="glass case"),
    Sort(key="rosin", what="Rosin for gut strings", price="12.00", sort="accessory", low_at=3, kept="counter"),
)  # fmt: skip

STEEL = tuple(
    StringRow(pitch=pitch, what=what, gauge="medium", tension=pulls, at_length=read_length("690 mm"))
    for pitch, what, pulls in (
        ("A3", "steel", "160 N"),
        ("D3", "steel", "138 N"),
        ("G2", "steel, wound", "135 N"),
        ("C2", "steel, wound", "133 N"),
    )
)
"""A set of cello strings, as its packet tells what each pulls."""

HOURLY = eur("64.00")

WORK = (
    ("bridge", "New bridge, cut and fitted", "cello", 150, "240.00"),
    ("post", "Soundpost, cut and set", "cello", 45, "75.00"),
    ("seam", "Open seam, glued", "", 40, ""),
    ("rehair", "Rehair", "bow", 50, "65.00"),
    ("adjust", "Adjust sound and set-up", "", 60, ""),
    ("dress", "Dress the fingerboard", "cello", 180, ""),
    ("pegs", "Pegs, fitted", "viola_da_gamba", 240, "290.00"),
    ("polish", "Polish all over", "", 90, ""),
)
"""What the price list offers: key, words, for which kind, minutes, price or nothing for time at the hourly rate."""


def the_drawers(teller: Teller) -> Thread:
    """Parts are bought, some at a higher price later; a count finds one missing; blanks become tailpieces."""
    yield day("2024-11-19")
    for sort in SORTS:
        teller.goods[sort.key] = teller.do("add_goods", goods=sort.values()).id
    _receive(teller, "a-string", 6, "96.00", "Tarn and Gut, string makers")
    _receive(teller, "bridge", 4, "61.00", "Ridgeway Tonewood")
    _receive(teller, "post", 10, "22.00", "Ridgeway Tonewood")
    _receive(teller, "hair", 8, "56.00", "")
    _receive(teller, "rosin", 12, "60.00", "")
    yield day("2025-05-06")
    _receive(teller, "gut-d", 5, "52.50", "Tarn and Gut, string makers")
    _receive(teller, "blank", 4, "46.00", "Ridgeway Tonewood")
    _receive(teller, "cord", 3, "9.60", "")
    _receive(teller, "button", 1, "49.00", "")
    yield day("2025-06-10")
    teller.do(
        "alter_goods",
        goods_id=teller.goods["blank"],
        quantity=2,
        parts=(PartRow(goods_id=teller.goods["cord"]),),
        into_id=teller.goods["tailpiece"],
        minutes=140,
        what_done="Shaped, bored for seven strings, oiled.",
    )
    yield day("2025-12-29")
    teller.do("count_goods", goods_id=teller.goods["rosin"], counted=9)
    teller.do(
        "change_goods", goods_id=teller.goods["bridge"], goods=SORTS[2].values() | {"price": eur("42.00")}
    )
    yield day("2026-02-17")
    _receive(teller, "a-string", 6, "105.00", "Tarn and Gut, string makers")
    _receive(teller, "bridge", 2, "36.00", "Ridgeway Tonewood")


def _receive(teller: Teller, key: str, quantity: int, cost: str, supplier: str) -> None:
    teller.do(
        "receive_goods", goods_id=teller.goods[key], quantity=quantity, cost=eur(cost), supplier=supplier
    )


def the_price_list(teller: Teller) -> Thread:
    """What work costs is written down once; a price goes up, and polishing is no longer offered."""
    yield day("2024-11-19")
    teller.do(
        "set_work_terms",
        work_rate=HOURLY,
        estimate_days=30,
        allowed_excess=Fraction(0),
        work_tax_basis="item",
        tax_on_labour=True,
        tax_on_parts=True,
        tax_on_services=True,
    )
    for key, what, kind, minutes, price in WORK:
        teller.work[key] = teller.do(
            "add_work_item",
            work={
                "what": what,
                "for_kind": kind,
                "minutes": minutes,
                "price": eur(price) if price else None,
            },
        ).id
    yield day("2026-01-02")
    teller.do("change_work_item", work_item_id=teller.work["rehair"], what="Rehair", for_kind="bow", minutes=50,
              price=eur("70.00"))  # fmt: skip
    teller.do("leave_out_work_item", work_item_id=teller.work["polish"])


THREADS = (the_drawers, the_price_list)
