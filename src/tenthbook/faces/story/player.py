"""Plays the script on a bench, line by line, and compares what is seen with what the script says."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from tenthbook.faces.story.clock import StoryClock, TurnedOutOtherwise
from tenthbook.faces.story.founding import found
from tenthbook.faces.story.recording import Playing
from tenthbook.faces.story.script import Act, Line, Script
from tenthbook.record.bench import Bench
from tenthbook.record.book import Book
from tenthbook.record.workup import FitVerdict, PartVerdict, SizeVerdict, WorkUp, headline
from tenthbook.record.workup.words import word

Judged = SizeVerdict | FitVerdict | PartVerdict


@dataclass(frozen=True, slots=True)
class Scene:
    """A line that was played.

    Attributes:
        act: The act it belongs to.
        line: The line.
        judged: What was looked at, where the line looks at something.
        asked: What the book asked instead of taking a reading; empty where it asked nothing.
        told: What the book told besides: why it refused, or what is in doubt now.
    """

    act: Act
    line: Line
    judged: Judged | None
    asked: str
    told: tuple[str, ...] = ()


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


def play(
    script: Script, book: Book, bench: Bench, clock: StoryClock, photographs: Mapping[str, bytes]
) -> Iterator[Scene]:
    """Play a script.

    Args:
        script: The script.
        book: The book it names.
        bench: Where it is played; its store must read `clock`.
        clock: The clock that the playing sets.
        photographs: Bytes of the script's photographs by file name.

    Yields:
        A scene a line, after it was recorded.

    Raises:
        TurnedOutOtherwise: what is seen differs from what the script says, or a photograph is not there.
        Refused: a rule refuses what the script records.
    """
    if bench.people.state().number < 0:
        list(found(script, bench, clock))
    clock.now = script.opened_at
    who = {"person": script.opened_by, "acted_at": script.opened_at}
    bench.open_job(script.job, book, script.opened, request="story.open", **who)
    playing = Playing(bench, script.job, photographs)
    for act in script.acts:
        for number, line in enumerate(act.lines, 1):
            clock.now = line.at
            at = f"act {act.act}, line {number}" + (f" at {line.place}" if line.place else "")
            asked, told = playing.record(line, f"story.{act.act}.{number}", at) if line.does else ("", ())
            work = bench.work_up(script.job) if line.place else None
            judged = look_at(work, line.place) if work is not None else None
            _compare(line, judged, asked, at)
            if work is not None and line.follows:
                told = (*told, _following(work, line, at))
            yield Scene(act, line, judged, asked, told)


def _following(work: WorkUp, line: Line, place: str) -> str:
    found = [f"{one.force}: {one.says}" for one in work.consequences if one.of == line.place]
    if line.follows not in found:
        told = "; ".join(found) or "nothing"
        raise TurnedOutOtherwise(
            found=f"{told!r} in {place}", expected=repr(line.follows), todo="mend the script, or the sum"
        )
    return line.follows


def _compare(line: Line, judged: Judged | None, asked: str, place: str) -> None:
    found = [
        (line.sees, seen(judged) if line.sees else ""),
        (line.foresees, line.foresees if line.foresees in _forecasts(judged) else "; ".join(_forecasts(judged))),
        ("a question" if line.is_asked else "no question", "a question" if asked else "no question"),
    ]
    for expected, turned_out in found:
        if expected != turned_out and expected:
            raise TurnedOutOtherwise(
                found=f"{turned_out!r} in {place}", expected=repr(expected), todo="mend the script, or the sum"
            )


def _forecasts(judged: Judged | None) -> list[str]:
    return [forecast.line for forecast in judged.forecasts] if isinstance(judged, FitVerdict) else []
