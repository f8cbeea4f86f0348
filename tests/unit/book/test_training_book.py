"""The training copy of the demonstration's book breaks each rule of the checker once, where the list says, and no more.

Most rules fail in the folder `dunlin-four-faulty`. Those that cannot fail there beside the others are named below with
the reason, and so are the places where a rule speaks of another row than the mistyped one.
"""

from __future__ import annotations

import io
import re
import zipfile
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest

from tenthbook.record.book import TABLES, draft_book
from tenthbook.record.book.checks import CHECK_RULES, check
from tenthbook.record.book.drafting import Draft
from tenthbook.record.book.findings import Finding
from tenthbook.record.book.workbook import draft_workbook
from tests.unit.book import training
from tests.unit.book.training import FAULTY, GOOD, SLIPS, Slip

NOT_IN_THE_FOLDER = {
    "book.file": "a missing table has no rows, so that the rules of its rows could not fail; it is in the small book",
    "book.table": "of a torn table no row is read, so that the rules of its rows could not fail; in the small book",
    "book.column-there": "a needed column that is missing is asked for in every row again; in the small book, rowless",
    "book.number-cell": "a CSV has no number cells; it is in the workbook",
    "book.workbook": "of a workbook with a formula nothing is read; it is in a workbook of its own",
}
SPEAKS_OF_ANOTHER_ROW = {"book.joint-numbers": "the numbers of a joint are named together, at its first fastener"}
LEANS_ON_ANOTHER_SLIP = {
    "book.other-unit-order": "two figures changed over in the second unit disagree with the first as well; it stands in"
    " the row whose first unit cannot be read"
}
STATES_A_SUM = {
    "book.fit-letter": "sets the printed fit beside what its two sizes make, and that is the good figure",
    "book.fit-from-sizes": "sets the printed fit beside what its two sizes make, and that is the good figure",
}
SUM = re.compile(r"\S+ \S+ less \S+ \S+ is \S+")
FIGURE = re.compile(r"([0-9]+(?:\.[0-9]+)?)(T?)")
MISTYPED = [slip for slip in SLIPS if not slip.added and slip.column]


@cache
def found() -> tuple[Finding, ...]:
    """What the checker finds in the folder of the story."""
    return check(draft_book(kept_files()))


def kept_files() -> dict[str, bytes]:
    """The files of the faulty book as they lie in the story."""
    return {path.name: path.read_bytes() for path in FAULTY.iterdir() if path.name != "README.md"}


def finding_of(slip: Slip) -> Finding:
    """The one finding by the rule of a slip."""
    (finding,) = [finding for finding in found() if finding.rule == slip.rule]
    return finding


def where(slip: Slip) -> tuple[str, str, str]:
    """Rule, place and row at which a slip should be found."""
    row = slip.found_in or slip.cells.get("id", slip.row)
    if slip.rule == "book.cells":  # a row that is not read has no id
        row = ""
    return slip.rule, f"{slip.table}.csv:{training.line_of(slip.table, slip.found_in or slip.row)}", row


def members(workbook: bytes) -> dict[str, bytes]:
    """A workbook by what is packed in it, however tightly."""
    with zipfile.ZipFile(io.BytesIO(workbook)) as packed:
        return {name: packed.read(name) for name in packed.namelist()}


def figures(text: str) -> set[tuple[Decimal, str]]:
    """The figures of a text, however many noughts they end in, a tight one apart from a loose one."""
    return {(Decimal(number), letter) for number, letter in FIGURE.findall(text)}


def good_cells(slip: Slip) -> dict[str, str]:
    """The row of a slip as the good book has it."""
    heading, *rows = training.good_rows(slip.table)
    return next(dict(zip(heading, row, strict=True)) for row in rows if row[0] == slip.row)


def given_away(slip: Slip, text: str) -> set[tuple[Decimal, str]]:
    """The good figures that a text gives and the mistyped row no longer does."""
    good = good_cells(slip)
    left = {**good, **slip.cells}
    mistyped = {figure for column in slip.cells if column in good for figure in figures(good[column])}
    return (mistyped - figures(" ; ".join(left.values()))) & figures(text)


# --- the files are what the list makes -------------------------------------------------------------------------------


def test_the_good_book_is_written_as_it_lies_there() -> None:
    """What is not mistyped stays as it is, to the byte."""
    for table in TABLES:
        rows = training.written(training.good_rows(table))
        assert rows.encode() == (GOOD / f"{table}.csv").read_bytes(), table


def test_the_faulty_book_is_what_the_list_makes() -> None:
    """No file more, none less, no byte else: after a change of the good book or of the list they are made anew."""
    assert kept_files() == training.faulty_files()


def test_the_torn_book_is_what_the_list_makes() -> None:
    """The same holds for the small book."""
    files = {path.name: path.read_bytes() for path in training.TORN_BOOK.iterdir() if path.suffix in (".csv", ".toml")}
    assert files == training.torn_files()
    others = {path.name for path in training.TORN_BOOK.iterdir()} - files.keys()
    assert others == {"README.md", training.TORN_WORKBOOK.parent.name}


