"""`tenthbook why`: what a rule says, where it comes from, and its two cases."""

from __future__ import annotations

import json
from collections.abc import Callable

import pytest
from click.testing import Result

from tenthbook.record.bench import all_rules

Ask = Callable[..., Result]


def test_without_a_name_every_rule_is_listed(ask: Ask) -> None:
    """One line a rule, sorted by id."""
    result = ask("why")
    assert (result.exit_code, [line.split()[0] for line in result.stdout.splitlines()]) == (
        0,
        sorted(rule.id for rule in all_rules()),
    )


@pytest.mark.parametrize("rule", list(all_rules()), ids=lambda rule: rule.id)
def test_every_rule_is_explained(ask: Ask, rule: object) -> None:
    """Words, source and both cases stand in the answer, and the way on where there is one."""
    (known,) = [one for one in all_rules() if one is rule or one.id == getattr(rule, "id", "")]
    result = ask("why", known.id)
    lines = result.stdout.splitlines()
    assert (result.exit_code, lines[0], lines[1].strip()) == (0, known.id, known.says)
    assert [line.split(":")[0].strip() for line in lines[2:]] == [
        "source",
        "passes",
        "fails",
        *(["then"] if known.todo else []),
    ]


def test_a_rule_as_json(ask: Ask) -> None:
    """The same as data."""
    (shown,) = json.loads(ask("why", "part.tag-check", "--json").stdout)
    assert (shown["rule"], shown["source"], shown["fails"]) == (
        "part.tag-check",
        "ISO 7064, MOD 11,10",
        {"tag": "P-0221-6"},
    )
    assert len(json.loads(ask("why", "--json").stdout)) == len(list(all_rules()))


@pytest.mark.parametrize(
    ("typed", "hint"), [("part.tag-chek", "did you mean part.tag-check?"), ("zzzz", "tenthbook why lists them")]
)
def test_an_unknown_rule_is_answered_with_the_nearest(ask: Ask, typed: str, hint: str) -> None:
    """A slip exits 2 and offers what was meant."""
    result = ask("why", typed)
    assert (result.exit_code, result.stdout) == (2, "")
    assert hint in result.stderr
