"""What every calculator owes: its name, its fields, its schemas, its example and its batch.

The sets below are the contract, written down a second time: a field that is renamed, dropped or added fails here.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from decimal import ROUND_HALF_EVEN, Decimal
from typing import Any

import jsonschema
import pytest
from click.testing import CliRunner

from tenthbook.faces.calculators import NAMES, load
from tenthbook.faces.calculators.answers import to_json
from tenthbook.faces.cli.root import command

INPUT_FIELDS = {
    "uncertainty": "inputs inputs.name inputs.standard inputs.half_width inputs.shape inputs.expanded "
    "inputs.coverage_factor inputs.sensitivity inputs.degrees_of_freedom correlations confidence method trials seed",
    "size": "readings stations master master.nominal master.before master.after instrument instrument.error_limit "
    "instrument.resolution temperatures temperatures.part temperatures.instrument expansion expansion.part "
    "expansion.instrument confidence",
    "verdict": "value standard_uncertainty degrees_of_freedom lower upper rule conformance",
    "risk": "process process.mean process.standard_deviation process.gamma process.gamma.shape process.gamma.rate "
    "standard_uncertainty lower upper accept_lower accept_upper wanted_consumer_risk",
    "fit": "hole hole.size hole.standard_uncertainty shaft shaft.size shaft.standard_uncertainty common new service "
    "unit rule conformance",
    "fit-forecast": "hole hole.size hole.standard_uncertainty hole.band hole.distribution shaft shaft.size "
    "shaft.standard_uncertainty shaft.band shaft.distribution new service unit",
    "iso-fit": "size hole shaft",
    "thermal-fit": "hole hole.size hole.expansion shaft shaft.size shaft.expansion at",
    "pairing": "cost holes shafts target criterion masses",
}
"""Every field of an input; `units` besides, for all of them."""

REQUIRED = {
    "uncertainty": "inputs inputs.name confidence",
    "size": "master.nominal master.before temperatures.part temperatures.instrument expansion.part "
    "expansion.instrument",
    "verdict": "value standard_uncertainty rule",
    "risk": "process process.gamma.shape process.gamma.rate standard_uncertainty",
    "fit": "hole hole.size shaft shaft.size rule",
    "fit-forecast": "hole shaft",
    "iso-fit": "size",
    "thermal-fit": "hole hole.size hole.expansion shaft shaft.size shaft.expansion at",
    "pairing": "",
}
"""Fields that stand in every input, or in every object of theirs."""

OUTPUT_FIELDS = {
    "uncertainty": "standard effective_degrees_of_freedom degrees_of_freedom_used coverage_factor expanded interval "
    "half_width budget budget.name budget.contribution budget.share",
    "size": "size standard_uncertainty expanded smallest largest out_of_round taper worst_out_of_round worst_taper "
    "budget budget.name budget.contribution budget.share",
    "verdict": "verdict plain probability_within guard standard_uncertainty_needed",
    "risk": "nonconforming consumer_risk producer_risk accept_upper",
    "fit": "clearance letter standard_uncertainty limits limits.new limits.service plain_grade grade probability_new "
    "probability_service",
    "fit-forecast": "clearance odds odds.new odds.service odds.reject",
    "iso-fit": "hole shaft clearance",
    "thermal-fit": "clearance",
    "pairing": "partner worst sum pairs",
}
"""Every field of an answer; `warnings`, each with `code` and `text`, besides."""

CHOICES = {
    ("uncertainty", "input", "inputs.shape"): ["rectangular", "triangular", "arcsine"],
    ("uncertainty", "input", "method"): ["framework", "monte carlo"],
    ("verdict", "input", "rule"): ["plain", "guarded", "full U"],
    ("verdict", "output", "verdict"): ["within", "outside", "undecided", "no limit"],
    ("verdict", "output", "plain"): ["within", "outside", "no limit"],
    ("fit", "input", "rule"): ["plain", "guarded", "full U"],
    ("fit", "output", "grade"): ["new", "service", "reject", "undecided", "no limit"],
    ("fit", "output", "plain_grade"): ["new", "service", "reject", "no limit"],
    ("fit", "output", "letter"): ["T", "L"],
    ("fit-forecast", "input", "hole.distribution"): ["uniform", "normal at 6 sigma"],
    ("fit-forecast", "input", "shaft.distribution"): ["uniform", "normal at 6 sigma"],
    ("pairing", "input", "criterion"): ["worst", "sum"],
    **{(name, "input", "units"): ["inch", "metric"] for name in INPUT_FIELDS},
}
"""Words that are literal."""

INCH_FIT: dict[str, Any] = {
    "hole": {"size": "1.2512 in", "standard_uncertainty": "0.0002 in"},
    "shaft": {"size": "1.2490 in", "standard_uncertainty": "0.0001 in"},
}
STEEL, ALUMINIUM = "11.5e-6 1/degC", "21.5e-6 1/degC"

QUESTIONS: dict[str, list[dict[str, Any]]] = {
    "uncertainty": [
        {
            "inputs": [
                {"name": "a", "standard": "9 degF", "degrees_of_freedom": 7.5},
                {"name": "b", "half_width": "5 degC", "shape": "arcsine"},
            ],
            "confidence": 0.9,
        },
        {
            "inputs": [
                {"name": "bore", "expanded": "0.0004 in", "coverage_factor": 2, "sensitivity": -1},
                {"name": "shaft", "standard": "0.0003 in"},
            ],
            "correlations": [["bore", "shaft", 0.5]],
            "confidence": 0.95,
            "method": "monte carlo",
            "trials": 10_000,
            "seed": 3,
        },
        {"inputs": [{"name": "n", "half_width": 0.5, "shape": "triangular"}], "confidence": 0.5, "method": "framework"},
    ],
    "size": [
        {
            "readings": ["0.5094 in", "0.5096 in", "0.5095 in"],
            "master": {"nominal": "0.5000 in", "before": "0.5001 in", "after": "0.5002 in"},
            "instrument": {"error_limit": "0.0001 in", "resolution": "0.0001 in"},
            "temperatures": {"part": "80 degF", "instrument": "70 degF"},
            "expansion": {"part": ALUMINIUM, "instrument": STEEL},
            "confidence": 0.99,
        },
        {"readings": ["12.01 mm"]},
        {"stations": [["50.012 mm", "50.006 mm"], ["50.009 mm", "50.008 mm"]]},
    ],
    "verdict": [
        {
            "value": "5 in",
            "standard_uncertainty": "0.1 in",
            "degrees_of_freedom": 4,
            "lower": "4 in",
            "upper": "5.2 in",
            "rule": "guarded",
            "conformance": 0.9,
        },
        {"value": 3, "standard_uncertainty": 0.5, "rule": "full U"},
        {"value": "3 psi", "standard_uncertainty": "1 psi", "upper": "3 psi", "rule": "plain"},
    ],
    "risk": [
        {
            "process": {"mean": "10 mm", "standard_deviation": "2 um"},
            "standard_uncertainty": "0.5 um",
            "lower": "9.996 mm",
            "upper": "10.004 mm",
            "accept_lower": "9.997 mm",
            "accept_upper": "10.003 mm",
        },
        {"process": {"mean": 0, "standard_deviation": 4}, "standard_uncertainty": 1, "lower": -8},
        {
            "process": {"gamma": {"shape": 4, "rate": "4 1/um"}},
            "standard_uncertainty": "0.25 um",
            "upper": "2 um",
            "wanted_consumer_risk": 0.001,
        },
        {
            "process": {"mean": 0, "standard_deviation": 1},
            "standard_uncertainty": 1,
            "upper": 8,
            "wanted_consumer_risk": 0.1,
        },
    ],
    "fit": [
        {
            **INCH_FIT,
            "common": "0.0001 in",
            "new": ["0.0010L", "0.0020L"],
            "service": [None, "0.0025L"],
            "unit": "in",
            "rule": "guarded",
            "conformance": 0.9,
        },
        {**INCH_FIT, "rule": "full U"},
        {"hole": {"size": "10.00 mm"}, "shaft": {"size": "10.00 mm"}, "new": ["-0.01 mm", None], "rule": "plain"},
    ],
    "fit-forecast": [
        {
            "hole": {"size": "1.0020 in", "standard_uncertainty": "0.0002 in"},
            "shaft": {"band": ["0.9990 in", "1.0000 in"], "distribution": "normal at 6 sigma"},
            "new": ["0.0010 in", "0.0030 in"],
            "service": [None, "0.0040 in"],
        },
        {
            "hole": {"size": "10.02 mm"},
            "shaft": {"band": ["9.99 mm", "10.00 mm"]},
            "service": ["0.01L", "0.02L"],
            "unit": "mm",
        },
        {"hole": {"size": "10.02 mm"}, "shaft": {"size": "10.00 mm", "standard_uncertainty": "2 um"}},
    ],
    "iso-fit": [
        {"size": "1 in", "hole": "JS7"},
        {"size": "25 mm", "shaft": "k6"},
        {"size": "300 mm", "hole": "P9", "shaft": "h6"},
    ],
    "thermal-fit": [
        {
            "hole": {"size": "2.0000 in", "expansion": ALUMINIUM},
            "shaft": {"size": "1.9990 in", "expansion": "6.4e-6 1/degF"},
            "at": ["250 degF"],
        }
    ],
    "pairing": [
        {"cost": [[1.5, 2], [3, 0]], "criterion": "worst"},
        {
            "holes": ["1.0020 in", "1.0010 in"],
            "shafts": ["0.9990 in", "1.0000 in"],
            "target": "1.0 thou",
            "criterion": "sum",
        },
        {"masses": ["612 g", "605 g", "609 g", "617 g"]},
    ],
}
"""Questions that between them fill every field."""

ASKED = [(name, question) for name in NAMES for question in [load(name).example.input, *QUESTIONS[name]]]


def schema_of(name: str, side: str) -> dict[str, Any]:
    """The published form, as a machine reads it."""
    read: dict[str, Any] = json.loads(to_json(load(name).schema()))[side]
    return read


def fields(
    schema: Mapping[str, Any], node: Mapping[str, Any] | None = None, path: str = ""
) -> Iterator[tuple[str, Mapping[str, Any], bool]]:
    """Every field of a form with its dotted path and whether its object always has it; an answer is not opened."""
    here = schema if node is None else node
    for option in (here, *here.get("anyOf", ())):
        if "$ref" in option:
            word = option["$ref"].rpartition("/")[2]
            if word not in ("Answer", "Warned"):
                yield from fields(schema, schema["$defs"][word], path)
        if "items" in option:
            yield from fields(schema, option["items"], path)
        for field, inner in option.get("properties", {}).items():
            yield f"{path}{field}", inner, field in option.get("required", ())
            yield from fields(schema, inner, f"{path}{field}.")


def as_printed(document: Any) -> Any:
    """An answer as it comes out of the command, decimals kept."""
    return json.loads(to_json(document), parse_float=Decimal, parse_int=Decimal)


def assert_printed(answer: Any, published: Any) -> None:
    """What was published is what the answer rounds to, at the printed digits."""
    if isinstance(published, list):
        assert len(answer) == len(published)
        for one, printed in zip(answer, published, strict=True):
            assert_printed(one, printed)
    elif isinstance(published, str) and isinstance(answer, dict):
        number, unit = published.split()
        assert answer["unit"] == unit
        assert_printed(answer["value"], Decimal(number))
    elif isinstance(published, str):
        assert answer == published
    else:
        printed = Decimal(str(published))
        assert answer.quantize(printed, ROUND_HALF_EVEN) == printed


def test_the_list_is_the_contract() -> None:
    """There are these calculators and no others."""
    assert set(NAMES) == set(INPUT_FIELDS) == set(OUTPUT_FIELDS) == set(QUESTIONS)


@pytest.mark.parametrize("name", NAMES)
def test_a_name_leads_to_its_calculator(name: str) -> None:
    """What is loaded under a name carries that name."""
    assert load(name).name == name


@pytest.mark.parametrize("name", NAMES)
def test_input_fields_are_the_contract(name: str) -> None:
    """An input has these fields and no others, and these of them always."""
    found = list(fields(schema_of(name, "input")))
    assert {path for path, _, _ in found} == {*INPUT_FIELDS[name].split(), "units"}
    assert {path for path, _, always in found if always} == set(REQUIRED[name].split())


@pytest.mark.parametrize("name", NAMES)
def test_output_fields_are_the_contract(name: str) -> None:
    """An answer has these fields and no others."""
    found = {path for path, _, _ in fields(schema_of(name, "output"))}
    assert found - {"warnings"} == set(OUTPUT_FIELDS[name].split())


@pytest.mark.parametrize(("name", "side", "path"), CHOICES)
def test_choices_are_literal(name: str, side: str, path: str) -> None:
    """A field with a choice takes or gives these words and no others."""
    (node,) = [node for found, node, _ in fields(schema_of(name, side)) if found == path]
    listed = [option["enum"] for option in (node, *node.get("anyOf", ())) if "enum" in option]
    assert listed == [CHOICES[name, side, path]]


@pytest.mark.parametrize(("name", "question"), ASKED)
def test_question_and_answer_fit_their_forms(name: str, question: dict[str, Any]) -> None:
    """Both forms are JSON Schema 2020-12, and question and printed answer are valid by them."""
    for side, document in (("input", question), ("output", json.loads(to_json(load(name).run(question))))):
        schema = schema_of(name, side)
        jsonschema.Draft202012Validator.check_schema(schema)
        jsonschema.Draft202012Validator(schema).validate(document)


@pytest.mark.parametrize("name", NAMES)
def test_every_field_is_asked_here(name: str) -> None:
    """The questions of this module fill every field of the input."""

    def paths(value: Any, path: str = "") -> Iterator[str]:
        for one in value if isinstance(value, list) else [value]:
            for field, inner in one.items() if isinstance(one, dict) else ():
                yield f"{path}{field}"
                yield from paths(inner, f"{path}{field}.")

    filled = {path for question in [load(name).example.input, *QUESTIONS[name]] for path in paths(question)}
    assert filled == set(INPUT_FIELDS[name].split())


@pytest.mark.parametrize("name", NAMES)
def test_the_example_gives_what_was_published(name: str) -> None:
    """The example's answer rounds to the published one at the printed digits."""
    shown = load(name).shown_example()
    assert list(shown) == ["id", "source", "input", "output"]
    published = load(name).example.published
    assert published
    answer = as_printed(shown["output"])
    for field, printed in published.items():
        assert_printed(answer[field], printed)


