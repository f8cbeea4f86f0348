"""How often does the gauge let a bad part through, or throw a good one away.

About a stream of parts, where `conformity` is about one part in hand. Joint probabilities: a consumer's risk of 0.8 %
means that 8 parts in 1000 are bad *and* accepted. A mechanic rarely knows the process; then margin and measured rate
serve better. In: process, standard uncertainty, limits, acceptance limits, floats of one unit that broadcast. Out:
probabilities. Sources: JCGM 106:2012, clause 9 and example 9.5.4 (clause quoted in public notebooks of a national
laboratory, read; the rest from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tenthbook.trade.gauge.crossing import crossing
from tenthbook.trade.gauge.distributions import normal_cdf
from tenthbook.trade.gauge.faults import LimitsCrossed, Unattainable, checked_probability, checked_uncertainty
from tenthbook.trade.gauge.process import Process

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(16)
_STEPS = np.array([-10.0, -8.0, -6.5, -5.0, -4.0, -3.0, -2.0, -1.0, 0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.5, 8.0, 10.0])
"""Places about an acceptance limit, in standard uncertainties [-], between which the acceptance curve is smooth."""

_LEAST = 1e-300
"""A share so small that it counts as none [-], but has a logarithm."""

_NEAR = 1e-13
"""How near a guard is worked out, in standard uncertainties [-]."""


@dataclass(frozen=True, slots=True)
class Risk:
    """What a stream of parts and a gauge make together.

    Attributes:
        nonconforming: Share of all parts whose true size is outside its limits [-].
        consumer: Share of all parts that are outside and accepted [-].
        producer: Share of all parts that are within and refused [-].

    Source: JCGM 106:2012, 9.3 (from memory).
    """

    nonconforming: NDArray[np.float64]
    consumer: NDArray[np.float64]
    producer: NDArray[np.float64]


def global_risk(
    process: Process,
    standard_uncertainty: ArrayLike,
    lower: ArrayLike = -np.inf,
    upper: ArrayLike = np.inf,
    accept_lower: ArrayLike | None = None,
    accept_upper: ArrayLike | None = None,
) -> Risk:
    """Say how often a gauge errs over a whole stream of parts.

    Args:
        process: How the true sizes lie.
        standard_uncertainty: Standard uncertainty of one measurement [mm]; broadcasts; 0 for a perfect gauge.
        lower: Lower limit [mm]; minus infinity for none; broadcasts.
        upper: Upper limit [mm]; infinity for none; broadcasts.
        accept_lower: Least reading that is accepted [mm]; the lower limit where left out.
        accept_upper: Greatest reading that is accepted [mm]; the upper limit where left out.

    Returns:
        The three shares [-], of the broadcast shape.

    Raises:
        NotAnUncertainty: a negative uncertainty.
        LimitsCrossed: a lower limit above its upper limit.

    Valid for: a measuring error that is normal and the same for all sizes.
    Source: JCGM 106:2012, 9.5.2, equations 17 to 20 (from memory). Checked in: tests/published/test_jcgm_106.py
    """
    standard = checked_uncertainty(standard_uncertainty)
    low, high = np.asarray(lower, dtype=np.float64), np.asarray(upper, dtype=np.float64)
    take_low = low if accept_lower is None else np.asarray(accept_lower, dtype=np.float64)
    take_high = high if accept_upper is None else np.asarray(accept_upper, dtype=np.float64)
    if (low > high).any():
        raise LimitsCrossed(
            found="a lower limit above its upper limit", expected="lower first", todo="look at the row again"
        )
    breaks = _breaks(process, standard, low, high, take_low, take_high)
    accepted, refused, middles = _masses(process, breaks, standard, take_low, take_high)
    within = (middles >= low[..., np.newaxis]) & (middles <= high[..., np.newaxis])
    return Risk(
        np.broadcast_to(process.below(low) + process.above(high), breaks.shape[:-1]).copy(),
        np.asarray(np.where(within, 0.0, accepted).sum(axis=-1), dtype=np.float64),
        np.asarray(np.where(within, refused, 0.0).sum(axis=-1), dtype=np.float64),
    )


def guard_for_consumer_risk(
    process: Process,
    standard_uncertainty: ArrayLike,
    wanted: ArrayLike,
    lower: ArrayLike = -np.inf,
    upper: ArrayLike = np.inf,
) -> NDArray[np.float64]:
    """Say how far inside each limit to stop accepting so that few enough bad parts get through.

    Args:
        process: How the true sizes lie.
        standard_uncertainty: Standard uncertainty of one measurement [mm], above 0; broadcasts.
        wanted: Wanted consumer's risk [-], joint; broadcasts.
        lower: Lower limit [mm]; minus infinity for none; broadcasts.
        upper: Upper limit [mm]; infinity for none; broadcasts.

    Returns:
        Guard [mm], the same at both limits; accept up to `upper` minus guard. Negative where even readings beyond the
        limit may be accepted; minus infinity where fewer parts than wanted are bad at all, so that nothing need be
        refused.

    Raises:
        NotAProbability: a wanted risk outside 0 to 1, ends excluded.
        Unattainable: the gauge has no doubt, or there is no limit.

    Source: JCGM 106:2012, 9.5.4, the acceptance limit for a wanted risk (read, as quoted). Checked in:
        tests/published/test_jcgm_106.py
    """
    goal = checked_probability(wanted, "wanted consumer's risk")
    standard = checked_uncertainty(standard_uncertainty)
    low, high = np.asarray(lower, dtype=np.float64), np.asarray(upper, dtype=np.float64)
    if not (standard > 0.0).all() or (np.isinf(low) & np.isinf(high)).any():
        raise Unattainable(found="a gauge without doubt, or a part without limit", expected="both", todo="type them")
    bad = global_risk(process, standard, low, high).nonconforming
    places = process.landmarks()
    width = np.where(
        np.isinf(high - low), places[..., -1] - places[..., 0] + np.abs(_inner(low, high)), 0.5 * (high - low)
    )
    reach = np.broadcast_to(
        width + np.abs(places).max(axis=-1) + 40.0 * standard, np.broadcast_shapes(bad.shape, goal.shape)
    )

    def too_many(guard: NDArray[np.float64]) -> NDArray[np.float64]:
        found = global_risk(process, standard, low, high, low + guard, high - guard).consumer
        return np.asarray(np.log(np.maximum(found, _LEAST) / goal), dtype=np.float64)

    guard = crossing(too_many, -reach, reach, np.broadcast_to(_NEAR * standard, reach.shape))
    return np.where(bad <= goal, -np.inf, guard)


def _inner(low: NDArray[np.float64], high: NDArray[np.float64]) -> NDArray[np.float64]:
    """The one finite limit [mm] of a one-sided pair; 0 for a two-sided one."""
    return np.where(np.isinf(low), np.where(np.isinf(high), 0.0, high), np.where(np.isinf(high), low, 0.0))


def _breaks(process: Process, standard: NDArray[np.float64], *limits: NDArray[np.float64]) -> NDArray[np.float64]:
    """Sizes [mm] between which everything is smooth, in order on the last axis, within the reach of the process."""
    marks = process.landmarks()
    shape = np.broadcast_shapes(marks.shape[:-1], standard.shape, *(limit.shape for limit in limits))
    low, high, take_low, take_high = (limit[..., np.newaxis] for limit in limits)
    spread = standard[..., np.newaxis] * _STEPS
    rows = (marks, low, high, take_low + spread, take_high + spread)
    every = np.concatenate([np.broadcast_to(row, (*shape, row.shape[-1])) for row in rows], axis=-1)
    return np.sort(np.clip(every, marks[..., :1], marks[..., -1:]), axis=-1)


def _masses(
    process: Process,
    breaks: NDArray[np.float64],
    standard: NDArray[np.float64],
    take_low: NDArray[np.float64],
    take_high: NDArray[np.float64],
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Shares accepted and refused [-] in each piece, and the pieces' middles [mm]; first what lies below all pieces."""
    middles = 0.5 * (breaks[..., 1:] + breaks[..., :-1])
    halves = 0.5 * np.diff(breaks, axis=-1)
    sizes = np.moveaxis(middles[..., np.newaxis] + halves[..., np.newaxis] * _NODES, (-2, -1), (0, 1))
    density = np.moveaxis(process.density(sizes), (0, 1), (-2, -1))
    taken, left = (np.moveaxis(share, (0, 1), (-2, -1)) for share in _acceptance(sizes, standard, take_low, take_high))
    first = breaks[..., 0]
    below = process.below(first)
    first_taken, first_left = _acceptance(first, standard, take_low, take_high)
    accepted = ((density * taken) @ _WEIGHTS) * halves
    refused = ((density * left) @ _WEIGHTS) * halves
    return (
        np.concatenate([(below * first_taken)[..., np.newaxis], accepted], axis=-1),
        np.concatenate([(below * first_left)[..., np.newaxis], refused], axis=-1),
        np.concatenate([first[..., np.newaxis], middles], axis=-1),
    )


def _acceptance(
    size: NDArray[np.float64],
    standard: NDArray[np.float64],
    take_low: NDArray[np.float64],
    take_high: NDArray[np.float64],
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Probabilities [-] that a part of this true size [mm] is accepted, and refused; none is where the limits cross."""
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        below, above = (size - take_low) / standard, (take_high - size) / standard
    below, above = (np.where(np.isnan(z), np.inf, z) for z in (below, above))
    taken = normal_cdf(np.minimum(below, above)) - normal_cdf(-np.maximum(below, above))
    left = normal_cdf(-below) + normal_cdf(-above)
    crossed = take_low > take_high
    return np.where(crossed, 0.0, np.maximum(taken, 0.0)), np.where(crossed, 1.0, np.minimum(left, 1.0))
