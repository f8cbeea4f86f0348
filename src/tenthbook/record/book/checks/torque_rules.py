"""The rules for torques: order, stages, pattern, thread, lubricant, locking.

How hard a thread is pulled is judged by an index (`threads.pull_index`), between a least and a greatest. They are wide
on purpose. Every range of AC 43.13-1B, table 7-1, for tension and for shear nuts, lies between 107 and 320 MPa and
every greatest value it allows between 180 and 643 MPa; screws of the highest common strength come to about 800 MPa.
The greatest is 1000 MPa: twelve times the lowest of these rows is above it. The least is 55 MPa: a twelfth of the
highest of them is below it. From 14 mm (9/16 in) upward most threads are plugs and unions on a gasket, pulled to a
fraction of a bolt, so there the least is 28 MPa; it still asks about a twelfth of each range of the table.
"""

from __future__ import annotations

from tenthbook.numbers.because import Register
from tenthbook.record.book.findings import CheckRule, Weight

RULES = Register()
GREATEST_PULL_MPA = 1000.0
LEAST_PULL_MPA = 55.0
LEAST_PLUG_PULL_MPA = 28.0
PLUGS_FROM_MM = 14.0
_OWN = "rule of this book"
_TIMES_MEDIAN = 3


def _rule(rule: CheckRule) -> CheckRule:
    RULES.add(rule)
    return rule


TORQUE_ORDER = _rule(
    CheckRule(
        id="book.torque-order",
        says="A least is not above the value to set, and neither is above the greatest.",
        source=_OWN,
        holds=lambda figures: list(figures) == sorted(figures),
        passes={"figures": (105, 112, 125)},
        fails={"figures": (105, 130, 125)},
        todo="look at the page: a figure slipped, or two are changed over",
    )
)
STAGES = _rule(
    CheckRule(
        id="book.torque-stages",
        says="The torques of the stages never fall, and the last lies in the final range.",
        source="passes at 30, 60 and 100 per cent and once more at 100, two gasket makers' guides (quoted, not read)",
        weight=Weight.ASKS,
        holds=lambda stages, least, greatest: (
            list(stages) == sorted(stages)
            and (least is None or least <= stages[-1])
            and (greatest is None or stages[-1] <= greatest)
        ),
        passes={"stages": (30, 60, 100, 100), "least": 95, "greatest": 105},
        fails={"stages": (30, 60, 10), "least": 95, "greatest": 105},
        todo="look at the page; where the manual does slacken in between, let it stand",
    )
)
PATTERN = _rule(
    CheckRule(
        id="book.torque-pattern",
        says="The pattern of a joint names each of its fasteners once by its number.",
        source="each fastener once a pass: MIL-HDBK-60, figure 4 (read)",
        holds=lambda pattern, together, numbers: sorted(numbers) in (sorted(pattern), sorted(together)),
        passes={"pattern": (1, 3, 2, 4), "together": (1, 3, 2, 4), "numbers": (1, 2, 3, 4)},
        fails={"pattern": (1, 3, 3, 4), "together": (1, 3, 3, 4), "numbers": (1, 2, 3, 4)},
        todo="look at the figure: a number is left out, stands twice, or is of no fastener of the joint",
    )
)
THREAD = _rule(
    CheckRule(
        id="book.thread",
        says="A thread is written so that it can be read, and is one of a series that is made.",
        source="ASME B1.1 and ISO 261 (from memory)",
        weight=Weight.ASKS,
        holds=lambda reading: reading in ("made", "named"),
        passes={"reading": "made"},
        fails={"reading": "not made"},
        todo="look at the page; a special thread may be marked so, such as 3/4-19 UNS",
    )
)
TORQUE_FOR_THREAD = _rule(
    CheckRule(
        id="book.torque-for-thread",
        says="A torque pulls its thread neither far harder nor far less than screws of its size are pulled.",
        source="T = K D F with K 0.2 (NASA TM-106943, read); AC 43.13-1B, table 7-1 (read) sets how wide",
        weight=Weight.ASKS,
        holds=lambda pull_mpa, least_mpa: least_mpa <= pull_mpa <= GREATEST_PULL_MPA,
        passes={"pull_mpa": 219.0, "least_mpa": LEAST_PULL_MPA},
        fails={"pull_mpa": 2628.0, "least_mpa": LEAST_PULL_MPA},
        todo="look at the unit over the column and at the thread; where both are so in the manual, let it stand",
    )
)
TORQUE_MEDIAN = _rule(
    CheckRule(
        id="book.torque-median",
        says="A torque is not above three times the median of its thread, where the book has four rows of it or more.",
        source="one setting misread by five people in turn, a public report on aviation safety (read in part)",
        weight=Weight.ASKS,
        holds=lambda torque, median: torque <= _TIMES_MEDIAN * median,
        passes={"torque": 360, "median": 120},
        fails={"torque": 1440, "median": 120},
        todo="look at the unit and the figure again",
    )
)
LOCKING = _rule(
    CheckRule(
        id="book.locking",
        says="A torque row that guards against failure in flight says how the fastener is locked.",
        source="all bolts and nuts are locked but the self-locking: AC 43.13-1B, 7-38 (read)",
        weight=Weight.ASKS,
        holds=lambda safety, locking: bool(locking) or not safety,
        passes={"safety": True, "locking": "safety wire"},
        fails={"safety": True, "locking": ""},
        todo="read it from the page; none is a word of the column too",
    )
)
LUBRICANT = _rule(
    CheckRule(
        id="book.lubricant-named",
        says="Threads that are lubricated or sealed name what is put on them, and dry threads name nothing.",
        source="a torque holds for one state of the threads: NSTS 08307 Rev A, 3.4 (read)",
        holds=lambda threads_are, lubricant: threads_are == "not stated" or bool(lubricant) == (threads_are != "dry"),
        passes={"threads_are": "lubricated", "lubricant": ("oil.threads",)},
        fails={"threads_are": "lubricated", "lubricant": ()},
        todo="read the state of the threads from the page again",
    )
)
RUNNING_TORQUE = _rule(
    CheckRule(
        id="book.running-torque",
        says="A row with a self-locking nut says whether its range includes the running torque.",
        source="AC 43.13-1B, 7-40d, adds it; NASA-STD-5020B takes a torque as the total (both read)",
        weight=Weight.ASKS,
        holds=lambda locking, running_torque: bool(running_torque) or locking != "self-locking nut",
        passes={"locking": "self-locking nut", "running_torque": "added"},
        fails={"locking": "self-locking nut", "running_torque": ""},
        todo="read it from the manual's words on torques, often in its general part",
    )
)
