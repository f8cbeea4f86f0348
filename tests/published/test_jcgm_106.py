"""JCGM 106:2012, Evaluation of measurement data - The role of measurement uncertainty in conformity assessment.

Joint Committee for Guides in Metrology.

Example 9.5.4 (ball bearing): read in a public notebook that quotes the clause. Everything else from memory and
reproduced by computation. The resistor case gives values of an independent program, not the printed ones.
"""

from __future__ import annotations

from typing import Any

import pytest

from tenthbook.faces.calculators import load
from tenthbook.trade.gauge.conformity import DecisionRule, guard, probability_within
from tenthbook.trade.gauge.distributions import normal_cdf, normal_quantile
from tenthbook.trade.gauge.process import GammaProcess, NormalProcess
from tenthbook.trade.gauge.risk import global_risk, guard_for_consumer_risk

PRINTED = 0.005
"""Probabilities are printed with two digits: half a unit of the last."""

BEARING = GammaProcess(4.0, 4.0)


@pytest.mark.parametrize(("probability", "z"), [(0.80, 0.84), (0.90, 1.28), (0.95, 1.64), (0.99, 2.33), (0.999, 3.09)])
def test_table_of_one_sided_factors(probability: float, z: float) -> None:
    """JCGM 106, Table 1: margin in standard uncertainties for a wanted probability (from memory); 1.6449 is cut."""
    assert normal_quantile(probability) == pytest.approx(z, abs=0.006)


def test_breakdown_voltage_of_a_diode() -> None:
    """JCGM 106, 7.3: -5.47 V with u = 0.05 V conforms to an upper limit of -5.40 V with 0.92 (from memory)."""
    found = probability_within(-5.47, 0.05, upper=-5.40)
    assert found == pytest.approx(0.92, abs=PRINTED)
    assert found == pytest.approx(0.9192, abs=PRINTED * 0.01)


def test_pressure_of_a_container() -> None:
    """JCGM 106, 7.3: 509.7 kPa with u = 8.6 kPa conforms to a lower limit of 490 kPa with 0.99 (from memory)."""
    found = probability_within(509.7, 8.6, lower=490.0)
    assert found == pytest.approx(0.99, abs=PRINTED)
    assert found == pytest.approx(0.9890, abs=PRINTED * 0.01)


def test_viscosity_of_a_motor_oil() -> None:
    """JCGM 106, 7.4: 13.6 mm2/s with u = 1.8 lies within 12.5 to 16.3 with 0.66, both tails counting (from memory)."""
    found = probability_within(13.6, 1.8, 12.5, 16.3)
    assert found == pytest.approx(0.66, abs=PRINTED)
    assert found == pytest.approx(0.6626, abs=PRINTED * 0.01)


def test_guarded_rejection_of_a_speed() -> None:
    """JCGM 106, 8.3.3: 100 km/h, u 2 per cent: exceeded at 99.9 per cent only from 107 km/h (from memory)."""
    # The uncertainty grows with the speed: v - z 0.02 v = 100.
    per_speed = float(guard(0.02, DecisionRule.GUARDED, 0.999))
    assert 100.0 / (1.0 - per_speed) == pytest.approx(107.0, abs=0.5)
    assert 100.0 / (1.0 - per_speed) == pytest.approx(106.59, abs=0.005)


def test_risk_at_the_edge_of_a_full_guard() -> None:
    """JCGM 106, 8.3.2: with a guard of U = 2u the risk of a single part is at most 2.28 per cent (from memory)."""
    width = float(guard(1.0, DecisionRule.FULL_U))
    assert 1.0 - probability_within(-width, 1.0, upper=0.0) == pytest.approx(0.0228, abs=0.000_05)
    assert normal_cdf(-width) == pytest.approx(0.0228, abs=0.000_05)


def test_nonconforming_bearings() -> None:
    """JCGM 106, 9.5.4: errors of gamma(4, 4 per um) exceed 2 um in 4.2 per cent of bearings (read)."""
    found = global_risk(BEARING, 0.25, upper=2.0).nonconforming
    assert found == pytest.approx(0.042, abs=0.0005)
    assert found == pytest.approx(0.042_380_11, abs=1e-8)


def test_consumer_risk_of_bearings() -> None:
    """JCGM 106, 9.5.4: accepting to the limit with u = 0.25 um lets 0.80 per cent through (read)."""
    found = global_risk(BEARING, 0.25, upper=2.0).consumer
    assert found == pytest.approx(0.0080, abs=0.000_05)
    assert found == pytest.approx(0.008_019_11, abs=1e-7)


def test_acceptance_limit_for_bearings() -> None:
    """JCGM 106, 9.5.4: a consumer's risk of 0.1 per cent wants an acceptance limit of 1.671 83 um (read)."""
    guard_um = guard_for_consumer_risk(BEARING, 0.25, 0.001, upper=2.0)
    assert 2.0 - guard_um == pytest.approx(1.671_83, abs=2e-5)
    assert guard_um == pytest.approx(0.328_17, abs=2e-5)


