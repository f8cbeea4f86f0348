"""Does a row of sizes or fits say what it cannot mean, or leave out what it needs?

It looks at one row at a time, and at rows that name the same feature; it judges no size against what such features
commonly measure (`plausible`), and no fit against its sizes (`fits`). In: a draft, sound or not. Out: findings.

Sources: rows that contradict themselves, seen in copies of TM 10-3930-653-14&P, TM 5-6115-545-34 and TM 5-6115-584-34
(read); the rest is common practice, no source. Checked in: tests/published/test_book_tables.py
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator
from itertools import chain

from tenthbook.numbers.because import Register
from tenthbook.numbers.limit import Band, Limits, Missing, resolve
from tenthbook.numbers.limit.kinds import Reference, Statement, WearFromNew
from tenthbook.numbers.quantity import Quantity
from tenthbook.record.book.drafting import LIMIT_TABLES, Draft
from tenthbook.record.book.findings import CheckRule, Finding, Weight
from tenthbook.record.book.rows import TypedRow
from tenthbook.record.book.tables import TABLES

RULES = Register()
_PRACTICE = "common practice, no source"
_NO_FIGURES = ("none", "not applicable", "condition", "feel")
_GROWS = ("bore", "taper", "out-of-round", "run-out", "straightness", "flatness", "backlash", "end play")
_NEVER_NOUGHT = ("diameter", "bore", "depth", "width", "length", "height", "thickness", "spring load")
_PRINTED = {"in": 5, "thou": 2, "mm": 4, "um": 1}
_RADIAL = re.compile(r"\b(radial|radially|radius|(per|each|one) side)\b", re.IGNORECASE)
_ROUNDED = re.compile(r"\b(fillet|corner|edge|bend|blend|root|nose)\b", re.IGNORECASE)
_RING = re.compile(r"\brings?\b", re.IGNORECASE)
_FIGURE = re.compile(r"[0-9]")


def _has_words(text: str) -> bool:
    return sum(sign.isalpha() for sign in text) > 1


SERVICE_OUTSIDE_NEW = CheckRule(
    id="book.service-outside-new",
    says="A service limit lies on or outside the new limit, since a new part is in service limits too.",
    source="crank-pin clearance new 0.01 to 0.066 mm, wear limit 0.03 mm, seen in a copy of TM 10-3930-653-14&P (read)",
    holds=lambda side, service, new: service >= new if side == "greatest" else service <= new,
    passes={"side": "greatest", "service": 0.0060, "new": 0.0025},
    fails={"side": "greatest", "service": 0.03, "new": 0.066},
    todo="look at the page; where it really prints this, ask the maker and write the answer in note",
    weight=Weight.ASKS,
)
WEAR_START = CheckRule(
    id="book.wear-start",
    says="A row that counts wear from a new limit gives that limit.",
    source="rule of this book",
    holds=lambda missing: not missing,
    passes={"missing": ""},
    fails={"missing": "new greatest"},
    todo="type the new limit of the row, or choose the words of reference that the manual means",
)
OTHER_SIDE = CheckRule(
    id="book.other-side",
    says="What wear makes larger (bore, clearance, taper, run-out) has a greatest in service, not a least alone.",
    source=_PRACTICE,
    holds=lambda least, greatest: greatest or not least,
    passes={"least": False, "greatest": True},
    fails={"least": True, "greatest": False},
    todo="look at the page: the figure may belong in the column beside it",
    weight=Weight.ASKS,
)
NOUGHT = CheckRule(
    id="book.nought",
    says="Nought is a limit only where the manual prints it: dashes and blanks give none.",
    source="rows of dashes, seen in TM 5-6115-545-34 (read)",
    holds=lambda value, may_be_nought: value != 0 or may_be_nought,
    passes={"value": 0, "may_be_nought": True},
    fails={"value": 0, "may_be_nought": False},
    todo="look at the page; leave the cell blank where it prints dashes or nothing",
    weight=Weight.ASKS,
)
FINER_THAN_PRINTED = CheckRule(
    id="book.finer-than-printed",
    says="A printed limit has at most five decimals of an inch or four of a millimetre: more of them look computed.",
    source="0.03 mm is 0.00118 in and stands as 0.0012 in, in a copy of TM 10-3930-653-14&P (read)",
    holds=lambda decimals, most: decimals <= most,
    passes={"decimals": 4, "most": 5},
    fails={"decimals": 7, "most": 5},
    todo="type the figure and the unit that are printed, without converting",
    weight=Weight.ASKS,
)
NOTE_LOST = CheckRule(
    id="book.note-lost",
    says="The words of a note stand in note, not its number or sign alone.",
    source="a choke measured at a stated depth, the depth in a note of the heading (read)",
    holds=lambda mark, note: _has_words(note) if mark or note else True,
    passes={"mark": "3", "note": "measured in the free state"},
    fails={"mark": "3", "note": ""},
    todo="find the note on the page and type its words",
)
PLACE_STATED = CheckRule(
    id="book.place-stated",
    says="Choke, taper, a ring's gap and a spring's load are stated with where, or at which length, they are measured.",
    source="a choke measured at a stated depth, the depth in a note of the heading (read)",
    holds=lambda at, figure_needed: bool(_FIGURE.search(at) if figure_needed else at),
    passes={"at": "loaded to 1.30 in", "figure_needed": True},
    fails={"at": "", "figure_needed": True},
    todo="find the place or the length on the page, perhaps in a note, and type it in at",
    weight=Weight.ASKS,
)
ONE_ROW_A_FEATURE = CheckRule(
    id="book.one-row-a-feature",
    says="Rows for one feature, or of one reference number, are for different variants, and each says which.",
    source=_PRACTICE,
    holds=lambda effectivity, others: bool(effectivity) and effectivity not in others,
    passes={"effectivity": "serial 101 and up", "others": ("serial 1 to 100",)},
    fails={"effectivity": "", "others": ("",)},
    todo="type the variants or serial numbers of each, say where each is measured, or take one row out",
    weight=Weight.ASKS,
)
HALF_OR_FULL = CheckRule(
    id="book.half-or-full",
    says="A run-out, and whatever is stated on the radius or a side, says whether it is reckoned full or half.",
    source=_PRACTICE,
    holds=lambda reckoned: bool(reckoned),
    passes={"reckoned": "full"},
    fails={"reckoned": ""},
    todo="find out which the manual means and fill reckoned",
    weight=Weight.ASKS,
)
SAFETY_LIMIT = CheckRule(
    id="book.safety-limit",
    says="A row that guards against failure in flight states a limit.",
    source="rule of this book",
    holds=lambda kind, safety: not safety or kind not in ("none", "not applicable"),
    passes={"kind": "absolute", "safety": True},
    fails={"kind": "none", "safety": True},
    todo="look at the page again, and ask the maker where it gives none",
    weight=Weight.ASKS,
)
for _one in (SERVICE_OUTSIDE_NEW, WEAR_START, OTHER_SIDE, NOUGHT, FINER_THAN_PRINTED, NOTE_LOST, PLACE_STATED):
    RULES.add(_one)
for _one in (ONE_ROW_A_FEATURE, HALF_OR_FULL, SAFETY_LIMIT):
    RULES.add(_one)


def _worn(row: TypedRow, said: WearFromNew) -> Iterator[Finding]:
    if said.reference is Reference.ORIGINAL:
        return
    try:
        service = resolve(said).limits.service
    except Missing:
        yield row.at.breaks(WEAR_START, "reference", f"wear from the {said.reference}, which is blank")
    else:
        yield from _outside(row, Limits(said.new, service), "amount", "amount")


def _outside(row: TypedRow, limits: Limits, least: str, greatest: str) -> Iterator[Finding]:
    new, service = limits.new, limits.service
    sides = (
        (greatest, "greatest", service.upper, new.upper or new.lower),
        (least, "least", service.lower, new.lower or new.upper),
    )
    for column, side, worn, fresh in sides:
        if worn is None or fresh is None:
            continue
        if not SERVICE_OUTSIDE_NEW.holds(side=side, service=worn.number, new=fresh.number):
            yield row.at.breaks(SERVICE_OUTSIDE_NEW, column, f"service {side} {worn} beside new {new}")


def _service(row: TypedRow, said: Statement, limits: Limits) -> Iterator[Finding]:
    if isinstance(said, WearFromNew):
        yield from _worn(row, said)
        least = said.side == "least"
        column, service = "side", Band(said.amount, None) if least else Band(None, said.amount)
    else:
        column, service = "service_min", limits.service
        yield from _outside(row, limits, "service_min", "service_max")
    if service.lower is not None and (row.table == "fits" or row.text("measure") in _GROWS):
        facts = {"least": True, "greatest": service.upper is not None}
        if not OTHER_SIDE.holds(**facts):
            yield row.at.breaks(OTHER_SIDE, column, f"a service least alone, of {row.text(column)}")


def _may_be_nought(row: TypedRow, column: str, new_least: Quantity | None) -> bool:
    if row.text("measure") == "angle":
        return True
    if column.endswith("_max"):  # a tight fit may end at nought
        return row.table == "fits" and new_least is not None and new_least.number < 0
    measure = row.text("measure")
    if row.table == "fits" or column == "new_min":
        return measure not in _NEVER_NOUGHT
    return measure not in _NEVER_NOUGHT and (bool(measure) or new_least is None or new_least.number == 0)


def _nought(row: TypedRow, said: Statement, limits: Limits) -> Iterator[Finding]:  # noqa: ARG001 - one shape for all
    new, service = limits.new, limits.service
    sides = (
        ("new_min", new.lower),
        ("new_max", new.upper),
        ("service_min", service.lower),
        ("service_max", service.upper),
    )
    for column, value in sides:
        if value is None or value.number:
            continue
        if not NOUGHT.holds(value=0, may_be_nought=_may_be_nought(row, column, new.lower)):
            yield row.at.breaks(NOUGHT, column, str(value), "what the page prints; blank where it prints dashes")


def _figures(row: TypedRow) -> Iterator[tuple[str, Quantity]]:
    for column, value in row.values.items():
        if isinstance(value, Quantity):
            yield column, value
        elif column == "list":
            yield from ((column, one) for one in value)


def _too_fine(value: Quantity) -> bool:
    most = _PRINTED.get(value.unit.name)
    # A text no longer than its decimals and the point has no more of them, unless it is written with a power.
    if most is None or (len(value.typed) <= most + 1 and "e" not in value.typed.lower()):
        return False
    return not FINER_THAN_PRINTED.holds(decimals=value.decimals, most=most)


def _finer(row: TypedRow, said: Statement, limits: Limits) -> Iterator[Finding]:  # noqa: ARG001
    fine = [(column, value) for column, value in _figures(row) if _too_fine(value)]
    if fine:
        yield row.at.breaks(FINER_THAN_PRINTED, fine[0][0], ", ".join(str(value) for _, value in fine))


def _needs_a_place(row: TypedRow, measure: str) -> bool:
    return measure in ("choke", "taper", "spring load") or (
        measure == "gap" and _RING.search(row.text("feature")) is not None
    )


def _stated(row: TypedRow, said: Statement, limits: Limits) -> Iterator[Finding]:  # noqa: ARG001
    measure, kind, at = row.text("measure"), row.text("kind"), row.text("at")
    if not SAFETY_LIMIT.holds(kind=kind, safety=row.says_yes("safety")):
        yield row.at.breaks(SAFETY_LIMIT, "kind", f"{kind}, and safety says yes")
    if kind in _NO_FIGURES:
        return
    load = measure == "spring load"
    if _needs_a_place(row, measure) and not PLACE_STATED.holds(at=at, figure_needed=load):
        expected = "the length it is loaded to" if load else "where it is measured"
        yield row.at.breaks(PLACE_STATED, "at", repr(at) if at else "nothing", expected)
    if HALF_OR_FULL.holds(reckoned=row.text("reckoned")):
        return
    words = f"{row.text('feature')} {row.text('name')} {at}"
    if measure == "run-out" or (_RADIAL.search(words) and not _ROUNDED.search(words)):
        yield row.at.breaks(HALF_OR_FULL, "reckoned", "nothing", "full or half")


def _note(row: TypedRow) -> Iterator[Finding]:
    mark, note = row.text("note_mark"), row.text("note")
    if not NOTE_LOST.holds(mark=mark, note=note):
        yield row.at.breaks(NOTE_LOST, "note", f"{note!r} alone" if note else f"note {mark} without its words")


def _keys(row: TypedRow) -> Iterator[tuple[str, ...]]:
    """What two rows must not share: the feature, and the reference number as far as one number has one row a part."""
    kind, measure, at = row.text("kind"), row.text("measure"), row.text("at")
    called = row.text("feature") or row.text("name")
    of = row.text("part") or f"{row.text('hole')} {row.text('shaft')}"
    yield ("feature", of, kind, measure, *f"{called}; {at}".casefold().split())
    ref = row.text("ref")
    if ref and (measure or row.table == "fits"):
        yield ("ref", of, kind, measure, row.page, ref, *at.casefold().split())


def _alike(rows: list[TypedRow]) -> Iterator[Finding]:
    """The later rows are asked for their variants, and the first where it says none and a later one does."""
    variants = [row.text("effectivity") for row in rows]
    for place, row in enumerate(rows):
        own = variants[place]
        others = variants[:place] if place else [one for one in variants if one and not own]
        if others and not ONE_ROW_A_FEATURE.holds(effectivity=own, others=others):
            says = f"is for {own}" if own else "says for no variant"
            other = rows[0] if place else rows[1]
            yield row.at.breaks(ONE_ROW_A_FEATURE, "effectivity", f"the same as {other.id}, and {says}")


def _twice(draft: Draft, table: str) -> Iterator[Finding]:
    found: dict[tuple[str, ...], list[TypedRow]] = defaultdict(list)
    for row in draft.of(table):
        for key in _keys(row):
            found[key].append(row)
    groups = {tuple(row.id for row in rows): rows for rows in found.values() if len(rows) > 1}
    for rows in groups.values():
        yield from _alike(rows)


def _no_torque(row: TypedRow) -> Iterator[Finding]:
    """A torque of nought: dashes read as a figure."""
    for column in ("least", "greatest", "set_to"):
        value = row.number(column)
        if value is not None and not NOUGHT.holds(value=value.number, may_be_nought=False):
            yield row.at.breaks(NOUGHT, column, str(value), "what the page prints; blank where it prints dashes")


def check_limits(draft: Draft) -> Iterator[Finding]:
    """Find rows that contradict themselves or leave out what they need.

    Args:
        draft: The book as it was written.

    Yields:
        A finding each; none holds a corrected number.

    Source: common practice, no source; rows seen in TM 10-3930-653-14&P and TM 5-6115-545-34 (read). Checked in:
        tests/published/test_book_tables.py
    """
    for row in chain.from_iterable(draft.of(table) for table in TABLES):
        if "note" in row.cells or "note_mark" in row.cells:
            yield from _note(row)
    for table in LIMIT_TABLES:
        for row in draft.of(table):
            said, limits = draft.said[table, row.id]
            for one in (_service, _nought, _finer, _stated):
                yield from one(row, said, limits)
        yield from _twice(draft, table)
    for row in draft.of("torques"):
        yield from _no_torque(row)
