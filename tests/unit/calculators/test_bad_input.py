"""Input that no bench would type on purpose: it is told by faults, a line each, and never by a stack trace."""

from __future__ import annotations

import json
from typing import Any

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from tenthbook.faces.calculators import NAMES, load
from tenthbook.faces.calculators.answers import to_json
from tenthbook.faces.calculators.contract import parse
from tenthbook.faces.cli.root import command
from tenthbook.numbers.because import WrongInput

A: dict[str, Any] = {"name": "a", "standard": "1 mm"}
B: dict[str, Any] = {"name": "b", "standard": "2 mm"}
C: dict[str, Any] = {"name": "c", "half_width": "1 mm", "shape": "rectangular"}
UNCERTAINTY: dict[str, Any] = {"inputs": [A, B, C], "confidence": 0.95}
DRAWN = {**UNCERTAINTY, "method": "monte carlo", "trials": 10_000}
SIZE: dict[str, Any] = {"readings": ["1.00 in", "1.01 in"]}
WARM = {"part": "30 degC", "instrument": "20 degC"}
GROWS = {"part": "0.01 1/degC", "instrument": "0.01 1/degC"}
VERDICT: dict[str, Any] = {"value": 5, "standard_uncertainty": 0.1, "lower": 4, "upper": 6, "rule": "guarded"}
PROCESS = {"mean": 0, "standard_deviation": 4}
RISK: dict[str, Any] = {"process": PROCESS, "standard_uncertainty": 1, "lower": -8, "upper": 8}
FIT: dict[str, Any] = {
    "hole": {"size": "1.002 in", "standard_uncertainty": "0.0002 in"},
    "shaft": {"size": "1.000 in", "standard_uncertainty": "0.0001 in"},
    "rule": "guarded",
}
BAND = {"band": ["1.001 in", "1.002 in"]}
FORECAST: dict[str, Any] = {"hole": BAND, "shaft": {"size": "1.000 in"}}
THERMAL: dict[str, Any] = {
    "hole": {"size": "40 mm", "expansion": "21.5e-6 1/degC"},
    "shaft": {"size": "40 mm", "expansion": "11.5e-6 1/degC"},
    "at": ["20 degC"],
}
PAIRING: dict[str, Any] = {"holes": ["1 in", "2 in"], "shafts": ["1 in", "2 in"], "target": "0 in", "criterion": "sum"}
COST: dict[str, Any] = {"cost": [[1, 2], [3, 4]], "criterion": "sum"}

