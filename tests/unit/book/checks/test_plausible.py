"""A figure that slid a place is asked about; honest limits of small engines are not."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.record.book.checks.limits import check_limits
from tenthbook.record.book.checks.plausible import MAGNITUDES, RULES, check_plausible
from tenthbook.record.book.tables_of_parts import FIT_MEASURES, SIZE_MEASURES
from tests.unit.book.checks.rows import Cells, Pair, book, fit, found_by, pair, shaft, size

MAGNITUDE, UNIT, FAR, SPREAD = (
    "book.magnitude",
    "book.measure-unit",
    "book.service-far-from-new",
    "book.new-spread",
)
# One honest row a measure, with the greatest that is commonly seen in service.
HONEST: dict[str, tuple[str, str, str, str]] = {
    "diameter": ("in", "0.5108", "0.5114", "service_min=0.5098"),
    "bore": ("in", "1.4030", "1.4040", "service_max=1.4055"),
    "depth": ("in", "0.5027", "0.5037", "service_max=0.5065"),
    "width": ("mm", "2.000", "2.020", "service_min=1.900"),
    "length": ("in", "2.04", "2.06", "service_min=1.95"),
    "height": ("in", "0.060", "0.070", "service_min=0.050"),
    "thickness": ("in", "0.062", "0.064", "service_min=0.040"),
    "gap": ("in", "0.010", "0.020", "service_max=0.047"),
    "step": ("mm", "0.05", "0.10", "service_max=0.25"),
    "taper": ("in", "", "0.0005", "service_max=0.0045"),
    "out-of-round": ("in", "", "0.0005", "service_max=0.0045"),
    "run-out": ("in", "", "0.005", "service_max=0.015"),
    "straightness": ("in", "", "0.002", "service_max=0.010"),
    "flatness": ("mm", "", "0.05", "service_max=0.15"),
    "choke": ("in", "0.007", "0.010", ""),
    "backlash": ("in", "0.004", "0.015", "service_max=0.020"),
    "end play": ("in", "0.006", "0.025", "service_max=0.030"),
    "tappet clearance": ("in", "0.028", "0.080", ""),
    "angle": ("deg", "0", "30", ""),
    "spring load": ("lbf", "12.0", "12.6", "service_min=11.5"),
    "weight": ("g", "0", "4", ""),
    "pressure": ("psi", "55", "95", "service_min=25"),
    "torque": ("lbf.in", "0", "15", ""),
    "clearance on diameter": ("in", "0.0350", "0.0430", "service_max=0.0480"),
    "end clearance": ("in", "0.0032", "0.0052", "service_max=0.0092"),
    "side clearance": ("in", "0.0025", "0.0045", "service_max=0.0080"),
    "tight fit": ("in", "0.0140T", "0.0110T", ""),
}
OUT_OF_BAND = dict.fromkeys(("diameter", "bore", "depth", "width", "length", "height"), ("in", "30", "31"))
OUT_OF_BAND |= dict.fromkeys(("depth", "width", "length", "height"), ("in", "90", "91"))
OUT_OF_BAND |= {name: ("in", "1.1", "1.2") for name in MAGNITUDES if name not in OUT_OF_BAND}
OUT_OF_BAND |= {"thickness": ("mm", "400", "401"), "angle": ("deg", "361", "362"), "weight": ("kg", "501", "502")}
OUT_OF_BAND |= {"spring load": ("lbf", "4000", "4001"), "pressure": ("MPa", "200", "201")}
OUT_OF_BAND |= {"torque": ("N.m", "4000", "4001"), "tight fit": ("in", "0.0600T", "0.0590T")}


def limits(measure: str, unit: str, least: str, greatest: str, service: str = "") -> list[Cells]:
    """A row of a measure, and the two sizes a fit names."""
    stated = dict([service.split("=")]) if service else {}
    cells = {"measure": measure, "unit": unit, "new_min": least, "new_max": greatest, **stated}
    return [size(), shaft(), fit(**cells)] if measure in FIT_MEASURES else [size("part", **cells)]


def measured(measure: str, **cells: str) -> Cells:
    """A size of a measure."""
    return size("part", measure=measure, **cells)


def fits_of(**cells: str) -> list[Cells]:
    """A fit with the two sizes it names."""
    return [size(), shaft(), fit(**cells)]


def wear(**cells: str) -> Cells:
    """A shaft of 0.6240 to 0.6245 in that may lose some of it."""
    new = {"new_min": "0.6240", "new_max": "0.6245", "kind": "wear from new", "side": "least"}
    return shaft(**{**new, "reference": "new least", **cells})


def ratio(kind: str, **cells: str) -> Cells:
    """A row that states a proportion."""
    return size("part", kind=kind, new_min="", new_max="", **cells)


RATE = {"amount": "0.0005", "per": "1", "over": "size.bore"}
PAIRS = [
    *(pair(MAGNITUDE, "new_min", limits(one, *OUT_OF_BAND[one]), limits(one, *HONEST[one])) for one in MAGNITUDES),
    pair(
        MAGNITUDE,
        "list",
        measured("thickness", new_min="", new_max="", kind="one of", list="0.005; 50", within="0.0002"),
        measured("thickness", new_min="", new_max="", kind="one of", list="0.005; 0.010", within="0.0002"),
    ),
    pair(MAGNITUDE, "service_max", limits("end play", "in", "", "", "service_max=0.30"), limits("", "in", "", "0.30")),
    pair(UNIT, "unit", measured("diameter", unit="lbf"), measured("diameter")),
    pair(
        UNIT,
        "unit",
        measured("spring load", new_min="12.0", new_max="12.6"),
        measured("spring load", unit="lb", new_min="12.0", new_max="12.6"),
    ),
    pair(
        FAR,
        "service_max",
        fits_of(new_min="0.0032", new_max="0.0052", service_max="0.092"),
        fits_of(new_min="0.0032", new_max="0.0052", service_max="0.0092"),
    ),
    pair(FAR, "service_max", fits_of(service_max="0.0133"), fits_of(service_max="0.0132")),
    pair(FAR, "service_max", fits_of(service_max="0.037"), fits_of(new_min="0.0010T", service_max="0.0140")),
    pair(FAR, "service_max", size(service_max="0.5840"), size(service_max="0.5640")),
    pair(
        FAR,
        "service_min",
        measured("diameter", service_min="0.4840"),
        measured("length", service_min="0.4840"),
    ),
    pair(
        FAR,
        "service_max",
        measured("gap", new_min="0.010", new_max="0.020", service_max="0.47"),
        measured("", new_min="0.0001", new_max="0.0005", service_max="0.0060"),
    ),
    pair(
        FAR,
        "service_min",
        measured("spring load", unit="lbf", new_min="12.0", new_max="12.6", service_min="1.15"),
        measured("end play", new_min="0.006", new_max="0.020", service_min="0.0005", service_max="0.030"),
    ),
    pair(
        FAR,
        "service_max",
        measured("", new_min="", new_max="0.010", service_max="0.121"),
        measured("", new_min="", new_max="0.010", service_max="0.120"),
    ),
    pair(FAR, "amount", wear(amount="0.200"), wear(amount="0.0020")),
    pair(
        FAR,
        "amount",
        fits_of(kind="wear from new", amount="0.030", side="greatest", reference="new greatest"),
        fits_of(kind="wear from new", amount="0.003", side="greatest", reference="new greatest"),
    ),
    pair(SPREAD, "new_min", measured("bore", new_min="0.4124"), measured("bore", new_min="0.0600", new_max="0.0700")),
    pair(
        "book.share",
        "per_cent",
        ratio("share of original", per_cent="115"),
        ratio("share of original", per_cent="+15"),
    ),
    pair(
        "book.rate",
        "amount",
        (size(), ratio("per diameter", **{**RATE, "amount": "0.05"})),
        (size(), ratio("per diameter", **RATE)),
    ),
]


@pytest.mark.parametrize("one", PAIRS, ids=lambda one: f"{one}-{one.broken[-1].get('measure', '')}")
def test_a_slip_is_found_and_its_neighbour_is_not(one: Pair) -> None:
    """The rule names the row no engine has, and no rule speaks of the honest row beside it."""
    found = found_by(check_plausible, *one.broken)
    assert (one.rule, one.column) in {(finding.rule, finding.column) for finding in found}, found
    assert found_by(check_plausible, *one.sound) == []


def test_every_rule_of_what_is_plausible_is_broken_by_one_of_these() -> None:
    """No rule stands in the register that no slip can break."""
    assert {one.rule for one in PAIRS} == {rule.id for rule in RULES}


def test_every_measure_has_its_band() -> None:
    """What may stand in measure is known here, and nothing else is."""
    assert set(MAGNITUDES) == {*SIZE_MEASURES, *FIT_MEASURES}


def test_a_measure_left_blank_is_not_guessed() -> None:
    """A row that says neither what it measures nor limits that lie close is set beside nothing."""
    assert found_by(check_plausible, size("part", feature="end play", new_min="0", new_max="900")) == []


def test_inch_and_millimetre_are_asked_alike() -> None:
    """The same size is within its band, or out of it, in either unit."""
    for inches, millimetres, asked in (("0.149", "3.785", 0), ("0.151", "3.836", 1)):
        rows = measured("end play", new_min="", new_max=inches), size("other", measure="end play", unit="mm")
        rows[1].update(new_min="0", new_max=millimetres)
        assert [len(found_by(check_plausible, row)) for row in rows] == [asked, asked]


def test_the_bound_is_said_and_no_number_is_proposed() -> None:
    """The finding holds the row's own figures and the bound, and no figure that could be typed instead."""
    (asked,) = found_by(check_plausible, *fits_of(new_min="0.0032", new_max="0.0052", service_max="0.092"))
    assert (asked.place, asked.found) == ("fits:1", "0.092 in beside new 0.0032 to 0.0052 in")
    assert asked.expected == "at most 6 times the new limit 0.0052 in"
    (asked,) = found_by(check_plausible, measured("bore", service_max="0.7640"))
    assert asked.expected == "within 1/20, or half a millimetre, of the new limit 0.5130 in"


