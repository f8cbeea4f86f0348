"""Was that a slip of the pen: one turn of the thimble missed, one turn of the dial, the sign of a deviation.

Only asks. It returns which slip would explain a surprising reading and never what the reading should have been; whoever
reads again decides. In: sizes in int64 picometres or exact objects, the span from service to new limits, the last
reading. Out: true or false for each slip. Sources: pitch of micrometer screws (0.025 in or 0.5 mm a turn) and dials
(0.100 in or 1 mm a turn): common practice; the rule when to ask is this book's.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tenthbook.trade.gauge.faults import LimitsCrossed
from tenthbook.trade.gauge.sizes import Size


@dataclass(frozen=True, slots=True)
class Turn:
    """One full turn that is easily missed.

    Attributes:
        name: What turns, as the question names it.
        size: Length of one turn [pm].
        near: How near the span one turn must land for the question to be asked [pm].

    Source: common practice, no source.
    """

    name: str
    size: int
    near: int


THIMBLE_INCH = Turn("thimble, 0.025 in", 635_000_000, 25_400_000)
THIMBLE_METRIC = Turn("thimble, 0.5 mm", 500_000_000, 25_000_000)
DIAL_INCH = Turn("dial, 0.100 in", 2_540_000_000, 50_800_000)
DIAL_METRIC = Turn("dial, 1 mm", 1_000_000_000, 50_000_000)

TURNS_INCH = (THIMBLE_INCH, DIAL_INCH)
TURNS_METRIC = (THIMBLE_METRIC, DIAL_METRIC)


@dataclass(frozen=True, slots=True)
class TurnQuestion:
    """Whether one turn more, or one turn less, would explain a reading.

    Attributes:
        turn: Which turn.
        one_more: True where the true size may be one turn larger than typed.
        one_less: True where it may be one turn smaller.

    Source: common practice, no source.
    """

    turn: Turn
    one_more: NDArray[np.bool_]
    one_less: NDArray[np.bool_]


def ask_about_turn(
    reading_pm: Size,
    turn: Turn,
    span_pm: tuple[Size, Size] | None = None,
    last_pm: Size | None = None,
) -> TurnQuestion:
    """Say whether a turn more or less would land where the reading was expected.

    Args:
        reading_pm: Readings as typed [pm], int64 or exact objects; any shape.
        turn: Which turn; 0.025 in or 0.5 mm for a thimble, 0.100 in or 1 mm for a dial.
        span_pm: Lowest and highest of the limits, service and new [pm]; None where there are none; broadcasts.
        last_pm: Last reading of the same place [pm]; None where there is none; broadcasts.

    Returns:
        The question. Neither side where the reading as typed is itself near the span or the last reading, or where
        nothing is known.

    Raises:
        LimitsCrossed: a span whose low end is above its high end.

    Source: the rule is this book's own; turns of 0.025 in and 0.5 mm as in any handbook of bench measurement (from
        memory). Checked in: tests/unit/gauge/test_slips.py
    """
    typed = np.asarray(reading_pm)
    expected = _expectations(span_pm, last_pm)
    surprising = ~_near(typed, expected, turn.near)
    return TurnQuestion(
        turn,
        np.asarray(surprising & _near(typed + turn.size, expected, turn.near)),
        np.asarray(surprising & _near(typed - turn.size, expected, turn.near)),
    )


def ask_about_sign(
    deviation_pm: Size,
    master_pm: Size,
    span_pm: tuple[Size, Size] | None = None,
    last_pm: Size | None = None,
    near_pm: int = 0,
) -> NDArray[np.bool_]:
    """Say whether the other sign of a deviation would land where the size was expected.

    Args:
        deviation_pm: Deviations from the master as typed [pm]; any shape.
        master_pm: Size of the master [pm]; broadcasts.
        span_pm: Lowest and highest of the limits, service and new [pm]; None where there are none; broadcasts.
        last_pm: Last size of the same place [pm]; None where there is none; broadcasts.
        near_pm: How near counts as there [pm].

    Returns:
        True where the size as typed is not near, and with the other sign it is.

    Raises:
        LimitsCrossed: a span whose low end is above its high end.

    Source: the rule is this book's own; comparison with a master as in JCGM 100:2008, H.1.1. Checked in:
        tests/unit/gauge/test_slips.py
    """
    deviation, master = np.asarray(deviation_pm), np.asarray(master_pm)
    expected = _expectations(span_pm, last_pm)
    typed = _near(master + deviation, expected, near_pm)
    return np.asarray(~typed & _near(master - deviation, expected, near_pm), dtype=np.bool_)


def _expectations(span_pm: tuple[Size, Size] | None, last_pm: Size | None) -> list[tuple[NDArray[Any], NDArray[Any]]]:
    """Everything a reading was expected to be near, as spans [pm]."""
    spans = []
    if span_pm is not None:
        low, high = np.asarray(span_pm[0]), np.asarray(span_pm[1])
        if np.asarray(low > high, dtype=np.bool_).any():
            raise LimitsCrossed(found="a span whose low end is above its high end", expected="lower first")
        spans.append((low, high))
    if last_pm is not None:
        spans.append((np.asarray(last_pm), np.asarray(last_pm)))
    return spans


def _near(size: Any, spans: list[tuple[NDArray[Any], NDArray[Any]]], near: int) -> NDArray[np.bool_]:
    """Whether a size [pm] lies in one of the spans or no further than `near` outside."""
    found = np.zeros(np.shape(size), dtype=np.bool_)
    for low, high in spans:
        found = found | np.asarray((size >= low - near) & (size <= high + near), dtype=np.bool_)
    return found