CANNOT_BE: list[tuple[str, dict[str, Any], str]] = [
    # An uncertainty is never below nought, and degrees of freedom are one or more.
    ("uncertainty", {**UNCERTAINTY, "inputs": [{**A, "standard": "-1 mm"}]}, "inputs.1.standard"),
    ("uncertainty", {**UNCERTAINTY, "inputs": [{**A, "standard": "-1e-9 mm"}]}, "inputs.1.standard"),
    ("uncertainty", {**UNCERTAINTY, "inputs": [A, {**C, "half_width": "-0.1 mm"}]}, "inputs.2.half_width"),
    ("uncertainty", {**UNCERTAINTY, "inputs": [{**A, "degrees_of_freedom": 0.99}]}, "inputs.1.degrees_of_freedom"),
    ("verdict", {**VERDICT, "standard_uncertainty": -0.1}, "standard_uncertainty"),
    ("verdict", {**VERDICT, "degrees_of_freedom": 0.5}, "degrees_of_freedom"),
    ("risk", {**RISK, "standard_uncertainty": -1}, "standard_uncertainty"),
    ("risk", {**RISK, "process": {**PROCESS, "standard_deviation": 0}}, "process.standard_deviation"),
    ("risk", {**RISK, "process": {"gamma": {"shape": 0, "rate": 1}}}, "process.gamma.shape"),
    ("risk", {**RISK, "process": {"gamma": {"shape": 1, "rate": -1}}}, "process.gamma.rate"),
    ("fit", {**FIT, "hole": {"size": "1 in", "standard_uncertainty": "-1 um"}}, "hole.standard_uncertainty"),
    ("size", {**SIZE, "instrument": {"resolution": "-1 um"}}, "instrument.resolution"),
    # A probability lies between nought and one.
    ("uncertainty", {**UNCERTAINTY, "confidence": 0}, "confidence"),
    ("uncertainty", {**UNCERTAINTY, "confidence": 1}, "confidence"),
    ("size", {**SIZE, "confidence": 95}, "confidence"),
    ("verdict", {**VERDICT, "conformance": 1}, "conformance"),
    ("fit", {**FIT, "conformance": 0.49}, "conformance"),
    ("risk", {**RISK, "wanted_consumer_risk": 1}, "wanted_consumer_risk"),
    # Inputs of a budget: one way to state each, a name of its own, and correlations that can be.
    ("uncertainty", {**UNCERTAINTY, "inputs": []}, "inputs"),
    ("uncertainty", {**UNCERTAINTY, "inputs": [{"name": "a"}]}, "inputs.1"),
    ("uncertainty", {**UNCERTAINTY, "inputs": [A, {"name": "b", "expanded": "1 mm"}]}, "inputs.2"),
    ("uncertainty", {**UNCERTAINTY, "inputs": [A, {**B, "coverage_factor": 2}]}, "inputs.2"),
    ("uncertainty", {**UNCERTAINTY, "inputs": [A, {"name": "b", "half_width": "1 mm"}]}, "inputs.2"),
    ("uncertainty", {**UNCERTAINTY, "inputs": [A, {**B, "shape": "arcsine"}]}, "inputs.2"),
    ("uncertainty", {**UNCERTAINTY, "inputs": [A, {**C, "standard": "1 mm"}]}, "inputs.2"),
    ("uncertainty", {**UNCERTAINTY, "inputs": [A, A]}, "inputs.2.name"),
    ("uncertainty", {**UNCERTAINTY, "inputs": [A, {"name": "b", "standard": "1 psi"}]}, "inputs.2"),
    ("uncertainty", {**UNCERTAINTY, "inputs": [A, {**B, "sensitivity": "1 mm/degC"}]}, "inputs.2"),
    ("uncertainty", {**UNCERTAINTY, "correlations": [["a", "d", 0.1]]}, "correlations.1"),
    ("uncertainty", {**UNCERTAINTY, "correlations": [["a", "b", 0.1], ["a", "a", 1]]}, "correlations.2"),
    ("uncertainty", {**UNCERTAINTY, "correlations": [["a", "b", 1.01]]}, "correlations.1"),
    ("uncertainty", {**UNCERTAINTY, "correlations": [["a", "b", "0.5"]]}, "correlations.1"),
    ("uncertainty", {**UNCERTAINTY, "correlations": [["a", 0.5, "b"]]}, "correlations.1"),
    ("uncertainty", {**UNCERTAINTY, "correlations": [["a", "b", 0.1], ["b", "a", 0.1]]}, "correlations"),
    (
        "uncertainty",
        {**UNCERTAINTY, "correlations": [["a", "b", 0.9], ["b", "c", 0.9], ["a", "c", -0.9]]},
        "correlations",
    ),
    # Trials: correlated inputs are normal, and there are enough trials for the confidence.
    ("uncertainty", {**DRAWN, "correlations": [["a", "c", 0.5]]}, "correlations"),
    (
        "uncertainty",
        {**DRAWN, "inputs": [{**A, "degrees_of_freedom": 5}, B], "correlations": [["a", "b", 0.5]]},
        "correlations",
    ),
    ("uncertainty", {**DRAWN, "trials": 0}, "trials"),
    ("uncertainty", {**DRAWN, "trials": 1}, "trials"),
    ("uncertainty", {**DRAWN, "trials": 10}, "trials"),
    ("uncertainty", {**DRAWN, "trials": 5_000, "confidence": 0.9999}, "trials"),
    ("uncertainty", {**DRAWN, "trials": 10_000, "confidence": 1e-9}, "trials"),
    ("uncertainty", {**UNCERTAINTY, "method": "monte carlo", "confidence": 1e-9}, "confidence"),
    ("uncertainty", {**UNCERTAINTY, "inputs": [A, {**B, "sensitivity": "0 psi"}]}, "inputs.2"),
    ("uncertainty", {**UNCERTAINTY, "inputs": [A, {**B, "sensitivity": "1 mm.furlong"}]}, "inputs.2.sensitivity"),
    ("uncertainty", {**UNCERTAINTY, "inputs": [{**A, "sensitivity": "1 kg.psi"}]}, "inputs.1.sensitivity"),
    ("uncertainty", {**DRAWN, "trials": 10**9}, "trials"),
    ("uncertainty", {**DRAWN, "trials": 1e4}, "trials"),
    ("uncertainty", {**DRAWN, "seed": -1}, "seed"),
    ("uncertainty", {**DRAWN, "confidence": 0.999_999_999}, "trials"),
    ("uncertainty", {**UNCERTAINTY, "method": "monte carlo", "confidence": 0.999_999_999}, "confidence"),
    # Readings and stations.
    ("size", {**SIZE, "stations": [["1 in"]]}, "readings"),
    ("size", {"readings": []}, "readings"),
    ("size", {"stations": []}, "stations"),
    ("size", {"stations": [[]]}, "stations.1"),
    ("size", {"stations": [["1 in", "1 in"], ["1 in"], ["1 in", "1 in"]]}, "stations.2"),
    ("size", {**SIZE, "temperatures": WARM}, "expansion"),
    ("size", {**SIZE, "expansion": GROWS}, "temperatures"),
    ("size", {"readings": ["1 in", "-1 in"]}, "readings"),
    ("size", {"stations": [["1 in", "0 in"]]}, "stations"),
    ("size", {**SIZE, "master": {"nominal": "1 in", "before": "3 in"}}, "readings"),
    ("size", {**SIZE, "temperatures": {**WARM, "part": "-80 degC"}, "expansion": GROWS}, "expansion.part"),
    ("size", {**SIZE, "temperatures": {**WARM, "part": "-200 degC"}, "expansion": GROWS}, "expansion.part"),
    # Limits that stand upside down.
    ("verdict", {**VERDICT, "lower": 6.1}, "lower"),
    ("risk", {**RISK, "lower": 8.1}, "lower"),
    ("risk", {**RISK, "accept_lower": 3, "accept_upper": 2}, "accept_lower"),
    ("risk", {**RISK, "lower": None, "upper": None}, "upper"),
    ("risk", {**RISK, "wanted_consumer_risk": 0.01, "accept_upper": 7}, "wanted_consumer_risk"),
    ("risk", {**RISK, "process": {}}, "process"),
    ("risk", {**RISK, "process": {"mean": 0}}, "process"),
    ("risk", {**RISK, "process": {**PROCESS, "gamma": {"shape": 1, "rate": 1}}}, "process"),
    ("risk", {**RISK, "process": {"gamma": {"shape": 1, "rate": "1 1/um"}}}, "process.gamma.rate"),
    ("fit", {**FIT, "new": ["0.002 in", "0.001 in"]}, "new"),
    ("fit", {**FIT, "service": ["0.001L", "0.001T"], "unit": "in"}, "service"),
    ("fit", {**FIT, "new": ["0.001 in", None], "service": [None, "0.0005 in"]}, "service"),
    ("fit", {**FIT, "new": ["0.001L", None]}, "new.1"),
    ("fit", {**FIT, "new": [None, "-0.001L"], "unit": "in"}, "new.2"),
    ("fit", {**FIT, "new": [None, "0.001 psi"]}, "new.2"),
    ("fit", {**FIT, "common": "0.00011 in"}, "common"),
    ("fit", {"hole": {"size": "1 in"}, "shaft": {"size": "1 in"}, "rule": "full U"}, "hole.standard_uncertainty"),
    ("fit-forecast", {**FORECAST, "hole": {"band": ["1.002 in", "1.001 in"]}}, "hole.band"),
    ("fit-forecast", {**FORECAST, "shaft": {}}, "shaft"),
    ("fit-forecast", {**FORECAST, "shaft": {**BAND, "size": "1 in"}}, "shaft"),
    ("fit-forecast", {**FORECAST, "shaft": {**BAND, "standard_uncertainty": "1 um"}}, "shaft.standard_uncertainty"),
    ("fit-forecast", {**FORECAST, "shaft": {"size": "1 in", "distribution": "uniform"}}, "shaft.distribution"),
    ("fit-forecast", {**FORECAST, "service": ["1 in", "0 in"]}, "service"),
    # Classes without a value.
    ("iso-fit", {"size": "25 mm"}, "hole"),
    ("iso-fit", {"size": "25 mm", "hole": "h7"}, "hole"),
    ("iso-fit", {"size": "25 mm", "hole": "M7"}, "hole"),
    ("iso-fit", {"size": "25 mm", "hole": "H"}, "hole"),
    ("iso-fit", {"size": "25 mm", "hole": "H19"}, "hole"),
    ("iso-fit", {"size": "25 mm", "shaft": "x6"}, "shaft"),
    ("iso-fit", {"size": "25 mm", "shaft": "g0"}, "shaft"),
    ("iso-fit", {"size": "25 mm", "hole": "H01"}, "hole"),
    ("iso-fit", {"size": "25 mm", "hole": "H07"}, "hole"),
    ("iso-fit", {"size": "25 mm", "shaft": "g06"}, "shaft"),
    ("iso-fit", {"size": "25 mm", "hole": "K9", "shaft": "g6"}, "hole"),
    ("iso-fit", {"size": "500.001 mm", "shaft": "g6"}, "shaft"),
    ("iso-fit", {"size": "0 mm", "hole": "H7"}, "size"),
    ("thermal-fit", {**THERMAL, "at": []}, "at"),
    ("thermal-fit", {**THERMAL, "hole": {"size": "40 mm", "expansion": "-1e-6 1/degC"}}, "hole.expansion"),
    # Counts that do not match.
    ("pairing", {}, ""),
    ("pairing", {**PAIRING, **COST}, ""),
    ("pairing", {**PAIRING, "shafts": ["1 in"]}, "shafts"),
    ("pairing", {**PAIRING, "holes": [], "shafts": []}, "shafts"),
    ("pairing", {"holes": ["1 in"], "target": "0 in", "criterion": "sum"}, "shafts"),
    ("pairing", {"holes": ["1 in"], "shafts": ["1 in"], "criterion": "sum"}, "target"),
    ("pairing", {**PAIRING, "target": 0}, "target"),
    ("pairing", {**PAIRING, "criterion": None}, "criterion"),
    ("pairing", {**COST, "cost": []}, "cost"),
    ("pairing", {**COST, "cost": [[1, 2], [3]]}, "cost.2"),
    ("pairing", {**COST, "cost": [[1, 2]]}, "cost.1"),
    ("pairing", {**COST, "masses": [1, 2]}, ""),
    ("pairing", {**COST, "holes": []}, ""),
    ("pairing", {"masses": ["1 g", "2 g", "3 g"]}, "masses"),
    ("pairing", {"masses": []}, "masses"),
    ("pairing", {"masses": ["1 g", "0 g"]}, "masses.2"),
    ("pairing", {"masses": ["1 g", "1 in"]}, "masses.2"),
    ("pairing", {"masses": ["1 g", "2 g"], "criterion": "worst"}, "criterion"),
]
"""Calculator, an input that cannot be, and the path of the one fault it is told."""

