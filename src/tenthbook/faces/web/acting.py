"""What every page that records shares: the bench, who acts, under which request, and how a fault is shown."""

from __future__ import annotations

import uuid
from typing import Any
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.urls import reverse

from tenthbook.faces.store.database import DjangoStore, utc_now
from tenthbook.faces.web.settings import PERSON
from tenthbook.numbers.because import Refused, TenthbookError, WrongInput
from tenthbook.record.bench import Bench
from tenthbook.record.ledger import Entry

BENCH = Bench(DjangoStore())


def act_of(request: HttpRequest) -> dict[str, str]:
    """Say who acts, when, and under which request.

    Args:
        request: The request, with the form's own request id.

    Returns:
        Person, request and time, as the bench takes them.
    """
    return {"person": PERSON, "request": request.POST.get("request") or uuid.uuid4().hex, "acted_at": utc_now()}


def record(request: HttpRequest, job: str, kind: str, data: dict[str, Any]) -> Entry:
    """Record what a form says, under its own request id and the head its reader saw.

    Args:
        request: The request.
        job: Id of the job.
        kind: Kind of the entry.
        data: Its fields.

    Returns:
        The entry.
    """
    return BENCH.record(job, kind, data, **act_of(request), seen=request.POST.get("seen", ""))


def faults_of_error(error: TenthbookError) -> list[str]:
    """Write what was wrong, a line each.

    Args:
        error: What was raised.

    Returns:
        Every fault or broken rule.
    """
    if isinstance(error, Refused):
        return [str(refusal) for refusal in error.refusals]
    if isinstance(error, WrongInput):
        return [str(fault) for fault in error.faults]
    return [str(error)]


def to_page(name: str, job: str, **query: str) -> HttpResponse:
    """Go to a page of a job.

    Args:
        name: Its name.
        job: Id of the job.
        query: What the address says besides.

    Returns:
        The redirect.
    """
    return HttpResponseRedirect(reverse(name, args=[job]) + (f"?{urlencode(query)}" if query else ""))
