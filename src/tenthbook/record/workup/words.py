"""How a verdict is written.

The words are the same wherever a verdict stands; the mark is the name of its sign and its colour on pages and papers.
"""

from __future__ import annotations

from tenthbook.numbers.limit import Grade, Verdict
from tenthbook.numbers.quantity import shown

NOTHING_OPEN = "Nothing open in this book"
_WORDS = {
    Grade.NEW: "IN NEW LIMITS",
    Grade.SERVICE: "IN SERVICE LIMITS",
    Grade.REJECT: "BEYOND",
    Grade.UNDECIDED: "UNDECIDED",
    Grade.NO_LIMIT: "NO LIMIT",
}
_MARKS = {
    Grade.NEW: "new",
    Grade.SERVICE: "service",
    Grade.REJECT: "beyond",
    Grade.UNDECIDED: "undecided",
    Grade.NO_LIMIT: "none",
}


def word(grade: Grade) -> str:
    """Write a grade.

    Args:
        grade: The grade.

    Returns:
        Its word in capitals.
    """
    return _WORDS[grade]


def mark_of(grade: Grade) -> str:
    """Name the mark of a grade.

    Args:
        grade: The grade.

    Returns:
        "new", "service", "beyond", "undecided" or "none".
    """
    return _MARKS[grade]


def distance_text(verdict: Verdict) -> str:
    """Write the distance to the limit that matters.

    Args:
        verdict: A verdict with a limit.

    Returns:
        The distance in the limit's printed unit [in or mm], with at least its decimals; empty without a limit.
    """
    return shown(verdict.distance, verdict.limit.decimals) if verdict.limit is not None else ""


def headline(verdict: Verdict) -> str:
    """Write a verdict in one line.

    Args:
        verdict: The verdict.

    Returns:
        For instance "BEYOND, below by 0.0004" or "IN SERVICE LIMITS, margin 0.0005".
    """
    if verdict.grade is Grade.UNDECIDED:
        return f"{word(verdict.grade)}, margin {distance_text(verdict)}"
    if verdict.side is not None:
        return f"{word(verdict.grade)}, {verdict.side} by {distance_text(verdict)}"
    if verdict.limit is not None:
        return f"{word(verdict.grade)}, margin {distance_text(verdict)}"
    return word(verdict.grade)
