"""Claim numbers: every slip that a telephone makes is seen; the check digit against an independent implementation."""

from __future__ import annotations

import pytest
from stdnum import damm

from shopledger.quantities.errors import Bug, Typed
from shopledger.rules.claims import check_digit, claim_number, looks_like_claim, read_claim

JOBS = range(1, 10_001)


def bare(claim: str) -> str:
    return claim.replace("-", "")


def is_refused(typed: str) -> bool:
    try:
        read_claim(typed)
    except Typed:
        return True
    return False


def test_the_published_example() -> None:
    assert (
        check_digit("572") == "4"
    )  # H. M. Damm's own example, as told with the algorithm; stdnum.damm agrees


@pytest.mark.parametrize("n", [1, 14, 999, 9999, 10_000, 123_456])
def test_a_number_is_read_back_as_it_was_written(n: int) -> None:
    claim = claim_number(2026, n)
    assert read_claim(claim) == claim
    assert damm.is_valid(bare(claim))
    assert bare(claim)[:-1] == f"26{n:04d}"


def test_ten_thousand_numbers_are_valid_and_differ() -> None:
    numbers = [claim_number(2026, n) for n in JOBS]
    assert len(set(numbers)) == len(numbers)
    assert all(damm.is_valid(bare(claim)) for claim in numbers)
    assert all(read_claim(claim) == claim for claim in numbers)


def test_every_wrong_digit_of_ten_thousand_numbers_is_caught() -> None:
    tried = 0
    for n in JOBS:
        digits = bare(claim_number(2026, n))
        for place, right in enumerate(digits):
            for wrong in "0123456789".replace(right, ""):
                tried += 1
                slip = digits[:place] + wrong + digits[place + 1 :]
                assert is_refused(slip), slip
                assert not damm.is_valid(slip)
    assert tried == 9999 * 7 * 9 + 8 * 9


def test_every_swap_of_neighbours_of_ten_thousand_numbers_is_caught() -> None:
    tried = 0
    for n in JOBS:
        digits = bare(claim_number(2026, n))
        for place in range(len(digits) - 1):
            one, other = digits[place : place + 2]
            if one == other:
                continue
            tried += 1
            slip = digits[:place] + other + one + digits[place + 2 :]
            assert is_refused(slip), slip
            assert not damm.is_valid(slip)
    assert tried > 40_000


@pytest.mark.parametrize(
    "typed",
    [
        "26-0014-7", "2600147", " 26 0014 7 ", "26.0014.7", "26/0014/7", "26–0014—7",
        "２６-００１４-７", "26\t0014\xa07", "2 6 0 0 1 4 7",
    ],
)  # fmt: skip
def test_however_its_parts_are_set_off_it_is_the_same_number(typed: str) -> None:
    assert read_claim(typed) == "26-0014-7"
    assert looks_like_claim(typed)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("26-0041-7", "26-0041-7 has a slip: its last digit doesn't fit the others; read it again."),
        ("26-0014-8", "26-0014-8 has a slip"),
        ("26-014-7", "26-014-7 is too short for a claim number, such as 26-0014-7: read it again."),
        ("26-00014-7", "26-00014-7 has a digit too many for a claim number"),
        ("JW 2026-014", "“JW 2026-014” is no claim number: that is digits only"),
        ("", "“” is no claim number"),
        ("26-00l4-7", "“26-00l4-7” is no claim number"),
        ("٢٦٠٠١٤٧", "is no claim number"),
        ("260014½", "is no claim number"),
    ],
)
def test_what_is_no_claim_number_is_refused_in_words(typed: str, says: str) -> None:
    with pytest.raises(Typed) as caught:
        read_claim(typed)
    assert says in caught.value.sentence()


@pytest.mark.parametrize("typed", ["26-0041-7", "2600417", "26 10000 2"])
def test_a_slip_still_looks_like_a_claim_number(typed: str) -> None:
    assert looks_like_claim(typed)


@pytest.mark.parametrize("typed", ["", "cello", "1890", "26-0014", "No. 0123456", "1234567 cello"])
def test_other_words_do_not(typed: str) -> None:
    assert not looks_like_claim(typed)


def test_jobs_are_counted_from_one() -> None:
    with pytest.raises(Bug):
        claim_number(2026, 0)
