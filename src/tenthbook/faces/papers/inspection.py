"""The inspection and disposition report: what was found and what it means, what was decided, what is undone."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import Any

from tenthbook.faces.draw import draw_edge, draw_gap
from tenthbook.faces.draw.verdicts import drawing_of_fit, drawing_of_size
from tenthbook.faces.papers.decided import consequence_rows, disposition_rows, intake_lines, look_rows
from tenthbook.faces.papers.heading import JobAtHead, heading_of
from tenthbook.faces.papers.typeset import PaperSize, typeset
from tenthbook.numbers.because import BookRow
from tenthbook.numbers.limit import Band, Grade
from tenthbook.record.bench.signing import RecordWords
from tenthbook.record.book import Book, LimitRow
from tenthbook.record.job import JobState
from tenthbook.record.workup import NOTHING_OPEN, FitVerdict, SizeVerdict, WorkUp, headline, mark_of
from tenthbook.record.workup.words import word

_MOST_DRAWINGS = 2
_LEFT_OUT = ("read ", "standard uncertainty ", "rule ")
_SCREEN_PAPER = "#FBFAF6"  # what lies behind a number on a screen; a sheet of paper is white


def _limits(row: LimitRow) -> dict[str, str]:
    def shown(band: Band) -> str:
        if band.lower is not None and band.upper is not None:
            return f"{band.lower.typed} to {band.upper.typed}"
        if band.lower is not None:
            return f"min {band.lower.typed}"
        return f"max {band.upper.typed}" if band.upper is not None else "none given"

    return {"new": shown(row.limits.new), "service": shown(row.limits.service), "unit": row.unit.name, "page": row.page}


def _short_working(judged: SizeVerdict | FitVerdict) -> list[str]:
    """The working without what the row shows already; the guard stands where it decided."""
    left_out = ("read ", "standard uncertainty ") if judged.verdict.grade is Grade.UNDECIDED else _LEFT_OUT
    return [line for line in judged.because.arithmetic if not line.startswith(left_out)]


def _row(judged: SizeVerdict | FitVerdict, place: str, row: LimitRow, unread: Collection[str]) -> dict[str, Any]:
    return {
        "place": place,
        "name": judged.name,
        "value": judged.text,
        "verdict": headline(judged.verdict) if judged.verdict.side else word(judged.verdict.grade),
        "mark": mark_of(judged.verdict.grade),
        "working": "; ".join(_short_working(judged)),
        "entries": ", ".join(map(str, judged.because.entries)),
        "safety": row.safety,
        "unverified": any(one.digest in unread for one in judged.because.rows),
        **_limits(row),
    }


def _drawings(book: Book, work: WorkUp) -> list[dict[str, str]]:
    """Draw what is beyond its limit, fits first, as many as the page has room for."""
    drawn: list[dict[str, str]] = []
    for fit in work.fits:
        if fit.verdict.grade is Grade.REJECT:
            inner, outer = (book.parts[side.part.part].name for side in (fit.shaft, fit.hole))
            record = drawing_of_fit(fit, inner, outer)
            drawn.append({"name": fit.name, "svg": draw_gap(record, name=f"g{len(drawn)}"), "words": record.sentence})
    for size in work.sizes:
        if size.verdict.grade is Grade.REJECT:
            edge = drawing_of_size(book, size)
            name = f"{book.parts[size.part.part].name}, {size.name}"
            drawn.append({"name": name, "svg": draw_edge(edge, name=f"e{len(drawn)}"), "words": edge.sentence})
    for one in drawn:
        one["svg"] = one["svg"].replace(_SCREEN_PAPER, "#FFFFFF")
    return drawn[:_MOST_DRAWINGS]


def report_data(
    job: str,
    book: Book,
    state: JobState,
    work: WorkUp,
    unread: Sequence[BookRow] = (),
    record: RecordWords | None = None,
) -> dict[str, Any]:
    """Gather what the report prints.

    Args:
        job: Id of the job.
        book: The pinned book.
        state: The job at its head.
        work: The same, worked up.
        unread: Rows of the book that the verdicts rest on and that nobody read a second time.
        record: Who signed what, by which keys, and what of the record asks to be looked at.

    Returns:
        Text, lists and objects, finished for printing.
    """
    names = {tag: book.parts[part.part].name for tag, part in state.parts.items()}
    digests = {one.digest for one in unread}
    told = record or RecordWords()
    return {
        **heading_of(JobAtHead(job, book, state, work)),
        "unread": [{"row": row.row, "page": row.page} for row in unread],
        "fits": [_row(fit, f"{fit.hole.part.tag}, {fit.shaft.part.tag}", fit.fit, digests) for fit in work.fits],
        "sizes": [_row(size, f"{size.part.tag} {names[size.part.tag]}", size.size, digests) for size in work.sizes],
        "parts": [
            {"place": part.part.tag, "name": part.name, "verdict": word(part.grade), "mark": mark_of(part.grade)}
            for part in work.parts
        ],
        "intake": [{"what": what, "words": words} for what, words in intake_lines(state)],
        "looks": look_rows(book, state),
        "dispositions": disposition_rows(book, state),
        "follows": consequence_rows(work),
        "drawings": _drawings(book, work),
        "undone": [{"place": line.place, "what": line.what} for line in work.undone],
        "nothing_open": NOTHING_OPEN,
        "signatures": list(told.signatures),
        "keys": list(told.keys),
        "standing": list(told.standing),
    }


def inspection_report(
    job: str,
    book: Book,
    state: JobState,
    work: WorkUp,
    *,
    unread: Sequence[BookRow] = (),
    record: RecordWords | None = None,
    size: PaperSize = "a4",
    made_on: str,
) -> bytes:
    """Print the inspection report.

    Args:
        job: Id of the job.
        book: The pinned book.
        state: The job at its head.
        work: The same, worked up.
        unread: Rows of the book that the verdicts rest on and that nobody read a second time.
        record: Who signed what, by which keys, and what of the record asks to be looked at.
        size: "a4" or "us-letter".
        made_on: Day of the paper, as 2026-10-02.

    Returns:
        The bytes of a tagged PDF, the same for the same job and day.

    Raises:
        CannotTypeset: the compiler refused; nothing was made.
    """
    data = report_data(job, book, state, work, unread, record)
    return typeset(
        "inspection", data, title=f"Inspection report, {data['engine']}, job {job}", size=size, made_on=made_on
    )
