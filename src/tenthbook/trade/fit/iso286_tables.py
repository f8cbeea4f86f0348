"""What the ISO 286 tables print: tolerance widths and letter positions, as data and nothing else.

No look-up and no arithmetic beyond turning printed micrometres into whole picometres; `iso286` does the rest. A step
runs from over the edge before it up to and including its own edge. Sizes to 500 mm.

Sources: ISO 286-1 and ISO 286-2 (1988, with Technical Corrigendum 1 of 2006; same values in the editions of 2010):
written down from memory, then compared cell by cell with a public data set of ISO 286 and DIN 286 (read). The tables
rule where the formula of the standard gives something else.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike, NDArray

PM_A_MM = 1_000_000_000
PM_A_UM = 1_000_000


def _pm(micrometres: ArrayLike) -> NDArray[np.int64]:
    table = np.rint(np.asarray(micrometres, dtype=np.float64) * PM_A_UM).astype(np.int64)
    table.setflags(write=False)
    return table


# Upper edge of each step, mm: the thirteen main ones, and the finer ones that r and s use.
STEPS_MM = (3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500)
FINE_STEPS_MM = (3, 6, 10, 18, 30, 50, 65, 80, 100, 120, 140, 160, 180, 200, 225, 250, 280, 315, 355, 400, 450, 500)

STEPS_PM = np.array(STEPS_MM, dtype=np.int64) * PM_A_MM
FINE_STEPS_PM = np.array(FINE_STEPS_MM, dtype=np.int64) * PM_A_MM

# Standard tolerances, micrometres: a row a step, a column a grade, IT1 to IT18.
TOLERANCES_PM = _pm(
    [
        # 1   2    3    4   5   6   7   8    9    10   11   12   13   14    15    16    17    18
        (0.8, 1.2, 2.0, 3, 4, 6, 10, 14, 25, 40, 60, 100, 140, 250, 400, 600, 1000, 1400),  # up to 3 mm
        (1.0, 1.5, 2.5, 4, 5, 8, 12, 18, 30, 48, 75, 120, 180, 300, 480, 750, 1200, 1800),  # over 3 to 6
        (1.0, 1.5, 2.5, 4, 6, 9, 15, 22, 36, 58, 90, 150, 220, 360, 580, 900, 1500, 2200),  # over 6 to 10
        (1.2, 2.0, 3.0, 5, 8, 11, 18, 27, 43, 70, 110, 180, 270, 430, 700, 1100, 1800, 2700),  # over 10 to 18
        (1.5, 2.5, 4.0, 6, 9, 13, 21, 33, 52, 84, 130, 210, 330, 520, 840, 1300, 2100, 3300),  # over 18 to 30
        (1.5, 2.5, 4.0, 7, 11, 16, 25, 39, 62, 100, 160, 250, 390, 620, 1000, 1600, 2500, 3900),  # over 30 to 50
        (2.0, 3.0, 5.0, 8, 13, 19, 30, 46, 74, 120, 190, 300, 460, 740, 1200, 1900, 3000, 4600),  # over 50 to 80
        (2.5, 4.0, 6.0, 10, 15, 22, 35, 54, 87, 140, 220, 350, 540, 870, 1400, 2200, 3500, 5400),  # over 80 to 120
        (3.5, 5.0, 8.0, 12, 18, 25, 40, 63, 100, 160, 250, 400, 630, 1000, 1600, 2500, 4000, 6300),  # over 120 to 180
        (4.5, 7.0, 10.0, 14, 20, 29, 46, 72, 115, 185, 290, 460, 720, 1150, 1850, 2900, 4600, 7200),  # over 180 to 250
        (6.0, 8.0, 12.0, 16, 23, 32, 52, 81, 130, 210, 320, 520, 810, 1300, 2100, 3200, 5200, 8100),  # over 250 to 315
        (7.0, 9.0, 13.0, 18, 25, 36, 57, 89, 140, 230, 360, 570, 890, 1400, 2300, 3600, 5700, 8900),  # over 315 to 400
        (8.0, 10.0, 15.0, 20, 27, 40, 63, 97, 155, 250, 400, 630, 970, 1550, 2500, 4000, 6300, 9700),  # over 400 to 500
    ]
)

# Where a shaft of each letter begins, micrometres, a column a step: upper deviation for d to h, lower for k to s.
SHAFT_POSITIONS_PM: Mapping[str, NDArray[np.int64]] = MappingProxyType(
    {
        # up to 3   6    10   18   30    50    80    120   180   250   315   400   500
        "d": _pm((-20, -30, -40, -50, -65, -80, -100, -120, -145, -170, -190, -210, -230)),
        "e": _pm((-14, -20, -25, -32, -40, -50, -60, -72, -85, -100, -110, -125, -135)),
        "f": _pm((-6, -10, -13, -16, -20, -25, -30, -36, -43, -50, -56, -62, -68)),
        "g": _pm((-2, -4, -5, -6, -7, -9, -10, -12, -14, -15, -17, -18, -20)),
        "h": _pm((0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0)),
        "k": _pm((0, 1, 1, 1, 2, 2, 2, 3, 3, 4, 4, 4, 5)),  # grades 4 to 7; otherwise 0
        "m": _pm((2, 4, 6, 7, 8, 9, 11, 13, 15, 17, 20, 21, 23)),
        "n": _pm((4, 8, 10, 12, 15, 17, 20, 23, 27, 31, 34, 37, 40)),
        "p": _pm((6, 12, 15, 18, 22, 26, 32, 37, 43, 50, 56, 62, 68)),
        # r and s on the finer steps: 3 6 10 18 30 50 65 80 100 120 140 160 180 200 225 250 280 315 355 400 450 500
        "r": _pm((10, 15, 19, 23, 28, 34, 41, 43, 51, 54, 63, 65, 68, 77, 80, 84, 94, 98, 108, 114, 126, 132)),
        "s": _pm((14, 19, 23, 28, 35, 43, 53, 59, 71, 79, 92, 100, 108, 122, 130, 140, 158, 170, 190, 208, 232, 252)),
    }
)

GRADES = range(1, 19)
GRADES_WITH_K = range(4, 8)  # a k shaft outside them starts at the size itself
SHAFT_LETTERS = ("d", "e", "f", "g", "h", "js", "k", "m", "n", "p", "r", "s")
HOLE_LETTERS = ("D", "E", "F", "G", "H", "JS", "K", "N", "P", "R", "S")
