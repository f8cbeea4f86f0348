"""Trials: repeatable whatever the workers, correlated as stated, and equal to the budget where both are exact."""

from __future__ import annotations

import numpy as np
import pytest

from tenthbook.trade.gauge.budget import draw_up
from tenthbook.trade.gauge.coverage import intervals, least_trials
from tenthbook.trade.gauge.draws import Input
from tenthbook.trade.gauge.faults import ImpossibleCorrelation, NeedsNormalInputs, NoReadings
from tenthbook.trade.gauge.montecarlo import PIECE, linear_sampler, model_sampler, propagate, simulate
from tenthbook.trade.gauge.settling import block_size, framework_holds, numerical_tolerance, propagate_until_settled
from tenthbook.trade.gauge.shapes import Shape

NORMALS = [Input(Shape.NORMAL, 1.0, 5.0), Input(Shape.NORMAL, 2.0, 3.0)]
TRIALS = 300_000
SCATTER = 0.01


def test_same_seed_same_answer_on_any_number_of_workers() -> None:
    """A seed decides the trials; one thread or three give the same, and the last short piece counts too."""
    sampler = linear_sampler([*NORMALS, Input(Shape.ARCSINE, 1.0)])
    trials = 3 * PIECE + 17
    first = simulate(sampler, trials, 42)
    assert np.array_equal(first, simulate(sampler, trials, 42, workers=3))
    assert not np.array_equal(first, simulate(sampler, trials, 43))
    assert len(np.unique(first)) == trials


@pytest.mark.parametrize("coefficient", [-1.0, -0.4, 0.7, 1.0])
def test_correlated_trials_have_the_spread_of_the_budget(coefficient: float) -> None:
    """A linear model of correlated normals spreads as the budget says."""
    matrix = [[1.0, coefficient], [coefficient, 1.0]]
    outcome = propagate(linear_sampler(NORMALS, [1.0, -1.0], matrix), 0.95, TRIALS, 3)
    budget = draw_up([1.0, 2.0], [1.0, -1.0], correlations=matrix)
    assert outcome.standard == pytest.approx(float(budget.combined), rel=SCATTER)
    assert outcome.mean == pytest.approx(2.0, abs=SCATTER * 3.0)
    assert 0.5 * (outcome.symmetric[1] - outcome.symmetric[0]) == pytest.approx(float(budget.expanded), rel=SCATTER)


def test_linear_model_and_the_same_as_a_function_agree() -> None:
    """A model given as a function draws the same trials as the same model given by its sensitivities."""
    as_list = simulate(linear_sampler(NORMALS, [1.0, -3.0]), 1000, 9)
    as_function = simulate(model_sampler(NORMALS, lambda one, other: one - 3.0 * other), 1000, 9)
    assert as_list == pytest.approx(as_function, rel=1e-12, abs=1e-12)


def test_correlated_inputs_must_be_normal() -> None:
    """Coefficients do not settle how a rectangle or a scaled t moves with another input."""
    matrix = np.array([[1.0, 0.5], [0.5, 1.0]])
    for odd in (Input(Shape.RECTANGULAR, 1.0), Input(Shape.NORMAL, 1.0, dof=5.0)):
        with pytest.raises(NeedsNormalInputs, match="correlated input 2"):
            linear_sampler([NORMALS[0], odd], 1.0, matrix)
        assert propagate(linear_sampler([NORMALS[0], odd], 1.0, np.eye(2)), 0.95, 1000).standard > 1.0
    with pytest.raises(NeedsNormalInputs, match="one an input"):
        linear_sampler(NORMALS, 1.0, np.eye(3))
    with pytest.raises(ImpossibleCorrelation):
        linear_sampler(NORMALS, 1.0, [[1.0, 2.0], [2.0, 1.0]])


def test_a_ceiling_is_said_in_the_answer() -> None:
    """A heavy tail that never settles stops at the ceiling, and the answer says that it did not settle."""
    outcome = propagate_until_settled(
        linear_sampler([Input(Shape.NORMAL, 1.0, dof=2.0)]), 0.95, 2, seed=1, most_trials=40_000
    )
    assert not outcome.settled
    assert outcome.trials == 40_000
    with pytest.raises(NoReadings, match="two blocks"):
        propagate_until_settled(linear_sampler(NORMALS), 0.95, 2, most_trials=10_000)


def test_more_digits_want_more_trials() -> None:
    """Two digits that stand still cost more trials than one, and both stop before the ceiling."""
    one, two = (propagate_until_settled(linear_sampler(NORMALS), 0.95, digits, seed=1) for digits in (1, 2))
    assert one.settled
    assert two.settled
    assert one.trials < two.trials


def test_budget_of_normals_holds_against_trials() -> None:
    """For normal inputs budget and trials agree, and the comparison says so; a budget twice as wide fails it."""
    outcome = propagate(linear_sampler([Input(Shape.NORMAL, 1.0)] * 4), 0.95, TRIALS, 2)
    expanded = float(draw_up([1.0] * 4).expanded)
    tolerance = numerical_tolerance(2.0, 1)
    assert framework_holds(0.0, expanded, outcome.shortest, tolerance)
    assert not framework_holds(0.0, 2.0 * expanded, outcome.shortest, tolerance)
    assert numerical_tolerance(0.0, 2) == 0.0


def test_too_few_trials_are_refused() -> None:
    """One trial has no spread."""
    with pytest.raises(NoReadings, match="found 1 trials"):
        simulate(linear_sampler(NORMALS), 1, 1)


@pytest.mark.parametrize("confidence", [1e-6, 0.01, 0.3, 0.5, 0.683, 0.95, 0.9545, 0.999, 0.9999])
def test_the_fewest_trials_make_an_interval_and_one_less_does_not(confidence: float) -> None:
    """An interval needs a trial to hold and a trial to leave out."""
    least = least_trials(confidence)
    values = np.arange(float(least))
    low, high = intervals(values, confidence).shortest
    assert 0.0 <= low < high <= least - 1
    with pytest.raises(NoReadings, match=f"expected at least {least}"):
        intervals(np.arange(float(least - 1)), confidence)


def test_no_block_is_asked_before_the_least_number_of_trials() -> None:
    """A run that two blocks would end goes on to the least number, and the first blocks stay the same."""
    sampler = linear_sampler(NORMALS)
    assert propagate_until_settled(sampler, 0.95, digits=1, seed=3).trials < 200_000
    assert propagate_until_settled(sampler, 0.95, digits=1, seed=3, least_trials=200_000).trials == 200_000


def test_blocks_are_large_enough_for_a_small_confidence_too() -> None:
    """A hundred trials lie within the interval as well as beyond it."""
    assert [block_size(share) for share in (0.95, 0.001, 0.00001, 0.99999)] == [10_000, 100_000, 10_000_000, 10_000_000]
