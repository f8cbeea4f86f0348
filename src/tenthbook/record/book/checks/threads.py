"""Which thread is meant, does anybody make it, and what would a torque pull it to?

Reads threads as manuals print them: unified inch (5/16-24 UNF-3A, 10-32, 1-1/8-12), metric (M8x1.25, M10), pipe
threads, and the names of series this book has no sizes of. It works out no tightening torque and no preload: its one
figure is an index that tells a torque from twelve times itself.

Goes in: the text of a thread; a torque [N.m]. Comes out: diameter and pitch [mm], tensile stress area [mm2], the index
[MPa].

Sources: ASME B1.1 (unified series) and ISO 261 (metric series), both from memory; NSTS 08307 Rev A, appendix A (unified
stress area, read); ISO 898-1 (metric stress area, from memory). Checked in tests/published/test_thread_plausibility.py
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

_INCH_MM = 25.4
_QUARTER_PI = math.pi / 4
_UNIFIED_LOST = 0.9743  # pitches taken off the diameter for the stress area; metric has its own rounding of the same
_METRIC_LOST = 0.9382
_NUT_FACTOR = 0.2

# --- series ----------------------------------------------------------------------------------------------------------

# Threads per inch by number size: coarse, fine and the one extra fine.
_NUMBERED = {
    0: (80,),
    1: (64, 72),
    2: (56, 64),
    3: (48, 56),
    4: (40, 48),
    5: (40, 44),
    6: (32, 40),
    8: (32, 36),
    10: (24, 32),
    12: (24, 28, 32),
}
# Threads per inch by diameter [1/16 in]: coarse, fine, extra fine and the specials that fine lists carry.
_INCH_SIZES = {
    4: (20, 28, 32),
    5: (18, 24, 32),
    6: (16, 24, 32),
    7: (14, 20, 28),
    8: (13, 20, 28),
    9: (12, 18, 24),
    10: (11, 18, 24),
    11: (24,),
    12: (10, 16, 20),
    13: (20,),
    14: (9, 14, 20),
    15: (20,),
    16: (8, 12, 14, 20),
    17: (18,),
    18: (7, 12, 14, 18),
    19: (18,),
    20: (7, 12, 14, 18),
    21: (18,),
    22: (6, 12, 14, 18),
    23: (18,),
    24: (6, 12, 14, 18),
    25: (18,),
    26: (18,),
    27: (18,),
    28: (5,),
    32: (4.5,),
    36: (4.5,),
    40: (4,),
    44: (4,),
    48: (4,),
}
# The series of one pitch: threads per inch, least and greatest diameter [1/16 in].
_CONSTANT = {4: (40, 96), 6: (22, 96), 8: (16, 96), 12: (9, 96), 16: (6, 64), 20: (4, 48), 28: (4, 24), 32: (5, 16)}
# Pitches by metric diameter [mm], the coarse one first.
_METRIC = {
    1: (0.25, 0.2),
    1.2: (0.25, 0.2),
    1.4: (0.3, 0.2),
    1.6: (0.35, 0.2),
    2: (0.4, 0.25),
    2.5: (0.45, 0.35),
    3: (0.5, 0.35),
    3.5: (0.6, 0.35),
    4: (0.7, 0.5),
    5: (0.8, 0.5),
    6: (1, 0.75),
    7: (1, 0.75),
    8: (1.25, 1, 0.75),
    9: (1.25, 1, 0.75),
    10: (1.5, 1.25, 1, 0.75),
    11: (1.5, 1, 0.75),
    12: (1.75, 1.5, 1.25, 1),
    14: (2, 1.5, 1.25, 1),
    15: (1.5, 1),
    16: (2, 1.5, 1),
    17: (1.5, 1),
    18: (2.5, 2, 1.5, 1),
    20: (2.5, 2, 1.5, 1),
    22: (2.5, 2, 1.5, 1),
    24: (3, 2, 1.5, 1),
    25: (2, 1.5, 1),
    26: (1.5,),
    27: (3, 2, 1.5, 1),
    28: (2, 1.5, 1),
    30: (3.5, 3, 2, 1.5, 1),
    32: (2, 1.5),
    33: (3.5, 3, 2, 1.5),
    35: (1.5,),
    36: (4, 3, 2, 1.5),
    38: (1.5,),
    39: (4, 3, 2, 1.5),
    40: (3, 2, 1.5),
    42: (4.5, 4, 3, 2, 1.5),
    45: (4.5, 4, 3, 2, 1.5),
    48: (5, 4, 3, 2, 1.5),
    50: (3, 2, 1.5),
    52: (5, 4, 3, 2, 1.5),
}
_PIPE = {"1/16": 27, "1/8": 27, "1/4": 18, "3/8": 18, "1/2": 14, "3/4": 14, "1": 11.5}

# --- reading ---------------------------------------------------------------------------------------------------------

_LONGEST = 60  # signs of a cell worth reading as a thread
_DASH = r"[ ]?[-–][ ]?"  # noqa: RUF001 - the dash as manuals print it
_TPI = r"(?P<tpi>\d{1,2}(?:\.5)?)"
_ENDS = r"(?P<rest>.*)"
_PITCH = r"(?: ?(?:[x*×]|-(?=\d\.\d)) ?(?P<pitch>\d+(?:\.\d+)?))?"  # noqa: RUF001 - the cross as manuals print it
_FRACTION = re.compile(
    rf"(?:(?P<whole>\d{{1,2}})[ -])?(?P<above>\d{{1,2}})/(?P<below>2|4|8|16){_DASH}{_TPI}{_ENDS}", re.ASCII
)
_DECIMAL = re.compile(rf"(?P<inches>\d{{0,2}}\.\d{{2,4}}){_DASH}{_TPI}{_ENDS}", re.ASCII)
_WHOLE = re.compile(rf"(?P<mark>#|no\.? ?)?(?P<size>\d{{1,2}}){_DASH}{_TPI}{_ENDS}", re.ASCII | re.IGNORECASE)
_METRIC_TEXT = re.compile(
    rf"(?:MJ?(?P<size>\d+(?:\.\d+)?)|(?P<plain>\d+) ?mm){_PITCH}{_ENDS}", re.ASCII | re.IGNORECASE
)
_PIPE_TEXT = re.compile(
    rf"(?P<size>(?:\d[ -])?\d{{1,2}}/\d{{1,2}}|\d)(?:{_DASH}{_TPI})? ?(?P<series>D?A?NP[TS][FRM]?|BSP[PT]?|pipe)\b.*",
    re.ASCII | re.IGNORECASE,
)
_OTHER_SERIES = re.compile(
    r"(?:G|Rc?|Rp) ?\d.*|.*\b(?:BSF|BSW|BA|CEI|whitworth|acme|buttress|tr ?\d+(?:x[\d.]+)?)\b.*", re.IGNORECASE
)
_SPECIAL = re.compile(r"\b(?:UNS|NS|special)\b", re.IGNORECASE)
_CLASS = r"UN[CFRJES]*|N[CFS]|NEF|[1-5][ABC]?|[4-8][gh]\d?[gh]?|LH|RH|left hand|right hand|special"
_ENDING = re.compile(rf"(?:[ -]*(?:{_CLASS}))*", re.ASCII | re.IGNORECASE)
_NEAR_SIXTEENTH_IN = 0.0006  # .312 and .3125 are one size


class Reading(StrEnum):
    """What became of the text of a thread.

    Attributes:
        MADE: A thread of a series, with diameter and pitch.
        NAMED: A pipe thread, or one of a series this book has no sizes of.
        NOT_MADE: Read, and in no series.
        UNREAD: Not read.
    """

    MADE = "made"
    NAMED = "named"
    NOT_MADE = "not made"
    UNREAD = "unread"


@dataclass(frozen=True, slots=True)
class Thread:
    """A thread that was read.

    Attributes:
        diameter_mm: Nominal diameter [mm].
        pitch_mm: Pitch [mm].
        metric: Whether it is metric.
    """

    diameter_mm: float
    pitch_mm: float
    metric: bool

    @property
    def stress_area_mm2(self) -> float:
        """Tensile stress area [mm2]."""
        lost = _METRIC_LOST if self.metric else _UNIFIED_LOST
        return _QUARTER_PI * (self.diameter_mm - lost * self.pitch_mm) ** 2


_Read = tuple[Reading, Thread | None]


def _in_unified_series(sixteenths: float, per_inch: float) -> bool:
    if per_inch in _INCH_SIZES.get(int(sixteenths), ()) and sixteenths == int(sixteenths):
        return True
    least, greatest = _CONSTANT.get(int(per_inch), (1, 0))
    return per_inch == int(per_inch) and sixteenths == int(sixteenths) and least <= sixteenths <= greatest


def _unified(inches: float, per_inch: float, made: bool) -> _Read:
    if not inches or not per_inch:
        return Reading.UNREAD, None
    thread = Thread(inches * _INCH_MM, _INCH_MM / per_inch, metric=False)
    return (Reading.MADE, thread) if made else (Reading.NOT_MADE, None)


def _of_fraction(hit: re.Match[str]) -> _Read:
    inches = int(hit["whole"] or 0) + int(hit["above"]) / int(hit["below"])
    per_inch = float(hit["tpi"])
    return _unified(inches, per_inch, _in_unified_series(16 * inches, per_inch))


def _of_decimal(hit: re.Match[str]) -> _Read:
    inches, per_inch = float(hit["inches"]), float(hit["tpi"])
    number = round((inches - 0.060) / 0.013, 3)
    if number in _NUMBERED:
        return _unified(inches, per_inch, per_inch in _NUMBERED[int(number)])
    nearest = round(16 * inches)
    if abs(inches - nearest / 16) <= _NEAR_SIXTEENTH_IN:
        inches = nearest / 16
    return _unified(inches, per_inch, _in_unified_series(16 * inches, per_inch))


def _of_whole(hit: re.Match[str]) -> _Read:
    """A number size such as 10-32, or whole inches such as 1-14."""
    size, per_inch = int(hit["size"]), float(hit["tpi"])
    made = per_inch in _NUMBERED.get(size, ())
    if made or hit["mark"] or size > 6:
        return _unified(0.060 + 0.013 * size, per_inch, made)
    return _unified(float(size), per_inch, _in_unified_series(16 * size, per_inch))


def _of_metric(hit: re.Match[str]) -> _Read:
    diameter = float(hit["size"] or hit["plain"])
    pitches = _METRIC.get(diameter, ())
    if not hit["pitch"] and hit["plain"]:
        return (Reading.NAMED if pitches else Reading.NOT_MADE), None
    pitch = float(hit["pitch"]) if hit["pitch"] else (pitches or (0.0,))[0]
    if pitch not in pitches:
        return Reading.NOT_MADE, None
    return Reading.MADE, Thread(diameter, pitch, metric=True)


_FORMS: tuple[tuple[re.Pattern[str], Callable[[re.Match[str]], _Read]], ...] = (
    (_FRACTION, _of_fraction),
    (_DECIMAL, _of_decimal),
    (_WHOLE, _of_whole),
    (_METRIC_TEXT, _of_metric),
)


def _of_pipe(hit: re.Match[str]) -> Reading:
    made = _PIPE.get(hit["size"])
    american = hit["series"].upper().startswith(("N", "A", "D"))
    wrong = american and made is not None and hit["tpi"] is not None and float(hit["tpi"]) != made
    return Reading.NOT_MADE if wrong else Reading.NAMED


def read_thread(text: str) -> tuple[Reading, Thread | None]:
    """Read a thread.

    Args:
        text: As printed, such as 5/16-24, 10-32 UNF-3A, M8x1.25 or 1/8-27 NPT.

    Returns:
        What became of it, and the thread where one of a series was read [mm].

    Source: ASME B1.1 and ISO 261, from memory. Checked in: tests/published/test_thread_plausibility.py
    """
    text = " ".join(text.replace('"', " ").split())
    if len(text) > _LONGEST:
        return Reading.UNREAD, None
    pipe = _PIPE_TEXT.fullmatch(text)
    if pipe:
        return _of_pipe(pipe), None
    if _OTHER_SERIES.fullmatch(text):
        return Reading.NAMED, None
    for pattern, make in _FORMS:
        hit = pattern.fullmatch(text)
        if hit and _ENDING.fullmatch(hit["rest"]):
            reading, thread = make(hit)
            special = reading is Reading.NOT_MADE and _SPECIAL.search(hit["rest"])
            return (Reading.NAMED if special else reading), thread
    return Reading.UNREAD, None


def pull_index(torque_nm: float, thread: Thread) -> float:
    """Say how hard a torque would pull a bolt of plain friction: T / (0.2 d A).

    Args:
        torque_nm: Torque [N.m].
        thread: Its thread.

    Returns:
        The stress that a nut factor of 0.2 makes of it [MPa]; an index for telling slips, no preload.

    Valid for: telling a torque from twelve times itself; true nut factors run from 0.09 to 0.30 (Shigley, 9th edition,
        table 8-15, read).
    Source: T = K D F with K about 0.2 for dry threads, NASA TM-106943 (read). Checked in:
        tests/published/test_thread_plausibility.py
    """
    force_n = torque_nm / (_NUT_FACTOR * thread.diameter_mm / 1000)
    return force_n / thread.stress_area_mm2
