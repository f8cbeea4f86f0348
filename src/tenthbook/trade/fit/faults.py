"""What cannot be asked of the fit room: one error for each kind of misuse.

An error here means that the question makes no sense (a least size above the greatest, a class the tables do not know).
What is wrong with a *fit* is never an error: it is a clearance, a chance or a choice that does not land. In: the three
parts of a message (found, expected, what to do). Out: an error that carries them. Sources: rule of this book.
"""

from __future__ import annotations

from tenthbook.numbers.because import TenthbookError


class NotANumber(TenthbookError):
    """A size, mass, temperature or cost that is missing, written in words or without end."""


class OutOfRange(TenthbookError):
    """A size, angle, width or count outside what the question allows."""


class CrossedLimits(TenthbookError):
    """A least above its greatest."""


class NoSuchClass(TenthbookError):
    """A tolerance class that the tables here do not hold."""


class NoPairing(TenthbookError):
    """Lists or costs that cannot be paired: of unlike length, or with too few allowed partners."""


class NoStack(TenthbookError):
    """A list of shims that makes no stack, or far too many."""
