"""Every paper of a job by the name it is asked for, and the words under which the ledger says that it was issued."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from tenthbook.faces.papers.heading import JobAtHead
from tenthbook.faces.papers.inspection import inspection_report
from tenthbook.faces.papers.measuring import measuring_sheet
from tenthbook.faces.papers.tags import blank_rows, tag_rows, tags
from tenthbook.faces.papers.typeset import PaperSize
from tenthbook.faces.papers.undone import undone_list
from tenthbook.numbers.because import TenthbookError

Maker = Callable[[JobAtHead, PaperSize, str], bytes]


class NoPaper(TenthbookError):
    """A paper that a job cannot have, or not yet."""


@dataclass(frozen=True, slots=True)
class Paper:
    """One paper of a job.

    Attributes:
        issued_as: What the entry `papers issued` calls it.
        make: Makes it, of a job at its head, for a size of sheet and a day.
        make_blank: Makes it to be written on by hand; None where that has no sense.
    """

    issued_as: str
    make: Maker
    make_blank: Maker | None = None


def _inspection(at: JobAtHead, size: PaperSize, made_on: str) -> bytes:
    record = (at.job, at.book, at.state, at.work)
    return inspection_report(*record, unread=at.unread, record=at.record, size=size, made_on=made_on)


def _filled(at: JobAtHead, size: PaperSize, made_on: str) -> bytes:
    return measuring_sheet(at, size=size, made_on=made_on)


def _to_write_on(at: JobAtHead, size: PaperSize, made_on: str) -> bytes:
    return measuring_sheet(at, blank=True, size=size, made_on=made_on)


def _tags(at: JobAtHead, size: PaperSize, made_on: str) -> bytes:
    rows = tag_rows(at)
    if not rows:
        todo = "record a part as removed, or print blank tags with --blank"
        raise NoPaper(found=f"job {at.job} without a part on the bench", expected="a part to tag", todo=todo)
    return tags(at, rows, size=size, made_on=made_on)


def _blank_tags(at: JobAtHead, size: PaperSize, made_on: str) -> bytes:
    return tags(at, blank_rows(at), size=size, made_on=made_on)


def _undone(at: JobAtHead, size: PaperSize, made_on: str) -> bytes:
    return undone_list(at, size=size, made_on=made_on)


PAPERS: dict[str, Paper] = {
    "inspection": Paper("inspection report", _inspection),
    "measuring-sheet": Paper("measuring sheet", _filled, _to_write_on),
    "tags": Paper("tags", _tags, _blank_tags),
    "undone": Paper("undone list", _undone),
}


def make_paper(
    at: JobAtHead, paper: str, *, blank: bool = False, size: PaperSize = "a4", made_on: str
) -> tuple[str, bytes]:
    """Make a paper of a job.

    Args:
        at: The job at its head.
        paper: Its name, one of `PAPERS`.
        blank: True for one to be written on by hand.
        size: "a4" or "us-letter".
        made_on: Day of the paper, as 2026-10-02.

    Returns:
        What the ledger calls it, and the bytes of a tagged PDF.

    Raises:
        NoPaper: a blank one was asked for where that has no sense, or there is nothing to print.
        CannotTypeset: the compiler refused; nothing was made.
    """
    named = PAPERS[paper]
    if not blank:
        return named.issued_as, named.make(at, size, made_on)
    if named.make_blank is None:
        able = ", ".join(name for name, one in PAPERS.items() if one.make_blank is not None)
        raise NoPaper(found=f"a blank {named.issued_as}", expected=f"one of {able}", todo="leave --blank out")
    return f"{named.issued_as}, blank", named.make_blank(at, size, made_on)
