"""The rules for instruments and their calibrations, each with its source and its two cases.

A rule is a pure predicate on plain facts; `admission` supplies the facts and says what was found.
"""

from __future__ import annotations

from tenthbook.numbers.because import Register, Rule
from tenthbook.record.tools.kinds import TOOL_KINDS
from tenthbook.record.tools.typed import above_nought, factor_of, is_day

RULES = Register()
_OWN = "rule of this book"


def _marking(instrument: str) -> str:
    return " ".join(instrument.split()).casefold()


def _in_order(calibrated_on: str, due: str, day: str) -> bool:
    real = is_day(calibrated_on) and (not due or is_day(due))
    return real and calibrated_on <= day and (not due or calibrated_on <= due)


FIRST_OPENS = RULES.add(
    Rule(
        id="tools.first-opens",
        says="Entry 0 opens the stream of the tools, and nothing else does.",
        source=_OWN,
        holds=lambda number, kind: (number == 0) == (kind == "tools opened"),
        passes={"number": 0, "kind": "tools opened"},
        fails={"number": 3, "kind": "tools opened"},
        todo="open the tools' stream once, then record in it",
    )
)
KNOWN_KIND = RULES.add(
    Rule(
        id="tools.known-kind",
        says="The tools' stream takes only the kinds of entry this book knows, in the version it writes.",
        source=_OWN,
        holds=lambda kind, version: kind in TOOL_KINDS and TOOL_KINDS[kind].version == version,
        passes={"kind": "calibrated", "version": 1},
        fails={"kind": "calibrated", "version": 99},
    )
)
ID_NEW = RULES.add(
    Rule(
        id="instrument.id-new",
        says="No two instruments have ids that differ in capitals and blanks only, and an id is never used again.",
        source=_OWN,
        holds=lambda instrument, known: _marking(instrument) not in [_marking(one) for one in known],
        passes={"instrument": "M2", "known": ("M1",)},
        fails={"instrument": "m1", "known": ("M1",)},
        todo="mark the instrument with an id of its own",
    )
)
REGISTERED = RULES.add(
    Rule(
        id="instrument.registered",
        says="An entry about an instrument names one that is registered, as it is marked.",
        source=_OWN,
        holds=lambda instrument, known: instrument in known,
        passes={"instrument": "M1", "known": ("M1",)},
        fails={"instrument": "M2", "known": ("M1",)},
        todo="register the instrument first",
    )
)
RESOLUTION = RULES.add(
    Rule(
        id="instrument.resolution",
        says="A resolution that is stated is above nought and has a unit.",
        source=_OWN,
        holds=lambda resolution: not resolution or above_nought(resolution) is not None,
        passes={"resolution": "0.0001 in"},
        fails={"resolution": "0.0001"},
        todo="type it with its unit, such as 0.0001 in, or leave it out",
    )
)
DATES_IN_ORDER = RULES.add(
    Rule(
        id="calibration.dates-in-order",
        says="A calibration has real days: made no later than it is recorded (UTC), due no earlier than it was made.",
        source=_OWN,
        holds=_in_order,
        passes={"calibrated_on": "2026-03-09", "due": "2027-03-31", "day": "2026-10-02"},
        fails={"calibrated_on": "2026-03-09", "due": "2025-03-31", "day": "2026-10-02"},
        todo="read the days on the certificate again",
    )
)
DOUBT_STATED = RULES.add(
    Rule(
        id="calibration.doubt-stated",
        says="A calibration states a doubt above nought with its unit, and the factor it was expanded with.",
        source="JCGM 100:2008, 7.2.3 (from memory)",
        holds=lambda expanded, factor: above_nought(expanded) is not None and factor_of(factor) is not None,
        passes={"expanded": "0.00012 in", "factor": "2"},
        fails={"expanded": "0 in", "factor": "2"},
        todo="type what the certificate states; ask the laboratory where it states none",
    )
)
REASON_STATED = RULES.add(
    Rule(
        id="calibration.reason-stated",
        says="A calibration that found an instrument out of tolerance says what was found.",
        source=_OWN,
        holds=lambda as_found, reason: as_found != "out of tolerance" or bool(reason.strip()),
        passes={"as_found": "out of tolerance", "reason": "reads 0.0004 in small above 1 in"},
        fails={"as_found": "out of tolerance", "reason": " "},
        todo="say where and by how much; earlier readings are judged by it",
    )
)
IN_USE = RULES.add(
    Rule(
        id="instrument.in-use",
        says="An instrument is withdrawn while it is in use, and returned to use while it is withdrawn.",
        source=_OWN,
        holds=lambda kind, withdrawn: withdrawn == (kind == "instrument returned to use"),
        passes={"kind": "instrument withdrawn", "withdrawn": False},
        fails={"kind": "instrument withdrawn", "withdrawn": True},
        todo="look up how the instrument stands",
    )
)
SINCE_PAST = RULES.add(
    Rule(
        id="instrument.since-past",
        says="Readings are put in doubt from a real day, and none later than the withdrawal (UTC).",
        source=_OWN,
        holds=lambda since, day: not since or (is_day(since) and since <= day),
        passes={"since": "2026-09-14", "day": "2026-10-02"},
        fails={"since": "2026-10-03", "day": "2026-10-02"},
        todo="name the last day on which the instrument was surely good",
    )
)
