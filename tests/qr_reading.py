"""A small reader of the code on a tag, written apart from whatever draws it: QR, version 1, alphanumeric, any mask.

In: a square of modules, or a page as dots. Out: the text, or an AssertionError that says what does not hold. It
corrects nothing: a printed code must be without a fault.

Source: ISO/IEC 18004 (from memory): format bits with their BCH check, masks, the order of the modules, Reed and Solomon
over the field of 256 with the polynomial 0x11d, the alphanumeric mode.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

Modules = Sequence[Sequence[int]]
SIDE = 21
SIGNS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"
DATA_AND_CHECK = {"L": (19, 7), "M": (16, 10), "Q": (13, 13), "H": (9, 17)}
LEVELS = {0b01: "L", 0b00: "M", 0b11: "Q", 0b10: "H"}


def _turned(mask: int, i: int, j: int) -> bool:
    """Whether a mask turns a module over."""
    sum_, product = i + j, i * j
    value = (
        sum_ % 2,
        i % 2,
        j % 3,
        sum_ % 3,
        (i // 2 + j // 3) % 2,
        product % 2 + product % 3,
        (product % 2 + product % 3) % 2,
        (sum_ % 2 + product % 3) % 2,
    )
    return value[mask] == 0


def format_of(modules: Modules) -> tuple[str, int]:
    """Read level and mask from both copies of the format bits.

    Args:
        modules: 1 where dark, by row and column.

    Returns:
        The level and the number of the mask.
    """
    one = [*((8, j) for j in (0, 1, 2, 3, 4, 5, 7, 8)), *((i, 8) for i in (7, 5, 4, 3, 2, 1, 0))]
    other = [*((i, 8) for i in range(20, 13, -1)), *((8, j) for j in range(13, 21))]
    read = [int("".join(str(modules[i][j]) for i, j in places), 2) ^ 0x5412 for places in (one, other)]
    assert read[0] == read[1], "the two copies of the format differ"
    rest = read[0]
    for bit in range(14, 9, -1):
        rest ^= 0x537 << (bit - 10) if rest >> bit & 1 else 0
    assert rest == 0, "the format's check does not hold"
    return LEVELS[read[0] >> 13], read[0] >> 10 & 7


def _is_data(i: int, j: int) -> bool:
    corner = (i < 9 and (j < 9 or j > 12)) or (i > 12 and j < 9)
    return not corner and i != 6 and j != 6


def _order() -> Iterator[tuple[int, int]]:
    """The places of the data, two columns at a time, upwards and downwards by turns, from the right."""
    upwards = True
    for right in (20, 18, 16, 14, 12, 10, 8, 5, 3, 1):
        for i in range(SIDE - 1, -1, -1) if upwards else range(SIDE):
            yield from ((i, j) for j in (right, right - 1) if _is_data(i, j))
        upwards = not upwards


def _times(one: int, other: int) -> int:
    product = 0
    while other:
        product ^= one if other & 1 else 0
        one = one << 1 ^ (0x11D if one & 0x80 else 0)
        other >>= 1
    return product


def _holds(words: Sequence[int], check: int) -> bool:
    """Whether the words vanish at the first powers of the field's root."""
    root = 1
    for _ in range(check):
        value = 0
        for word in words:
            value = _times(value, root) ^ word
        if value:
            return False
        root = _times(root, 2)
    return True


def text_of(modules: Modules) -> str:
    """Read a code.

    Args:
        modules: 1 where dark, by row and column, 21 of each.

    Returns:
        Its text.
    """
    assert len(modules) == SIDE
    assert modules[13][8] == 1, "the module that is always dark is light"
    level, mask = format_of(modules)
    bits = [modules[i][j] ^ _turned(mask, i, j) for i, j in _order()]
    words = [int("".join(str(int(bit)) for bit in bits[at : at + 8]), 2) for at in range(0, len(bits), 8)]
    data, check = DATA_AND_CHECK[level]
    assert len(words) == data + check
    assert _holds(words, check), "the words do not hold together"
    return _alphanumeric("".join(f"{word:08b}" for word in words[:data]))


def _alphanumeric(bits: str) -> str:
    assert bits[:4] == "0010", "not in the alphanumeric mode"
    length, text, at = int(bits[4:13], 2), "", 13
    while len(text) + 1 < length:
        pair = int(bits[at : at + 11], 2)
        text, at = text + SIGNS[pair // 45] + SIGNS[pair % 45], at + 11
    return text + SIGNS[int(bits[at : at + 6], 2)] if len(text) < length else text


def _runs(line: NDArray[np.bool_]) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Where each run of one shade begins, and how long it is."""
    starts = np.concatenate([[0], np.flatnonzero(np.diff(line.astype(np.int8))) + 1])
    return starts, np.diff(np.append(starts, len(line)))


def _finders_in(line: NDArray[np.bool_]) -> Iterator[tuple[float, float]]:
    """Middle and module of whatever is dark, light, dark, light, dark as 1:1:3:1:1."""
    starts, lengths = _runs(line)
    for at in range(len(lengths) - 4):
        five = lengths[at : at + 5]
        module = five.sum() / 7
        if line[starts[at]] and module >= 3 and np.all(np.abs(five / module - [1, 1, 3, 1, 1]) < 0.4):
            yield starts[at] + five.sum() / 2, float(module)


def _finders(dark: NDArray[np.bool_]) -> list[tuple[float, float, float]]:
    """Row, column and module of each corner mark on a page."""
    found: list[tuple[float, float, float]] = []
    for i in range(0, len(dark), 2):
        for j, module in _finders_in(dark[i]):
            crossing = [(mid, one) for mid, one in _finders_in(dark[:, int(j)]) if abs(mid - i) < 1.5 * module]
            fresh = all(abs(i - a) > 4 * module or abs(j - b) > 4 * module for a, b, _ in found)
            if crossing and fresh:
                found.append((crossing[0][0], j, module))
    return found


def codes_on(dark: NDArray[np.bool_]) -> list[str]:
    """Read every code on a page.

    Args:
        dark: Where the page is dark, by row and column of dots.

    Returns:
        Their texts, from the top and the left.
    """
    marks = _finders(dark)
    texts: list[tuple[float, float, str]] = []
    for i, j, module in marks:
        span = 14 * module
        right = [mark for mark in marks if abs(mark[0] - i) < module and abs(mark[1] - j - span) < 2 * module]
        below = [mark for mark in marks if abs(mark[1] - j) < module and abs(mark[0] - i - span) < 2 * module]
        if right and below:
            step = (right[0][1] - j) / 14, (below[0][0] - i) / 14
            rows = [round(i + (at - 3) * step[1]) for at in range(SIDE)]
            columns = [round(j + (at - 3) * step[0]) for at in range(SIDE)]
            texts.append((i, j, text_of(dark[np.ix_(rows, columns)].astype(int).tolist())))
    return [text for _, _, text in sorted(texts, key=lambda one: (round(one[0] / 20), one[1]))]
