"""What a wrong input is told: each slip by its path, with what stood there and what belongs there, all at once."""

from __future__ import annotations

import copy
import json
from typing import Any

import pytest
from click.testing import CliRunner

from tenthbook.faces.calculators import NAMES, load
from tenthbook.faces.cli.root import command
from tenthbook.numbers.because import Fault, WrongInput

GROWING = {"size": "40.025 mm", "expansion": "21.5e-6 1/degC"}

RIGHT: dict[str, dict[str, Any]] = {
    "uncertainty": {
        "inputs": [
            {"name": "a", "standard": "1 um", "sensitivity": 1, "degrees_of_freedom": 5},
            {"name": "b", "half_width": "2 um", "shape": "rectangular"},
            {"name": "c", "expanded": "2 um", "coverage_factor": 2},
        ],
        "correlations": [["a", "b", 0.1]],
        "confidence": 0.95,
    },
    "size": {
        "readings": ["0.5094 in", "0.5095 in"],
        "master": {"nominal": "0.5 in", "before": "0.5 in", "after": "0.5 in"},
        "instrument": {"error_limit": "0.0001 in", "resolution": "0.0001 in"},
        "temperatures": {"part": "22 degC", "instrument": "22 degC"},
        "expansion": {"part": "21.5e-6 1/degC", "instrument": "11.5e-6 1/degC"},
    },
    "verdict": {"value": "5 in", "standard_uncertainty": "0.1 in", "lower": "4 in", "upper": "6 in", "rule": "guarded"},
    "risk": {
        "process": {"mean": "10 mm", "standard_deviation": "2 um"},
        "standard_uncertainty": "0.5 um",
        "upper": "10.004 mm",
    },
    "fit": {
        "hole": {"size": "1.2512 in", "standard_uncertainty": "0.0002 in"},
        "shaft": {"size": "1.2490 in", "standard_uncertainty": "0.0001 in"},
        "common": "0.0001 in",
        "new": ["0.0010 in", "0.0020 in"],
        "rule": "guarded",
    },
    "fit-forecast": {"hole": {"band": ["1.001 in", "1.002 in"]}, "shaft": {"size": "1.000 in"}, "new": ["0 in", None]},
    "iso-fit": {"size": "25 mm", "hole": "H7", "shaft": "g6"},
    "thermal-fit": {"hole": {**GROWING}, "shaft": {**GROWING}, "at": ["20 degC", "100 degC"]},
    "pairing": {"holes": ["1.002 in", "1.001 in"], "shafts": ["1 in", "1 in"], "target": "1 thou", "criterion": "sum"},
}

A_LENGTH, A_QUANTITY = "a length", "a quantity"
COMMA, BLANK = "a decimal point, no comma", "a number and a unit with a blank between"

