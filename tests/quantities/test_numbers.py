"""The nearest known name, and texts cut to one printable line."""

from __future__ import annotations

import pytest

from shopledger.quantities.numbers import brief, nearest

KEYS = ("commission", "least", "most", "discount_borne_by", "floor", "pay_owner")


@pytest.mark.parametrize(
    ("word", "name"),
    [
        ("comission", "commission"),
        ("COMMISSION", "commission"),
        ("discount_born_by", "discount_borne_by"),
        ("payowner", "pay_owner"),
        ("xyz", None),
        ("", None),
        ("q" * 1_000_000, None),
    ],
)
def test_the_nearest_known_name(word: str, name: str | None) -> None:
    assert nearest(word, KEYS) == name


def test_of_equally_near_names_the_one_that_begins_alike_is_given() -> None:
    assert nearest("US", ["UZS", "USD"]) == "USD"
    assert nearest("ab", ["abc", "abd"]) == "abc"
    assert nearest("a", []) is None


def test_a_text_in_a_refusal_is_one_short_printable_line() -> None:
    assert brief("plain words") == "plain words"
    assert brief("a\nb\u2028c\x00\ud800") == "a\ufffdb\ufffdc\ufffd\ufffd"
    assert brief("x" * 100) == "x" * 39 + "…"
    assert brief("x" * 40) == "x" * 40
    assert len(brief("x" * 100_000, 10)) == 10