LONG = "1" * 100_000
NESTED = "[" * 900 + "]" * 900
HUGE = "1" * 4_000
"""A whole number that JSON can hold and no double can."""

MEANT_AS_NUMBERS: dict[str, list[str]] = {
    "uncertainty": [
        '{"inputs": [{"name": "a", "standard": %s}], "confidence": 0.95}',
        '{"inputs": [{"name": "a", "standard": 1, "sensitivity": %s}], "confidence": 0.95}',
        '{"inputs": [{"name": "a", "standard": 1, "degrees_of_freedom": %s}], "confidence": 0.95}',
        '{"inputs": [{"name": "a", "expanded": 1, "coverage_factor": %s}], "confidence": 0.95}',
        '{"inputs": [{"name": "a", "standard": 1, "sensitivity": %s}], "confidence": 0.9, "method": "monte carlo", '
        '"trials": 10000}',
    ],
    "size": ['{"readings": [%s]}', '{"readings": ["1 in"], "confidence": %s}'],
    "verdict": [
        '{"value": %s, "standard_uncertainty": 1, "upper": 3, "rule": "guarded"}',
        '{"value": 1, "standard_uncertainty": %s, "upper": 3, "rule": "full U"}',
        '{"value": 1, "standard_uncertainty": 1, "upper": %s, "rule": "plain"}',
        '{"value": 1, "standard_uncertainty": 1, "degrees_of_freedom": %s, "upper": 3, "rule": "guarded"}',
    ],
    "risk": [
        '{"process": {"mean": %s, "standard_deviation": 1}, "standard_uncertainty": 1, "upper": 1}',
        '{"process": {"mean": 0, "standard_deviation": %s}, "standard_uncertainty": 1, "upper": 1}',
        '{"process": {"gamma": {"shape": %s, "rate": 1}}, "standard_uncertainty": 1, "upper": 1}',
        '{"process": {"gamma": {"shape": 1, "rate": %s}}, "standard_uncertainty": 1, "upper": 1}',
        '{"process": {"mean": 0, "standard_deviation": 1}, "standard_uncertainty": %s, "upper": 1}',
        '{"process": {"mean": 0, "standard_deviation": 1}, "standard_uncertainty": 1, "upper": %s}',
        '{"process": {"mean": 0, "standard_deviation": 1}, "standard_uncertainty": 1, "upper": 1, "accept_upper": %s}',
    ],
    "fit": ['{"hole": {"size": %s}, "shaft": {"size": "1 in"}, "rule": "plain"}'],
    "fit-forecast": ['{"hole": {"band": [%s, "2 in"]}, "shaft": {"size": "1 in"}}'],
    "iso-fit": ['{"size": %s, "hole": "H7"}'],
    "thermal-fit": ['{"hole": {"size": "1 in", "expansion": %s}, "shaft": {}, "at": []}'],
    "pairing": [
        '{"cost": [[%s, 1], [1, 1]], "criterion": "worst"}',
        '{"cost": [[1, %s], [%s, 1]], "criterion": "sum"}',
        '{"masses": [%s, 1]}',
        '{"holes": [%s], "shafts": [1], "target": 0, "criterion": "sum"}',
    ],
}
"""Inputs with a place for a number."""

