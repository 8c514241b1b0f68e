"""What holds for every kind of paper, ordinary, long or empty, on A4 and on Letter."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO
from typing import Any

import pypdfium2
import pytest
from pypdf import PdfReader

from shopledger.papers import style
from shopledger.papers.facts import digest, to_json
from shopledger.papers.marks import read_mark
from shopledger.papers.parts import LabelledFacts, PaperFacts
from shopledger.papers.registry import KINDS, kind_named, title_of
from shopledger.papers.rendering import render
from shopledger.papers.unprintable import Unprintable, unprintable
from shopledger.quantities.errors import Bug, NotFound
from tests.papers import samples
from tests.papers.reading_back import (
    bodies_of,
    codes_of,
    ends_of,
    faces_of,
    letters_embedded,
    letters_outside,
    pages_of,
    text_of,
)
from tests.papers.sample_things import LONG_LINES, LONG_NAME

MM = 72 / 25.4
CASES: dict[str, dict[str, Any]] = {
    "ordinary": samples.ordinary(),
    "letter": samples.ordinary(samples.LETTER),
    "long": samples.long(),
    "long letter": samples.long(replace(samples.LONG_SHOP, paper="Letter")),
    "empty": samples.empty(),
}
EVERY = [
    pytest.param(kind, CASES[case][kind], id=f"{kind}, {case}") for case in CASES for kind in CASES[case]
]


@pytest.fixture(scope="module")
def printed() -> dict[int, bytes]:
    """Papers already rendered in this module, by the identity of their facts."""
    return {}


def _pdf(printed: dict[int, bytes], kind: str, facts: PaperFacts) -> bytes:
    """Render once a module."""
    if id(facts) not in printed:
        printed[id(facts)] = samples.rendered(kind, facts)
    return printed[id(facts)]


def test_there_are_samples_of_every_kind() -> None:
    for case in CASES.values():
        assert list(case) == list(KINDS)


def test_kinds_differ_in_name_series_and_facts() -> None:
    # An invoice is one of goods or of work, and both bear the number of their sale.
    assert len({kind.series for kind in KINDS.values() if kind.name != "work_invoice"}) == len(KINDS) - 1
    assert KINDS["work_invoice"].series == KINDS["invoice"].series
    assert len({kind.facts for kind in KINDS.values()}) == len(KINDS)


@pytest.mark.parametrize(("kind", "facts"), EVERY)
def test_title_language_and_author_are_set(kind: str, facts: PaperFacts, printed: dict[int, bytes]) -> None:
    reader = PdfReader(BytesIO(_pdf(printed, kind, facts)))
    assert reader.metadata is not None
    assert reader.metadata.title == title_of(KINDS[kind], facts)
    assert reader.metadata.author == facts.shop.name
    assert reader.root_object["/Lang"] == facts.shop.manners.language
    assert reader.root_object["/ViewerPreferences"]["/DisplayDocTitle"]


@pytest.mark.parametrize(("kind", "facts"), EVERY)
def test_no_page_ends_with_a_heading(kind: str, facts: PaperFacts, printed: dict[int, bytes]) -> None:
    size = style.paragraph("heading_wide").fontSize
    for end in ends_of(_pdf(printed, kind, facts), style.FOOT):
        assert not ("Serif" in end.face and abs(end.size - size) < 0.01), end.text


@pytest.mark.parametrize(("kind", "facts"), EVERY)
def test_only_letters_that_are_used_are_embedded(
    kind: str, facts: PaperFacts, printed: dict[int, bytes]
) -> None:
    pdf = _pdf(printed, kind, facts)
    # Beside them each font has a blank, and a sign for what it lacks.
    assert letters_embedded(pdf) <= {*text_of(pdf), " ", "\0"}


@pytest.mark.parametrize(("kind", "facts"), EVERY)
def test_all_fonts_are_the_shops_and_embedded(
    kind: str, facts: PaperFacts, printed: dict[int, bytes]
) -> None:
    faces = faces_of(_pdf(printed, kind, facts))
    assert faces
    assert all(face.embedded for face in faces)
    assert {face.name.rpartition("+")[2].partition("-")[0] for face in faces} == {
        "SourceSans3",
        "SourceSerif4",
    }


@pytest.mark.parametrize(("kind", "facts"), EVERY)
def test_nothing_stands_outside_the_margins(kind: str, facts: PaperFacts, printed: dict[int, bytes]) -> None:
    assert letters_outside(_pdf(printed, kind, facts), margin=8 * MM) == []


@pytest.mark.parametrize(("kind", "facts"), EVERY)
def test_every_page_says_number_page_and_day_and_bears_the_code(
    kind: str, facts: PaperFacts, printed: dict[int, bytes]
) -> None:
    pdf = _pdf(printed, kind, facts)
    pages = pages_of(pdf)
    for n, page in enumerate(pages, start=1):
        assert f"{facts.number} · page {n} of {len(pages)} · issued" in page
        assert digest(facts) in page
    # A claim ticket bears further codes, of its claim number alone.
    proofs = [said for said in codes_of(pdf) if " " in said]
    assert [read_mark(said) for said in proofs] == [(facts.number, digest(facts))] * len(pages)


@pytest.mark.parametrize(("kind", "facts"), EVERY)
def test_no_page_is_left_empty(kind: str, facts: PaperFacts, printed: dict[int, bytes]) -> None:
    assert all(bodies_of(_pdf(printed, kind, facts), style.FOOT, style.HEAD_LATER))


@pytest.mark.parametrize(("kind", "facts"), EVERY)
def test_the_same_facts_give_the_same_bytes(kind: str, facts: PaperFacts, printed: dict[int, bytes]) -> None:
    assert samples.rendered(kind, replace(facts)) == _pdf(printed, kind, facts)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_page_has_the_size_of_the_shops_paper(paper: str) -> None:
    facts = samples.ordinary(replace(samples.SHOP, paper=paper))["invoice"]
    with pypdfium2.PdfDocument(render("invoice", facts)) as document:
        width, height = document[0].get_size()
    # ISO 216: A4 is 210 by 297 mm; ANSI/ASME Y14.1: Letter is 8.5 by 11 in (both from memory).
    wanted = {"A4": (210 * MM, 297 * MM), "Letter": (8.5 * 72, 11 * 72)}[paper]
    assert (width, height) == pytest.approx(wanted, abs=0.5)


@pytest.mark.parametrize("kind", KINDS)
def test_long_names_and_addresses_are_there_whole(kind: str, printed: dict[int, bytes]) -> None:
    facts = CASES["long"][kind]
    text = text_of(_pdf(printed, kind, facts)).replace("\u00a0", " ")
    for line in LONG_LINES:
        assert line in text
    owners = getattr(facts, "owners", ())
    for owner in owners:
        assert owner.party.name in text
    if kind not in {"account_sales", "charge_note", "loss_report", "handover_list", "agreement"}:
        assert LONG_NAME in text


@pytest.mark.parametrize(
    ("kind", "head"),
    [
        ("invoice", "Number What Price, USD Discount, USD Amount, USD"),
        ("credit_note", "Number What Price, USD Discount, USD Amount, USD"),
        ("addendum", "Term until now from 1 Jun 2026"),
        ("payment_receipt", "Day What Amount, USD"),
        ("remittance", "Day What Amount, USD"),
        ("fee_note", "Day What Amount, USD"),
        ("estimate", "Sort What At least, USD At most, USD"),
        ("work_invoice", "Sort What Amount, USD"),
        ("setup_sheet", "Measure Before After Difference"),
        ("condition_report", "No. Part What is seen How grave In words"),
        ("condition_report", "Part What CR 2026-006 CR 2026-008 Change"),
        ("handover_list", "Number and what Where it is Owner Value, USD"),
        ("handover_list", "Person Due, USD Waiting, USD Owed, USD Left, USD"),
    ],
)
def test_forty_lines_break_over_pages_with_the_head_repeated(
    kind: str, head: str, printed: dict[int, bytes]
) -> None:
    pages = pages_of(_pdf(printed, kind, CASES["long"][kind]))
    assert sum(head in page for page in pages) >= 2


def test_a_row_is_never_divided_where_a_page_can_hold_it() -> None:
    facts = replace(CASES["long"]["handover_list"])
    pages = bodies_of(render("handover_list", facts), style.FOOT, style.HEAD_LATER)
    heads = [page.count("Person Due, USD Waiting, USD Owed, USD Left, USD") for page in pages]
    assert max(heads) == 1
    # Each row ends in these words; a page that began within a row would begin with them.
    assert not any(page.startswith(("net of sales", "3 Chandler")) for page in pages)


def test_a_row_that_no_page_can_hold_is_divided() -> None:
    words = "craquelure all over " * 190
    facts = CASES["ordinary"]["agreement"]
    thing = replace(facts.instrument, condition=(LabelledFacts(label="front", words=words),) * 3)
    narrow = replace(facts, instrument=thing)
    assert text_of(render("agreement", narrow)).count("craquelure") == 570


def test_a_value_without_a_label_has_the_whole_column() -> None:
    facts = CASES["ordinary"]["release"]
    thing = replace(facts.instrument, condition=(LabelledFacts(label="", words="Plays well."),))
    assert "Condition Plays well. seen on 4 Mar 2026" in text_of(
        render("release", replace(facts, instrument=thing))
    )


def test_the_mark_stands_at_the_head_and_is_part_of_the_facts() -> None:
    from hashlib import sha256

    from PIL import Image

    picture = BytesIO()
    Image.new("RGB", (60, 60), (138, 75, 31)).save(picture, "PNG")
    mark = picture.getvalue()
    shop = replace(samples.SHOP, mark_sha256=sha256(mark).hexdigest())
    facts = samples.ordinary(shop)["invoice"]
    pdf = render("invoice", facts, mark=mark)
    assert pdf == render("invoice", facts, mark=mark)
    assert len(PdfReader(BytesIO(pdf)).pages[0].images) == 1
    with pytest.raises(Bug, match="not the one its facts name"):
        render("invoice", facts)
    with pytest.raises(Bug, match="not the one its facts name"):
        render("invoice", samples.ordinary()["invoice"], mark=mark)


def test_facts_of_another_kind_are_refused() -> None:
    with pytest.raises(Bug, match="facts of another"):
        render("invoice", samples.ordinary()["release"])


def test_an_unknown_kind_names_the_nearest() -> None:
    with pytest.raises(NotFound, match=r"called invoize\. The nearest is invoice"):
        kind_named("invoize")


def test_a_paper_size_that_is_neither_is_refused() -> None:
    facts = samples.ordinary(replace(samples.SHOP, paper="A5"))["invoice"]
    with pytest.raises(Bug, match="A4 or Letter, not A5"):
        render("invoice", facts)


def test_characters_the_fonts_lack_are_named_before_printing() -> None:
    shop = replace(samples.SHOP, name="Łódź Αθήνα Москва 古楽 Workshop")
    facts = samples.ordinary(shop)["invoice"]
    assert unprintable(to_json(facts)) == (Unprintable(shop.name, ("古", "楽")),)
    text = text_of(render("invoice", facts))
    assert "Łódź Αθήνα Москва □□ Workshop" in text.replace("\u00a0", " ")


def test_importing_the_registry_loads_no_layout_library() -> None:
    import subprocess
    import sys

    code = "import sys, shopledger.papers.registry, shopledger.papers.rendering; print('reportlab' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
