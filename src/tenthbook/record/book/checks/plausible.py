"""Is this a size such a feature has, on any small piston engine?

The bands are wide on purpose: they find a decimal point that slid, never a worn part, and a book of an honest manual
passes them. Where `measure` is blank nothing is guessed of the feature: only the figures of the row are set beside each
other. In: a draft. Out: findings; they ask, and propose no number.

Sources: common practice, no source; the clearances of TM 5-4310-354-14, table 5-2 (read) lie well inside.
Checked in: tests/published/test_book_tables.py
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from tenthbook.numbers.because import Register
from tenthbook.numbers.limit import Limits
from tenthbook.numbers.limit.kinds import Side, WearFromNew
from tenthbook.numbers.quantity import Quantity, Unit, quantity
from tenthbook.record.book.drafting import LIMIT_TABLES, Draft
from tenthbook.record.book.findings import CheckRule, Finding, Weight
from tenthbook.record.book.rows import TypedRow

RULES = Register()
_PRACTICE = "common practice, no source"
_LOOK = "look at the page: a point or a figure may have slid; where it is printed so, leave it as it stands"

MAGNITUDES: dict[str, tuple[str, str]] = {
    "diameter": ("0.005 in", "25 in"),
    "bore": ("0.005 in", "25 in"),
    "depth": ("0.002 in", "80 in"),
    "width": ("0.002 in", "80 in"),
    "length": ("0.002 in", "80 in"),
    "height": ("0.002 in", "80 in"),
    "thickness": ("0.0001 in", "12 in"),
    "gap": ("0 in", "1 in"),
    "step": ("0 in", "0.25 in"),
    "taper": ("0 in", "0.020 in"),
    "out-of-round": ("0 in", "0.020 in"),
    "run-out": ("0 in", "0.060 in"),
    "straightness": ("0 in", "0.060 in"),
    "flatness": ("0 in", "0.060 in"),
    "choke": ("0 in", "0.030 in"),
    "backlash": ("0 in", "0.100 in"),
    "end play": ("0 in", "0.150 in"),
    "tappet clearance": ("0 in", "0.300 in"),
    "angle": ("-360 deg", "360 deg"),
    "spring load": ("0.01 lbf", "3000 lbf"),
    "weight": ("0 g", "500 kg"),
    "pressure": ("-100 kPa", "100 MPa"),
    "torque": ("0 N.m", "3000 N.m"),
    "clearance on diameter": ("-0.010 in", "0.060 in"),
    "end clearance": ("0 in", "0.150 in"),
    "side clearance": ("0 in", "0.150 in"),
    "tight fit": ("-0.050 in", "0.010 in"),
}
_KINDS: dict[str, tuple[str, ...]] = {
    "taper": ("length", "angle"),
    "backlash": ("length", "angle"),
    "angle": ("angle",),
    "spring load": ("force", "mass"),
    "weight": ("mass", "force"),
    "pressure": ("pressure",),
    "torque": ("torque",),
}
# How far a service limit of a body may lie from the new one, as a divisor of it [-]; a body is known by its measure, or
# by new limits that lie within a hundredth of each other.
_SHARES = {"diameter": 20, "bore": 20, "depth": 10, "width": 10, "length": 10, "height": 10}
_SHARE_UNKNOWN, _NARROW, _SPREAD = 10, 100, 20
_LITTLE, _COARSE = quantity("0.5 mm"), quantity("1 mm")  # one thimble turn is more than the first
_SPREADS = 2  # a body made to a coarse size, such as a seat face, may also wear by twice what it was made to
# How many times the new limit a service limit may be [-]. A point one place out multiplies by ten whatever honest ratio
# there was, so a bound of six finds every such slip, and honest clearances seldom open to four times. An error of form
# may be next to nothing when new and be let grow tenfold, so its bound is wider; so is that of a row without a measure.
_TIMES = {"gap": 6, "step": 6, "backlash": 6, "end play": 6, "tappet clearance": 6}
_TIMES |= {"thickness": 6, "spring load": 6, "weight": 6}
_TIMES |= {"taper": 12, "out-of-round": 12, "run-out": 12, "straightness": 12, "flatness": 12, "": 12}
_TIMES_FIT = 6
_BOTH_WAYS = ("thickness", "spring load", "weight")
_MOST_PER_CENT = 50

MAGNITUDE = CheckRule(
    id="book.magnitude",
    says="A limit is of a size such a feature has on a small piston engine.",
    source=_PRACTICE,
    holds=lambda value, least, greatest: least <= value <= greatest,
    passes={"value": 0.0092, "least": 0, "greatest": 0.150},
    fails={"value": 0.92, "least": 0, "greatest": 0.150},
    todo=_LOOK,
    weight=Weight.ASKS,
)
MEASURE_UNIT = CheckRule(
    id="book.measure-unit",
    says="The unit of a row is one its measure has: a diameter has a length, a spring load a force.",
    source="rule of this book",
    holds=lambda kind, kinds: kind in kinds,
    passes={"kind": "length", "kinds": ("length",)},
    fails={"kind": "force", "kinds": ("length",)},
    todo="mend the unit or the measure",
)
SERVICE_FAR = CheckRule(
    id="book.service-far-from-new",
    says=(
        "A service limit is at most six times the new one (twelve for an error of form), and on the size of a body"
        " within a tenth of it, on a diameter or bore a twentieth."
    ),
    source=_PRACTICE,
    holds=lambda service, least, greatest: least <= service <= greatest,
    passes={"service": 0.0060, "least": 0, "greatest": 0.0150},
    fails={"service": 0.092, "least": 0, "greatest": 0.0312},
    todo=_LOOK,
    weight=Weight.ASKS,
)
NEW_SPREAD = CheckRule(
    id="book.new-spread",
    says="New parts of one size lie within a twentieth of each other, or within a millimetre.",
    source=_PRACTICE,
    holds=lambda spread, allowed: spread <= allowed,
    passes={"spread": 0.0010, "allowed": 0.0702},
    fails={"spread": 0.1010, "allowed": 0.0702},
    todo=_LOOK,
    weight=Weight.ASKS,
)
SHARE = CheckRule(
    id="book.share",
    says="A share of the original changes it, and by at most half.",
    source="original width + 15 %, seen in US Army manuals of ground engines (read); the bound common practice",
    holds=lambda per_cent, most: 0 < abs(per_cent) <= most,
    passes={"per_cent": 15, "most": 50},
    fails={"per_cent": 115, "most": 50},
    todo="type the change alone with its sign, such as +15, not the whole",
    weight=Weight.ASKS,
)
RATE = CheckRule(
    id="book.rate",
    says="A rate allows at most a fiftieth of the length it is stated for.",
    source="0.0005 per inch of diameter, seen in US Army manuals of ground engines (read); the bound common practice",
    holds=lambda amount, per: amount <= per / 50,
    passes={"amount": 5, "per": 10_000},
    fails={"amount": 500, "per": 10_000},
    todo=_LOOK,
    weight=Weight.ASKS,
)
for _one in (MAGNITUDE, MEASURE_UNIT, SERVICE_FAR, NEW_SPREAD, SHARE, RATE):
    RULES.add(_one)


def _exactly(value: Quantity, unit: Unit) -> Decimal:
    """The number in another unit [unit], to 28 digits: the edges of what is plausible need no more."""
    there = value.into(unit)
    return Decimal(there.numerator) / Decimal(there.denominator)


@lru_cache(maxsize=256)
def _band(measure: str, unit: Unit) -> tuple[Decimal, Decimal] | None:
    """Least and greatest of a measure in a unit [unit]; nothing where the unit is of another kind."""
    least, greatest = (quantity(text) for text in MAGNITUDES[measure])
    if least.unit.dimension != unit.dimension:
        return None
    return _exactly(least, unit), _exactly(greatest, unit)


@lru_cache(maxsize=64)
def _little(length: Quantity, unit: Unit) -> Decimal:
    """A change too small to ask about, in a unit [unit]; nought for what is no length."""
    return _exactly(length, unit) if unit.dimension == length.unit.dimension else Decimal(0)


def _sides(limits: Limits) -> Iterator[tuple[str, Quantity]]:
    for name, band in (("new", limits.new), ("service", limits.service)):
        if band.lower is not None:
            yield f"{name}_min", band.lower
        if band.upper is not None:
            yield f"{name}_max", band.upper


def _magnitude(row: TypedRow, limits: Limits) -> Iterator[Finding]:
    measure, unit = row.text("measure"), row.values.get("unit")
    if measure not in MAGNITUDES or unit is None:
        return
    kinds = _KINDS.get(measure, ("length",))
    if not MEASURE_UNIT.holds(kind=unit.kind, kinds=kinds):
        yield row.at.breaks(MEASURE_UNIT, "unit", f"{unit}, a {unit.kind}, of a {measure}", " or ".join(kinds))
    band = _band(measure, unit)
    if band is None:
        return
    for column, value in (*_sides(limits), *(("list", one) for one in row.numbers("list"))):
        if not MAGNITUDE.holds(value=value.number, least=band[0], greatest=band[1]):
            expected = f"{MAGNITUDES[measure][0]} to {MAGNITUDES[measure][1]}, where a {measure} commonly lies"
            yield row.at.breaks(MAGNITUDE, column, str(value), expected)


def _share(row: TypedRow, limits: Limits) -> int | None:
    """The share by which a body's size may change, as its divisor [-]; nothing for what is no body."""
    measure, new = row.text("measure"), limits.new
    if row.table == "fits" or measure:
        return _SHARES.get(measure)
    if new.lower is None or new.upper is None or new.lower.number <= 0:
        return None
    narrow = (new.upper.number - new.lower.number) * _NARROW <= new.upper.number
    return _SHARE_UNKNOWN if narrow else None


