"""A book goes into a workbook and comes back without the loss of a digit; what a spreadsheet spoils is named."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache
from io import BytesIO
from typing import Any

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tenthbook.numbers.because import WrongInput
from tenthbook.record.book import TABLES, book_digest, book_of, draft_book
from tenthbook.record.book.drafting import Draft
from tenthbook.record.book.empty import book_files
from tenthbook.record.book.examples import EXAMPLE_HEAD, EXAMPLES
from tenthbook.record.book.explaining import say_column
from tenthbook.record.book.reading import draft_kept
from tenthbook.record.book.tables import HEAD
from tenthbook.record.book.workbook import book_workbook, draft_workbook
from tests.builders import book_files as small_files
from tests.docs.tree import ROOT

Cells = Mapping[str, str]
STORY = [ROOT / "story" / "books" / name for name in ("dunlin-four", "redshank-twin")]


def example(**tables: list[Cells]) -> Draft:
    """The example book, with other rows in some tables."""
    rows: dict[str, list[Cells]] = {**{name: list(table) for name, table in EXAMPLES.items()}, **tables}
    return draft_kept(EXAMPLE_HEAD, rows)


@cache
def example_workbook() -> bytes:
    """The example's workbook, written once."""
    return book_workbook(example())


def spoilt(change: Callable[[Any], object], book: Draft | None = None) -> list[str]:
    """What is found in the example's workbook once somebody changed it in a spreadsheet."""
    opened = openpyxl.load_workbook(BytesIO(book_workbook(book) if book else example_workbook()))
    change(opened)
    out = BytesIO()
    opened.save(out)
    findings = draft_workbook("dunlin.xlsx", out.getvalue()).findings
    return [f"{one.place} {one.column}".strip() + f": {one.found} ({one.rule})" for one in findings]


def cell_of(opened: Any, table: str, row: int, column: str) -> Any:
    """A cell by the row of the sheet and the name of its column."""
    names = [cell.value for cell in opened[table][1]]
    return opened[table].cell(row, names.index(column) + 1)


def set_cell(table: str, row: int, column: str, value: object, number_format: str = "General") -> Callable[[Any], None]:
    """A change of one cell."""

    def change(opened: Any) -> None:
        cell = cell_of(opened, table, row, column)
        cell.value, cell.number_format = value, number_format

    return change


def test_a_workbook_has_a_sheet_for_the_head_and_each_table() -> None:
    """Names in order, every column, and a note on each heading that says what belongs under it."""
    opened = openpyxl.load_workbook(BytesIO(example_workbook()))
    assert opened.sheetnames == ["book", *TABLES]
    assert [cell.value for cell in opened["book"][1]] == ["name", "value", "says"]
    assert [row[0].value for row in opened["book"].iter_rows(min_row=2)] == [column.name for column in HEAD]
    for name, columns in TABLES.items():
        heading = opened[name][1]
        assert [cell.value for cell in heading] == [column.name for column in columns]
        assert [cell.comment.text for cell in heading] == [say_column(column) for column in columns]


def test_every_cell_is_text() -> None:
    """No cell of a workbook is a number, whatever stands in it."""
    opened = openpyxl.load_workbook(BytesIO(book_workbook(draft_book(small_files()))))
    kinds = {cell.data_type for sheet in opened for row in sheet.iter_rows() for cell in row if cell.value is not None}
    assert kinds == {"s"}
    assert cell_of(opened, "sizes", 2, "new_max").value == "0.5130"


def test_the_same_book_gives_the_same_bytes() -> None:
    """Nothing of the clock or the machine goes in."""
    assert book_workbook(example()) == example_workbook()


@pytest.mark.parametrize("folder", STORY, ids=lambda folder: folder.name)
def test_a_book_of_the_story_goes_round_without_loss(folder: Any) -> None:
    """Folder to workbook to folder: the digest of the book is the same."""
    draft = draft_book({file.name: file.read_bytes() for file in folder.iterdir() if file.suffix in (".csv", ".toml")})
    digest = book_digest(book_of(draft))
    back = draft_workbook("book.xlsx", book_workbook(draft))
    assert book_digest(book_of(back)) == digest
    assert book_digest(book_of(draft_book(book_files(back)))) == digest


SIGNS = st.characters(codec="utf-8", exclude_characters="\0")
words = st.text(SIGNS, max_size=30).map(str.strip)
digits = st.from_regex(r"[+-]?([0-9]{1,3}\.[0-9]{0,5}|[1-9][0-9]{0,2})", fullmatch=True)


