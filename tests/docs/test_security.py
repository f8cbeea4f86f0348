"""Does docs/security.md name a test for each line of its threat table, and only tests that exist?"""

from __future__ import annotations

import ast
import re

import pytest

from tests.docs.tree import ROOT

PAGE = ROOT / "docs" / "security.md"
COLUMNS = ["who", "what they try", "what stands against it", "held by"]
_NAMED = re.compile(r"`(tests/[\w/]+\.py)::(\w+)`")


def lines_of_tables() -> list[list[str]]:
    """The cells of every line of every table of the page, heads and rules included."""
    text = PAGE.read_text(encoding="utf-8")
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in text.splitlines() if line.startswith("|")]


def threats() -> list[list[str]]:
    """The lines of the threat table."""
    return lines_of_tables()[2:]


def names_in(path: str) -> set[str]:
    """Names of the test functions that stand in a module, plain or parametrised."""
    module = ast.parse((ROOT / path).read_text(encoding="utf-8"))
    return {node.name for node in module.body if isinstance(node, ast.FunctionDef) and node.name.startswith("test_")}


def test_the_table_has_its_four_columns() -> None:
    """Every line says what is tried, what stands against it, and what holds it; the first says who."""
    head, rule, *lines = lines_of_tables()
    assert head == COLUMNS
    assert all(set(cell) == {"-"} for cell in rule)
    assert [line for line in lines if len(line) != 4 or not all(line[1:])] == []
    assert lines[0][0], "somebody tries the first"


@pytest.mark.parametrize("line", threats(), ids=lambda line: line[1])
def test_each_threat_is_held_by_tests_that_exist(line: list[str]) -> None:
    """Each line names one test or more, each by its module and its name, and nothing else."""
    named = _NAMED.findall(line[3])
    assert named
    assert _NAMED.sub("", line[3]).strip(" ,") == "", "only tests stand there"
    assert [f"{path}::{name}" for path, name in named if name not in names_in(path)] == []


def test_a_test_that_is_named_anywhere_exists() -> None:
    """Also in the text around the table."""
    named = _NAMED.findall(PAGE.read_text(encoding="utf-8"))
    assert len(named) >= len(threats())
    assert {(path, name) for path, name in named if name not in names_in(path)} == set()


def test_a_test_that_is_gone_would_be_found() -> None:
    """The names are read from the modules, not believed."""
    path = "tests/docs/test_security.py"
    assert "test_the_table_has_its_four_columns" in names_in(path)
    assert "test_that_nobody_wrote" not in names_in(path)
    assert "threats" not in names_in(path), "only tests hold a promise"
