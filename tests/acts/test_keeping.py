"""Photographs that were prepared: kept before the act that names them, once, whole or not at all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import select

from shopledger.acts import act
from shopledger.acts.doing import do, would_leave
from shopledger.model import Picture
from shopledger.quantities.errors import Refused, Typed
from shopledger.store.pictures import tidy_picture
from shopledger.store.prepared import PreparedPicture, prepare_picture
from tests.helpers.photographs import photograph
from tests.helpers.shops import TriedShop


def prepared(folder: Path, count: int) -> tuple[PreparedPicture, ...]:
    """Give so many different photographs, prepared."""
    return tuple(
        prepare_picture(photograph(shade=n + 1), f"{n}.jpg", folder, side=9)[0] for n in range(count)
    )


def names(shop: TriedShop) -> Sequence[str]:
    """Give the files of all photographs on record, in their order."""
    with shop.ledger.read() as reading:
        return reading.session.scalars(select(Picture.sha256).order_by(Picture.id)).all()


def test_prepared_photographs_are_kept_like_those_that_are_not(any_shop: TriedShop, tmp_path: Path) -> None:
    shop = any_shop
    cello = shop.taken_in()
    three, plain = prepared(tmp_path, 3), photograph(shade=77)
    form = shop.form("add_pictures", instrument_id=cello, pictures=(*three, plain), caption="front")
    told: list[tuple[int, int]] = []
    outcome = do(shop.ledger, act("add_pictures"), form, lambda done, of: told.append((done, of)))
    assert told == [(0, 3), (1, 3), (2, 3), (3, 3)]
    assert names(shop)[:3] == [one.sha256 for one in three]
    assert shop.ledger.files.get(names(shop)[3]) == tidy_picture(plain)
    for one in three:
        assert shop.ledger.files.get(one.sha256) == one.path.read_bytes()
    before = shop.rows()
    # The same form again books nothing, also when what was prepared is gone by then.
    for one in three:
        one.path.unlink()
    assert do(shop.ledger, act("add_pictures"), form) == outcome
    assert shop.rows() == before


def test_what_was_stopped_leaves_everything_as_it_was(any_shop: TriedShop, tmp_path: Path) -> None:
    shop = any_shop
    cello = shop.taken_in()
    form = shop.form("add_pictures", instrument_id=cello, pictures=prepared(tmp_path, 5))
    before = shop.rows()

    def stop(done: int, of: int) -> None:
        if done == 3:
            raise Refused("cancelled")

    with pytest.raises(Refused, match="cancelled"):
        do(shop.ledger, act("add_pictures"), form, stop)
    assert shop.rows() == before
    assert list(shop.ledger.files.names()) == []
    do(shop.ledger, act("add_pictures"), form)
    assert len(names(shop)) == 5


@pytest.mark.parametrize("name", ["add_pictures", "take_in"])
def test_one_that_is_gone_is_named_and_nothing_is_written(shop: TriedShop, tmp_path: Path, name: str) -> None:
    cello = shop.taken_in()
    two = prepared(tmp_path, 2)
    two[1].path.unlink()
    inputs: dict[str, Any] = {
        "add_pictures": {"instrument_id": cello},
        "take_in": {"instrument": {"kind": "cello"}, "stay": {"reason": "own"}},
    }[name]
    before = shop.rows()
    with pytest.raises(Typed) as caught:
        shop.act(name, pictures=two, **inputs)
    assert caught.value.field == "pictures[1]"
    assert (
        caught.value.sentence() == "1.jpg was prepared, but is gone since: take it out and choose it again."
    )
    assert shop.rows() == before
    assert list(shop.ledger.files.names()) == []


def test_a_refused_day_keeps_no_file(shop: TriedShop, tmp_path: Path) -> None:
    cello = shop.taken_in()
    form = shop.form("add_pictures", instrument_id=cello, pictures=prepared(tmp_path, 1))
    with pytest.raises(Typed, match="has not come yet"):
        do(shop.ledger, act("add_pictures"), replace(form, on=shop.today.replace(year=2999)))
    assert list(shop.ledger.files.names()) == []


def test_a_trial_of_an_act_keeps_no_file(any_shop: TriedShop, tmp_path: Path) -> None:
    shop = any_shop
    cello = shop.taken_in()
    form = shop.form(
        "make_report",
        instrument_id=cello,
        occasion="intake",
        overall="as new",
        pictures=prepared(tmp_path, 2),
    )
    [draft] = would_leave(shop.ledger, act("make_report"), form)
    assert draft.number
    assert list(shop.ledger.files.names()) == []
    assert len(do(shop.ledger, act("make_report"), form).papers) == 1
    assert len(list(shop.ledger.files.names())) == 3


def test_the_same_photograph_twice_is_one_file(shop: TriedShop, tmp_path: Path) -> None:
    cello = shop.taken_in()
    [one] = prepared(tmp_path, 1)
    again = prepare_picture(photograph(shade=1), "copy.jpg", tmp_path, side=9)[0]
    shop.act("add_pictures", instrument_id=cello, pictures=(one, again))
    assert len(names(shop)) == 2
    assert list(shop.ledger.files.names()) == [one.sha256]
