"""What the papers of a trial say: what silence means, each line for itself, and what came back new."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from shopledger.papers.parts import CautionFacts
from shopledger.quantities.errors import Bug
from tests.papers import samples
from tests.papers.reading_back import in_order, text_of
from tests.papers.sample_things import SHOP, usd
from tests.papers.sample_trials import CASE, CELLO, trials_ordinary

ORDINARY: dict[str, Any] = trials_ordinary(SHOP)
SILENT = (
    "Each line is decided for itself",
    "Silence is not acceptance",
    "nothing is sold and nothing is taken as returned",
    "A sale is made only by an invoice",
)


def says(kind: str, **changes: Any) -> str:
    """Give the text of the ordinary sample with some facts changed."""
    return text_of(samples.rendered(kind, replace(ORDINARY[kind], **changes))).replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("kind", "parts"),
    [
        (
            "trial_agreement",
            (
                *("Trial agreement", "lent to be tried, not sold", "Ottoline Marrack", "TR 2026-011"),
                *("2 Apr 2026", "Back by", "16 Apr 2026", "PR 2026-044", "Value, USD"),
                *("1 Cello, “the Ostby cello” No. 031", "Port Ellery, 1987", "condition report CR 2026-009"),
                *("9,500.00", "2 Bow", "Hair: new in February.", "900.00", "3 a cello case", "150.00"),
                *("Value in all 10,550.00", "Risk is borne by the player", "Harbour Mutual, policy seen"),
                *("Carriage is paid by the player", "identity card", "The shop holds USD 500.00"),
                *(
                    "stays the player’s money",
                    "stays its owner’s property",
                    *SILENT,
                    "tells the shop at once",
                ),
                *(
                    "She plays it at two rehearsals",
                    "The player",
                    "For the shop",
                    "not a certified appraisal",
                ),
                *("section 2-327 of the Uniform Commercial Code", "Ask a lawyer"),
            ),
        ),
        (
            "trial_extension",
            (
                *("Extension of a trial", "TR 2026-011/2", "by telephone", "16 Apr 2026", "30 Apr 2026"),
                *("The trial TR 2026-011 goes on until 30 Apr 2026", "stays its owner’s property", *SILENT),
            ),
        ),
        (
            "trial_return",
            (
                *("Receipt back from a trial", "after the day agreed", "18 Apr 2026", "What came back"),
                *("Cello", "a cello case", "Line 1, back", "Scratched by a chair"),
                *("New since it went out: back: scratch, slight.", "condition report CR 2026-012"),
                *("Line 3, back", "Nothing is noted of its condition", "To be bought", "Bow"),
                *("USD 500.00 of the player’s is still held", "Received back, for the shop", "Returned by"),
            ),
        ),
        (
            "trial_reminder",
            (
                *("Your trial", "is 4 days overdue", "TL 2026-003", "What is with you", "Cello"),
                *("was due back on 16 Apr 2026 and is still with you", "ask for it", "555-0114 or"[:8]),
                *(*SILENT, "12 Apr 2026", "2-327"),
            ),
        ),
    ],
)
def test_a_paper_says_its_parts_in_order(kind: str, parts: tuple[str, ...]) -> None:
    text = says(kind)
    assert in_order(text, *parts), text


def test_values_have_to_add_up() -> None:
    with pytest.raises(Bug, match="values"):
        says("trial_agreement", whole=usd("10550.01"))


def test_without_a_deposit_none_is_said_to_be_held() -> None:
    text = says(
        "trial_agreement", deposit=None, deposit_number="", signed_on=date(2026, 4, 1), identity_seen=""
    )
    assert "No deposit is paid" in text
    assert "not noted" in text
    assert "Signed on paper on 1 Apr 2026" in text


def test_a_trial_abroad_bears_the_caution_on_materials() -> None:
    said = "Bow stick: may need papers before it crosses a border."
    text = says("trial_agreement", goes_to="CH", cautions=CautionFacts(materials=(said,)))
    assert in_order(text, "Country CH", said, "What is unknown is not thereby free")


def test_a_receipt_says_what_is_still_out_and_that_nothing_is_new() -> None:
    back = replace(ORDINARY["trial_return"].back[0], new=(), condition=())
    text = says(
        "trial_return", back=(back,), kept=(), still_out=(CASE,), deposit_held=None, back_on=date(2026, 4, 16)
    )
    assert in_order(
        text, "within the time agreed", "Nothing new since it went out", "Still out", "a cello case"
    )
    assert in_order(text, "Until 16 Apr 2026", *SILENT[:2])
    assert "is still held" not in text


@pytest.mark.parametrize(
    ("day", "words"),
    [(14, "ends in 2 days"), (15, "ends in 1 day"), (16, "ends today"), (17, "is 1 day overdue")],
)
def test_a_letter_says_when_it_ends(day: int, words: str) -> None:
    text = says("trial_reminder", sent_on=date(2026, 4, day), lines=(CELLO,), earlier=())
    assert words in text
    assert ("is due back by 16 Apr 2026" in text) == (day <= 16)
    assert "Letters before" not in text
