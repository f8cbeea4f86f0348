"""The same questions asked of packages that share no code with this one: scipy, uncertainties, GTC, statistics."""

from __future__ import annotations

import itertools
import math
import statistics
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import GTC
import pytest
import scipy.integrate
import scipy.stats
import uncertainties
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tenthbook.faces.calculators import load

DOUBLE = 1e-9  # double precision, tails subtracted from one
QUADRATURE = 1e-8  # what the other side's integration promises

few = settings(deadline=None, max_examples=80)
numbers = st.integers(-50, 50).map(lambda tenths: tenths / 10)
doubts = st.integers(1, 50).map(lambda tenths: tenths / 10)
confidences = st.sampled_from([0.6, 0.9, 0.95, 0.99, 0.999])
degrees = st.none() | st.integers(1, 40)


@given(numbers, doubts, st.tuples(numbers, numbers), degrees, confidences)
@few
def test_chance_and_guard_of_a_verdict(
    value: float, doubt: float, limits: tuple[float, float], dof: int | None, conformance: float
) -> None:
    """The chance of lying within and the guard are those of scipy's normal, or Student's, distribution."""
    low, high = sorted(limits)
    question = {"value": value, "standard_uncertainty": doubt, "lower": low, "upper": high, "rule": "guarded"}
    answer = load("verdict").run({**question, "conformance": conformance, "degrees_of_freedom": dof})
    law = scipy.stats.norm if dof is None else scipy.stats.t(dof)
    chance = law.cdf((high - value) / doubt) - law.cdf((low - value) / doubt)
    assert answer["probability_within"] == pytest.approx(chance, abs=DOUBLE)
    assert answer["guard"] == pytest.approx(law.ppf(conformance) * doubt, rel=DOUBLE)


@st.composite
def budgets(draw: st.DrawFn) -> dict[str, Any]:
    """A question of `uncertainty` in plain numbers, of every kind of input."""
    inputs: list[dict[str, Any]] = []
    for place in range(draw(st.integers(1, 5))):
        size = draw(doubts)
        ways: list[dict[str, Any]] = [
            {"standard": size},
            {"half_width": size, "shape": "rectangular"},
            {"half_width": size, "shape": "triangular"},
            {"half_width": size, "shape": "arcsine"},
            {"expanded": size, "coverage_factor": 2.5},
        ]
        kind = draw(st.sampled_from(ways))
        slope = draw(st.sampled_from([-2.5, -1, 0.3, 1, 4]))
        inputs.append({"name": f"x{place}", **kind, "sensitivity": slope, "degrees_of_freedom": draw(degrees)})
    return {"inputs": inputs, "confidence": draw(confidences)}


def variance_of(one: dict[str, Any]) -> Fraction:
    """The variance of an input, by the textbook's divisors, exactly."""
    size = Fraction(str(next(one[name] for name in ("standard", "half_width", "expanded") if name in one)))
    divisor = {"rectangular": 3, "triangular": 6, "arcsine": 2}.get(one.get("shape", ""), 1)
    return (size / Fraction(str(one.get("coverage_factor", 1)))) ** 2 / divisor


def standard_of(one: dict[str, Any]) -> float:
    """The standard uncertainty of an input."""
    return math.sqrt(variance_of(one))


def exact_degrees(inputs: list[dict[str, Any]]) -> Fraction | None:
    """Effective degrees of freedom by the Welch-Satterthwaite formula, exactly; None where infinite."""
    parts = [Fraction(str(one["sensitivity"])) ** 2 * variance_of(one) for one in inputs]
    degrees = [one["degrees_of_freedom"] for one in inputs]
    lost = sum((part**2 / dof for part, dof in zip(parts, degrees, strict=True) if dof), Fraction(0))
    return sum(parts, Fraction(0)) ** 2 / lost if lost else None


@given(budgets())
@few
def test_standard_uncertainty_of_a_budget(question: dict[str, Any]) -> None:
    """The combined standard uncertainty and its contributions are those of the package uncertainties."""
    answer = load("uncertainty").run(question)
    drawn = [uncertainties.ufloat(0, standard_of(one)) for one in question["inputs"]]
    result = sum(one["sensitivity"] * x for one, x in zip(question["inputs"], drawn, strict=True))
    assert answer["standard"] == pytest.approx(result.std_dev, rel=DOUBLE)
    parts = result.error_components()
    assert [line["contribution"] for line in answer["budget"]] == pytest.approx([parts[x] for x in drawn], rel=DOUBLE)
    shares = [(parts[x] / result.std_dev) ** 2 for x in drawn]
    assert [line["share"] for line in answer["budget"]] == pytest.approx(shares, rel=DOUBLE)


