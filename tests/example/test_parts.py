"""The parts the example is told with: pictures, the clock, days woven in their order."""

from __future__ import annotations

import io
from datetime import date

import pytest
from PIL import Image

from shopledger.example.clock import Chance, Clock, FormIds
from shopledger.example.pictures import HIGH, PAPER, SHADE, TONES, WIDE, draw
from shopledger.store.pictures import tidy_picture


@pytest.mark.parametrize("kind", ["cello", "piccolo_cello", "viola_da_gamba", "viola", "violin", "bow"])
@pytest.mark.parametrize("tone", list(TONES))
def test_a_picture_is_whole_and_on_paper(kind: str, tone: str) -> None:
    drawn = draw(kind, tone)
    image = Image.open(io.BytesIO(drawn))
    assert image.size == (WIDE, HIGH)
    assert image.format == "PNG"
    edge = [image.getpixel((x, y)) for x in range(WIDE) for y in (0, HIGH - 1)]
    edge += [image.getpixel((x, y)) for x in (0, WIDE - 1) for y in range(HIGH)]
    # Nothing drawn reaches the edge: there is only paper, the table, and the two mixed where the table begins.
    assert min(min(pixel) for pixel in edge) >= min(SHADE) - 12
    assert {PAPER, SHADE} <= set(edge)
    assert TONES[tone] in {colour for _count, colour in image.getcolors(WIDE * HIGH) or ()}
    assert tidy_picture(drawn)


def test_a_viol_has_as_many_strings_as_it_says() -> None:
    assert draw("viola_da_gamba", "amber", 6) != draw("viola_da_gamba", "amber", 7)


def test_the_clock_goes_on_with_acts_and_never_back() -> None:
    clock = Clock(date(2025, 3, 4))
    first = clock()
    clock.act_done()
    assert clock() > first
    clock.move_to(date(2025, 3, 1))
    assert clock.today == date(2025, 3, 4)
    clock.move_to(date(2025, 3, 9))
    assert clock.today == date(2025, 3, 9)
    assert clock().tzinfo is not None


def test_chance_and_form_ids_are_the_same_every_time_and_never_twice() -> None:
    one, other = Chance("salt"), Chance("salt")
    drawn = [one(16) for _ in range(50)]
    assert drawn == [other(16) for _ in range(50)]
    assert len(set(drawn)) == 50
    assert Chance("pepper")(16) != drawn[0]
    ids, again = FormIds(), FormIds()
    given = [ids.next() for _ in range(50)]
    assert given == [again.next() for _ in range(50)]
    assert len(set(given)) == 50
