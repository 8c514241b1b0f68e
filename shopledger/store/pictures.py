"""Photographs on their way in: read as what they are, turned the right way, written anew without metadata.

Each step that takes long is one call into Pillow's own code, during which other threads go on.
"""

from __future__ import annotations

import io
import struct
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from shopledger.quantities.errors import Typed
from shopledger.quantities.words import N_, _

if TYPE_CHECKING:
    from PIL import Image

FORMATS = ("PNG", "JPEG", "WEBP")
MOST_PIXELS = 50_000_000
MOST_BYTES = 64 * 1024 * 1024
QUALITY = 92
"""Of a photograph written anew as JPEG, from 1 to 95: no difference is seen, and the file is no larger than it was."""
_ORIENTATION = 0x0112
"""The tag by which Exif says how a camera was held. Source: Exif 2.32 (CIPA DC-008), 4.6.4; from memory, verify."""
_BROKEN = (
    OSError, SyntaxError, ValueError, IndexError, KeyError, TypeError, EOFError, AttributeError, OverflowError,
    struct.error,
)  # fmt: skip
"""What Pillow raises at files that are not what they claim to be."""


@dataclass(frozen=True, slots=True)
class Small:
    """A photograph made small, as its colours.

    Shape:  four bytes a pixel (red, green, blue, opacity), row after row from the top.
    """

    width: int
    height: int
    colours: bytes = field(repr=False)


def tidy_picture(content: bytes, *, field: str = "pictures", name: str = "") -> bytes:
    """Give a photograph at full size, upright, without where and when the camera was.

    Shape:  `name` is the file's, for the sentence that refuses it. A JPEG stays a JPEG, as does a WebP that can't be
            seen through; what can, and a PNG, become a PNG. Of moving pictures the first is kept.

    Raises: Typed: it is no PNG, JPEG or WebP, is broken, or is too large.
    """
    return tidy_with_small(content, 0, field=field, name=name)[0]


def tidy_with_small(content: bytes, side: int, *, field: str, name: str) -> tuple[bytes, Small | None]:
    """Give a photograph as `tidy_picture`, and small within a square of `side` pixels; None where that is 0.

    Raises: Typed, as `tidy_picture`.
    """
    called = name or _("The file")
    if not content:
        raise Typed(N_("{name} is empty: choose the file again."), field=field, name=called)
    if len(content) > MOST_BYTES:
        raise Typed(N_("{name} is over 64 MB: choose a smaller photograph."), field=field, name=called)
    with _opened(content, field, called) as image:
        as_png = image.format == "PNG"
        plain = _upright(_plain(image), image)
        kept = io.BytesIO()
        if as_png or plain.mode == "RGBA":
            plain.save(kept, "PNG")
        else:
            plain.save(kept, "JPEG", quality=QUALITY)
        return kept.getvalue(), _small(plain, side, side) if side else None


def small_picture(content: bytes, width: int, height: int) -> Small:
    """Give a photograph that is kept as it has to be shown within these pixels, never larger than it is.

    Raises: Typed: it is no photograph, which one that is kept never comes to.
    """
    with _opened(content, "pictures", _("The file")) as image:
        # A JPEG is read at a half, a quarter or an eighth where that is enough.
        image.draft("RGB", (2 * width, 2 * height))
        return _small(image, width, height)


@contextmanager
def _opened(content: bytes, field: str, name: str) -> Iterator[Image.Image]:
    """Open a photograph that isn't too large; what goes wrong inside is told in a sentence about the file."""
    from PIL import Image, UnidentifiedImageError

    # Set for good and not for a while: filters belong to the process, and other threads go on meanwhile. What Pillow
    # has to say of a camera's broken remarks is nothing to anybody, since they aren't kept.
    warnings.filterwarnings("ignore", category=UserWarning, module=r"PIL\.")
    warnings.simplefilter("error", Image.DecompressionBombWarning)
    too_many = N_("{name} has over 50 megapixels: choose a smaller photograph.")
    try:
        with Image.open(io.BytesIO(content), formats=FORMATS) as image:
            if image.width * image.height > MOST_PIXELS:
                raise Typed(too_many, field=field, name=name)
            yield image
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        raise Typed(too_many, field=field, name=name) from None
    except UnidentifiedImageError:
        raise Typed(
            N_("{name} is no photograph the ledger can keep: choose a PNG, JPEG or WebP file."),
            field=field,
            name=name,
        ) from None
    except MemoryError:
        raise Typed(
            N_(
                "{name} takes more memory than there is: close other programs, or choose a smaller photograph."
            ),
            field=field,
            name=name,
        ) from None
    except _BROKEN as error:
        if isinstance(error, Typed):
            raise
        raise Typed(
            N_("{name} is a broken photograph ({said}): choose the file again."),
            field=field,
            name=name,
            said=str(error)[:80],
        ) from None


def _plain(image: Image.Image) -> Image.Image:
    """Give the picture in red, green and blue as a screen means them, with opacity where there is any to see."""
    seen_through = image.has_transparency_data
    plain = image
    if image.mode.startswith("I"):
        # Grey of sixteen bits; turned to eight at once it would be white wherever it isn't nearly black.
        plain = image.convert("I").point(lambda value: value * (1 / 257)).convert("L")
    plain = _for_screens(plain, image.info.get("icc_profile"))
    plain = plain.convert("RGBA" if seen_through else "RGB")
    if seen_through and plain.getchannel("A").getextrema()[0] == 255:
        plain = plain.convert("RGB")
    plain.info.clear()
    return plain


def _for_screens(image: Image.Image, profile: object) -> Image.Image:
    """Give the colours that a camera's own profile means, since the profile itself isn't kept."""
    if not isinstance(profile, bytes) or image.mode not in {"L", "RGB", "RGBA", "CMYK"}:
        return image
    from PIL import ImageCms

    try:
        own = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        if ImageCms.getProfileDescription(own).strip().startswith("sRGB"):
            return image
        turned = ImageCms.profileToProfile(
            image,
            own,
            ImageCms.createProfile("sRGB"),
            outputMode="RGBA" if image.mode == "RGBA" else "RGB",
        )
    except (ImageCms.PyCMSError, *_BROKEN):
        # A profile that can't be read is no reason to refuse the photograph.
        return image
    return image if turned is None else turned


def _upright(plain: Image.Image, image: Image.Image) -> Image.Image:
    """Turn a picture as its camera was held."""
    from PIL.Image import Transpose

    try:
        held = image.getexif().get(_ORIENTATION)
    except _BROKEN:
        return plain
    turns = {
        2: Transpose.FLIP_LEFT_RIGHT,
        3: Transpose.ROTATE_180,
        4: Transpose.FLIP_TOP_BOTTOM,
        5: Transpose.TRANSPOSE,
        6: Transpose.ROTATE_270,
        7: Transpose.TRANSVERSE,
        8: Transpose.ROTATE_90,
    }
    return plain.transpose(turns[held]) if held in turns else plain


def _small(image: Image.Image, width: int, height: int) -> Small:
    """Give the picture within these pixels."""
    from PIL.Image import Resampling

    scale = min(width / image.width, height / image.height, 1)
    size = max(1, round(image.width * scale)), max(1, round(image.height * scale))
    small = image if size == image.size else image.resize(size, Resampling.BICUBIC, reducing_gap=3.0)
    small = small.convert("RGBA")
    return Small(*small.size, small.tobytes())
