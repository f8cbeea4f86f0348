"""`tenthbook calc`: one JSON object in, one out, faults a line each."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from click.testing import Result

from tenthbook.faces.calculators import NAMES

Ask = Callable[..., Result]
GOOD: dict[str, Any] = {
    "hole": {"size": "2.0045 in"},
    "shaft": {"size": "2.0020 in"},
    "service": [None, "0.0025 in"],
    "rule": "plain",
}
FAULT = re.compile(r"[^:\n]+: found [^\n]+; expected [^\n]+")


def process(*words: str, typed: bytes = b"") -> subprocess.CompletedProcess[bytes]:
    """The same in a process of its own."""
    return subprocess.run(
        [sys.executable, "-m", "tenthbook", *words], input=typed, capture_output=True, check=False, timeout=60
    )


def test_an_object_from_standard_input_is_answered_on_standard_output(ask: Ask) -> None:
    """One JSON object, nothing else, and exit 0."""
    result = ask("calc", "fit", typed=json.dumps(GOOD))
    assert (result.exit_code, result.stderr) == (0, "")
    answer = json.loads(result.stdout)
    assert (answer["clearance"], answer["grade"]) == ({"value": 0.0025, "unit": "in", "text": "0.0025 in"}, "service")
    assert '"value": 0.0025,' in result.stdout


@pytest.mark.parametrize("file", ["-", "question.json"])
def test_a_file_or_a_stroke_is_read(ask: Ask, tmp_path: Path, file: str) -> None:
    """A stroke is standard input, a name is a file."""
    (tmp_path / "question.json").write_text(json.dumps(GOOD))
    assert json.loads(ask("calc", "fit", file, typed=json.dumps(GOOD)).stdout)["grade"] == "service"


def test_a_part_that_fails_is_an_answer(ask: Ask) -> None:
    """A rejected part is computed, so it exits 0."""
    result = ask("calc", "fit", typed=json.dumps({**GOOD, "service": [None, "0.0024 in"]}))
    assert (result.exit_code, json.loads(result.stdout)["grade"]) == (0, "reject")


def test_a_batch_is_answered_in_order(ask: Ask) -> None:
    """Many at once give as many answers."""
    items = [GOOD, {**GOOD, "service": [None, "0.0024 in"]}, {**GOOD, "service": None}]
    result = ask("calc", "fit", typed=json.dumps({"batch": items}))
    assert [answer["grade"] for answer in json.loads(result.stdout)["batch"]] == ["service", "reject", "no limit"]


def test_the_list_names_every_calculator(ask: Ask) -> None:
    """Each name with what it answers, as text and as JSON."""
    text = ask("calc", "--list")
    assert text.exit_code == 0
    assert [line.split()[0] for line in text.stdout.splitlines()] == list(NAMES)
    rows = json.loads(ask("calc", "--list", "--json").stdout)
    assert [row["name"] for row in rows] == list(NAMES)
    assert all(row["answers"] for row in rows)


@pytest.mark.parametrize("name", list(NAMES))
def test_an_example_shows_itself(ask: Ask, name: str) -> None:
    """Id, source, input and output; asked again, the input gives that output."""
    result = ask("calc", name, "--example")
    shown = json.loads(result.stdout)
    assert (result.exit_code, list(shown)) == (0, ["id", "source", "input", "output"])
    assert json.loads(ask("calc", name, typed=json.dumps(shown["input"])).stdout) == shown["output"]


@pytest.mark.parametrize("name", list(NAMES))
def test_a_schema_shows_both_forms(ask: Ask, name: str) -> None:
    """Input and output as JSON Schema, by which example and answer are valid."""
    result = ask("calc", name, "--schema")
    assert result.exit_code == 0, result.exception
    schema, shown = json.loads(result.stdout), json.loads(ask("calc", name, "--example").stdout)
    assert list(schema) == ["input", "output"]
    for side in ("input", "output"):
        jsonschema.Draft202012Validator.check_schema(schema[side])
        jsonschema.Draft202012Validator(schema[side]).validate(shown[side])


@pytest.mark.parametrize(
    ("typed", "paths"),
    [
        (
            json.dumps({"hole": {"size": "1"}, "shaft": {}, "rule": "x", "colour": 1}),
            ["hole.size", "shaft.size", "rule", "colour"],
        ),
        (
            json.dumps({"batch": [GOOD, {}, {**GOOD, "rule": 1}]}),
            ["batch.2.hole", "batch.2.shaft", "batch.2.rule", "batch.3.rule"],
        ),
        ('{"rule": "plain", "rule": "guarded"}', ["rule"]),
        ('{"conformance": NaN}', ["input"]),
        ('{"conformance": 1e999, "rule": "plain"}', ["hole", "shaft", "conformance"]),
        ("[]", ["input"]),
        ("", ["input"]),
        ("{not json}", ["input"]),
        (b"\xff\xfe{", ["input"]),
    ],
)
def test_faults_are_a_line_each_on_standard_error(ask: Ask, typed: str | bytes, paths: list[str]) -> None:
    """All at once as `path: found X; expected Y`, exit 2, and nothing on standard output."""
    result = ask("calc", "fit", typed=typed)
    assert (result.exit_code, result.stdout) == (2, "")
    lines = result.stderr.splitlines()
    assert [line.partition(": found")[0] for line in lines] == paths
    assert all(FAULT.fullmatch(line) for line in lines), lines


def test_a_fault_stays_one_line_whatever_was_typed(ask: Ask) -> None:
    """Line breaks inside a name or a value make no second line."""
    result = ask("calc", "fit", typed=json.dumps({**GOOD, "a\nb": 1, "units": "x\ny", "hole": {"size": "1\nin\nx"}}))
    assert len(result.stderr.splitlines()) == 3


def test_an_unknown_calculator_is_answered_with_the_nearest(ask: Ask) -> None:
    """A slip in the name exits 2 and offers the right one."""
    result = ask("calc", "fitt", typed="{}")
    assert (result.exit_code, result.stdout) == (2, "")
    assert "did you mean fit?" in result.stderr


def test_a_file_that_is_not_there_is_named(ask: Ask) -> None:
    """A missing file and a folder are faults like any other."""
    for name in ("nothing.json", "."):
        result = ask("calc", "fit", name)
        assert (result.exit_code, result.stdout) == (2, "")
        assert result.stderr.startswith(f"{name}: found ")


def test_a_name_is_needed(ask: Ask) -> None:
    """Without a name the known ones are told, exit 2."""
    result = ask("calc")
    assert result.exit_code == 2
    assert "expected one of " + ", ".join(NAMES) in result.stderr


def test_in_a_process_of_its_own_it_answers_the_same() -> None:
    """Standard output carries the one object, standard error nothing, exit 0; a fault the other way about, exit 2."""
    good = process("calc", "fit", typed=json.dumps(GOOD).encode())
    assert (good.returncode, good.stderr) == (0, b"")
    assert json.loads(good.stdout)["grade"] == "service"
    bad = process("calc", "fit", typed=b'{"hole": {"size": "\\ud800 in"}, "shaft": {"size": "1 in"}, "rule": 1}')
    assert (bad.returncode, bad.stdout) == (2, b"")
    assert all(FAULT.fullmatch(line) for line in bad.stderr.decode().splitlines())
    assert len(bad.stderr.splitlines()) == 2


def test_listing_imports_no_model() -> None:
    """The list is quick: neither numpy nor Django is loaded for it."""
    code = "import sys; sys.argv = ['tenthbook', 'calc', '--list']\nimport atexit, os\n"
    code += (
        "atexit.register(lambda: os.write(2, repr(sorted({'numpy', 'scipy', 'django'} & set(sys.modules))).encode()))\n"
    )
    code += "from tenthbook.faces.cli import main\nmain()\n"
    result = subprocess.run([sys.executable, "-c", code], capture_output=True, check=False, timeout=60)
    assert (result.returncode, result.stderr) == (0, b"[]")
    assert [line.split()[0].decode() for line in result.stdout.splitlines()] == list(NAMES)
