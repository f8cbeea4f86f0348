"""Where was I? The last certain act, what is uncertain since, the clocks that run, what is open behind each cover.

Told from recorded entries and from the time that whoever asks gives; no clock is read here. The most it ever says is
that nothing is open in this book.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from tenthbook.numbers.because import Because, Register, Rule
from tenthbook.record.book import Book
from tenthbook.record.job import JobState
from tenthbook.record.ledger import Entry
from tenthbook.record.workup.gate_rules import DOUBT, QUESTION
from tenthbook.record.workup.gates import Gate, gates_of
from tenthbook.record.workup.last_act import ACTS, LastAct, last_act
from tenthbook.record.workup.still_open import Undone, away_open, named, priced_open
from tenthbook.record.workup.whole import WorkUp
from tenthbook.record.workup.words import NOTHING_OPEN

RULES = Register()
LONGEST = timedelta(hours=8)
SHOWN = 3  # open lines that an outline repeats
_HANDS = ACTS | {"taken up", "hand-over received"}
PUT_DOWN = RULES.add(
    Rule(
        id="whereabouts.put-down",
        says="Work that is left for more than eight hours is put down or handed over first.",
        source="common practice, no source: eight hours are a day's work",
        holds=lambda hours, put_down: put_down or hours <= LONGEST.total_seconds() / 3600,
        passes={"hours": 8.0, "put_down": False},
        fails={"hours": 8.1, "put_down": False},
        todo="look at what was in hand last; what cannot be told is done again",
    )
)
CLOCK = RULES.add(
    Rule(
        id="whereabouts.clock",
        says="What was preserved until a day is done again by that day; what is promised for a day is there on it.",
        source="rule of this book",
        holds=lambda until, today: today <= until,
        passes={"until": "2026-10-20", "today": "2026-10-20"},
        fails={"until": "2026-10-20", "today": "2026-10-21"},
        todo="preserve it again, or ask where it is",
    )
)
RECEIVED = RULES.add(
    Rule(
        id="whereabouts.received",
        says="Work handed over is in nobody's hands until it is received.",
        source="rule of this book",
        holds=lambda kind, ended: kind != "handed over" or ended >= 0,
        passes={"kind": "handed over", "ended": 12},
        fails={"kind": "handed over", "ended": -1},
        todo="let whoever takes it over record it",
    )
)


@dataclass(frozen=True, slots=True)
class Clock:
    """A day that something runs to.

    Attributes:
        what: What runs, in words.
        until: Its last day.
        overdue: Whether that day is over.
        because: Why.
    """

    what: str
    until: str
    overdue: bool
    because: Because


@dataclass(frozen=True, slots=True)
class CoverOff:
    """A cover that is off, with those behind it.

    Attributes:
        gate: What is open before it closes.
        first: The first lines of that.
        inside: Covers behind it that are off, too.
    """

    gate: Gate
    first: tuple[Undone, ...]
    inside: tuple[CoverOff, ...]

    @property
    def count(self) -> int:
        """How many things are open before it closes."""
        return len(self.gate.opens)


@dataclass(frozen=True, slots=True)
class Whereabouts:
    """Where a job stands for whoever comes back to it.

    Attributes:
        as_of: The time it was asked, UTC.
        last: The last certain act; None before the first.
        uncertain: What must be looked at or answered before going on.
        days_away: Whole days since the last act.
        clocks: What runs to a day, the next first.
        covers: Covers off, as they lie behind each other.
        waits: Parts that are elsewhere, answers of the owner, a hand-over that was not received.
        hand_over: How the work was left, in words; empty where it is in hand.
        nothing_open: Whether nothing at all is open: undone, before a cover or a release, uncertain, waiting, overdue.
    """

    as_of: str
    last: LastAct | None
    uncertain: tuple[Undone, ...]
    days_away: int
    clocks: tuple[Clock, ...]
    covers: tuple[CoverOff, ...]
    waits: tuple[Undone, ...]
    hand_over: str
    nothing_open: bool

    @property
    def says(self) -> str:
        """Whether anything is open, in words; it never says more than that nothing is."""
        return NOTHING_OPEN if self.nothing_open else "Open in this book"


def _moment(text: str) -> datetime:
    read = datetime.fromisoformat(text)
    return read if read.tzinfo is not None else read.replace(tzinfo=UTC)


def _since(at: str, as_of: str) -> timedelta:
    return max(_moment(as_of) - _moment(at), timedelta(0))


def _last_in_hand(state: JobState) -> Entry | None:
    """The last entry by which somebody had the work in hand."""
    entries = (one for one in reversed(state.entries) if one.kind in _HANDS and one.number not in state.unknown)
    return next(entries, None)


def _left(book: Book, state: JobState, as_of: str) -> Iterator[Undone]:
    last, laid = _last_in_hand(state), state.laid_down
    if last is None:
        return
    hours = _since(last.draft.acted_at, as_of).total_seconds() / 3600
    if not PUT_DOWN.holds(hours=hours, put_down=laid is not None and laid.entry > last.number):
        certain = last_act(book, state)
        told = (f"last certain: {certain.text}",) if certain is not None else ()
        because = Because(PUT_DOWN.id, (last.number,), (), told)
        yield Undone(f"work of {last.draft.person}", "left without being put down", because)


def _uncertain(book: Book, state: JobState, as_of: str) -> Iterator[Undone]:
    yield from _left(book, state, as_of)
    for number, by in state.doubted.items():
        if number not in state.withdrawn:
            because = Because(DOUBT.id, (number, *by))
            yield Undone(f"entry {number}, {state.entries[number].kind}", f"in doubt since entry {by[-1]}", because)
    for number, one in state.questions.items():
        yield Undone(named(book, state, one.reading.tag), one.asks, Because(QUESTION.id, (number,)))


def _clocks(book: Book, state: JobState, today: str) -> list[Clock]:
    preserved = {act.told["what"]: act for act in state.acts_that_count("preserved")}
    running = [(f"{what}, preserved", act.told["until"], act.entry) for what, act in preserved.items()]
    for tag, act in state.away.items():
        if act.told["due"]:
            running.append((f"{named(book, state, tag)}, promised by {act.told['to']}", act.told["due"], act.entry))
    clocks = (_clock(what, until, entry, today) for what, until, entry in running)
    return sorted(clocks, key=lambda one: one.until)


def _clock(what: str, until: str, entry: int, today: str) -> Clock:
    return Clock(what, until, not CLOCK.holds(until=until, today=today), Because(CLOCK.id, (entry,)))


def _outline(book: Book, gates: Sequence[Gate]) -> tuple[CoverOff, ...]:
    """Covers off as they lie behind each other; one whose outer cover is on or not known stands outermost."""
    off = {gate.id.removeprefix("cover:"): gate for gate in gates if gate.id.startswith("cover:")}
    behind: dict[str, list[str]] = {}
    for cover in off:
        row = book.rows["access"].get(cover)
        outer = row.text("behind") if row is not None else ""
        behind.setdefault(outer if outer in off else "", []).append(cover)

    def within(outer: str) -> tuple[CoverOff, ...]:
        covers = behind.get(outer, [])
        return tuple(CoverOff(off[one], off[one].opens[:SHOWN], within(one)) for one in covers)

    return within("")


def _hand_over(state: JobState) -> str:
    laid, last = state.laid_down, _last_in_hand(state)
    if laid is None or laid.ended >= 0 or (last is not None and last.number > laid.entry):
        return ""
    to = f" to {laid.to}, not received" if laid.kind == "handed over" else ""
    at = state.entries[laid.entry].draft.acted_at
    return f"{laid.kind} by {laid.person}{to}, {at}: {laid.told['stands']}"


def _waits(book: Book, state: JobState) -> list[Undone]:
    laid = state.laid_down
    waits = [*away_open(book, state), *priced_open(state)]
    if laid is not None and not RECEIVED.holds(kind=laid.kind, ended=laid.ended):
        waits.append(Undone(f"handed over to {laid.to}", "not received", Because(RECEIVED.id, (laid.entry,))))
    return waits


def where_was_i(book: Book, state: JobState, work: WorkUp, as_of: str) -> Whereabouts:
    """Say where a job stands for whoever comes back to it.

    Args:
        book: The pinned book.
        state: The job.
        work: The same, worked up.
        as_of: The time it is asked, UTC, such as "2026-11-14T08:00:00Z"; a day alone is its beginning.

    Returns:
        The last certain act and what is uncertain, runs, is open and waits since.
    """
    gates = gates_of(book, state, work)
    uncertain, waits = tuple(_uncertain(book, state, as_of)), tuple(_waits(book, state))
    clocks = tuple(_clocks(book, state, as_of[:10]))
    last = _last_in_hand(state)
    opens = any(gate.opens for gate in gates) or any(clock.overdue for clock in clocks)
    return Whereabouts(
        as_of=as_of,
        last=last_act(book, state),
        uncertain=uncertain,
        days_away=_since(last.draft.acted_at, as_of).days if last is not None else 0,
        clocks=clocks,
        covers=_outline(book, gates),
        waits=waits,
        hand_over=_hand_over(state),
        nothing_open=not (opens or work.undone or uncertain or waits),
    )
