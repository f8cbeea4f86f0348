"""The shop's instruments over a store, and what a later calibration says about earlier readings."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from tenthbook.numbers.because import Refused
from tenthbook.record.bench.people import People
from tenthbook.record.job import JobState
from tenthbook.record.ledger import Entry, NoSuchStream, Store, draft_of
from tenthbook.record.ledger.stream import Since
from tenthbook.record.tools import (
    TOOL_KINDS,
    ToolsState,
    admit_tools,
    calibration_on,
    fold_tools,
    in_doubt,
    standing_on,
)

TOOLS = "tools"


class Crib:
    """A store, and the instruments recorded in it."""

    def __init__(self, store: Store, people: People) -> None:
        """Work over a store.

        Args:
            store: Any store of the ledger's interface.
            people: The people of the shop, who may record in it.
        """
        self.store = store
        self.people = people
        self._state = ToolsState()

    def _fold(self, since: Since) -> ToolsState:
        self._state = fold_tools(since(self._state.number), self._state)
        return self._state

    def state(self) -> ToolsState:
        """Say which instruments there are.

        Returns:
            The fold of the tools' stream; empty before it was opened.
        """
        try:
            return self._fold(lambda after: self.store.entries(TOOLS, after))
        except NoSuchStream:
            return ToolsState()

    def record(self, kind: str, data: Mapping[str, Any], act: Mapping[str, str]) -> Entry:
        """Record an act about an instrument; the first opens the stream.

        Args:
            kind: Kind of the entry.
            data: Its fields.
            act: Person, request and time.

        Returns:
            The entry.

        Raises:
            WrongInput: fields that do not fit the kind.
            Refused: rules the act would break; nothing was written.
        """
        if self.state().number < 0 and kind != "tools opened":
            opened = {"stream": TOOLS, "installation": "bench", "invented": False}
            self.record("tools opened", opened, {**act, "request": f"{act['request']}.tools"})
        proposal = draft_of(TOOL_KINDS, kind, data, seen=self.state().head, **act)

        def judge(since: Since) -> None:
            refusals = (*admit_tools(self._fold(since), proposal), *self.people.refusals(proposal))
            if refusals:
                raise Refused(refusals)

        return self.store.append(TOOLS, proposal, judge)

    def as_set(self, data: Mapping[str, Any], day: str) -> Mapping[str, Any]:
        """Fill in what the tools' stream knows of a gauge that is set on the bench.

        Args:
            data: Fields of the entry `gauge set` as typed; what is typed stands.
            day: The day it is set, such as 2026-10-02.

        Returns:
            The fields, with name, doubt and calibration of a registered instrument.
        """
        instrument = self.state().instruments.get(str(data.get("gauge")))
        if instrument is None:
            return data
        known: dict[str, Any] = {"name": instrument.name, "measures": instrument.measures}
        calibration = calibration_on(instrument, day)
        if calibration is not None:
            known |= {"expanded": str(calibration.expanded), "coverage_factor": calibration.coverage_factor}
            known |= {"certificate": calibration.certificate, "due": calibration.due, "calibration": calibration.hash}
        return {**known, **{name: text for name, text in data.items() if text != ""}}

    def findings(self, job: JobState) -> list[str]:
        """Say which gauges of a job stand badly now, and which of its readings a later calibration put in doubt.

        Args:
            job: The job.

        Returns:
            A line each; empty where all is well, or where no instrument is registered.
        """
        tools = self.state()
        lines = []
        for name in job.gauges:
            instrument = tools.instruments.get(name)
            if instrument is None:
                continue
            taken = [one for one in job.readings.values() if one.gauge == name and job.counts(one.entry)]
            for doubt in in_doubt(tools, name):
                touched = [one.entry for one in taken if doubt.since_day <= one.acted_at[:10] <= doubt.until_day]
                if touched:
                    entries = ", ".join(map(str, touched))
                    lines.append(f"gauge {name}: {doubt.reason}; in doubt: entries {entries}")
            late = [one.entry for one in taken if standing_on(tools, name, one.acted_at[:10]).word == "overdue"]
            if late:
                lines.append(f"gauge {name}: overdue when entries {', '.join(map(str, late))} were taken")
        return lines
