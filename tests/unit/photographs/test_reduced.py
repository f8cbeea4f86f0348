"""Copies of photographs: upright, reduced, the same every time, and with nothing left of what the camera wrote."""

from __future__ import annotations

import io
import struct
from typing import Any

import pytest
from PIL import Image

from tenthbook.faces.photographs import look, reduced

MARK = "MARK-OF-THE-CAMERA"


def photograph(kind: str = "JPEG", size: tuple[int, int] = (640, 480), orientation: int = 1) -> bytes:
    """A picture with a red corner at its upper left, and all that a camera writes beside it."""
    picture = Image.new("RGB", size, (200, 200, 200))
    picture.paste((220, 20, 20), (0, 0, size[0] // 4, size[1] // 4))
    told = Image.Exif()
    told[0x010F], told[0x010E], told[0x0112] = MARK, MARK, orientation
    told.get_ifd(0x8769)[0x9003] = "2026:10:02 11:31:07"
    told.get_ifd(0x8769)[0x927C] = MARK.encode()
    told.get_ifd(0x8825)[1] = "N"
    told.get_ifd(0x8825)[2] = (47.0, 30.0, 12.0)
    words: dict[str, Any] = {"exif": told, "icc_profile": MARK.encode(), "xmp": MARK.encode()}
    if kind == "JPEG":
        words["comment"] = MARK.encode()
    out = io.BytesIO()
    picture.save(out, kind, **words)
    return out.getvalue()


def with_more(came: bytes) -> bytes:
    """A JPEG with a small picture among what the camera wrote, words of an editor, and something behind its end."""
    small = b"\xff\xd8" + MARK.encode() + b"\xff\xd9"
    directory = struct.pack("<H2HLLHHLLL", 2, 0x0201, 4, 1, 44, 0x0202, 4, 1, len(small), 0)
    exif = b"Exif\0\0II*\0" + struct.pack("<LHL", 8, 0, 14) + directory + small
    blocks = [(b"\xff\xe1", exif), (b"\xff\xed", b"Photoshop 3.0\0" + MARK.encode()), (b"\xff\xe9", MARK.encode())]
    more = b"".join(mark + struct.pack(">H", len(block) + 2) + block for mark, block in blocks)
    return came[:2] + more + came[2:] + MARK.encode()


def marks_of(jpeg: bytes) -> list[int]:
    """The marks of a JPEG's blocks up to the picture itself."""
    place, marks = 2, list[int]()
    while (mark := jpeg[place + 1]) != 0xDA:
        marks.append(mark)
        place += 2 + int.from_bytes(jpeg[place + 2 : place + 4], "big")
    return marks


def opened(content: bytes) -> Image.Image:
    """The picture, decoded."""
    picture = Image.open(io.BytesIO(content))
    picture.load()
    return picture


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_nothing_of_the_camera_is_left(kind: str) -> None:
    """Neither place nor camera, comment or words: the mark is in the file that came, and not in the copy."""
    came = photograph(kind)
    assert MARK.encode() in came
    copy = reduced(came)
    assert MARK.encode() not in copy
    assert b"Exif" not in copy
    assert set(marks_of(copy)) == {0xE0, 0xDB, 0xC0, 0xC4}  # size, tables and picture; no other block
    assert copy.endswith(b"\xff\xd9")
    picture = opened(copy)
    assert (picture.format, dict(picture.getexif())) == ("JPEG", {})
    assert not {"exif", "comment", "icc_profile", "xmp", "photoshop"} & set(picture.info)


def test_neither_small_pictures_nor_words_of_editors_are_left() -> None:
    """The small picture inside, the blocks of programs and what hangs behind the end stay with the original."""
    came = with_more(photograph())
    assert {0xE1, 0xE2, 0xE9, 0xED, 0xFE} < set(marks_of(came))
    assert reduced(came) == reduced(photograph())
    assert look(came).size == len(came)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("orientation", range(1, 9))
def test_every_orientation_comes_out_upright(kind: str, orientation: int) -> None:
    """However the camera was held, the red corner lies where whoever took it saw it."""
    came = photograph(kind, orientation=orientation)
    turns = {1: (0, 0), 2: (1, 0), 3: (1, 1), 4: (0, 1), 5: (0, 0), 6: (1, 0), 7: (1, 1), 8: (0, 1)}
    copy = opened(reduced(came))
    assert copy.size == ((640, 480) if orientation < 5 else (480, 640))
    across, down = turns[orientation]
    corner = (10 + across * (copy.width - 21), 10 + down * (copy.height - 21))
    red, green, _ = copy.getpixel(corner)  # type: ignore[misc]  # an RGB picture gives three numbers
    assert red > 180 > 90 > green


def test_a_copy_is_no_larger_than_asked_and_never_enlarged() -> None:
    """The longer side is bounded; a small picture stays as small as it is."""
    assert max(opened(reduced(photograph(size=(3000, 1000)), longest=800)).size) == 800
    assert opened(reduced(photograph(size=(64, 48)))).size == (64, 48)


def test_the_same_photograph_gives_the_same_copy() -> None:
    """Byte for byte."""
    assert reduced(photograph()) == reduced(photograph())


def test_what_the_camera_claims_is_told() -> None:
    """Kind, size of the picture and of the file, and the camera's own time."""
    came = photograph()
    seen = look(came)
    assert (seen.media_type, seen.width, seen.height, seen.size) == ("image/jpeg", 640, 480, len(came))
    assert seen.taken_at == "2026-10-02 11:31:07"
    assert look(photograph("PNG")).media_type == "image/png"


def test_what_is_clear_becomes_paper() -> None:
    """A picture with clear parts is laid on white."""
    out = io.BytesIO()
    Image.new("RGBA", (20, 20), (0, 0, 0, 0)).save(out, "PNG")
    assert opened(reduced(out.getvalue())).getpixel((10, 10)) == (255, 255, 255)


def saved(picture: Image.Image, kind: str, **words: Any) -> bytes:
    """A file of a picture."""
    out = io.BytesIO()
    picture.save(out, kind, **words)
    return out.getvalue()


@pytest.mark.parametrize(
    ("mode", "colour", "kind", "copied"),
    [
        ("1", 1, "PNG", (255, 255, 255)),
        ("L", 90, "JPEG", (90, 90, 90)),
        ("LA", (0, 128), "PNG", (127, 127, 127)),
        ("P", 0, "PNG", (0, 0, 0)),
        ("I;16", 30_000, "PNG", (117, 117, 117)),
        ("CMYK", (0, 200, 200, 0), "JPEG", (255, 55, 55)),
        ("RGBA", (0, 0, 255, 255), "WEBP", (0, 0, 254)),
    ],
)
def test_every_way_to_hold_colours_is_copied(mode: str, colour: Any, kind: str, copied: tuple[int, ...]) -> None:
    """Greys of any depth, palettes, printer's colours and clear parts come out as they look."""
    copy = opened(reduced(saved(Image.new(mode, (40, 30), colour), kind)))
    assert copy.mode == "RGB"
    assert copy.getpixel((10, 10)) == pytest.approx(copied, abs=2)


def test_further_pictures_behind_the_first_are_left_out() -> None:
    """A telephone may hang a depth map behind its photograph: it is one all the same, and its first picture counts."""
    first, second = Image.new("RGB", (40, 30), "red"), Image.new("RGB", (40, 30), "blue")
    came = saved(first, "MPO", save_all=True, append_images=[second])
    assert look(came).media_type == "image/jpeg"
    red, _, blue = opened(reduced(came)).getpixel((10, 10))  # type: ignore[misc]  # an RGB picture gives three numbers
    assert red > 240 > 15 > blue


@pytest.mark.parametrize(
    "exif", [b"Exif\0\0garbage", b"Exif\0\0II*\0\xff\xff\xff\xff", b"Exif\0\0MM\0*\0\0\0\x08\xff\xff\1"]
)
def test_what_the_camera_wrote_badly_spoils_no_photograph(exif: bytes) -> None:
    """The picture counts; a claim that cannot be read is none."""
    came = saved(Image.new("RGB", (40, 30), "red"), "JPEG", exif=exif)
    assert look(came).taken_at == ""
    assert opened(reduced(came)).size == (40, 30)


@pytest.mark.parametrize("claim", ["0000:00:00 00:00:00", "    :  :     :  :  ", "yesterday", "2026:13:40 25:61:61"])
def test_a_clock_that_was_never_set_claims_nothing(claim: str) -> None:
    """What is no time is not told as one."""
    told = Image.Exif()
    told.get_ifd(0x8769)[0x9003] = claim
    assert look(saved(Image.new("RGB", (40, 30)), "JPEG", exif=told)).taken_at == ""
