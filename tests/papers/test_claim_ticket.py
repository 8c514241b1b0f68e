"""Claim tickets as a scanner reads them: both halves, straight and turned, by a decoder that is none of ours."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import pypdfium2
import pytest
import zxingcpp
from PIL import Image

from shopledger.rules.claims import claim_number, read_claim
from tests.papers import samples
from tests.papers.reading_back import in_order, pages_of, text_of
from tests.papers.sample_work import CLAIM

TICKETS: dict[str, Any] = {
    "ordinary": samples.ordinary()["claim_ticket"],
    "letter": samples.ordinary(samples.LETTER)["claim_ticket"],
    "long letter": samples.long(replace(samples.LONG_SHOP, paper="Letter"))["claim_ticket"],
}
PDFS = {name: samples.rendered("claim_ticket", facts) for name, facts in TICKETS.items()}
WHITE = (255, 255, 255)


def halves(pdf: bytes, dpi: int) -> list[Image.Image]:
    """Give the two halves of a ticket, cut where its line is, as a scanner at this resolution sees them."""
    with pypdfium2.PdfDocument(pdf) as document:
        page = document[0]
        found = page.get_textpage().search("cut here").get_next()
        assert found is not None
        _left, bottom, _right, _top = page.get_textpage().get_charbox(found[0])
        high = page.get_height()
        picture: Image.Image = page.render(scale=dpi / 72).to_pil().convert("RGB")
    cut = round((high - bottom + 2) * dpi / 72)
    # The foot has a code of its own, which proves the paper: it is not what is looked for here.
    foot = picture.height - round(31 / 25.4 * dpi)
    return [
        picture.crop((0, 0, picture.width, cut)),
        picture.crop((0, cut, picture.width, foot)),
    ]


def codes(picture: Image.Image) -> Sequence[tuple[str, str]]:
    """Give sort and text of each code of a picture."""
    return sorted((code.format.name, code.text) for code in zxingcpp.read_barcodes(picture))


BOTH = [("Code128", CLAIM.replace("-", "")), ("QRCode", CLAIM)]


@pytest.mark.parametrize("turned", [0, 90, 180, 270, 3, -4, 5, 93, 185, 267])
@pytest.mark.parametrize("dpi", [150, 300])
@pytest.mark.parametrize("ticket", ["ordinary", "long letter"])
def test_both_halves_are_read_straight_and_turned(ticket: str, dpi: int, turned: int) -> None:
    for half in halves(PDFS[ticket], dpi):
        seen = half.rotate(turned, resample=Image.Resampling.BICUBIC, expand=True, fillcolor=WHITE)
        assert codes(seen) == BOTH


def test_what_is_scanned_is_a_claim_number() -> None:
    for half in halves(PDFS["ordinary"], 150):
        assert {read_claim(text) for _sort, text in codes(half)} == {CLAIM}


@pytest.mark.parametrize("n", [*range(1, 13), 4711, 9999, 10_000, 123_456])
def test_tickets_of_every_number_are_read(n: int) -> None:
    claim = claim_number(2026, n)
    facts = replace(TICKETS["ordinary"], number=claim, claim_number=claim)
    wanted = [("Code128", claim.replace("-", "")), ("QRCode", claim)]
    for half in halves(samples.rendered("claim_ticket", facts), 150):
        assert codes(half) == wanted


@pytest.mark.parametrize("ticket", PDFS)
def test_both_halves_stand_on_one_sheet(ticket: str) -> None:
    (page,) = pages_of(PDFS[ticket])
    assert page.count(f"{CLAIM} ") == 3  # the halves, and the foot
    assert in_order(page, "client’s half", CLAIM, "cut here", "stays with the instrument", CLAIM)


def test_each_half_says_what_was_left_and_what_is_wanted() -> None:
    text = text_of(PDFS["ordinary"]).replace("\u00a0", " ")
    half = (
        *("Ottoline Marrack", "No. 027, Bass viola da gamba, six strings, made by Aldous Fenwright"),
        *("case, canvas over plywood, one latch replaced, bow No. 027-b", "The low D buzzes"),
        *("left on 4 Mar 2026, promised for 20 Mar 2026", "USD 50.00; value to insure: USD 9,500.00"),
    )
    words = ("Bring it: the instrument is handed over against it", "differs by place", "Ask a lawyer")
    assert in_order(text, *half, *words, "cut here", *half)


def test_an_empty_ticket_says_that_nothing_was_promised_or_paid() -> None:
    text = text_of(samples.rendered("claim_ticket", samples.empty()["claim_ticket"]))
    assert text.count("left on 1 Jan 2026, no day promised") == 2
    assert text.count("none paid; value to insure: none agreed") == 2
    assert text.count("nothing else") == 2


def test_a_ticket_that_is_not_issued_bears_no_code() -> None:
    pdf = samples.rendered("claim_ticket", TICKETS["ordinary"], issued=False)
    assert [codes(half) for half in halves(pdf, 200)] == [[], []]


def test_what_is_too_long_for_a_ticket_is_cut_and_seen_to_be() -> None:
    (page,) = pages_of(PDFS["long letter"])
    assert page.count("The low D buzzes when it is played hard; the pegs slip in dry weather.") >= 2
    assert "…" in page
