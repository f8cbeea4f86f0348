"""Trials of one input: drawn in place, without a new array for each.

Draws only; what the draws are put together to is told by `montecarlo`. In: a generator and an input. Out: a buffer
filled with draws of the input *standardised*, that is centred on zero and in units of its scale, so that a linear model
needs one multiplication an input. Sources: JCGM 101:2008, 6.4 and annex C (from memory).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tenthbook.trade.gauge.faults import checked_dof, checked_uncertainty
from tenthbook.trade.gauge.shapes import Shape


@dataclass(frozen=True, slots=True)
class Input:
    """One uncertain input of a model.

    Attributes:
        shape: How it may lie about its centre.
        scale: Standard uncertainty for a normal input, half-width for a bounded one [mm, or the input's unit].
        centre: Best estimate [mm, or the input's unit].
        dof: Degrees of freedom [-] of a normal input; finite makes it a scaled Student's t. The standard deviation of a
            scaled t is larger than its scale, by sqrt(dof/(dof - 2)).
        edge: Half-range within which each bound of a curvilinear trapezoid is itself in doubt [mm, or the input's
            unit].

    Raises:
        NotAnUncertainty: a negative scale or edge.
        TooFewDegrees: degrees of freedom of zero or less.

    Source: JCGM 101:2008, 6.4.2 to 6.4.9 and table 1 (from memory). Checked in: tests/published/test_jcgm_101.py
    """

    shape: Shape
    scale: float
    centre: float = 0.0
    dof: float = np.inf
    edge: float = 0.0

    def __post_init__(self) -> None:
        checked_uncertainty(self.scale, "scale")
        checked_uncertainty(self.edge, "edge")
        checked_dof(self.dof)

    @property
    def standard(self) -> float:
        """Standard deviation of the input [mm, or the input's unit].

        Returns:
            Standard deviation; infinite for a scaled t of two degrees of freedom or fewer.

        Source: JCGM 101:2008, 6.4.2 to 6.4.9 (from memory). Checked in: tests/unit/gauge/test_draws.py
        """
        if self.shape is Shape.NORMAL:
            spread = self.dof / (self.dof - 2.0) if 2.0 < self.dof < np.inf else 1.0
            return float(self.scale * np.sqrt(spread)) if self.dof > 2.0 else float(np.inf)
        if self.shape is Shape.CURVED:
            return float(np.sqrt(self.scale**2 / 3.0 + self.edge**2 / 9.0))
        return float(
            self.scale / {Shape.RECTANGULAR: 3.0, Shape.TRIANGULAR: 6.0, Shape.ARCSINE: 2.0}[self.shape] ** 0.5
        )

    def draw(self, generator: np.random.Generator, out: NDArray[np.float64], spare: NDArray[np.float64]) -> None:
        """Fill a buffer with standardised draws: centred on zero, one unit being the scale.

        Args:
            generator: Source of random numbers.
            out: Buffer to fill [-]; its length is the number of trials.
            spare: Second buffer of the same length, overwritten [-].

        Source: JCGM 101:2008, 6.4 and annex C (from memory). Checked in: tests/unit/gauge/test_draws.py
        """
        if self.shape is Shape.NORMAL:
            generator.standard_normal(out=out)
            if self.dof < np.inf:
                _stretch_to_t(generator, self.dof, out, spare)
        elif self.shape is Shape.CURVED:
            _draw_curved(generator, self.edge / self.scale if self.scale > 0.0 else 0.0, out, spare)
        else:
            _BOUNDED[self.shape](generator, out, spare)


def _stretch_to_t(
    generator: np.random.Generator, dof: float, out: NDArray[np.float64], spare: NDArray[np.float64]
) -> None:
    """Divide normal draws [-] by the root of a chi-square over its degrees of freedom."""
    generator.standard_gamma(0.5 * dof, out=spare)
    spare *= 2.0 / dof
    np.sqrt(spare, out=spare)
    out /= spare


def _draw_rectangular(generator: np.random.Generator, out: NDArray[np.float64], spare: NDArray[np.float64]) -> None:  # noqa: ARG001
    """Anywhere alike between -1 and 1 [-]; all shapes take a spare buffer, this one leaves it alone."""
    generator.random(out=out)
    out *= 2.0
    out -= 1.0


def _draw_triangular(generator: np.random.Generator, out: NDArray[np.float64], spare: NDArray[np.float64]) -> None:
    """The sum of two rectangular draws of half the width [-]."""
    generator.random(out=out)
    generator.random(out=spare)
    out += spare
    out -= 1.0


def _draw_arcsine(generator: np.random.Generator, out: NDArray[np.float64], spare: NDArray[np.float64]) -> None:  # noqa: ARG001
    """A sine at a phase that may be anything [-]."""
    generator.random(out=out)
    out *= np.pi
    np.cos(out, out=out)


def _draw_curved(
    generator: np.random.Generator, edge: float, out: NDArray[np.float64], spare: NDArray[np.float64]
) -> None:
    """A rectangular draw whose half-width is itself drawn between 1 - edge and 1 + edge [-]."""
    _draw_rectangular(generator, out, spare)
    generator.random(out=spare)
    spare *= 2.0 * edge
    spare += 1.0 - edge
    out *= spare


_BOUNDED: dict[Shape, Callable[[np.random.Generator, NDArray[np.float64], NDArray[np.float64]], None]] = {
    Shape.RECTANGULAR: _draw_rectangular,
    Shape.TRIANGULAR: _draw_triangular,
    Shape.ARCSINE: _draw_arcsine,
}
