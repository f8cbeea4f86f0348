"""JCGM 100:2008, Evaluation of measurement data - Guide to the expression of uncertainty in measurement.

GUM 1995 with minor corrections, Joint Committee for Guides in Metrology.

Inputs of example H.1: read in two public worked copies of it. Clause numbers and printed values: from memory, and all
of them reproduced by computation. The unrounded values were computed by four independent programs that agree.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from tenthbook.faces.calculators import load
from tenthbook.trade.gauge.budget import (
    Budget,
    combined_standard,
    draw_up,
    effective_dof,
    product_term,
    truncated,
)
from tenthbook.trade.gauge.correlation import matrix_from_pairs
from tenthbook.trade.gauge.distributions import coverage_factor
from tenthbook.trade.gauge.shapes import (
    Shape,
    dof_from_reliability,
    standard_from_expanded,
    standard_from_half_width,
    standard_from_level,
    standard_from_repeats,
    standard_from_step,
)

LAST_PRINTED_DIGIT = 0.5
"""Printed values are rounded: half a unit of the last digit."""

LENGTH_NM, THETA_DEGC, EXPANSION = 50_000_623.0, -0.1, 11.5e-6

# Table H.1: name, standard uncertainty, sensitivity, degrees of freedom. The four lengths are the rounded 25, 5.8, 3.9
# and 6.7 nm of the printed table (the unrounded results below were computed from them).
STANDARDS = np.array([25.0, 5.8, 3.9, 6.7, 2e-6 / np.sqrt(3), 0.41, 1e-6 / np.sqrt(3), 0.05 / np.sqrt(3)])
SENSITIVITIES = np.array([1.0, 1.0, 1.0, 1.0, 0.0, 0.0, -LENGTH_NM * THETA_DEGC, -LENGTH_NM * EXPANSION])
DOF = np.array([18.0, 24.0, 5.0, 8.0, np.inf, np.inf, 50.0, 2.0])


def end_gauge(confidence: float = 0.99) -> Budget:
    """Example H.1 as this room draws it up."""
    return draw_up(STANDARDS, SENSITIVITIES, DOF, confidence=confidence)


def test_four_length_inputs_of_the_end_gauge() -> None:
    """GUM H.1.3: certificate, repeats, and both comparator terms become 25, 5.8, 3.9 and 6.7 nm (read)."""
    found = [
        standard_from_expanded(75.0, 3.0),
        standard_from_repeats(13.0, 5),
        standard_from_expanded(10.0, coverage_factor(0.95, 5)),
        standard_from_expanded(20.0, 3.0),
    ]
    assert np.array(found) == pytest.approx([25.0, 5.8, 3.9, 6.7], abs=LAST_PRINTED_DIGIT * 0.1)


@pytest.mark.parametrize(("reliability", "dof"), [(0.25, 8), (0.10, 50), (0.50, 2)])
def test_reliability_gives_degrees_of_freedom(reliability: float, dof: float) -> None:
    """GUM G.4.2: an uncertainty known to 25, 10 or 50 per cent has 8, 50 or 2 degrees of freedom (from memory)."""
    assert dof_from_reliability(reliability) == pytest.approx(dof, rel=1e-15)


def test_combined_uncertainty_of_the_end_gauge() -> None:
    """GUM H.1.4: 32 nm (read); carried unrounded it is 31.663 879 11 nm (four independent programs)."""
    found = end_gauge().combined
    assert found == pytest.approx(32.0, abs=LAST_PRINTED_DIGIT)
    assert found == pytest.approx(31.663_879_11, abs=1e-6)
    assert combined_standard(STANDARDS, SENSITIVITIES) == pytest.approx(31.663_879_11, abs=1e-6)


def test_degrees_of_freedom_of_the_end_gauge() -> None:
    """GUM H.1.6: 16 after truncation (from memory); unrounded 16.751 856 (three independent programs)."""
    found = end_gauge()
    assert found.effective_dof == pytest.approx(16.751_856, abs=1e-6)
    assert effective_dof(STANDARDS * SENSITIVITIES, DOF) == pytest.approx(16.751_856, abs=1e-6)
    assert found.used_dof == 16
    assert truncated(16.751_856) == 16
    assert bool(found.dof_valid)


def test_expanded_uncertainty_of_the_end_gauge() -> None:
    """GUM H.1.6: the guide prints 93 nm as it multiplies the rounded 32 nm; unrounded it is 92.483 nm (from memory)."""
    found = end_gauge()
    assert round(float(found.coverage_factor) * 32.0) == 93
    assert found.expanded == pytest.approx(92.483, abs=0.001)


def test_expanded_uncertainty_without_truncation() -> None:
    """GUM G.4.1: degrees of freedom left untruncated would give 91.94 nm; this room truncates (independent program)."""
    found = end_gauge()
    untruncated = coverage_factor(0.99, found.effective_dof) * found.combined
    # The comparison value is printed to 0.01 nm.
    assert untruncated == pytest.approx(91.94, abs=0.005)
    assert float(found.expanded) > float(untruncated)


def test_second_order_terms_of_the_end_gauge() -> None:
    """GUM H.1.7: the two products add 11.7 and 1.7 nm, and the sum becomes 34 nm (from memory)."""
    theta = np.hypot(0.2, 0.5 / np.sqrt(2.0))
    assert theta == pytest.approx(0.406, abs=0.0005)
    terms = [
        product_term(LENGTH_NM, 1e-6 / np.sqrt(3.0), theta),
        product_term(LENGTH_NM, 2e-6 / np.sqrt(3.0), 0.05 / np.sqrt(3.0)),
    ]
    assert np.array(terms) == pytest.approx([11.7, 1.7], abs=0.06)
    assert combined_standard([float(end_gauge().combined), *map(float, terms)]) == pytest.approx(
        34.0, abs=LAST_PRINTED_DIGIT
    )


@pytest.mark.parametrize(
    ("confidence", "dof", "factor"),
    [
        (0.6827, 16, 1.03),
        (0.90, 16, 1.75),
        (0.95, 16, 2.12),
        (0.9545, 16, 2.17),
        (0.99, 16, 2.92),
        (0.9973, 16, 3.54),
        (0.95, 4, 2.78),
        (0.95, 9, 2.26),
        (0.95, np.inf, 1.96),
    ],
)
def test_table_of_students_factors(confidence: float, dof: float, factor: float) -> None:
    """GUM Table G.2: Student's factor for a confidence and degrees of freedom (from memory)."""
    assert coverage_factor(confidence, dof) == pytest.approx(factor, abs=LAST_PRINTED_DIGIT * 0.01)


