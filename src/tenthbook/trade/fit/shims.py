"""Which shim, or which few together, brings an end play to the middle of what is wanted?

It judges nothing against a limit of the manual and orders nothing: it says which of the stated thicknesses lands
nearest the middle of the wanted band, and whether that is inside the band at all. In go exact numbers in one length
unit; out come exact numbers in the same unit.

Sources: common practice (measured play less what is added), arithmetic derived here.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import chain, combinations, combinations_with_replacement
from math import comb
from typing import Any

import numpy as np

from tenthbook.trade.fit.faults import CrossedLimits, NoStack, OutOfRange
from tenthbook.trade.fit.lengths import Lengths, LengthsLike, as_lengths, plain

_MOST_STACKS = 200_000


@dataclass(frozen=True, slots=True)
class ShimChoice:
    """The stack that lands nearest the middle.

    Attributes:
        pieces: Which of the listed thicknesses to take, counted from 0, thinnest first [-].
        thickness: What they add up to, unit of the list, for instance [mm].
        play: End play to expect with them, same unit.
        lands: Whether that play lies in the wanted band, its ends included; false says that no stack of the list does
            [-].
    """

    pieces: tuple[int, ...]
    thickness: Any
    play: Any
    lands: bool


def choose_shims(
    measured_play: LengthsLike,
    wanted: tuple[LengthsLike, LengthsLike],
    thicknesses: LengthsLike,
    *,
    trial_shim: LengthsLike = 0,
    fewest: int = 1,
    most: int = 1,
    each_once: bool = False,
    thicker_is_looser: bool = False,
) -> ShimChoice:
    """Choose the shims for an end play.

    Args:
        measured_play: Play as measured [pm] or any one unit, for instance [mm]; scalar.
        wanted: Least and greatest play wanted, same unit.
        thicknesses: What the shims of the list measure, same unit, each above zero.
        trial_shim: Thickness that was in place while measuring, same unit; 0 for none.
        fewest: Fewest pieces in a stack [-]; 0 allows "no shim".
        most: Most pieces in a stack [-].
        each_once: Whether a listed thickness is one piece on the bench (true) or may be taken again (false).
        thicker_is_looser: Whether a thicker shim opens the play, as under a cover, instead of taking it up.

    Returns:
        The stack whose play is nearest the middle of the band. Of equal ones the stack with fewer pieces, then the
        thinner, then the first listed.

    Raises:
        NoStack: no stack can be made of the list, or far too many.
        CrossedLimits: a wanted play the wrong way round.
        OutOfRange: a thickness not above zero, or counts of pieces that cannot be.
        NotANumber: something given is not a number.

    Valid for: pieces that lie flat and a play that changes by as much as the stack does.
    Source: common practice; arithmetic derived here. Checked in: tests/unit/fit/test_shims.py
    """
    listed = as_lengths(thicknesses, "shim thickness")
    low, high = as_lengths(wanted[0], "wanted play"), as_lengths(wanted[1], "wanted play")
    if bool(low > high):
        raise CrossedLimits(found=f"wanted play from {low} to {high}", expected="the smaller play first")
    if bool(np.any(listed <= 0)):
        raise OutOfRange(found=f"a shim of {listed.min()}", expected="thicknesses above zero")
    stacks = _possible_stacks(listed, fewest, most, each_once)
    totals = _totals(listed, stacks)
    added = totals - as_lengths(trial_shim, "trial shim")
    plays = as_lengths(measured_play, "measured play") + (added if thicker_is_looser else -added)
    off_the_middle = np.abs(2 * plays - (low + high))
    nearest = np.flatnonzero(off_the_middle == off_the_middle.min())
    best = min(nearest.tolist(), key=lambda stack: (len(stacks[stack]), totals[stack], stacks[stack]))
    play = plays[best]
    return ShimChoice(stacks[best], plain(totals[best]), plain(play), bool(low <= play <= high))


def _possible_stacks(listed: Lengths, fewest: int, most: int, each_once: bool) -> list[tuple[int, ...]]:
    """Every stack of the list, each with its thinnest piece first."""
    size = listed.size
    if not 0 <= fewest <= most:
        raise OutOfRange(found=f"{fewest} to {most} pieces", expected="a count from 0 up, the smaller first")
    sizes = range(fewest, (min(most, size) if each_once else most if size else 0) + 1)
    choices = (size if each_once else size + pieces - 1 for pieces in sizes)
    count = sum(comb(of, pieces) if pieces else 1 for of, pieces in zip(choices, sizes, strict=True))
    if not count or count > _MOST_STACKS:
        found = f"{count} stacks from {size} thicknesses"
        raise NoStack(
            found=found,
            expected=f"1 to {_MOST_STACKS}",
            todo="give a list that makes a stack, and allow few pieces in it",
        )
    order = np.argsort(listed, kind="stable").tolist()
    choose = combinations if each_once else combinations_with_replacement
    return list(chain.from_iterable(choose(order, pieces) for pieces in sizes))


def _totals(listed: Lengths, stacks: list[tuple[int, ...]]) -> Lengths:
    """Add each stack up; a stack shorter than the longest is filled with a thickness of nothing."""
    longest = max(map(len, stacks))
    nothing = listed.size
    filled = [stack + (nothing,) * (longest - len(stack)) for stack in stacks]
    places = np.array(filled, dtype=np.intp).reshape(len(stacks), longest)
    with_nothing = np.append(listed, np.zeros(1, dtype=np.int64)) if listed.size else np.zeros(1, dtype=np.int64)
    return np.asarray(with_nothing[places].sum(axis=1))
