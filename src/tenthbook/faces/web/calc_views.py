"""The pages of the calculators: their list, and for each a form, its answer, its picture and its working."""

from __future__ import annotations

import difflib
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_http_methods, require_safe

from tenthbook.faces.calculators import NAMES, load
from tenthbook.faces.calculators.contract import Calculator
from tenthbook.faces.web.calc_drawing import picture_of
from tenthbook.faces.web.calc_form import Slot, form_of
from tenthbook.faces.web.calc_showing import show_answer, show_form
from tenthbook.faces.web.calc_typed import document_of, row_numbers, typed_of, without_gaps
from tenthbook.numbers.because import Fault, TenthbookError, WrongInput

_MOST_ROWS = 100


def _listed(request: HttpRequest, unknown: str = "") -> HttpResponse:
    rows = [{"name": name, "answers": listed.answers} for name, listed in NAMES.items()]
    near = difflib.get_close_matches(unknown, NAMES)
    context = {"calculators": rows, "unknown": unknown, "near": near}
    return render(request, "calc_list.html", context, status=404 if unknown else 200)


@require_safe
def calculators(request: HttpRequest) -> HttpResponse:
    """List the calculators.

    Args:
        request: The request.

    Returns:
        The page.
    """
    return _listed(request)


def _empty_rows(slots: tuple[Slot, ...], request: HttpRequest, typed: dict[str, str]) -> int:
    """One empty row behind the filled ones; each press of "one more" adds another."""
    if "more" not in request.POST:
        return 1
    sent = sum(len(row_numbers(slot.name, request.POST)) for slot in slots if slot.kind == "rows")
    filled = sum(len(row_numbers(slot.name, typed)) for slot in slots if slot.kind == "rows")
    return max(1, min(sent, _MOST_ROWS) - filled + 1)


def _answered(calculator: Calculator, document: dict[str, Any]) -> tuple[dict[str, Any], list[Fault]]:
    try:
        answer, working = calculator.worked(document)
    except WrongInput as error:
        return {}, list(error.faults)
    except TenthbookError as error:
        return {}, [Fault("", error.found, error.expected)]
    shown = show_answer(answer, calculator.schema()["output"])
    return {"answer": shown, "picture": picture_of(calculator.name, document, answer), "working": working}, []


@require_http_methods(["GET", "HEAD", "POST"])
def calculator(request: HttpRequest, name: str) -> HttpResponse:
    """Show a calculator's form, and its answer to what was typed.

    Args:
        request: The request; `?example=1` fills the published example in.
        name: Name of the calculator.

    Returns:
        The page; with status 422 where something is wrong, every fault at its field and what was typed kept; with 404
        and the nearest names where no calculator is called so.
    """
    if name not in NAMES:
        return _listed(request, name)
    chosen = load(name)
    slots = form_of(chosen.schema()["input"])
    asked = request.method == "POST" and "more" not in request.POST
    typed = {path: text for path, text in request.POST.items() if isinstance(text, str)}
    if request.GET.get("example") and request.method != "POST":
        typed = typed_of(slots, chosen.example.input)
    typed = without_gaps(slots, typed)
    shown, faults = _answered(chosen, document_of(slots, typed)) if asked else ({}, [])
    context = {
        "name": name,
        "answers": NAMES[name].answers,
        "example": chosen.example,
        "rows": [slot.words for slot in slots if slot.kind == "rows"],
        **show_form(slots, typed, faults, _empty_rows(slots, request, typed)),
        **shown,
    }
    return render(request, "calc.html", context, status=422 if faults else 200)
