"""What is typed as NAME=VALUE."""

from __future__ import annotations

from collections.abc import Sequence

from tenthbook.numbers.because import Fault, WrongInput


def fields_of(pairs: Sequence[str]) -> dict[str, str]:
    """Take NAME=VALUE apart.

    Args:
        pairs: What was typed.

    Returns:
        Value by name.

    Raises:
        WrongInput: a word without =, or a name twice.
    """
    faults = [Fault(pair, "no =", "FIELD=VALUE, such as value='0.5094 in'") for pair in pairs if "=" not in pair]
    if faults:
        raise WrongInput(faults)
    named = [(name, value) for name, _, value in (pair.partition("=") for pair in pairs)]
    names = [name for name, _ in named]
    twice = [Fault(name, "the field twice", "each field once") for name in sorted(set(names)) if names.count(name) > 1]
    if twice:
        raise WrongInput(twice)
    return dict(named)


def numbers_of(text: str) -> list[int]:
    """Take a list of entry numbers apart.

    Args:
        text: Such as 5,8-12.

    Returns:
        The numbers.

    Raises:
        WrongInput: a word that is neither a number nor two with a hyphen between.
    """
    numbers: list[int] = []
    for word in text.split(","):
        first, hyphen, last = word.strip().partition("-")
        ends = [first, last] if hyphen else [first]
        if not all(end.isascii() and end.isdigit() and len(end) < 10 for end in ends):
            raise WrongInput([Fault("entries", repr(word), "numbers such as 5,8-12")])
        if int(ends[-1]) - int(ends[0]) > 9999:
            raise WrongInput([Fault("entries", repr(word), "at most 10,000 of them")])
        numbers += range(int(ends[0]), int(ends[-1]) + 1)
    return numbers