def _times(row: TypedRow, limits: Limits) -> int | None:
    """How many times the new limit a service limit may be [-]; nothing where that says nothing, as of a tight fit."""
    if limits.new.lower is not None and limits.new.lower.number < 0:
        return None
    return _TIMES_FIT if row.table == "fits" else _TIMES.get(row.text("measure"))


def _made_to(limits: Limits) -> Decimal:
    """How far new parts differ [row's unit]; nothing where only one side is given."""
    new = limits.new
    return Decimal(0) if new.lower is None or new.upper is None else new.upper.number - new.lower.number


Reach = tuple[Decimal, Decimal, str]


def _reach(row: TypedRow, limits: Limits, side: str, fresh: Quantity) -> Reach | None:
    """Between what a service limit may lie [row's unit], and that in words; nothing where nothing can be said."""
    new, share = fresh.number, _share(row, limits)
    if share is not None:
        change = max(new / share, _little(_LITTLE, fresh.unit), _SPREADS * _made_to(limits))
        return new - change, new + change, f"within 1/{share}, or half a millimetre, of the new limit {fresh}"
    times = _times(row, limits)
    if times is None or new <= 0:
        return None
    if side == "greatest":
        return Decimal("-Infinity"), times * new, f"at most {times} times the new limit {fresh}"
    if row.text("measure") in _BOTH_WAYS:
        return new / times, Decimal("Infinity"), f"at least 1/{times} of the new limit {fresh}"
    return None