SLIPS: dict[str, list[tuple[str, Any, str, str]]] = {
    "uncertainty": [
        ("inputs.1.standard", "1,0 um", "'1,0 um'", COMMA),
        ("inputs.1.degrees_of_freedom", "5", '"5"', "1 or more"),
        ("inputs.1.sensitivity", True, "true", A_QUANTITY),
        ("inputs.2.name", 7, "7", "a name"),
        ("inputs.2.half_width", "2", "'2'", BLANK),
        ("inputs.2.shape", "square", '"square"', "'rectangular', 'triangular' or 'arcsine'"),
        ("inputs.3.coverage_factor", "2", '"2"', "the factor"),
        ("inputs.3.spread", 1, "an unknown field", "one of name, standard"),
        ("correlations.1", ["a", "b"], "a list of 2", "a pair of input names and their correlation"),
        ("confidence", None, "null", "two-sided confidence"),
        ("method", "guess", '"guess"', "'framework' or 'monte carlo'"),
        ("seed", 1.5, "1.5", "a whole number"),
    ],
    "size": [
        ("readings.2", 0.5095, "0.5095", A_LENGTH),
        ("master.nominal", "0.5 psi", "'0.5 psi' (a pressure)", A_LENGTH),
        ("master.before", "0,5 in", "'0,5 in'", COMMA),
        ("master.after", "0.5", "'0.5'", BLANK),
        ("instrument.error_limit", "-0.0001 in", "'-0.0001 in'", "a length zero or more"),
        ("temperatures.part", None, "null", "a temperature"),
        ("temperatures.instrument", "22 mm", "'22 mm' (a length)", "a temperature"),
        ("expansion.part", "21.5e-6 degC", "'21.5e-6 degC' (a temperature)", "expansion"),
        ("expansion.gauge", "11e-6 1/degC", "an unknown field", "one of part, instrument"),
        ("confidence", "0.95", '"0.95"', "two-sided confidence"),
        ("reading", [], "an unknown field", "readings, perhaps"),
    ],
    "verdict": [
        ("value", True, "true", A_QUANTITY),
        ("standard_uncertainty", "0.1", "'0.1'", BLANK),
        ("lower", "4,0 in", "'4,0 in'", COMMA),
        ("upper", ["6 in"], "a list of 1", A_QUANTITY),
        ("rule", None, "null", "'plain', 'guarded' or 'full U'"),
        ("conformance", 0.5, "0.5", "greater than 0.5"),
        ("uper", 1, "an unknown field", "upper, perhaps"),
    ],
    "risk": [
        ("process.mean", "10 furlong", "unit 'furlong'", A_QUANTITY),
        ("process.standard_deviation", "0 um", "'0 um'", "a quantity above zero"),
        ("process.sd", 1, "an unknown field", "one of mean, standard_deviation, gamma"),
        ("standard_uncertainty", None, "null", A_QUANTITY),
        ("upper", "10,004 mm", "'10,004 mm'", COMMA),
        ("wanted_consumer_risk", "1 %", '"1 %"', "a share above 0 and below 1"),
        ("limit", 1, "an unknown field", "one of units, process"),
    ],
    "fit": [
        ("hole.size", "1.2512", "'1.2512'", BLANK),
        ("hole.standard_uncertainty", "0.0002 lbf", "'0.0002 lbf' (a force)", A_LENGTH),
        ("shaft", None, "null", "the inner part"),
        ("common", 0.0001, "0.0001", A_LENGTH),
        ("new.2", 0.002, "0.002", "0.0037 in"),
        ("rule", "Guarded", '"Guarded"', "'plain', 'guarded' or 'full U'"),
        ("unit", "inch", '"inch"', "'in', 'mm', 'thou' or 'um'"),
        ("bore", "1 in", "an unknown field", "one of units, hole"),
    ],
    "fit-forecast": [
        ("hole.band.1", "1,001 in", "'1,001 in'", COMMA),
        ("hole.distribution", "normal", '"normal"', "'uniform' or 'normal at 6 sigma'"),
        ("shaft.size", "1.000", "'1.000'", BLANK),
        ("shaft.fit", 1, "an unknown field", "one of size, standard_uncertainty"),
        ("new", ["0 in"], "a list of 1", "a pair [tightest, loosest]"),
        ("units", "imperial", '"imperial"', "'inch' or 'metric'"),
    ],
    "iso-fit": [
        ("size", "25 kg", "'25 kg' (a mass)", A_LENGTH),
        ("hole", 7, "7", "class of the hole"),
        ("shaft", ["g6"], "a list of 1", "class of the shaft"),
        ("grade", 7, "an unknown field", "one of units, size, hole, shaft"),
    ],
    "thermal-fit": [
        ("hole.size", None, "null", A_LENGTH),
        ("hole.expansion", 21.5e-6, "2.15e-05", "expansion"),
        ("shaft.expansion", "21,5e-6 1/degC", "'21,5e-6 1/degC'", COMMA),
        ("shaft.sizes", 1, "an unknown field", "size, perhaps"),
        ("at.2", "100", "'100'", BLANK),
    ],
    "pairing": [
        ("holes.1", "1,002 in", "'1,002 in'", COMMA),
        ("shafts.2", None, "null", A_QUANTITY),
        ("target", "1", "'1'", BLANK),
        ("criterion", "best", '"best"', "'worst' or 'sum'"),
        ("pair", 1, "an unknown field", "one of units, cost"),
    ],
}
"""Where, what is put there, and what the fault says was found and belongs there."""

ONE_BY_ONE = [(name, *slip) for name, slips in SLIPS.items() for slip in slips]


def with_slip(document: dict[str, Any], path: str, value: Any) -> dict[str, Any]:
    """The document with another value at a path that counts from 1."""
    changed = copy.deepcopy(document)
    *outer, last = (int(step) - 1 if step.isdigit() else step for step in path.split("."))
    place: Any = changed
    for step in outer:
        place = place[step]
    place[last] = value
    return changed


def faults(name: str, document: Any) -> list[Fault]:
    """All that a calculator finds wrong."""
    with pytest.raises(WrongInput) as caught:
        load(name).run(document)
    return list(caught.value.faults)


@pytest.mark.parametrize("name", NAMES)
def test_the_right_documents_are_right(name: str) -> None:
    """What the slips below are put into has nothing wrong with it."""
    assert load(name).run(RIGHT[name])


@pytest.mark.parametrize(("name", "path", "value", "found", "expected"), ONE_BY_ONE)
def test_one_slip_is_one_fault(name: str, path: str, value: Any, found: str, expected: str) -> None:
    """A slip is named by its path, says what stands there, and says what belongs there."""
    (fault,) = faults(name, with_slip(RIGHT[name], path, value))
    assert fault.path == path
    assert found in fault.found
    assert expected in fault.expected
    assert str(fault) == f"{path}: found {fault.found}; expected {fault.expected}"


