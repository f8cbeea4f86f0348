"""Every rule of this book can be kept, can be broken, and says where it comes from."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import tenthbook
from tenthbook.numbers.because import Rule
from tenthbook.record.bench import all_rules

RULES = list(all_rules())
SOURCE = Path(tenthbook.__file__).parent
# A rule's id where it is given or asked for by name, such as id="limit.new" or Because("limit.new", ...).
NAMED = re.compile(r'(?:\bid=|\bfind\(|\bBecause\(|\bRefusal\(|\brule=|\b_rule\(\s*)"([a-z]+\.[a-z-]+)"')


def test_there_are_rules() -> None:
    """The register of all rooms is not empty, and an id stands in it once."""
    assert len(RULES) == len({rule.id for rule in RULES}) > 20


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_a_rule_passes_its_one_case_and_fails_the_other(rule: Rule) -> None:
    """The two cases of a rule prove that it can be kept and can be broken."""
    assert rule.holds(**rule.passes) is True
    assert rule.holds(**rule.fails) is False


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_a_rule_says_itself_in_a_sentence_and_names_its_source(rule: Rule) -> None:
    """Words for the mechanic and a source stand on every rule."""
    assert re.fullmatch(r"[A-Z][^\n]{15,}\.", rule.says)
    assert len(rule.source) > 5
    assert not rule.todo.endswith(".")


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_a_rules_id_is_two_short_words(rule: Rule) -> None:
    """Room or thing, a full stop, and what is asked of it."""
    assert re.fullmatch(r"[a-z]+\.[a-z]+(-[a-z]+)*", rule.id)


def test_every_id_named_in_the_source_is_registered() -> None:
    """No room speaks of a rule that the register does not know, and each registered rule is written down once."""
    named = [name for path in sorted(SOURCE.rglob("*.py")) for name in NAMED.findall(path.read_text(encoding="utf-8"))]
    assert sorted(named) == sorted(rule.id for rule in RULES)
