"""Where metal goes once it is in the oil, and which of those places nobody has cleaned, looked into or decided on yet.

The list opens with the first entry that tells of metal: a finding called metal, or the event, answered with yes or not
known. It is closed only by acts recorded after that entry: a part cleaned, looked at with nothing found, or decided on
with a word other than hold and not disturbed. Such an act names a place by its part, or in its own words on how it was
cleaned or looked at. A note closes nothing, and no model shortens the list.

Source: common practice, no source; the parts that the book itself names for metal come from its rows.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from tenthbook.numbers.because import Because, BookRow
from tenthbook.record.book.rows import TypedRow
from tenthbook.record.job.looks import happened
from tenthbook.record.job.state import Act, JobState
from tenthbook.record.workup.deciding_rules import GONE
from tenthbook.record.workup.gate_rules import METAL_GROUP, METAL_PART
from tenthbook.record.workup.still_open import Facts, Undone, cited, named

METAL = "metal found"
_NOT_SETTLED = ("hold", "not disturbed")
_KINDS = ("cleaned", "inspected", "crack-tested")
GROUPS: Mapping[str, Mapping[str, str]] = {
    "cooler": {"cooler": r"\bcoolers?$"},
    "hoses": {"hoses": r"\bhoses?$"},
    "governor": {"governor": r"\bgovernor"},
    "hollow shaft and hub": {"hollow shaft": r"\bcrankshaft$|\bpropeller shaft$", "hub": r"\bhubs?$"},
    "relief and bypass valves": {"relief valve": r"\brelief\b", "bypass valve": r"\bbypass\b"},
    "plugged galleries": {"plugged galleries": r"\bgaller(y|ies)\b"},
    "tappets": {"tappets": r"\btappets?\b|\bcam followers?\b"},
}
_IN_WORDS = {"hollow shaft": r"\bcrankshaft\b|\bhollow shaft\b|\bpropeller shaft\b"}


def metal_told(state: JobState) -> tuple[int, ...]:
    """List the entries that tell of metal.

    Args:
        state: The job.

    Returns:
        Their numbers, ascending; empty where no metal was found.
    """
    found = [act.entry for act in state.acts_that_count("finding seen") if act.told["term"] == "metal"]
    event = happened(state).get(METAL)
    return tuple(sorted([*found, *([event.entry] if event is not None else [])]))


def metal_open(facts: Facts) -> Iterator[Undone]:
    """List what the metal list still asks for.

    Args:
        facts: What is known.

    Yields:
        A line for each piece that the book names for metal, then one for each place that no act names.
    """
    told = metal_told(facts.state)
    if told:
        yield from _parts_open(facts, told)
        yield from _groups_open(facts, told)


def _pieces(facts: Facts, part: str) -> list[str]:
    tags = facts.tags.get(part, ())
    return [*tags, *([part] if facts.book.parts[part].quantity > len(tags) else [])]


def _parts_open(facts: Facts, told: tuple[int, ...]) -> Iterator[Undone]:
    for part, row in facts.book.rows["parts"].items():
        if METAL in row.several("mandatory_when"):
            for of in _pieces(facts, part):
                decided = facts.decided.get(of)
                gone = decided is not None and decided.word in GONE
                yield from _part_line(facts, told, of, row, "replaced where metal was found: not decided so", gone)
    for row in facts.book.rows["inspections"].values():
        if METAL in row.several("when"):
            for of in _pieces(facts, row.text("part")):
                done = _closed(facts, told[0], of, row)
                yield from _part_line(facts, told, of, row, f"{row.text('what')} for metal: not done", done)


def _part_line(
    facts: Facts, told: tuple[int, ...], of: str, row: TypedRow, what: str, decided: bool
) -> Iterator[Undone]:
    if not METAL_PART.holds(metal=told, decided=decided):
        yield Undone(named(facts.book, facts.state, of), what, Because(METAL_PART.id, told, (cited(row),)))


def _closed(facts: Facts, since: int, of: str, row: TypedRow) -> bool:
    decided = facts.decided.get(of)
    if decided is not None and decided.word in GONE:
        return True
    acts = (act for kind in _KINDS for act in facts.state.acts_that_count(kind) if act.entry > since)
    return any(act.told["inspection"] == row.id and _of(act) == of for act in acts)


def _of(act: Act) -> str:
    return str(act.told["tag"] or act.told.get("part", ""))


def _groups_open(facts: Facts, told: tuple[int, ...]) -> Iterator[Undone]:
    for group, members in GROUPS.items():
        by = {member: _naming(facts, told[0], member, pattern) for member, pattern in members.items()}
        left = [member for member, entries in by.items() if not METAL_GROUP.holds(metal=told, named_by=entries)]
        if left:
            done = tuple(entry for entries in by.values() for entry in entries)
            which = "" if len(members) == 1 else f"{', '.join(left)}: "
            what = f"{which}not cleaned, looked into or decided on since metal was found"
            yield Undone(group, what, Because(METAL_GROUP.id, tuple(sorted({*told, *done})), _rows(facts, members)))


def _naming(facts: Facts, since: int, member: str, pattern: str) -> tuple[int, ...]:
    """Acts since metal was found that settle one place."""
    said = re.compile(_IN_WORDS.get(member, pattern.replace("$", r"\b")))
    found = [one.entry for of, one in facts.decided.items() if one.word not in _NOT_SETTLED and _is(facts, of, pattern)]
    for kind in ("cleaned", "inspected"):
        for act in facts.state.acts_that_count(kind):
            words = act.told["process"] if kind == "cleaned" else act.told["says"]
            if act.told.get("result") != "found" and (_is(facts, _of(act), pattern) or said.search(words.lower())):
                found.append(act.entry)
    found += [act.entry for act in facts.state.acts_that_count("cleaned") if _plugs(act) and "galler" in pattern]
    return tuple(sorted({entry for entry in found if entry > since}))


def _plugs(act: Act) -> bool:
    return bool(act.told["plugs_out"]) and act.told["plugs_out"] == act.told["plugs_in"]


def _is(facts: Facts, of: str, pattern: str) -> bool:
    """Whether a part is of a place, by what the manual calls it."""
    part = facts.state.parts[of].part if of in facts.state.parts else of
    if part not in facts.book.parts:
        return False
    name = facts.book.parts[part].name.lower().partition(",")[0]
    return re.search(pattern, name) is not None


def _rows(facts: Facts, members: Mapping[str, str]) -> tuple[BookRow, ...]:
    rows = facts.book.rows["parts"].values()
    return tuple(cited(row) for row in rows if any(_is(facts, row.id, one) for one in members.values()))
