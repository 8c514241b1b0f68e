"""Facts as canonical JSON and back: nothing lost, nothing guessed, one text for the same facts."""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from datetime import date, datetime
from fractions import Fraction
from hashlib import sha256

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopledger.papers.facts import digest, from_json, to_json
from shopledger.papers.parts import PartyFacts
from shopledger.papers.registry import KINDS
from shopledger.quantities.errors import Bug, Typed
from shopledger.quantities.money import Money
from tests.papers import samples

EVERY = [
    pytest.param(kind, facts, id=f"{kind}, {case}")
    for case, papers in (
        ("ordinary", samples.ordinary()),
        ("long", samples.long()),
        ("empty", samples.empty()),
    )
    for kind, facts in papers.items()
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Everything:
    """One field of each kind that facts may hold."""

    text: str
    count: int
    told: bool
    day: date | None
    share: Fraction
    amount: Money
    parts: tuple[PartyFacts, ...]
    grouping: tuple[int, int]


@pytest.mark.parametrize(("kind", "facts"), EVERY)
def test_every_paper_comes_back_as_it_went(kind: str, facts: object) -> None:
    assert from_json(KINDS[kind].facts, to_json(facts)) == facts


@given(
    text=st.text(),
    count=st.integers(),
    told=st.booleans(),
    day=st.none() | st.dates(),
    share=st.fractions(),
    minor=st.integers(),
    names=st.lists(st.text(), max_size=3),
)
def test_any_values_come_back_and_give_one_text(
    text: str, count: int, told: bool, day: date | None, share: Fraction, minor: int, names: list[str]
) -> None:
    facts = Everything(
        text=text,
        count=count,
        told=told,
        day=day,
        share=share,
        amount=Money(minor, "KWD"),
        parts=tuple(PartyFacts(name=name) for name in names),
        grouping=(3, 2),
    )
    there = to_json(facts)
    back = from_json(Everything, there)
    assert to_json(back) == there
    assert replace(back, text="", parts=()) == replace(facts, text="", parts=())


def test_keys_are_sorted_nothing_is_spaced_and_text_is_composed() -> None:
    facts = PartyFacts(name="Zoe\u0308", number="P 1")
    text = to_json(facts)
    assert text == '{"acting_as":"","address":[],"email":"","name":"Zo\u00eb","number":"P 1","phone":""}'
    assert digest(facts) == sha256(text.encode()).hexdigest()
    assert digest(facts) == digest(replace(facts, name="Zo\u00eb"))


def test_another_fact_gives_another_digest() -> None:
    facts = samples.ordinary()["invoice"]
    assert digest(facts) != digest(replace(facts, number="SI 2026-010"))


@dataclass(frozen=True)
class Odd:
    """Facts that hold what facts may not."""

    value: object


@pytest.mark.parametrize("value", [1.5, datetime(2026, 3, 4, 12, 0), [1], {"a": 1}, b"x", object, Odd])
def test_what_facts_may_not_hold_is_a_bug(value: object) -> None:
    with pytest.raises(Bug, match="which they may not"):
        to_json(Odd(value))


def _changed(**changes: object) -> str:
    """Give the JSON of a facts object with some keys changed; None as a key's value removes it."""
    facts = Everything(
        text="a",
        count=1,
        told=True,
        day=None,
        share=Fraction(1, 3),
        amount=Money(1, "USD"),
        parts=(),
        grouping=(3, 3),
    )
    plain = json.loads(to_json(facts)) | changes
    return json.dumps({key: value for key, value in plain.items() if value != "gone"})


@pytest.mark.parametrize(
    ("changes", "where"),
    [
        ({"text": 1}, "Everything.text"),
        ({"count": "1"}, "Everything.count"),
        ({"count": True}, "Everything.count"),
        ({"count": 1.0}, "Everything.count"),
        ({"told": 1}, "Everything.told"),
        ({"day": "2026-02-30"}, "Everything.day"),
        ({"day": 5}, "Everything.day"),
        ({"share": "1/0"}, "Everything.share"),
        ({"amount": {"minor": 1}}, "Everything.amount"),
        ({"amount": {"minor": "1", "currency": "USD"}}, "Everything.amount.minor"),
        ({"parts": "x"}, "Everything.parts"),
        ({"parts": [1]}, r"Everything.parts\[0\]"),
        ({"grouping": [3]}, "Everything.grouping"),
        ({"text": "gone"}, "Everything"),
        ({"more": 1}, "Everything"),
    ],
)
def test_what_does_not_fit_is_named(changes: dict[str, object], where: str) -> None:
    with pytest.raises(Typed, match=f": {where} doesn't fit"):
        from_json(Everything, _changed(**changes))


@pytest.mark.parametrize("text", ["", "{", "[" * 100_000])
def test_what_is_no_json_is_refused(text: str) -> None:
    with pytest.raises(Typed, match="they are no JSON"):
        from_json(Everything, text)


def test_a_wider_union_is_refused() -> None:
    @dataclass(frozen=True)
    class Wide:
        value: int | str

    Wide.__annotations__["value"] = int | str
    with pytest.raises(Typed, match=r"Wide\.value"):
        from_json(Wide, '{"value":1}')
