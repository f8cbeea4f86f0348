"""Fields left empty, trials left few, and readings that say little."""

from __future__ import annotations

import json
from typing import Any

import jsonschema
import pytest
from click.testing import CliRunner

from tenthbook.faces.calculators import NAMES, load
from tenthbook.faces.calculators.answers import to_json
from tenthbook.faces.cli.root import command
from tenthbook.numbers.because import WrongInput

ONE = {"name": "a", "standard": 1}
DRAWN: dict[str, Any] = {"inputs": [ONE], "confidence": 0.95, "method": "monte carlo"}


def with_nulls(form: dict[str, Any], schema: dict[str, Any], document: Any) -> Any:
    """The document with null in every optional field that it leaves out, at every depth."""
    if "$ref" in form:
        return with_nulls(schema["$defs"][form["$ref"].rpartition("/")[2]], schema, document)
    if isinstance(document, list) and "items" in form:
        return [with_nulls(form["items"], schema, one) for one in document]
    if isinstance(document, dict) and "properties" in form:
        left_out = dict.fromkeys(set(form["properties"]) - set(document) - set(form.get("required", ())))
        inner = {name: with_nulls(form["properties"][name], schema, one) for name, one in document.items()}
        return {**inner, **left_out}
    fitting = [one for one in form.get("anyOf", ()) if one.get("type") != "null"]
    return with_nulls(fitting[0], schema, document) if len(fitting) == 1 else document


@pytest.mark.parametrize("name", NAMES)
def test_null_is_a_field_left_out(name: str) -> None:
    """Every optional field may be null, the form says so, and the answer is that without the field."""
    calculator = load(name)
    schema = calculator.schema()["input"]
    empty = with_nulls(schema, schema, calculator.example.input)
    assert empty != calculator.example.input
    assert calculator.run(empty) == calculator.run(calculator.example.input)
    jsonschema.Draft202012Validator(schema).validate(empty)


@pytest.mark.parametrize(
    ("name", "question"),
    [
        ("uncertainty", {"inputs": [{**ONE, "sensitivity": None}], "confidence": 0.95, "correlations": None}),
        ("uncertainty", {"inputs": [ONE], "confidence": 0.95, "method": None, "trials": None, "seed": None}),
        ("size", {"readings": ["1 in"], "confidence": None}),
        ("verdict", {"value": 1, "standard_uncertainty": 1, "rule": "guarded", "upper": 4, "conformance": None}),
    ],
)
def test_null_means_what_leaving_out_means(name: str, question: dict[str, Any]) -> None:
    """A field with a value of its own keeps it where null stands."""

    def without(document: Any) -> Any:
        if isinstance(document, dict):
            return {field: without(one) for field, one in document.items() if one is not None}
        return [without(one) for one in document] if isinstance(document, list) else document

    assert load(name).run(question) == load(name).run(without(question))


@pytest.mark.parametrize("path", ["confidence", "inputs"])
def test_null_where_something_must_stand_is_a_fault(path: str) -> None:
    """A field that must be there may not be null."""
    with pytest.raises(WrongInput, match=f"{path}: found null"):
        load("uncertainty").run({"inputs": [ONE], "confidence": 0.95, path: None})


@pytest.mark.parametrize(
    ("trials", "confidence"), [(11, 0.95), (2, 0.5), (51, 0.01), (1_000, 0.999), (60_000, 0.99999)]
)
def test_any_number_of_trials_that_makes_an_interval_is_taken(trials: int, confidence: float) -> None:
    """A whole number from 1 is enough where an interval can be made of it."""
    answer = load("uncertainty").run({**DRAWN, "trials": trials, "confidence": confidence})
    assert answer["interval"][0] < answer["interval"][1]


@pytest.mark.parametrize(
    ("trials", "confidence", "least"), [(1, 0.95, 11), (1, 0.5, 2), (10, 0.95, 11), (49, 0.01, 50), (400, 0.999, 501)]
)
def test_too_few_trials_are_told_how_many(trials: int, confidence: float, least: int) -> None:
    """Too few trials are one fault that names trials, confidence, and how many would do."""
    with pytest.raises(WrongInput) as caught:
        load("uncertainty").run({**DRAWN, "trials": trials, "confidence": confidence})
    (fault,) = caught.value.faults
    assert (fault.path, fault.found) == ("trials", f"{trials} trials for a confidence of {confidence}")
    assert fault.expected.startswith(f"at least {least} trials")


