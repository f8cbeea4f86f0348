"""An empty book that explains itself: every table with all its headings, and what belongs under each.

Goes in: what the book says of itself. Comes out: files by name, to be written by whoever asked. An empty book is a
whole one: it can be read, checked and pinned, and grows row by row.
"""

from __future__ import annotations

import json

from tenthbook.numbers.because import Fault, WrongInput
from tenthbook.numbers.sheet import write_csv
from tenthbook.record.book.drafting import Draft
from tenthbook.record.book.explaining import explain_columns
from tenthbook.record.book.reading import HEAD_FILE, draft_book
from tenthbook.record.book.tables import HEAD, TABLES

COLUMNS_FILE = "COLUMNS.md"


def _toml_text(text: str) -> str:
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _head_text(head: dict[str, str | bool]) -> str:
    lines = ["# Invented data. Not for any engine." if head["invented"] else "# What this book says of itself."]
    for column in HEAD:
        value = head.get(column.name, "")
        lines.append(f"# {column.says}")
        text = str(value).lower() if isinstance(value, bool) else _toml_text(value)
        lines.append(f"{column.name} = {text}" if value != "" else f'# {column.name} = ""')
    return "\n".join(lines) + "\n"


def _check_texts(texts: dict[str, str]) -> None:
    faults = [
        Fault(column.name, "nothing", column.says) for column in HEAD if column.needed and texts.get(column.name) == ""
    ]
    for name, text in texts.items():
        try:
            text.encode("utf-8")
        except UnicodeEncodeError:
            faults.append(Fault(name, ascii(text), "text in UTF-8"))
    if faults:
        raise WrongInput(faults)


def explaining_page() -> dict[str, bytes]:
    """Give the page that lies beside the tables of a book.

    Returns:
        Its content by its file name.
    """
    return {COLUMNS_FILE: explain_columns().encode()}


def empty_book(
    type: str, manual: str, revision: str, invented: bool, typed_by: str = "", typed_on: str = ""
) -> dict[str, bytes]:
    """Make a book without rows.

    Args:
        type: Engine type it is for.
        manual: Title or number of the manual.
        revision: Revision of the manual, with its date.
        invented: Whether it is for no engine.
        typed_by: Person who types it; may be empty.
        typed_on: Day it is typed, such as 2026-03-09; may be empty.

    Returns:
        Content by file name: `book.toml` with a comment on each line, one CSV a table with all its headings, and a
        page on which every table and column explains itself.

    Raises:
        WrongInput: a text that must be given and is empty, or that cannot be written in UTF-8.
    """
    texts = {"type": type, "manual": manual, "revision": revision, "typed_by": typed_by, "typed_on": typed_on}
    texts = {name: text.strip() for name, text in texts.items()}
    _check_texts(texts)
    head: dict[str, str | bool] = {**texts, "invented": invented}
    tables = {f"{name}.csv": write_csv([column.name for column in columns], []) for name, columns in TABLES.items()}
    return {HEAD_FILE: _head_text(head).encode(), **tables, **explaining_page()}


def book_files(draft: Draft) -> dict[str, bytes]:
    """Write the rows of a book as files.

    Args:
        draft: A draft in which nothing is wrong.

    Returns:
        Content by file name: `book.toml` and one CSV a table, with the columns that are needed or filled somewhere.

    Raises:
        WrongInput: what is wrong with the draft; rows that cannot be read would be lost.
    """
    if draft.wrong:
        raise WrongInput([finding.fault for finding in draft.wrong])
    head: dict[str, str | bool] = {column.name: draft.head.get(column.name, "") for column in HEAD}
    files = {HEAD_FILE: _head_text(head).encode()}
    for name, columns in TABLES.items():
        rows = [row.cells for row in draft.of(name)]
        used = [column.name for column in columns if column.needed or any(row.get(column.name) for row in rows)]
        files[f"{name}.csv"] = write_csv(used, [{column: row.get(column, "") for column in used} for row in rows])
    return files


def empty_draft(files: dict[str, bytes]) -> Draft:
    """Read an empty book back, to be written in another form.

    Args:
        files: What `empty_book` gave.

    Returns:
        The draft.
    """
    return draft_book({name: content for name, content in files.items() if name != COLUMNS_FILE})
