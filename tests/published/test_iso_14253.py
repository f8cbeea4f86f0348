"""ISO 14253-1:2017, Decision rules for verifying conformity or nonconformity with specifications.

Geometrical product specifications (GPS) - Inspection by measurement of workpieces and measuring equipment - Part 1.

The default of 95 per cent, 1.65 u and 0.825 U: read in a public calibration procedure that cites page 16. The rule of
the 1998 and 2013 editions (the full U): from memory. The two worked readings are derived.
"""

from __future__ import annotations

import numpy as np
import pytest

from tenthbook.faces.calculators import load
from tenthbook.trade.gauge.conformity import (
    DecisionRule,
    Verdict,
    guard,
    guard_factor,
    plain_verdict,
    uncertainty_needed,
    verdict,
)
from tenthbook.trade.gauge.distributions import normal_cdf

UPPER_MM, STANDARD_MM = 0.100, 0.003


def test_guard_of_the_2017_edition() -> None:
    """A 95 per cent conformance wants 1.65 u, that is 0.825 U (read); printed to two and three digits."""
    assert normal_cdf(1.65) == pytest.approx(0.9505, abs=0.000_05)
    assert guard_factor(DecisionRule.GUARDED) == pytest.approx(1.65, abs=0.0052)
    assert guard_factor(DecisionRule.GUARDED) / guard_factor(DecisionRule.FULL_U) == pytest.approx(0.825, abs=0.003)


@pytest.mark.parametrize(
    ("size_mm", "rule", "expected"),
    [
        (0.0945, DecisionRule.GUARDED, Verdict.WITHIN),
        (0.0945, DecisionRule.FULL_U, Verdict.UNDECIDED),
        (0.1055, DecisionRule.GUARDED, Verdict.OUTSIDE),
        (0.1055, DecisionRule.FULL_U, Verdict.UNDECIDED),
    ],
)
def test_two_editions_on_two_readings(size_mm: float, rule: DecisionRule, expected: Verdict) -> None:
    """Readings 5.5 um inside and outside are decided by 1.65 u and left open by the full U (derived)."""
    assert verdict(size_mm, None, UPPER_MM, guard(STANDARD_MM, rule)) == expected


def test_plain_verdict_ignores_the_gauge() -> None:
    """At face value the two readings are within and outside (derived)."""
    assert plain_verdict([0.0945, 0.1055], None, UPPER_MM).tolist() == [Verdict.WITHIN, Verdict.OUTSIDE]


def test_the_gauge_that_would_decide() -> None:
    """5.5 um from the limit a gauge of 5.5/1.645 = 3.34 um decides, and none does on the limit (derived)."""
    found = uncertainty_needed([0.0945, 0.100], upper=UPPER_MM)
    assert found[0] == pytest.approx(0.0055 / 1.644_853_627, rel=1e-9)
    assert np.isnan(found[1])


# Through the calculator `verdict`.


@pytest.mark.parametrize(
    ("value", "rule", "found", "plain"),
    [
        pytest.param("0.0945 mm", "guarded", "within", "within", id="P4.3, 1.65 u"),
        pytest.param("0.0945 mm", "full U", "undecided", "within", id="P4.3, U"),
        pytest.param("0.1055 mm", "guarded", "outside", "outside", id="P4.4, 1.65 u"),
        pytest.param("0.1055 mm", "full U", "undecided", "outside", id="P4.4, U"),
    ],
)
def test_two_editions_asked_of_the_calculator(value: str, rule: str, found: str, plain: str) -> None:
    """P4.3, P4.4: 5.5 um either side of 0.100 mm is decided by 1.65 u of 3 um and left open by the full U (derived)."""
    question = {"value": value, "standard_uncertainty": "0.003 mm", "upper": "0.100 mm"}
    answer = load("verdict").run({**question, "rule": rule})
    assert (answer["verdict"], answer["plain"]) == (found, plain)
    assert answer["guard"]["text"] == {"guarded": "0.00493 mm", "full U": "0.00600 mm"}[rule]
    needed = {"guarded": 0.0055 / 1.644_853_627, "full U": 0.0055 / 2.0}[rule]
    assert answer["standard_uncertainty_needed"]["value"] == pytest.approx(needed, rel=1e-9)
