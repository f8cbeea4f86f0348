"""What a checker found in a book: where, what, what belongs there, how to mend it, and by which rule.

A finding is a value; all of them come at once. It never holds a corrected number: the manual's page is read again.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from tenthbook.numbers.because import Fault, Rule


class Weight(StrEnum):
    """How a finding is meant.

    Attributes:
        WRONG: The row contradicts itself or cannot be read.
        ASKS: It may be a slip or may be so in the manual: look at the page again.
        MISSING: Another row names it, and it is not there yet; a book grows by the job.
    """

    WRONG = "wrong"
    ASKS = "asks"
    MISSING = "missing"


@dataclass(frozen=True, slots=True)
class CheckRule(Rule):
    """A rule for the rows of a book.

    Attributes:
        weight: How a finding by it is meant.
    """

    weight: Weight = Weight.WRONG


@dataclass(frozen=True, slots=True)
class Finding:
    """One finding.

    Attributes:
        place: File and line, such as "sizes.csv:12".
        column: The column; empty where the whole row or file is meant.
        row: Id of the row; empty where there is none.
        found: What stands there.
        expected: What belongs there.
        todo: How to mend it.
        rule: Id of the rule.
        weight: How it is meant.
    """

    place: str
    column: str
    row: str
    found: str
    expected: str
    todo: str
    rule: str
    weight: Weight

    @property
    def fault(self) -> Fault:
        """The same as a fault of an input."""
        return Fault(f"{self.place}: {self.column}" if self.column else self.place, self.found, self.expected)

    def __str__(self) -> str:
        way = f"; {self.todo}" if self.todo else ""
        return f"{self.fault}{way} ({self.weight}, rule {self.rule})"


@dataclass(frozen=True, slots=True)
class At:
    """A place in a book, for the findings made there."""

    place: str
    row: str = ""

    def breaks(self, rule: CheckRule, column: str, found: str, expected: str = "") -> Finding:
        """Make a finding.

        Args:
            rule: The rule that is broken.
            column: The column; empty where the whole row is meant.
            found: What stands there.
            expected: What belongs there; empty: as the rule says.

        Returns:
            The finding.
        """
        wanted = expected or f"{rule.says[0].lower()}{rule.says[1:].removesuffix('.')}"
        return Finding(self.place, column, self.row, found, wanted, rule.todo, rule.id, rule.weight)

    def try_rule(self, rule: CheckRule, column: str, found: str, expected: str = "", **facts: Any) -> Iterator[Finding]:
        """Try a rule on facts.

        Args:
            rule: The rule.
            column: The column the finding would name.
            found: What the finding would say was found.
            expected: What belongs there; empty: as the rule says.
            **facts: The facts, by the names of the rule's cases.

        Yields:
            The finding, where the rule is broken.
        """
        if not rule.holds(**facts):
            yield self.breaks(rule, column, found, expected)
