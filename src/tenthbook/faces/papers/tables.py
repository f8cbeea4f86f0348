"""A job as tables for a spreadsheet: its readings, its dispositions, what is undone.

Every cell is text, digit for digit as it was typed. The readings and the dispositions hold what was withdrawn or
outdated too, and say so: `counts` is yes or nothing. A reading that was asked about and read again instead stands in
the history alone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import NamedTuple

from tenthbook.faces.papers.heading import JobAtHead
from tenthbook.numbers.sheet import SheetOut
from tenthbook.record.job import Reading
from tenthbook.record.job.state import Disposition

_Row = dict[str, str]
_YES = {True: "yes", False: ""}


def _part_cells(at: JobAtHead, tag: str, part: str = "") -> _Row:
    here = at.state.parts.get(tag)
    named = here.part if here is not None else part
    name = at.book.parts[named].name if named in at.book.parts else ""
    return {"tag": tag, "part": named, "name": name, "position": here.position if here is not None else ""}


def _reading_row(at: JobAtHead, reading: Reading) -> _Row:
    size, gauge = at.book.sizes.get(reading.row), at.state.gauge_of(reading)
    counting = {one.entry for one in at.state.standing(reading.tag, reading.row)}
    return {
        "entry": str(reading.entry),
        **_part_cells(at, reading.tag),
        "row": reading.row,
        "feature": size.feature if size is not None else "",
        "page": size.page if size is not None else "",
        "value": reading.value.typed,
        "unit": reading.value.unit.name,
        "station": reading.station,
        "direction": reading.direction,
        "gauge": reading.gauge,
        "expanded": str(gauge.expanded) if gauge is not None else "",
        "coverage_factor": gauge.coverage_factor if gauge is not None else "",
        "certificate": gauge.certificate if gauge is not None else "",
        "person": reading.person,
        "acted_at": reading.acted_at,
        "counts": _YES[reading.entry in counting],
        "why_not": _why_not(at, reading, counts=reading.entry in counting),
    }


def _why_not(at: JobAtHead, reading: Reading, *, counts: bool) -> str:
    if reading.entry in at.state.questions:
        return "asked about and not answered"
    if reading.entry in at.state.withdrawn:
        return f"withdrawn: {at.state.withdrawn[reading.entry]}"
    return "" if counts else "read again with another gauge, or the part was away since"


def _readings(at: JobAtHead) -> Iterator[_Row]:
    asked = {number: question.reading for number, question in at.state.questions.items()}
    for _, reading in sorted((at.state.readings | asked).items()):
        yield _reading_row(at, reading)


def _disposition_row(at: JobAtHead, one: Disposition) -> _Row:
    last = at.state.dispositions.get(one.of)
    return {
        "entry": str(one.entry),
        **_part_cells(at, one.tag, one.part),
        "disposition": one.word,
        "reason": one.reason,
        "procedure": one.procedure,
        "rests_on": "; ".join(map(str, one.rests_on)),
        "person": one.person,
        "acted_at": at.state.entries[one.entry].draft.acted_at,
        "counts": _YES[last is not None and last.entry == one.entry],
        "why_not": f"withdrawn: {at.state.withdrawn[one.entry]}" if one.entry in at.state.withdrawn else "",
    }


def _dispositions(at: JobAtHead) -> Iterator[_Row]:
    for _, one in sorted(at.state.decided.items()):
        yield _disposition_row(at, one)


def _undone(at: JobAtHead) -> Iterator[_Row]:
    for count, line in enumerate(at.work.undone, 1):
        yield {
            "number": str(count),
            "place": line.place,
            "what": line.what,
            "rule": line.because.rule,
            "rows": "; ".join(row.row for row in line.because.rows),
            "pages": "; ".join(row.page for row in line.because.rows),
            "entries": "; ".join(map(str, line.because.entries)),
        }


class _TableOf(NamedTuple):
    """How the rows of a table are made, and what each column is for; the columns are in the order of the words."""

    rows: Callable[[JobAtHead], Iterator[_Row]]
    says: dict[str, str]


_OF_PART = {
    "entry": "number of the entry",
    "tag": "tag of the part; blank for one that was not removed",
    "part": "id of the part in the book",
    "name": "what the manual calls the part",
    "position": "where it sat",
}
_OF_ACT = {
    "person": "who acted",
    "acted_at": "when, UTC",
    "counts": "yes where it counts now",
    "why_not": "why it does not count",
}
_OF_JOB = {
    "job": "id of the job",
    "head": "head of the ledger the table was made from",
    "invented": "yes: invented data, not for any engine",
}
TABLES_OF_A_JOB: dict[str, _TableOf] = {
    "readings": _TableOf(
        _readings,
        _OF_PART
        | {
            "row": "id of the size row",
            "feature": "what was measured",
            "page": "page of the manual",
            "value": "the reading, digit for digit as typed",
            "unit": "unit it was read in",
            "station": "place along the part",
            "direction": "direction across the part",
            "gauge": "id of the gauge",
            "expanded": "expanded uncertainty of a size read with it",
            "coverage_factor": "the factor it was expanded with",
            "certificate": "its calibration as then known",
        }
        | _OF_ACT,
    ),
    "dispositions": _TableOf(
        _dispositions,
        _OF_PART
        | {
            "disposition": "what becomes of the part",
            "reason": "why",
            "procedure": "by which procedure",
            "rests_on": "entries it rests on",
        }
        | _OF_ACT,
    ),
    "undone": _TableOf(
        _undone,
        {
            "number": "place in the list",
            "place": "where",
            "what": "what is to be done",
            "rule": "the rule that asks for it",
            "rows": "rows of the book it rests on",
            "pages": "their pages of the manual",
            "entries": "entries it rests on",
        },
    ),
}


def job_table(at: JobAtHead, table: str) -> SheetOut:
    """Make a table of a job.

    Args:
        at: The job at its head.
        table: "readings", "dispositions" or "undone".

    Returns:
        The table, to be written as CSV or as a sheet; each row names the job, its head and whether it is invented.
    """
    rows, says = TABLES_OF_A_JOB[table]
    invented = _YES[bool(at.state.opened["invented"])]
    of_job = {"job": at.job, "head": at.state.head, "invented": invented}
    columns = says | _OF_JOB
    return SheetOut(table, list(columns), [{**row, **of_job} for row in rows(at)], columns)
