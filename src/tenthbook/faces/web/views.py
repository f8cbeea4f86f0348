"""The list of jobs, and the first page of a job with its one armed field."""

from __future__ import annotations

import uuid
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET, require_POST

from tenthbook.faces.web.acting import BENCH, faults_of_error, record, to_page
from tenthbook.faces.web.showing import features, gauge_choices, show_fit, show_part, show_questions, show_taken
from tenthbook.numbers.because import TenthbookError
from tenthbook.record.bench.history import standing_lines
from tenthbook.record.ledger import NoSuchStream
from tenthbook.record.workup import NOTHING_OPEN


@require_GET
def jobs(request: HttpRequest) -> HttpResponse:
    """Show the list of jobs.

    Args:
        request: The request.

    Returns:
        The page.
    """
    rows = [{"job": stream, **dict(BENCH.state(stream).opened)} for stream in BENCH.jobs()]
    return render(request, "jobs.html", {"jobs": rows})


def _wanted(place: str) -> tuple[str, str] | None:
    tag, slash, row = place.partition("/")
    return (tag, row) if slash else None


def _job_context(job: str, wanted: tuple[str, str] | None, taken: str, gauge: str | None = None) -> dict[str, Any]:
    state, book, work = BENCH.look(job)
    listed = features(book, state, wanted)
    last = max(state.readings, default=-1)
    reading = state.readings.get(int(taken) if taken.isascii() and taken.isdigit() else last)
    armed = next((feature for feature in listed if feature.armed), None)
    return {
        "job": job,
        "opened": state.opened,
        "head": state.head,
        "number": str(state.number),
        "features": listed,
        "armed": armed,
        "gauges": gauge_choices(state, armed, gauge),
        "questions": show_questions(book, state),
        "taken": show_taken(book, work, reading.tag, reading.row) if reading else [],
        "parts": [show_part(part) for part in work.parts],
        "fits": [show_fit(book, fit) for fit in work.fits],
        "undone": work.undone,
        "unread": BENCH.unread(job),
        "nothing_open": NOTHING_OPEN,
        "standing": [*standing_lines(state), *BENCH.crib.findings(state)],
        "request_id": uuid.uuid4().hex,
    }


@require_GET
def job_page(request: HttpRequest, job: str) -> HttpResponse:
    """Show a job: the armed field, what was just taken, and what is undone.

    Args:
        request: The request; `measure=TAG/ROW` arms a feature, `taken=NUMBER` shows what an entry led to.
        job: Id of the job.

    Returns:
        The page.

    Raises:
        Http404: no such job.
    """
    try:
        wanted, taken = _wanted(request.GET.get("measure", "")), request.GET.get("taken", "")
        context = _job_context(job, wanted, taken, request.GET.get("gauge"))
    except NoSuchStream as error:
        raise Http404(str(error)) from error
    return render(request, "job.html", context)


def _with_unit(text: str, unit: str) -> str:
    """Give a typed number the unit of its field, unless the person typed one."""
    stripped = " ".join(text.split())
    return stripped if " " in stripped or not stripped else f"{stripped} {unit}"


@require_POST
def take_reading(request: HttpRequest, job: str) -> HttpResponse:
    """Take the reading of the armed field, then arm the next.

    Args:
        request: The request, with tag, row, value, request id and the head its reader saw.
        job: Id of the job.

    Returns:
        A redirect to the job's page; or the page again with what was wrong and what was typed.

    Raises:
        Http404: no such job.
    """
    posted = {name: request.POST.get(name, "") for name in ("tag", "row", "value", "gauge", "request", "seen")}
    try:
        size = BENCH.book(job).sizes.get(posted["row"])
        value = _with_unit(posted["value"], size.unit.name if size else "in")
        data = {"tag": posted["tag"], "row": posted["row"], "value": value, "gauge": posted["gauge"]}
        entry = record(request, job, "reading taken", data)
    except NoSuchStream as error:
        raise Http404(str(error)) from error
    except TenthbookError as error:
        context = _job_context(job, (posted["tag"], posted["row"]), "", posted["gauge"])
        return render(
            request, "job.html", {**context, "faults": faults_of_error(error), "typed": posted["value"]}, status=422
        )
    if entry.kind == "question asked":
        return to_page("job", job, measure=f"{posted['tag']}/{posted['row']}", gauge=posted["gauge"])
    return to_page("job", job, taken=str(entry.number))


@require_POST
def answer_question(request: HttpRequest, job: str) -> HttpResponse:
    """Answer a question about a reading.

    Args:
        request: The request, with the entry that asked, the answer, request id and the head its reader saw.
        job: Id of the job.

    Returns:
        A redirect to the job's page with the same feature armed again; or the page with what was wrong.

    Raises:
        Http404: no such job.
    """
    entry = request.POST.get("entry", "")
    number = int(entry) if entry.isascii() and entry.isdigit() else -1
    try:
        question = BENCH.state(job).questions.get(number)
        record(request, job, "question answered", {"entry": number, "answer": request.POST.get("answer", "")})
    except NoSuchStream as error:
        raise Http404(str(error)) from error
    except TenthbookError as error:
        return render(
            request, "job.html", {**_job_context(job, None, ""), "faults": faults_of_error(error)}, status=422
        )
    if question is None:
        return to_page("job", job)
    if request.POST.get("answer") == "stands":
        return to_page("job", job, taken=entry)
    reading = question.reading
    return to_page("job", job, measure=f"{reading.tag}/{reading.row}", gauge=reading.gauge)


def not_found(request: HttpRequest, exception: Exception) -> HttpResponse:  # noqa: ARG001 - Django's signature
    """Say that there is no such page.

    Args:
        request: The request.
        exception: What was raised.

    Returns:
        The page, with the way back.
    """
    return render(request, "missing.html", {"path": request.path}, status=404)


def stale_form(request: HttpRequest, reason: str = "") -> HttpResponse:  # noqa: ARG001 - Django's signature
    """Say that a form came from elsewhere, or is too old to be trusted.

    Args:
        request: The request.
        reason: Django's word for it.

    Returns:
        The page, with the way back; nothing was recorded.
    """
    return render(request, "stale.html", {"path": request.path}, status=403)
