"""A least and a greatest, either of which may be blank."""

from __future__ import annotations

import numpy as np
import pytest

from tenthbook.numbers.limit import Band, Limits, NotABand, bands, service_bands
from tenthbook.numbers.quantity import quantity

LEAST, GREATEST = quantity("0.5108 in"), quantity("0.5114 in")


def test_the_least_stands_first() -> None:
    """A pair upside down is refused."""
    with pytest.raises(NotABand, match=r"0\.5114 in to 0\.5108 in"):
        Band(GREATEST, LEAST)


def test_a_band_of_one_size_is_a_band() -> None:
    """Least and greatest may be the same."""
    assert Band(LEAST, LEAST).given


@pytest.mark.parametrize(
    ("band", "text"),
    [
        (Band(LEAST, GREATEST), "0.5108 to 0.5114 in"),
        (Band(quantity("12.9 mm"), GREATEST), "12.9 mm to 0.5114 in"),
        (Band(LEAST), "0.5108 in or more"),
        (Band(None, GREATEST), "0.5114 in or less"),
        (Band(), "no limit"),
    ],
)
def test_a_band_reads_as_a_manual_would_print_it(band: Band, text: str) -> None:
    """Two sides, one side and none have their words."""
    assert str(band) == text


def test_a_blank_service_side_keeps_the_new_limit_of_that_side() -> None:
    """A least service size alone leaves the greatest new one standing."""
    limits = Limits(Band(LEAST, GREATEST), Band(quantity("0.5098 in")))
    assert limits.service_resolved == Band(quantity("0.5098 in"), GREATEST)


def test_no_service_limit_is_none_at_all() -> None:
    """Where the book gives no service limit, the new limits do not become one."""
    assert Limits(Band(LEAST, GREATEST)).service_resolved == Band()


def test_a_blank_side_in_an_array_is_beyond_every_value() -> None:
    """A blank is never nought: it stands beyond all that can be measured."""
    many = bands([Band(LEAST), Band(None, GREATEST), Band()])
    assert many.given.tolist() == [True, True, False]
    assert many.lower[1] < -(2**61)
    assert many.upper[0] > 2**61


def test_service_limits_are_completed_side_by_side_as_one_by_one() -> None:
    """Arrays complete a service limit as `service_resolved` does."""
    rows = [
        Limits(Band(LEAST, GREATEST), Band(quantity("0.5098 in"))),
        Limits(Band(LEAST, GREATEST), Band(None, quantity("0.5120 in"))),
        Limits(Band(LEAST, GREATEST)),
    ]
    many = service_bands(bands([row.new for row in rows]), bands([row.service for row in rows]))
    single = bands([row.service_resolved for row in rows])
    assert np.array_equal(many.lower, single.lower)
    assert np.array_equal(many.upper, single.upper)
    assert many.given.tolist() == [True, True, False]


def test_a_finer_limit_makes_fractions_of_its_side() -> None:
    """A limit finer than a picometre is kept exactly, blanks beside it stay blank."""
    many = bands([Band(quantity("1e-10 mm")), Band(None, GREATEST)])
    assert many.lower.dtype == object
    assert many.lower[0] == quantity("1e-10 mm").exact * 10**12
    assert many.lower[1] == -np.inf
