"""The tools' stream as the tests write it: proposed, judged, sealed, folded.

In: what is recorded, on which day. Out: entries, refusals, the state.
"""

from __future__ import annotations

from typing import Any

from tenthbook.record.ledger import Draft, Entry, draft_of, seal
from tenthbook.record.tools import TOOL_KINDS, ToolsState, admit_tools, fold_tools

DAY = "2026-10-02"
OPENED = {"stream": "tools", "installation": "bench", "invented": True}
REGISTERED = {"instrument": "M1", "name": "micrometer", "measures": "outside", "range": "0 in to 1 in"}
CALIBRATED = {
    "instrument": "M1",
    "certificate": "C-1041",
    "laboratory": "Test house",
    "calibrated_on": "2026-03-09",
    "due": "2027-03-31",
    "expanded": "0.00012 in",
    "coverage_factor": "2",
    "as_found": "in tolerance",
}


class Shelf:
    """The shelf of instruments, at which the tools' stream is written."""

    def __init__(self) -> None:
        """Stand at an empty stream."""
        self.entries: list[Entry] = []
        self.day = DAY
        self.recorded_at = f"{DAY}T12:00:00Z"

    @property
    def state(self) -> ToolsState:
        """The instruments as they stand."""
        return fold_tools(self.entries)

    def draft(self, kind: str, data: dict[str, Any]) -> Draft:
        """Propose an entry."""
        act = {"person": "inspector", "request": f"r-{len(self.entries)}", "acted_at": f"{self.day}T09:00:00Z"}
        return draft_of(TOOL_KINDS, kind, data, seen=self.state.head, **act)

    def refused(self, kind: str, /, **data: Any) -> list[str]:
        """The rules a proposal would break."""
        return [refusal.rule for refusal in admit_tools(self.state, self.draft(kind, data))]

    def write(self, draft: Draft) -> Entry:
        """Seal a draft, whatever the rules say."""
        entry = seal(draft, len(self.entries), self.recorded_at, self.state.head)
        self.entries.append(entry)
        return entry

    def record(self, kind: str, /, **data: Any) -> Entry:
        """Record an entry that no rule forbids."""
        draft = self.draft(kind, data)
        assert admit_tools(self.state, draft) == ()
        return self.write(draft)

    def calibrate(self, day: str, due: str = "", as_found: str = "in tolerance", **changed: str) -> Entry:
        """Record a calibration of the micrometer."""
        reason = "reads 0.0004 in small" if as_found == "out of tolerance" else ""
        told = {"calibrated_on": day, "due": due, "as_found": as_found, "reason": reason}
        return self.record("calibrated", **{**CALIBRATED, **told, **changed})

    def withdraw(self, day: str, since: str = "") -> Entry:
        """Take the micrometer out of use."""
        self.day = day
        return self.record("instrument withdrawn", instrument="M1", reason="dropped", since=since)

    def put_back(self, day: str) -> Entry:
        """Put the micrometer back into use."""
        self.day = day
        return self.record("instrument returned to use", instrument="M1", reason="checked on the standard")


def shelf() -> Shelf:
    """A micrometer, registered and never calibrated."""
    one = Shelf()
    one.record("tools opened", **OPENED)
    one.record("instrument registered", **REGISTERED)
    return one
