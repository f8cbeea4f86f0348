"""The closed forms against exact sums of rectangulars, numerical convolution and sampling."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.numbers.because import TenthbookError
from tenthbook.trade.fit.clearance_law import probability_below
from tenthbook.trade.gauge.rectangulars import probability_beyond

ROUNDING = 1e-14  # the accuracy the function states
QUADRATURE = 1e-10  # what the numerical integral is asked for

widths = st.floats(min_value=1e-3, max_value=1e3)
distances = st.floats(min_value=-3e3, max_value=3e3)


@given(t=distances, one=widths, two=widths)
def test_two_bands_equal_the_exact_sum_of_rectangulars(t: float, one: float, two: float) -> None:
    """The trapezoid (JCGM 101, 6.4.4) equals the exact tail of two rectangular errors, computed in fractions."""
    wide, narrow = max(one, two), min(one, two)
    assert probability_below(t, wide, narrow, 0.0) == pytest.approx(
        probability_beyond(-t, [wide, narrow]), abs=ROUNDING
    )


@given(t=distances, wide=widths)
def test_one_band_is_a_straight_line(t: float, wide: float) -> None:
    """A known size in a band (JCGM 101, 6.4.2): the odds rise evenly from one end to the other."""
    assert probability_below(t, wide, 0.0, 0.0) == pytest.approx(
        np.clip((t + wide) / (2 * wide), 0.0, 1.0), abs=ROUNDING
    )


@pytest.mark.parametrize("wide", [1e-3, 0.2, 0.999, 1.0, 1.001, 4.0, 300.0])
@pytest.mark.parametrize("at", [-1.5, -1.0, -0.4, 0.0, 0.7, 1.0, 1.2])
def test_band_and_normal_equal_a_numerical_convolution(wide: float, at: float) -> None:
    """A band blurred by a normal doubt (JCGM 101, 6.4) equals the integral it stands for."""
    from scipy.integrate import quad
    from scipy.special import ndtr

    t = at * wide + np.sign(at)
    points = [point for point in (t - 6.0, t, t + 6.0) if -wide < point < wide]
    integral, _ = quad(
        lambda u: float(ndtr(t - u)), -wide, wide, points=points or None, epsabs=QUADRATURE * wide, limit=200
    )
    assert probability_below(t, wide, 0.0, 1.0) == pytest.approx(integral / (2 * wide), abs=QUADRATURE)


@pytest.mark.parametrize(
    ("wide", "narrow", "sigma"), [(1.0, 0.4, 0.0), (1.0, 1.0, 0.0), (1.0, 0.0, 0.3), (0.3, 0.0, 1.0), (0.0, 0.0, 1.0)]
)
def test_sampling_agrees(wide: float, narrow: float, sigma: float) -> None:
    """A seeded sample of 400 000 lands within five standard errors of the closed form at nine places."""
    random = np.random.default_rng(20261001)
    count = 400_000
    sample = (
        random.uniform(-wide, wide, count)
        + random.uniform(-narrow, narrow, count)
        + sigma * random.standard_normal(count)
    )
    places = np.linspace(-1.6, 1.6, 9)
    seen = np.array([np.mean(sample < place) for place in places])
    law = probability_below(places, wide, narrow, sigma)
    assert np.all(np.abs(seen - law) <= 5 * np.sqrt(law * (1 - law) / count) + 1e-12)


@given(t=distances, wide=widths, narrow=widths, sigma=widths, kind=st.sampled_from(["bands", "blurred", "normal"]))
def test_the_two_sides_mirror_each_other(t: float, wide: float, narrow: float, sigma: float, kind: str) -> None:
    """Below a value and below its mirror add up to one, because every law here is symmetric and has no lumps."""
    shape = {
        "bands": (max(wide, narrow), min(wide, narrow), 0.0),
        "blurred": (wide, 0.0, sigma),
        "normal": (0.0, 0.0, sigma),
    }
    both = probability_below(t, *shape[kind]) + probability_below(-t, *shape[kind])
    assert both == pytest.approx(1.0, abs=ROUNDING)


@given(t=st.lists(distances, min_size=2, max_size=9), wide=widths, sigma=widths)
def test_odds_only_rise(t: list[float], wide: float, sigma: float) -> None:
    """A higher value is never less likely to lie above the clearance."""
    assert np.all(np.diff(probability_below(np.sort(t), wide, 0.0, sigma)) >= -ROUNDING)


def test_two_known_sizes_leave_no_doubt() -> None:
    """A known clearance lies below a value only if it is really less."""
    assert probability_below([-1.0, 0.0, 1.0], 0.0, 0.0, 0.0).tolist() == [0.0, 0.0, 1.0]


def test_a_band_much_narrower_than_the_doubt_is_the_doubt() -> None:
    """A vanishing band changes nothing: there is no jump between the closed forms."""
    t = np.linspace(-3, 3, 13)
    assert probability_below(t, 1e-9, 0.0, 1.0) == pytest.approx(probability_below(t, 0.0, 0.0, 1.0), abs=ROUNDING)


def test_few_and_many_values_agree() -> None:
    """A long array answers as its elements do, though it takes another way."""
    t = np.linspace(-4, 4, 200)
    for shape in [(0.0, 0.0, 1.0), (0.5, 0.0, 1.0), (2.0, 0.0, 1.0)]:
        singles = [float(probability_below(value, *shape)) for value in t]
        assert probability_below(t, *shape) == pytest.approx(singles, abs=ROUNDING)


@pytest.mark.parametrize(
    ("shape", "says"),
    [
        ((1.0, 2.0, 0.0), "the wider band first"),
        ((2.0, 1.0, 0.1), "each part a band or a known size"),
        ((-1.0, 0.0, 0.0), "0 or more"),
        ((0.0, 0.0, -1.0), "standard uncertainty -1"),
    ],
)
def test_what_has_no_closed_form_is_refused(shape: tuple[float, float, float], says: str) -> None:
    """Widths out of order or below zero, and two bands with a normal doubt, are misuse."""
    with pytest.raises(TenthbookError, match=says):
        probability_below(0.0, *shape)
