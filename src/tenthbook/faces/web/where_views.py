"""Where was I, with the form that puts the work down; and the gates, with all that is open and why."""

from __future__ import annotations

import uuid
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET, require_POST

from tenthbook.faces.store.database import utc_now
from tenthbook.faces.web.acting import BENCH, faults_of_error, record, to_page
from tenthbook.faces.web.gates_showing import show_consequence, show_decided, show_gate
from tenthbook.faces.web.where_showing import show_where
from tenthbook.numbers.because import TenthbookError
from tenthbook.record.bench.bench import NoBook
from tenthbook.record.book import Book
from tenthbook.record.job import JobState
from tenthbook.record.ledger import NoSuchStream
from tenthbook.record.workup import NOTHING_OPEN, WorkUp, gates_of, where_was_i


def look(job: str) -> tuple[JobState, Book, WorkUp]:
    """Give a job, its book and what follows from them.

    Args:
        job: Id of the job.

    Returns:
        State, book and work-up.

    Raises:
        Http404: no such job, or one without a book.
    """
    try:
        return BENCH.look(job)
    except (NoSuchStream, NoBook) as error:
        raise Http404(str(error)) from error


def frame(job: str, state: JobState) -> dict[str, Any]:
    """Gather what every page of a job shows around its work.

    Args:
        job: Id of the job.
        state: The job.

    Returns:
        Job, engine, head, and a request id for its form.
    """
    return {
        "job": job,
        "opened": state.opened,
        "head": state.head,
        "number": str(state.number),
        "request_id": uuid.uuid4().hex,
    }


def _where(job: str) -> dict[str, Any]:
    state, book, work = look(job)
    found = where_was_i(book, state, work, utc_now())
    withheld = BENCH.people.state().withheld
    return {**frame(job, state), **show_where(job, state, found, withheld)}


@require_GET
def where_page(request: HttpRequest, job: str) -> HttpResponse:
    """Say where the work on a job was left.

    Args:
        request: The request.
        job: Id of the job.

    Returns:
        The page.

    Raises:
        Http404: no such job.
    """
    return render(request, "where.html", _where(job))


@require_POST
def put_down(request: HttpRequest, job: str) -> HttpResponse:
    """Put the work down: how it stands.

    Args:
        request: The request.
        job: Id of the job.

    Returns:
        A redirect to where the work stands; or the page again with what was wrong and what was typed.

    Raises:
        Http404: no such job.
    """
    look(job)
    stands = request.POST.get("stands", "")
    try:
        record(request, job, "put down", {"stands": stands.replace("\r\n", "\n").strip()})
    except TenthbookError as error:
        context = {**_where(job), "faults": faults_of_error(error), "stands": stands}
        return render(request, "where.html", context, status=422)
    return to_page("where", job)


@require_GET
def gates_page(request: HttpRequest, job: str) -> HttpResponse:
    """Show what is open before each cover closes and before a release, what follows for the parts, what was decided.

    Args:
        request: The request.
        job: Id of the job.

    Returns:
        The page.

    Raises:
        Http404: no such job.
    """
    state, book, work = look(job)
    context = {
        **frame(job, state),
        "gates": [show_gate(state, gate) for gate in gates_of(book, state, work)],
        "follows": [show_consequence(book, state, one) for one in work.consequences if not one.met],
        "decided": [show_decided(book, state, one) for one in state.dispositions.values()],
        "nothing_open": NOTHING_OPEN,
    }
    return render(request, "gates.html", context)
