"""Papers and tables are asked for by name; a paper is written and recorded, both or neither."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tenthbook.faces.cli import job_table as table_command
from tenthbook.faces.cli import papers as papers_command
from tenthbook.faces.papers import PAPERS, TABLES_OF_A_JOB
from tenthbook.numbers.sheet import read_csv, read_workbook, table_of
from tests.cli.conftest import Ask
from tests.printed import size_of


@pytest.fixture
def measured(ask: Ask, job: str) -> str:
    """A job with a shaft on the bench and one reading of it."""
    assert ask("job", "record", job, "part removed", "part=part.shaft").exit_code == 0
    words = ["tag=P-0001-3", "row=size.shaft", "value=0.51010 in"]
    assert ask("job", "record", job, "reading taken", *words).exit_code == 0
    return job


def papers_of(ask: Ask, job: str) -> list[str]:
    """What the ledger says was issued, from the first."""
    entries = json.loads(ask("job", "history", job, "--json").stdout)
    told = [one["told"].split("; ") for one in entries if one["kind"] == "papers issued"]
    return [said for fields in told for said in fields if said.startswith("paper ")]


def test_the_names_are_those_of_the_catalogue() -> None:
    """The command lists them without importing the papers; the two agree."""
    assert list(papers_command._NAMES) == list(PAPERS)
    assert list(table_command._TABLES) == list(TABLES_OF_A_JOB)


@pytest.mark.parametrize("paper", list(PAPERS))
def test_each_paper_is_written_and_recorded(ask: Ask, measured: str, paper: str, tmp_path: Path) -> None:
    """Under its own name, on letter paper where that is asked for; the ledger says which was issued."""
    result = ask("papers", measured, paper, "--letter")
    assert (result.exit_code, result.stdout) == (0, f"{measured}-{paper}.pdf\n")
    content = (tmp_path / f"{measured}-{paper}.pdf").read_bytes()
    assert 216 in size_of(content)
    assert papers_of(ask, measured) == [f"paper {PAPERS[paper].issued_as}"]


@pytest.mark.parametrize("paper", ["measuring-sheet", "tags"])
def test_a_blank_paper_is_recorded_as_blank(ask: Ask, measured: str, paper: str) -> None:
    """It has a name of its own, beside the filled one."""
    assert ask("papers", measured, paper, "--blank").stdout == f"{measured}-{paper}-blank.pdf\n"
    assert ask("papers", measured, paper).stdout == f"{measured}-{paper}.pdf\n"
    issued = PAPERS[paper].issued_as
    assert papers_of(ask, measured) == [f"paper {issued}, blank", f"paper {issued}"]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["undone", "--blank"], "leave --blank out"),
        (["inspection", "--blank"], "one of measuring-sheet, tags"),
        (["tags"], "without a part on the bench"),
    ],
)
def test_a_paper_that_has_no_sense_is_refused(ask: Ask, job: str, words: list[str], told: str, tmp_path: Path) -> None:
    """Exit 2 with the way on; no file, and nothing in the ledger."""
    result = ask("papers", job, *words)
    assert result.exit_code == 2
    assert told in result.stderr
    assert list(tmp_path.glob("*.pdf")) == []
    assert papers_of(ask, job) == []


def test_a_table_is_written_as_text_and_as_a_workbook(ask: Ask, measured: str, tmp_path: Path) -> None:
    """Both files hold the same rows, the reading digit for digit; a table is no paper and is not recorded."""
    result = ask("job", "table", measured, "readings", "--csv", "r.csv", "--xlsx", "r.xlsx")
    assert (result.exit_code, result.stdout) == (0, "r.csv\nr.xlsx\n")
    text = read_csv("r.csv", (tmp_path / "r.csv").read_bytes())
    sheet, _ = table_of(read_workbook("r.xlsx", (tmp_path / "r.xlsx").read_bytes())["readings"])
    assert [row.cells for row in text.rows] == [row.cells for row in sheet.rows]
    assert [row.cells["value"] for row in text.rows] == ["0.51010"]
    assert papers_of(ask, measured) == []


def test_a_table_needs_a_file(ask: Ask, measured: str) -> None:
    """Without one the command says which it takes."""
    result = ask("job", "table", measured, "undone")
    assert result.exit_code == 2
    assert "--csv FILE" in result.stderr


def test_a_file_that_is_there_gives_way_only_when_told(ask: Ask, measured: str, tmp_path: Path) -> None:
    """One of the two in the way stops both; with --replace both are written."""
    (tmp_path / "u.xlsx").write_text("mine")
    words = ["job", "table", measured, "undone", "--csv", "u.csv", "--xlsx", "u.xlsx"]
    assert ask(*words).exit_code == 2
    assert not (tmp_path / "u.csv").exists()
    assert (tmp_path / "u.xlsx").read_text() == "mine"
    assert ask(*words, "--replace").exit_code == 0
    assert (tmp_path / "u.csv").exists()
