"""What is the root of an exact number: exact where it is a fraction, else nearer than any comparison can tell.

A guard is a multiple of a root of squares, and on the guard is within: so 3, 4 and 5 thousandths must make 5 and not
one part in 10 to the 16 more. In: an exact number, the square of a doubt in any unit [mm^2]. Out: its root, exact or
with more than a hundred right digits. Sources: definition, no source.
"""

from __future__ import annotations

import math
from fractions import Fraction

from tenthbook.trade.gauge.faults import NotAnUncertainty

_BITS = 700
"""Bits to which a root that is no fraction is worked out [-]: a typed figure has at most forty digits."""


def exact_root(square: Fraction) -> Fraction:
    """Take the root of an exact number.

    Args:
        square: Square of a length, or of any other unit [mm^2], zero or more.

    Returns:
        The root [mm]; exact where it is a fraction, else too small by less than one part in 10 to the 100.

    Raises:
        NotAnUncertainty: a number below zero.

    Source: definition, no source. Checked in: tests/unit/gauge/test_roots.py
    """
    if square < 0:
        raise NotAnUncertainty(found="the square of a doubt below zero", expected="zero or more")
    above, below = math.isqrt(square.numerator), math.isqrt(square.denominator)
    if above * above == square.numerator and below * below == square.denominator:
        return Fraction(above, below)
    shift = max(0, _BITS + square.denominator.bit_length() - square.numerator.bit_length())
    shift += shift % 2
    return Fraction(math.isqrt((square.numerator << shift) // square.denominator), 1 << (shift // 2))
