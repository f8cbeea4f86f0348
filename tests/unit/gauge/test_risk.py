"""Global risks against an independent quadrature and a plain simulation, and their laws."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate, stats

from tenthbook.trade.gauge.faults import LimitsCrossed, NotAnUncertainty, NotAProbability, NotASize, Unattainable
from tenthbook.trade.gauge.process import GammaProcess, NormalProcess
from tenthbook.trade.gauge.risk import global_risk, guard_for_consumer_risk


@pytest.mark.parametrize("shape", [0.1, 0.5, 1.0, 1.5, 4.0, 400.0])
def test_gamma_against_adaptive_quadrature(shape: float) -> None:
    """Consumer's and producer's risk of a gamma process equal an adaptive quadrature in probability space."""
    process, standard = GammaProcess(shape, 2.0), 0.1
    limit = float(stats.gamma.ppf(0.9, shape, scale=0.5))

    def accepted(share: float) -> float:
        return float(stats.norm.cdf((limit - stats.gamma.isf(share, shape, scale=0.5)) / standard))

    consumer = integrate.quad(accepted, 0.0, 0.1, epsabs=1e-12, limit=500, points=[0.08, 0.09, 0.095])[0]
    producer = integrate.quad(lambda share: 1.0 - accepted(share), 0.1, 1.0, epsabs=1e-12, limit=500)[0]
    found = global_risk(process, standard, upper=limit)
    assert float(found.nonconforming) == pytest.approx(0.1, rel=1e-9)
    assert float(found.consumer) == pytest.approx(consumer, abs=1e-9)
    assert float(found.producer) == pytest.approx(producer, abs=1e-9)


def test_one_sided_normal_against_the_bivariate_normal() -> None:
    """For a normal process the risk is a bivariate normal probability."""
    mean, sigma, u, limit = 1.0, 2.0, 0.7, 3.0
    total = np.hypot(sigma, u)
    joint = stats.multivariate_normal([0.0, 0.0], [[1.0, sigma / total], [sigma / total, 1.0]])
    both_below = float(joint.cdf([(limit - mean) / sigma, (limit - mean) / total]))
    found = global_risk(NormalProcess(mean, sigma), u, upper=limit)
    accepted = float(stats.norm.cdf((limit - mean) / total))
    assert float(found.consumer) == pytest.approx(accepted - both_below, abs=1e-6)
    assert float(found.producer) == pytest.approx(float(stats.norm.cdf((limit - mean) / sigma)) - both_below, abs=1e-6)


def test_against_a_plain_simulation() -> None:
    """A million parts, measured and judged, err as often as computed."""
    rng = np.random.default_rng(8)
    true = rng.normal(0.3, 1.0, 1_000_000)
    read = true + rng.normal(0.0, 0.4, true.size)
    inside, taken = np.abs(true) <= 1.5, (read >= -1.3) & (read <= 1.4)
    found = global_risk(NormalProcess(0.3, 1.0), 0.4, -1.5, 1.5, -1.3, 1.4)
    assert float(found.nonconforming) == pytest.approx((~inside).mean(), abs=0.002)
    assert float(found.consumer) == pytest.approx((~inside & taken).mean(), abs=0.001)
    assert float(found.producer) == pytest.approx((inside & ~taken).mean(), abs=0.002)


@given(st.floats(-3.0, 3.0), st.floats(0.1, 5.0), st.floats(0.0, 2.0), st.floats(0.0, 1.0))
@settings(max_examples=40, deadline=None)
def test_risks_stay_within_their_bounds_and_mirror(mean: float, sigma: float, standard: float, inward: float) -> None:
    """Consumer's risk never exceeds the bad parts, producer's never the good; a mirrored problem errs alike."""
    found = global_risk(NormalProcess(mean, sigma), standard, -2.0, 2.5, -2.0 + inward, 2.5)
    bad = float(found.nonconforming)
    assert -1e-12 <= float(found.consumer) <= bad + 1e-9
    assert -1e-12 <= float(found.producer) <= 1.0 - bad + 1e-9
    mirrored = global_risk(NormalProcess(-mean, sigma), standard, -2.5, 2.0, -2.5, 2.0 - inward)
    assert float(mirrored.consumer) == pytest.approx(float(found.consumer), abs=1e-12)
    assert float(mirrored.producer) == pytest.approx(float(found.producer), abs=1e-12)


def test_perfect_gauge_errs_never() -> None:
    """Without doubt nothing bad is taken and nothing good refused."""
    found = global_risk(NormalProcess(0.0, 1.0), 0.0, -1.0, 1.0)
    assert float(found.consumer) == 0.0
    assert float(found.producer) == pytest.approx(0.0, abs=1e-15)


def test_many_processes_at_once() -> None:
    """Arrays of processes and limits give each its own answer."""
    means = np.array([0.0, 1.0, -2.0])
    together = global_risk(NormalProcess(means, 1.0), 0.2, upper=np.array([[1.0], [2.0]]))
    assert together.consumer.shape == (2, 3)
    alone = global_risk(NormalProcess(1.0, 1.0), 0.2, upper=2.0)
    assert together.consumer[1, 1] == pytest.approx(float(alone.consumer), rel=1e-12)


@pytest.mark.parametrize("wanted", [1e-4, 0.01, 0.03])
def test_guard_gives_the_wanted_risk_on_both_sides(wanted: float) -> None:
    """Limits drawn in by the guard give the wanted risk, two-sided and off centre."""
    process = NormalProcess(0.5, 4.0)
    width = float(guard_for_consumer_risk(process, 1.0, wanted, -8.0, 8.0))
    found = global_risk(process, 1.0, -8.0, 8.0, -8.0 + width, 8.0 - width)
    assert float(found.consumer) == pytest.approx(wanted, rel=1e-9)


def test_guard_where_few_parts_are_bad() -> None:
    """Where fewer parts are bad than may get through nothing need be refused; a lower limit alone works too."""
    process = NormalProcess(0.0, 4.0)
    assert guard_for_consumer_risk(process, 1.0, 0.5, -8.0, 8.0) == -np.inf
    low, high = guard_for_consumer_risk(process, 1.0, 0.001, [-8.0, -np.inf], [np.inf, 8.0])
    assert low == pytest.approx(high, rel=1e-9)


def test_densities_sum_to_one_between_landmarks() -> None:
    """Landmarks enclose the whole process, and the density belongs to its shares."""
    for process in (NormalProcess(3.0, 0.5), GammaProcess(2.0, 3.0)):
        marks = process.landmarks()
        grid = np.linspace(marks[0], marks[-1], 20_001)
        assert np.trapezoid(process.density(grid), grid) == pytest.approx(1.0, abs=1e-6)
        assert process.below(grid) + process.above(grid) == pytest.approx(np.ones(grid.size), abs=1e-12)
    assert GammaProcess(2.0, 3.0).density(np.array([-1.0]))[0] == 0.0


def test_misuse_is_named() -> None:
    """Crossed limits, impossible processes and senseless wishes are refused."""
    process = NormalProcess(0.0, 1.0)
    with pytest.raises(LimitsCrossed):
        global_risk(process, 0.1, 1.0, -1.0)
    with pytest.raises(NotAnUncertainty, match="standard deviation of the process"):
        NormalProcess(0.0, 0.0)
    with pytest.raises(NotAnUncertainty, match="rate"):
        GammaProcess(1.0, -1.0)
    with pytest.raises(NotASize, match="process mean"):
        NormalProcess(np.nan, 1.0)
    with pytest.raises(NotAProbability, match="consumer's risk"):
        guard_for_consumer_risk(process, 0.1, 0.0, upper=1.0)
    with pytest.raises(Unattainable):
        guard_for_consumer_risk(process, 0.0, 0.01, upper=1.0)
    with pytest.raises(Unattainable):
        guard_for_consumer_risk(process, 0.1, 0.01)
