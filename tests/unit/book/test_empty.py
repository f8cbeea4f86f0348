"""An empty book is whole, explains itself, and its examples are rows the checker has nothing to ask about."""

from __future__ import annotations

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.numbers.because import WrongInput
from tenthbook.record.book import TABLES, book_digest, book_of, draft_book, read_book
from tenthbook.record.book.checks import check
from tenthbook.record.book.empty import COLUMNS_FILE, book_files, empty_book, empty_draft
from tenthbook.record.book.examples import EXAMPLE_HEAD, EXAMPLES
from tenthbook.record.book.explaining import explain_columns, explain_kinds, explain_rules, how_written, say_column
from tenthbook.record.book.reading import draft_kept
from tenthbook.record.book.statements import FIELDS
from tenthbook.record.book.tables import HEAD, HOLDS
from tests.builders import book_files as small_files

HEAD_TEXTS = {"type": "Test Four", "manual": "Manual (invented)", "revision": "1, 1 January 2026"}


def empty(**changed: str) -> dict[str, bytes]:
    """An empty book with these texts in its head."""
    return empty_book(**{**HEAD_TEXTS, **changed}, invented=True)


def without_page(files: dict[str, bytes]) -> dict[str, bytes]:
    """The files of a book alone."""
    return {name: content for name, content in files.items() if name != COLUMNS_FILE}


def test_an_empty_book_is_a_book() -> None:
    """It can be read as it is made, and there is nothing to ask about it."""
    book = read_book(without_page(empty(typed_by="j.b.")))
    assert dict(book.head) == {**HEAD_TEXTS, "invented": True, "typed_by": "j.b."}
    assert not any(book.rows.values())
    assert check(draft_book(empty())) == ()
    assert check(empty_draft(empty())) == ()


def test_it_has_every_table_with_every_heading() -> None:
    """One CSV a table, its columns in their order, and nothing below them."""
    files = empty()
    assert set(files) == {"book.toml", COLUMNS_FILE, *(f"{name}.csv" for name in TABLES)}
    for name, columns in TABLES.items():
        assert files[f"{name}.csv"].decode() == ",".join(column.name for column in columns) + "\r\n"


def test_each_line_of_the_head_is_commented() -> None:
    """What belongs in a value stands above it; an invented book says so in its first line."""
    lines = empty()["book.toml"].decode().splitlines()
    assert lines[0] == "# Invented data. Not for any engine."
    assert [line for line in lines[1:] if line.startswith("# ")][: len(HEAD)] != []
    for column in HEAD:
        assert f"# {column.says}" in lines
    other = empty_book(**HEAD_TEXTS, invented=False)["book.toml"].decode()
    assert "Invented" not in other.splitlines()[0]
    assert "invented = false" in other


@pytest.mark.parametrize("name", ["type", "manual", "revision"])
@pytest.mark.parametrize("text", ["", "  ", "\udc80"])
def test_a_head_without_its_words_is_refused(name: str, text: str) -> None:
    """Type, manual and revision are asked for by name, and must be text."""
    with pytest.raises(WrongInput) as caught:
        empty(**{name: text})
    assert [fault.path for fault in caught.value.faults] == [name]


@given(
    text=st.text(alphabet=st.characters(exclude_categories=["Cs"]), min_size=1).filter(lambda one: bool(one.strip()))
)
def test_any_words_of_the_head_come_back(text: str) -> None:
    """Law: quotation marks, backslashes, line breaks and control characters are read back as they were given."""
    assert tomllib.loads(empty(manual=text)["book.toml"].decode())["manual"] == text.strip()


@pytest.mark.parametrize("table", TABLES)
def test_every_column_of_a_table_is_explained(table: str) -> None:
    """What the table holds, and of each column its words, how it is written, whether it is needed."""
    page = explain_columns()
    _, _, rest = page.partition(f"\n## {table}\n")
    section = rest.partition("\n## ")[0]
    assert HOLDS[table][1:] in section
    for column in TABLES[table]:
        (line,) = [line for line in section.splitlines() if line.startswith(f"| `{column.name}` |")]
        assert column.says in line
        assert how_written(column) in line
        assert ("| yes |" in line) is column.needed


def test_each_table_shows_a_filled_row() -> None:
    """The example stands beside the columns, and fills every column that must be filled."""
    page = explain_columns()
    for table, columns in TABLES.items():
        shown = EXAMPLES[table][0]
        assert all(f"| `{text}` |" in page for text in shown.values())
        assert {column.name for column in columns if column.needed} <= set(shown)


def test_the_examples_are_a_sound_book() -> None:
    """Read together they are a book, and its checker has nothing to ask."""
    draft = draft_kept(EXAMPLE_HEAD, {name: list(rows) for name, rows in EXAMPLES.items()})
    assert [str(finding) for finding in check(draft)] == []
    assert book_of(draft).invented


def test_every_kind_says_what_it_fills() -> None:
    """The table of kinds has a line for each."""
    lines = explain_kinds().splitlines()[2:]
    assert [line.split("|")[1].strip() for line in lines] == list(FIELDS)


def test_a_column_says_itself_in_a_line() -> None:
    """The words, the way it is written, and that it is needed; capitals inside stay."""
    columns = {column.name: column for column in TABLES["fits"]}
    assert say_column(columns["new_min"]).endswith("A number in unit, perhaps with T (tight) or L (loose) behind it")
    assert say_column(columns["hole"]).endswith("An id of sizes. Every row fills it")


def test_rules_are_written_with_what_they_mean() -> None:
    """Id, sentence, weight, way and source of each, sorted."""
    from tenthbook.record.book.checks import CHECK_RULES

    lines = explain_rules(CHECK_RULES).splitlines()
    rows = [line for line in lines if line.startswith("| `")]
    assert [row.split("`")[1] for row in rows] == sorted(rule.id for rule in CHECK_RULES)
    (page,) = [row for row in rows if row.startswith("| `book.page` |")]
    assert "not memory" in page
    assert "| wrong |" in page


def test_the_files_of_a_book_are_that_book() -> None:
    """Written out and read again, a book has the same digest; columns nobody filled are left out."""
    draft = draft_book(small_files())
    files = book_files(draft)
    assert book_digest(read_book(files)) == book_digest(book_of(draft))
    assert b"effectivity" not in files["sizes.csv"]


def test_a_faulty_book_is_not_written() -> None:
    """Rows that cannot be read would be lost, so nothing is."""
    with pytest.raises(WrongInput):
        book_files(draft_book(small_files(parts="id,name\npart.a,a\n")))
