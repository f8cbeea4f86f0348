"""What a job holds as evidence for the word of its release, by the numbers of its entries.

What the book cannot know, such as whether data are those of the holder, is what somebody recorded when the scope was
agreed. A test of the whole engine is evidence only once a run is recorded; until then the word is not earned.
"""

from __future__ import annotations

from collections.abc import Iterable

from tenthbook.record.job import JobState
from tenthbook.record.job.looks import scope_of
from tenthbook.record.release import Evidence
from tenthbook.record.workup import WorkUp

_MENDED = ("repair", "rework to size", "replace", "mandatory replace")
_KEPT = ("in new limits", "in service limits")
_STANDARD = {"to new limits": "new limits", "to service limits": "service limits"}


def _acts(state: JobState, *kinds: str) -> tuple[int, ...]:
    return tuple(sorted(act.entry for kind in kinds for act in state.acts_that_count(kind)))


def _decided(state: JobState, words: Iterable[str]) -> tuple[int, ...]:
    wanted = tuple(words)
    return tuple(one.entry for one in state.dispositions.values() if one.word in wanted)


def evidence_of(state: JobState, work: WorkUp) -> Evidence:
    """Gather the evidence for the word of a release.

    Args:
        state: The job.
        work: The same, worked up.

    Returns:
        Entries that took apart, cleaned, inspected, repaired, put together; the limits used; what of the mandatory
        list is open.
    """
    scope = scope_of(state)
    removed = tuple(part.entry for part in state.parts.values())
    readings = tuple(number for number in state.readings if number not in state.withdrawn)
    in_the_way = [one for one in work.consequences if one.because.rule == "decide.mandatory" and not one.met]
    mended, kept = _decided(state, _MENDED), _decided(state, _KEPT)
    return Evidence(
        disassembled=tuple(sorted((*removed, *_acts(state, "cover removed")))),
        cleaned=_acts(state, "cleaned"),
        inspected=tuple(sorted((*readings, *_acts(state, "inspected", "crack-tested")))),
        repaired=mended,
        no_repair_needed=() if mended else kept,
        reassembled=_acts(state, "cover closed"),
        standard=_STANDARD.get(scope.told["standard"], "") if scope is not None else "",
        standards_current=(scope.entry,) if scope is not None else (),
        mandatory_open=tuple(f"{one.of} {one.name}" for one in in_the_way),
        parts_new_limits=bool(state.dispositions) and not _decided(state, ("in service limits", "hold")),
    )
