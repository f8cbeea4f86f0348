"""Someone on the Wi-Fi: the pages answer this machine alone, forms carry a token, nothing is fetched from elsewhere."""

from __future__ import annotations

import http.client
import re
import socket
import urllib.parse
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.web.served import ROOT, served

TEMPLATES = sorted((ROOT / "src/tenthbook/faces/web/templates").glob("*.html"))
STYLES = sorted((ROOT / "src/tenthbook/faces/web/static").rglob("*.css"))
PAGES = ("/", "/calc/", "/job/nothing/", "/api/openapi.json", "/static/tenthbook.css")
LISTENING = "0A"
LOOPBACK = "0100007F"
"""127.0.0.1, as the kernel's table of sockets writes it on this kind of machine."""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where the data lie."""
    return tmp_path_factory.mktemp("served")


@pytest.fixture(scope="module")
def port(folder: Path) -> Iterator[int]:
    """Serve an empty folder."""
    with served(folder) as url:
        yield int(urllib.parse.urlsplit(url).port or 0)


def ask(
    port: int, path: str, method: str = "GET", body: str | None = None, **headers: str
) -> tuple[int, http.client.HTTPMessage, str]:
    """Ask the server, under another name where a header says so."""
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=20)
    try:
        connection.request(method, path, body, headers)
        answer = connection.getresponse()
        return answer.status, answer.headers, answer.read().decode("utf-8", "replace")
    finally:
        connection.close()


def test_only_this_machine_is_served(port: int) -> None:
    """The server listens at this machine's own address and at no other, and answers to no other name."""
    tables = [file.read_text() for file in (Path("/proc/net/tcp"), Path("/proc/net/tcp6")) if file.exists()]
    sockets = [line.split() for table in tables for line in table.splitlines()[1:]]
    bound = [at for _, at, _, state, *_ in sockets if state == LISTENING and at.endswith(f":{port:04X}")]
    assert bound == [f"{LOOPBACK}:{port:04X}"]
    for name in (f"127.0.0.1:{port}", f"localhost:{port}"):
        assert ask(port, "/", Host=name)[0] == 200
    for name in ("bench.example", "192.168.1.20", f"127.0.0.1.bench.example:{port}", f"0.0.0.0:{port}"):
        for path in ("/", "/calc/", "/api/calc", "/job/nothing/record/"):
            status, _, text = ask(port, path, Host=name)
            assert (status, "Bench book" in text) == (400, False)
        assert ask(port, "/", Host="127.0.0.1", **{"X-Forwarded-Host": name})[0] == 200, "it is not believed either"


def test_nobody_else_can_connect(port: int) -> None:
    """At any other address of this machine, where it has one, nobody answers."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        probe.connect(("192.0.2.1", 9))  # sends nothing: it only asks which address would be used
        outward = str(probe.getsockname()[0])
    for address in {"127.0.0.2", outward} - {"127.0.0.1"}:
        with pytest.raises(OSError, match="refused"):
            socket.create_connection((address, port), timeout=5)


@pytest.mark.parametrize("path", PAGES)
def test_every_answer_forbids_script_frames_guessing_and_caching(port: int, path: str) -> None:
    """Page, missing page, interface and style sheet carry the same policy; only static files may be kept."""
    _, headers, _ = ask(port, path)
    policy = dict(part.split(" ", 1) for part in str(headers["Content-Security-Policy"]).split("; "))
    assert policy["default-src"] == "'none'"
    assert policy["frame-ancestors"] == "'none'"
    assert policy["form-action"] == policy["style-src"] == policy["img-src"] == policy["font-src"] == "'self'"
    assert "script-src" not in policy, "no script at all"
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["X-Frame-Options"] == "DENY"
    assert headers["Cross-Origin-Opener-Policy"] == headers["Cross-Origin-Resource-Policy"] == "same-origin"
    assert headers["Access-Control-Allow-Origin"] is None
    if not path.startswith("/static/"):
        assert headers["Cache-Control"] == "no-store"


@pytest.mark.parametrize("path", ["reading/", "answer/", "mend/", "sign/", "photograph/"])
def test_every_form_of_a_job_needs_its_token(port: int, path: str) -> None:
    """Without the token, with another's, or sent from another site, a form is refused before it is looked at."""
    kind = {"Content-Type": "application/x-www-form-urlencoded"}
    token = "t" * 32
    sent = urllib.parse.urlencode({"csrfmiddlewaretoken": token})
    own = f"http://127.0.0.1:{port}"
    for headers in (
        {},
        {"Cookie": f"csrftoken={'s' * 32}", "Origin": own},
        {"Cookie": f"csrftoken={token}", "Origin": "http://bench.example"},
        {"Cookie": f"csrftoken={token}", "Origin": "null"},
    ):
        status, _, text = ask(port, f"/job/nothing/{path}", "POST", sent, **kind, **headers)
        assert (status, "Not recorded" in text) == (403, True)
    status, _, _ = ask(port, f"/job/nothing/{path}", "POST", sent, **kind, Cookie=f"csrftoken={token}", Origin=own)
    assert status == 404, "with its token the form is looked at: there is no such job"


def test_the_key_that_makes_tokens_is_its_owners_alone(port: int, folder: Path) -> None:
    """Nobody else on this machine may read it."""
    assert port
    assert (folder / "form-key").stat().st_mode & 0o077 == 0


@pytest.mark.parametrize("file", [*TEMPLATES, *STYLES], ids=lambda file: file.name)
def test_nothing_is_fetched_from_elsewhere(file: Path) -> None:
    """No template and no style sheet names another machine, a script, or a style of its own."""
    text = file.read_text(encoding="utf-8")
    assert re.findall(r"(?:https?:)?//[a-z0-9]", text.replace("</", "<"), re.IGNORECASE) == []
    assert re.findall(r"<script|\son[a-z]+=|javascript:|\sstyle=|@import", text, re.IGNORECASE) == []
