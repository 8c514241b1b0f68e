"""Whatever is typed comes out as text: no markup is obeyed, no file read, no link made, nothing hangs.

The hostile texts are common practice, no source.
"""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from io import BytesIO
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from shopledger.papers.escaping import (
    LONGEST_TEXT,
    LONGEST_WORD,
    Markup,
    cleaned,
    coloured,
    escaped,
    joined,
    lacking,
    lined,
    one_line,
    strong,
)
from shopledger.papers.facts import to_json
from shopledger.papers.lettering import paragraph, serif
from shopledger.papers.parts import ChargeTermFacts, PaperFacts
from shopledger.papers.rendering import render
from shopledger.papers.unprintable import unprintable
from shopledger.quantities.errors import Bug
from tests.papers import samples
from tests.papers.reading_back import letters_outside, text_of

HOSTILE = {
    "image": '<img src="/etc/passwd" width="10" height="10"/>',
    "bold": "<b>not bold</b>",
    "open": "<b>never closed",
    "para": "</para><para>again",
    "and": "Marrack & Pell &amp; &lt;sons&gt; &#65;",
    "link": '<a href="javascript:alert(1)">javascript:alert(1)</a>',
    "font": '<font face="Nowhere" size="900">x</font>',
    "quotes": "' \" ` \\ {0} {name} %s",
    "formula": "=HYPERLINK(0)",
    "lines": "one\ntwo\r\nthree\u2028four",
}


def _everything(letter: str) -> bool:
    """A font that has every character."""
    return True


def _ascii(letter: str) -> bool:
    """A font that has only ASCII."""
    return letter.isascii()


def _with(facts: Any, text: str) -> Any:
    """Give the facts with the text in the place of every free text in them."""
    if isinstance(facts, ChargeTermFacts):
        return facts  # its words are a choice, not free
    changes: dict[str, Any] = {}
    for one in fields(facts):
        value = getattr(facts, one.name)
        if one.name in FREE and isinstance(value, str):
            changes[one.name] = text
        elif isinstance(value, tuple) and value and isinstance(value[0], str) and one.name in FREE:
            changes[one.name] = (text,)
        elif isinstance(value, tuple) and value and is_dataclass(value[0]):
            changes[one.name] = tuple(_with(part, text) for part in value)
        elif is_dataclass(value) and one.name not in {"manners"} and type(value).__name__ != "Money":
            changes[one.name] = _with(value, text)
    return replace(facts, **changes)


def _hostile(facts: PaperFacts, text: str) -> PaperFacts:
    """Give the facts of a paper with the text everywhere but in the paper's own number, which is never typed."""
    hostile: PaperFacts = replace(_with(facts, text), number=facts.number)
    return hostile


FREE = {
    *(
        "name",
        "address",
        "phone",
        "email",
        "web",
        "tax_number",
        "acting_as",
        "number",
        "standing",
        "maker",
        "made",
    ),
    *(
        "label_reads",
        "attributed_by",
        "description",
        "comes_with",
        "label",
        "words",
        "typed",
        "other",
        "method",
    ),
    *(
        "how",
        "what",
        "details",
        "reference",
        "insurance_note",
        "further_words",
        "reason",
        "notes",
        "materials",
    ),
    *(
        "instrument_name",
        "instrument_number",
        "agreement_number",
        "invoice_number",
        "before",
        "after",
        "relation",
    ),
    *(
        "identity_seen",
        "authority",
        "register",
        "register_says",
        "shipping",
        "payment_words",
        "warranties",
        "method",
    ),
    *(
        "due_words",
        "floor_words",
        "destination",
        "by_words",
        "carrier",
        "place",
        "why_here",
        "owner",
        "contact",
    ),
    *(
        "wants",
        "sees",
        "handed_to",
        "work_done",
        "owing_agreed",
        "came_with",
        "earlier_claim",
        "claim_number",
    ),
    *("part", "term", "severity", "note", "occasion", "made_by", "seen_by", "overall", "caption", "change"),
    *("where_papers", "exempt_reason", "entry_number", "sale_number", "renews", "reverses"),
}


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
@pytest.mark.parametrize("kind", samples.ordinary())
def test_hostile_text_in_every_field_comes_out_as_text(kind: str, text: str) -> None:
    facts = _hostile(samples.ordinary()[kind], text)
    pdf = samples.rendered(kind, facts)
    said = "".join(text_of(pdf).split())
    assert "".join(cleaned(text).split()) in said
    assert letters_outside(pdf, 20) == []
    for page in PdfReader(BytesIO(pdf)).pages:
        assert "/Annots" not in page
        assert len(page.images) == 0 or kind == "condition_report"