@given(st.integers(1, 500), st.integers(1, 500), st.integers(100, 600))
def test_a_clearance_ten_times_too_large_is_always_found(least: int, width: int, hundredths: int) -> None:
    """Where service is up to six times new, ten times the service limit is found, and the honest row is not."""
    new = Decimal(least + width) / 10_000
    service = (new * hundredths / 100).quantize(Decimal("0.0001"))
    cells = {"new_min": f"{Decimal(least) / 10_000:f}", "new_max": f"{new:f}"}
    assert FAR not in {
        finding.rule for finding in found_by(check_plausible, *fits_of(**cells, service_max=f"{service:f}"))
    }
    slid = fits_of(**cells, service_max=f"{service * 10:f}")
    assert FAR in {finding.rule for finding in found_by(check_plausible, *slid)}


@given(
    st.integers(2_000, 40_000),
    st.integers(1, 20),
    st.integers(0, 100),
    st.sampled_from(["service_min", "service_max"]),
    st.sampled_from([Decimal(10), Decimal("0.1")]),
    st.sampled_from(["", "diameter", "bore", "depth", "width", "length", "height"]),
)
def test_a_size_ten_times_off_is_always_found(
    least: int, spread: int, worn: int, side: str, slip: Decimal, measure: str
) -> None:
    """A service limit of a body that slid a place either way is found by one check or another; unslid by none."""
    new = Decimal(least) / 10_000, Decimal(least + spread) / 10_000
    service = new[0] - Decimal(worn) / 10_000 if side == "service_min" else new[1] + Decimal(worn) / 10_000
    cells = {"measure": measure, "new_min": f"{new[0]:f}", "new_max": f"{new[1]:f}"}
    honest = book(size(**cells, **{side: f"{service:f}"}))
    if (side, measure) != ("service_min", "bore"):
        assert [*honest.findings, *check_limits(honest), *check_plausible(honest)] == []
    slid = book(size(**cells, **{side: f"{service * slip:f}"}))
    assert [*slid.findings, *check_limits(slid), *check_plausible(slid)]
