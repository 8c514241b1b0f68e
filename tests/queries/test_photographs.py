"""The photographs of an instrument and of a job: newest first, each once, the first at the head of the page."""

from __future__ import annotations

from shopledger.queries import job_sheet, stock
from shopledger.queries.photographs import photographs_of_instrument, photographs_of_job
from tests.helpers.jobs import job_on
from tests.helpers.photographs import photograph
from tests.helpers.shops import TriedShop


def captions(shop: TriedShop, instrument: int) -> list[str]:
    with shop.ledger.read() as reading:
        return [shot.caption for shot in photographs_of_instrument(reading, instrument)]


def test_the_newest_day_comes_first_and_each_photograph_once(any_shop: TriedShop) -> None:
    shop = any_shop
    cello, other = shop.taken_in(), shop.taken_in()
    assert captions(shop, cello) == []
    one, two, three = (photograph(shade=n) for n in (1, 2, 3))
    shop.act("add_pictures", instrument_id=cello, caption="front", pictures=(one,))
    shop.act("add_pictures", instrument_id=cello, caption="back", pictures=(two,))
    shop.act("add_pictures", instrument_id=other, caption="another", pictures=(one,))
    shop.pass_days(1)
    shop.act("add_pictures", instrument_id=cello, caption="scroll", pictures=(three,))
    shop.act("add_pictures", instrument_id=cello, caption="front again", pictures=(one,))
    assert captions(shop, cello) == ["scroll", "front again", "back"]
    with shop.ledger.read() as reading:
        sheet = stock.sheet(reading, cello)
        assert sheet.picture == sheet.photographs[0].sha256
        assert [shot.on for shot in sheet.photographs][:1] == [shop.today]


def test_a_job_shows_its_own_else_the_newest_of_the_instrument(any_shop: TriedShop) -> None:
    shop = any_shop
    cello = shop.taken_in()
    job = job_on(shop, cello)
    with shop.ledger.read() as reading:
        assert job_sheet.sheet(reading, job).picture == ""
    shop.act("add_pictures", instrument_id=cello, caption="front", pictures=(photograph(shade=1),))
    shop.act("add_pictures", instrument_id=cello, caption="back", pictures=(photograph(shade=2),))
    with shop.ledger.read() as reading:
        assert photographs_of_job(reading, job) == ()
        assert [shot.caption for shot in job_sheet.sheet(reading, job).photographs] == ["front"]
    shop.act("add_job_pictures", job_id=job, caption="the seam", pictures=(photograph(shade=3),))
    with shop.ledger.read() as reading:
        assert [shot.caption for shot in photographs_of_job(reading, job)] == ["the seam"]
        assert [shot.caption for shot in job_sheet.sheet(reading, job).photographs] == ["the seam"]
    assert captions(shop, cello) == ["front", "back", "the seam"]
