"""Margins: exact in the kind of number given, infinite where there is no limit."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.trade.gauge.faults import LimitsCrossed, NotASize
from tenthbook.trade.gauge.sizes import margins

PICOMETRES = st.integers(-(10**12), 10**12)


def test_margins_are_exact() -> None:
    """Margins keep the kind of number given."""
    below, above = margins(Decimal("1.10"), Decimal("1.00"), Decimal("1.15"))
    assert (below.item(), above.item()) == (Decimal("0.10"), Decimal("0.05"))
    assert margins(np.int64(5), None, np.int64(7))[1].dtype == np.int64


@given(PICOMETRES, PICOMETRES, PICOMETRES)
def test_margins_add_up_to_the_span(size: int, one: int, other: int) -> None:
    """Distance to the lower and to the upper limit make the span, in integers and in fractions alike."""
    lower, upper = min(one, other), max(one, other)
    for kind in (np.int64, Fraction):
        below, above = margins(kind(size), kind(lower), kind(upper))
        assert int(below + above) == upper - lower


def test_a_missing_limit_is_endlessly_far() -> None:
    """None, an infinite float and None among decimals all give an infinite margin."""
    below, above = margins([Decimal("1.0"), Decimal("2.0")], None, [None, Decimal("2.5")])
    assert below.tolist() == [np.inf, np.inf]
    assert above.tolist() == [np.inf, Decimal("0.5")]
    assert margins(1, -np.inf, 3)[0] == np.inf


def test_misuse_is_named() -> None:
    """Crossed limits and sizes that are not numbers are refused, in exact numbers too."""
    with pytest.raises(LimitsCrossed, match="lower first"):
        margins(Decimal(1), Decimal(3), Decimal(2))
    with pytest.raises(NotASize, match="finite"):
        margins(np.inf, 0.0, 1.0)
