"""What kind of file a photograph is, how large, and when the camera claims it was taken.

One photograph is open at a time, in the whole program: so the bound on pixels bounds the memory too, and the library's
warnings, which are switched off for all at once, are switched on again in order.
"""

from __future__ import annotations

import io
import re
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from threading import Lock
from typing import TYPE_CHECKING

from tenthbook.numbers.because import TenthbookError

if TYPE_CHECKING:
    from PIL.Image import Image

KINDS = {"JPEG": "image/jpeg", "PNG": "image/png", "WEBP": "image/webp"}
_SEVERAL = "MPO"  # a JPEG with further pictures behind it, such as a depth map; only the first is ever decoded
LARGEST_FILE = 40_000_000  # bytes
LARGEST_PICTURE = 60_000_000  # pixels
MOST_SCANS = 60  # passes over the picture; cameras make one, and ten where a picture is to appear by and by
_MARKER = re.compile(rb"\xff+([^\x00\xd0-\xd7\xff])")
_EXIF_BLOCK, _TAKEN = 0x8769, 0x9003
_SCAN, _END_OF_JPEG, _WITHOUT_LENGTH = b"\xda", b"\xd9", (b"\x01", b"\xd8")
_END_OF_PNG = b"IEND\xaeB`\x82"
_one_at_a_time = Lock()


class NotAPhotograph(TenthbookError):
    """Bytes that are no photograph this book can show."""


@dataclass(frozen=True, slots=True)
class Photograph:
    """What a photograph is.

    Attributes:
        media_type: "image/jpeg", "image/png" or "image/webp".
        width: Of the picture as it is stored [px].
        height: Of the picture as it is stored [px].
        taken_at: When, as the camera claims, in its own time; empty where it claims nothing.
        size: Of the file [bytes].
    """

    media_type: str
    width: int
    height: int
    taken_at: str
    size: int


def _image(original: bytes) -> Image:
    from PIL import Image

    return Image.open(io.BytesIO(original), formats=list(KINDS))


def _scans(jpeg: bytes) -> int:
    """How often a JPEG passes over its picture: small in bytes, each pass costs as much as the whole picture."""
    found, place = 0, 2
    while (marker := _MARKER.search(jpeg, place)) and marker[1] != _END_OF_JPEG:
        found += marker[1] == _SCAN
        place = marker.end()
        if marker[1] not in _WITHOUT_LENGTH:
            place += int.from_bytes(jpeg[place : place + 2], "big")
    return found


@contextmanager
def opened(original: bytes) -> Iterator[Image]:
    """Open a photograph, within bounds.

    Args:
        original: The file as it came.

    Yields:
        The picture, not decoded yet; what is done inside may decode it.

    Raises:
        NotAPhotograph: another kind of file, one that is torn, moves, or is too large.
    """
    todo = "take a photograph in as JPEG, PNG or WebP"
    if len(original) > LARGEST_FILE:
        found = f"a file of {len(original) / 1e6:.0f} MB"
        raise NotAPhotograph(found=found, expected=f"at most {LARGEST_FILE // 10**6} MB", todo="send a smaller one")
    try:
        with _one_at_a_time, warnings.catch_warnings(action="ignore"), _image(original) as picture:
            if picture.width * picture.height > LARGEST_PICTURE:
                found = f"a picture of {picture.width} x {picture.height}"
                expected = f"at most {LARGEST_PICTURE // 10**6} million pixels"
                raise NotAPhotograph(found=found, expected=expected, todo="send a smaller one")
            if picture.format != _SEVERAL and getattr(picture, "is_animated", False):
                raise NotAPhotograph(found="a picture that moves", expected="one that stands still", todo=todo)
            if picture.format in ("JPEG", _SEVERAL) and _scans(original) > MOST_SCANS:
                found = f"a JPEG of {_scans(original)} passes"
                raise NotAPhotograph(found=found, expected=f"at most {MOST_SCANS}", todo="save it anew and send that")
            if picture.format == "PNG" and _END_OF_PNG not in original:
                raise NotAPhotograph(found="a PNG without its end", expected="a whole file", todo=todo)
            yield picture
    except TenthbookError:
        raise
    except Exception as error:  # a decoder may raise anything on a hostile file, and none of it is the book's fault
        found = f"{len(original)} bytes that cannot be read as a photograph"
        raise NotAPhotograph(found=found, expected="a whole JPEG, PNG or WebP", todo=todo) from error


def _claimed(picture: Image) -> str:
    """The camera's time; what is no time, as of a clock that was never set, or cannot be read, claims nothing."""
    try:
        claim = str(picture.getexif().get_ifd(_EXIF_BLOCK).get(_TAKEN, "")).strip("\0 ")
        return str(datetime.strptime(claim, "%Y:%m:%d %H:%M:%S"))
    except Exception:  # whatever stands there, the picture may be whole
        return ""


def look(original: bytes) -> Photograph:
    """Say what a photograph is.

    Args:
        original: The file as it came.

    Returns:
        Its kind, size and time.

    Raises:
        NotAPhotograph: another kind of file, one that is torn, moves, or is too large.
    """
    with opened(original) as picture:
        kind = KINDS["JPEG"] if picture.format == _SEVERAL else KINDS[str(picture.format)]
        width, height, taken = picture.width, picture.height, _claimed(picture)
        picture.draft(None, (1, 1))  # a JPEG is decoded small; that reads the file to its end all the same
        picture.load()
    return Photograph(kind, width, height, taken, len(original))
