"""An engine taken in: scope agreed, every event asked about, times stated; as the tests need it. For no engine."""

from __future__ import annotations

from tenthbook.record.workup.still_open import EVENTS
from tests.builders import Workplace

SCOPE = {
    "work": "repair",
    "standard": "to service limits",
    "manual": "manual of the test engine",
    "revision": "1",
    "checked_current": "asked its holder",
    "agreed_with": "the owner",
}
TIMES = {"of": "engine", "total": "1840.5 h", "read_from": "the log"}


def take_in(place: Workplace) -> Workplace:
    """Record all that is settled when an engine comes in.

    Args:
        place: Where; ten events, scope, times and the mechanic's task make thirteen entries.

    Returns:
        The same.
    """
    for event in EVENTS:
        place.record("event answered", {"event": event, "answer": "no", "says": "the owner's word"})
    place.record("scope agreed", SCOPE)
    place.record("times stated", TIMES)
    place.record("task taken on", {"task": "all of it", "before": "done before"})
    return place
