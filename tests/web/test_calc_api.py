"""The calculators for other programs: the same answers and faults as the command, over the real server."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from http.client import HTTPConnection
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import jsonschema
import pytest
from click.testing import CliRunner

from tenthbook.faces.calculators import NAMES, load
from tenthbook.faces.cli.root import command
from tests.web.served import served

JSON = {"Content-Type": "application/json"}
FIT = load("fit").example.input


@dataclass(frozen=True)
class Reply:
    """What the server answered."""

    status: int
    headers: dict[str, str]
    text: str

    @property
    def document(self) -> Any:
        """The answer as a document."""
        return json.loads(self.text)


class Line:
    """A way to the server, one request after the other."""

    def __init__(self, url: str) -> None:
        """Keep the address."""
        self._at = urlsplit(url).netloc

    def ask(self, method: str, path: str, body: bytes | None = None, headers: dict[str, str] | None = None) -> Reply:
        """Send one request."""
        connection = HTTPConnection(self._at, timeout=60)
        try:
            connection.request(method, path, body, headers or {})
            answer = connection.getresponse()
            named = {name.lower(): value for name, value in answer.getheaders()}
            return Reply(answer.status, named, answer.read().decode())
        finally:
            connection.close()

    def post(self, name: str, document: Any) -> Reply:
        """Ask a calculator."""
        return self.ask("POST", f"/api/calc/{name}", json.dumps(document).encode(), JSON)


@pytest.fixture(scope="module")
def line(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Line]:
    """Serve an empty folder; the API writes nothing, so that all tests share it."""
    folder: Path = tmp_path_factory.mktemp("calc-api")
    with served(folder) as url:
        yield Line(url)


def commanded(name: str, document: Any) -> tuple[str, str]:
    """What the command prints on standard output and on standard error."""
    result = CliRunner().invoke(command, ["calc", name], input=json.dumps(document))
    return result.stdout, result.stderr


@pytest.mark.parametrize("name", list(NAMES))
def test_an_answer_is_what_the_command_prints(line: Line, name: str) -> None:
    """Every published example is answered byte for byte as by the command, every decimal with all its digits."""
    reply = line.post(name, load(name).example.input)
    assert reply.status == 200
    assert reply.text + "\n" == commanded(name, load(name).example.input)[0]


@pytest.mark.parametrize("name", list(NAMES))
def test_a_batch_answers_each_item(line: Line, name: str) -> None:
    """A batch of two gives the single answer twice."""
    one = load(name).example.input
    assert line.post(name, {"batch": [one, one]}).document == {"batch": [line.post(name, one).document] * 2}


def test_an_exact_decimal_stays_exact(line: Line) -> None:
    """A difference with more digits than a float holds comes back with all of them."""
    question = {"hole": {"size": "1.00000000000000000003 in"}, "shaft": {"size": "1 in"}, "rule": "plain"}
    assert '"value": 0.00000000000000000003,' in line.post("fit", question).text


@pytest.mark.parametrize(
    ("name", "document"),
    [
        ("fit", {"hole": {"size": "2.0045"}, "shaft": {"sise": "2.0020 in"}, "rule": "sharp"}),
        ("fit", {"batch": [FIT, {**FIT, "hole": {"size": "-1 in"}}]}),
        ("uncertainty", {"inputs": [{"name": "a"}, {"name": "a", "standard": "1 um"}], "confidence": 0.95}),
        ("size", {"readings": ["1.0000 in"], "confidence": 2}),
        ("pairing", {}),
        ("verdict", 7),
    ],
)
def test_faults_are_those_of_the_command(line: Line, name: str, document: Any) -> None:
    """What is wrong comes as records of path, found and expected, one for each line that the command writes."""
    reply = line.post(name, document)
    lines = [
        f"{one['path'] or 'input'}: found {one['found']}; expected {one['expected']}"
        for one in reply.document["faults"]
    ]
    assert reply.status == 422
    assert lines == commanded(name, document)[1].splitlines()


@pytest.mark.parametrize("body", [b"", b"{", b'{"rule": "plain", "rule": "full U"}', b"[NaN]", b"\xff\xfe\xfd"])
def test_what_is_not_json_is_a_fault(line: Line, body: bytes) -> None:
    """Nothing, half an object, a field twice, a number that is not finite and wrong bytes are answered in words."""
    reply = line.ask("POST", "/api/calc/fit", body, JSON)
    assert reply.status == 422
    assert set(reply.document["faults"][0]) == {"path", "found", "expected"}


def test_an_unknown_name_is_answered_with_the_nearest(line: Line) -> None:
    """A name that no calculator has is 404 and says which are near; so for schema and example."""
    for method, path in (
        ("POST", "/api/calc/fitt"),
        ("GET", "/api/calc/fitt/schema"),
        ("GET", "/api/calc/fitt/example"),
    ):
        reply = line.ask(method, path, b"{}" if method == "POST" else None, JSON)
        assert reply.status == 404
        assert reply.document["nearest"][0] == "fit"
        assert "fit" in reply.document["faults"][0]["expected"]


def test_a_method_that_does_not_fit_is_refused(line: Line) -> None:
    """A calculator is asked by POST, everything else by GET, and the answer names the method that fits."""
    for method, path, allowed in (
        ("GET", "/api/calc/fit", "POST"),
        ("OPTIONS", "/api/calc/fit", "POST"),
        ("POST", "/api/calc", "GET, HEAD"),
        ("DELETE", "/api/openapi.json", "GET, HEAD"),
    ):
        reply = line.ask(method, path)
        assert (reply.status, reply.headers["allow"]) == (405, allowed)


@pytest.mark.parametrize("kind", ["application/x-www-form-urlencoded", "text/plain", "multipart/form-data", ""])
def test_only_json_is_read(line: Line, kind: str) -> None:
    """What a form on another site could send is refused, whatever stands in it."""
    headers = {"Content-Type": kind} if kind else {}
    reply = line.ask("POST", "/api/calc/fit", json.dumps(FIT).encode(), headers)
    assert reply.status == 415
    assert reply.document["faults"][0]["expected"] == "application/json"


def test_a_charset_beside_the_type_is_no_fault(line: Line) -> None:
    """The type may carry its charset."""
    headers = {"Content-Type": "application/json; charset=utf-8"}
    assert line.ask("POST", "/api/calc/fit", json.dumps(FIT).encode(), headers).status == 200


def test_a_body_has_a_largest_size(line: Line) -> None:
    """At two million bytes an input is still read, a byte more is refused."""
    text = json.dumps(FIT).encode()
    assert line.ask("POST", "/api/calc/fit", text.ljust(2_000_000), JSON).status == 200
    reply = line.ask("POST", "/api/calc/fit", text.ljust(2_000_001), JSON)
    assert reply.status == 413
    assert reply.document["faults"][0]["found"] == "2000001 bytes"


def test_no_cookie_is_given_or_asked_for(line: Line) -> None:
    """The API answers without a cookie and sets none, and each answer carries the strict policy."""
    reply = line.post("fit", FIT)
    assert "set-cookie" not in reply.headers
    assert "access-control-allow-origin" not in reply.headers
    assert reply.headers["content-security-policy"].startswith("default-src 'none'")
    assert reply.headers["content-type"] == "application/json"


def test_list_schema_and_example_are_those_of_the_command(line: Line) -> None:
    """What the command lists and prints, the API gives."""

    def printed(*arguments: str) -> Any:
        return json.loads(CliRunner().invoke(command, ["calc", *arguments]).stdout)

    assert line.ask("GET", "/api/calc").document == printed("--list", "--json")
    for name in NAMES:
        assert line.ask("GET", f"/api/calc/{name}/schema").document == printed(name, "--schema")
        assert line.ask("GET", f"/api/calc/{name}/example").document == printed(name, "--example")


def references(node: Any) -> Iterator[str]:
    """Every reference in a document."""
    if isinstance(node, dict):
        yield from (held for name, held in node.items() if name == "$ref")
        node = list(node.values())
    if isinstance(node, list):
        for held in node:
            yield from references(held)


def test_the_description_names_every_address_and_every_reference_leads_somewhere(line: Line) -> None:
    """The OpenAPI document has a path for each address, each with an id of its own, and no reference hangs."""
    described = line.ask("GET", "/api/openapi.json").document
    assert described["openapi"].startswith("3.1.")
    own = {"/api/calc", "/api/openapi.json"}
    expected = own | {f"/api/calc/{name}{end}" for name in NAMES for end in ("", "/schema", "/example")}
    assert set(described["paths"]) == expected
    ids = [act["operationId"] for held in described["paths"].values() for act in held.values()]
    assert len(ids) == len(set(ids)) == len(expected)
    for path, acts in described["paths"].items():
        for method in acts:
            assert line.ask(method.upper(), path, b"{}" if method == "post" else None, JSON).status in (200, 422)
    known = {f"#/components/schemas/{name}" for name in described["components"]["schemas"]}
    assert set(references(described)) <= known


@pytest.mark.parametrize("name", list(NAMES))
def test_the_description_fits_what_is_sent_and_answered(line: Line, name: str) -> None:
    """By the described schemas the example, a batch of it and both answers are valid, and an unknown field is not."""
    described = line.ask("GET", "/api/openapi.json").document
    act = described["paths"][f"/api/calc/{name}"]["post"]
    taken = act["requestBody"]["content"]["application/json"]
    given = act["responses"]["200"]["content"]["application/json"]

    def valid(schema: Any, document: Any) -> bool:
        whole = {**schema, "components": described["components"]}
        return bool(jsonschema.Draft202012Validator(whole).is_valid(document))

    one = taken["example"]
    for question in (one, {"batch": [one]}):
        assert valid(taken["schema"], question)
        assert valid(given["schema"], line.post(name, question).document)
    assert not valid(taken["schema"], {**one, "colour": "red"})
    wrong = line.post(name, {**one, "colour": "red"}).document
    assert valid(act["responses"]["422"]["content"]["application/json"]["schema"], wrong)