NOT_NUMBERS = [
    "1e400", "-1e400", "1e308", "1e-320", "NaN", "Infinity", "-Infinity", HUGE, LONG, NESTED, "{}", "null", "true",
    '"1e9999 in"', '"1e999 mm"', '"1e60 in"', '"1e-60 in"', f'"{LONG} in"', f'"1.{LONG} in"', f'"1 {"x" * 100_000}"',
    '"1 in\\u0000"', '"\\ud800"', '"\\u0661 in"', '"nan in"', '"inf in"', '"1_000 in"', '"0x10 in"',
    '"1 in/"', '"-0 in"',
]  # fmt: skip
"""What is put there."""


def outcome(name: str, text: str) -> list[str]:
    """The lines of the faults an input is told; none where it is answered. Anything else goes through."""
    try:
        json.loads(to_json(load(name).run(parse(text))))
    except WrongInput as wrong:
        return [str(fault) for fault in wrong.faults]
    return []


@pytest.mark.parametrize(("name", "document", "path"), CANNOT_BE)
def test_what_cannot_be_is_one_fault(name: str, document: dict[str, Any], path: str) -> None:
    """An input that cannot be is told in one fault, by its path, with both halves filled."""
    with pytest.raises(WrongInput) as caught:
        load(name).run(document)
    (fault,) = caught.value.faults
    assert fault.path == path
    assert fault.found
    assert fault.expected


