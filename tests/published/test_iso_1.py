"""ISO 1:2022, Standard reference temperature for the specification of geometrical and dimensional properties.

Geometrical product specifications (GPS).

20 degC: read in the abstract and in a paper on the 2016 revision (J. Res. NIST 121 (2016) 498-504). Worked sizes are
derived; the expansion coefficients are those of JCGM 100:2008, H.1 (11.5e-6) and of a textbook table (21.5e-6, cast
aluminium 356; read).
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from tenthbook.faces.calculators import load
from tenthbook.trade.gauge.corrections import REFERENCE_DEGC, temperature_factor

STEEL, ALUMINIUM_356 = 11.5e-6, 21.5e-6
LAST_DIGIT_MM = 1e-6


def test_reference_temperature() -> None:
    """Sizes are stated at 20 degC, which is 68 degF exactly (read)."""
    assert REFERENCE_DEGC * 9 / 5 + 32 == 68


def test_aluminium_part_under_a_steel_micrometer() -> None:
    """Both at 30 degC, 100.000 mm read on aluminium is 99.990 002 mm at 20 degC: the difference counts (derived)."""
    assert 100.0 * temperature_factor(30.0, 30.0, ALUMINIUM_356, STEEL) == pytest.approx(99.990_002, abs=LAST_DIGIT_MM)


def test_steel_on_steel_needs_no_correction() -> None:
    """Part and gauge of one material at one temperature need none (derived), exactly."""
    assert temperature_factor(31.7, 31.7, STEEL, STEEL) == 1.0
    exact = Decimal("0.0000115")
    assert temperature_factor(Decimal("31.7"), Decimal("31.7"), exact, exact) == 1


# Through the calculator `size`.


def warm(part: str, instrument: str, degrees: str) -> Decimal:
    """Size at 20 degC of a part that reads 100.000 mm, part and gauge equally warm [mm]."""
    question = {
        "readings": ["100.000 mm"],
        "temperatures": {"part": degrees, "instrument": degrees},
        "expansion": {"part": part, "instrument": instrument},
    }
    return Decimal(str(load("size").run(question)["size"]["value"]))


def test_aluminium_under_a_steel_micrometer_asked_of_the_calculator() -> None:
    """P6.3: 100.000 mm read at 30 degC is 99.990 002 mm at 20 (derived), whichever thermometer is read."""
    for degrees in ("30 degC", "86 degF", "303.15 K"):
        found = warm("21.5e-6 1/degC", "11.5e-6 1/degC", degrees)
        assert float(found) == pytest.approx(99.990_002, abs=LAST_DIGIT_MM)


def test_steel_on_steel_asked_of_the_calculator() -> None:
    """P6.4: part and gauge of one material at one temperature need no correction (derived), exactly."""
    assert warm("11.5e-6 1/degC", "11.5e-6 1/K", "31.7 degC") == 100