def test_even_chance_of_the_machinist() -> None:
    """GUM 4.3.5: an even chance of 10.07 to 10.15 mm is 1.48 half-widths, 0.06 mm, standard (from memory)."""
    found = standard_from_level(0.04, 0.5)
    assert found == pytest.approx(0.06, abs=LAST_PRINTED_DIGIT * 0.01)
    assert found / 0.04 == pytest.approx(1.48, abs=LAST_PRINTED_DIGIT * 0.01)


@pytest.mark.parametrize(("half_width", "standard"), [(0.40e-6, 0.23e-6), (0.5 * (16.92e-6 - 16.40e-6), 0.15e-6)])
def test_expansion_of_copper_between_bounds(half_width: float, standard: float) -> None:
    """GUM 4.3.7 and 4.3.8: bounds of a handbook value are a rectangle, half-width over root three (from memory)."""
    assert standard_from_half_width(half_width) == pytest.approx(standard, abs=LAST_PRINTED_DIGIT * 0.01e-6)


def test_shapes_have_their_divisors() -> None:
    """GUM 4.3.7 and 4.3.9: rectangle, triangle and cycle divide by the roots of 3, 6 and 2 (from memory)."""
    found = [standard_from_half_width(1.0, shape) for shape in (Shape.RECTANGULAR, Shape.TRIANGULAR, Shape.ARCSINE)]
    assert np.array(found) == pytest.approx([3**-0.5, 6**-0.5, 2**-0.5], rel=1e-15)


def test_ten_resistors_compared_with_one_standard() -> None:
    """GUM 5.2.2: ten resistors off one standard are 1.0 ohm in doubt, not 0.32 ohm as if independent (from memory)."""
    standards = np.full(10, 0.1)
    assert combined_standard(standards, 1.0, np.ones((10, 10))) == pytest.approx(1.0, abs=1e-12)
    assert combined_standard(standards) == pytest.approx(0.32, abs=LAST_PRINTED_DIGIT * 0.01)


