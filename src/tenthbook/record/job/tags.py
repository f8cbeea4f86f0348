"""What is written on a part: a letter, four figures or more, and a check digit, "P-0212-6".

The check digit follows ISO 7064 MOD 11,10: it finds every single wrong figure and nearly every swap of two neighbours,
so a tag copied by hand with oily fingers is refused rather than taken for another part.

Source: ISO 7064, hybrid system MOD 11,10 (from memory). Checked in: tests/published/test_iso_7064.py
"""

from __future__ import annotations

import re
from collections.abc import Iterable

_TAG = re.compile(r"P-([0-9]{4,6})-([0-9])")


def check_digit(figures: str) -> str:
    """Compute the check digit of a row of figures.

    Args:
        figures: Decimal figures, at least one [-].

    Returns:
        One figure.

    Source: ISO 7064, MOD 11,10. Checked in: tests/published/test_iso_7064.py
    """
    product = 10
    for figure in figures:
        total = (product + int(figure)) % 10 or 10
        product = 2 * total % 11
    return str((11 - product) % 10)


def tag_holds(tag: str) -> bool:
    """Say whether a tag is written right.

    Args:
        tag: For instance "P-0212-6".

    Returns:
        True where its form and its check digit are right.
    """
    match = _TAG.fullmatch(tag)
    return match is not None and check_digit(match[1]) == match[2]


def next_tag(tags: Iterable[str]) -> str:
    """Give the next tag that is free.

    Args:
        tags: Tags in use.

    Returns:
        The tag one above the highest.
    """
    used = [int(match[1]) for match in map(_TAG.fullmatch, tags) if match]
    figures = f"{max(used, default=0) + 1:04d}"
    return f"P-{figures}-{check_digit(figures)}"
