"""The entry of a job, as far as the job can fill it in: engine, data, pack, words for the work, evidence for its word.

What the job cannot know, such as who approves and under which certificate, is filled in by the person who will sign.
What is still open before a release is said beside it; the entry itself is judged by its own form.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields
from typing import Any, get_args, get_type_hints

from tenthbook.numbers.because import Fault, Refusal, Register, Rule, WrongInput
from tenthbook.record.bench.bench import Bench
from tenthbook.record.bench.earned import evidence_of
from tenthbook.record.book import Book
from tenthbook.record.job import JobState
from tenthbook.record.job.looks import covers_off
from tenthbook.record.release import FORMS, EntryText, Given, RepairAsked, entry_text
from tenthbook.record.workup import Undone
from tenthbook.record.workup.gates import RELEASE, gates_of
from tenthbook.record.workup.still_open import name_of_part

REPAIR = "repair."  # before the name of what is asked about a major repair
_SHOWN = 3
_DONE = {
    "replace": "to be replaced",
    "mandatory replace": "to be replaced, mandatory",
    "repair": "repair",
    "rework to size": "rework to size",
    "scrap": "scrapped",
}
_INVENTED = "Invented data. Not for any engine."


RULES = Register()
NOTHING_OPEN = RULES.add(
    Rule(
        id="entry.nothing-open",
        says="An entry that approves has nothing open in this book before a release, or states it as not completed, "
        "with the limits that hold until it is.",
        source="rule of this book; for work not completed M.A.801 (read)",
        holds=lambda opens, approves, stated: not opens or not approves or stated,
        passes={"opens": ("scope: not agreed",), "approves": False, "stated": False},
        fails={"opens": ("scope: not agreed",), "approves": True, "stated": False},
        todo="settle what is open; or write approved=no: the entry then records work and approves nothing",
    )
)


@dataclass(frozen=True, slots=True)
class JobEntry:
    """The entry of a job.

    Attributes:
        text: The entry, and everything that is in its way.
        opens: What is open in this book before a release.
    """

    text: EntryText
    opens: tuple[Undone, ...]


def described(book: Book, state: JobState) -> str:
    """Describe the work from what was decided, in the words of the dispositions.

    Args:
        book: The pinned book.
        state: The job.

    Returns:
        One text; empty where nothing was decided.
    """
    done: list[str] = []
    for one in state.dispositions.values():
        if one.word in _DONE:
            name = name_of_part(book, state, one.of)
            done.append(f"{name}: {_DONE[one.word]}" + (f" by {one.procedure}" if one.procedure else ""))
    kept = sum(one.word in ("in new limits", "in service limits") for one in state.dispositions.values())
    told = "; ".join(done)
    return f"{told}; {kept} parts measured and kept" if done and kept else told


def _known(stream: str, state: JobState, book: Book) -> dict[str, str]:
    times = [act for act in state.acts_that_count("times stated") if act.told["of"] == "engine"]
    data = f"{book.head['manual']}, revision {book.head['revision']}"
    return {
        "engine": str(state.opened.get("engine", "")),
        "reason": str(state.opened.get("reason", "")),
        "description": described(book, state),
        "total_time": times[-1].told["total"] if times else "",
        "data": data,
        "technical_data": data,
        "job": stream,
        "head": state.head,
        "worksheets": f"measuring sheets of job {stream}",
    }


def _repair(state: JobState, book: Book, typed: Mapping[str, str]) -> RepairAsked:
    split = "case split" in {counted for cover in covers_off(state) for counted in _counts_as(book, cover)}
    hints = get_type_hints(RepairAsked)
    values: dict[str, Any] = {"case_split": "yes" if split else "no"}
    for name, text in typed.items():
        if name not in hints:
            expected = "one of " + ", ".join(f"{REPAIR}{one.name}" for one in fields(RepairAsked))
            raise WrongInput([Fault(f"{REPAIR}{name}", text, expected)])
        choices = get_args(hints[name])
        several = choices[-1:] == (...,)
        if not several and text not in choices:
            raise WrongInput([Fault(f"{REPAIR}{name}", text, "one of " + ", ".join(filter(None, choices)))])
        values[name] = tuple(one.strip() for one in text.split(";") if one.strip()) if several else text
    return RepairAsked(**values)


def _counts_as(book: Book, cover: str) -> tuple[Any, ...]:
    row = book.rows["access"].get(cover)
    return row.several("counts_as") if row is not None else ()


def entry_of_job(bench: Bench, stream: str, form: str, typed: Mapping[str, str]) -> JobEntry:
    """Write the entry of a job on one of the forms.

    Args:
        bench: The bench.
        stream: Id of the job.
        form: Id of the form: work, inspection, europe or nz.
        typed: What the signer fills in, by field; what is asked about a major repair under `repair.` and its name.

    Returns:
        The entry, with everything that is missing in it, and what is open in this book.

    Raises:
        WrongInput: a form or a field that is not known.
    """
    if form not in FORMS:
        raise WrongInput([Fault("form", repr(form), "one of " + ", ".join(FORMS))])
    state, book, work = bench.look(stream)
    names = {field.id for field in FORMS[form].fields}
    known = {name: text for name, text in _known(stream, state, book).items() if name in names}
    filled = known | {name: text for name, text in typed.items() if not name.startswith(REPAIR)}
    asked = {name.removeprefix(REPAIR): text for name, text in typed.items() if name.startswith(REPAIR)}
    (release,) = [gate for gate in gates_of(book, state, work) if gate.id == RELEASE]
    in_the_way = tuple(_open_before(release.opens, filled))
    marks = (_INVENTED,) if state.opened.get("invented") else ()
    given = Given(evidence_of(state, work), filled, _repair(state, book, asked), marks, in_the_way)
    return JobEntry(entry_text(FORMS[form], given), release.opens)


def _open_before(opens: tuple[Undone, ...], filled: Mapping[str, str]) -> Iterator[Refusal]:
    left = tuple(line.text for line in opens)
    stated = filled.get("incomplete", "none").strip().casefold() not in ("", "none")
    if not NOTHING_OPEN.holds(opens=left, approves=filled.get("approved", "") != "no", stated=stated):
        more = f"; and {len(left) - _SHOWN} more" if len(left) > _SHOWN else ""
        yield Refusal(NOTHING_OPEN.id, "; ".join(left[:_SHOWN]) + more, NOTHING_OPEN.says, NOTHING_OPEN.todo)
