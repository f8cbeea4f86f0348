"""The record of a job on a page: everything in order, what became of it, and the forms that mend and sign it."""

from __future__ import annotations

import os
import uuid
from collections.abc import Mapping
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import render
from django.views.decorators.http import require_GET, require_POST

from tenthbook.faces.photographs import look, reduced
from tenthbook.faces.web.acting import BENCH, act_of, faults_of_error, record, to_page
from tenthbook.faces.web.record_showing import (
    set_in_letters,
    show_anew,
    show_line,
    show_mending,
    show_statement,
    show_to_sign,
)
from tenthbook.faces.web.settings import PERSON
from tenthbook.numbers.because import TenthbookError
from tenthbook.record.bench.history import history
from tenthbook.record.bench.keys import opener
from tenthbook.record.bench.signing import record_words, sign_statement, state_what_is_signed
from tenthbook.record.job import JobState
from tenthbook.record.ledger import NoSuchStream, Withheld, WrongPhrase

_NOTHING = QueryDict()


def _state(job: str) -> JobState:
    try:
        return BENCH.state(job)
    except NoSuchStream as error:
        raise Http404(str(error)) from error


def _number(text: str) -> int:
    return int(text) if text.isascii() and text.isdigit() and len(text) < 10 else -1


def _context(job: str, state: JobState, mend: str, form: str = "", posted: QueryDict = _NOTHING) -> dict[str, Any]:
    """Gather the page: with an entry to mend, or with what was typed into the one form that was refused."""
    withheld = {name: one.reason for name, one in BENCH.people.state().withheld.items()}
    told = record_words(BENCH, job)
    lines = [show_line(state, line, withheld) for line in history(state)]
    typed = {name: posted.get(name, "") for name in posted if name != "phrase"}
    return {
        "job": job,
        "opened": state.opened,
        "head": state.head,
        "number": str(state.number),
        "person": PERSON,
        "lines": lines[::-1],
        "signatures": told.signatures,
        "keys": [set_in_letters(one) for one in told.keys],
        "standing": [set_in_letters(one) for one in told.standing],
        "mend": show_mending(state, _number(mend), typed if form == "mend" else {}),
        "to_sign": show_to_sign(state, lines, PERSON, posted.getlist("entries")),
        "anew": show_anew(state, PERSON),
        "form": form,
        "typed": typed,
        "request_id": uuid.uuid4().hex,
    }


@require_GET
def record_page(request: HttpRequest, job: str) -> HttpResponse:
    """Show everything recorded in a job, the newest first.

    Args:
        request: The request; `mend=NUMBER` opens the forms that correct or withdraw an entry.
        job: Id of the job.

    Returns:
        The page.

    Raises:
        Http404: no such job.
    """
    return render(request, "record.html", _context(job, _state(job), request.GET.get("mend", "")))


def _again(request: HttpRequest, job: str, error: TenthbookError, form: str) -> HttpResponse:
    mend = request.POST.get("entry", "") if form == "mend" else ""
    context = {**_context(job, _state(job), mend, form, request.POST), "faults": faults_of_error(error)}
    return render(request, "record.html", context, status=422)


@require_POST
def mend(request: HttpRequest, job: str) -> HttpResponse:
    """Correct or withdraw an entry.

    Args:
        request: The request: entry, reason, the button `correct` or `withdraw`, and the fields as they should be.
        job: Id of the job.

    Returns:
        A redirect to the record; or the page again with what was wrong.

    Raises:
        Http404: no such job.
    """
    state, posted = _state(job), request.POST
    number = _number(posted.get("entry", ""))
    shown = show_mending(state, number, {})
    data: dict[str, Any] = {"entry": number, "reason": posted.get("reason", "")}
    try:
        if posted.get("act") == "withdraw":
            record(request, job, "withdrawn", data)
        else:
            fields = shown["counts"] if shown else {}
            changed = {name: posted[name] for name in fields if name in posted and posted[name] != fields[name]}
            record(request, job, "corrected", {**data, "fields": changed})
    except TenthbookError as error:
        return _again(request, job, error, "mend")
    return to_page("record", job)


