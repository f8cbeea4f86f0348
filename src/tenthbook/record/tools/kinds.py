"""The facts the tools' stream can hold: each kind in the past tense, with its version and its fields.

A number is text with its unit, digit for digit as the certificate prints it; a day is written 2026-03-09.
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from tenthbook.record.ledger import Fields, Kind

DAY = r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$"
DAY_OR_NONE = r"^([0-9]{4}-[0-9]{2}-[0-9]{2})?$"
MARKED = r"^\S+( \S+)*$"
AsFound = Literal["in tolerance", "out of tolerance", "not stated"]


class ToolsOpened(Fields):
    """Entry 0 of the tools' stream."""

    stream: str = Field(description="id of the tools' stream", min_length=1, max_length=60)
    installation: str = Field(description="id of the installation that opened it", min_length=1, max_length=60)
    invented: bool = Field(description="true for a demonstration: every page and paper then says so")


class AboutInstrument(Fields):
    """What every entry about an instrument names."""

    instrument: str = Field(description="id of the instrument, as it is marked", max_length=40, pattern=MARKED)


class InstrumentRegistered(AboutInstrument):
    """An instrument the shop has."""

    name: str = Field(description="what it is, such as bore gauge", min_length=1, max_length=100)
    measures: str = Field(description="what it can measure, such as bore, outside, depth", min_length=1, max_length=40)
    range: str = Field(default="", description="over which sizes, such as 1 in to 2 in", max_length=100)
    resolution: str = Field(
        default="", description="its smallest step with its unit, such as 0.0001 in; empty: not stated", max_length=40
    )


class Calibrated(AboutInstrument):
    """What a calibration certificate says."""

    certificate: str = Field(description="number of the certificate", min_length=1, max_length=100)
    laboratory: str = Field(description="who calibrated it", min_length=1, max_length=200)
    calibrated_on: str = Field(description="the day of the calibration, such as 2026-03-09", pattern=DAY)
    due: str = Field(
        default="", description="its last day, such as 2027-03-31; empty where none is set", pattern=DAY_OR_NONE
    )
    expanded: str = Field(
        description="expanded uncertainty of a value read with it, with its unit, such as 0.00012 in",
        min_length=1,
        max_length=80,
    )
    coverage_factor: str = Field(
        default="2", description="the factor it was expanded with", min_length=1, max_length=10
    )
    as_found: AsFound = Field(description="in tolerance, out of tolerance, or not stated")
    reason: str = Field(default="", description="what was found out of tolerance, and by how much", max_length=2000)


class InstrumentWithdrawn(AboutInstrument):
    """An instrument taken out of use."""

    reason: str = Field(description="why, such as: dropped", min_length=1, max_length=2000)
    since: str = Field(
        default="",
        description="from which day its readings are in doubt, such as 2026-09-14; empty: from none",
        pattern=DAY_OR_NONE,
    )


class InstrumentReturned(AboutInstrument):
    """An instrument put back into use."""

    reason: str = Field(description="what was done about it", min_length=1, max_length=2000)


class Noted(Fields):
    """Words for whoever comes next."""

    text: str = Field(description="the note", min_length=1, max_length=4000)


TOOL_KINDS: dict[str, Kind] = {
    "tools opened": Kind(1, ToolsOpened),
    "instrument registered": Kind(1, InstrumentRegistered),
    "calibrated": Kind(1, Calibrated),
    "instrument withdrawn": Kind(1, InstrumentWithdrawn),
    "instrument returned to use": Kind(1, InstrumentReturned),
    "noted": Kind(1, Noted),
}