ABSURD = {
    "word": "x" * 200_000,
    "angle brackets": "<" * 200_000,
    "and signs": "& " * 100_000,
    "marks that combine": "\u0301" * 50_000,
    "direction marks": "\u202e" * 50_000,
    "accented word": "é" * 200_000,
    "line ends": "\n" * 5_000,
}


@pytest.mark.parametrize("kind", samples.ordinary())
def test_a_word_of_200_000_letters_in_every_field_is_laid_out(kind: str) -> None:
    facts = _hostile(samples.ordinary()[kind], ABSURD["word"])
    assert letters_outside(samples.rendered(kind, facts), 20) == []


@pytest.mark.parametrize("text", ABSURD.values(), ids=ABSURD)
@pytest.mark.parametrize("kind", ["invoice", "release"])
def test_texts_of_absurd_length_in_every_field_are_laid_out(kind: str, text: str) -> None:
    assert render(kind, _hostile(samples.ordinary()[kind], text)).startswith(b"%PDF")


def test_direction_and_control_characters_go() -> None:
    assert cleaned("a\u202eb\u200fc\x00d\x1be\ufefff\u00adg\ud800h") == "abcdefgh"
    assert cleaned("a\n\n\n \n\nb") == "a\n\nb"


def test_line_ends_of_every_kind_become_one_kind() -> None:
    assert cleaned("a\r\nb\nc\u2028d\u2029e\x85f\vg\th") == "a\nb\nc\nd\ne\nf\ng h"


def test_blanks_of_other_widths_become_plain_and_joining_ones_stay() -> None:
    assert cleaned("a\u2003b\u00a0c\u202fd") == "a b\u00a0c\u202fd"


def test_letters_and_their_marks_are_put_together() -> None:
    assert cleaned("Zoe\u0308") == "Zo\u00eb"


def test_what_cannot_grow_is_cut_to_one_line() -> None:
    assert one_line(" a\nb  c ", 20) == "a b  c"
    assert one_line("x" * 30, 20) == "x" * 19 + "…"


@pytest.mark.parametrize("number", ["", "SI 1\n", "x" * 41])
def test_a_number_that_is_none_is_refused(number: str) -> None:
    with pytest.raises(Bug, match="one short line"):
        render("invoice", replace(samples.ordinary()["invoice"], number=number))


def test_a_word_too_long_is_cut_and_says_so() -> None:
    assert cleaned("x" * LONGEST_WORD) == "x" * LONGEST_WORD
    assert cleaned("y " + "x" * (LONGEST_WORD + 1)) == "y " + "x" * LONGEST_WORD + "… [1 letter left out]"


def test_a_text_too_long_is_cut_and_says_so() -> None:
    assert cleaned("ab " * LONGEST_TEXT).endswith("… [16000 letters left out]")


def test_markup_is_escaped_once_and_only_once() -> None:
    once = escaped("a < b & c", _everything)
    assert once == "a &lt; b &amp; c"
    assert escaped(once, _everything) is once


def test_what_a_font_lacks_is_set_in_another_or_shown_as_missing() -> None:
    assert escaped("aé", _ascii) == "a□"
    assert escaped("aé", _ascii, "Other", _everything) == 'a<font face="Other">é</font>'
    assert escaped("aé", _ascii, "Other", _ascii) == 'a<font face="Other">□</font>'
    assert lacking("é é\n☃ a", _ascii) == ("é", "☃")


def test_pieces_of_markup_are_put_together() -> None:
    one, two = Markup("1"), Markup("2")
    assert joined([one, two], " & ") == "1 &amp; 2"
    assert lined([one, two]) == "1<br/>2"
    assert strong(one) == "<b>1</b>"
    assert coloured(one, "#000000") == '<font color="#000000">1</font>'


@settings(max_examples=300)
@given(st.text(alphabet=st.characters(), max_size=200))
def test_any_text_makes_a_paragraph_that_says_it(text: str) -> None:
    set_text = paragraph(serif(text), "body")
    shown = "".join(piece.text for piece in set_text.frags if getattr(piece, "text", None))
    set_text.wrap(200, 10_000)
    told = unprintable(to_json(replace(samples.ordinary()["release"], reason=text)))
    has = [letter for one in told for letter in one.letters]
    wanted = "".join("□" if letter in has else letter for letter in cleaned(text))
    assert "".join(shown.split()) == "".join(wanted.split())
