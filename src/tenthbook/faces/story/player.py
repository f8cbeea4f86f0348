"""Plays the script on a bench, line by line, and compares what is seen with what the script says."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from tenthbook.faces.story.script import Act, Line, Script
from tenthbook.numbers.because import TenthbookError
from tenthbook.record.bench import Bench
from tenthbook.record.book import Book
from tenthbook.record.workup import FitVerdict, PartVerdict, SizeVerdict, WorkUp, headline
from tenthbook.record.workup.words import word

Judged = SizeVerdict | FitVerdict | PartVerdict


class TurnedOutOtherwise(TenthbookError):
    """The book answers otherwise than the script says."""


class StoryClock:
    """The clock of the story: it shows the time of the line being played."""

    def __init__(self) -> None:
        """Start at no time."""
        self.now = ""

    def __call__(self) -> str:
        """Read it.

        Returns:
            The time of the line, UTC.
        """
        return self.now


@dataclass(frozen=True, slots=True)
class Scene:
    """A line that was played.

    Attributes:
        act: The act it belongs to.
        line: The line.
        judged: What was looked at, where the line looks at something.
    """

    act: Act
    line: Line
    judged: Judged | None


def look_at(work: WorkUp, place: str) -> Judged | None:
    """Find what a line looks at.

    Args:
        work: The worked-up job.
        place: Id of a row of the book, or the tag of a part.

    Returns:
        The verdict there, or None.
    """
    for fit in work.fits:
        if fit.fit.id == place:
            return fit
    for size in work.sizes:
        if size.size.id == place:
            return size
    return next((part for part in work.parts if part.part.tag == place), None)


def seen(judged: Judged | None) -> str:
    """Write what is seen.

    Args:
        judged: A verdict, or None.

    Returns:
        Its line; "nothing" where there is none.
    """
    if judged is None:
        return "nothing"
    return word(judged.grade) if isinstance(judged, PartVerdict) else headline(judged.verdict)


def play(script: Script, book: Book, bench: Bench, clock: StoryClock) -> Iterator[Scene]:
    """Play a script.

    Args:
        script: The script.
        book: The book it names.
        bench: Where it is played; its store must read `clock`.
        clock: The clock that the playing sets.

    Yields:
        A scene a line, after it was recorded.

    Raises:
        TurnedOutOtherwise: what is seen differs from what the script says.
        Refused: a rule refuses what the script records.
    """
    clock.now = script.opened_at
    bench.open_job(
        script.job, book, script.opened, person=script.opened_by, request="story.open", acted_at=script.opened_at
    )
    for act in script.acts:
        for number, line in enumerate(act.lines, 1):
            clock.now = line.at
            if line.does:
                request = f"story.{act.act}.{number}"
                bench.record(script.job, line.does, line.fields, person=line.who, request=request, acted_at=line.at)
            judged = look_at(bench.work_up(script.job), line.place) if line.place else None
            if line.sees and seen(judged) != line.sees:
                found = f"{seen(judged)!r} at {line.place} in act {act.act}, line {number}"
                raise TurnedOutOtherwise(found=found, expected=repr(line.sees), todo="mend the script, or the sum")
            yield Scene(act, line, judged)