@given(budgets())
@few
def test_degrees_of_freedom_of_a_budget(question: dict[str, Any]) -> None:
    """Effective degrees of freedom are those of GTC; cut down to a whole number, the factor is scipy's."""
    answer = load("uncertainty").run(question)
    drawn = [GTC.ureal(0, standard_of(one), one["degrees_of_freedom"] or math.inf) for one in question["inputs"]]
    result = sum(one["sensitivity"] * x for one, x in zip(question["inputs"], drawn, strict=True))
    assert answer["standard"] == pytest.approx(GTC.uncertainty(result), rel=DOUBLE)
    two_sided = 0.5 + 0.5 * question["confidence"]
    exact = exact_degrees(question["inputs"])
    if exact is None:
        assert answer["effective_degrees_of_freedom"] is None
        assert answer["degrees_of_freedom_used"] is None
        factor = scipy.stats.norm.ppf(two_sided)
    else:
        assert answer["effective_degrees_of_freedom"] == pytest.approx(GTC.dof(result), rel=1e-9)
        assert answer["effective_degrees_of_freedom"] == pytest.approx(float(exact), rel=DOUBLE)
        # A double may stand for the next whole number when it lies closer than its own last digits.
        almost = math.floor(exact * (1 + Fraction(1, 10**11)))
        assert math.floor(exact) <= answer["degrees_of_freedom_used"] <= almost
        factor = scipy.stats.t.ppf(two_sided, answer["degrees_of_freedom_used"])
    assert answer["coverage_factor"] == pytest.approx(factor, rel=DOUBLE)
    assert answer["expanded"] == pytest.approx(factor * answer["standard"], rel=DOUBLE)


@given(doubts, doubts, st.integers(-10, 10), st.sampled_from([-1, 1]))
@few
def test_correlated_inputs(first: float, second: float, tenths: int, sign: int) -> None:
    """Two correlated inputs combine as GTC combines them."""
    inputs = [{"name": "bore", "standard": first}, {"name": "shaft", "standard": second, "sensitivity": sign}]
    question = {"inputs": inputs, "correlations": [["shaft", "bore", tenths / 10]], "confidence": 0.95}
    bore, shaft = (GTC.ureal(0, doubt, independent=False) for doubt in (first, second))
    GTC.set_correlation(tenths / 10, bore, shaft)
    expected = GTC.uncertainty(bore + sign * shaft)
    # Where the two cancel, the difference of nearly equal squares keeps half the digits.
    assert load("uncertainty").run(question)["standard"] == pytest.approx(expected, rel=1e-9, abs=1e-7)


@pytest.mark.parametrize(
    ("inputs", "law"),
    [
        ([{"name": "t", "standard": 2, "degrees_of_freedom": 6}], scipy.stats.t(6, scale=2)),
        ([{"name": "r", "half_width": 3, "shape": "rectangular"}], scipy.stats.uniform(-3, 6)),
        ([{"name": "a", "half_width": 2, "shape": "arcsine"}], scipy.stats.arcsine(-2, 4)),
        ([{"name": "g", "half_width": 2, "shape": "triangular"}], scipy.stats.triang(0.5, -2, 4)),
        ([{"name": "n", "expanded": 3, "coverage_factor": 2, "sensitivity": -2}], scipy.stats.norm(0, 3)),
    ],
)
def test_trials_of_one_input(inputs: list[dict[str, Any]], law: Any) -> None:
    """Trials of one input have the standard deviation and, but for the two-humped one, the interval of its law."""
    question = {"inputs": inputs, "confidence": 0.9, "method": "monte carlo", "trials": 400_000, "seed": 7}
    answer = load("uncertainty").run(question)
    # 400 000 trials: a standard deviation to a hundredth (a t of few degrees has heavy tails), ends to two.
    assert answer["standard"] == pytest.approx(law.std(), rel=0.01)
    if inputs[0].get("shape") in (None, "triangular"):
        assert answer["half_width"] == pytest.approx(law.ppf(0.95), rel=0.02)
    low, high = answer["interval"]
    assert law.cdf(high) - law.cdf(low) == pytest.approx(0.9, abs=0.003)


def integrated(density: Callable[[float], float], accepted: Callable[[float], float], *ends: float) -> float:
    """Share of parts with true values between the ends and readings accepted."""
    found = scipy.integrate.quad(lambda size: density(size) * accepted(size), *ends, epsabs=1e-11, limit=200)
    return float(found[0])


@given(numbers, doubts, doubts, st.tuples(numbers, numbers), st.tuples(numbers, numbers))
@settings(deadline=None, max_examples=25)
def test_risks_of_a_normal_process(
    mean: float, deviation: float, doubt: float, limits: tuple[float, float], accepts: tuple[float, float]
) -> None:
    """All three shares are what scipy's quadrature of density times acceptance gives."""
    (low, high), (take_low, take_high) = sorted(limits), sorted(accepts)
    question = {
        "process": {"mean": mean, "standard_deviation": deviation},
        "standard_uncertainty": doubt,
        "lower": low,
        "upper": high,
        "accept_lower": take_low,
        "accept_upper": take_high,
    }
    answer = load("risk").run(question)
    law, reach = scipy.stats.norm(mean, deviation), 12 * deviation

    def accepted(size: float) -> float:
        return float(scipy.stats.norm.cdf((take_high - size) / doubt) - scipy.stats.norm.cdf((take_low - size) / doubt))

    start, stop = (min(max(one, mean - reach), mean + reach) for one in (low, high))
    inside = integrated(law.pdf, accepted, start, stop)
    outside = integrated(law.pdf, accepted, mean - reach, start) + integrated(law.pdf, accepted, stop, mean + reach)
    within = law.cdf(high) - law.cdf(low)
    assert answer["nonconforming"] == pytest.approx(1 - within, abs=DOUBLE)
    assert answer["consumer_risk"] == pytest.approx(outside, abs=QUADRATURE)
    assert answer["producer_risk"] == pytest.approx(within - inside, abs=QUADRATURE)


