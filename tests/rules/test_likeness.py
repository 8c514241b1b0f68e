"""Gower's general coefficient, by the properties that his paper states.

Source: J. C. Gower, "A General Coefficient of Similarity and Some of Its Properties", Biometrics 27 (1971), 857-871
(from memory, verify): S lies between 0 and 1, is symmetric, is 1 for individuals alike in all that is known, treats a
missing value as a character that isn't compared, and gives a positive semidefinite matrix where nothing is missing.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopledger.rules.likeness import Stretch, figure_score, likeness, range_of, word_score

FIGURES, WORDS = 3, 2
Individual = tuple[Any, ...]


def individuals(known: bool) -> Any:
    figure = st.integers(0, 1000) if known else st.none() | st.integers(0, 1000)
    word = st.sampled_from("abc") if known else st.none() | st.sampled_from("abc")
    return st.lists(st.tuples(*[figure] * FIGURES, *[word] * WORDS), min_size=2, max_size=8)


def scores(one: Individual, other: Individual, sample: list[Individual]) -> list[float | None]:
    """Compare two individuals of a sample character by character."""
    found: list[float | None] = []
    for k in range(FIGURES):
        if other[k] is None:
            found.append(None)
            continue
        wanted = Stretch(other[k], other[k])
        found.append(figure_score(one[k], wanted, range_of([each[k] for each in sample], wanted)))
    for k in range(FIGURES, FIGURES + WORDS):
        unknown = one[k] is None or other[k] is None
        found.append(word_score(None if unknown else one[k] == other[k]))
    return found


def coefficient(
    one: Individual, other: Individual, sample: list[Individual], weights: list[int]
) -> float | None:
    return likeness(list(zip(weights, scores(one, other, sample), strict=True)))


WEIGHTS = st.lists(st.integers(1, 9), min_size=FIGURES + WORDS, max_size=FIGURES + WORDS)


@given(individuals(known=False), WEIGHTS)
def test_it_lies_between_nought_and_one_and_is_symmetric(
    sample: list[Individual], weights: list[int]
) -> None:
    one, other = sample[:2]
    found = coefficient(one, other, sample, weights)
    back = coefficient(other, one, sample, weights)
    if found is None:
        assert back is None
    else:
        assert 0.0 <= found <= 1.0 + 1e-12
        assert back == pytest.approx(found, abs=1e-12)


@given(individuals(known=False), WEIGHTS)
def test_what_is_alike_in_all_that_is_known_is_at_one(sample: list[Individual], weights: list[int]) -> None:
    found = coefficient(sample[0], sample[0], sample, weights)
    assert found is None or found == pytest.approx(1.0)


@given(individuals(known=True), WEIGHTS, st.integers(0, FIGURES + WORDS - 1))
def test_a_missing_value_leaves_the_others_to_decide(
    sample: list[Individual], weights: list[int], missing: int
) -> None:
    one, other = sample[:2]
    without = tuple(None if k == missing else value for k, value in enumerate(one))
    kept = [k for k in range(FIGURES + WORDS) if k != missing]
    all_scores = scores(one, other, sample)
    alone = likeness([(weights[k], all_scores[k]) for k in kept])
    found = likeness(
        list(
            zip(weights, [None if k == missing else all_scores[k] for k in range(len(weights))], strict=True)
        )
    )
    assert found == pytest.approx(alone)
    assert scores(without, other, sample)[missing] is None


@given(individuals(known=True), WEIGHTS)
def test_without_missing_values_the_matrix_is_positive_semidefinite(
    sample: list[Individual], weights: list[int]
) -> None:
    matrix = np.array([[coefficient(a, b, sample, weights) for b in sample] for a in sample], dtype=float)
    assert np.linalg.eigvalsh(matrix).min() >= -1e-9


def test_a_worked_example() -> None:
    # Reckoned by hand: ranges 100 and 4; |690 - 700| / 100 is 0.1, |5 - 4| / 4 is 0.25, the word agrees.
    # (1 * 0.9 + 1 * 0.75 + 2 * 1) / 4 = 0.9125
    assert likeness([(1, figure_score(690, Stretch(700, 700), 100)), (1, figure_score(5, Stretch(4, 4), 4)),
                     (2, word_score(True))]) == pytest.approx(0.9125)  # fmt: skip


def test_nothing_to_compare_has_no_coefficient() -> None:
    assert likeness([]) is None
    assert likeness([(3, None)]) is None


def test_a_stretch_is_far_only_from_outside() -> None:
    wanted = Stretch(690, 700)
    assert [figure_score(figure, wanted, 100) for figure in (690, 695, 700)] == [1.0, 1.0, 1.0]
    assert figure_score(680, wanted, 100) == pytest.approx(0.9)
    assert figure_score(9, Stretch(None, 10), 0) == 1.0
    assert range_of([5, None, 9], Stretch(None, 12)) == 7
    assert range_of([None], Stretch(None, None)) == 0
