"""Fit: each figure held against the handbook for itself, the source with it, and nothing derived from a body."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopledger.quantities.lengths import NM_PER_MM, read_length
from shopledger.quantities.manners import Manners
from shopledger.rules.carrying import Carried, Load, carry
from shopledger.rules.fit import ASPECTS, SIZED_KINDS, Feel, Taken, Verdict, compare, fit
from shopledger.rules.handbook import handbook_values
from shopledger.rules.reach import FINGERS, SCALE, reach_nm, root_scaled, stopped_nm


def _fit(kind: str, method: str = "", **typed: str) -> dict[str, Feel]:
    taken = {}
    for name, words in typed.items():
        measure, _slash, side = name.partition("__")
        taken[measure, side] = Taken(read_length(words), method)
    return {feel.aspect: feel for feel in fit(kind, taken)}


def test_each_of_the_five_is_said_separately() -> None:
    found = _fit("violin", string_length="320", stop="187", body_length="345", upper_bout="150")
    assert list(found) == [aspect for aspect, _words in ASPECTS]
    # makingtheviolin.com: 7/8 has a body of 345; stops of 183 (3/4) and 195 (4/4); upper bouts of about 145 and 156.
    assert found["body_length"].said() == "Feels like 7/8."
    assert found["stop"].said() == "Between 3/4 (4 mm longer) and 4/4 (8 mm shorter)."
    assert found["upper_bout"].said() == "Between 1/2 (5 mm longer) and 3/4 (6 mm shorter)."
    # Journal of the American Viola Society 41/1: a violin's strings are 325 to 328 mm.
    assert found["string_length"].said() == "Smaller than 4/4, by 5 mm; no other size is given."
    assert all(feel.used for feel in found.values())


def test_the_handbooks_figures_and_their_source_stand_with_it() -> None:
    body = _fit("cello", body_length="700")["body_length"]
    assert [value.size for value in body.used] == ["3/4", "7/8", "4/4"]
    # aitchisoncellos.com: 690 mm, up to 10 mm either way.
    assert body.verdict is Verdict.LIKE
    assert [value.size for value in body.near] == ["3/4"]
    assert body.near[0].source.words == "aitchisoncellos.com, Cello measurement guide"


def test_a_figure_between_two_sizes_names_the_nearer_first() -> None:
    between = _fit("cello", body_length="746")["body_length"]
    assert between.said() == "Between 4/4 (14 mm shorter) and 7/8 (16 mm longer)."
    assert _fit("cello", body_length="800")["body_length"].said() == (
        "Larger than 4/4, by 40 mm; no larger size is given."
    )
    assert _fit("cello", body_length="600")["body_length"].said() == (
        "Smaller than 3/4, by 90 mm; no smaller size is given."
    )


def test_about_leaves_a_hundredth_either_way() -> None:
    # makingtheviolin.com: an upper bout of about 168 mm; a hundredth of it is 1.68 mm. The hundredth: common practice.
    assert _fit("violin", upper_bout="169.6")["upper_bout"].said() == "Feels like 4/4."
    assert _fit("violin", upper_bout="169.7")["upper_bout"].verdict is Verdict.LARGER
    # The body's 355 mm is given without "about".
    assert _fit("violin", body_length="356")["body_length"].verdict is Verdict.LARGER


def test_what_no_handbook_gives_is_said() -> None:
    gamba = _fit("viola_da_gamba", body_length="670", stop="400", string_length="690")
    assert gamba["body_length"].said() == "No handbook value is known for it."
    assert gamba["stop"].verdict is Verdict.NO_HANDBOOK
    # The Viola da Gamba Society Journal: most surviving bass viols have strings of 27 to 28 in.
    assert gamba["string_length"].said() == "Feels like bass."
    assert gamba["upper_bout"].said() == "Not measured."


@pytest.mark.parametrize("kind", SIZED_KINDS)
def test_no_string_length_is_derived_from_a_body(kind: str) -> None:
    found = _fit(kind, body_length="16 in", stop="225", upper_bout="190")
    assert found["string_length"].verdict is Verdict.NOT_MEASURED
    assert found["reach"].verdict is Verdict.NOT_MEASURED
    assert found["string_length"].nm is None


def test_a_viola_body_says_nothing_of_its_string_length() -> None:
    # Journal of the American Viola Society 41/1 (2025): a 17 in body with 369 mm, a 16 1/8 in body with 359 mm.
    large = _fit("viola", body_length="17 in", string_length="369")
    assert large["body_length"].said() == "Feels like large."
    assert large["string_length"].said() == "Within what is usual."
    assert _fit("viola", string_length="340")["string_length"].said() == "Below what is usual, by 10 mm."
    assert _fit("viola", string_length="400")["string_length"].said() == "Above what is usual, by 5 mm."


def test_a_body_on_the_edge_of_two_sizes_is_like_both() -> None:
    assert _fit("viola", body_length="16 in")["body_length"].said() == "Feels like small or medium."


def test_another_method_than_the_handbooks_is_said() -> None:
    straight = _fit("cello", "straight, button out", body_length="755")["body_length"]
    assert "over the arch" in straight.cautions[0]
    assert not _fit("cello", "over the arch, button out", body_length="755")["body_length"].cautions
    assert not _fit("cello", "", body_length="755")["body_length"].cautions


def test_a_piccolo_cello_is_compared_with_the_sizes_of_a_cello() -> None:
    body = _fit("piccolo_cello", body_length="690")["body_length"]
    assert body.said() == "Feels like 3/4."
    assert "none of its own" in body.cautions[0]


def test_halves_of_a_bout_are_added_and_need_not_be_equal() -> None:
    found = _fit("violin", upper_bout__bass="85", upper_bout__treble="83")["upper_bout"]
    assert found.nm == 168 * NM_PER_MM
    assert found.how == "bass side 85 mm and treble side 83 mm together"
    assert _fit("violin", upper_bout__bass="85")["upper_bout"].verdict is Verdict.NOT_MEASURED


# Messiah 1716: stop 196.5 on the bass side, 195 on the treble side (makingtheviolin.com; read).
def test_a_stop_taken_on_each_side_counts_by_the_treble_side() -> None:
    found = _fit("violin", stop__bass="196.5", stop__treble="195")["stop"]
    assert found.said() == "Feels like 4/4."
    assert found.how == "treble side"


def test_kinds_without_sizes_have_no_fit() -> None:
    assert fit("bow", {}) == ()
    assert fit("case", {}) == ()
    assert set(FINGERS) == set(SIZED_KINDS)


@given(st.integers(100, 1300))
def test_the_verdict_is_that_of_the_nearest_size(mm: int) -> None:
    for kind in SIZED_KINDS:
        values = handbook_values(kind, "body_length")
        verdict, near = compare(mm * NM_PER_MM, values)
        if not values:
            assert (verdict, near) == (Verdict.NO_HANDBOOK, ())
            continue
        least = min(abs(value.off(mm * NM_PER_MM)) for value in values)
        assert abs(near[0].off(mm * NM_PER_MM)) == least or near[0].holds(mm * NM_PER_MM)


# Serway, ch. 18: on 0.350 m with the open string at G 392 Hz, A 440 Hz sounds at 0.3118 m, the finger 3.82 cm from the
# nut; a whole tone of equal temperament is the same to a tenth of a millimetre. Read.
def test_a_whole_tone_on_a_string_of_350_mm() -> None:
    sounding = stopped_nm(350 * NM_PER_MM, 2)
    assert round(Fraction(sounding, NM_PER_MM), 1) == Fraction("311.8")
    assert round(Fraction(350 * NM_PER_MM - sounding, NM_PER_MM), 1) == Fraction("38.2")


def test_the_root_is_exact_to_its_last_figure() -> None:
    for semitones in range(13):
        root = root_scaled(semitones)
        assert root**12 * 2**semitones <= SCALE**12 < (root + 1) ** 12 * 2**semitones or root == SCALE
    assert root_scaled(12) == SCALE // 2
    assert root_scaled(0) == SCALE


def test_the_reach_follows_the_string_length_and_the_tuning() -> None:
    violin, viola = reach_nm("violin", 328 * NM_PER_MM), reach_nm("viola", 375 * NM_PER_MM)
    assert violin < viola
    # Arithmetic: 328 × (2^(-2/12) − 2^(-7/12)) is 73.3 mm.
    assert round(Fraction(violin, NM_PER_MM), 1) == Fraction("73.3")
    found = _fit("violin", string_length="328")["reach"]
    assert found.typed == "≈ 73.3 mm"
    assert found.said() == "Feels like 4/4."
    assert found.how == "first to fourth finger in first position, a fourth apart, from the string length"


def test_a_sentence_follows_the_readers_manners() -> None:
    feel = {
        one.aspect: one
        for one in fit("violin", {("body_length", ""): Taken(read_length("352.5"))}, Manners(decimal=","))
    }["body_length"]
    assert feel.said(Manners(decimal=",")) == "Between 4/4 (2,5 mm shorter) and 7/8 (7,5 mm longer)."


def test_what_is_carried_is_summed_and_the_unknown_named() -> None:
    cello, case, bow = Load("cello", 2_810_000), Load("case", 3_400_000), Load("bow", 80_000)
    assert carry((cello, case, bow)) == Carried(6_290_000, ())
    assert carry((cello, case, bow)).words() == "6.29 kg"
    some = carry((cello, Load("case", None), bow))
    assert some.words() == "at least 2.89 kg; not known: case"
    assert carry((Load("cello", None),)).words() == "unknown: nothing was weighed"
    assert carry(()).known_mg is None
