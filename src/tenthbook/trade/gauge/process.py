"""How the true sizes of a stream of parts lie: normal, or gamma for what cannot go below zero.

Describes the parts, not the gauge. In: parameters, floats that broadcast. Out: densities, shares below and above, and
the places between which the density is smooth enough for `risk` to sum it up. Sources: JCGM 106:2012, 9.4 and 9.5.4
(from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tenthbook.trade.gauge.distributions import normal_cdf
from tenthbook.trade.gauge.faults import NotAnUncertainty, NotASize

_SPANS = np.arange(-12.0, 12.5, 1.0)
_TAILS = np.concatenate([[0.5, 0.25], 10.0 ** -np.arange(1.0, 21.0)])
_HALVES = 0.5 ** np.arange(1.0, 61.0)


class Process(Protocol):
    """What `risk` asks of a process.

    Source: JCGM 106:2012, 6.2 (from memory).
    """

    def density(self, size: NDArray[np.float64]) -> NDArray[np.float64]:
        """Say the probability for each unit of size.

        Args:
            size: Sizes [mm].

        Returns:
            Density [1/mm].

        Source: JCGM 106:2012, 6.2 (from memory).
        """

    def below(self, size: NDArray[np.float64]) -> NDArray[np.float64]:
        """Say the share of parts below a size.

        Args:
            size: Sizes [mm].

        Returns:
            Share [-].

        Source: JCGM 106:2012, 6.2 (from memory).
        """

    def above(self, size: NDArray[np.float64]) -> NDArray[np.float64]:
        """Say the share of parts above a size.

        Args:
            size: Sizes [mm].

        Returns:
            Share [-].

        Source: JCGM 106:2012, 6.2 (from memory).
        """

    def landmarks(self) -> NDArray[np.float64]:
        """Say between which sizes the density is smooth.

        Returns:
            Sizes [mm], on a new last axis in rising order.

        Source: JCGM 106:2012, 6.2 (from memory).
        """


@dataclass(frozen=True, slots=True)
class NormalProcess:
    """Parts that scatter evenly about a mean.

    Attributes:
        mean: Mean size [mm]; any shape.
        standard_deviation: Standard deviation of the true sizes [mm], above 0; broadcasts.

    Raises:
        NotAnUncertainty: a standard deviation of zero or less.
        NotASize: a mean that is not a number.

    Source: JCGM 106:2012, 9.4 (from memory). Checked in: tests/published/test_jcgm_106.py
    """

    mean: ArrayLike
    standard_deviation: ArrayLike

    def __post_init__(self) -> None:
        _above_zero(self.standard_deviation, "standard deviation of the process")
        if not np.isfinite(np.asarray(self.mean, dtype=np.float64)).all():
            raise NotASize(found="a process mean that is not a number", expected="a finite size", todo="type the mean")

    def density(self, size: NDArray[np.float64]) -> NDArray[np.float64]:
        """Say the probability for each unit of size.

        Args:
            size: Sizes [mm].

        Returns:
            Density [1/mm].

        Source: JCGM 106:2012, annex A (from memory). Checked in: tests/unit/gauge/test_risk.py
        """
        z = self._z(size)
        return np.asarray(np.exp(-0.5 * z * z) / (np.sqrt(2.0 * np.pi) * np.asarray(self.standard_deviation)))

    def below(self, size: NDArray[np.float64]) -> NDArray[np.float64]:
        """Say the share of parts below a size.

        Args:
            size: Sizes [mm].

        Returns:
            Share [-].

        Source: JCGM 106:2012, annex A (from memory). Checked in: tests/published/test_jcgm_106.py
        """
        return normal_cdf(self._z(size))

    def above(self, size: NDArray[np.float64]) -> NDArray[np.float64]:
        """Say the share of parts above a size.

        Args:
            size: Sizes [mm].

        Returns:
            Share [-].

        Source: JCGM 106:2012, annex A (from memory). Checked in: tests/published/test_jcgm_106.py
        """
        return normal_cdf(-self._z(size))

    def landmarks(self) -> NDArray[np.float64]:
        """Say between which sizes the density is smooth: every standard deviation, twelve to each side.

        Returns:
            Sizes [mm], on a new last axis in rising order.

        Source: JCGM 106:2012, annex A (from memory). Checked in: tests/unit/gauge/test_risk.py
        """
        mean, deviation = np.broadcast_arrays(
            np.asarray(self.mean, dtype=np.float64), np.asarray(self.standard_deviation, dtype=np.float64)
        )
        return np.asarray(mean[..., np.newaxis] + deviation[..., np.newaxis] * _SPANS)

    def _z(self, size: NDArray[np.float64]) -> NDArray[np.float64]:
        """Distance from the mean in standard deviations [-]."""
        return np.asarray((size - np.asarray(self.mean)) / np.asarray(self.standard_deviation), dtype=np.float64)


@dataclass(frozen=True, slots=True)
class GammaProcess:
    """Parts whose error cannot be negative: out-of-round, run-out, wear.

    Attributes:
        shape: Shape parameter [-], above 0; any shape. Mean is shape/rate.
        rate: Rate parameter [1/mm], above 0; broadcasts.

    Raises:
        NotAnUncertainty: a parameter of zero or less.

    Source: JCGM 106:2012, 9.5.4 (read, as quoted). Checked in: tests/published/test_jcgm_106.py
    """

    shape: ArrayLike
    rate: ArrayLike

    def __post_init__(self) -> None:
        _above_zero(self.shape, "shape of the process")
        _above_zero(self.rate, "rate of the process")

    def density(self, size: NDArray[np.float64]) -> NDArray[np.float64]:
        """Say the probability for each unit of size.

        Args:
            size: Sizes [mm].

        Returns:
            Density [1/mm]; 0 below zero.

        Source: JCGM 106:2012, 9.5.4 (read, as quoted). Checked in: tests/unit/gauge/test_risk.py
        """
        from scipy.special import gammaln, xlogy

        shape, scaled = np.asarray(self.shape, dtype=np.float64), self._scaled(size)
        log = xlogy(shape - 1.0, scaled) - scaled - gammaln(shape)
        return np.asarray(np.where(np.asarray(size) >= 0.0, np.exp(log) * np.asarray(self.rate), 0.0), dtype=np.float64)

    def below(self, size: NDArray[np.float64]) -> NDArray[np.float64]:
        """Say the share of parts below a size.

        Args:
            size: Sizes [mm].

        Returns:
            Share [-].

        Source: JCGM 106:2012, 9.5.4 (read, as quoted). Checked in: tests/published/test_jcgm_106.py
        """
        from scipy.special import gammainc

        return np.asarray(gammainc(np.asarray(self.shape, dtype=np.float64), self._scaled(size)), dtype=np.float64)

    def above(self, size: NDArray[np.float64]) -> NDArray[np.float64]:
        """Say the share of parts above a size.

        Args:
            size: Sizes [mm].

        Returns:
            Share [-].

        Source: JCGM 106:2012, 9.5.4 (read, as quoted). Checked in: tests/published/test_jcgm_106.py
        """
        from scipy.special import gammaincc

        return np.asarray(gammaincc(np.asarray(self.shape, dtype=np.float64), self._scaled(size)), dtype=np.float64)

    def landmarks(self) -> NDArray[np.float64]:
        """Say between which sizes the density is smooth: its tail shares, and ever smaller halves towards zero.

        Returns:
            Sizes [mm], on a new last axis in rising order.

        Source: JCGM 106:2012, 9.5.4 (read, as quoted). Checked in: tests/unit/gauge/test_risk.py
        """
        from scipy.special import gammainccinv, gammaincinv

        shape, rate = np.broadcast_arrays(
            np.asarray(self.shape, dtype=np.float64)[..., np.newaxis],
            np.asarray(self.rate, dtype=np.float64)[..., np.newaxis],
        )
        upper = gammainccinv(shape, _TAILS)
        halves = upper[..., -1:] * _HALVES
        places = np.concatenate([upper, gammaincinv(shape, _TAILS), halves], axis=-1)
        # Nearer to zero a density that rises without end cannot be summed; what lies there counts as one piece.
        return np.asarray(np.sort(np.maximum(places, halves[..., -1:]), axis=-1) / rate, dtype=np.float64)

    def _scaled(self, size: NDArray[np.float64]) -> NDArray[np.float64]:
        """Size times rate [-], never below zero."""
        return np.maximum(np.asarray(size, dtype=np.float64) * np.asarray(self.rate, dtype=np.float64), 0.0)


def _above_zero(parameter: ArrayLike, name: str) -> None:
    """Refuse a parameter [-] of zero, below, or without end."""
    values = np.asarray(parameter, dtype=np.float64)
    if not ((values > 0.0) & (values < np.inf)).all():
        raise NotAnUncertainty(found=f"a {name} of {values.min():g}", expected="a number above 0", todo="type it again")
