"""Work that nobody collects: a letter at 30, 60 and 90 days, each once; never before its day."""

from __future__ import annotations

from shopledger.quantities.errors import Refused
from tests.acts.test_billing import bill, left, papers_of, read_back, ready, work
from tests.helpers.jobs import next_on, preview_of, refused, twice
from tests.helpers.shops import TriedShop, eur
from tests.papers.reading_back import in_order


def test_letters_go_out_at_30_60_and_90_days(any_shop: TriedShop) -> None:
    # 30, 60 and 90 days: common practice, no source.
    shop = any_shop
    job = ready(shop, left(shop), "500.00")
    bill(shop, job, work("80.00"))
    assert "remind" not in next_on(shop, job)
    said = refused(shop, Refused, "on", "remind", job_id=job)
    assert "before" in said
    for n, days in enumerate((30, 60, 90), 1):
        shop.pass_days(30)
        assert "remind" in next_on(shop, job)
        shown = preview_of(shop, "remind", job_id=job)
        assert shown.lines[0].how == str(days)
        assert any("differ" in warning for warning in shown.warnings)
        done = twice(shop, "remind", job_id=job)
        assert papers_of(shop, done) == [("reminder", f"RC 2026-{n:03d}")]
        words = read_back(shop, done.papers[0])
        in_order(words, f"{days} days after it was ready", "80.00", "differ")
        refused(shop, Refused, "on" if days < 90 else None, "remind", job_id=job)
    shop.act("collect_job", job_id=job, handed_to="Ida Skerry", amount=eur("80.00"), cleared=True)
    refused(shop, Refused, None, "remind", job_id=job)


def test_a_letter_that_was_forgotten_is_not_written_twice(shop: TriedShop) -> None:
    job = ready(shop, left(shop), "500.00")
    shop.pass_days(70)
    assert "60 days after" in read_back(shop, shop.act("remind", job_id=job).papers[0])
    refused(shop, Refused, "on", "remind", job_id=job)


def test_what_was_declined_is_reminded_of_too(shop: TriedShop) -> None:
    job = left(shop)
    refused(shop, Refused, None, "remind", job_id=job)
    shop.act("decline_job", job_id=job, given_by="Ida Skerry")
    shop.pass_days(31)
    assert "30 days after the work was declined" in read_back(shop, shop.act("remind", job_id=job).papers[0])
