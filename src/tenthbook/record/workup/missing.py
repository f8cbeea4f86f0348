"""What this job still needs from the manual, apart from what no job has needed yet.

A book grows by the job. Of everything it lacks, only what touches a part on the bench is missing now: the rows those
parts are measured by, the fits, joints, torques and steps they belong to.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from tenthbook.numbers.because import Because, BookRow, Register, Rule
from tenthbook.numbers.limit import Grade
from tenthbook.record.book import Book
from tenthbook.record.book.findings import Finding, Weight
from tenthbook.record.job import JobState
from tenthbook.record.workup.undone import Undone
from tenthbook.record.workup.whole import WorkUp

RULES = Register()
TO_MEASURE = RULES.add(
    Rule(
        id="missing.nothing-to-measure",
        says="The book has a size or an inspection for every part on the bench.",
        source="rule of this book",
        holds=lambda sizes, inspections: sizes + inspections > 0,
        passes={"sizes": 1, "inspections": 0},
        fails={"sizes": 0, "inspections": 0},
        todo="type the part's rows from the manual's page: tenthbook job row",
    )
)
LIMIT_KNOWN = RULES.add(
    Rule(
        id="missing.limit",
        says="The book has a limit for what was measured: in its own row, or in a fit that names it.",
        source="rule of this book",
        holds=lambda grades: any(grade != Grade.NO_LIMIT for grade in grades),
        passes={"grades": (Grade.NO_LIMIT, Grade.SERVICE)},
        fails={"grades": (Grade.NO_LIMIT,)},
        todo="read the page again; where the manual gives none, ask the holder of the data",
    )
)
_NAMING = ("parts", "part", "hole", "shaft", "joint", "measures", "inspections", "behind")


@dataclass(frozen=True, slots=True)
class Missing:
    """What a book lacks, seen from one job.

    Attributes:
        now: What parts on the bench need, each with its reason.
        rows: Names that lead nowhere yet in rows this job touches.
        later: Names that lead nowhere yet in other rows: not yet needed.
    """

    now: tuple[Undone, ...]
    rows: tuple[Finding, ...]
    later: tuple[Finding, ...]


def touched_rows(book: Book, state: JobState) -> set[tuple[str, str]]:
    """List the rows a job touches: those of the parts on its bench, and those that name them, one step on.

    Args:
        book: The book of the job.
        state: The job.

    Returns:
        Table and id of each.
    """
    names = {part.part for part in state.parts.values()}
    touched = {("parts", name) for name in names}
    for table in ("sizes", "fits", "inspections", "joints", "torques", "steps", "follow_ups"):
        for row in book.rows[table].values():
            if any(name in names for column in _NAMING for name in row.several(column)):
                touched.add((table, row.id))
                names |= {row.id} if table == "sizes" else {row.text("joint")} if table == "joints" else set()
    return touched


def _nothing_to_measure(book: Book, state: JobState) -> Iterator[Undone]:
    for part in state.parts.values():
        inspections = sum(1 for row in book.rows["inspections"].values() if row.text("part") == part.part)
        if not TO_MEASURE.holds(sizes=len(book.sizes_of(part.part)), inspections=inspections):
            row = book.rows["parts"][part.part]
            because = Because(TO_MEASURE.id, (part.entry,), (BookRow(row.id, row.page, row.digest),))
            yield Undone(f"{part.tag} {book.parts[part.part].name}", "no size and no inspection in the book", because)


def _no_limit(work: WorkUp) -> Iterator[Undone]:
    for size in work.sizes:
        fits = work.fits_of(size.part.tag, size.size.id)
        grades = [size.verdict.grade, *(fit.verdict.grade for fit in fits)]
        if not LIMIT_KNOWN.holds(grades=grades):
            because = Because(LIMIT_KNOWN.id, size.because.entries, size.because.rows)
            yield Undone(f"{size.part.tag} {size.name}", "measured, and the book has no limit for it", because)


def missing_for(book: Book, state: JobState, work: WorkUp, findings: Iterable[Finding]) -> Missing:
    """Part what a job needs now from what no job has needed yet.

    Args:
        book: The book of the job, with the rows typed in it.
        state: The job.
        work: The worked-up job.
        findings: What the checker found in the book.

    Returns:
        What is missing now, and what is not yet needed; what is wrong or asked about is in neither.
    """
    touched = touched_rows(book, state)
    missing = [one for one in findings if one.weight is Weight.MISSING]
    here = [one for one in missing if (one.place.partition(":")[0].removesuffix(".csv"), one.row) in touched]
    later = tuple(one for one in missing if one not in here)
    return Missing((*_nothing_to_measure(book, state), *_no_limit(work)), tuple(here), later)
