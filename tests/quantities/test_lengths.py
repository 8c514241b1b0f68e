"""Lengths as they are typed: published figures, exactness, and texts that are no length."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopledger.quantities.errors import Typed
from shopledger.quantities.lengths import NM_PER_INCH, NM_PER_MM, Length, other_unit, read_length
from shopledger.quantities.manners import Manners

# 1 in = 25.4 mm exactly: the international inch of 1959. The products below are arithmetic on it.
PUBLISHED_INCHES = [
    ("14 1/8 in", "358.775"),
    ("13 7/8 in", "352.425"),
    ("13/16 in", "20.6375"),
    ("7/32 in", "5.55625"),
    ("16 1/2 in", "419.1"),
    ("1 in", "25.4"),
]


@pytest.mark.parametrize(("typed", "mm"), PUBLISHED_INCHES)
def test_inches_are_exact_millimetres(typed: str, mm: str) -> None:
    assert read_length(typed).mm == Fraction(mm)


@pytest.mark.parametrize(
    "typed", ['16 1/2"', "16.5 in", "16½", '16-1/2"', "16,5 in", "16 ½ in", "16½”", "16 1/2″"]
)
def test_one_figure_written_in_many_ways(typed: str) -> None:
    # 16 1/2 in is 419.1 mm: arithmetic on the inch of 25.4 mm.
    length = read_length(typed)
    assert length.mm == Fraction("419.1")
    assert length.in_inches


# Violin bodies and stops: makingtheviolin.com, "Average Measurements of the Violin". Cello backs: aitchisoncellos.com.
# Messiah 1716: the same page of makingtheviolin.com. Afterlength one sixth of the string length: 330 gives 55, 690
# gives 115 (Strobel, quoted in the Journal of the American Viola Society 41/1, 2025).
PUBLISHED_MM = [
    "285", "320", "335", "345", "355", "159", "171", "183", "195", "356", "129", "328.5", "760", "730", "690",
    "359", "387", "17", "16.5", "36", "35", "55", "115",
]  # fmt: skip


@pytest.mark.parametrize("figure", PUBLISHED_MM)
def test_published_measures_stay_as_they_are(figure: str) -> None:
    for typed in (figure, f"{figure} mm", f" {figure}mm "):
        assert read_length(typed).nm == Fraction(figure) * NM_PER_MM
    assert read_length(figure).typed == f"{figure} mm"


def test_afterlength_is_a_sixth_of_the_string_length() -> None:
    # Strobel, quoted in the Journal of the American Viola Society 41/1 (2025): 330 gives 55.0, 690 gives 115.0.
    assert read_length("330").mm / 6 == read_length("55.0").mm
    assert read_length("690").mm / 6 == read_length("115.0").mm


def test_neck_and_stop_are_not_the_string_length() -> None:
    # Messiah 1716: stop 195, neck 129, string length 328.5 (makingtheviolin.com).
    assert read_length("195").mm + read_length("129").mm != read_length("328.5").mm


def test_a_length_is_shown_as_it_was_typed() -> None:
    assert read_length("14 1/8 in").typed == "14 1/8 in"
    assert read_length('16-1/2"').typed == '16-1/2"'
    assert read_length("  352,5   mm ").typed == "352,5 mm"
    assert read_length("16½").typed == "16½ in"
    assert read_length("14", default_unit="in").typed == "14 in"


def test_the_unit_of_a_bare_figure_is_the_one_asked_for() -> None:
    assert read_length("14").nm == 14 * NM_PER_MM
    assert read_length("14", default_unit="in").nm == 14 * NM_PER_INCH
    assert read_length("14 1/8").in_inches
    assert read_length("35.5 CM").mm == 355
    assert not read_length("352 MM").in_inches


@pytest.mark.parametrize(
    ("typed", "other"),
    [
        ("14 1/8 in", "≈ 358.8 mm"),  # exactly 358.775
        ("16 1/2 in", "419.1 mm"),
        ("10 in", "254 mm"),
        ("254 mm", "10 in"),
        ("355 mm", "≈ 13 31/32 in"),  # 13.9764 in; 13 31/32 is 13.9688, the next sixty-fourth 13.9844
        ("12.7 mm", "1/2 in"),
    ],
)
def test_the_other_unit_says_when_it_is_rounded(typed: str, other: str) -> None:
    # Arithmetic on the inch of 25.4 mm; to a tenth of a millimetre and a sixty-fourth of an inch.
    assert other_unit(read_length(typed)) == other


def test_the_other_unit_has_the_decimal_sign_of_its_reader() -> None:
    assert other_unit(read_length("16 1/2 in"), Manners(decimal=",")) == "419,1 mm"


@pytest.mark.parametrize(
    "typed",
    [
        "", " ", "abc", "mm", "in", '"', "/", "1/", "/8", "16 1/", "1/0", "1/00 in", "16 1/2/3", "-3", "- 3 mm", "+3",
        "0", "0 mm", "0/8", "1e5", "1e99999999", "NaN", "inf", "Infinity", "1_000", "１６", "١٦", "3.5.5", "12 mm mm",
        "12 ft", "352 m", "10001 mm", "99999999", "1/3 in", "14 1/3", "0.0000001 mm", "352\x00", "352;drop", "16.5½",
        "16.5 1/2", "14 9/8", "14 8/8", "½½", "²", "Ⅷ", "16 1∕2", "9" * 5000, "1/" * 3000, "½" * 3000,
    ],
)  # fmt: skip
def test_what_is_no_length_is_refused_in_a_sentence(typed: str) -> None:
    with pytest.raises(Typed) as refused:
        read_length(typed, field="body_length")
    assert refused.value.field == "body_length"
    sentence = str(refused.value)
    assert sentence.endswith(".")
    assert len(sentence) < 250


@given(st.integers(1, 9_999_999_999))
def test_millimetres_with_decimals_come_back_exactly(nm: int) -> None:
    whole, rest = divmod(nm, NM_PER_MM)
    typed = f"{whole}.{rest:06d} mm"
    assert read_length(typed) == Length(nm, typed)


@given(st.integers(0, 300), st.integers(1, 63), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_fractions_of_an_inch_are_exact_and_come_back_from_what_was_typed(
    whole: int, top: int, bottom: int
) -> None:
    top = top % bottom or 1
    typed = f"{whole} {top}/{bottom} in" if whole else f"{top}/{bottom} in"
    length = read_length(typed)
    assert length.inches == whole + Fraction(top, bottom)
    assert read_length(length.typed) == length


@given(st.integers(1, 300 * 64))
def test_an_exact_other_unit_reads_back_as_the_same_length(sixty_fourths: int) -> None:
    mm = Fraction(sixty_fourths, 64) * Fraction("25.4")
    typed = f"{int(mm)}.{int((mm % 1) * 10**6):06d} mm"
    length = read_length(typed)
    assert length.mm == mm
    assert read_length(other_unit(length)).nm == length.nm


@given(st.text(max_size=60))
def test_any_text_is_a_length_or_refused(text: str) -> None:
    try:
        length = read_length(text)
    except Typed as refused:
        assert str(refused)
    else:
        assert 0 < length.nm <= 10_000 * NM_PER_MM
        assert read_length(length.typed).nm == length.nm
