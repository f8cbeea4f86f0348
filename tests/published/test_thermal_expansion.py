"""ISO 1:2016, Standard reference temperature.

Read in Phillips and others, "The 2016 Revision of ISO 1", J. Res. NIST 121 (2016) 498-504. Expansions: JCGM 100:2008,
H.1 (steel gauge 11.5e-6, read) and Callister and Rethwisch, Fundamentals of Materials Science and Engineering, 3rd ed.,
Table B.6, p. 816 (cast aluminium 356.0 21.5e-6, read). The clearances are derived from them, not printed anywhere.
"""

from __future__ import annotations

from decimal import Decimal

import numpy as np
import pytest

from tenthbook.faces.calculators import load
from tenthbook.trade.fit.thermal import clearance_at, first_order_change, size_at
from tenthbook.trade.gauge.corrections import REFERENCE_DEGC

STEEL = 11.5e-6
CAST_ALUMINIUM = 21.5e-6
A_NANOMETRE_IN_MM = 1e-6  # last digit the derivation states
A_TEN_THOUSANDTH_OF_A_DEGREE = 1e-4


def test_steel_shaft_in_aluminium_bore_opens_when_warm() -> None:
    """P6.1: 39.991 in 40.025 mm (JCGM 100, H.1; Callister, Table B.6) is 0.034 loose, 0.066 052 at 100 degC."""
    clearance = clearance_at(40.025, CAST_ALUMINIUM, 39.991, STEEL, [20.0, 100.0])
    assert clearance == pytest.approx([0.034_000, 0.066_052], abs=A_NANOMETRE_IN_MM)


def test_first_order_rule_gives_32_micrometres_exactly() -> None:
    """P6.2: 40 mm, 10e-6 of difference and 80 K (from ISO 1, derived) open a fit by 0.0320 mm exactly."""
    assert first_order_change(Decimal(40), Decimal("21.5e-6") - Decimal("11.5e-6"), Decimal(80)) == Decimal("0.0320")


def test_first_order_rule_is_the_limit_of_the_full_form() -> None:
    """P6.2: the ratio form (from ISO 1) differs from the rule by what the clearance itself would grow, exactly."""
    steel, aluminium, bore = Decimal("11.5e-6"), Decimal("21.5e-6"), Decimal(40)
    clearances = np.array([Decimal("0.1"), Decimal("0.01"), Decimal("0.001"), Decimal(0)])
    change = clearance_at(bore, aluminium, bore - clearances, steel, Decimal(100)) - clearances
    missed = change - first_order_change(bore, aluminium - steel, Decimal(80))
    assert missed.tolist() == (clearances * steel * 80).tolist()


def test_steel_on_steel_needs_no_correction() -> None:
    """P6.4: steel part and steel gauge at one temperature (JCGM 100, H.1) measure as at 20 degC."""
    shown = size_at(100.0, STEEL, 20.0, from_degc=30.0)
    grown = size_at(shown, STEEL, 30.0)
    assert grown == pytest.approx(100.0, abs=1e-12)
    assert first_order_change(100.0, STEEL - STEEL, 10.0) == 0.0


def test_reference_temperature_is_68_degrees_fahrenheit() -> None:
    """P6.5: 20 degC of ISO 1 is 68 degF exactly, and a shop at 70 degF is at 21.11 degC."""
    in_fahrenheit = REFERENCE_DEGC * 9 / 5 + 32
    assert in_fahrenheit == 68
    warmer = (70 - 32) * 5 / 9 - REFERENCE_DEGC
    assert warmer == pytest.approx(1.1111, abs=A_TEN_THOUSANDTH_OF_A_DEGREE)


# Through the calculator `thermal-fit`.


@pytest.mark.parametrize("at", [["20 degC", "100 degC"], ["68 degF", "212 degF"], ["293.15 K", "373.15 K"]])
def test_steel_in_aluminium_asked_of_the_calculator(at: list[str]) -> None:
    """P6.1: 0.034 000 mm cold and 0.066 052 at 100 degC (derived), whichever thermometer is read."""
    question = {
        "hole": {"size": "40.025 mm", "expansion": "21.5e-6 1/degC"},
        "shaft": {"size": "39.991 mm", "expansion": "11.5e-6 1/degC"},
        "at": at,
    }
    cold, hot = (one["value"] for one in load("thermal-fit").run(question)["clearance"])
    assert cold == Decimal("0.034")
    assert float(hot) == pytest.approx(0.066_052, abs=A_NANOMETRE_IN_MM)
    # What the four typed figures make, to the last digit: the derivation above prints it one nanometre too large.
    assert hot == Decimal("0.06605128")