@pytest.mark.parametrize(
    ("name", "form", "put"),
    [(n, f, p) for n, forms in MEANT_AS_NUMBERS.items() for f in forms for p in NOT_NUMBERS],
    ids=lambda text: text[:40],
)
def test_a_strange_number_is_answered_or_told(name: str, form: str, put: str) -> None:
    """Whatever stands where a number belongs, there is a finite answer or faults of one short line each."""
    for line in outcome(name, form.replace("%s", put)):
        assert len(line.splitlines()) == 1
        assert len(line) < 1_000
        assert ": found " in line
        assert "; expected " in line


@pytest.mark.parametrize("put", ["1e400", "-1e400", HUGE], ids=["1e400", "-1e400", "4000 digits"])
@pytest.mark.parametrize("name", ["verdict", "risk", "uncertainty", "pairing"])
def test_a_number_too_large_is_told_at_its_place(name: str, put: str) -> None:
    """A plain number beyond what a double holds is a fault at its path, as the same number with a unit is."""
    path = {"verdict": "value", "risk": "process.mean", "uncertainty": "inputs.1.standard", "pairing": "masses.1"}[name]
    form = MEANT_AS_NUMBERS[name][2 if name == "pairing" else 0]
    (line,) = outcome(name, form.replace("%s", put))
    assert line.startswith(f"{path}: found ")


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize(
    "text",
    [
        "", "{", "nul", "null", "[]", "7", '"fit"', "\ufeff{}", "{'a': 1}", '{"a": 1,}', "[" * 100_000, '{"a":' * 5_000,
        LONG, f'{{"a": {LONG}}}', f'{{"batch": {NESTED}}}', '{"batch": 1}', '{"batch": [], "a": 1}', '{"batch": [[]]}',
        '{"units": "inch", "units": "inch"}', '{"batch": [{"a": 1, "a": 1}]}', '{"a": NaN}', '{"batch": [-Infinity]}',
        f'{{"{"x" * 100_000}": 1}}', '{"\\u0000": 1}', '{"\\ud800": 1}', '{"a\\nb": 1}', '{"\\u2028": 1}', '{"": 1}',
    ],
    ids=lambda text: repr(text[:24]),
)  # fmt: skip
def test_what_is_no_input_is_told_in_lines(name: str, text: str) -> None:
    """Torn JSON, a field twice, endless nesting, long and strange names: at least one fault, each a short line."""
    lines = outcome(name, text)
    assert lines
    for line in lines:
        assert len(line.splitlines()) == 1
        assert len(line) < 1_000


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize(
    "text",
    [
        "", "{", "null", "[" * 100_000, LONG, '{"units": 1, "units": 1}', '{"a": NaN}', '{"\\ud800": 1}',
        '{"a\\nb": 1}', '{"value": 1e400}',
    ],
    ids=lambda text: repr(text[:24]),
)  # fmt: skip
def test_the_command_ends_by_faults(name: str, text: str) -> None:
    """The command exits with 2, prints faults to standard error and nothing to standard output."""
    asked = CliRunner().invoke(command, ["calc", name], input=text)
    assert asked.exit_code == 2, asked.exception
    assert asked.stdout == ""
    assert all(": found " in line for line in asked.stderr.splitlines())
    assert "Traceback" not in asked.stderr


