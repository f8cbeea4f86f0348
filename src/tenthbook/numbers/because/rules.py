"""A rule as a value: one predicate, its source, its words and the two cases that prove it.

A register refuses a rule whose own cases contradict it, so a rule that cannot fail cannot enter.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from tenthbook.numbers.because.errors import TenthbookError

Case = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule of the book, of a gate or of admission.

    Attributes:
        id: Short name with a full stop between its parts, never reused.
        says: The rule in one plain sentence.
        source: Document and section, or "common practice, no source", or "rule of this book".
        holds: The predicate; takes the names of a case as keyword arguments, says whether the rule is kept.
        passes: A case that keeps the rule.
        fails: A case that breaks it.
        todo: What to do when it is broken.
    """

    id: str
    says: str
    source: str
    holds: Callable[..., bool]
    passes: Case
    fails: Case
    todo: str = ""


@dataclass(slots=True)
class Register:
    """Rules by id."""

    _rules: dict[str, Rule] = field(default_factory=dict)

    def add(self, rule: Rule) -> Rule:
        """Take a rule in, after trying it on its own two cases.

        Args:
            rule: The rule.

        Returns:
            The same rule, so that a module can keep it by name.

        Raises:
            TenthbookError: its id is taken, or a case of its own contradicts it.
        """
        if rule.id in self._rules:
            raise TenthbookError(found=f"a second rule {rule.id}", expected="each id once")
        if not rule.holds(**rule.passes) or rule.holds(**rule.fails):
            raise TenthbookError(
                found=f"rule {rule.id} contradicts its own cases", expected="one case that passes, one that fails"
            )
        self._rules[rule.id] = rule
        return rule

    def find(self, rule_id: str) -> Rule | None:
        """Look a rule up.

        Args:
            rule_id: Its id.

        Returns:
            The rule, or None.
        """
        return self._rules.get(rule_id)

    def __iter__(self) -> Iterator[Rule]:
        return iter(self._rules.values())

    def __len__(self) -> int:
        return len(self._rules)

    def including(self, *others: Register) -> Register:
        """Make one register out of several.

        Args:
            others: Registers of other rooms.

        Returns:
            A new register with the rules of all; an id that stands in two of them is refused.
        """
        whole = Register()
        for register in (self, *others):
            for rule in register:
                whole.add(rule)
        return whole
