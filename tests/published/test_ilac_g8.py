"""ILAC-G8:09/2019, Guidelines on Decision Rules and Statements of Conformity, table of guard bands.

International Laboratory Accreditation Cooperation.

From memory; each bound reproduces by computation.
"""

from __future__ import annotations

import pytest

from tenthbook.trade.gauge.conformity import probability_within


@pytest.mark.parametrize(("multiple", "bound"), [(0.0, 0.5), (0.83, 0.05), (1.0, 0.025), (1.5, 0.0016), (3.0, 1e-6)])
def test_specific_risk_at_a_guard(multiple: float, bound: float) -> None:
    """A guard of so many U bounds the risk of one part accepted at its edge (from memory)."""
    # In units of u, U being 2: the reading at the edge of the guard, the limit at zero.
    risk = 1.0 - float(probability_within(-2.0 * multiple, 1.0, upper=0.0))
    assert risk <= bound
    assert risk > 0.0