@pytest.mark.parametrize(("name", "document", "path"), CANNOT_BE[::7])
def test_the_command_tells_the_path(name: str, document: dict[str, Any], path: str) -> None:
    """What cannot be is told the same through the command."""
    asked = CliRunner().invoke(command, ["calc", name, "-"], input=json.dumps(document))
    assert (asked.exit_code, asked.stdout) == (2, "")
    assert asked.stderr.startswith(f"{path or 'input'}: found ")


def test_a_file_that_is_not_there_is_a_fault() -> None:
    """A missing file is told by its name, not by a stack trace."""
    asked = CliRunner().invoke(command, ["calc", "fit", "no/such/file.json"])
    assert (asked.exit_code, asked.stdout) == (2, "")
    assert asked.stderr.startswith("no/such/file.json: found ")


@pytest.mark.parametrize("arguments", [["fitt"], [], ["--no-such-option"]])
def test_a_wrong_command_line_is_misuse(arguments: list[str]) -> None:
    """A name that no calculator has, no name at all, and an unknown option end with 2 and no trace."""
    asked = CliRunner().invoke(command, ["calc", *arguments])
    assert (asked.exit_code, asked.stdout) == (2, "")
    assert asked.stderr
    assert "Traceback" not in asked.stderr


def test_names_in_a_fault_keep_it_on_one_line() -> None:
    """An input's name with a line break in it does not break the line of a fault that names it."""
    named = [{"name": name, "standard": 1} for name in ("a\nb", "c", "d")]
    for correlations in ([["a\nb", "x", 0.5]], [["a\nb", "c", 0.9], ["c", "d", 0.9], ["a\nb", "d", -0.9]]):
        lines = outcome("uncertainty", json.dumps({"inputs": named, "confidence": 0.9, "correlations": correlations}))
        assert [len(line.splitlines()) for line in lines] == [1]


