"""Condition forms and comparison: whole for every kind, read with the nearest right name, every mark in one row."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopledger.model.condition import SEVERITIES
from shopledger.model.instruments import INSTRUMENT_KINDS
from shopledger.quantities.errors import NotFound, Trouble, Typed
from shopledger.rules.condition import (
    SEVERITY_ORDER,
    Change,
    Seen,
    compare,
    form_for,
    forms,
    parse_forms,
    part_words,
    parts_listed,
    read_part,
    read_term,
    term_words,
    terms_listed,
)

KINDS = [code for code, _words in INSTRUMENT_KINDS]
marks = st.lists(
    st.builds(
        Seen,
        st.sampled_from(["top", "back"]),
        st.sampled_from(["crack", "wear"]),
        st.sampled_from(SEVERITY_ORDER),
        st.sampled_from(["", "by the f", "By  the f", "6 cm"]),
    ),
    max_size=8,
)


@pytest.mark.parametrize("kind", KINDS)
def test_every_part_and_term_of_a_kind_is_read_by_code_and_by_words(kind: str) -> None:
    form = form_for(kind)
    assert len(set(form.parts)) == len(form.parts)
    for part in form.parts:
        assert read_part(kind, part) == read_part(kind, f" {part_words(part).upper()} ") == part
    for term in form.terms:
        assert read_term(kind, term) == read_term(kind, term_words(term).title()) == term


@pytest.mark.parametrize("kind", KINDS)
def test_the_words_listed_for_a_kind_are_those_that_are_read(kind: str) -> None:
    form = form_for(kind)
    assert parts_listed(kind) == tuple((part, part_words(part)) for part in form.parts)
    assert terms_listed(kind) == tuple((term, term_words(term)) for term in form.terms)
    # Each is chosen by its words, so no two of a form may have the same.
    for listed in (parts_listed(kind), terms_listed(kind)):
        assert len({words for _code, words in listed}) == len(listed)


def test_where_the_kind_is_not_known_the_words_of_all_are_listed_once() -> None:
    parts, terms = parts_listed(""), terms_listed("")
    assert len(set(parts)) == len(parts)
    assert {part for part, _words in parts} == {part for kind in KINDS for part in form_for(kind).parts}
    assert {term for term, _words in terms} == {term for kind in KINDS for term in form_for(kind).terms}
    assert {"frog", "ribs_bass"} <= {part for part, _words in parts}


def test_the_kinds_and_severities_are_those_of_the_records() -> None:
    assert set(forms().by_kind) == set(KINDS)
    assert tuple(code for code, _words in SEVERITIES) == SEVERITY_ORDER


# Abrasion and crack: "Condition Report Form Glossary", https://studylib.net/doc/7904348/ ; abrasion also in Victorian
# Collections, "Condition reporting glossary". Open seam, worm damage, retouched varnish: common practice, no source.
def test_the_plain_terms_are_there() -> None:
    said = {term_words(term) for term in form_for("violin").terms}
    assert {"crack", "abrasion", "loss", "wear", "stain", "warp", "repaired"} <= said
    assert {"open seam", "worm damage", "retouched varnish"} <= said
    assert "bend" in {term_words(term) for term in form_for("bow").terms}


# Common practice, no source: gambas have frets and a folded back, double basses machines, bows neither top nor seam.
def test_the_forms_differ_as_the_things_do() -> None:
    assert {"frets", "back_fold", "rose"} <= set(form_for("viola_da_gamba").parts)
    assert "machines" in form_for("double_bass").parts
    assert "frets" not in form_for("violin").parts
    assert "open_seam" not in form_for("bow").terms


def test_what_is_unknown_is_refused_with_the_nearest_or_with_all() -> None:
    with pytest.raises(Typed, match="nearest is “fingerboard”") as refused:
        read_part("violin", "fingerbord", "marks[0].part")
    assert refused.value.field == "marks[0].part"
    with pytest.raises(Typed, match="nearest is “abrasion”"):
        read_term("violin", "abrasoin")
    with pytest.raises(Typed, match="one of crack, break"):
        read_term("violin", "zzzz")
    with pytest.raises(NotFound, match="nearest is violin"):
        form_for("violn")


def test_two_reports_compare_by_part_and_term() -> None:
    before = [Seen("top", "crack", "slight"), Seen("back", "wear", "marked"), Seen("neck", "dent", "noted"),
              Seen("top", "wear", "noted")]  # fmt: skip
    after = [Seen("top", "crack", "noted"), Seen("top", "crack", "grave"), Seen("back", "wear", "slight"),
             Seen("top", "wear", "noted")]  # fmt: skip
    said = [(row.part, row.term, row.change) for row in compare(before, after, form_for("violin").parts)]
    assert said == [
        ("top", "crack", Change.GRAVER),
        ("top", "crack", Change.NEW),
        ("top", "wear", Change.UNCHANGED),
        ("back", "wear", Change.MILDER),
        ("neck", "dent", Change.GONE),
    ]


def test_a_mark_in_the_same_words_is_the_same_and_one_in_other_words_is_told() -> None:
    left, right = Seen("top", "crack", "marked", "left f", 1), Seen("top", "crack", "marked", "right f", 2)
    later = [Seen("top", "crack", "grave", "Right  F", 1), Seen("back", "wear", "noted", "9 cm", 2)]
    rows = compare([left, right, Seen("back", "wear", "noted", "6 cm", 3)], later)
    assert [(row.before and row.before.n, row.after and row.after.n, row.change) for row in rows] == [
        (3, 2, Change.REWORDED),
        (2, 1, Change.GRAVER),
        (1, None, Change.GONE),
    ]


@given(marks, marks)
def test_every_mark_stands_in_one_row_and_backwards_says_the_opposite(
    before: list[Seen], after: list[Seen]
) -> None:
    rows = compare(before, after)
    assert Counter(row.before for row in rows if row.before) == Counter(before)
    assert Counter(row.after for row in rows if row.after) == Counter(after)
    turned = {Change.NEW: Change.GONE, Change.GONE: Change.NEW, Change.GRAVER: Change.MILDER,
              Change.MILDER: Change.GRAVER, Change.UNCHANGED: Change.UNCHANGED,
              Change.REWORDED: Change.REWORDED}  # fmt: skip
    assert [turned[row.change] for row in rows] == [row.change for row in compare(after, before)]
    assert all(row.change is Change.UNCHANGED for row in compare(before, before))


@pytest.mark.parametrize(
    "text",
    [
        "no toml [",
        "[parts]",
        "[parts]\n[terms]\n[kinds]\nviolin='v'\n[forms.v]\nterms=['crack']\nviews=[]",
        "[parts]\n[terms]\n[kinds]\nviolin='w'\n[forms]",
    ],
)
def test_broken_forms_are_trouble_in_words(text: str) -> None:
    with pytest.raises(Trouble, match="Install the program again"):
        parse_forms(text)
