"""Photographs: checked, turned upright, made smaller, and encoded anew, so that nothing but the picture is kept: no place, no camera, no name."""

from __future__ import annotations

import io

from ampleroom.errors import AmpleroomError

LONGEST_SIDE = 1600
MOST_PIXELS = 60_000_000
MOST_BYTES = 12_000_000
MOST_A_BOX = 12


def cleaned(data: bytes) -> bytes:
    """A JPEG of the picture alone, or a clear word on why it is none."""
    if len(data) > MOST_BYTES:
        raise AmpleroomError(f"the photograph has {len(data) / 1e6:.0f} MB; up to {MOST_BYTES / 1e6:.0f} MB are taken")
    from PIL import Image, ImageOps, UnidentifiedImageError

    Image.MAX_IMAGE_PIXELS = MOST_PIXELS
    try:
        with Image.open(io.BytesIO(data), formats=("JPEG", "PNG", "WEBP")) as picture:
            if picture.width * picture.height > MOST_PIXELS:
                raise AmpleroomError(f"the photograph has {picture.width} x {picture.height} points; that is too many")
            upright = ImageOps.exif_transpose(picture) or picture
            upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
            plain = Image.new("RGB", upright.size, "white")
            plain.paste(upright.convert("RGB"))
    except AmpleroomError:
        raise
    except (UnidentifiedImageError, OSError, ValueError, Image.DecompressionBombError, SyntaxError) as error:
        raise AmpleroomError(
            f"that is no photograph that can be read (JPEG, PNG or WebP): {type(error).__name__}"
        ) from None
    out = io.BytesIO()
    plain.save(out, "JPEG", quality=82, optimize=True)
    return out.getvalue()
