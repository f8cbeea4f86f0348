"""Did a limit become stricter or wider from one revision to the next?

Two rows of one id go in. Out comes every limit that moved: what it was, what it is, by how much, and which way. The
comparison is exact and does not mind the unit: 0.0090 in and 0.2286 mm are one limit. Where two figures stand in
different frames, such as wear counted from elsewhere, the way is not told. Nothing is rounded but the difference that
is shown.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from tenthbook.numbers.quantity import Quantity, shown
from tenthbook.record.book.rows import TypedRow

NO_LIMIT = "no limit"


class Direction(StrEnum):
    """Which way a limit moved.

    Attributes:
        STRICTER: What passed before may fail now.
        WIDER: What failed before may pass now.
        RAISED: A figure to set is larger.
        LOWERED: A figure to set is smaller.
        UNTOLD: It cannot be told from the two rows.
    """

    STRICTER = "stricter"
    WIDER = "wider"
    RAISED = "raised"
    LOWERED = "lowered"
    UNTOLD = "cannot be told"


@dataclass(frozen=True, slots=True)
class Move:
    """One limit that moved.

    Attributes:
        limit: Its column, or the kind of limit where that changed.
        old: What it was, with its unit as printed.
        new: What it is.
        direction: Which way.
        by: How much, in the new unit; empty where that cannot be told.
    """

    limit: str
    old: str
    new: str
    direction: Direction
    by: str = ""


class _Sense(StrEnum):
    LEAST = "least"
    GREATEST = "greatest"
    SET = "set"


@dataclass(frozen=True, slots=True)
class _Figure:
    """A figure of a row: what is printed, what it comes to, and the frame it stands in; no value: no limit."""

    printed: str = NO_LIMIT
    value: Fraction | None = None
    frame: tuple[object, ...] = ()
    quantity: Quantity | None = None
    readable: bool = True


_LEAST, _GREATEST, _SET = _Sense.LEAST, _Sense.GREATEST, _Sense.SET
_SIDES = {
    "torques": {
        "least": _LEAST,
        "greatest": _GREATEST,
        "set_to": _SET,
        "running_least": _LEAST,
        "running_greatest": _GREATEST,
        "stretch_least": _LEAST,
        "stretch_greatest": _GREATEST,
    },
    "run_limits": {"least": _LEAST, "greatest": _GREATEST},
    "parts": {"life_limit": _GREATEST},
    "follow_ups": {"after_hours": _GREATEST, "after_days": _GREATEST},
    "sizes": {"new_min": _LEAST, "new_max": _GREATEST},
    "fits": {"new_min": _LEAST, "new_max": _GREATEST},
}
_SERVICE = {"service_min": (_LEAST, "new_min", "service_max"), "service_max": (_GREATEST, "new_max", "service_min")}
_WORDS = {"feel": ("ribbon", "unit"), "condition": ("condition",), "one of": ("list", "within", "unit")}
_ALLOWED_BY = {
    "share of original": "per_cent",
    "multiple": "times",
    **{kind: names[0] for kind, names in _WORDS.items()},
}
_NO_ALLOWANCE = ("absolute", "none", "")


def _figure(row: TypedRow, column: str) -> _Figure:
    if not row.text(column):
        return _Figure()
    value = row.values.get(column)
    if isinstance(value, int):
        return _Figure(row.text(column), Fraction(value))
    if not isinstance(value, Quantity):
        return _Figure(row.text(column), readable=False)
    half = row.text("reckoned") == "half"
    printed = f"{value}, half" if half else str(value)
    return _Figure(printed, value.exact * (2 if half else 1), (value.unit.dimension,), value)


def _service(row: TypedRow, column: str) -> _Figure:
    """A service side; left blank beside a given one it keeps the new limit of that side."""
    _, new, other = _SERVICE[column]
    own = _figure(row, column)
    return own if row.text(column) or not row.text(other) else _figure(row, new)


def _rate(row: TypedRow) -> _Figure:
    amount, per = row.number("amount"), row.number("per")
    if amount is None or per is None or per.exact == 0:
        return _Figure(row.text("amount") or NO_LIMIT, readable=False)
    times = 2 if row.text("reckoned") == "half" else 1
    frame = (row.text("kind"), row.text("side"), row.text("over"))
    return _Figure(f"{amount} per {per}", times * amount.exact / per.exact, frame)


def _plain(row: TypedRow, column: str, unit: str, *frame: object) -> _Figure:
    value = row.plain(column)
    if value is None:
        return _Figure(row.text(column) or NO_LIMIT, readable=False)
    return _Figure(f"{row.text(column)}{unit}", abs(Fraction(value)), (row.text("kind"), value < 0, *frame))


def _allowance(row: TypedRow) -> _Figure:
    """What a row allows where it does not print the limit itself."""
    kind = row.text("kind")
    if kind in ("per diameter", "per length"):
        return _rate(row)
    if kind == "wear from new":
        figure = _figure(row, "amount")
        frame = (kind, row.text("side"), row.text("reference"), *figure.frame)
        return _Figure(figure.printed, figure.value, frame, figure.quantity, figure.readable)
    if kind == "share of original":
        return _plain(row, "per_cent", " %")
    if kind == "multiple":
        return _plain(row, "times", " times", row.text("of_row"))
    words = [row.text(column) for column in _WORDS.get(kind, ())]
    return _Figure(", ".join(words) or kind, readable=False)


def _by(old: _Figure, new: _Figure) -> str:
    if old.quantity is None or new.quantity is None or old.value is None or new.value is None:
        return ""
    unit = new.quantity.unit
    finest = max(old.quantity.decimals if old.quantity.unit == unit else 0, new.quantity.decimals)
    return f"{shown(abs(new.value - old.value) / unit.factor, finest)} {unit.name}"


def _direction(sense: _Sense, old: Fraction | None, new: Fraction | None) -> Direction:
    if old is None or new is None:
        given = Direction.STRICTER if old is None else Direction.WIDER
        return Direction.UNTOLD if sense is _SET else given
    if sense is _SET:
        return Direction.RAISED if new > old else Direction.LOWERED
    return Direction.STRICTER if (new > old) == (sense is _LEAST) else Direction.WIDER


def _move(limit: str, sense: _Sense, old: _Figure, new: _Figure) -> Iterator[Move]:
    both = old.value is not None and new.value is not None
    if not (old.readable and new.readable) or (both and old.frame != new.frame):
        if (old.printed, old.frame) != (new.printed, new.frame):
            yield Move(limit, old.printed, new.printed, Direction.UNTOLD)
    elif old.value != new.value:
        yield Move(limit, old.printed, new.printed, _direction(sense, old.value, new.value), _by(old, new))


def _service_moves(old: TypedRow, new: TypedRow) -> Iterator[Move]:
    """What is allowed in service: printed as a size, or as an allowance; never compared across the two."""
    printed = [row.text("kind") in _NO_ALLOWANCE for row in (old, new)]
    if all(printed):
        for column, (sense, _, _) in _SERVICE.items():
            yield from _move(column, sense, _service(old, column), _service(new, column))
    elif any(printed) or old.text("kind") != new.text("kind"):
        yield Move("kind", old.text("kind"), new.text("kind"), Direction.UNTOLD)
    else:
        least = new.text("kind").startswith("per ") and new.text("side") == "least"
        limit = _ALLOWED_BY.get(new.text("kind"), "amount")
        yield from _move(limit, _LEAST if least else _GREATEST, _allowance(old), _allowance(new))


def moves_between(old: TypedRow, new: TypedRow) -> Iterator[Move]:
    """Say which limits of a row moved.

    Args:
        old: The row as it was.
        new: The row as it is, of the same table.

    Yields:
        Each limit that moved [unit as printed]; nothing where only the unit or the words changed.
    """
    for column, sense in _SIDES.get(new.table, {}).items():
        yield from _move(column, sense, _figure(old, column), _figure(new, column))
    if new.table in ("sizes", "fits"):
        yield from _service_moves(old, new)