@pytest.mark.parametrize("name", NAMES)
def test_all_slips_come_at_once(name: str) -> None:
    """Every slip of a form is told at the first attempt, and each exactly once."""
    document = RIGHT[name]
    for path, value, _, _ in SLIPS[name]:
        document = with_slip(document, path, value)
    assert sorted(fault.path for fault in faults(name, document)) == sorted(path for path, *_ in SLIPS[name])


@pytest.mark.parametrize("name", NAMES)
def test_a_batch_names_its_item(name: str) -> None:
    """A bad item is named by its number from 1, a good one beside it is not, and nothing is answered."""
    path, value, _, _ = SLIPS[name][0]
    bad = with_slip(RIGHT[name], path, value)
    found = faults(name, {"batch": [RIGHT[name], bad, RIGHT[name], "two", bad]})
    assert [fault.path for fault in found] == [f"batch.2.{path}", "batch.4", f"batch.5.{path}"]


@pytest.mark.parametrize(
    ("name", "path", "value", "told"),
    [
        ("uncertainty", "inputs.2.name", "a", "inputs.2.name"),
        ("size", "stations", [["1 in"]], "readings"),
        ("verdict", "upper", "5 psi", "upper"),
        ("risk", "upper", 5, "upper"),
        ("fit", "common", "1 in", "common"),
        ("fit-forecast", "hole.band", ["1.002 in", "1.001 in"], "hole.band"),
        ("iso-fit", "hole", "M7", "hole"),
        ("pairing", "shafts", ["1 in"], "shafts"),
    ],
)
def test_what_fields_owe_each_other_names_its_item(name: str, path: str, value: Any, told: str) -> None:
    """A fault between fields is told with the number of its item as well."""
    bad = with_slip(RIGHT[name], path, value)
    assert [fault.path for fault in faults(name, {"batch": [RIGHT[name], bad]})] == [f"batch.2.{told}"]


@pytest.mark.parametrize(("value", "written"), [(None, "null"), (True, "true")])
@pytest.mark.parametrize(
    ("name", "path"),
    [
        ("size", "master.nominal"),
        ("uncertainty", "confidence"),
        ("fit", "rule"),
        ("verdict", "value"),
        ("thermal-fit", "hole.size"),
    ],
)
def test_what_stood_there_is_said_as_it_was_typed(name: str, path: str, value: Any, written: str) -> None:
    """An input is JSON, so nothing is null and yes is true, in a field of a quantity as in any other."""
    (fault,) = faults(name, with_slip(RIGHT[name], path, value))
    assert fault.found.split()[0] == written


@pytest.mark.parametrize("name", NAMES)
def test_what_must_be_there_is_named(name: str) -> None:
    """An empty object is told what it lacks."""
    lacks = {
        "uncertainty": ["inputs", "confidence"],
        "size": ["readings"],
        "verdict": ["value", "standard_uncertainty", "rule"],
        "risk": ["process", "standard_uncertainty"],
        "fit": ["hole", "shaft", "rule"],
        "fit-forecast": ["hole", "shaft"],
        "iso-fit": ["size"],
        "thermal-fit": ["hole", "shaft", "at"],
        "pairing": [""],
    }
    found = faults(name, {})
    assert [fault.path for fault in found] == lacks[name]
    assert all(fault.found == "nothing" or name in ("size", "pairing") for fault in found)


def test_figures_that_measure_something_else_are_named() -> None:
    """A plain number beside a length, and a pressure beside one, are named with what they measure."""
    plain, pressure = faults("verdict", {**RIGHT["verdict"], "lower": 4, "upper": "6 psi"})
    assert (plain.path, pressure.path) == ("lower", "upper")
    assert plain.found == "4 (a plain number)"
    assert pressure.found == "6 psi (a pressure)"
    assert "a length, like 5 in" in plain.expected


def test_a_correlation_that_is_no_number_is_one_fault() -> None:
    """The third of a pair is named once, by its place in the list."""
    document = with_slip(RIGHT["uncertainty"], "correlations", [["a", "b", True]])
    assert [fault.path for fault in faults("uncertainty", document)] in (["correlations.1"], ["correlations.1.3"])


@pytest.mark.parametrize("name", NAMES)
def test_the_command_prints_a_line_a_fault(name: str) -> None:
    """Faults go to standard error, a line each, nothing to standard output, and the exit code is 2."""
    document = RIGHT[name]
    for path, value, _, _ in SLIPS[name][:3]:
        document = with_slip(document, path, value)
    asked = CliRunner().invoke(command, ["calc", name, "-"], input=json.dumps(document))
    assert (asked.exit_code, asked.stdout) == (2, "")
    assert asked.stderr.splitlines() == [str(fault) for fault in faults(name, document)]
    assert len(asked.stderr.splitlines()) == 3
