"""What is typed over the stock: every part is found, what is no range stays words, and nothing is ever refused."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopledger.quantities.manners import Manners
from shopledger.quantities.measured import Dimension
from shopledger.queries.typed import Asked, MeasureRange, take_apart
from shopledger.rules.measures import sets

MM = 1_000_000
GERMAN = Manners(language="de", decimal=",", group=".")


def asked(typed: str, manners: Manners | None = None) -> Asked:
    known = sets()
    return take_apart(typed, "EUR", manners or Manners(), known.measure_words, known.measure_units)


def measured(typed: str) -> tuple[str, set[str], int | None, int | None]:
    found = asked(typed)
    assert len(found.measures) == 1, found
    one = found.measures[0]
    return found.words, set(one.keys), one.low, one.high


@pytest.mark.parametrize(
    "typed", ["string 350-365", "string 350 – 365 mm", "STRING 365-350", "vibrating string 350-365"]
)
def test_a_range_of_a_measure(typed: str) -> None:
    words, keys, low, high = measured(typed)
    assert (words, low, high) == ("", 350 * MM, 365 * MM)
    assert "string_length" in keys


def test_the_more_of_a_name_is_typed_the_fewer_measures_it_means() -> None:
    assert {"string_length", "string_height"} <= measured("string 350-365")[1]
    assert measured("string length 350-365")[1] == {"string_length"}
    assert measured("ribs at the upper block 30-32")[1] == {"ribs_upper"}


@pytest.mark.parametrize(
    ("typed", "low", "high"),
    [
        # 1 in = 25.4 mm exactly: 14 1/8 in is 358.775 mm, 13 7/8 in is 352.425 mm (references.md, Measures).
        ('string 13 7/8-14 1/8"', 352_425_000, 358_775_000),
        ("string 13⅞-14⅛ in", 352_425_000, 358_775_000),
        ('string 13 7/8"-358.775 mm', 352_425_000, 358_775_000),
        ("body 16-16½ in", 406_400_000, 419_100_000),
        ("body 40-42 cm", 400 * MM, 420 * MM),
    ],
)
def test_inches_with_a_sign(typed: str, low: int, high: int) -> None:
    assert measured(typed)[2:] == (low, high)


@pytest.mark.parametrize(
    ("typed", "low", "high"),
    [
        ("stop 195", 195 * MM - 500_000, 195 * MM + 500_000),
        ("stop < 200", None, 200 * MM - 1),
        ("stop >= 190 mm", 190 * MM, None),
        ("stop ≤ 200", None, 200 * MM),
    ],
)
def test_single_figures_and_bounds_of_a_measure(typed: str, low: int | None, high: int | None) -> None:
    assert measured(typed) == ("", {"stop"}, low, high)


@pytest.mark.parametrize("typed", ["5 strings", "5-string", "5 string", "5strings"])
def test_a_number_of_strings(typed: str) -> None:
    assert asked(f"viola {typed}") == Asked(words="viola", strings=5)


def test_string_before_a_figure_is_the_measure() -> None:
    found = asked("viola 5 strings string 350-365")
    assert (found.words, found.strings, found.measures[0].low) == ("viola", 5, 350 * MM)


@pytest.mark.parametrize(
    ("typed", "low", "high"),
    [
        ("< 12000", None, 1_199_999),
        ("<12,000.50", None, 1_200_049),
        ("> 5000", 500_001, None),
        (">= 5000 <= 9000", 500_000, 900_000),
        ("5000-9,000", 500_000, 900_000),
        ("5000–9000 > 6000", 600_001, 900_000),
    ],
)
def test_prices(typed: str, low: int | None, high: int | None) -> None:
    assert asked(typed) == Asked(price_low=low, price_high=high)


def test_prices_in_the_manners_of_the_reader() -> None:
    assert asked("< 12.000", GERMAN).price_high == 1_199_999
    assert asked("< 12.000").words == "< 12.000"


@pytest.mark.parametrize(
    "typed",
    ["AG 2025-014", "TI 2025-103", "555-0123", "1/0-2/0", "string 1/0-2", "0-0", "a-b", "< x", "", "   "],
)
def test_what_is_no_range_stays_words(typed: str) -> None:
    assert asked(typed) == Asked(words=" ".join(typed.split()))


def test_everything_at_once() -> None:
    found = asked("cello fenn 4 strings string length 680-700 < 30,000 salt")
    assert found == Asked(
        "cello fenn salt", 4, None, 2_999_999, (MeasureRange(("string_length",), 680 * MM, 700 * MM),)
    )


PIECES = st.sampled_from(
    ["string ", "5 strings", "<", ">", "≤", "=", "-", "–", "350", "365", " ", "½", "1/8", "1/0", '"', "″", "in", "mm",
     ",", ".", "00", "9" * 30, "body", "٣", "²", "\x00", "\ud800", "’", "*", "'", "%", "_", "\\", "NEAR(", " OR "]
)  # fmt: skip


@given(st.one_of(st.text(max_size=80), st.lists(PIECES, max_size=14).map("".join)))
def test_nothing_is_refused_and_bounds_fit_the_database(typed: str) -> None:
    found = asked(typed)
    bounds = [
        found.price_low,
        found.price_high,
        *(end for one in found.measures for end in (one.low, one.high)),
    ]
    assert all(bound is None or abs(bound) < 2**63 for bound in bounds)
    assert found.strings is None or 0 <= found.strings < 100


@pytest.mark.parametrize(
    ("typed", "keys", "dimension", "low", "high"),
    [
        ("weight < 3 kg", {"weight", "bow_weight", "case_weight"}, Dimension.MASS, None, 2_999_999),
        ("weight 60-62 g", {"weight", "bow_weight", "case_weight"}, Dimension.MASS, 60_000, 62_000),
        ("weight 60-62", {"weight", "bow_weight", "case_weight"}, Dimension.MASS, 60_000, 62_000),
        ("weight 2.8 kg", {"weight", "bow_weight", "case_weight"}, Dimension.MASS, 2_750_000, 2_850_000),
        # 2 oz is 56.699 g: the avoirdupois ounce of 28.349523125 g.
        ("weight > 2 oz", {"weight", "bow_weight", "case_weight"}, Dimension.MASS, 56_700, None),
        ("angle 157-158", {"string_angle"}, Dimension.ANGLE, 157_000, 158_000),
        ("angle 157.5\u00b0", {"string_angle"}, Dimension.ANGLE, 157_000, 158_000),
        # Of what "string" begins, only a length is meant where no unit says otherwise.
        ("string 690-695", None, Dimension.LENGTH, 690 * MM, 695 * MM),
    ],
)
def test_weights_and_angles_are_asked_for_in_their_units(
    typed: str, keys: set[str] | None, dimension: Dimension, low: int | None, high: int | None
) -> None:
    (found,) = asked(typed).measures
    assert (found.dimension, found.low, found.high) == (dimension, low, high)
    assert set(found.keys) == keys if keys else "string_angle" not in found.keys


def test_a_unit_that_no_such_measure_has_leaves_the_words() -> None:
    assert asked("weight 3 mm") == Asked(words="weight 3 mm")
    assert asked("body 3 kg") == Asked(words="body 3 kg")
