"""What is open before a cover closes or a release, what follows for the parts, what was decided: as words.

Goes in: a job at one head, worked up. Comes out: texts and lists, finished for the templates. Nothing is judged here.
"""

from __future__ import annotations

from typing import Any

from tenthbook.faces.web.record_showing import set_in_letters
from tenthbook.record.book import Book
from tenthbook.record.job import JobState
from tenthbook.record.job.state import Disposition
from tenthbook.record.workup import Gate, Undone
from tenthbook.record.workup.consequences import Consequence
from tenthbook.record.workup.gates import RELEASE
from tenthbook.record.workup.still_open import named

_COVER = "cover:"


def show_open(line: Undone) -> dict[str, Any]:
    """Show one thing that is open.

    Args:
        line: The line.

    Returns:
        Where, what, and its reasons.
    """
    return {"place": set_in_letters(line.place), "what": set_in_letters(line.what), "because": line.because.lines()}


def anchor_of(gate: str) -> str:
    """Name the place of a gate on its page.

    Args:
        gate: Id of the gate.

    Returns:
        The name.
    """
    return "gate-" + gate.removeprefix(_COVER)


def name_of(gate: Gate) -> str:
    """Name what a gate is of.

    Args:
        gate: The gate.

    Returns:
        The cover's name; for the release, all of it.
    """
    return gate.title.removesuffix(", before it closes")


def count_text(number: int) -> str:
    """Say how many things are open.

    Args:
        number: How many.

    Returns:
        For instance "3 open" or "nothing open".
    """
    return f"{number} open" if number else "nothing open"


def show_gate(state: JobState, gate: Gate) -> dict[str, Any]:
    """Show a gate with all that is open.

    Args:
        state: The job.
        gate: The gate.

    Returns:
        Its title, its lines, who overrode it and why, and the cover it is of; empty for the release.
    """
    number = gate.overridden_by
    act = state.acts.get(number)
    return {
        "anchor": anchor_of(gate.id),
        "title": gate.title,
        "count": count_text(len(gate.opens)),
        "opens": [show_open(line) for line in gate.opens],
        "cover": gate.id.removeprefix(_COVER) if gate.id != RELEASE else "",
        "overridden_by": str(number) if act is not None else "",
        "overridden": f"{act.person}: {act.told['reason']}" if act is not None else "",
    }


def show_consequence(book: Book, state: JobState, one: Consequence) -> dict[str, Any]:
    """Show what follows for a part.

    Args:
        book: The pinned book.
        state: The job.
        one: The consequence.

    Returns:
        How strongly, for which part, what, and where it is forced the dispositions that are left, with the field that
        names the part in the form that decides.
    """
    return {
        "force": one.force,
        "decide": {"tag" if one.of in state.parts else "part": one.of} if one.words else {},
        "place": set_in_letters(named(book, state, one.of)),
        "says": set_in_letters(one.says),
        "words": ", ".join(one.words),
        "because": one.because.lines(),
    }


def show_decided(book: Book, state: JobState, one: Disposition) -> dict[str, Any]:
    """Show what was decided for a part.

    Args:
        book: The pinned book.
        state: The job.
        one: The disposition as it counts.

    Returns:
        The part, the word, why, by whom, and since when it is in doubt.
    """
    by = state.doubted.get(one.entry, ())
    return {
        "place": set_in_letters(named(book, state, one.of)),
        "word": one.word + (f", by {one.procedure}" if one.procedure else ""),
        "reason": set_in_letters(one.reason),
        "person": one.person,
        "entry": str(one.entry),
        "doubted": f"in doubt since entry {by[-1]}" if by else "",
    }
