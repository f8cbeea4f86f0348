"""The entry, ready to sign in ink, as a sheet of its own; refused while a field is missing."""

from __future__ import annotations

from tenthbook.faces.papers.heading import JobAtHead, heading_of
from tenthbook.faces.papers.typeset import PaperSize, typeset
from tenthbook.numbers.because import Refused
from tenthbook.record.bench.entry_of_job import JobEntry

SHOWN = 12  # open lines that the sheet repeats


def entry_sheet(at: JobAtHead, entry: JobEntry, *, size: PaperSize = "a4", made_on: str) -> bytes:
    """Print an entry to be signed.

    Args:
        at: The job at its head.
        entry: The entry.
        size: "a4" or "us-letter".
        made_on: Day of the paper, as 2026-10-02.

    Returns:
        The bytes of a tagged PDF, the same for the same job, entry and day.

    Raises:
        Refused: something is missing in it; nothing was made.
        CannotTypeset: the compiler refused; nothing was made.
    """
    if not entry.text.ready:
        raise Refused(entry.text.missing)
    opens = [line.text for line in entry.opens]
    more = len(opens) - SHOWN if len(opens) > SHOWN else 0
    told = {"lines": list(entry.text.lines), "opens": opens[:SHOWN], "more": str(more), "rule": entry.text.because.rule}
    data = {**heading_of(at), **told, "evidence": ", ".join(map(str, entry.text.because.entries))}
    return typeset("entry", data, title=f"Entry to sign, {data['engine']}, job {at.job}", size=size, made_on=made_on)
