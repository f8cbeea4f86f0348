"""The schema knows the shape of a book: it takes what the reader takes, and refuses what is misshapen."""

from __future__ import annotations

from typing import Any

import jsonschema
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tenthbook.record.book import TABLES
from tenthbook.record.book.cells import read_cells
from tenthbook.record.book.columns import Column, Form
from tenthbook.record.book.examples import EXAMPLE_HEAD, EXAMPLES
from tenthbook.record.book.findings import At, Finding
from tenthbook.record.book.schema import book_schema, table_schema
from tenthbook.record.book.statements import FIELDS
from tests.builders import small_book

SCHEMA = jsonschema.Draft202012Validator(book_schema())
SIZE = {"id": "size.a", "part": "part.a", "feature": "bore", "kind": "absolute", "unit": "in", "page": "1-1"}
FILLED = {
    "amount": "0.001",
    "side": "greatest",
    "reference": "new greatest",
    "per": "1",
    "over": "size.b",
    "per_cent": "+15",
    "times": "2",
    "of_row": "size.b",
    "ribbon": "0.002",
    "condition": "worn",
    "list": "0.1; 0.2",
    "within": "0.01",
    "new_min": "1.0",
    "new_max": "2.0",
    "service_min": "0.9",
    "service_max": "2.1",
}


def example() -> dict[str, Any]:
    """The example book as one object."""
    tables = {name: [dict(row) for row in rows] for name, rows in EXAMPLES.items()}
    return {"head": dict(EXAMPLE_HEAD), "tables": tables}


def refused(book: dict[str, Any]) -> list[str]:
    """Where the schema refuses a book."""
    return sorted("/".join(map(str, error.absolute_path)) for error in SCHEMA.iter_errors(book))


@pytest.mark.parametrize(
    "schema", [book_schema(), *(table_schema(name) for name in TABLES)], ids=lambda one: one["title"]
)
def test_the_schema_is_one(schema: dict[str, Any]) -> None:
    """The schema of the book and of each table fits the metaschema of draft 2020-12."""
    jsonschema.Draft202012Validator.check_schema(schema)


def test_sound_books_fit() -> None:
    """The example and the small book fit, as a whole and table by table."""
    small = small_book()
    rows = {name: [dict(row.cells) for row in table.values()] for name, table in small.rows.items()}
    books: list[dict[str, Any]] = [example(), {"head": dict(small.head), "tables": rows}]
    for book in books:
        assert refused(book) == []
        for name, table in book["tables"].items():
            jsonschema.Draft202012Validator(table_schema(name)).validate(table)


@pytest.mark.parametrize(
    ("table", "changed", "place"),
    [
        ("sizes", {"new_min": "0,5108"}, "new_min"),
        ("sizes", {"new_min": "----"}, "new_min"),
        ("sizes", {"new_min": ""}, "new_min"),
        ("sizes", {"new_min": 0.5108}, "new_min"),
        ("sizes", {"kind": "maximum"}, "kind"),
        ("sizes", {"id": "../size"}, "id"),
        ("sizes", {"servise_max": "1"}, ""),
        ("sizes", {"page": None}, ""),
        ("sizes", {"unit": None}, ""),
        ("sizes", {"safety": "no"}, "safety"),
        ("sizes", {"new_min": "05108"}, "new_min"),
        ("sizes", {"other_new_min": "1"}, ""),
        ("fits", {"new_min": "-0.0005T"}, "new_min"),
        ("parts", {"quantity": "0"}, "quantity"),
        ("parts", {"hazards": "sodium, lead"}, "hazards"),
        ("torques", {"stages": "60, 112"}, "stages"),
        ("torques", {"joint": None}, ""),
        ("access", {"hours": "1.5h"}, "hours"),
        ("follow_ups", {"parts": "part a"}, "parts"),
    ],
)
def test_a_misshapen_row_is_refused_at_its_cell(table: str, changed: dict[str, Any], place: str) -> None:
    """One fault in a book of good rows is found in that row, at that cell."""
    book = example()
    row = {name: cell for name, cell in {**book["tables"][table][0], **changed}.items() if cell is not None}
    book["tables"][table][0] = row
    assert set(refused(book)) == {f"tables/{table}/0/{place}".rstrip("/")}


@pytest.mark.parametrize(
    ("change", "place"),
    [({"invented": "yes"}, "head/invented"), ({"revision": ""}, "head/revision"), ({"colour": "red"}, "head")],
)
def test_a_misshapen_head_is_refused(change: dict[str, Any], place: str) -> None:
    """The head has its names and no others, and says true or false of invented."""
    assert refused({**example(), "head": {**EXAMPLE_HEAD, **change}}) == [place]


@pytest.mark.parametrize("kind", FIELDS)
def test_each_kind_needs_its_columns_and_no_others(kind: str) -> None:
    """A row with the columns of its kind fits; without one of them, or with one of another kind, it does not."""
    needed, others = FIELDS[kind]
    validator = jsonschema.Draft202012Validator(table_schema("sizes"))
    whole = {**SIZE, "kind": kind, **{name: FILLED[name] for name in (*needed, *others)}}
    assert validator.is_valid([whole])
    for name in needed:
        assert not validator.is_valid([{column: text for column, text in whole.items() if column != name}])
    for name in set(FILLED) - {*needed, *others}:
        assert not validator.is_valid([{**whole, name: FILLED[name]}])


def test_an_absolute_row_states_at_least_one_limit() -> None:
    """Absolute with no limit at all does not fit: the manual's dashes are kind none."""
    assert not jsonschema.Draft202012Validator(table_schema("sizes")).is_valid([SIZE])


def test_every_column_explains_itself_to_an_editor() -> None:
    """Each column has its words in the schema, and every WORD column its list."""
    for name, columns in TABLES.items():
        properties = table_schema(name)["items"]["properties"]
        assert list(properties) == [column.name for column in columns]
        for column in columns:
            assert column.says[1:] in properties[column.name]["description"]
            assert properties[column.name].get("enum", []) == list(
                column.of if column.form is Form.WORD else ["yes"] if column.form is Form.YES else []
            )


IN_UNIT = (Form.NUMBER, Form.LETTERED, Form.NUMBERS)
ALONE = (Form.PLAIN, Form.PLAINS, Form.WHOLE)
nearly_numbers = st.text(alphabet="0123456789.+-TL; ,", min_size=1, max_size=9).map(str.strip).filter(bool)
powers = st.from_regex(r"[+-]?[0-9.]{1,4}[eE][+-]?[0-4]?[0-9]?[TL]?", fullmatch=True)


@given(form=st.sampled_from(IN_UNIT + ALONE), text=nearly_numbers | powers)
def test_the_schema_takes_a_number_where_the_reader_does(form: Form, text: str) -> None:
    """Law: over texts made of the signs of numbers the pattern and the reader agree; a list has no blank part."""
    assume(form not in (Form.NUMBERS, Form.PLAINS) or all(part.strip() for part in text.split(";")))
    table, column = next((name, one) for name, columns in TABLES.items() for one in columns if one.form is form)
    units = [Column(column.of[0], "unit", True, Form.UNIT, ("length",))] if form in IN_UNIT else []
    findings: list[Finding] = []
    read_cells(At("x:1"), (*units, column), {column.name: text, **{unit.name: "in" for unit in units}}, findings)
    described = table_schema(table)["items"]["properties"][column.name]
    assert jsonschema.Draft202012Validator(described).is_valid(text) is (not findings), findings
