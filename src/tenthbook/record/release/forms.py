"""Which fields must a record have, and when: the forms as data.

A form is a tuple of fields. Each field has the name it is filled in by, the words beside it, where it comes from and
whether that was read, when it is needed, and its rule. Facts are plain text by name; beside what somebody typed they
hold `word`, `limits`, `major` and `route`. Here stands what a form is; the forms of one authority stand in a module
of their own.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date

from tenthbook.numbers.because import Rule
from tenthbook.record.release.rules import RULES

Facts = Mapping[str, str]
Needed = Callable[[Facts], bool]
Right = Callable[[str], bool]


@dataclass(frozen=True, slots=True)
class Field:
    """One field of a record.

    Attributes:
        id: Name it is filled in by.
        says: The words that stand beside it.
        source: Document and paragraph, or whose rule it is.
        read: Whether the source was read; otherwise it is from memory, or a rule of this book.
        needed: When it must be filled, as a predicate of all facts.
        rule: Its rule: filled and in form whenever it is needed.
        printed: Whether it stands in the text; some only say which other fields are needed.
        only_then: Whether it may stand only where it is needed, since anywhere else it would contradict the entry.
    """

    id: str
    says: str
    source: str
    read: bool
    needed: Needed
    rule: Rule
    printed: bool = True
    only_then: bool = False


@dataclass(frozen=True, slots=True)
class Form:
    """A record as one authority asks for it.

    Attributes:
        id: Short name, as in the ids of its rules.
        title: What it is, on its first line.
        fields: Its fields, in the order of the text.
        above_signature: What the signer states, in plain words of this book; nothing here is a claim of the book.
        needs_major: Whether a repair must be answered to be major or not.
        word: The word it is made for; empty where the strongest that is earned is offered.
    """

    id: str
    title: str
    fields: tuple[Field, ...]
    above_signature: tuple[str, ...]
    needs_major: bool = False
    word: str = ""


def always(facts: Facts) -> bool:  # noqa: ARG001 - the shape of every predicate
    """Say that a field is needed whatever the facts are.

    Args:
        facts: All facts.

    Returns:
        True.
    """
    return True


def never(facts: Facts) -> bool:  # noqa: ARG001 - the shape of every predicate
    """Say that a field may be left out whatever the facts are.

    Args:
        facts: All facts.

    Returns:
        False.
    """
    return False


def _folded(values: tuple[str, ...]) -> list[str]:
    return [value.casefold() for value in values]


def when(name: str, *values: str) -> Needed:
    """Make the predicate of a field that another fact asks for.

    Args:
        name: Name of the other fact.
        *values: Its values that ask for the field; capitals make no other value.

    Returns:
        The predicate.
    """
    return lambda facts: facts.get(name, "").casefold() in _folded(values)


def unless(name: str, *values: str) -> Needed:
    """Make the predicate of a field that another fact lets off.

    Args:
        name: Name of the other fact.
        *values: Its values that let it off.

    Returns:
        The predicate.
    """
    return lambda facts: facts.get(name, "").casefold() not in _folded(values)


def filled(text: str) -> bool:
    """Say whether something was written at all.

    Args:
        text: The value as typed.

    Returns:
        Whether there is a letter or a figure in it.
    """
    return any(sign.isalnum() for sign in text)


def a_day(text: str) -> bool:
    """Say whether a text is a day of the calendar.

    Args:
        text: The value as typed, such as 2026-11-30.

    Returns:
        Whether it is a real day, written year, month, day.
    """
    try:
        return bool(re.fullmatch(r"\d{4}-\d\d-\d\d", text, re.ASCII)) and bool(date.fromisoformat(text))
    except ValueError:
        return False


def one_of(*choices: str) -> Right:
    """Make the test of a field that offers a choice.

    Args:
        *choices: What may be chosen.

    Returns:
        The test.
    """
    return lambda text: text in choices


def asked(
    *,
    id: str,  # the same word as in a rule
    says: str,
    rule: str,
    source: str,
    read: bool,
    example: str,
    todo: str,
    needed: Needed = always,
    given: Facts | None = None,
    right: Right = filled,
    wrong: str = "",
    printed: bool = True,
    only_then: bool = False,
) -> Field:
    """Make a field and put its rule into the register.

    Args:
        id: Id of the rule; the field is named by what follows the form's name, blanks as underscores.
        says: The words beside the field.
        rule: The rule in one plain sentence.
        source: Document and paragraph, or whose rule it is.
        read: Whether the source was read.
        example: A value that keeps the rule.
        todo: The way on where it is missing.
        needed: When it must be filled.
        given: Facts beside it that make it needed, for the two cases.
        right: Whether a value is in form.
        wrong: A value that breaks the rule.
        printed: Whether it stands in the text.
        only_then: Whether it may stand only where it is needed.

    Returns:
        The field.
    """
    name = id.split("-", 1)[1].replace("-", "_")

    def holds(**facts: str) -> bool:
        value = facts.get(name, "")
        return right(value) if value or needed(facts) else True

    known = source if source.startswith("rule of this book") else f"{source}, {'read' if read else 'from memory'}"
    cases = {"passes": {**(given or {}), name: example}, "fails": {**(given or {}), name: wrong}}
    made = RULES.add(Rule(id=id, says=rule, source=known, holds=holds, todo=todo, **cases))
    return Field(name, says, source, read, needed, made, printed, only_then)