@pytest.mark.parametrize(("accept_upper", "producer"), [(2.0, 0.017_44), (1.671_83, 0.075_49)])
def test_producer_risk_of_bearings(accept_upper: float, producer: float) -> None:
    """JCGM 106, 9.5.4: good bearings refused are 1.744 per cent at the limit and 7.549 per cent inside it (derived)."""
    # The values are given to 0.001 per cent: half of it, and less than the 2e-6 of the limit's own digits.
    assert global_risk(BEARING, 0.25, upper=2.0, accept_upper=accept_upper).producer == pytest.approx(
        producer, abs=5e-6
    )


def test_process_of_four_and_gauge_of_one() -> None:
    """JCGM 106, 9.5.2, in a published case: 0.8 and 1.5 per cent for sigma 4, u 1, limits 8 (read as quoted)."""
    found = global_risk(NormalProcess(0.0, 4.0), 1.0, -8.0, 8.0)
    assert found.consumer == pytest.approx(0.008, abs=0.0005)
    assert found.producer == pytest.approx(0.015, abs=0.0005)


def test_resistors() -> None:
    """JCGM 106, 9.5.3 inputs (from memory): 9.558, 1.894, 3.721 per cent by an independent program, not as printed."""
    found = global_risk(NormalProcess(1500.0, 0.12), 0.04, 1499.8, 1500.2)
    shares = (float(found.nonconforming), float(found.consumer), float(found.producer))
    # Given to 0.001 per cent.
    assert shares == pytest.approx((0.095_58, 0.018_94, 0.037_21), abs=5e-6)


# Through the calculators `verdict` and `risk`.


@pytest.mark.parametrize(
    ("question", "printed", "computed"),
    [
        pytest.param({"value": -5.47, "standard_uncertainty": 0.05, "upper": -5.40}, 0.92, 0.9192, id="P3.2"),
        pytest.param(
            {"value": "509.7 kPa", "standard_uncertainty": "8.6 kPa", "lower": "490 kPa"}, 0.99, 0.9890, id="P3.3"
        ),
        pytest.param(
            {"value": "13.6 mm2/s", "standard_uncertainty": "1.8 mm2/s", "lower": "12.5 mm2/s", "upper": "16.3 cSt"},
            0.66,
            0.6626,
            id="P3.4",
        ),
    ],
)
def test_conformance_asked_of_the_calculator(question: dict[str, Any], printed: float, computed: float) -> None:
    """P3.2 to P3.4: JCGM 106, 7.3 and 7.4: diode, container and motor oil conform so surely (from memory)."""
    answer = load("verdict").run({**question, "rule": "guarded"})
    assert answer["plain"] == "within"
    assert answer["probability_within"] == pytest.approx(printed, abs=PRINTED)
    assert answer["probability_within"] == pytest.approx(computed, abs=PRINTED * 0.01)


BEARINGS: dict[str, Any] = {
    "process": {"gamma": {"shape": 4, "rate": "4 1/um"}},
    "standard_uncertainty": "0.25 um",
    "upper": "2 um",
}


@pytest.mark.parametrize("units", [None, "metric", "inch"])
def test_bearings_asked_of_the_calculator(units: str | None) -> None:
    """P3.8, P3.9: JCGM 106, 9.5.4: 4.2 per cent are bad and 0.80 pass (read), whatever unit the answer is in."""
    answer = load("risk").run({**BEARINGS, "units": units})
    assert answer["nonconforming"] == pytest.approx(0.042_380_11, abs=1e-8)
    assert answer["consumer_risk"] == pytest.approx(0.008_019_11, abs=1e-7)
    assert answer["producer_risk"] == pytest.approx(0.017_44, abs=5e-6)


def test_acceptance_limit_asked_of_the_calculator() -> None:
    """P3.10, P3.11: JCGM 106, 9.5.4: 0.1 per cent wants 1.671 83 um (read), which refuses 7.549 per cent (derived)."""
    answer = load("risk").run({**BEARINGS, "wanted_consumer_risk": 0.001})
    assert (answer["accept_upper"]["unit"], answer["accept_upper"]["text"]) == ("um", "1.67183 um")
    assert answer["accept_upper"]["value"] == pytest.approx(1.671_83, abs=2e-5)
    assert answer["consumer_risk"] == pytest.approx(0.001, abs=1e-9)
    stated = load("risk").run({**BEARINGS, "accept_upper": "1.67183 um"})
    # Given to 0.001 per cent.
    assert stated["producer_risk"] == pytest.approx(0.075_49, abs=5e-6)


def test_two_normal_processes_asked_of_the_calculator() -> None:
    """P3.12, P3.14: 0.8 and 1.5 per cent (read as quoted); resistors by an independent program, not as printed."""
    deviating = {
        "process": {"mean": 0, "standard_deviation": 4},
        "standard_uncertainty": 1,
        "lower": -8,
        "upper": 8,
    }
    resistors = {
        "process": {"mean": 1500, "standard_deviation": 0.12},
        "standard_uncertainty": 0.04,
        "lower": 1499.8,
        "upper": 1500.2,
    }
    first, second = load("risk").run({"batch": [deviating, resistors]})["batch"]
    assert (first["consumer_risk"], first["producer_risk"]) == pytest.approx((0.008, 0.015), abs=0.0005)
    shares = (second["nonconforming"], second["consumer_risk"], second["producer_risk"])
    assert shares == pytest.approx((0.095_58, 0.018_94, 0.037_21), abs=5e-6)
