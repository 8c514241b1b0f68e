"""What can be wanted, and how limits are typed."""

from __future__ import annotations

import pytest

from shopledger.quantities.errors import LedgerError, Typed
from shopledger.rules.likeness import Stretch
from shopledger.rules.wishing import (
    criteria_listed,
    criterion_words,
    holds_words,
    read_criterion,
    read_limits,
)

MM = 1_000_000
LENGTH = "measure:string_length"


def limits(code: str, typed: str, must: bool = False) -> Stretch | None:
    return read_limits(code, typed, must=must, currency="EUR").stretch


@pytest.mark.parametrize(
    ("code", "typed", "must", "low", "high"),
    [
        (LENGTH, "690-695 mm", True, 690 * MM, 695 * MM),
        (LENGTH, "690 mm \u2013 695 mm", True, 690 * MM, 695 * MM),
        (LENGTH, "690 to 695", False, 690 * MM, 695 * MM),
        # An inch is 25.4 mm exactly (international yard and pound agreement, 1959).
        (LENGTH, "27-27 1/2 in", False, 685_800_000, 698_500_000),
        (LENGTH, "27 1/8 in", False, 688_975_000, 688_975_000),
        (LENGTH, "695", True, 695 * MM - 500_000, 695 * MM + 500_000),
        (LENGTH, "at most 27 in", True, None, 685_800_000),
        (LENGTH, "\u2265 690", True, 690 * MM, None),
        ("measure:bow_weight", "< 82 g", False, None, 82_000),
        ("measure:bow_weight", "from 78", False, 78_000, None),
        ("price", "12000", True, None, 1_200_000),
        ("price", "12000", False, 1_200_000, 1_200_000),
        ("price", "10,000-12,500", True, 1_000_000, 1_250_000),
        ("string_count", "5", True, 5, 5),
    ],
)
def test_limits_are_read_as_they_are_typed(
    code: str, typed: str, must: bool, low: int | None, high: int | None
) -> None:
    assert limits(code, typed, must) == Stretch(low, high)


@pytest.mark.parametrize(
    ("code", "typed", "says"),
    [
        (LENGTH, "", "What is wanted here"),
        (LENGTH, "700-690", "goes downwards"),
        (LENGTH, "long", "is no length"),
        (LENGTH, "80 g", "a length is measured here"),
        ("price", "dear enough", "is no amount"),
        ("price", "-", "is no amount"),
        ("string_count", "five", "is no number of strings"),
        ("string_count", "-5", "is no number of strings"),
        ("string_count", "999", "is no number of strings"),
    ],
)
def test_what_can_t_be_read_is_refused_at_its_field(code: str, typed: str, says: str) -> None:
    with pytest.raises(LedgerError) as refused:
        read_limits(code, typed, must=False, currency="EUR", field="criteria[0].value")
    assert says in str(refused.value)
    assert refused.value.field == "criteria[0].value"


def test_everything_listed_can_be_chosen_by_its_words_and_its_code() -> None:
    for kind in ("cello", "viola_da_gamba", "bow", "case"):
        listed = criteria_listed(kind)
        assert len({code for code, _words in listed}) == len(listed)
        for code, words in listed:
            assert read_criterion(words, kind, "what") == code
            assert read_criterion(code, kind, "what") == code
            assert criterion_words(code) == words


def test_what_a_kind_lacks_is_refused_with_the_nearest() -> None:
    with pytest.raises(Typed) as refused:
        read_criterion("vibrating strin length", "cello", "criteria[0].what")
    assert "vibrating string length" in str(refused.value)
    assert refused.value.field == "criteria[0].what"
    assert read_criterion("string length", "cello", "what") == LENGTH


def test_words_are_found_in_any_order_and_case_and_nothing_is_unknown() -> None:
    assert holds_words("Pegs of ROSEWOOD, Hill style", "rosewood pegs") is True
    assert holds_words("STRASSE", "stra\u00dfe") is True
    assert holds_words("ebony", "rosewood") is False
    assert holds_words("  ", "rosewood") is None
    assert holds_words(None, "rosewood") is None
