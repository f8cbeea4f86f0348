"""A book and a row as bytes that are the same for the same cells."""

from __future__ import annotations

import hashlib

import pytest

from tenthbook.numbers.because import TenthbookError, WrongInput
from tenthbook.record.book import book_bytes, book_digest, book_from_bytes, book_of, draft_again, row_digest
from tests.builders import PARTS_CSV, SIZES_CSV, small_book


def test_a_kept_book_reads_back_as_the_same_book() -> None:
    """Bytes to book to bytes changes nothing."""
    book = small_book()
    again = book_from_bytes(book_bytes(book))
    assert book_bytes(again) == book_bytes(book)
    assert (dict(again.sizes) == dict(book.sizes), dict(again.fits) == dict(book.fits), again.head) == (
        True,
        True,
        book.head,
    )


def test_the_digest_is_that_of_the_bytes() -> None:
    """Whoever holds the bytes can prove the digest."""
    assert book_digest(small_book()) == hashlib.sha256(book_bytes(small_book())).hexdigest()


def test_order_of_rows_and_columns_and_blank_lines_are_not_the_book() -> None:
    """The digest covers the rows, not how the file happens to be laid out."""
    lines = PARTS_CSV.splitlines()
    swapped = "\r\n".join([lines[0], "", *reversed(lines[1:])])
    names = SIZES_CSV.splitlines()[0].split(",")
    turned = "\n".join(",".join(reversed(line.split(","))) for line in SIZES_CSV.splitlines())
    assert turned.startswith(names[-1])
    assert book_digest(small_book(parts=swapped, sizes=turned)) == book_digest(small_book())


@pytest.mark.parametrize(
    ("was", "now"), [("0.5098", "0.5099"), ("0.5098", "0.50980"), (",yes,", ",,"), ("2-2,\n", "2-2,a note\n")]
)
def test_every_cell_counts(was: str, now: str) -> None:
    """One figure, one nought, one flag or one note makes it another book and another row."""
    changed = small_book(sizes=SIZES_CSV.replace(was, now))
    assert book_digest(changed) != book_digest(small_book())
    assert changed.sizes["size.shaft"].digest != small_book().sizes["size.shaft"].digest


def test_a_row_is_named_by_its_cells() -> None:
    """The same cells in another order have one digest, others another."""
    assert row_digest({"a": "1", "b": "2"}) == row_digest({"b": "2", "a": "1"}) != row_digest({"a": "2", "b": "1"})


@pytest.mark.parametrize(
    "content", [b"", b"{}", b"[]", b"\xff", b'{"head": 1, "tables": {}}', b'{"head": {}, "tables": []}']
)
def test_bytes_that_are_no_kept_book_are_refused(content: bytes) -> None:
    """Damaged bytes are named as such."""
    with pytest.raises(TenthbookError, match="not a kept book"):
        book_from_bytes(content)


def test_a_book_kept_before_a_rule_of_manners_stays_a_book() -> None:
    """What a job was pinned to is read for ever; today's rules for ids and pages are asked of new rows alone."""
    content = book_bytes(small_book(parts=PARTS_CSV + "part.zkey,key,oil pump,1,,2-5,\n"))
    older = content.replace(b'"part.zkey"', b'"part.z Key"').replace(b'"2-5"', b'"see Bob"')
    assert older != content
    kept = book_from_bytes(older)
    assert (kept.parts["part.z Key"].page, book_bytes(kept)) == ("see Bob", older)
    with pytest.raises(WrongInput, match="an id is small letters"):
        book_of(draft_again(kept))