@pytest.mark.parametrize("size", ["1e9 m", "1e60 in"])
@pytest.mark.parametrize("sides", [[None, "{}"], ["-{}", None], ["-{}", "{}"]])
def test_limits_farther_than_any_length_still_limit(size: str, sides: list[str | None]) -> None:
    """A limit beyond every part is a limit: what lies inside is within it, alone or in a batch."""
    pair = [side and side.format(size) for side in sides]
    fit = {**FIT, "new": pair}
    assert load("fit").run({"batch": [fit, FIT]})["batch"] == [load("fit").run(fit), load("fit").run(FIT)]
    assert load("fit").run(fit)["grade"] == "new"
    assert load("fit-forecast").run({**FORECAST, "service": pair})["odds"]["service"] == 1.0


def keys(schema: dict[str, Any]) -> list[str]:
    """Every field name a form knows."""
    known = [*schema.get("properties", ())]
    return known + [name for inner in schema.get("$defs", {}).values() for name in inner.get("properties", ())]


@pytest.mark.parametrize("name", NAMES)
@given(data=st.data())
@settings(deadline=None, max_examples=40)
def test_any_json_is_answered_or_told(name: str, data: st.DataObject) -> None:
    """Any JSON at all, made of the form's own names, is answered or told; nothing else happens."""
    texts = [
        "1 in",
        "-1 in",
        "0 in",
        "2 mm",
        "3 psi",
        "1e-5 1/degC",
        "20 degC",
        "H7",
        "g6",
        "plain",
        "guarded",
        "sum",
        "uniform",
        "x",
        "",
    ]
    leaves = st.none() | st.booleans() | st.integers(-3, 3) | st.floats(allow_nan=False) | st.sampled_from(texts)
    names = st.sampled_from(keys(load(name).schema()["input"]))
    anything = st.recursive(
        leaves, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(names, inner, max_size=4), max_leaves=12
    )
    document = data.draw(st.dictionaries(names, anything, max_size=6))
    example = load(name).example.input
    for asked in (document, {**example, **document}, {"batch": [example, document]}):
        for line in outcome(name, json.dumps(asked)):
            assert len(line.splitlines()) == 1
