"""Words as search compares them: without case, accents, or letters that carry their mark within."""

from __future__ import annotations

import pytest

from shopledger.store.matching import fold, plain_words


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("Händel", "handel"),
        ("ØSTER", "oster"),
        ("Łódź", "lodz"),
        ("Straße", "strasse"),
        ("Æbelø", "aebelo"),
        ("Dvořák", "dvorak"),
        ("Þór", "thor"),
    ],
)
def test_a_name_is_found_by_its_plain_letters(typed: str, found: str) -> None:
    assert fold(typed) == found
    assert plain_words(typed) == [found]
    assert fold(found) == found
