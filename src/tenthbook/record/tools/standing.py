"""May this gauge be used today, and which of its readings does something later put in doubt?

A calibration speaks backward too: found out of tolerance, the instrument may have been so since the calibration before.
Nothing here says that a reading is wrong, only which ones are to be looked at again; and a due day is what the shop or
the certificate set, not a law of nature.

Source: ISO/IEC 17025:2017, 7.8.4.3 (a certificate sets no due day of its own), ISO 10012:2003, 8.3.3 (the validity of
earlier results is looked into); both from memory.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from tenthbook.record.tools.state import Calibration, Instrument, ToolsState, Withdrawal

Word = Literal["in calibration", "overdue", "never calibrated", "withdrawn", "not registered"]
FIRST_DAY, LAST_DAY = "0001-01-01", "9999-12-31"


@dataclass(frozen=True, slots=True)
class Standing:
    """How an instrument stood on a day.

    Attributes:
        word: In calibration, overdue, never calibrated, withdrawn, or not registered.
        since: Day of the calibration it stands by, or of its withdrawal; empty for neither.
        due: Last day of that calibration; empty where none is set.
        calibration: The calibration it stood by; None before the first.
    """

    word: Word
    since: str = ""
    due: str = ""
    calibration: Calibration | None = None

    def __str__(self) -> str:
        days = {"in calibration": self.due and f" until {self.due}", "overdue": f" since {self.due}"}
        return self.word + days.get(self.word, self.since and f" on {self.since}")


@dataclass(frozen=True, slots=True)
class Doubt:
    """Days whose readings with an instrument are in doubt.

    Attributes:
        since_day: The first of them; 0001-01-01 where no calibration lies before.
        until_day: The last of them; 9999-12-31 while there is no end.
        reason: Why.
        entry: Number of the tools' entry that says so.
    """

    since_day: str
    until_day: str
    reason: str
    entry: int


def calibration_on(instrument: Instrument, day: str) -> Calibration | None:
    """Give the calibration an instrument stood by on a day.

    Args:
        instrument: The instrument.
        day: The day, such as "2026-10-02".

    Returns:
        The newest made on that day or before, of two on one day the one recorded last; None before the first.
    """
    made = [one for one in instrument.calibrations if one.calibrated_on <= day]
    return made[-1] if made else None


def _withdrawn_on(instrument: Instrument, day: str) -> Withdrawal | None:
    out = (one for one in reversed(instrument.withdrawals) if one.on <= day)
    return next((one for one in out if not one.returned_on or day < one.returned_on), None)


def standing_on(state: ToolsState, instrument: str, day: str) -> Standing:
    """Say how an instrument stands on a day, by what is recorded now.

    Args:
        state: The instruments.
        instrument: Id of the instrument.
        day: The day, such as "2026-10-02"; on its last day a calibration still holds.

    Returns:
        The word, its day, the due day and the calibration. A withdrawal counts from the day it was recorded for to the
        day before the return.
    """
    known = state.instruments.get(instrument)
    if known is None:
        return Standing("not registered")
    last, out = calibration_on(known, day), _withdrawn_on(known, day)
    if out is not None:
        return Standing("withdrawn", out.on, last.due if last is not None else "", last)
    if last is None:
        return Standing("never calibrated")
    late = bool(last.due) and last.due < day
    return Standing("overdue" if late else "in calibration", last.calibrated_on, last.due, last)


def _found_out(known: Instrument) -> Iterator[Doubt]:
    for one in known.calibrations:
        if one.as_found == "out of tolerance":
            before = [other.calibrated_on for other in known.calibrations if other.calibrated_on < one.calibrated_on]
            reason = f"found out of tolerance on {one.calibrated_on}, certificate {one.certificate}: {one.reason}"
            yield Doubt(before[-1] if before else FIRST_DAY, one.calibrated_on, reason, one.entry)


def _withdrawn_since(known: Instrument) -> Iterator[Doubt]:
    for one in known.withdrawals:
        if one.since:
            reason = f"withdrawn on {one.on}, in doubt since {one.since}: {one.reason}"
            yield Doubt(one.since, one.returned_on or LAST_DAY, reason, one.entry)


def in_doubt(state: ToolsState, instrument: str) -> tuple[Doubt, ...]:
    """List the days whose readings with an instrument are in doubt, by what is recorded now.

    Args:
        state: The instruments.
        instrument: Id of the instrument.

    Returns:
        A calibration that found it out of tolerance: from the calibration before, both days included. A withdrawal
        that names a day: from that day to the return. In the order recorded; none for one that is not registered.
    """
    known = state.instruments.get(instrument)
    if known is None:
        return ()
    return tuple(sorted((*_found_out(known), *_withdrawn_since(known)), key=lambda one: one.entry))
