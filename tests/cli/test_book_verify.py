"""`tenthbook book verify` and `tenthbook job row|missing|book`: a book grows by the job, and is read again."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import Result

from tenthbook.record.book import book_digest
from tenthbook.record.book.reading import read_book

Ask = Callable[..., Result]
SHAFT = ["kind=absolute", "unit=in", "new_min=0.5108", "new_max=0.5114", "service_min=0.5098"]
BORE = ["new_min=0.5124", "new_max=0.5130"]
KEYWAY = ["id=size.keyway", "part=part.shaft", "feature=keyway width", *SHAFT[:2], "new_min=0.1250", "new_max=0.1260"]


def files_of(folder: Path) -> dict[str, bytes]:
    """The files of a book."""
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_the_second_reader_is_shown_no_figure(ask: Ask, book_folder: Path) -> None:
    """What the row is of and its page; then what is to be typed."""
    out = ask("book", "verify", str(book_folder), "--row", "sizes/size.shaft").stdout
    assert "page 2-2" in out
    assert "part: part.shaft" in out
    assert "service_min" in out
    assert not any(figure in out for figure in ("0.5108", "0.5114", "0.5098"))


def test_an_equal_reading_is_verified_and_listed(ask: Ask, book_folder: Path) -> None:
    """Exit 0, and the overview says who read it."""
    result = ask("book", "verify", str(book_folder), "--row", "sizes/size.shaft", *SHAFT)
    assert (result.exit_code, result.stdout) == (0, "entry 1: row verified, sizes/size.shaft, page 2-2\n")
    overview = ask("book", "verify", str(book_folder)).stdout
    assert "sizes/size.shaft, page 2-2: read again by mechanic, " in overview
    assert overview.splitlines()[-1].startswith("1 of 12 rows read a second time")
    data = json.loads(ask("book", "verify", str(book_folder), "--json").stdout)
    assert (data["verified"], len(data["rows"])) == (1, 12)


def test_a_reading_that_differs_is_shown_with_both_figures(ask: Ask, book_folder: Path) -> None:
    """Exit 1, both readings, and the page decides."""
    wrong = [*SHAFT[:-1], "service_min=0.5089"]
    result = ask("book", "verify", str(book_folder), "--row", "sizes/size.shaft", *wrong)
    assert result.exit_code == 1
    assert "service_min: 0.5098 in the book, 0.5089 read again" in result.stdout
    assert "The page decides" in result.stderr


@pytest.mark.parametrize(
    ("words", "code", "says"),
    [
        ([], 2, "a book's folder or workbook"),
        (["unit=in"], 2, "a book's folder or workbook"),
        (["BOOK", "--row", "sizes/size.axle"], 2, "an id of sizes"),
        (["BOOK", "--row", "size.shaft"], 2, "one of orientation"),
        (["BOOK", "--row", "sizes/size.shaft", "page=2-2"], 1, "rule proofread.something-read"),
        (["BOOK", "--row", "sizes/size.shaft", "unit"], 2, "no ="),
    ],
)
def test_misuse_is_answered_plainly(ask: Ask, book_folder: Path, words: list[str], code: int, says: str) -> None:
    """What was found and what was expected, without a stack trace."""
    result = ask("book", "verify", *(str(book_folder) if word == "BOOK" else word for word in words))
    assert isinstance(result.exception, SystemExit)
    assert (result.exit_code, says in result.stderr) == (code, True), result.stderr


def test_whoever_typed_a_row_in_a_job_reads_it_again_another_day(ask: Ask, job: str) -> None:
    """The entry says who typed it and when; the same person on the same day is refused, another is not."""
    ask("job", "row", job, "sizes", *KEYWAY, "page=2-5")
    again = ["book", "verify", "--job", job, "--row", "sizes/size.keyway", *KEYWAY[3:]]
    assert "proofread.another-day" in ask(*again).stderr
    assert ask("--person", "inspector", *again).exit_code == 0


def test_a_row_typed_in_a_job_is_answered_with_the_checkers_questions(ask: Ask, job: str) -> None:
    """A typed row is recorded, and what the checker asks about it stands beside it."""
    result = ask("job", "row", job, "sizes", *KEYWAY, "service_max=0.1775", "page=2-5")
    first, *asked = result.stdout.splitlines()
    assert first == "entry 2: row typed, sizes/size.keyway, page 2-5; not read again yet"
    assert any("book.service-far-from-new" in line for line in asked)
    refused = ask("job", "row", job, "sizes", *KEYWAY, "page=2-5")
    assert (refused.exit_code, "row.id-new" in refused.stderr) == (1, True)


def test_a_job_says_what_its_book_lacks(ask: Ask, job: str) -> None:
    """Missing for this job and not yet needed are two headings; exit 1 while something is missing."""
    before = ask("job", "missing", job)
    assert "missing for this job:" not in before.stdout
    assert "not yet needed:" in before.stdout
    ask("job", "record", job, "part removed", "part=part.shaft")
    result = ask("job", "missing", job)
    assert result.exit_code == 1
    assert "missing for this job:" in result.stdout
    assert "set.pump" in result.stdout
    data = json.loads(ask("job", "missing", job, "--json").stdout)
    assert data["rows"]


def test_the_book_of_a_job_is_written_with_the_rows_typed_in_it(ask: Ask, job: str, book_folder: Path) -> None:
    """The rows come out as they were typed; a folder that is there is not written over."""
    ask("job", "row", job, "sizes", *KEYWAY, "page=2-5")
    assert ask("job", "book", job, "grown").exit_code == 0
    grown = read_book(files_of(Path("grown")))
    assert grown.sizes["size.keyway"].page == "2-5"
    assert book_digest(grown) != book_digest(read_book(files_of(book_folder)))
    assert ask("job", "book", job, "grown").exit_code == 2
    assert ask("job", "book", job, "grown.xlsx").exit_code == 0
    assert Path("grown.xlsx").read_bytes().startswith(b"PK")


def test_a_job_shows_the_rows_that_nobody_read_again(ask: Ask, job: str, book_folder: Path) -> None:
    """The status names them until they are read; the paper is written all the same."""
    ask("job", "record", job, "part removed", "part=part.shaft")
    ask("job", "record", job, "reading taken", "tag=P-0001-3", "row=size.shaft", "value=0.5110 in")
    assert "UNVERIFIED, not read a second time: size.shaft (page 2-2)" in ask("job", "status", job).stdout
    assert json.loads(ask("job", "status", job, "--json").stdout)["not_read_again"][0]["row"] == "size.shaft"
    assert ask("papers", job, "inspection", "paper.pdf").exit_code == 0
    ask("book", "verify", str(book_folder), "--row", "sizes/size.shaft", *SHAFT)
    assert "UNVERIFIED" not in ask("job", "status", job).stdout


def test_verification_falls_away_on_import(ask: Ask, book_folder: Path) -> None:
    """A row that comes in from elsewhere is unread, even where it is digit for digit the one that was read."""
    ask("book", "verify", str(book_folder), "--row", "sizes/size.shaft", *SHAFT)
    ask("book", "verify", str(book_folder), "--row", "sizes/size.bore", "kind=absolute", "unit=in", *BORE)
    Path("sent.csv").write_text("row,part,feature,min,max,least\nsize.shaft,part.shaft,diameter,0.5108,0.5114,0.5098\n")
    maps = ["id=row", "part=part", "feature=feature", "new_min=min", "new_max=max", "service_min=least"]
    constants = ["kind=absolute", "unit=in", "page=2-2", "safety=yes"]
    words = ["book", "import", str(book_folder), "sizes", "sent.csv", "--replace"]
    words += [word for one in maps for word in ("--map", one)] + [word for one in constants for word in ("--set", one)]
    shown = ask(*words, "--json")
    assert shown.exit_code == 0, shown.stderr
    assert "2 of 12 rows" in ask("book", "verify", str(book_folder)).stdout, "nothing changes unseen"
    done = ask(*words, "--accept", json.loads(shown.stdout)["code"])
    assert (done.exit_code, "count as unread" in done.stderr) == (0, True), done.stderr
    overview = ask("book", "verify", str(book_folder)).stdout
    assert "sizes/size.shaft, page 2-2: not read again" in overview
    assert overview.splitlines()[-1].startswith("1 of 12 rows")


def test_cells_without_a_row_are_not_passed_over(ask: Ask, book_folder: Path) -> None:
    """A figure is read for a row, or not at all."""
    result = ask("book", "verify", str(book_folder), "unit=in")
    assert (result.exit_code, "--row TABLE/ID" in result.stderr) == (2, True)


def test_an_archive_or_a_paper_gives_way_only_when_told(ask: Ask, job: str) -> None:
    """Whatever lies under the name stays as it is until somebody says that it gives way."""
    precious = Path("precious.txt")
    precious.write_text("precious")
    for words in (["job", "export", job, str(precious)], ["papers", job, "inspection", str(precious)]):
        refused = ask(*words)
        assert (refused.exit_code, "which is there already" in refused.stderr) == (2, True)
        assert precious.read_text() == "precious"
    assert ask("job", "export", job, str(precious), "--replace").exit_code == 0
    assert precious.read_bytes().startswith(b"PK")


@pytest.mark.parametrize("target", ["book/inside", "book/inside.xlsx", "book.xls", "book.csv"])
def test_a_book_is_not_written_into_itself_nor_as_another_kind_of_file(
    ask: Ask, book_folder: Path, target: str
) -> None:
    """An export beside the book or as a workbook, nothing else; the book stays as it was."""
    before = files_of(book_folder)
    assert ask("book", "export", "book", target).exit_code == 2
    assert files_of(book_folder) == before


def test_a_name_no_disk_takes_is_answered_without_a_stack_trace(ask: Ask) -> None:
    """Too long a name is misuse, said plainly."""
    result = ask("book", "check", "a" * 5000)
    assert isinstance(result.exception, SystemExit)
    assert (result.exit_code, "expected" in result.stderr) == (2, True)


def test_an_engine_that_the_book_does_not_name_is_asked_about(ask: Ask, book_folder: Path) -> None:
    """A book of another type is pinned only by somebody who was asked."""
    words = ["job", "new", "9", "--book", str(book_folder), "--reason", "x", "--scope", "repair, to service limits"]
    result = ask(*words, "--engine", "Other engine 7")
    assert "is it the book of this engine?" in result.stderr
