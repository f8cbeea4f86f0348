"""Does docs/book.md tell the truth: its page typed, checked, mended and revised, its kinds, its tables and rules?

The rows on the page are typed into an empty book, and what stands below each command is what the command prints.
"""

from __future__ import annotations

import re
import shlex
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner

from tenthbook.numbers.limit.kinds import NoneGiven, NotApplicable
from tenthbook.record.book.checks import CHECK_RULES
from tenthbook.record.book.empty import empty_book
from tenthbook.record.book.explaining import explain_columns, explain_rules
from tenthbook.record.book.reading import draft_kept
from tenthbook.record.book.statements import FIELDS
from tests.docs.test_readme import agrees, sessions
from tests.docs.tree import ROOT

PAGE = (ROOT / "docs" / "book.md").read_text(encoding="utf-8")
HEAD = {"type": "Example Two", "manual": "Manual of the Example Two (invented)", "revision": "1, 1 January 2026"}
PARTS = ("measured", "diameter", "length", "taper")


def tables(text: str) -> Iterator[list[list[str]]]:
    """The tables of a page, cell by cell, without their heads."""
    for block in re.findall(r"(?:^\|.*\|\n)+", text, re.MULTILINE):
        yield [[cell.strip() for cell in line.strip("|\n").split("|")] for line in block.splitlines()[2:]]


def slips(head: str) -> list[tuple[str, str, str]]:
    """The rows of the table with this heading: file, what stands there, what is put there."""
    found = re.search(rf"^\| {re.escape(head)} \|\n((?:^\|.*\|\n)+)", PAGE, re.MULTILINE)
    assert found, head
    (rows,) = tables(f"| {head} |\n{found[1]}")
    return [(file, was.strip("`"), now.strip("`")) for file, was, now in rows]


def put(folder: Path, changes: list[tuple[str, str, str]]) -> None:
    """Change a book as a table on the page says; a text that ends a row is meant at the end of a row."""
    for file, was, now in changes:
        text = (folder / file).read_text(encoding="utf-8")
        pattern = re.escape(was) + ("$" if was.endswith(",") else "")
        text, count = re.subn(pattern, now, text, flags=re.MULTILINE)
        assert count == 1, f"{was} stands {count} times in {file}"
        (folder / file).write_text(text, encoding="utf-8")


def ask(folder: Path, command: str, monkeypatch: pytest.MonkeyPatch) -> str:
    """What a command prints that is run above a book."""
    from tenthbook.faces.cli.root import command as root

    monkeypatch.chdir(folder.parent)
    return CliRunner().invoke(root, shlex.split(command.replace("\\\n", " "))[1:], prog_name="tenthbook").output


@pytest.fixture
def example(tmp_path: Path) -> Path:
    """The book of the page as it was first typed."""
    folder = tmp_path / "example"
    folder.mkdir()
    for name, content in empty_book(**HEAD, invented=True).items():
        (folder / name).write_bytes(content)
    typed = re.findall(r"^`(\w+\.csv)`:\n\n```csv\n(.*?)^```", PAGE, re.DOTALL | re.MULTILINE)
    assert [name for name, _ in typed] == ["parts.csv", "sizes.csv", "fits.csv"]
    for name, text in typed:
        (folder / name).write_text(text, encoding="utf-8")
    return folder


def test_the_page_tells_what_is_printed(example: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Begun, checked with its slips, checked when mended, compared with its revision: as the page shows."""
    steps = [step for _, shown in sessions(PAGE) for step in shown]
    assert [step.command.split()[2] for step in steps] == ["new", "check", "check", "compare"]
    _, slipped, mended, compared = steps
    printed = ask(example, slipped.command, monkeypatch)
    assert agrees(printed, slipped.printed), printed
    put(example, slips("where | was typed | the page says"))
    printed = ask(example, mended.command, monkeypatch)
    assert agrees(printed, mended.printed), printed
    revised = example.with_name("revised")
    shutil.copytree(example, revised)
    put(revised, slips("where | was | is now"))
    printed = ask(example, compared.command, monkeypatch)
    assert agrees(printed, compared.printed), printed


def test_the_book_is_begun_as_the_page_says(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The first command makes the folder it names, and prints what stands below it."""
    step = next(step for _, shown in sessions(PAGE) for step in shown)
    assert agrees(ask(tmp_path / "example", step.command, monkeypatch), step.printed)
    made = empty_book(**HEAD, invented=True)
    assert {path.name: path.read_bytes() for path in (tmp_path / "example").iterdir()} == made


def kinds() -> list[tuple[str, dict[str, str]]]:
    """The kinds of the page and the cells they are typed as."""
    rows = next(table for table in tables(PAGE) if table[0][0] == "1")
    return [(kind, dict(re.findall(r"`(\w+)=([^`]*)`", typed))) for _, kind, _, typed in rows]


def test_every_kind_is_on_the_page() -> None:
    """Twelve ways, with every word of the column."""
    assert len(kinds()) == 12
    assert list(dict.fromkeys(kind for kind, _ in kinds())) == list(FIELDS)


@pytest.mark.parametrize(("kind", "cells"), kinds(), ids=str)
def test_a_row_typed_as_the_page_says_is_one_of_its_kind(kind: str, cells: dict[str, str]) -> None:
    """With these cells and no others the row states a limit of that kind, and nothing is wrong with it."""
    row = {"part": "part.a", "feature": "x", "unit": "in", "page": "1-1", "kind": "absolute", "new_min": "1"}
    part = {"id": "part.a", "name": "a", "where_used": "a", "quantity": "1", "page": "1-1"}
    plain = {name: text for name, text in row.items() if name not in ("kind", "new_min")}
    sizes = [{**row, "id": f"size.{name}"} for name in PARTS[1:]]
    measured = {**plain, "id": "size.measured", "kind": kind, **cells}
    draft = draft_kept({**HEAD, "invented": True}, {"parts": [part], "sizes": [*sizes, measured]})
    assert [str(finding) for finding in draft.findings] == []
    statement, _ = draft.said["sizes", "size.measured"]
    assert isinstance(statement, NoneGiven) is (kind == "none")
    assert isinstance(statement, NotApplicable) is (kind == "not applicable")


def test_the_columns_are_written_from_the_tables() -> None:
    """docs/book-columns.md is what the tables say of themselves, to the letter."""
    page = (ROOT / "docs" / "book-columns.md").read_text(encoding="utf-8")
    assert page == explain_columns(), "write it anew from tenthbook.record.book.explaining.explain_columns"


def test_the_rules_are_written_from_the_register() -> None:
    """docs/book-rules.md is what the register of the checker says, to the letter."""
    page = (ROOT / "docs" / "book-rules.md").read_text(encoding="utf-8")
    assert page == explain_rules(CHECK_RULES), "write it anew from tenthbook.record.book.explaining.explain_rules"
