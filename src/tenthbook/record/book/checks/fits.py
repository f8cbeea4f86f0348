"""Is a fit what its two sizes make?

The least clearance is the least hole less the greatest shaft, the greatest the greatest hole less the least shaft; both
are compared with the printed fit exactly, in the unit they are printed in. Where the fit and its sizes are printed in
different units, or a row prints a second unit, one unit of the fit's last printed digit is allowed, because one of two
units is a rounded conversion; the finding says so. Nobody is told which of the three rows is wrong. In: a draft. Out:
findings; of the three about the figures at most one a fit, the most telling.

Sources: TM 5-2410-237-23, work package 0245, and TM 5-4310-354-14, table 5-2 (read), whose printed clearances are the
extremes of their printed sizes; the letters T and L are from memory. Checked in: tests/published/test_book_tables.py
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from tenthbook.numbers.because import Register
from tenthbook.numbers.quantity import Quantity, lettered, shown
from tenthbook.record.book.drafting import Draft
from tenthbook.record.book.findings import CheckRule, Finding, Weight
from tenthbook.record.book.rows import TypedRow

RULES = Register()
_INNER = ("diameter", "width", "length", "height", "thickness")
_OUTER = ("bore", "depth")
Pair = tuple[Fraction | None, Fraction | None]


def _near(first: Fraction, second: Fraction, allowed: Fraction) -> bool:
    return abs(first - second) <= allowed


def _agrees(printed: Pair, made: Pair, allowed: Fraction) -> bool:
    """Every side that is printed and made is the same."""
    pairs = [(one, other) for one, other in zip(printed, made, strict=True) if one is not None and other is not None]
    return all(_near(one, other, allowed) for one, other in pairs)


def _signs_kept(printed: Pair, made: Pair, allowed: Fraction) -> bool:
    """No side has the other letter: it is not the negative of an end, nor what no pair of these parts can make."""
    ends = [end for end in made if end is not None]
    for one, own in zip(printed, made, strict=True):
        if one is None or own is None or _near(one, own, allowed):
            continue
        if any(end and _near(one, -end, allowed) for end in ends):
            return False
        if (one < -allowed and min(ends) >= 0) or (one > allowed and max(ends) <= 0):
            return False
    return True


def _whole(printed: Pair, made: Pair, allowed: Fraction) -> bool:
    """The fit is not all over half or twice what is made."""
    if _agrees(printed, made, allowed):
        return True
    least, greatest = made
    twice = None if least is None else 2 * least, None if greatest is None else 2 * greatest
    half = None if least is None else least / 2, None if greatest is None else greatest / 2
    return not any(_agrees(printed, other, allowed) for other in (twice, half))


FIT_OWN_SIZES = CheckRule(
    id="book.fit-own-sizes",
    says="The hole of a fit is the outer size and the shaft the inner one, two rows and not one.",
    source="rule of this book",
    holds=lambda hole, shaft, hole_measure, shaft_measure: (
        hole != shaft and not (hole_measure in _INNER and shaft_measure in _OUTER)
    ),
    passes={"hole": "size.bush", "shaft": "size.shaft", "hole_measure": "bore", "shaft_measure": "diameter"},
    fails={"hole": "size.shaft", "shaft": "size.bush", "hole_measure": "diameter", "shaft_measure": "bore"},
    todo="look at the page: hole and shaft may be changed over",
    weight=Weight.ASKS,
)
FIT_UNITS = CheckRule(
    id="book.fit-units",
    says="A fit and its two sizes are of one kind of unit.",
    source="rule of this book",
    holds=lambda kinds: len(set(kinds)) == 1,
    passes={"kinds": ("length", "length", "length")},
    fails={"kinds": ("length", "force", "length")},
    todo="mend the unit, or name the sizes that belong to the fit",
)
TIGHT_FIT = CheckRule(
    id="book.tight-fit",
    says="What is called a tight fit is tight when new, at its least at any rate.",
    source="common practice, no source",
    holds=lambda tightest: tightest <= 0,
    passes={"tightest": -0.0015},
    fails={"tightest": 0.0005},
    todo="look at the page for the letter T or a minus before the figures",
    weight=Weight.ASKS,
)
FIT_LETTER = CheckRule(
    id="book.fit-letter",
    says="A fit is T, tight, where its sizes make the shaft the larger, and L, loose, where they make it the smaller.",
    source="common practice, no source; T and L from memory",
    holds=_signs_kept,
    passes={"printed": (10, 22), "made": (10, 22), "allowed": 0},
    fails={"printed": (-22, -10), "made": (10, 22), "allowed": 0},
    todo="look at the page for the letter or sign, and whether hole and shaft are changed over",
    weight=Weight.ASKS,
)
FIT_HALF = CheckRule(
    id="book.fit-half",
    says="A fit is the whole difference of its two sizes, not half of it and not twice.",
    source="common practice, no source",
    holds=_whole,
    passes={"printed": (10, 22), "made": (10, 22), "allowed": 0},
    fails={"printed": (5, 11), "made": (10, 22), "allowed": 0},
    todo="find out whether the manual reckons on the radius or a side, and fill reckoned",
    weight=Weight.ASKS,
)
FIT_FROM_SIZES = CheckRule(
    id="book.fit-from-sizes",
    says="A new fit runs from least hole less greatest shaft to greatest hole less least shaft.",
    source="TM 5-2410-237-23, work package 0245, and TM 5-4310-354-14, table 5-2 (read)",
    holds=_agrees,
    passes={"printed": (10, 25), "made": (10, 25), "allowed": 0},
    fails={"printed": (10, 52), "made": (10, 25), "allowed": 0},
    todo="look at the page for all three rows, and whether these two sizes belong to the fit",
    weight=Weight.ASKS,
)
for _one in (FIT_OWN_SIZES, FIT_UNITS, TIGHT_FIT, FIT_LETTER, FIT_HALF, FIT_FROM_SIZES):
    RULES.add(_one)


@dataclass(frozen=True, slots=True)
class _Fit:
    """A fit beside its sizes: its two sides as printed and as made, and what they may differ by, all in SI [m]."""

    row: TypedRow
    pairs: tuple[tuple[Quantity, Quantity] | None, ...]
    printed: Pair
    made: Pair
    allowed: Fraction
    decimals: int

    def breaks(self, rule: CheckRule) -> Finding:
        """Say that a rule is broken, with the sums."""
        unit = self.row.values["unit"]
        sides = " to ".join(self._text(one) for one in self.printed if one is not None)
        sums = [
            f"{hole} less {shaft} is {self._text(hole.exact - shaft.exact)} {unit}"
            for hole, shaft in (pair for pair in self.pairs if pair is not None)
        ]
        expected = rule.says.removesuffix(".")
        if self.allowed:
            expected += "; one unit of its last printed digit is let pass, since two units are printed"
        column = "new_min" if self.printed[0] is not None else "new_max"
        return self.row.at.breaks(rule, column, f"{sides} {unit}, and {', '.join(sums)}", expected)

    def _text(self, value: Fraction) -> str:
        number = value / self.row.values["unit"].factor
        return lettered(number, self.decimals) if number < 0 else shown(number, self.decimals)


def _pair(hole: Quantity | None, shaft: Quantity | None) -> tuple[Quantity, Quantity] | None:
    return None if hole is None or shaft is None else (hole, shaft)


def _compared(draft: Draft, row: TypedRow, hole: TypedRow, shaft: TypedRow) -> _Fit | None:
    """Set a fit beside its sizes; nothing where it prints no new limit or its sizes make none."""
    sides = row.number("new_min"), row.number("new_max")  # as typed: least and greatest may stand crossed
    outer, inner = draft.limits("sizes", hole.id).new, draft.limits("sizes", shaft.id).new
    pairs = _pair(outer.lower, inner.upper), _pair(outer.upper, inner.lower)
    if sides == (None, None) or pairs == (None, None):
        return None
    whole = 2 if row.text("reckoned") == "half" else 1
    least, greatest = (None if one is None else whole * one.exact for one in sides)
    made_least, made_greatest = (None if pair is None else pair[0].exact - pair[1].exact for pair in pairs)
    unit, rows = row.values["unit"], (row, hole, shaft)
    one_unit = all(one.values["unit"] == unit and not one.text("other_unit") for one in rows)
    decimals = max(one.decimals for one in sides if one is not None)
    allowed = Fraction(0) if one_unit else unit.factor / 10**decimals
    return _Fit(row, pairs, (least, greatest), (made_least, made_greatest), allowed, decimals)


def _against_sizes(draft: Draft, row: TypedRow, hole: TypedRow, shaft: TypedRow) -> Iterator[Finding]:
    kinds = tuple(one.values["unit"].kind for one in (row, hole, shaft))
    if not FIT_UNITS.holds(kinds=kinds):
        yield row.at.breaks(FIT_UNITS, "unit", f"{kinds[0]}; {hole.id}: {kinds[1]}; {shaft.id}: {kinds[2]}")
        return
    measures = {"hole_measure": hole.text("measure"), "shaft_measure": shaft.text("measure")}
    if not FIT_OWN_SIZES.holds(hole=hole.id, shaft=shaft.id, **measures):
        found = f"{hole.id} less {shaft.id}" + (
            f", {' less '.join(measures.values())}" if all(measures.values()) else ""
        )
        yield row.at.breaks(FIT_OWN_SIZES, "hole", found, "the outer size, then the inner one")
        return
    fit = _compared(draft, row, hole, shaft)
    if fit is None:
        return
    for rule in (FIT_LETTER, FIT_HALF, FIT_FROM_SIZES):
        if not rule.holds(printed=fit.printed, made=fit.made, allowed=fit.allowed):
            yield fit.breaks(rule)
            return


def check_fits(draft: Draft) -> Iterator[Finding]:
    """Find fits that are not what their sizes make.

    Args:
        draft: The book as it was written.

    Yields:
        A finding each, with the printed fit and the sums of its sizes; at most one a fit about its figures.

    Source: TM 5-2410-237-23, work package 0245, and TM 5-4310-354-14, table 5-2 (read). Checked in:
        tests/published/test_book_tables.py
    """
    sizes = draft.rows["sizes"]
    for row in draft.of("fits"):
        tightest = row.number("new_min") or row.number("new_max")
        if (
            row.text("measure") == "tight fit"
            and tightest is not None
            and not TIGHT_FIT.holds(tightest=tightest.number)
        ):
            yield row.at.breaks(TIGHT_FIT, "new_min", f"{tightest} loose", "tight, T, at least at its least")
        hole, shaft = sizes.get(row.text("hole")), sizes.get(row.text("shaft"))
        if hole is None or shaft is None or any("unit" not in one.values for one in (row, hole, shaft)):
            continue
        yield from _against_sizes(draft, row, hole, shaft)