@pytest.mark.parametrize("name", NAMES)
def test_the_example_is_known_by_source(name: str) -> None:
    """An example carries its id and says whether its source was read, is from memory, or is derived."""
    example = load(name).example
    assert example.id.partition(" ")[0] in ("M", "L")
    assert any(word in example.source for word in ("read", "from memory", "derived"))


@pytest.mark.parametrize("name", NAMES)
def test_a_batch_is_its_singles(name: str) -> None:
    """Computed together or one by one, every answer is the same to the last digit."""
    questions = [load(name).example.input, *QUESTIONS[name]]
    together = load(name).run({"batch": questions})
    assert list(together) == ["batch"]
    assert together["batch"] == [load(name).run(question) for question in questions]
    assert load(name).run({"batch": []}) == {"batch": []}


@pytest.mark.parametrize("name", NAMES)
def test_the_command_prints_the_same_answer(name: str) -> None:
    """`calc NAME` prints one JSON object and nothing else, `--example` and `--schema` what the registry holds."""
    question = QUESTIONS[name][0]
    asked = CliRunner().invoke(command, ["calc", name], input=json.dumps(question))
    assert (asked.exit_code, asked.stderr) == (0, "")
    assert asked.stdout == to_json(load(name).run(question)) + "\n"
    for option, document in (("--example", load(name).shown_example()), ("--schema", load(name).schema())):
        assert CliRunner().invoke(command, ["calc", name, option]).stdout == to_json(document) + "\n"
