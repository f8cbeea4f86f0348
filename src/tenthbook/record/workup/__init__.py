"""What follows from the book and the job: verdicts with their reasons, and what is undone.

- `doubt`: what the gauge's doubt makes of a plain verdict, and which gauge would decide;
- `forecasts`: what new parts will make of a fit;
- `stated`: what a row states, resolved for the part in hand;
- `verdicts`: one verdict a measured size, one a fit whose two parts are measured, one a part, where the worst rules;
- `undone`: what is still to do on the bench, in the book's order, each with its reason;
- `still_open`, `covered`, `metal`: lines of what is open, on intake, on a part, behind a cover, once metal was found;
- `gates`: what is open before a cover closes and before a release, by the rules of `gate_rules`;
- `whereabouts`: where the job stands for whoever comes back to it, with the `last_act` that is certain;
- `missing`: what this job still needs from the manual, apart from what no job has needed yet;
- `words`: how a verdict is written, the same for command, page and paper;
- `whole`: all of it from a book and a state, `work_up`.

Nothing here is kept: it is computed from the entries each time, so no verdict can differ from what was recorded. It
approves nothing and never says that a part is good; it says where a value lies against the limits of this book, and
what is open in this book.
"""

from tenthbook.record.workup.doubt import Ruling
from tenthbook.record.workup.forecasts import Forecast
from tenthbook.record.workup.gates import Gate, gates_of
from tenthbook.record.workup.missing import Missing, missing_for
from tenthbook.record.workup.undone import Undone
from tenthbook.record.workup.verdicts import FitVerdict, PartVerdict, SizeVerdict
from tenthbook.record.workup.whereabouts import Whereabouts, where_was_i
from tenthbook.record.workup.whole import WorkUp, work_up
from tenthbook.record.workup.words import NOTHING_OPEN, headline, mark_of

__all__ = [
    "NOTHING_OPEN",
    "FitVerdict",
    "Forecast",
    "Gate",
    "Missing",
    "PartVerdict",
    "Ruling",
    "SizeVerdict",
    "Undone",
    "Whereabouts",
    "WorkUp",
    "gates_of",
    "headline",
    "mark_of",
    "missing_for",
    "where_was_i",
    "work_up",
]
