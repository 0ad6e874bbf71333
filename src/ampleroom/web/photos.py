"""Photographs: checked, turned upright, made smaller, and encoded anew, so that nothing but the picture is kept: no
place, no camera, no name.
"""

from __future__ import annotations

import io

from ampleroom.errors import AmpleroomError

LONGEST_SIDE = 1600
MOST_PIXELS = 60_000_000
MOST_BYTES = 12_000_000
MOST_A_BOX = 12


class NoPhoto(AmpleroomError):
    """Bytes that are not a photo, or one past the limits."""


def cleaned(data: bytes) -> bytes:
    """A JPEG of the picture alone. Raises NoPhoto, in words, for bytes that cannot be read or are past the limits."""
    if len(data) > MOST_BYTES:
        raise NoPhoto(f"the photo is {len(data) / 1e6:.1f} MB; the limit is {MOST_BYTES / 1e6:.0f} MB")
    from PIL import Image, ImageOps

    try:
        with Image.open(io.BytesIO(data), formats=("JPEG", "PNG", "WEBP")) as picture:
            if picture.width * picture.height > MOST_PIXELS:
                raise NoPhoto(f"the photo is {picture.width} x {picture.height} pixels; send a smaller one")
            picture.thumbnail((LONGEST_SIDE, LONGEST_SIDE))  # before it is turned, so that no large copy is made
            upright = ImageOps.exif_transpose(picture) or picture
            plain = Image.new("RGB", upright.size, "white")
            if upright.has_transparency_data:
                upright = upright.convert("RGBA")
                plain.paste(upright, mask=upright.getchannel("A"))
            else:
                plain.paste(upright.convert("RGB"))
    except NoPhoto:
        raise
    except Exception as error:  # a damaged file makes the decoders fail in ways of every kind
        raise NoPhoto(f"this photo cannot be read; send a JPEG, PNG or WebP ({type(error).__name__})") from None
    out = io.BytesIO()
    plain.save(out, "JPEG", quality=82, optimize=True)
    return out.getvalue()
