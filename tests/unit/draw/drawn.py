"""Drawings to try: the bench's usual ones, and a strategy that makes any that can be made."""

from __future__ import annotations

from hypothesis import strategies as st

from tenthbook.faces.draw import EdgeDrawing, GapDrawing, Mark

Pair = tuple[Mark | None, Mark | None]
HOSTILE = "<script>alert('1')</script> & \"both\" ]]> \x00 \ud800 \u202e"
NOTHING: Pair = (None, None)


def mark(text: str) -> Mark:
    """A number that lies where its digits say."""
    return Mark(float(text), text)


def pair(least: str = "", greatest: str = "") -> Pair:
    """Two limits, either of which may be missing."""
    return (mark(least) if least else None, mark(greatest) if greatest else None)


def gap(
    reading: str,
    *,
    new: Pair = NOTHING,
    service: Pair = NOTHING,
    forecast: tuple[Mark, Mark] | None = None,
    doubt: float | None = 0.00016,
    verdict: str = "none",
    inner: str = "gear tip",
    sentence: str = "Tip clearance, in words.",
    unit: str = "in",
) -> GapDrawing:
    """A clearance with everything that a test does not mind."""
    return GapDrawing(
        inner, "body bore", unit, mark(reading), doubt, new, service, forecast, "with new gears", verdict, sentence
    )


def edge(
    reading: str,
    *,
    new: Pair = NOTHING,
    service: Pair = NOTHING,
    doubt: float | None = 0.0001,
    verdict: str = "none",
    bore: bool = False,
) -> EdgeDrawing:
    """A single size with everything that a test does not mind."""
    return EdgeDrawing("diameter", "in", mark(reading), doubt, new, service, verdict, "A diameter, in words.", bore)


BEYOND = gap("0.0097", new=pair("0.0032", "0.0052"), service=pair("", "0.0092"), verdict="beyond")
SERVICE = gap(
    "0.00665",
    new=pair("0.0037", "0.0057"),
    service=pair("", "0.0090"),
    forecast=(mark("0.00575"), mark("0.00675")),
    verdict="service",
)
TIGHT = gap("-0.0010", new=pair("-0.0020", "-0.0005"), verdict="new")
SHAFT = edge("0.5094", new=pair("0.5108", "0.5114"), service=pair("0.5098", ""), verdict="beyond")

_tenths = st.integers(-120, 120) | st.integers(36, 44) | st.integers(-20000, 20000)
_marks = st.tuples(_tenths, st.sampled_from((4, 5, 8, 20))).map(lambda made: mark(f"{made[0] / 10000:.{made[1]}f}"))
_words = st.sampled_from(
    ("gear tip", "body bore", "", HOSTILE, "the rear main bearing of the crankcase " * 4, "W" * 70)
)
_verdicts = st.sampled_from(("new", "service", "beyond", "undecided", "none"))
_doubts = st.none() | st.floats(0, 0.002)


def _ordered(made: tuple[Mark, Mark]) -> tuple[Mark, Mark]:
    low, high = sorted(made, key=lambda one: one.value)
    return low, high


_both = st.tuples(_marks, _marks).map(_ordered)
_limits = _both | st.tuples(st.none(), _marks) | st.tuples(_marks, st.none()) | st.tuples(st.none(), st.none())
gaps = st.builds(
    GapDrawing,
    inner=_words,
    outer=_words,
    unit=st.sampled_from(("in", "mm", "um", "lbf.in, dry", "")),
    reading=_marks,
    doubt=_doubts,
    new=_limits,
    service=_limits,
    forecast=st.none() | _both,
    forecast_label=_words,
    verdict=_verdicts,
    sentence=st.just("In words."),
)
shafts = st.builds(
    EdgeDrawing,
    feature=_words,
    unit=st.sampled_from(("in", "mm", "")),
    reading=_marks,
    doubt=_doubts,
    new=_limits,
    service=_limits,
    verdict=_verdicts,
    sentence=st.just("In words."),
    bore=st.booleans(),
)