@pytest.mark.parametrize(
    ("rule", "path"),
    [("book.number-cell", training.FAULTY_WORKBOOK), ("book.workbook", training.TORN_WORKBOOK)],
    ids=["number cell", "formula"],
)
def test_a_workbook_is_what_the_list_makes(rule: str, path: Path) -> None:
    """Every part of the workbook is the same; how tightly it is packed may differ."""
    assert members(path.read_bytes()) == members(training.workbook_with(rule))


@pytest.mark.parametrize("slip", MISTYPED, ids=lambda slip: f"{slip.rule}, {slip.happened}")
def test_a_slip_changes_the_good_row(slip: Slip) -> None:
    """What is typed in a slip is not what the good book has there."""
    good = good_cells(slip) if slip.row else dict.fromkeys(training.good_rows(slip.table)[0])
    assert all(good.get(column) != text for column, text in slip.cells.items())


@pytest.mark.parametrize("folder", [FAULTY, training.TORN_BOOK], ids=lambda folder: folder.name)
def test_a_training_copy_says_what_it_is(folder: Path) -> None:
    """Head and README.md, of ten lines at most, both say that it is invented and for training."""
    head = (folder / "book.toml").read_text(encoding="utf-8")
    assert "invented = true" in head
    assert "training copy" in head
    lines = (folder / "README.md").read_text(encoding="utf-8").splitlines()
    assert len(lines) <= 10
    assert "Training copy" in lines[0]
    assert "Invented, for no engine, and for nothing but training" in lines[2]


# --- each rule fails once, where the slip is -------------------------------------------------------------------------


def test_the_list_has_every_rule_of_the_register_once() -> None:
    """A new rule of the checker asks for a slip of its own here."""
    listed = [*(slip.rule for slip in SLIPS), *training.IN_FILES, *training.TORN, *training.IN_WORKBOOKS]
    assert sorted(listed) == sorted(rule.id for rule in CHECK_RULES)
    assert NOT_IN_THE_FOLDER.keys() == training.TORN.keys() | training.IN_WORKBOOKS.keys()


def test_every_other_rule_fails_once_in_the_folder() -> None:
    """Exactly the rules that can fail in the folder do, none twice."""
    rules = [finding.rule for finding in found()]
    assert sorted(rules) == sorted({rule.id for rule in CHECK_RULES} - NOT_IN_THE_FOLDER.keys())


def test_each_is_found_where_the_slip_was_made() -> None:
    """Rule, line and row of each finding are those of the list."""
    in_files = [(rule, file, "") for rule, file in training.IN_FILES.items()]
    expected = [*(where(slip) for slip in SLIPS), *in_files]
    assert sorted((finding.rule, finding.place, finding.row) for finding in found()) == sorted(expected)


def test_one_rule_speaks_of_another_row() -> None:
    """Only the rules named above are found elsewhere than in the mistyped row."""
    assert {slip.rule for slip in SLIPS if slip.found_in} == SPEAKS_OF_ANOTHER_ROW.keys()


def test_one_slip_leans_on_another() -> None:
    """Only the rules named above need a second slip in their row; every other row has one slip alone."""
    rows = [(slip.table, slip.row) for slip in SLIPS]
    shared = {slip.rule for slip in SLIPS if rows.count((slip.table, slip.row)) > 1}
    assert shared == {"book.unit", *LEANS_ON_ANOTHER_SLIP}


def test_the_small_book_breaks_what_cannot_fail_beside_others() -> None:
    """A table missing, one torn and a column missing, and nothing else."""
    files = training.torn_files()
    assert {finding.rule: finding.place for finding in check(draft_book(files))} == training.TORN
    assert len(check(draft_book(files))) == len(training.TORN)


def of_workbook(path: Path) -> tuple[Finding, ...]:
    """What is found in a workbook of the story."""
    draft: Draft = draft_workbook(path.name, path.read_bytes())
    return check(draft)


def test_a_workbook_breaks_what_a_workbook_alone_can() -> None:
    """A number cell is found in one workbook and a formula in another, each alone."""
    (number,) = of_workbook(training.FAULTY_WORKBOOK)
    table, row, column, _ = training.IN_WORKBOOKS["book.number-cell"]
    place = f"{table}:{training.line_of(table, row)}"
    assert (number.rule, number.place, number.column, number.row) == ("book.number-cell", place, column, "")
    (formula,) = of_workbook(training.TORN_WORKBOOK)
    assert formula.rule == "book.workbook"
    assert formula.place.endswith(f"{training.line_of('sizes', 'size.relief-plunger')}")
    assert formula.found == "a formula"


# --- nothing proposes a number ---------------------------------------------------------------------------------------


def test_no_finding_gives_the_good_figure() -> None:
    """A good figure that the mistyped row no longer has stands in no finding, but within the sums named above."""
    figured = [slip for slip in MISTYPED if slip.row]
    whole = {slip.rule for slip in figured if given_away(slip, str(finding_of(slip)))}
    without_sums = {slip.rule for slip in figured if given_away(slip, SUM.sub("", str(finding_of(slip))))}
    assert whole == STATES_A_SUM.keys()
    assert without_sums == set()


def test_enough_slips_have_a_figure_to_give_away() -> None:
    """The test before this one is of weight: in many slips the good figure is gone from the row."""
    bare = [slip for slip in MISTYPED if slip.row and given_away(slip, " ; ".join(good_cells(slip).values()))]
    assert len(bare) >= 20
