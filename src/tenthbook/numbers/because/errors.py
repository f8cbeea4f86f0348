"""What went wrong, in three parts: found, expected, what to do next.

A `Fault` is a value and is collected, so that all faults of an input are shown at once; a `TenthbookError` is raised
for misuse. Neither ever guesses a missing number and neither says only "invalid".
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

_LONGEST = 300  # signs of what somebody typed that are worth repeating


def one_line(text: str) -> str:
    """Keep a text on one line whatever somebody typed into it.

    Args:
        text: Any text.

    Returns:
        The text; every sign that would break the line or steer a terminal is written as its escape.
    """
    return "".join(sign if sign.isprintable() else sign.encode("unicode_escape").decode("ascii") for sign in text)


def _short(text: str) -> str:
    return text if len(text) <= _LONGEST else f"{text[: _LONGEST - 3]}..."


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with an input.

    Attributes:
        path: Where it stands, as `hole.size` or `batch.3.shaft`; empty for the whole input.
        found: What stood there, as typed.
        expected: What belongs there.
    """

    path: str
    found: str
    expected: str

    def __str__(self) -> str:
        place, found, expected = (_short(part) for part in (self.path or "input", self.found, self.expected))
        return one_line(f"{place}: found {found}; expected {expected}")

    def under(self, prefix: str) -> Fault:
        """Say the same fault one level further out.

        Args:
            prefix: The outer path, for instance `batch.3`.

        Returns:
            The fault with its path lengthened.
        """
        path = f"{prefix}.{self.path}" if self.path else prefix
        return Fault(path, self.found, self.expected)


class TenthbookError(Exception):
    """Misuse: what was found, what was expected, what to do next."""

    def __init__(self, *, found: str, expected: str, todo: str = "") -> None:
        """Keep the three parts and make one sentence of them.

        Args:
            found: What was found, with its number, unit and place.
            expected: What was expected, and where that is laid down.
            todo: What to do next; may be empty where the expectation says it.
        """
        self.found = found
        self.expected = expected
        self.todo = todo
        super().__init__(f"found {found}; expected {expected}" + (f"; {todo}" if todo else ""))


class WrongInput(TenthbookError):
    """An input that does not fit its form: all its faults at once."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        """Keep every fault.

        Args:
            faults: At least one fault, in the order of the input.
        """
        self.faults = tuple(faults)
        super().__init__(found=f"{len(self.faults)} fault(s)", expected="; ".join(str(fault) for fault in self.faults))

    def __str__(self) -> str:
        return "\n".join(str(fault) for fault in self.faults)


@dataclass(frozen=True, slots=True)
class Refusal:
    """One rule that an act would break.

    Attributes:
        rule: Id of the rule, as `tenthbook why` knows it.
        found: What was found.
        expected: What the rule expects.
        todo: The way on.
    """

    rule: str
    found: str
    expected: str
    todo: str = ""

    def __str__(self) -> str:
        way = f"; {self.todo}" if self.todo else ""
        return f"found {self.found}; expected {self.expected.removesuffix('.')}{way} (rule {self.rule})"


class Refused(TenthbookError):
    """An act that rules forbid; nothing was written."""

    def __init__(self, refusals: Sequence[Refusal]) -> None:
        """Keep every refusal.

        Args:
            refusals: At least one.
        """
        self.refusals = tuple(refusals)
        super().__init__(found=self.refusals[0].found, expected=self.refusals[0].expected, todo=self.refusals[0].todo)

    def __str__(self) -> str:
        return "\n".join(str(refusal) for refusal in self.refusals)
