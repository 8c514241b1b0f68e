"""Photographs for the samples: drawn here, one lying and one upright, named by their SHA-256."""

from __future__ import annotations

from functools import cache
from hashlib import sha256
from io import BytesIO
from typing import Any

from PIL import Image, ImageDraw

from shopledger.papers.parts import PaperFacts
from shopledger.papers.rendering import render


@cache
def photograph(wide: int, high: int, tone: tuple[int, int, int] = (150, 90, 44)) -> bytes:
    """Give a photograph of a belly with two sound holes, as far as it can be made out; a JPEG."""
    image = Image.new("RGB", (wide, high), (228, 220, 206))
    canvas = ImageDraw.Draw(image)
    canvas.ellipse((wide * 0.15, high * 0.05, wide * 0.85, high * 0.95), fill=tone)
    for x in (0.36, 0.6):
        canvas.rectangle((wide * x, high * 0.35, wide * (x + 0.03), high * 0.65), fill=(40, 26, 18))
    kept = BytesIO()
    image.save(kept, "JPEG", quality=88)
    return kept.getvalue()


LYING, UPRIGHT = photograph(1600, 1200), photograph(900, 1600)
BY_NAME = {sha256(content).hexdigest(): content for content in (LYING, UPRIGHT)}
LYING_NAME, UPRIGHT_NAME = BY_NAME


def rendered(kind: str, facts: PaperFacts, **more: Any) -> bytes:
    """Give the PDF of a sample, its photographs handed over."""
    return render(kind, facts, photograph=BY_NAME.__getitem__, **more)
