"""Record any act by a form of its fields: the kinds in the order of the work, a form each, and what follows."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_http_methods

from tenthbook.faces.web.acting import BENCH, faults_of_error, record
from tenthbook.faces.web.do_forms import ELSEWHERE, GROUPS, KIND_AT, address_of, form_of, says, texts_of
from tenthbook.faces.web.do_known import Known, known_for
from tenthbook.faces.web.gates_showing import anchor_of, count_text, name_of, show_consequence, show_open
from tenthbook.faces.web.record_showing import set_in_letters
from tenthbook.faces.web.where_views import frame, look
from tenthbook.numbers.because import TenthbookError, WrongInput
from tenthbook.numbers.because.errors import one_line
from tenthbook.record.bench.history import told
from tenthbook.record.book import Book
from tenthbook.record.job import JobState, as_it_counts, fields_from_text
from tenthbook.record.workup import WorkUp
from tenthbook.record.workup.gates import gate_of_cover
from tenthbook.record.workup.still_open import named


@require_GET
def acts(request: HttpRequest, job: str) -> HttpResponse:
    """List what can be recorded, in the order of the work.

    Args:
        request: The request.
        job: Id of the job.

    Returns:
        The page.

    Raises:
        Http404: no such job.
    """
    state, _, _ = look(job)
    groups = [(group, [_listed(job, kind) for kind in kinds]) for group, kinds in GROUPS.items()]
    elsewhere = [{"kind": kind, "to": reverse(page, args=[job]), "says": at} for kind, (page, at) in ELSEWHERE.items()]
    return render(request, "do_list.html", {**frame(job, state), "groups": groups, "elsewhere": elsewhere})


def _listed(job: str, kind: str) -> dict[str, str]:
    return {"kind": kind, "to": reverse("do-act", args=[job, address_of(kind)]), "says": says(kind)}


def _offered(book: Book, state: JobState, kind: str, typed: Mapping[str, str]) -> Mapping[str, Any]:
    instruments = BENCH.crib.state().instruments
    gauges = [Known(one, instruments[one].name) for one in instruments]
    gauges += [Known(one.id, one.name) for one in state.gauges.values() if one.id not in instruments]
    people = [Known(one, "") for one in BENCH.people.state().people]
    return known_for(book, state, kind, typed.get("tag") or typed.get("part", ""), gauges, people)


def _of(state: JobState, data: Mapping[str, Any]) -> str:
    """The part that an act is about: by its tag, by its id, or by the act that this one answers."""
    about = state.acts.get(data["entry"]) if isinstance(data.get("entry"), int) else None
    told_before = about.told if about is not None else {}
    return str(data.get("tag") or data.get("part") or told_before.get("tag") or "")


def _follows(job: str, book: Book, state: JobState, work: WorkUp, of: str) -> dict[str, Any]:
    place = named(book, state, of)
    return {
        "part": set_in_letters(place),
        "follows": [show_consequence(book, state, one) for one in work.consequences if one.of == of and not one.met],
        "undone": [show_open(line) for line in work.undone if line.place == place],
        "measure": f"{reverse('job', args=[job])}{_first_to_measure(book, state, of)}",
    }


def _first_to_measure(book: Book, state: JobState, of: str) -> str:
    part = state.parts.get(of)
    rows = book.sizes_of(part.part) if part is not None else ()
    row = next((one.id for one in rows if not state.standing(of, one.id)), "")
    return f"?measure={of}/{row}" if row else ""


def _behind(job: str, book: Book, state: JobState, work: WorkUp, cover: str) -> Iterator[dict[str, str]]:
    gate = gate_of_cover(book, state, work, cover)
    if gate is not None:
        to = f"{reverse('gates', args=[job])}#{anchor_of(gate.id)}"
        yield {"words": f"{name_of(gate)}: {count_text(len(gate.opens))} before it closes", "to": to}


def _recorded(job: str, number: str, kind: str) -> dict[str, Any] | None:
    """What was recorded, and what follows from it; None where no such act was."""
    state, book, work = look(job)
    if not number.isascii() or not number.isdigit() or len(number) > 9 or int(number) > state.number:
        return None
    entry = state.entries[int(number)]
    if entry.kind != kind:
        return None
    data = as_it_counts(state, entry.number)
    of = _of(state, data)
    return {
        "number": str(entry.number),
        "kind": entry.kind,
        "told": set_in_letters(one_line(told(data))),
        "about": _follows(job, book, state, work, of) if of else None,
        "behind": list(_behind(job, book, state, work, str(data.get("cover", "")))),
    }


def _faults(error: TenthbookError) -> list[str]:
    """What was wrong, a line each; a field by the words that stand over it."""
    if not isinstance(error, WrongInput):
        return faults_of_error(error)
    return [str(replace(fault, path=fault.path.replace("_", " "))) for fault in error.faults]


def _wrong(error: TenthbookError) -> list[str]:
    return [fault.path.split(".")[0] for fault in error.faults] if isinstance(error, WrongInput) else []


@require_http_methods(["GET", "HEAD", "POST"])
def act(request: HttpRequest, job: str, kind: str) -> HttpResponse:
    """Show the form of a kind, and record what it says.

    Args:
        request: The request: the fields, request id and the head its reader saw; opened, fields that are known, or
            `recorded=NUMBER` for what an act led to.
        job: Id of the job.
        kind: The kind, with hyphens for blanks.

    Returns:
        The form; after recording a redirect to it with what follows; or the form again with what was wrong.

    Raises:
        Http404: no such job, or no kind that is recorded by its fields alone.
    """
    known = KIND_AT.get(address_of(kind))
    if known is None:
        raise Http404(f"no form for {kind}")
    if request.method == "POST":
        return _record(request, job, known)
    number = request.GET.get("recorded", "")
    typed = texts_of(known, request.GET)
    context = {**_context(job, known, typed), "recorded": _recorded(job, number, known)}
    return render(request, "do.html", context)


def _context(job: str, kind: str, typed: Mapping[str, str], *, is_sent: bool = False) -> dict[str, Any]:
    state, book, _ = look(job)
    offered = _offered(book, state, kind, typed)
    fields = form_of(kind, typed, offered, is_sent)
    return {**frame(job, state), "kind": kind, "slug": address_of(kind), "says": says(kind), "fields": fields}


def _record(request: HttpRequest, job: str, kind: str) -> HttpResponse:
    look(job)
    texts = texts_of(kind, request.POST)
    try:
        entry = record(request, job, kind, fields_from_text(kind, texts))
    except TenthbookError as error:
        wrong = _wrong(error)
        context = _context(job, kind, texts, is_sent=True)
        marked = [{**field, "is_wrong": field["name"] in wrong} for field in context["fields"]]
        return render(request, "do.html", {**context, "fields": marked, "faults": _faults(error)}, status=422)
    return HttpResponseRedirect(f"{reverse('do-act', args=[job, address_of(kind)])}?recorded={entry.number}")
