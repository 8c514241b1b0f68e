"""What the workshop's papers say: parts in order, figures, sums; pins on photographs; and what they refuse to print."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from fractions import Fraction
from io import BytesIO
from typing import Any

import pytest
from PIL import Image
from pypdf import PdfReader

from shopledger.papers.parts import AmountLine
from shopledger.papers.rendering import photographs_in, render
from shopledger.papers.work_invoice import WorkLineFacts
from shopledger.papers.workshop import TaxOnWork, time_words
from shopledger.quantities.errors import Bug, Trouble
from tests.papers import samples
from tests.papers.reading_back import in_order, pages_of, text_of
from tests.papers.sample_photographs import BY_NAME, LYING, LYING_NAME, UPRIGHT_NAME
from tests.papers.sample_things import usd

ORDINARY: dict[str, Any] = samples.ordinary()


def says(kind: str, facts: Any = None) -> str:
    """Give the text of a paper with plain blanks, of the ordinary sample where no facts are given."""
    pdf = samples.rendered(kind, ORDINARY[kind] if facts is None else facts)
    return text_of(pdf).replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("kind", "parts"),
    [
        (
            "estimate",
            (
                *("Estimate", "Ottoline Marrack", "26-0014-7", "Valid until", "5 Apr 2026", "ES 2026-007"),
                *(
                    "USD 200.00",
                    "Bass viola da gamba",
                    "The low D buzzes",
                    "worn",
                    "At least, USD At most, USD",
                ),
                *("Find and cure the buzz 1 h to 2 h 30 min 80.00 200.00", "Fit pegs 1 h 30 min", "120.00"),
                *("2 × Peg, boxwood 36.00 36.00", "not taxed 25.00 25.00", "Discount −11.00 −11.00"),
                *("Net 250.00 370.00", "Tax, 8.25% 19.47 29.37", "Total with tax 269.47 399.37"),
                *(
                    "USD 80.00 an hour",
                    "line by line",
                    "without asking first",
                    "name",
                    "date",
                    "how",
                    "up to, USD",
                ),
            ),
        ),
        (
            "work_invoice",
            (
                *("Invoice for work", "Ottoline Marrack", "26-0014-7", "SI 2026-041", "USD 400.00"),
                *("1 h 45 min at 80.00 an hour 140.00", "1 h 20 min 120.00", "2 × Peg, boxwood 36.00"),
                *("Not billed not taxed −20.00", "Sum of the lines 301.00", "Tax, 8.25% 24.42", "325.42"),
                *("Deposit deposit set off, PR 2026-031 −50.00", "not cleared yet −100.00"),
                *("Balance due 175.42", "line by line", "ask an accountant"),
            ),
        ),
        (
            "collection",
            (
                *("Collection", "handed over after the work", "26-0014-7", "Handed to", "Ottoline Marrack"),
                *(
                    "identity seen: passport",
                    "Find and cure the buzz; Fit pegs",
                    "as it came",
                    "bow No. 027-b",
                ),
                *("SI 2026-041 billed in all 325.42", "−150.00", "Left owing 175.42", "before 10 April"),
                *("Received by", "Ottoline Marrack", "signature", "For the shop", "Aldous Fenwright"),
            ),
        ),
        (
            "setup_sheet",
            (
                *("Set-up sheet", "26-0014-7", "17 Mar 2026", "Measure Before After Difference"),
                *("Bridge height 82.5 mm ≈ 3 1/4 in 84 mm ≈ 3 5/16 in +1.5 mm", '1/4" ≈ 6.4 mm'),
                *("−1/32 in", "Afterlength – 112 mm", "–", "No. 1 D4, gut, 0.70 mm D4, gut, 0.72 mm"),
                *("No. 2 – A3, gut, 0.92 mm", "as they were typed"),
            ),
        ),
        (
            "condition_report",
            (
                *(
                    "Condition report",
                    "back from a trial",
                    "CR 2026-008",
                    "daylight and a lens",
                    "In good order",
                ),
                *("1 top crack marked from the treble sound hole, 42 mm photograph 1", "3 frets wear noted"),
                *("What changed since CR 2026-006, 10 Feb 2026", "top crack slight marked:", "graver"),
                *("dent – slight new", "back scratch noted – gone", "Photographs", "Photograph 1 · top"),
                *("Photograph 2", "no appraisal"),
            ),
        ),
        (
            "reminder",
            (
                *("Your instrument is waiting", "60 days after it was ready", "Ottoline Marrack"),
                *(
                    "done on 18 Mar 2026",
                    "555-0114 or bench@fenwright.example.org",
                    "in answer to this letter",
                ),
                *("USD 175.42 is to be paid", "Earlier letters went out on 17 Apr 2026", "differs by place"),
            ),
        ),
    ],
)
def test_an_ordinary_paper_says_its_parts_in_order(kind: str, parts: tuple[str, ...]) -> None:
    text = says(kind)
    assert in_order(text, *parts), text


@pytest.mark.parametrize(
    ("minutes", "words"), [(5, "5 min"), (0, "0 min"), (60, "1 h"), (90, "1 h 30 min"), (1500, "25 h")]
)
def test_times_are_told_in_hours_and_minutes(minutes: int, words: str) -> None:
    assert time_words(minutes).replace("\u00a0", " ") == words


def test_an_estimate_that_is_known_has_one_column() -> None:
    text = says("estimate", samples.empty()["estimate"])
    assert "At least" not in text
    assert "Tax" not in text
    assert in_order(text, "Rehair 60.00", "Total 60.00", "without asking first")


def test_a_total_that_differs_only_by_its_parts_has_two_columns() -> None:
    facts = ORDINARY["estimate"]
    lines = (replace(facts.lines[0], low=usd("60.00")), replace(facts.lines[1], low=usd("140.00")))
    text = says("estimate", replace(facts, lines=(*lines, *facts.lines[2:])))
    assert "At least, USD" in text


def test_tax_on_the_whole_says_so() -> None:
    # Streamlined Sales and Use Tax Agreement, section 324: by item or by invoice; the paper says which.
    facts = replace(ORDINARY["work_invoice"], tax=TaxOnWork(rate=Fraction("0.0825"), basis="invoice"))
    assert "reckoned once, on the sum" in says("work_invoice", facts)


def test_work_that_is_not_taxed_says_so() -> None:
    text = says("work_invoice", samples.empty()["work_invoice"])
    assert in_order(
        text, "Rehair 60.00", "Total 60.00", "Balance due 60.00", "No tax is charged on this work."
    )
    assert "not taxed" not in text


@pytest.mark.parametrize(
    ("balance", "paid", "says_"),
    [
        ("0.00", "275.42", "Balance: paid in full –"),
        ("-4.58", "280.00", "Balance: the shop owes the client −4.58"),
    ],
)
def test_an_invoice_says_where_it_stands(balance: str, paid: str, says_: str) -> None:
    facts = ORDINARY["work_invoice"]
    paid_line = replace(facts.payments[1], amount=usd(paid))
    facts = replace(facts, payments=(facts.payments[0], paid_line), balance=usd(balance))
    assert says_ in says("work_invoice", facts)


def statement(bill_to: str, **changes: Any) -> Any:
    """Give a statement of work that the client doesn't pay."""
    line = WorkLineFacts(kind="labour", what="Glue a seam", minutes=30, amount=usd("40.00"), taxed=False)
    return replace(
        ORDINARY["work_invoice"],
        **{
            **{"bill_to": bill_to, "lines": (line,), "net": usd("40.00"), "tax": TaxOnWork(), "payments": ()},
            **{"tax_amount": usd("0"), "total": usd("40.00"), "balance": None, **changes},
        },
    )


