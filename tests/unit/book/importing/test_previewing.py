"""What would enter the book, and the code that opens the way for exactly that."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.numbers.because import Refused
from tenthbook.numbers.sheet import BadTable, Grid, Line, read_csv, read_grid
from tenthbook.record.book import draft_book
from tenthbook.record.book.checks import check
from tenthbook.record.book.findings import CheckRule, Weight
from tenthbook.record.book.importing import RULES, accepted_rows, file_with, preview
from tests.builders import SIZES_CSV, book_files
from tests.unit.book.importing.sent import page, said, shown

ROW = "size.a,a place,0.5108-0.5114,0.5098 min"
SHAFT = "size.shaft,diameter,0.5109-0.5114,0.5098 min"


def test_a_sound_page_gets_a_code_and_its_rows() -> None:
    """Two halves of six signs; the same page, map and book give the same code."""
    found = shown(ROW)
    assert [len(half) for half in found.code.split("-")] == [6, 6]
    assert found.code == shown(ROW).code
    assert accepted_rows(found, found.code) == found.rows


@pytest.mark.parametrize(
    ("row", "book", "differs"),
    [
        (ROW.replace("0.5098", "0.5099"), SIZES_CSV, "the rows differ"),
        (ROW, SIZES_CSV.replace("0.2507", "0.2508"), "the book differ"),
        (ROW.replace("a place", "a"), SIZES_CSV.replace("0.2507", "0.2508"), "the book and the rows differ"),
    ],
)
def test_a_code_opens_the_way_for_its_own_rows_and_book_only(row: str, book: str, differs: str) -> None:
    """The refusal says which of the two is another."""
    other = preview(said(), page(row), draft_book(book_files(sizes=book)))
    with pytest.raises(Refused) as caught:
        accepted_rows(other, shown(ROW).code)
    assert differs in caught.value.refusals[0].found
    assert caught.value.refusals[0].rule == "book.import-accepted"


@pytest.mark.parametrize("code", ["", "-", "000000-000000", "x", "000000"])
def test_no_other_code_opens_the_way(code: str) -> None:
    """Least of all an empty one."""
    with pytest.raises(Refused):
        accepted_rows(shown(ROW), code)


@pytest.mark.parametrize(
    ("row", "wrong"),
    [
        ("size.a,a,0.5114-0.5108,", 1),
        ("../size,a,0.5108-0.5114,", 1),
        ("size.a,a,0.5108-0.5114 lbf.in.in,", 1),
        ("size.shaft,a,0.5108-0.5114,", 1),
        ("size.a,a,0.5108-0.5114", 1),
        (",a,0.5108-0.5114,", 1),
        ("size.a,,0.5108-0.5114,", 1),
    ],
)
def test_while_anything_is_wrong_no_code_is_given_and_none_is_taken(row: str, wrong: int) -> None:
    """Order of least and greatest, ids, units, cells that lack: by fault or by the checker."""
    found = shown(row)
    assert (found.code, len(found.faults) + len(found.wrong)) == ("", wrong)
    for code in ("", shown(ROW).code):
        with pytest.raises(Refused) as caught:
            accepted_rows(found, code)
        assert caught.value.refusals[0].rule == "book.import-settled"


def test_while_a_question_is_open_no_code_is_given() -> None:
    """The rows that are sound do not enter either: nothing is half imported."""
    found = shown(ROW, "size.b,b,0.5,")
    assert (len(found.rows), len(found.questions), found.code) == (1, 1, "")
    with pytest.raises(Refused) as caught:
        accepted_rows(found, "")
    assert caught.value.refusals[0].found == "0 faults and 1 open questions"


def test_what_is_only_asked_or_missing_is_shown_and_may_be_accepted() -> None:
    """A book grows by the job, and a manual may print what looks like a slip."""
    constants = {"part": "part.shaft", "kind": "absolute", "page": "4-14", "after": "look.shaft"}
    found = shown("size.a,a,0.5108-0.5114,0.5110 min", constants=constants)
    weights = {finding.column: finding.weight for finding in found.findings}
    assert weights == {"after": Weight.MISSING, "service_min": Weight.ASKS}
    assert {finding.place for finding in found.findings} == {"page.csv:2"}
    assert accepted_rows(found, found.code) == found.rows


def test_a_row_of_a_part_that_is_not_in_the_book_does_not_enter() -> None:
    """The checker's wrong finding stands in the preview, and no code."""
    found = shown(ROW, constants={"part": "part.gear", "kind": "absolute", "page": "4-14"})
    assert [(finding.column, finding.rule) for finding in found.wrong] == [("part", "book.names-a-row")]
    assert found.code == ""


