"""The clock of the story, and what is said where the book answers otherwise than the script."""

from __future__ import annotations

from tenthbook.numbers.because import TenthbookError


class TurnedOutOtherwise(TenthbookError):
    """The book answers otherwise than the script says."""


class StoryClock:
    """The clock of the story: it shows the time of the line being played."""

    def __init__(self) -> None:
        """Start at no time."""
        self.now = ""

    def __call__(self) -> str:
        """Read it.

        Returns:
            The time of the line, UTC.
        """
        return self.now