def test_a_statement_to_owners_says_who_bears_what() -> None:
    charged = (
        AmountLine(what="Ansgar Pell", amount=usd("13.33"), reference="CH 2026-004"),
        AmountLine(what="Brida Pell", amount=usd("6.67"), reference="CH 2026-005"),
    )
    text = says("work_invoice", statement("owner", charged=charged, shop_bears=usd("20.00")))
    assert in_order(
        text, "Statement of work", "the owner’s account", "Ansgar Pell", "13.33", "6.67", "20.00", "40.00"
    )
    assert "Balance" not in text
    assert "only where the agreement says so" in text


def test_a_statement_on_the_shops_own_account_says_the_cost() -> None:
    text = says("work_invoice", statement("shop", cost=usd("9.50"), minutes=75))
    assert in_order(text, "the shop’s own account", "USD 9.50", "1 h 15 min", "Nobody is asked to pay")
    assert "due" not in text


@pytest.mark.parametrize(
    ("earlier", "words"), [("26-0003-1", "warranty of job 26-0003-1"), ("", "under warranty")]
)
def test_a_statement_under_warranty_has_nothing_due(earlier: str, words: str) -> None:
    text = says("work_invoice", statement("warranty", earlier_claim=earlier))
    assert words in text
    assert "Nothing is charged and nothing is due" in text
    assert "Balance" not in text


