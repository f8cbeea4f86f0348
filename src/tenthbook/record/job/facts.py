"""From the fields of an act to the value the state holds."""

from __future__ import annotations

import functools
from collections.abc import Mapping
from typing import Any

from tenthbook.numbers.quantity import Quantity, quantity
from tenthbook.record.job.state import Act, Disposition, Gauge, JobState, PartOnBench, Photograph, Reading
from tenthbook.record.ledger import Entry


@functools.lru_cache(maxsize=4096)
def _read(text: str) -> Quantity:
    """A value that was read before: one feature is read many times, to the same few tenths."""
    return quantity(text)


def gauge_set_for(state: JobState, gauge: str, before: int) -> int:
    """Find how a gauge was set when an entry was made.

    Args:
        state: The job.
        gauge: Id of the gauge.
        before: Number of the entry.

    Returns:
        Number of the entry that set it last before; -1 where none did, or where the reading names no gauge.
    """
    last = state.gauges.get(gauge)
    if last is None:
        return -1
    if last.entry < before:
        return last.entry
    return max((n for n, one in state.gauge_sets.items() if one.id == gauge and n < before), default=-1)


def reading_of(state: JobState, entry: Entry, data: Mapping[str, Any]) -> Reading:
    """Make the value of a reading.

    Args:
        state: The job, for the gauge as it was set.
        entry: The entry that holds it.
        data: Its fields as they count.

    Returns:
        The reading.
    """
    gauge_set = gauge_set_for(state, data["gauge"], entry.number) if data["gauge"] else -1
    return Reading(
        entry.number,
        data["tag"],
        data["row"],
        data["row_digest"],
        _read(data["value"]),
        data["station"],
        data["direction"],
        data["gauge"],
        gauge_set,
        entry.draft.person,
        entry.draft.acted_at,
    )


def gauge_of(number: int, data: Mapping[str, Any]) -> Gauge:
    """Make the value of a gauge as it was set.

    Args:
        number: Number of the entry.
        data: Its fields as they count.

    Returns:
        The gauge.

    Raises:
        ValueError: a doubt that is not above nought.
    """
    named = (data["gauge"], data["name"], data["measures"])
    known = (data["certificate"], data["due"], data["calibration"])
    gauge = Gauge(*named, quantity(data["expanded"]), data["coverage_factor"], data["set_on"], number, *known)
    if gauge.standard_uncertainty <= 0:
        raise ValueError(data["expanded"])
    return gauge


def part_of(number: int, data: Mapping[str, Any]) -> PartOnBench:
    """Make the value of a part on the bench.

    Args:
        number: Number of the entry.
        data: Its fields as they count.

    Returns:
        The part.
    """
    found = (data["mated_with"], data["as_found"], data["bin"])
    return PartOnBench(data["tag"], data["part"], data["position"], number, *found)


def act_of(entry: Entry, data: Mapping[str, Any]) -> Act:
    """Make the value of an act that is what it says.

    Args:
        entry: The entry that holds it.
        data: Its fields as they count.

    Returns:
        The act.
    """
    return Act(entry.number, entry.kind, entry.draft.person, entry.draft.acted_at, data)


def disposition_of(entry: Entry, data: Mapping[str, Any]) -> Disposition:
    """Make the value of a disposition.

    Args:
        entry: The entry that holds it.
        data: Its fields as they count.

    Returns:
        The disposition.
    """
    words = (data["tag"], data["part"], data["disposition"], data["reason"], data["procedure"])
    return Disposition(entry.number, *words, tuple(data["rests_on"]), entry.draft.person)


def photograph_of(entry: Entry, data: Mapping[str, Any]) -> Photograph:
    """Make the value of a photograph.

    Args:
        entry: The entry that holds it.
        data: Its fields as they count.

    Returns:
        The photograph.
    """
    shows = (data["tag"], data["row"], data["says"])
    camera = (data["photograph_detached"], data["media_type"], data["taken_at"])
    return Photograph(entry.number, *shows, *camera, entry.draft.person)
