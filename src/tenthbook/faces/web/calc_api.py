"""The calculators for other programs: JSON in, JSON out, by the contract of `tenthbook calc`.

Plain views. Nothing is asked of a cookie and only JSON is read, so that no form on another site can post here; a
browser sends JSON across sites only after asking, and the answer to that is no.
"""

from __future__ import annotations

import difflib
from collections.abc import Callable
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.views.decorators.csrf import csrf_exempt

from tenthbook.faces.calculators import NAMES, UnknownCalculator, load
from tenthbook.faces.calculators.answers import to_json
from tenthbook.faces.calculators.contract import parse
from tenthbook.faces.web.calc_openapi import describe
from tenthbook.numbers.because import Fault, TenthbookError, WrongInput

MOST_BYTES = 2_000_000
_MOST_THROWN_AWAY = 20_000_000
_PIECE = 65_536
_JSON = "application/json"
View = Callable[..., HttpResponse]


def _answer(value: Any, status: int = 200) -> HttpResponse:
    return HttpResponse(to_json(value), status=status, content_type=_JSON)


def _faulty(status: int, *faults: Fault, **more: Any) -> HttpResponse:
    records = [{"path": fault.path, "found": fault.found, "expected": fault.expected} for fault in faults]
    return _answer({"faults": records, **more}, status)


def _only(*methods: str) -> Callable[[View], View]:
    """Let a view answer these methods, in JSON whatever goes wrong."""

    def guard(view: View) -> View:
        def guarded(request: HttpRequest, *args: str, **named: str) -> HttpResponse:
            if request.method not in methods:
                response = _faulty(405, Fault("", f"method {request.method}", " or ".join(methods)))
                response.headers["Allow"] = ", ".join(methods)
                return response
            try:
                return view(request, *args, **named)
            except UnknownCalculator as error:
                nearest = difflib.get_close_matches(named.get("name", ""), NAMES)
                return _faulty(404, Fault("", error.found, error.expected), nearest=nearest)

        return csrf_exempt(guarded)

    return guard


def _too_large(request: HttpRequest, size: str) -> HttpResponse:
    """Refuse a body; up to a limit it is read and thrown away, since one who still sends hears no answer."""
    for _ in range(_MOST_THROWN_AWAY // _PIECE):
        if not request.read(_PIECE):
            break
    return _faulty(413, Fault("", f"{size} bytes", f"at most {MOST_BYTES}; cut a batch into several"))


def _computed(request: HttpRequest, name: str) -> HttpResponse:
    calculator = load(name)
    if request.content_type != _JSON:
        return _faulty(415, Fault("", f"content type {request.content_type or 'none'}", _JSON))
    stated = request.headers.get("Content-Length", "")
    if stated.isascii() and stated.isdigit() and int(stated) > MOST_BYTES:
        return _too_large(request, stated)
    try:
        return _answer(calculator.run(parse(request.body)))
    except WrongInput as error:
        return _faulty(422, *error.faults)
    except TenthbookError as error:
        return _faulty(422, Fault("", error.found, error.expected))


compute = _only("POST")(_computed)
listing = _only("GET", "HEAD")(
    lambda _request: _answer([{"name": name, "answers": listed.answers} for name, listed in NAMES.items()])
)
schema = _only("GET", "HEAD")(lambda _request, name: _answer(load(name).schema()))
example = _only("GET", "HEAD")(lambda _request, name: _answer(load(name).shown_example()))
openapi = _only("GET", "HEAD")(lambda _request: _answer(describe()))
