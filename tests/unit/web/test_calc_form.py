"""From a schema to a form, from what was typed to an input: the page adds no rule of its own."""

from __future__ import annotations

from decimal import Decimal
from typing import Any, Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import Field, create_model

from tenthbook.faces.calculators import NAMES, load
from tenthbook.faces.calculators.contract import Input, Part
from tenthbook.faces.web.calc_form import Slot, form_of
from tenthbook.faces.web.calc_showing import show_answer, show_form
from tenthbook.faces.web.calc_typed import document_of, read_number, typed_of, without_gaps
from tenthbook.numbers.because import Fault

ROW: dict[str, Any] = {
    "size": (str, ...),
    "kind": (Literal["bore", "shaft"], "bore"),
    "deeper": (list[Part] | None, None),
}
INNER: Any = create_model("Inner", __base__=Part, **ROW)
EVERY_SHAPE: dict[str, Any] = {
    "is_dry": (bool, True),
    "counted": (int | None, None),
    "by_name": (dict[str, float] | None, None),
    "several": (list[INNER], Field(default=[], description="parts, such as ['a', 'b']")),
    "way": (Literal["worst", "sum"] | None, Field(default=None, description='"worst" or "sum"')),
    "pair": (
        list[float] | None,
        Field(default=None, min_length=2, max_length=2, description="a pair [least, greatest]"),
    ),
}
"""Every shape of field a calculator may have, more than any has so far."""
MADE_UP = form_of(create_model("MadeUp", __base__=Input, **EVERY_SHAPE).model_json_schema())


def fields() -> dict[str, Slot]:
    """The fields of the made-up form by name."""
    return {slot.name: slot for slot in MADE_UP}


@pytest.mark.parametrize("name", list(NAMES))
def test_an_example_written_into_its_form_is_read_back_as_it_was(name: str) -> None:
    """The round trip from an input to typed text and back changes nothing, no digit and no kind of number."""
    calculator = load(name)
    slots = form_of(calculator.schema()["input"])
    document = document_of(slots, typed_of(slots, calculator.example.input))
    assert document == calculator.example.input
    assert repr(sorted(document.items())) == repr(sorted(calculator.example.input.items()))


@pytest.mark.parametrize("name", list(NAMES))
def test_no_calculator_needs_json_typed_on_its_page(name: str) -> None:
    """Every field of every calculator so far has a form of its own, and its help is free of marks of code."""
    slots = form_of(load(name).schema()["input"])
    assert [slot.name for slot in slots if slot.kind == "other"] == []
    assert slots[-1].name == "units"
    assert [slot.help for slot in slots if any(mark in slot.help for mark in "[]{}_`")] == []


def test_each_shape_of_field_has_its_kind() -> None:
    """Truth, number, choice, pair and rows are told apart; what has no form of its own is typed as JSON."""
    kinds = {name: slot.kind for name, slot in fields().items()}
    assert kinds == {
        "is_dry": "truth",
        "counted": "text",
        "by_name": "other",
        "several": "rows",
        "way": "choice",
        "pair": "pair",
        "units": "choice",
    }
    assert [(one.name, one.words) for one in fields()["pair"].inner] == [("1", "least"), ("2", "greatest")]
    assert {one.name: one.kind for one in fields()["several"].inner}["deeper"] == "other"


def test_every_shape_is_read_as_the_calculator_wants_it() -> None:
    """Yes is true, a number a number, JSON an object, and an empty row or field is left out."""
    typed = {
        "is_dry": "no",
        "counted": " 7 ",
        "by_name": '{"cam": 0.5}',
        "several.1.size": "",
        "several.2.size": "1.0 in",
        "several.2.kind": "shaft",
        "pair.1": "",
        "pair.2": "2.50",
        "way": "",
    }
    document = document_of(MADE_UP, typed)
    assert document == {
        "is_dry": False,
        "counted": 7,
        "by_name": {"cam": 0.5},
        "several": [{"size": "1.0 in", "kind": "shaft"}],
        "pair": [None, 2.5],
    }
    assert document_of(MADE_UP, typed_of(MADE_UP, document)) == document


def test_a_row_with_a_usual_choice_may_stay_empty() -> None:
    """In a row nothing is chosen beforehand, outside one the usual choice is."""
    shown = show_form(MADE_UP, {}, [], empty=1)["fields"]
    [row] = next(one for one in shown if one["path"] == "several")["inner"]
    kind = next(one for one in row["inner"] if one["path"] == "several.1.kind")
    assert [choice["is_chosen"] for choice in kind["choices"]] == [False, False]
    assert "bore where nothing is said" in kind["help"]
    dry = next(one for one in shown if one["path"] == "is_dry")
    assert [choice["word"] for choice in dry["choices"] if choice["is_chosen"]] == ["yes"]


