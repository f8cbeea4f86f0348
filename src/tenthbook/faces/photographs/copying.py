"""A reduced copy of a photograph, upright, with nothing left of what the camera wrote into it."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

from tenthbook.faces.photographs.looking import opened

if TYPE_CHECKING:
    from PIL.Image import Image

LONGEST = 1600
_QUALITY = 82


def reduced(original: bytes, longest: int = LONGEST) -> bytes:
    """Make a copy to show, print or send.

    Args:
        original: The file as it came.
        longest: Of the copy's longer side [px]; a smaller picture is not enlarged.

    Returns:
        A JPEG with the picture alone: no place, no camera, no words, no small picture inside. The same bytes for the
        same photograph.

    Raises:
        NotAPhotograph: another kind of file, one that is torn, moves, or is too large.

    Source: EXIF 2.32 for the orientation (from memory).
    """
    with opened(original) as picture:
        picture.draft("RGB", (longest, longest))  # a JPEG is decoded no larger than is needed
        small = _in_colours(picture)
        small.thumbnail((longest, longest))
        copy = _on_paper(_upright(small))
        copy.info.clear()
        held = io.BytesIO()
        copy.save(held, "JPEG", quality=_QUALITY, optimize=True)
    return held.getvalue()


def _in_colours(picture: Image) -> Image:
    """The picture in a mode that can be made smaller; what it knows of itself goes with it."""
    if picture.mode.startswith("I;16"):  # greys of 16 bits: the library would cut them off, not scale them
        scaled = picture.convert("I").point(lambda grey: grey * (1 / 256)).convert("L")
        scaled.info = picture.info
        return scaled
    clear = picture.has_transparency_data
    return picture if picture.mode in ("L", "RGB") and not clear else picture.convert("RGBA" if clear else "RGB")


def _upright(picture: Image) -> Image:
    from PIL import ImageOps

    try:
        return ImageOps.exif_transpose(picture)
    except Exception:  # what the camera wrote cannot be read, and the picture can
        return picture


def _on_paper(picture: Image) -> Image:
    from PIL import Image

    if picture.mode == "RGBA":
        picture = Image.alpha_composite(Image.new("RGBA", picture.size, "white"), picture)
    return picture.convert("RGB")
