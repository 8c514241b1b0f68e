"""Photographs on their way in: read as what they are, turned the right way, written anew without metadata."""

from __future__ import annotations

import io
import warnings

from shopledger.quantities.errors import Typed
from shopledger.quantities.words import N_

FORMATS = ("PNG", "JPEG", "WEBP")
MOST_PIXELS = 50_000_000
MOST_BYTES = 64 * 1024 * 1024


def tidy_picture(content: bytes, *, field: str = "pictures") -> bytes:
    """Give a photograph at full size, upright, without where and when the camera was.

    Raises: Typed: it is no PNG, JPEG or WebP, is broken, or is too large.
    """
    from PIL import Image, ImageOps, UnidentifiedImageError

    if not content:
        raise Typed(N_("The photograph is empty: choose the file again."), field=field)
    if len(content) > MOST_BYTES:
        raise Typed(N_("The photograph is over 64 MB: choose a smaller one."), field=field)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(io.BytesIO(content), formats=FORMATS) as image:
                if image.width * image.height > MOST_PIXELS:
                    raise Typed(
                        N_("The photograph has over 50 megapixels: choose a smaller one."), field=field
                    )
                kind = image.format
                upright = ImageOps.exif_transpose(image)
                kept = io.BytesIO()
                if kind == "JPEG":
                    upright.convert("RGB").save(kept, "JPEG", quality=92)
                else:
                    plain = upright.convert("RGBA" if "A" in upright.getbands() else "RGB")
                    plain.info.clear()
                    plain.save(kept, "PNG")
                return kept.getvalue()
    except (UnidentifiedImageError, Image.DecompressionBombError, Image.DecompressionBombWarning):
        raise Typed(
            N_("This is no photograph the ledger can keep: choose a PNG, JPEG or WebP file."), field=field
        ) from None
    except (OSError, SyntaxError, ValueError, IndexError, TypeError, EOFError) as error:
        if isinstance(error, Typed):
            raise
        raise Typed(
            N_("The photograph is broken ({said}): choose the file again."), field=field, said=str(error)[:80]
        ) from None
