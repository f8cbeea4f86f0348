"""What input, batch and fault mean for every calculator."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import jsonschema
import pytest

from tenthbook.faces.calculators import NAMES, UnknownCalculator, load
from tenthbook.faces.calculators.answers import to_json
from tenthbook.faces.calculators.contract import parse
from tenthbook.numbers.because import WrongInput

GOOD: dict[str, Any] = {
    "hole": {"size": "2.0045 in"},
    "shaft": {"size": "2.0020 in"},
    "service": [None, "0.0025 in"],
    "rule": "plain",
}


def faults(document: Any) -> list[str]:
    """All that is wrong with an input of `fit`."""
    with pytest.raises(WrongInput) as caught:
        load("fit").run(document)
    return [str(fault) for fault in caught.value.faults]


@pytest.mark.parametrize("name", list(NAMES))
def test_a_schema_refuses_an_unknown_field(name: str) -> None:
    """A machine that fills the form learns from the schema that unknown names are refused."""
    calculator = load(name)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.Draft202012Validator(calculator.schema()["input"]).validate(
            {**calculator.example.input, "colour": "red"}
        )


@pytest.mark.parametrize("name", list(NAMES))
def test_every_calculator_says_what_it_answers(name: str) -> None:
    """The list explains each name in a line, and the name is its own."""
    assert load(name).name == name
    assert len(NAMES[name].answers) > 20


def test_an_unknown_name_is_answered_with_the_nearest() -> None:
    """A slip in the name is answered with what was meant, anything else with all names."""
    with pytest.raises(UnknownCalculator, match="did you mean fit"):
        load("fitt")
    with pytest.raises(UnknownCalculator, match=r"one of .*fit"):
        load("zzzzzz")


def test_one_input_is_a_batch_of_one() -> None:
    """The same answer stands alone and in a batch."""
    calculator = load("fit")
    assert calculator.run({"batch": [GOOD]}) == {"batch": [calculator.run(GOOD)]}


def test_an_empty_batch_is_an_empty_answer() -> None:
    """Nothing asked, nothing answered."""
    assert load("fit").run({"batch": []}) == {"batch": []}


def test_one_bad_item_refuses_the_batch_by_its_number() -> None:
    """Items count from 1, and every bad one is named."""
    found = faults({"batch": [GOOD, {**GOOD, "rule": "gut feeling"}, GOOD, {}, 7]})
    assert [fault.partition(":")[0] for fault in found] == [
        "batch.2.rule",
        "batch.4.hole",
        "batch.4.shaft",
        "batch.4.rule",
        "batch.5",
    ]


@pytest.mark.parametrize("document", [{"batch": [GOOD], "rule": "plain"}, {"batch": GOOD}, {"batch": None}])
def test_a_batch_stands_alone_and_is_a_list(document: Any) -> None:
    """Fields beside a batch, or a batch that is no list, are refused."""
    assert [fault.partition(":")[0] for fault in faults(document)] == ["batch"]


@pytest.mark.parametrize("document", [[], "fit", 5, None, True, [GOOD]])
def test_an_input_is_an_object(document: Any) -> None:
    """A list, a text, a number and nothing are refused as such."""
    assert len(faults(document)) == 1
    assert faults(document)[0].startswith("input: found ")


@pytest.mark.parametrize(
    ("changed", "fault"),
    [
        (
            {"hole": {"size": 2.0045}},
            "hole.size: found 2.0045; expected a length above zero such as '1.2497 in'",
        ),
        ({"hole": {"size": "2.0045"}}, "hole.size: found '2.0045'; expected a length above zero"),
        ({"hole": {"size": "2,0045 in"}}, "hole.size: found '2,0045 in'; expected a length above zero"),
        ({"hole": {"size": "2.0045 lb"}}, "hole.size: found '2.0045 lb' (a mass); expected a length above zero"),
        ({"hole": {"size": "0 in"}}, "hole.size: found '0 in'; expected a length above zero"),
        (
            {"hole": {"size": "1 in", "standard_uncertainty": "-1 um"}},
            "hole.standard_uncertainty: found '-1 um'; expected a length zero or more",
        ),
        ({"hole": {}}, "hole.size: found nothing; expected a length above zero"),
        ({"hole": None}, "hole: found null; expected the outer part"),
        ({"rule": "PLAIN"}, "rule: found \"PLAIN\"; expected 'plain', 'guarded' or 'full U'"),
        ({"units": "imperial"}, "units: found \"imperial\"; expected 'inch' or 'metric'"),
        ({"conformance": 1.0}, "conformance: found 1.0; expected less than 1"),
        ({"conformance": 0.4}, "conformance: found 0.4; expected greater than or equal to 0.5"),
        ({"conformance": "0.9"}, 'conformance: found "0.9"; expected '),
        ({"new": ["0.0010 in"]}, "new: found a list of 1; expected a pair"),
        ({"new": ["0.0022 in", "0.0010 in"]}, "new: found 0.0022 in to 0.0010 in; expected the tightest first"),
        ({"new": ["0.0010T", None]}, "new.1: found '0.0010T'; expected "),
        ({"new": ["0.0010", None], "unit": "in"}, "new.1: found '0.0010'; expected digits and T or L"),
        ({"new": [None, "1 lb"]}, "new.2: found '1 lb' (a mass); expected a length"),
        ({"new": [0.001, None]}, "new.1: found 0.001; expected "),
        (
            {"service": [None, "0.0001 in"], "new": ["0.0010 in", "0.0022 in"]},
            "service: found 0.0010 in to 0.0001 in; expected ",
        ),
        (
            {"rule": "guarded"},
            "hole.standard_uncertainty: found nothing; expected a standard uncertainty of hole or shaft, since rule is",
        ),
        (
            {"common": "0.0001 in"},
            "common: found '0.0001 in'; expected at most the smaller of the two standard uncertainties",
        ),
        ({"common": "-0.0001 in"}, "common: found '-0.0001 in'; expected a length zero or more"),
        ({"shaft_size": 1}, "shaft_size: found an unknown field; expected shaft, perhaps"),
    ],
)
def test_a_wrong_field_says_where_what_and_what_belongs_there(changed: dict[str, Any], fault: str) -> None:
    """One slip, one fault, in the words of the form."""
    assert len(faults({**GOOD, **changed})) == 1, faults({**GOOD, **changed})
    assert faults({**GOOD, **changed})[0].startswith(fault)


def test_all_slips_come_at_once() -> None:
    """Four slips are four faults."""
    document = {"hole": {"size": "x"}, "shaft": {}, "rule": "no", "colour": 1}
    assert [fault.partition(":")[0] for fault in faults(document)] == ["hole.size", "shaft.size", "rule", "colour"]


@pytest.mark.parametrize("name", ["a\nb", "\r\n", "\u2028"])
def test_a_fault_is_one_line_whatever_the_name_was(name: str) -> None:
    """A field's name with a line break in it does not make two lines of one fault."""
    (fault,) = faults({**GOOD, name: 1})
    assert len(fault.splitlines()) == 1


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ('{"a": 1, "a": 2}', "a: found the field twice in one object; expected each field once"),
        ('{"a": {"b": 1, "b": 1}}', "b: found the field twice in one object; expected each field once"),
        ('{"a": NaN}', "input: found NaN; expected a finite number"),
        ('{"a": -Infinity}', "input: found -Infinity; expected a finite number"),
        ("{", "input: found "),
        ("", "input: found "),
        ("{'a': 1}", "input: found "),
        ("[" * 100_000, "input: found "),
        ("1" * 5000, "input: found "),
    ],
)
def test_text_that_is_no_json_of_ours_is_refused(text: str, fault: str) -> None:
    """Torn text, a field twice, not-a-number, infinity and nesting without end are one fault each."""
    with pytest.raises(WrongInput) as caught:
        parse(text)
    assert str(caught.value).startswith(fault)
    assert len(str(caught.value).splitlines()) == 1


def test_bytes_in_another_encoding_are_refused() -> None:
    """Input is UTF-8."""
    with pytest.raises(WrongInput):
        parse(b'{"a": "\xb5m"}')


def test_an_answer_keeps_every_digit_of_a_decimal_number() -> None:
    """Exact numbers are printed as they are, without an exponent and without a float between."""
    value = {
        "a": Decimal("0.0025"),
        "b": [Decimal("1E-10"), None, True, 1.5, "x\n"],
        "c": Decimal("12345678901234567890.5"),
    }
    assert to_json(value) == '{"a": 0.0025, "b": [0.0000000001, null, true, 1.5, "x\\n"], "c": 12345678901234567890.5}'


def test_an_answer_that_is_no_number_is_never_printed() -> None:
    """Not-a-number is not JSON."""
    with pytest.raises(ValueError, match="Out of range float"):
        to_json({"a": float("nan")})