def test_what_is_returned_undone_says_so() -> None:
    facts = replace(
        ORDINARY["collection"],
        declined=True,
        work_done=(),
        identity_seen="",
        billed=None,
        paid=None,
        balance=None,
    )
    text = says("collection", facts)
    assert in_order(
        text, "the work was declined", "identity seen: not noted", "None was done.", "Nothing is billed"
    )


def test_a_collection_that_is_paid_leaves_nothing_owing() -> None:
    text = says("collection", replace(ORDINARY["collection"], paid=usd("325.42"), balance=usd("0")))
    assert "Balance: paid in full –" in text
    assert "still to be paid" not in text


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"after_days": 30}, "30 days after it was ready"),
        ({"declined": True, "ready_on": None}, "60 days after the work was declined"),
        ({"due": None}, "Nothing is to be paid"),
        ({"due": usd("-5.00")}, "Nothing is to be paid"),
        ({"ready_on": None}, "It has been waiting for you."),
        ({"earlier": (date(2026, 4, 17), date(2026, 5, 1))}, "17 Apr 2026, 1 May 2026"),
    ],
)
def test_a_reminder_follows_its_facts(changes: dict[str, Any], words: str) -> None:
    assert words in says("reminder", replace(ORDINARY["reminder"], **changes))


def test_a_first_reminder_asks_for_no_answer() -> None:
    assert "in answer to this letter" not in says("reminder", replace(ORDINARY["reminder"], after_days=30))


def test_a_set_up_without_readings_says_so() -> None:
    assert "No measure and no string" in says("setup_sheet", samples.empty()["setup_sheet"])


def test_a_condition_report_without_an_earlier_one_compares_nothing() -> None:
    facts = replace(ORDINARY["condition_report"], earlier_number="", compared=(), claim_number="26-0014-7")
    text = says("condition_report", facts)
    assert "What changed" not in text
    assert "26-0014-7" in text
    assert "Neither report" in says("condition_report", replace(ORDINARY["condition_report"], compared=()))
    assert "Nothing is marked" in says("condition_report", samples.empty()["condition_report"])


def test_photographs_stand_on_the_paper_with_their_pins() -> None:
    facts = ORDINARY["condition_report"]
    assert photographs_in(facts) == (LYING_NAME, UPRIGHT_NAME)
    assert photographs_in(ORDINARY["estimate"]) == ()
    pdf = samples.rendered("condition_report", facts)
    pictures = [image.image for page in PdfReader(BytesIO(pdf)).pages for image in page.images]
    assert [max(one.size) for one in pictures if one is not None] == [1400, 1400]
    assert [one.width > one.height for one in pictures if one is not None] == [True, False]
    (page,) = [page for page in pages_of(pdf) if "Photograph 1" in page]
    assert in_order(page, "1", "3", "2", "Photograph 1") or in_order(page, "Photograph 1", "Photograph 2")