@require_POST
def take_photograph(request: HttpRequest, job: str) -> HttpResponse:
    """Take a photograph in, as it comes from the camera.

    Args:
        request: The request: the file, what it shows, and the tag of the part.
        job: Id of the job.

    Returns:
        A redirect to the record; or the page again with what was wrong.

    Raises:
        Http404: no such job.
    """
    _state(job)
    sent = request.FILES.get("photograph")
    content = sent.read() if sent is not None else b""
    try:
        seen = look(content)
        named = {name: request.POST.get(name, "") for name in ("tag", "says")}
        data = {**named, "media_type": seen.media_type, "taken_at": seen.taken_at}
        BENCH.photograph(job, os.urandom(32), content, data, act_of(request))
    except TenthbookError as error:
        return _again(request, job, error, "photograph")
    return to_page("record", job)


@require_GET
def photograph(request: HttpRequest, job: str, number: int) -> HttpResponse:  # noqa: ARG001 - Django's signature
    """Show a photograph: a reduced copy without what the camera wrote into it.

    Args:
        request: The request.
        job: Id of the job.
        number: Number of the entry.

    Returns:
        A JPEG.

    Raises:
        Http404: no such photograph, or one that was withheld.
    """
    shot = _state(job).photographs.get(number)
    if shot is None:
        raise Http404(f"no photograph in entry {number} of {job}")
    try:
        _, content = BENCH.store.attached(shot.commitment)
    except (Withheld, NoSuchStream) as error:
        raise Http404(str(error)) from error
    return HttpResponse(reduced(content), content_type="image/jpeg")


def _signing(posted: Mapping[str, str], entries: list[str]) -> tuple[list[int], str, int]:
    numbers = [_number(text) for text in entries]
    as_what = "second look" if posted.get("as_what") == "second look" else "own work"
    supersedes = _number(posted.get("supersedes", ""))
    return numbers, as_what, supersedes


@require_POST
def sign(request: HttpRequest, job: str) -> HttpResponse:
    """Show the statement to be signed; sign it where it was shown before, with the phrase of the key.

    Args:
        request: The request: entries, as what, and for a signature the digest shown and the phrase.
        job: Id of the job.

    Returns:
        The statement with its digest; or a redirect to the record once it is signed.

    Raises:
        Http404: no such job.
    """
    state, posted = _state(job), request.POST
    numbers, as_what, supersedes = _signing(posted.dict(), posted.getlist("entries"))
    faults: list[str] = []
    is_wrong_phrase = False
    try:
        if posted.get("act") == "sign":
            key = opener(BENCH.people, PERSON, posted.get("phrase", ""))
            shown = posted.get("shown", "")
            sign_statement(BENCH, job, shown, numbers, as_what, key, act_of(request), supersedes)
            return to_page("record", job)
    except TenthbookError as error:
        faults, is_wrong_phrase = faults_of_error(error), isinstance(error, WrongPhrase)
        state = _state(job)
    try:
        statement = state_what_is_signed(state, job, PERSON, numbers, as_what, supersedes)
    except TenthbookError as error:
        return _again(request, job, error, "sign")
    context = {
        "job": job,
        "opened": state.opened,
        "head": state.head,
        "number": str(state.number),
        "statement": statement,
        "lines": show_statement(statement.text),
        "entries": [str(number) for number in sorted(set(numbers))],
        "as_what": as_what,
        "supersedes": str(supersedes) if supersedes >= 0 else "",
        "request_id": uuid.uuid4().hex,
        "faults": faults,
        "is_wrong_phrase": is_wrong_phrase,
    }
    return render(request, "sign.html", context, status=422 if faults else 200)