def test_only_what_the_rows_bring_is_found() -> None:
    """What the book had to be asked before is not asked again; another row's finding may come with them."""
    draft = draft_book(book_files(sizes=SIZES_CSV.replace("0.5124,0.5130", "0.5130,0.5124")))
    assert draft.wrong
    found = preview(said(), page(ROW), draft)
    assert not [finding for finding in found.findings if finding.row == "size.bore"]
    assert len(check(draft)) >= len(draft.wrong)
    assert found.code


def test_a_row_of_the_book_gives_way_only_when_that_is_said() -> None:
    """Then the preview shows old and new, cell by cell; cells nobody spoke of stay."""
    assert [fault.found for fault in shown(SHAFT).faults] == ["size.shaft, a row of the book"]
    constants = {"part": "part.shaft", "kind": "absolute", "page": "2-3"}
    found = shown(SHAFT, ROW, constants=constants, replace=True)
    shaft, new = found.rows
    assert sorted(shaft.changes) == [("new_min", "0.5108", "0.5109"), ("page", "2-2", "2-3")]
    assert (shaft.cells["safety"], new.was, new.changes) == ("yes", None, [])


def test_a_replaced_row_loses_what_the_page_no_longer_gives() -> None:
    """Dashes over a limit are shown as a limit that goes."""
    found = shown("size.shaft,diameter,0.5108-0.5114,----", replace=True)
    assert ("service_min", "0.5098", "") in found.rows[0].changes
    assert "service_min" not in found.rows[0].cells


def test_a_replaced_limit_takes_its_second_unit_along() -> None:
    """What was printed beside the old limit does not stay beside the new one."""
    old = SIZES_CSV.replace(",page,note", ",page,note,other_unit,other_new_min").replace("2-2,\n", "2-2,,mm,12.974\n")
    filled = "\n".join(line if line.count(",") == 13 else f"{line},," for line in old.splitlines())
    found = preview(said(replace=True), page(SHAFT), draft_book(book_files(sizes=filled)))
    assert {("other_new_min", "12.974", ""), ("other_unit", "mm", "")} <= set(found.rows[0].changes)


def test_a_page_without_rows_is_a_fault() -> None:
    """Nothing is accepted that nobody could look at."""
    assert [fault.found for fault in shown().faults] == ["no rows below the heading"]


def test_a_heading_that_is_not_sound_stops_it() -> None:
    """A column without a name, a name twice."""
    for heading in ("Id,Item,,Service", "Id,Item,New,New"):
        with pytest.raises(BadTable):
            shown(ROW, heading=heading)


@pytest.mark.parametrize("rule", list(RULES), ids=lambda rule: rule.id)
def test_each_rule_keeps_its_two_cases(rule: CheckRule) -> None:
    """One case passes, the other fails, and both rules keep rows out."""
    assert (rule.holds(**rule.passes), rule.holds(**rule.fails)) == (True, False)
    assert rule.weight is Weight.WRONG


def draft_of_rows(content: bytes) -> list[dict[str, str]]:
    """The filled cells of a file, row by row."""
    return [{name: cell for name, cell in row.cells.items() if cell} for row in read_csv("sizes.csv", content).rows]


def cells_of_book() -> list[dict[str, str]]:
    """The filled cells of the small book's sizes."""
    return draft_of_rows(SIZES_CSV.encode())


WORDS = st.text(st.characters(exclude_categories=["Cs", "Cc"]), min_size=1, max_size=12).map(str.strip).filter(bool)
NUMBERS = st.decimals("0.0001", "9", places=4).map(str)


@given(st.lists(st.tuples(WORDS, NUMBERS), min_size=1, max_size=5))
def test_what_is_previewed_is_what_is_kept(rows: list[tuple[str, str]]) -> None:
    """Read back from the file, every cell of every row is the one that was shown, and all other rows stay."""
    lines = [("Id", "Note", "Max"), *((f"size.n{place}", note, most) for place, (note, most) in enumerate(rows))]
    grid = Grid("page.csv", tuple(Line(number, cells) for number, cells in enumerate(lines, 1)))
    headings = {"id": "Id", "note": "Note", "new_max": "Max"}
    constants = {"part": "part.shaft", "kind": "absolute", "page": "4-14", "feature": "a place"}
    found = preview(said(headings=headings, constants=constants), grid, draft_book(book_files()))
    content = file_with("sizes.csv", SIZES_CSV.encode(), "sizes", found.rows)
    assert draft_of_rows(content) == [*cells_of_book(), *(dict(row.cells) for row in found.rows)]


def test_pasted_text_has_tabs() -> None:
    """The same rows, pasted."""
    pasted = page(ROW)
    text = "\n".join("\t".join(line.cells) for line in pasted.lines).encode()
    draft = draft_book(book_files())
    assert preview(said(), read_grid("page.csv", text, "\t"), draft).code == preview(said(), pasted, draft).code
