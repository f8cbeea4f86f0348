"""What the trials say of a result: its distribution from draws of its inputs, where a coverage factor misleads.

Linear models with independent or (if all normal) correlated inputs, or any model given as a function of the drawn
inputs. A fixed number of trials here; until the answer stands still in `settling`. Trials are drawn in pieces of fixed
size, each from its own stream, so that a seed gives the same answer on one core or on two. In: inputs, sensitivities, a
seed. Out: mean, standard uncertainty and intervals, in the unit of the result. Sources: JCGM 101:2008, clauses 5 to 7
(from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tenthbook.trade.gauge.correlation import checked_correlations, factor
from tenthbook.trade.gauge.coverage import intervals
from tenthbook.trade.gauge.draws import Input
from tenthbook.trade.gauge.faults import NeedsNormalInputs, NoReadings
from tenthbook.trade.gauge.shapes import Shape

PIECE = 16_384
"""Trials drawn at a time [-]: a piece stays in the cache, and has a random stream of its own."""

Sampler = Callable[[np.random.Generator, NDArray[np.float64], NDArray[np.float64]], None]
"""Fills a buffer of results [mm] from a generator, with a scratch table of two rows to overwrite."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What the trials say of a result.

    Attributes:
        mean: Mean of the trials [mm, or the result's unit].
        standard: Their standard deviation [mm].
        shortest: Ends of the shortest interval [mm].
        symmetric: Ends of the interval with equal tails [mm].
        trials: How many trials were made [-].
        settled: False where an adaptive run was stopped by its ceiling; always true for a fixed number of trials.

    Source: JCGM 101:2008, 5.5 (from memory).
    """

    mean: float
    standard: float
    shortest: tuple[float, float]
    symmetric: tuple[float, float]
    trials: int
    settled: bool = True


def linear_sampler(
    inputs: Sequence[Input], sensitivities: ArrayLike = 1.0, correlations: ArrayLike | None = None
) -> Sampler:
    """Prepare trials of a linear model: the sum of the inputs, each times its sensitivity.

    Args:
        inputs: The inputs.
        sensitivities: How much the result moves for one unit of each input [-]; one, or one an input.
        correlations: Correlation matrix [-]; None for independent inputs.

    Returns:
        A sampler of results [mm, or the result's unit].

    Raises:
        ImpossibleCorrelation: coefficients that cannot be.
        NeedsNormalInputs: a correlated input that is bounded, or has finite degrees of freedom.

    Source: JCGM 101:2008, 6.4.8 and 7.3 (from memory). Checked in: tests/published/test_jcgm_101.py
    """
    slopes = np.broadcast_to(np.asarray(sensitivities, dtype=np.float64), (len(inputs),))
    offset = float(sum(slope * one.centre for slope, one in zip(slopes, inputs, strict=True)))
    weights = slopes * np.array([one.scale for one in inputs])
    if correlations is not None:
        weights = weights @ factor(_normal_only(inputs, checked_correlations(correlations)))
    return _weighted(tuple(inputs), tuple(weights.tolist()), offset)


def model_sampler(inputs: Sequence[Input], model: Callable[..., NDArray[np.float64]]) -> Sampler:
    """Prepare trials of any model of independent inputs.

    Args:
        inputs: The inputs, in the order of the model's arguments.
        model: Takes one array of draws an input, in the input's own unit, and gives an array of results [mm, or the
            result's unit].

    Returns:
        A sampler of results [mm].

    Source: JCGM 101:2008, 7.3 (from memory). Checked in: tests/published/test_jcgm_101.py
    """

    def sample(generator: np.random.Generator, out: NDArray[np.float64], scratch: NDArray[np.float64]) -> None:
        drawn = np.empty((len(inputs), out.size))
        for row, one in zip(drawn, inputs, strict=True):
            one.draw(generator, row, scratch[1, : out.size])
            row *= one.scale
            row += one.centre
        out[:] = model(*drawn)

    return sample


def simulate(sampler: Sampler, trials: int, seed: int, workers: int = 1) -> NDArray[np.float64]:
    """Make a fixed number of trials.

    Args:
        sampler: What to draw.
        trials: How many [-].
        seed: Any whole number from 0 up [-]; the same seed gives the same trials whatever `workers` is.
        workers: Threads to draw with [-].

    Returns:
        Results [mm, or the result's unit], in the order drawn.

    Raises:
        NoReadings: fewer than two trials.

    Source: JCGM 101:2008, 7.2 and 7.4 (from memory). Checked in: tests/unit/gauge/test_montecarlo.py
    """
    if trials < 2:
        raise NoReadings(found=f"{trials} trials", expected="at least 2", todo="a million is usual")
    out = np.empty(trials)
    fill(sampler, out, np.random.SeedSequence(seed), workers)
    return out


def propagate(sampler: Sampler, confidence: float, trials: int = 1_000_000, seed: int = 1, workers: int = 1) -> Outcome:
    """Make a fixed number of trials and say what they say.

    Args:
        sampler: What to draw.
        confidence: Two-sided confidence of the intervals [-].
        trials: How many [-].
        seed: Any whole number from 0 up [-].
        workers: Threads to draw with [-]; the answer does not depend on it.

    Returns:
        Mean, standard deviation and intervals [mm, or the result's unit].

    Raises:
        NotAProbability: a confidence outside 0 to 1, ends excluded.
        NoReadings: too few trials for the confidence.

    Source: JCGM 101:2008, 7.2 to 7.7 (from memory). Checked in: tests/published/test_jcgm_101.py
    """
    return summary(simulate(sampler, trials, seed, workers), confidence)


def summary(values: NDArray[np.float64], confidence: float, *, settled: bool = True) -> Outcome:
    """Say what a set of trials says.

    Args:
        values: Results of trials [mm, or the result's unit]; **reordered in place**.
        confidence: Two-sided confidence of the intervals [-].
        settled: Passed on into the answer.

    Returns:
        Mean, standard deviation and intervals [mm].

    Raises:
        NotAProbability: a confidence outside 0 to 1, ends excluded.
        NoReadings: too few trials for the confidence.

    Source: JCGM 101:2008, 7.6 and 7.7 (from memory). Checked in: tests/published/test_jcgm_101.py
    """
    mean = float(values.mean())
    # Sum of squares about the first value would lose digits; a copy shifted by the mean is one cheap pass.
    shifted = values - mean
    variance = float(shifted @ shifted) / (values.size - 1)
    both = intervals(values, confidence)
    return Outcome(mean, float(np.sqrt(variance)), both.shortest, both.symmetric, values.size, settled)


def _normal_only(inputs: Sequence[Input], matrix: NDArray[np.float64]) -> NDArray[np.float64]:
    """Let a correlation matrix [-] pass only where every correlated input is plain normal."""
    if len(matrix) != len(inputs):
        raise NeedsNormalInputs(found=f"{len(matrix)} rows of coefficients", expected=f"{len(inputs)}, one an input")
    for number in np.flatnonzero((matrix != np.eye(len(matrix))).any(axis=-1)).tolist():
        one = inputs[number]
        if one.shape is not Shape.NORMAL or one.dof < np.inf:
            raise NeedsNormalInputs(
                found=f"correlated input {number + 1} of shape {one.shape.value} with {one.dof:g} degrees of freedom",
                expected="a normal input without stated degrees of freedom",
                todo="state it as a standard uncertainty, or leave the correlation out",
            )
    return matrix


def _weighted(inputs: tuple[Input, ...], weights: tuple[float, ...], offset: float) -> Sampler:
    """A sampler [mm] of the weighted sum of standardised draws."""

    def sample(generator: np.random.Generator, out: NDArray[np.float64], scratch: NDArray[np.float64]) -> None:
        drawn, spare = scratch[0, : out.size], scratch[1, : out.size]
        out[:] = offset
        for one, weight in zip(inputs, weights, strict=True):
            if weight != 0.0:
                one.draw(generator, drawn, spare)
                drawn *= weight
                out += drawn

    return sample


def fill(sampler: Sampler, out: NDArray[np.float64], stream: np.random.SeedSequence, workers: int = 1) -> None:
    """Fill results piece by piece, each piece from its own child of the stream.

    Args:
        sampler: What to draw.
        out: Results to fill [mm].
        stream: Where the pieces' random streams come from.
        workers: Threads to draw with [-]; the results do not depend on it.

    Source: JCGM 101:2008, 6.5 and annex C (from memory), independent streams. Checked in:
        tests/unit/gauge/test_montecarlo.py
    """
    starts = range(0, out.size, PIECE)
    children = stream.spawn(len(starts))

    def work(worker: int) -> None:
        scratch = np.empty((2, PIECE))
        for start, child in zip(starts[worker::workers], children[worker::workers], strict=True):
            sampler(np.random.Generator(np.random.PCG64(child)), out[start : start + PIECE], scratch)

    if workers == 1:
        work(0)
        return
    from concurrent.futures import ThreadPoolExecutor

    with ThreadPoolExecutor(workers) as pool:
        list(pool.map(work, range(workers)))
