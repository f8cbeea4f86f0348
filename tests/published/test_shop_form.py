"""Shop definitions of form and of errors in setting a gauge.

Out-of-round as the difference of two diameters 90 degrees apart at one station, taper as largest less smallest along a
direction: read in two service manuals of diesel engines (makers withheld) and in US Army TM 5-3805-262-34, p. 4-23. Rod
twist: read in the FAA Aviation Maintenance Technician Handbook, Powerplant, dimensional inspection. Error limits of
micrometers: read in a one-page extract of DIN 863. Numbers of the geometric cases are derived.
"""

from __future__ import annotations

from decimal import Decimal

import numpy as np
import pytest

from tenthbook.faces.calculators import load
from tenthbook.trade.gauge.readings import form
from tenthbook.trade.gauge.setting_errors import error_of_offset, error_of_tilt, indicated_runout, twist
from tenthbook.trade.gauge.shapes import standard_from_half_width, standard_from_step

STATIONS_MM = [(50.012, 50.006), (50.009, 50.008), (50.021, 50.010)]


def test_out_of_round_and_taper() -> None:
    """Three stations, two directions: 6, 1, 11 um out of round and 12, 4 um taper, exactly (definitions read)."""
    picometres = np.rint(np.array(STATIONS_MM) * 1e9).astype(np.int64)
    found = form(picometres)
    assert (found.out_of_round // 10**6).tolist() == [6, 1, 11]
    assert (found.taper // 10**6).tolist() == [12, 4]
    assert int(found.worst_out_of_round) == 11_000_000
    assert int(found.worst_taper) == 12_000_000


@pytest.mark.parametrize(("lobes", "spread_um"), [(2, 40.0), (3, 0.0)])
def test_odd_lobes_hide_from_a_micrometer(lobes: int, spread_um: float) -> None:
    """Lobes of 10 um show 40 um to a two-point gauge when there are two and nothing when there are three (derived)."""
    angle = np.linspace(0.0, np.pi, 181)
    radius = 25_000.0 + 10.0 * np.cos(lobes * angle)
    opposite = 25_000.0 + 10.0 * np.cos(lobes * (angle + np.pi))
    assert form([radius + opposite]).worst_out_of_round == pytest.approx(spread_um, abs=1e-9)


def test_rod_twist() -> None:
    """A 0.002 in feeler over 6 in is a twist of 0.000 333 (rule read)."""
    assert twist(0.002, 6.0) == pytest.approx(0.000_333, abs=5e-7)


def test_tilted_telescoping_gauge() -> None:
    """Locked two degrees out of square in a 25 mm bore it reads 15.24 um too much (derived)."""
    assert 1000.0 * error_of_tilt(25.0, 2.0) == pytest.approx(15.24, abs=0.005)
    assert 1000.0 * error_of_tilt(25.0, 2.0) == pytest.approx(
        25_000.0 * (1.0 / np.cos(np.deg2rad(2.0)) - 1.0), abs=1e-9
    )


def test_gauge_beside_the_axis() -> None:
    """Half a millimetre off the axis of a 100 mm bore it reads 5.00 um too little (derived)."""
    assert 1000.0 * error_of_offset(100.0, 0.5) == pytest.approx(-5.00, abs=0.001)


def test_runout_is_twice_the_eccentricity() -> None:
    """A true circle 0.015 mm off its centre moves a dial by 0.030 mm (run-out as read in the handbook)."""
    assert indicated_runout(0.015) == 0.030


def test_micrometer_of_din_863() -> None:
    """An error limit of 4 um is 2.31 um standard, a step of 1 um 0.29 um (limit read in an extract of DIN 863)."""
    assert standard_from_half_width(4.0) == pytest.approx(2.31, abs=0.005)
    assert standard_from_step(1.0) == pytest.approx(0.29, abs=0.005)


# Through the calculator `size`.


def test_form_asked_of_the_calculator() -> None:
    """P7.1: three stations, two directions: 6, 1, 11 um out of round and 12, 4 um taper, exactly (definitions read)."""
    stations = [[f"{size:.3f} mm" for size in row] for row in STATIONS_MM]
    answer = load("size").run({"stations": stations})
    found = [[Decimal(str(one["value"])) for one in answer[name]] for name in ("out_of_round", "taper")]
    assert found == [[Decimal(text) for text in ("0.006", "0.001", "0.011")], [Decimal("0.012"), Decimal("0.004")]]
    texts = [answer[name]["text"] for name in ("worst_out_of_round", "worst_taper", "smallest", "largest", "size")]
    assert texts == ["0.011 mm", "0.012 mm", "50.006 mm", "50.021 mm", "50.011 mm"]


def test_micrometer_of_din_863_asked_of_the_calculator() -> None:
    """P7.8: a limit of 4 um is 2.31 um standard, a step of 1 um 0.29 um (limit read in an extract of DIN 863)."""
    instrument = {"error_limit": "4 um", "resolution": "1 um"}
    budget = load("size").run({"readings": ["50000 um"], "instrument": instrument})["budget"]
    found = {line["name"]: line["contribution"]["value"] for line in budget}
    assert found == pytest.approx({"error limit": 2.31, "resolution": 0.29}, abs=0.005)