@pytest.mark.parametrize("confidence", [1e-300, 1e-9, 1e-6, 0.999_999_999, 1 - 2**-53])
def test_a_confidence_that_no_trials_can_show_is_a_fault(confidence: float) -> None:
    """A confidence next to nought or next to 1 asks for more trials than there are; by the framework it is answered."""
    with pytest.raises(WrongInput, match="confidence"):
        load("uncertainty").run({**DRAWN, "confidence": confidence})
    assert load("uncertainty").run({**DRAWN, "method": "framework", "confidence": confidence})["coverage_factor"] >= 0.0


def test_the_command_tells_it_in_a_line() -> None:
    """Such a fault is one line on standard error, and the exit code is 2."""
    asked = CliRunner().invoke(command, ["calc", "uncertainty"], input=json.dumps({**DRAWN, "confidence": 1e-9}))
    assert (asked.exit_code, asked.stdout) == (2, "")
    assert asked.stderr.startswith("confidence: found 1e-09; expected ")
    assert len(asked.stderr.splitlines()) == 1


def test_an_unknown_name_is_told_by_its_path() -> None:
    """A calculator that is none is a fault of the field name."""
    asked = CliRunner().invoke(command, ["calc", "nosuch"], input="{}")
    assert (asked.exit_code, asked.stdout) == (2, "")
    assert asked.stderr.startswith("name: found calculator 'nosuch'; expected ")
    assert len(asked.stderr.splitlines()) == 1


@pytest.mark.parametrize("readings", [["1.25 in"] * 3, ["1.250 in", "31.75 mm"]])
def test_readings_all_alike_show_no_scatter(readings: list[str]) -> None:
    """Equal readings say that their scatter could not be seen, whichever unit they were typed in."""
    answer = load("size").run({"readings": readings, "instrument": {"resolution": "0.01 in"}})
    assert "no-scatter" in [one["code"] for one in answer["warnings"]]
    assert answer["budget"][0]["name"] == "resolution"


@pytest.mark.parametrize("readings", [["1.25 in", "1.26 in"], ["1.25 in"]])
def test_readings_that_differ_or_stand_alone_are_not_called_alike(readings: list[str]) -> None:
    """Scatter that is seen, and one reading, carry no such warning."""
    answer = load("size").run({"readings": readings})
    assert "no-scatter" not in [one["code"] for one in answer.get("warnings", ())]


def test_a_step_stated_as_nought_is_an_answer() -> None:
    """Nought that is stated is no doubt; nothing stated is not known."""
    alike = {"readings": ["1.25 in", "1.25 in"]}
    assert load("size").run(alike)["standard_uncertainty"] is None
    for stated in ("resolution", "error_limit"):
        answer = load("size").run({**alike, "instrument": {stated: "0 in"}})
        assert (answer["standard_uncertainty"]["value"], answer["expanded"]["value"]) == (0.0, 0.0)


def test_both_limits_move_equally_far() -> None:
    """A wanted risk stops acceptance equally far inside each limit, and the lower end is said."""
    stream = {"process": {"mean": 0.5, "standard_deviation": 4}, "standard_uncertainty": 1, "lower": -8, "upper": 8}
    answer = load("risk").run({**stream, "wanted_consumer_risk": 0.001})
    (said,) = [one["text"] for one in answer["warnings"] if one["code"] == "accept-from"]
    assert float(said.rpartition(" ")[2]) == pytest.approx(-answer["accept_upper"], abs=1e-5)
    assert answer["consumer_risk"] == pytest.approx(0.001, rel=1e-9)
    again = {**stream, "accept_lower": -answer["accept_upper"], "accept_upper": answer["accept_upper"]}
    assert load("risk").run(again)["consumer_risk"] == pytest.approx(0.001, rel=1e-9)


@pytest.mark.parametrize(
    "value", [0.1, -1.5e300, 5e-324, 7, True, None, 'a"\u00b5\n', [], {}, {"a": [1.0, {"b": "c"}]}]
)
def test_an_answer_is_written_as_json_writes_it(value: Any) -> None:
    """Numbers, text and their nests come out as the standard writer's."""
    assert to_json(value) == json.dumps(value)
