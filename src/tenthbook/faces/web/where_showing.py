"""Where a job stands, as its page prints it: what is certain, what is not, what runs, covers off, what waits.

Goes in: a job at one head, worked up, and where it stands at a time. Comes out: texts, lists and the ways on from each
line, finished for the template. Nothing is judged here.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from typing import Any
from urllib.parse import urlencode

from django.urls import reverse

from tenthbook.faces.web.do_forms import address_of
from tenthbook.faces.web.gates_showing import anchor_of, name_of, show_open
from tenthbook.faces.web.record_showing import set_in_letters, time_text
from tenthbook.record.job import JobState
from tenthbook.record.workup import Undone, Whereabouts
from tenthbook.record.workup.gate_rules import DOUBT, QUESTION
from tenthbook.record.workup.last_act import LastAct
from tenthbook.record.workup.whereabouts import Clock, CoverOff

_TIME = re.compile(r"\b\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}Z")
_TAKES_UP = {"put down": ("taken up", "take it up"), "handed over": ("hand-over received", "receive it")}


def to_do(job: str, kind: str, **fields: str) -> str:
    """Give the address of the form of an act, with fields filled in.

    Args:
        job: Id of the job.
        kind: Kind of the act.
        fields: Fields that are known.

    Returns:
        The address.
    """
    return reverse("do-act", args=[job, address_of(kind)]) + (f"?{urlencode(fields)}" if fields else "")


def _ways(job: str, line: Undone) -> list[dict[str, str]]:
    """The ways on from an uncertain line; a question is answered on the spot."""
    if line.because.rule == QUESTION.id or not line.because.entries:
        return []
    record, number = reverse("record", args=[job]), str(line.because.entries[0])
    correct = {"to": f"{record}?mend={number}", "words": "correct", "of": f"entry {number}"}
    if line.because.rule == DOUBT.id:
        again = to_do(job, "re-verified", entry=number)
        return [{"to": again, "words": "look again", "of": f"at entry {number}"}, correct]
    return [{"to": f"{record}#entry-{number}", "words": f"look at entry {number}", "of": ""}, correct]


def _uncertain(job: str, line: Undone) -> dict[str, Any]:
    asked = line.because.rule == QUESTION.id
    return {
        **show_open(line),
        "ways": _ways(job, line),
        "entry": str(line.because.entries[0]) if asked else "",
    }


def _clock(clock: Clock) -> dict[str, Any]:
    words = f"OVERDUE since {clock.until}" if clock.overdue else f"until {clock.until}"
    return {"what": set_in_letters(clock.what), "words": set_in_letters(words), "overdue": clock.overdue}


def _cover(cover: CoverOff) -> dict[str, Any]:
    left = cover.count - len(cover.first)
    return {
        "name": name_of(cover.gate),
        "anchor": anchor_of(cover.gate.id),
        "count": str(cover.count) if cover.count else "",
        "first": [set_in_letters(line.text) for line in cover.first],
        "left": f"and {left} more" if left else "",
        "inside": [_cover(one) for one in cover.inside],
    }


def _last(last: LastAct | None) -> dict[str, Any] | None:
    if last is None:
        return None
    value = f", {last.value}" if last.value else ""
    return {
        "kind": last.kind,
        "what": set_in_letters(f"{last.what}{value}"),
        "person": last.person,
        "at": time_text(last.at),
        "entry": str(last.entry),
    }


def _photograph(state: JobState, withheld: Collection[str]) -> dict[str, str] | None:
    shots = [one for one in state.photographs.values() if state.counts(one.entry) and one.commitment not in withheld]
    if not shots:
        return None
    return {"number": str(shots[-1].entry), "says": shots[-1].says, "tag": shots[-1].tag}


def _laid_down(job: str, state: JobState, told: str) -> dict[str, Any] | None:
    if not told or state.laid_down is None:
        return None
    kind, words = _TAKES_UP[state.laid_down.kind]
    said = _TIME.sub(lambda time: time_text(time[0]), told)
    return {"words": set_in_letters(said), "to": to_do(job, kind, entry=str(state.laid_down.entry)), "act": words}


def _away(days: int) -> str:
    return f"{days} day{'s' if days > 1 else ''} away" if days else ""


def show_where(job: str, state: JobState, found: Whereabouts, withheld: Collection[str]) -> dict[str, Any]:
    """Show where a job stands.

    Args:
        job: Id of the job.
        state: The job.
        found: Where it stands.
        withheld: Commitments of the photographs that were taken away.

    Returns:
        What the page prints, by name.
    """
    return {
        "last": _last(found.last),
        "days_away": _away(found.days_away),
        "uncertain": [_uncertain(job, line) for line in found.uncertain],
        "clocks": [_clock(clock) for clock in found.clocks],
        "covers": [_cover(cover) for cover in found.covers],
        "waits": [show_open(line) for line in found.waits],
        "laid_down": _laid_down(job, state, found.hand_over),
        "photograph": _photograph(state, withheld),
        "nothing_open": found.says if found.nothing_open else "",
    }
