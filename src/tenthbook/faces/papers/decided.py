"""What the inspection report says of decisions: scope, looks and tests, findings, what was decided, what follows."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from tenthbook.record.book import Book
from tenthbook.record.job import JobState
from tenthbook.record.job.looks import events_of, scope_of
from tenthbook.record.job.state import Act
from tenthbook.record.workup import WorkUp
from tenthbook.record.workup.still_open import name_of_part

_LOOKS = ("cleaned", "inspected", "crack-tested")


def _times(state: JobState) -> Iterator[str]:
    last = {act.told["of"]: act.told for act in state.acts_that_count("times stated")}
    for of, told in last.items():
        since = f", {told['since_overhaul']} since overhaul" if told["since_overhaul"] else ""
        yield f"{of} {told['total']}{since} ({told['read_from']})"


def _events(state: JobState) -> Iterator[str]:
    answered = events_of(state)
    for answer in ("yes", "not known", "no"):
        events = [event for event, act in answered.items() if act.told["answer"] == answer]
        if events:
            yield f"{answer}: {', '.join(events)}"


def intake_lines(state: JobState) -> list[tuple[str, str]]:
    """Write what was settled when the engine came in.

    Args:
        state: The job.

    Returns:
        Heading and words, a pair a line; nothing for what was not settled.
    """
    lines: list[tuple[str, str]] = []
    scope = scope_of(state)
    if scope is not None:
        told = scope.told
        lines.append(("agreed", f"{told['work']}, {told['standard']}, with {told['agreed_with']}"))
        lines.append(("data", f"{told['manual']}, revision {told['revision']}; checked: {told['checked_current']}"))
    lines += [("times", text) for text in _times(state)]
    lines += [("events", text) for text in _events(state)]
    for act in state.acts_that_count("document listed"):
        told = act.told
        lines.append(
            (told["document"], f"{told['number']}, {told['subject']}: applies: {told['applies']} ({told['why']})")
        )
    for act in state.acts_that_count("document answered"):
        listed = state.acts[act.told["entry"]].told
        lines.append(
            (f"{listed['document']} answered", f"{listed['number']}: {act.told['answer']}, {act.told['method']}")
        )
    return lines


def _look_words(act: Act) -> str:
    told = act.told
    if act.kind == "cleaned":
        return f"cleaned: {told['process']}"
    if act.kind == "inspected":
        return f"{told['result']}: {told['says']}"
    field = f"; residual field {told['residual']}" if told["residual"] else ""
    test = f"{told['method']}, {told['procedure']}, {told['operator']} ({told['level']})"
    says = f": {told['says']}" if told["says"] else ""
    return f"{told['result']}{says}; {test}{field}; cleaned after: {told['cleaned_after']}"


def look_rows(book: Book, state: JobState) -> list[dict[str, str]]:
    """Give the cleanings, looks, tests and findings of a job, in the order of their entries.

    Args:
        book: The pinned book.
        state: The job.

    Returns:
        Place, name, words, person and entry of each.
    """
    acts = [act for kind in (*_LOOKS, "finding seen") for act in state.acts_that_count(kind)]
    return [_look_row(book, state, act) for act in sorted(acts, key=lambda act: act.entry)]


def _look_row(book: Book, state: JobState, act: Act) -> dict[str, str]:
    of = act.told["tag"] or act.told.get("part", "")
    told = act.told
    if act.kind == "finding seen":
        extent = f", {told['extent']}" if told["extent"] else ""
        words = f"finding: {told['term']} at {told['place']}{extent}{'. ' + told['says'] if told['says'] else ''}"
    else:
        words = _look_words(act)
    name = name_of_part(book, state, of) if of else "engine"
    return {"place": act.told["tag"], "name": name, "words": words, "person": act.person, "entry": str(act.entry)}


def disposition_rows(book: Book, state: JobState) -> list[dict[str, Any]]:
    """Give what becomes of each part, as last decided.

    Args:
        book: The pinned book.
        state: The job.

    Returns:
        Place, name, word, reason, person, entry, and whether it is in doubt.
    """
    return [
        {
            "place": one.tag,
            "name": name_of_part(book, state, one.of),
            "word": one.word,
            "reason": one.reason + (f" ({one.procedure})" if one.procedure else ""),
            "person": one.person,
            "entry": str(one.entry),
            "doubted": one.entry in state.doubted,
        }
        for one in state.dispositions.values()
    ]


def consequence_rows(work: WorkUp) -> list[dict[str, str]]:
    """Give what follows and is not met.

    Args:
        work: The worked-up job.

    Returns:
        Force, place and name, words, and the rule.
    """
    return [
        {
            "force": one.force,
            "name": f"{one.of} {one.name}",
            "words": one.says + (f" ({' or '.join(one.words)})" if one.words else ""),
            "rule": one.because.rule,
        }
        for one in work.consequences
        if not one.met
    ]