@settings(max_examples=12, deadline=None)
@given(
    notes=st.lists(words, max_size=3),
    type_=words.filter(bool),
    limit=digits,
    mark=st.sampled_from(["=1+1", "'=x", "+5", "@a", "0.50", "1E5", "TRUE", "-"]),
)
def test_any_book_goes_round_without_loss(notes: list[str], type_: str, limit: str, mark: str) -> None:
    """Law: digits, formulas, quotation marks, line breaks and any script come back as typed, both ways."""
    row = {**EXAMPLES["sizes"][1], "new_min": limit, "new_max": limit, "note_mark": mark}
    sizes: list[Cells] = [
        {**row, "id": f"size.{place}", **({"note": note} if note else {})} for place, note in enumerate(notes)
    ]
    draft = draft_kept({**EXAMPLE_HEAD, "type": type_}, {"parts": [EXAMPLES["parts"][1]], "sizes": sizes})
    digest = book_digest(book_of(draft))
    back = draft_workbook("book.xlsx", book_workbook(draft))
    assert book_digest(book_of(back)) == digest
    assert book_digest(book_of(draft_book(book_files(back)))) == digest


def test_a_typed_number_is_asked_for_again() -> None:
    """A binary number is named with its place and format, and left unread; nothing else is said of its row."""
    assert spoilt(set_cell("sizes", 3, "new_max", 0.513)) == [
        "sizes:3 new_max: the number 0.513, shown as General (book.number-cell)"
    ]
    assert spoilt(set_cell("parts", 3, "quantity", 4, "0")) == [
        "parts:3 quantity: the number 4, shown as 0 (book.number-cell)"
    ]
    assert spoilt(set_cell("book", 4, "value", 3)) == [
        "book:4 value: the number 3, shown as General (book.number-cell)"
    ]


def test_a_row_whose_only_limit_is_a_number_is_not_said_to_lack_one() -> None:
    """The number is asked for again, and no second finding comes of it."""
    only = {name: text for name, text in EXAMPLES["sizes"][1].items() if name != "new_min"}
    book = example(sizes=[EXAMPLES["sizes"][0], only])
    assert spoilt(set_cell("sizes", 3, "new_max", 0.513, "0.0000"), book) == [
        "sizes:3 new_max: the number 0.513, shown as 0.0000 (book.number-cell)"
    ]


def test_a_cell_left_unread_states_nothing() -> None:
    """The row is there without that cell."""
    opened = openpyxl.load_workbook(BytesIO(example_workbook()))
    set_cell("sizes", 3, "new_max", 0.513)(opened)
    out = BytesIO()
    opened.save(out)
    row = draft_workbook("book.xlsx", out.getvalue()).rows["sizes"]["size.bush"]
    assert (row.text("new_max"), row.text("new_min")) == ("", "0.5124")


def test_places_read_sheet_and_row() -> None:
    """A fault of a row is named by its sheet and its row there, blank rows counted."""
    assert spoilt(set_cell("sizes", 6, "id", "size.x")) == [
        f"sizes:6 {column.name}: nothing (book.filled)"
        for column in TABLES["sizes"]
        if column.needed and column.name != "id"
    ]


@pytest.mark.parametrize(
    ("change", "finding"),
    [
        (lambda opened: opened.remove(opened["fits"]), "fits: no such sheet (book.file)"),
        (lambda opened: opened.remove(opened["book"]), "book: no such sheet (book.file)"),
        (
            lambda opened: setattr(opened["oil_system"], "title", "Oil system"),
            "Oil system: a sheet of another name (book.file-known)",
        ),
        (set_cell("follow_ups", 1, "page", "pages"), "follow_ups:1 pages: column 'pages' (book.column-known)"),
        (set_cell("follow_ups", 1, "page", "name"), "follow_ups:1: column name twice (book.table)"),
        (set_cell("book", 1, "value", "worth"), "book value: no column value (book.column-there)"),
        (set_cell("book", 2, "name", "manual"), "book:3 manual: manual again (book.head)"),
        (set_cell("book", 5, "value", "no"), "book invented: 'no' (book.head)"),
        (set_cell("book", 2, "value", None), "book type: nothing (book.head)"),
        (set_cell("sizes", 3, "new_max", "=F2"), "dunlin.xlsx, sizes"),
        (lambda opened: opened["sizes"].merge_cells("A2:A3"), "dunlin.xlsx, sizes"),
        (lambda opened: setattr(opened["fits"], "sheet_state", "hidden"), "dunlin.xlsx, fits"),
    ],
)
def test_a_spoilt_workbook_is_named(change: Callable[[Any], object], finding: str) -> None:
    """Sheets lost or misnamed, headings, the head, formulas, merged and hidden: each is found by its place."""
    found = spoilt(change)
    assert any(one.startswith(finding) for one in found), found


@pytest.mark.parametrize("content", [b"", b"PK\x03\x04", b"id,name\n", b"\xd0\xcf\x11\xe0"])
def test_what_is_no_workbook_is_one_finding(content: bytes) -> None:
    """Torn or other bytes are a finding, and nothing is read of them."""
    draft = draft_workbook("limits.xlsx", content)
    assert [finding.rule for finding in draft.findings] == ["book.workbook"]
    assert draft.wrong
    assert draft.unread == set(TABLES)


def test_a_faulty_book_is_not_written() -> None:
    """Rows that cannot be read would be lost, so nothing is."""
    with pytest.raises(WrongInput):
        book_workbook(example(parts=[{"id": "part.a"}]))
