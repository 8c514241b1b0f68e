"""Photographs made for the tests: real files of every kind that a shop's counter meets."""

from __future__ import annotations

import io
import struct
import zlib
from typing import Any

from PIL import Image

RED, GREEN, BLUE, GREY = (200, 30, 30), (30, 160, 40), (30, 40, 190), (120, 120, 120)
"""The quarters of a photograph: top left, top right, bottom left, bottom right."""
VISUAL = {
    1: ("top", "left"), 2: ("top", "right"), 3: ("bottom", "right"), 4: ("bottom", "left"),
    5: ("left", "top"), 6: ("right", "top"), 7: ("right", "bottom"), 8: ("left", "bottom"),
}  # fmt: skip
"""On which side of what is seen the first row and the first column of a file lie, by the value of the tag Orientation.

Source: the table of the tag in TIFF 6.0 and Exif (CIPA DC-008), as jpegexiforient.c of the Independent JPEG Group
quotes it.
"""


def quarters(width: int = 48, height: int = 32) -> Image.Image:
    """Give a picture whose four quarters tell how it stands."""
    image = Image.new("RGB", (width, height), RED)
    image.paste(GREEN, (width // 2, 0, width, height // 2))
    image.paste(BLUE, (0, height // 2, width // 2, height))
    image.paste(GREY, (width // 2, height // 2, width, height))
    return image


def seen(content: bytes) -> list[tuple[int, ...]]:
    """Give the colours in the middle of the four quarters of a file, as it lies there."""
    with Image.open(io.BytesIO(content)) as image:
        plain = image.convert("RGB")
        w, h = plain.size
        places = ((w // 4, h // 4), (3 * w // 4, h // 4), (w // 4, 3 * h // 4), (3 * w // 4, 3 * h // 4))
        return [tuple(plain.getpixel(place)) for place in places]  # type: ignore[arg-type]


def near(one: tuple[int, ...], other: tuple[int, ...], most: int = 12) -> bool:
    """Whether two colours are the same but for what a JPEG loses."""
    return all(abs(a - b) <= most for a, b in zip(one, other, strict=True))


def file_of(image: Image.Image, kind: str = "JPEG", **how: Any) -> bytes:
    """Give the picture's file."""
    content = io.BytesIO()
    if kind in {"JPEG", "WEBP"}:
        how = {"quality": 95, **how}
    image.save(content, kind, **how)
    return content.getvalue()


def held(orientation: int) -> Image.Image:
    """Give the quarters as a camera stores them that was held so: pixel by pixel after the tag's own table."""
    upright = quarters()
    across, down = upright.size
    first_row, first_column = VISUAL[orientation]
    turned = first_row in {"left", "right"}
    stored = Image.new("RGB", (down, across) if turned else (across, down))
    for row in range(stored.height):
        for column in range(stored.width):
            place = {first_row: row, first_column: column}
            x = place["left"] if "left" in place else across - 1 - place["right"]
            y = place["top"] if "top" in place else down - 1 - place["bottom"]
            stored.putpixel((column, row), upright.getpixel((x, y)))  # type: ignore[arg-type]
    return stored


def exif(orientation: int = 1, *, position: bool = False) -> Image.Exif:
    """Give what a camera writes: how it was held, its maker, the time, and where it was if wanted."""
    made = Image.Exif()
    made[0x0112] = orientation
    made[0x010F] = "Camera of nobody"
    made[0x0132] = "2026:03:04 10:11:12"
    if position:
        made.get_ifd(0x8825).update(
            {1: "N", 2: (54.0, 28.0, 12.0), 3: "W", 4: (0.0, 36.0, 54.0), 29: "2026:03:04"}
        )
    return made


def photograph(
    kind: str = "JPEG", width: int = 48, height: int = 32, *, orientation: int = 1, shade: int = 0, **how: Any
) -> bytes:
    """Give a small photograph's file; another `shade` makes it another photograph."""
    image = quarters(width, height)
    # What is lost in a JPEG must not make one of two.
    colour = (shade % 256, shade // 256 * 16 % 256, 90)
    image.putpixel((width // 4, 0), colour)
    if shade:
        image.paste(colour, (0, 0, width // 2, height // 2))
    return file_of(image, kind, exif=exif(orientation), **how)


def bomb(width: int = 60_000, height: int = 60_000) -> bytes:
    """Give a PNG of a few kilobytes that claims 3,600 megapixels of one colour."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    row = zlib.compress(b"\0" * 1_000_000, 9)
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", row) + chunk(b"IEND", b"")