@dataclass(frozen=True, slots=True)
class _End:
    """One end of what may stay in service: its column, its text, its number [row's unit], the new one beside it."""

    side: str
    column: str
    found: str
    value: Decimal
    fresh: Quantity


def _ends(limits: Limits, wear: WearFromNew | None) -> Iterator[_End]:
    new, service = limits.new, limits.service
    greatest, least = new.upper or new.lower, new.lower or new.upper
    if greatest is None or least is None:
        return
    if wear is not None and wear.side is Side.GREATEST:
        yield _End("greatest", "amount", f"wear {wear.amount}", greatest.number + wear.amount.number, greatest)
    elif wear is not None:
        yield _End("least", "amount", f"wear {wear.amount}", least.number - wear.amount.number, least)
    if service.upper is not None:
        yield _End("greatest", "service_max", str(service.upper), service.upper.number, greatest)
    if service.lower is not None:
        yield _End("least", "service_min", str(service.lower), service.lower.number, least)


def _service(row: TypedRow, limits: Limits, wear: WearFromNew | None) -> Iterator[Finding]:
    for end in _ends(limits, wear):
        reach = _reach(row, limits, end.side, end.fresh)
        if reach and not SERVICE_FAR.holds(service=end.value, least=reach[0], greatest=reach[1]):
            yield row.at.breaks(SERVICE_FAR, end.column, f"{end.found} beside new {limits.new}", reach[2])


def _spread(row: TypedRow, limits: Limits) -> Iterator[Finding]:
    new = limits.new
    if row.text("measure") not in _SHARES or new.lower is None or new.upper is None:
        return
    allowed = max(new.upper.number / _SPREAD, _little(_COARSE, new.upper.unit))
    if not NEW_SPREAD.holds(spread=new.upper.number - new.lower.number, allowed=allowed):
        yield row.at.breaks(NEW_SPREAD, "new_min", str(new))


def _proportions(row: TypedRow) -> Iterator[Finding]:
    per_cent = row.plain("per_cent")
    if per_cent is not None and not SHARE.holds(per_cent=per_cent, most=_MOST_PER_CENT):
        yield row.at.breaks(SHARE, "per_cent", f"{per_cent} %", "more than nought and at most 50, up or down")
    amount, per = row.number("amount"), row.number("per")
    if amount is not None and per is not None and not RATE.holds(amount=amount.number, per=per.number):
        yield row.at.breaks(RATE, "amount", f"{amount} per {per}")


def check_plausible(draft: Draft) -> Iterator[Finding]:
    """Find limits that no such feature has, and figures of a row that lie too far apart.

    Args:
        draft: The book as it was written.

    Yields:
        A finding each; all but those of a measure and its unit ask, and none proposes a number.

    Valid for: small piston engines, those of ground equipment among them.
    Source: common practice, no source. Checked in: tests/published/test_book_tables.py
    """
    for table in LIMIT_TABLES:
        for row in draft.of(table):
            said, limits = draft.said[table, row.id]
            yield from _magnitude(row, limits)
            yield from _service(row, limits, said if isinstance(said, WearFromNew) else None)
            yield from _spread(row, limits)
            yield from _proportions(row)
