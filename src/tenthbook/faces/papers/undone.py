"""The undone list, to pin on the wall: what is still to do, where, why, and a box to tick by hand.

A tick on paper is no entry: a line goes when what it asks for is recorded.
"""

from __future__ import annotations

from typing import Any

from tenthbook.faces.papers.heading import JobAtHead, heading_of
from tenthbook.faces.papers.typeset import PaperSize, typeset
from tenthbook.record.workup import NOTHING_OPEN, Undone


def _line(line: Undone) -> dict[str, Any]:
    because = line.because
    return {
        "place": line.place,
        "what": line.what,
        "rule": because.rule,
        "rows": [{"row": row.row, "page": row.page} for row in because.rows],
        "entries": ", ".join(map(str, because.entries)),
    }


def undone_data(at: JobAtHead) -> dict[str, Any]:
    """Gather what the undone list prints.

    Args:
        at: The job at its head.

    Returns:
        Text, lists and objects, finished for printing.
    """
    return {**heading_of(at), "undone": [_line(line) for line in at.work.undone], "nothing_open": NOTHING_OPEN}


def undone_list(at: JobAtHead, *, size: PaperSize = "a4", made_on: str) -> bytes:
    """Print the undone list.

    Args:
        at: The job at its head.
        size: "a4" or "us-letter".
        made_on: Day of the paper, as 2026-10-02.

    Returns:
        The bytes of a tagged PDF, the same for the same job and day.

    Raises:
        CannotTypeset: the compiler refused; nothing was made.
    """
    data = undone_data(at)
    return typeset("undone", data, title=f"Undone, {data['engine']}, job {at.job}", size=size, made_on=made_on)