def test_what_is_no_json_is_handed_on_as_text() -> None:
    """The calculator, not the page, says what is wrong with it."""
    assert document_of(MADE_UP, {"by_name": "{cam: 0.5"})["by_name"] == "{cam: 0.5"


@pytest.mark.parametrize(
    ("text", "number"),
    [("7", 7), ("-7", -7), ("+7", 7), ("0.95", 0.95), (".5", 0.5), ("5.", 5.0), ("1e-3", 0.001), ("-0", 0)],
)
def test_a_number_is_read_as_a_number(text: str, number: float) -> None:
    """Whole numbers stay whole, all others become the nearest float."""
    read = read_number(text)
    assert (read, type(read)) == (number, type(number))


@pytest.mark.parametrize("text", ["", "nan", "inf", "1e999", "1,5", "0x10", "1_000", "7 in", "9" * 400, "\u0667"])
def test_what_is_no_number_stays_text(text: str) -> None:
    """Words, commas, numbers beyond all bounds and foreign digits are handed on as they are."""
    assert read_number(text) == text


@given(st.decimals(allow_nan=False, allow_infinity=False, places=6, min_value=-(10**6), max_value=10**6))
def test_a_decimal_number_is_read_as_json_reads_it(number: Decimal) -> None:
    """A typed number is the same float that the command reads from JSON."""
    assert read_number(format(number, "f")) == float(format(number, "f"))


def test_gaps_between_rows_are_closed_and_faults_find_their_row() -> None:
    """Rows are numbered as the calculator counts them, with every text kept."""
    typed = {
        "several.2.size": "a",
        "several.2.kind": "",
        "several.5.size": " b ",
        "several.4.size": " ",
        "counted": "x",
    }
    kept = without_gaps(MADE_UP, typed)
    assert kept == {"several.1.size": "a", "several.1.kind": "", "several.2.size": " b ", "counted": "x"}
    faults = [Fault("several.2.size", "b", "a size"), Fault("several.2", "c", "d"), Fault("pair.2.float", "e", "f")]
    shown = show_form(MADE_UP, kept, [*faults, Fault("", "g", "h")], empty=1)
    rows = next(one for one in shown["fields"] if one["path"] == "several")["inner"]
    assert [row["faults"] for row in rows] == [[], ["found c; expected d"], []]
    assert rows[1]["inner"][0]["faults"] == ["found b; expected a size"]
    assert [one["path"] for one in shown["faults"]] == ["several.2.size", "several.2", "pair.2", ""]
    pair = next(one for one in shown["fields"] if one["path"] == "pair")
    assert pair["inner"][1]["faults"] == ["float: found e; expected f"]


def test_an_answer_is_shown_by_its_words() -> None:
    """Plain verdicts come first, a missing answer is "none", lists and objects are named part by part."""
    schema = {
        "properties": {
            "grade": {"enum": ["new", "reject", "no limit"]},
            "plain_grade": {"enum": ["new", "reject"]},
            "letter": {"enum": ["T", "L"]},
            "odds": {},
            "pairs": {},
            "lines": {},
            "warnings": {},
        }
    }
    quantity = {"value": 0.1, "unit": "in", "text": "0.100 in"}
    answer = {
        "grade": "reject",
        "plain_grade": "new",
        "letter": "T",
        "odds": {"new": 0.25, "reject": None},
        "pairs": [[1, 2], [3, 4]],
        "lines": [{"name": "step", "contribution": quantity}],
        "warnings": [{"code": "x", "text": "Look again."}],
    }
    shown = show_answer(answer, schema)
    assert [(one["words"], one["mark"], one["verdict"]) for one in shown["verdicts"]] == [
        ("plain grade", "new", "IN NEW LIMITS"),
        ("grade", "beyond", "BEYOND"),
    ]
    lines: dict[str, Any] = {
        line["words"]: [(one["digits"], one["rest"]) for one in line["pieces"]] for line in shown["lines"]
    }
    assert lines == {
        "letter": [("", "T")],
        "odds, new": [("0.25", "")],
        "odds, reject": [("", "none")],
        "pairs, 1": [("1", ""), ("2", "")],
        "pairs, 2": [("3", ""), ("4", "")],
    }
    [table] = shown["tables"]
    assert table["heads"] == ["name", "contribution"]
    assert table["rows"][0][1]["pieces"] == [{"digits": "0.100", "rest": "in"}]
    assert shown["cautions"] == ["Look again."]
