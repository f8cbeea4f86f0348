"""Which instruments the shop has, and what was recorded of each, as values. `fold_tools` alone writes a state."""

from __future__ import annotations

from collections.abc import Mapping
from copy import copy
from dataclasses import dataclass, field, fields
from typing import Any

from tenthbook.numbers.quantity import Quantity


@dataclass(frozen=True, slots=True)
class Calibration:
    """What a calibration certificate says.

    Attributes:
        entry: Number of the entry.
        hash: Hash of the entry, which a gauge set on the bench names.
        certificate: Number of the certificate.
        laboratory: Who calibrated it.
        calibrated_on: The day of the calibration.
        due: Its last day; empty where none is set.
        expanded: Expanded uncertainty of a value read with it, with its digits and unit.
        coverage_factor: The factor it was expanded with, as typed [-].
        as_found: In tolerance, out of tolerance, or not stated.
        reason: What was found out of tolerance; empty where nothing was.
    """

    entry: int
    hash: str
    certificate: str
    laboratory: str
    calibrated_on: str
    due: str
    expanded: Quantity
    coverage_factor: str
    as_found: str
    reason: str


@dataclass(frozen=True, slots=True)
class Withdrawal:
    """An instrument out of use.

    Attributes:
        entry: Number of the entry.
        reason: Why.
        on: The day it was withdrawn, UTC.
        since: From which day its readings are in doubt; empty: from none.
        returned_on: The day it was put back into use, UTC; empty while it was not.
    """

    entry: int
    reason: str
    on: str
    since: str
    returned_on: str = ""


@dataclass(frozen=True, slots=True)
class Instrument:
    """An instrument of the shop.

    Attributes:
        id: Its id, as it is marked.
        name: What it is.
        measures: What it can measure.
        range: Over which sizes, as typed.
        resolution: Its smallest step with its unit, as typed; empty where it is not stated.
        entry: Number of the entry that registered it.
        calibrations: Its calibrations by day; of one day, in the order recorded.
        withdrawals: Every time it was withdrawn, oldest first.
    """

    id: str
    name: str
    measures: str
    range: str
    resolution: str
    entry: int
    calibrations: tuple[Calibration, ...] = ()
    withdrawals: tuple[Withdrawal, ...] = ()

    @property
    def withdrawn(self) -> Withdrawal | None:
        """The withdrawal that stands now; None for an instrument in use."""
        last = self.withdrawals[-1] if self.withdrawals else None
        return last if last is not None and not last.returned_on else None


@dataclass(slots=True)
class ToolsState:
    """The instruments after the last entry. Read it; only `fold_tools` writes it.

    Attributes:
        number: Number of the last entry, -1 before the first.
        head: Hash of the last entry, empty before the first.
        recorded_at: When it was recorded by the store's clock, UTC; empty before the first.
        opened: Fields of entry 0; empty before it.
        instruments: Instruments by id.
        notes: Notes by entry number.
        unknown: Numbers of entries this version cannot read, or that fit nothing recorded before them.
        clock_findings: Entries recorded earlier, by the store's clock, than the one before.
    """

    number: int = -1
    head: str = ""
    recorded_at: str = ""
    opened: Mapping[str, Any] = field(default_factory=dict)
    instruments: dict[str, Instrument] = field(default_factory=dict)
    notes: dict[int, str] = field(default_factory=dict)
    unknown: list[int] = field(default_factory=list)
    clock_findings: list[int] = field(default_factory=list)

    def copy(self) -> ToolsState:
        """Give a state of its own, so that whoever holds this one keeps what it saw.

        Returns:
            The same state in containers of its own.
        """
        held: dict[str, Any] = {one.name: copy(getattr(self, one.name)) for one in fields(self)}
        return ToolsState(**held)