def test_pins_stand_where_they_were_set() -> None:
    import pypdfium2

    pin = ORDINARY["condition_report"].photographs[1].pins[0]
    pinned = replace(ORDINARY["condition_report"].photographs[1], pins=(replace(pin, n=888),))
    facts = replace(ORDINARY["condition_report"], marks=(), compared=(), photographs=(pinned,))
    with pypdfium2.PdfDocument(samples.rendered("condition_report", facts)) as document:
        for page in document:
            found = page.get_textpage().search("888").get_next()
            if found is None:
                continue
            left, bottom, _right, _top = page.get_textpage().get_charbox(found[0])
            (image,) = page.get_objects(filter=(pypdfium2.raw.FPDF_PAGEOBJ_IMAGE,))
            x0, y0, x1, y1 = image.get_bounds()
            # Half of the width from the left, nine tenths of the height from above.
            assert (left - x0) / (x1 - x0) == pytest.approx(0.5, abs=0.06)
            assert (bottom - y0) / (y1 - y0) == pytest.approx(0.1, abs=0.02)
            return
    raise AssertionError("the pin is on no page")


def test_a_photograph_that_is_not_the_one_named_is_refused() -> None:
    facts = ORDINARY["condition_report"]
    with pytest.raises(Bug, match="not the one its facts name"):
        render("condition_report", facts)
    with pytest.raises(Bug, match="not the one its facts name"):
        render("condition_report", facts, photograph=lambda _name: LYING)


def test_a_file_that_is_no_photograph_is_told_in_a_sentence() -> None:
    from hashlib import sha256

    broken = LYING[:40]
    shown = replace(ORDINARY["condition_report"].photographs[0], sha256=sha256(broken).hexdigest())
    facts = replace(ORDINARY["condition_report"], photographs=(shown,))
    with pytest.raises(Trouble, match="Restore its file from a backup"):
        render("condition_report", facts, photograph=lambda _name: broken)


def test_photographs_of_every_sort_give_the_same_bytes_twice() -> None:
    from hashlib import sha256

    for mode, form in (("RGBA", "PNG"), ("P", "PNG"), ("L", "JPEG"), ("RGB", "WEBP")):
        kept = BytesIO()
        Image.new("RGB", (300, 200), (90, 60, 30)).convert(mode).save(kept, form)
        content = kept.getvalue()
        name = sha256(content).hexdigest()
        shown = replace(ORDINARY["condition_report"].photographs[0], sha256=name)
        facts = replace(ORDINARY["condition_report"], photographs=(shown,))
        files = {**BY_NAME, name: content}
        first, second = (
            render("condition_report", facts, photograph=files.__getitem__) for _time in range(2)
        )
        assert first == second


def more(name: str) -> Callable[[Any], Any]:
    """Give a change that makes one amount a cent too much."""
    return lambda facts: replace(facts, **{name: getattr(facts, name) + usd("0.01")})


@pytest.mark.parametrize(
    ("kind", "spoil"),
    [
        *(
            ("estimate", more(name))
            for name in ("net_low", "net_high", "total_low", "total_high", "discount")
        ),
        *(("work_invoice", more(name)) for name in ("net", "tax_amount", "total", "balance")),
        ("work_invoice", lambda _facts: statement("owner", shop_bears=usd("1.00"))),
        *(("collection", more(name)) for name in ("billed", "paid", "balance")),
    ],
)
def test_a_paper_whose_figures_do_not_add_up_is_never_printed(kind: str, spoil: Callable[[Any], Any]) -> None:
    with pytest.raises(Bug, match="add up"):
        render(kind, spoil(ORDINARY[kind]))
