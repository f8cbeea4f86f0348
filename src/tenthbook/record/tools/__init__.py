"""Which instruments the shop has, how sure each is, and since when.

- `kinds`: the facts the tools' stream can hold;
- `typed`: what a certificate's text means: a day, something measured, a factor;
- `state` and `fold`: the instruments with their calibrations and withdrawals; the fold never refuses history;
- `standing`: how an instrument stood on a day, and which days something later put in doubt;
- `rules` and `admission`: what may be recorded, and why not.

A calibration is pinned by the hash of its entry: whoever sets a gauge on the bench names it, so that a reading keeps
the doubt that was known when it was taken. An instrument found out of tolerance puts in doubt every reading since the
calibration before; one that was dropped, every reading since the day that is named.

Not here: the readings themselves (a job holds them), what a doubt does to a verdict (the gauge's own arithmetic), and
who may record (the shop).
"""

from tenthbook.record.tools.admission import admit_tools
from tenthbook.record.tools.fold import fold_tools
from tenthbook.record.tools.kinds import TOOL_KINDS
from tenthbook.record.tools.rules import RULES
from tenthbook.record.tools.standing import Doubt, Standing, calibration_on, in_doubt, standing_on
from tenthbook.record.tools.state import Calibration, Instrument, ToolsState, Withdrawal

__all__ = [
    "RULES",
    "TOOL_KINDS",
    "Calibration",
    "Doubt",
    "Instrument",
    "Standing",
    "ToolsState",
    "Withdrawal",
    "admit_tools",
    "calibration_on",
    "fold_tools",
    "in_doubt",
    "standing_on",
]