@given(
    st.lists(st.integers(9_990, 10_010), min_size=2, max_size=8), st.integers(0, 20), st.integers(0, 20), confidences
)
@few
def test_size_of_readings(thousandths: list[int], step: int, limit: int, confidence: float) -> None:
    """Mean exactly, and u squared as the larger of s^2/n and step^2/12, and limit^2/3, by the standard library."""
    instrument = {"resolution": f"{step} um", "error_limit": f"{limit} um"}
    readings = [f"{one} um" for one in thousandths]
    answer = load("size").run({"readings": readings, "instrument": instrument, "confidence": confidence})
    assert Fraction(answer["size"]["value"]) == pytest.approx(statistics.fmean(thousandths), rel=1e-15)
    assert (answer["smallest"]["value"], answer["largest"]["value"]) == (min(thousandths), max(thousandths))
    scatter, stepped = statistics.variance(map(Fraction, thousandths)) / len(thousandths), Fraction(step**2, 12)
    assume(scatter != stepped or step == 0)  # equal to the last digit, either may be named as the one that counts
    variance = float(max(scatter, stepped) + Fraction(limit**2, 3))
    if variance == 0:
        assert (answer["standard_uncertainty"]["value"], answer["expanded"]["value"]) == (0.0, 0.0)
        assert [(line["contribution"]["value"], line["share"]) for line in answer["budget"]] == [(0.0, 0.0)] * 2
        return
    assert answer["standard_uncertainty"]["value"] == pytest.approx(math.sqrt(variance), rel=DOUBLE)
    dof = (len(thousandths) - 1) * (variance / float(scatter)) ** 2 if scatter >= stepped and scatter > 0 else math.inf
    factor = scipy.stats.norm if math.isinf(dof) else scipy.stats.t(math.floor(dof * (1 + 1e-12)))
    expected = factor.ppf(0.5 + 0.5 * confidence) * math.sqrt(variance)
    assert answer["expanded"]["value"] == pytest.approx(expected, rel=1e-6)


@given(st.integers(-50, 150), st.integers(0, 60), st.integers(0, 60), st.tuples(numbers, numbers), st.booleans())
@settings(deadline=None, max_examples=25)
def test_odds_of_two_bands(
    apart: int, hole_width: int, shaft_width: int, limits: tuple[float, float], uniform: bool
) -> None:
    """The chance of a new fit is what scipy's quadrature over the hole gives, for uniform and for normal parts."""
    low, high = (round(10 * limit) for limit in sorted(limits))
    distribution = "uniform" if uniform else "normal at 6 sigma"
    hole, shaft = (10_000 + apart, 10_000 + apart + hole_width), (10_000, 10_000 + shaft_width)
    question = {
        "hole": {"band": [f"{end} um" for end in hole], "distribution": distribution},
        "shaft": {"band": [f"{end} um" for end in shaft], "distribution": distribution},
        "new": [f"{low} um", f"{high} um"],
    }
    answer = load("fit-forecast").run(question)
    assert [end["value"] for end in answer["clearance"]] == [hole[0] - shaft[1], hole[1] - shaft[0]]
    laws = [
        (
            scipy.stats.uniform(ends[0], ends[1] - ends[0])
            if uniform
            else scipy.stats.norm(sum(ends) / 2, (ends[1] - ends[0]) / 6)
        )
        for ends in (hole, shaft)
    ]
    if 0 in (hole_width, shaft_width):
        fixed = 0 if hole_width == 0 else 1
        if hole_width == shaft_width:
            assert answer["odds"]["new"] == float(low <= apart <= high)
            return
        still, moving = (hole[0], laws[1]) if fixed == 0 else (shaft[0], laws[0])
        ends = (still - high, still - low) if fixed == 0 else (still + low, still + high)
        expected = moving.cdf(ends[1]) - moving.cdf(ends[0])
    elif uniform:
        edges = sorted({*hole, *(min(max(end + limit, hole[0]), hole[1]) for end in shaft for limit in (low, high))})
        expected = sum(
            scipy.integrate.quad(
                lambda size: laws[0].pdf(size) * (laws[1].cdf(size - low) - laws[1].cdf(size - high)), *piece
            )[0]
            for piece in itertools.pairwise(edges)
        )
    else:
        clearance = scipy.stats.norm(laws[0].mean() - laws[1].mean(), math.hypot(laws[0].std(), laws[1].std()))
        expected = clearance.cdf(high) - clearance.cdf(low)
    assert answer["odds"]["new"] == pytest.approx(expected, abs=QUADRATURE)
