"""What is no photograph is refused plainly, before it can do harm."""

from __future__ import annotations

import contextlib
import io
import struct
import time
import warnings
import zlib
from concurrent.futures import ThreadPoolExecutor

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from tenthbook.faces.photographs import NotAPhotograph, look, reduced
from tenthbook.numbers.because import TenthbookError


def picture(kind: str, **words: object) -> bytes:
    """A small picture of a kind."""
    out = io.BytesIO()
    Image.new("RGB", (32, 24), "grey").save(out, kind, **words)
    return out.getvalue()


def png(width: int, height: int) -> bytes:
    """A file that says it is so large, and holds next to nothing."""

    def chunk(name: bytes, content: bytes) -> bytes:
        return struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    held = zlib.compress(bytes(1000))
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", held) + chunk(b"IEND", b"")


@pytest.mark.parametrize("kind", ["GIF", "BMP", "TIFF", "PPM", "ICO", "PDF"])
def test_other_kinds_are_not_decoded(kind: str) -> None:
    """Only three kinds are."""
    with pytest.raises(NotAPhotograph, match="JPEG, PNG or WebP"):
        look(picture(kind))


@pytest.mark.parametrize("size", [(9000, 9000), (12_000, 12_000), (60_000, 60_000)])
def test_a_bomb_is_refused_before_it_is_decoded(size: tuple[int, int]) -> None:
    """A few hundred bytes that claim millions of pixels are refused at once."""
    begun = time.perf_counter()
    for act in (look, reduced):
        with pytest.raises(NotAPhotograph):
            act(png(*size))
    assert time.perf_counter() - begun < 1


def test_a_jpeg_of_endless_passes_is_refused_before_it_is_decoded() -> None:
    """Each pass is small in bytes and as dear as the whole picture; a camera makes ten at most."""
    whole = picture("JPEG", progressive=True)
    last = whole.rindex(b"\xff\xda")
    assert look(whole).media_type == "image/jpeg"
    with pytest.raises(NotAPhotograph, match="passes"):
        look(whole[:last] + whole[last:-2] * 60 + whole[-2:])
    assert look(whole + b"\xff\xda" * 100).width == 32, "what lies behind the picture is never decoded"


@pytest.mark.parametrize(("kind", "words"), [("JPEG", {}), ("JPEG", {"progressive": True}), ("PNG", {}), ("WEBP", {})])
def test_a_torn_file_is_refused(kind: str, words: dict[str, object]) -> None:
    """Half a photograph is none, and neither is one that lacks its last byte."""
    whole = picture(kind, **words)
    for missing in [1, 2, 5, 12, 20, len(whole) // 2, len(whole) - 20]:
        for act in (look, reduced):
            with pytest.raises(NotAPhotograph):
                act(whole[:-missing])


@pytest.mark.parametrize("kind", ["WEBP", "PNG"])
def test_a_picture_that_moves_is_refused(kind: str) -> None:
    """One that stands still is asked for."""
    frames = [Image.new("RGB", (8, 8), colour) for colour in ("red", "blue")]
    out = io.BytesIO()
    frames[0].save(out, kind, save_all=True, append_images=frames[1:])
    with pytest.raises(NotAPhotograph, match="stands still"):
        look(out.getvalue())


def test_a_file_too_large_is_refused_unread() -> None:
    """By its length alone."""
    with pytest.raises(NotAPhotograph, match="41 MB"):
        look(bytes(41_000_000))


@settings(deadline=None)
@given(st.one_of(st.binary(max_size=400), st.binary(max_size=200).map(lambda tail: picture("JPEG")[:180] + tail)))
def test_garbage_is_refused_and_nothing_else_is_raised(content: bytes) -> None:
    """Whatever comes, the fault is the book's own."""
    for act in (look, reduced):
        with contextlib.suppress(TenthbookError):
            act(content)


@settings(deadline=None)
@given(st.sampled_from(["JPEG", "PNG", "WEBP"]), st.integers(0, 10_000), st.binary(min_size=1, max_size=6))
def test_a_photograph_with_holes_is_refused_or_copied(kind: str, place: int, hole: bytes) -> None:
    """Bytes changed anywhere end in the book's own fault, or in a copy."""
    whole = picture(kind)
    place %= len(whole)
    content = whole[:place] + hole + whole[place + len(hole) :]
    for act in (look, reduced):
        with contextlib.suppress(TenthbookError):
            act(content)


def test_many_at_once_leave_the_warnings_as_they_were() -> None:
    """Photographs that come together are copied one after the other, and each the same."""
    came, before = picture("JPEG"), list(warnings.filters)
    with ThreadPoolExecutor(4) as pool:
        assert set(pool.map(reduced, [came] * 20)) == {reduced(came)}
    assert list(warnings.filters) == before
