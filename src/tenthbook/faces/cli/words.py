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