def test_bore_and_shaft_read_with_one_micrometer() -> None:
    """GUM 5.2.2, in lengths: a zero error common to bore and shaft leaves the clearance alone (from memory)."""
    matrix = matrix_from_pairs(["bore", "shaft"], [("bore", "shaft", 1.0)])
    assert combined_standard([0.002, 0.002], [1.0, -1.0], matrix) == pytest.approx(0.0, abs=1e-15)
    assert combined_standard([0.002, 0.002], [1.0, -1.0]) == pytest.approx(0.002 * np.sqrt(2.0), rel=1e-15)


def test_step_of_a_display() -> None:
    """GUM F.2.2.1: a digital step is worth 0.29 of itself (from memory)."""
    assert standard_from_step(1.0) == pytest.approx(0.29, abs=LAST_PRINTED_DIGIT * 0.01)


# Through the calculator `uncertainty`.

END_GAUGE: dict[str, Any] = {
    "inputs": [
        {"name": "certificate", "expanded": "75 nm", "coverage_factor": 3, "degrees_of_freedom": 18},
        {"name": "repeats", "standard": "5.8 nm", "degrees_of_freedom": 24},
        {"name": "comparator at random", "standard": "3.9 nm", "degrees_of_freedom": 5},
        {"name": "comparator throughout", "standard": "6.7 nm", "degrees_of_freedom": 8},
        {
            "name": "expansions apart",
            "half_width": "5.0000623 nm",
            "shape": "rectangular",
            "degrees_of_freedom": 50,
        },
        {
            "name": "temperatures apart",
            "half_width": "0.05 degC",
            "shape": "rectangular",
            "sensitivity": "-575.0071645 nm/degC",
            "degrees_of_freedom": 2,
        },
    ],
    "confidence": 0.99,
}
"""Table H.1 as a mechanic would type it; the expansions, times the length and 0.1 degC, as a length."""


def asked() -> dict[str, Any]:
    """The calculator's answer to the end gauge."""
    return load("uncertainty").run(END_GAUGE)


def test_end_gauge_asked_of_the_calculator() -> None:
    """P1.3 to P1.6: 32 nm (read), unrounded 31.663 879 11; 16 (from memory), unrounded 16.751 856 (by programs)."""
    answer = asked()
    assert answer["standard"]["unit"] == "nm"
    assert answer["standard"]["value"] == pytest.approx(32.0, abs=LAST_PRINTED_DIGIT)
    assert answer["standard"]["value"] == pytest.approx(31.663_879_11, abs=1e-6)
    assert answer["degrees_of_freedom_used"] == 16
    assert answer["effective_degrees_of_freedom"] == pytest.approx(16.751_856, abs=1e-6)


def test_expanded_end_gauge_asked_of_the_calculator() -> None:
    """P1.7, P1.8: 93 nm of the rounded 32 (from memory), 92.483 unrounded, 91.94 if degrees were not cut (programs)."""
    answer = asked()
    assert round(answer["coverage_factor"] * 32) == 93
    assert answer["expanded"]["value"] == pytest.approx(92.483, abs=0.001)
    assert answer["expanded"]["text"] == "92.5 nm"
    uncut = coverage_factor(0.99, answer["effective_degrees_of_freedom"]) * answer["standard"]["value"]
    # The comparison value is printed to 0.01 nm.
    assert uncut == pytest.approx(91.94, abs=0.005)


def test_budget_of_the_end_gauge_asked_of_the_calculator() -> None:
    """GUM H.1: contributions of 25, 5.8, 3.9, 6.7, 2.9 and 16.6 nm (from memory), whose shares make one."""
    budget = asked()["budget"]
    found = [line["contribution"]["value"] for line in budget]
    assert found == pytest.approx([25.0, 5.8, 3.9, 6.7, 2.9, 16.6], abs=LAST_PRINTED_DIGIT * 0.1)
    assert sum(line["share"] for line in budget) == pytest.approx(1.0, abs=1e-12)


def test_ten_resistors_asked_of_the_calculator() -> None:
    """GUM 5.2.2: 1.0 ohm where all ten move together, 0.32 ohm if they did not (from memory); plain numbers, in ohm."""
    names = [f"R{place}" for place in range(1, 11)]
    question: dict[str, Any] = {"inputs": [{"name": name, "standard": 0.1} for name in names], "confidence": 0.95}
    together = [[first, second, 1] for place, first in enumerate(names) for second in names[:place]]
    assert load("uncertainty").run({**question, "correlations": together})["standard"] == pytest.approx(1.0, abs=1e-12)
    assert load("uncertainty").run(question)["standard"] == pytest.approx(0.32, abs=LAST_PRINTED_DIGIT * 0.01)
