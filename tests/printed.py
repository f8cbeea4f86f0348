"""A paper read back by an independent reader of PDF: its words, where they stand, and its pages as dots."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pypdfium2
from numpy.typing import NDArray

MM = 72 / 25.4
SIDE_MARGIN_MM = 15


def words_of(content: bytes) -> list[str]:
    """Give the words of each page.

    Args:
        content: The PDF.

    Returns:
        A text a page, blanks and line ends as single blanks.
    """
    with pypdfium2.PdfDocument(content) as document:
        pages = [page.get_textpage().get_text_range() for page in document]
    return [" ".join(text.split()) for text in pages]


def size_of(content: bytes) -> tuple[int, int]:
    """Give the size of the first page.

    Args:
        content: The PDF.

    Returns:
        Width and height, rounded [mm].
    """
    with pypdfium2.PdfDocument(content) as document:
        width, height = document[0].get_size()
    return round(width / MM), round(height / MM)


def signs_outside(content: bytes, margin_mm: float = SIDE_MARGIN_MM) -> list[str]:
    """Find what is printed outside the margins.

    Args:
        content: The PDF.
        margin_mm: Margin at the left and the right [mm]; at the top and the foot it is 5 mm.

    Returns:
        Each sign with its page, from 1.
    """
    return [f"page {page}: {sign}" for page, sign, inside in _signs(content, margin_mm) if not inside]


def _signs(content: bytes, margin_mm: float) -> Iterator[tuple[int, str, bool]]:
    with pypdfium2.PdfDocument(content) as document:
        for number, page in enumerate(document, 1):
            width, height = page.get_size()
            text = page.get_textpage()
            least, most = margin_mm * MM - 1, width - margin_mm * MM + 1
            for at in range(text.count_chars()):
                left, bottom, right, top = text.get_charbox(at)
                inside = least <= left and right <= most and bottom >= 5 * MM and top <= height - 5 * MM
                yield number, text.get_text_range(at, 1), inside


def dots_of(content: bytes, page: int = 0, dots_per_mm: float = 8, below: int = 110) -> NDArray[np.bool_]:
    """Print a page as dots.

    Args:
        content: The PDF.
        page: Its number, from 0.
        dots_per_mm: How fine [1/mm].
        below: What counts as dark, from 0 to 255.

    Returns:
        True where it is dark, by row and column.
    """
    with pypdfium2.PdfDocument(content) as document:
        drawn = document[page].render(scale=dots_per_mm / MM, grayscale=True).to_numpy()
    return np.asarray(drawn).squeeze() < below
