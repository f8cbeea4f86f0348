"""Are the torques of a book in order, and can they be meant for their threads?

It asks; it names no torque of its own and never says which of torque, unit and thread is the slip. Two units of one
row are compared elsewhere (`units`).

Goes in: a draft. Comes out: findings, by the rules of `torque_rules`.
"""

from __future__ import annotations

import statistics
from collections import defaultdict
from collections.abc import Iterable, Iterator
from decimal import Decimal

from tenthbook.numbers.quantity import Quantity
from tenthbook.record.book.checks import torque_rules
from tenthbook.record.book.checks.joints import numbered_variants
from tenthbook.record.book.checks.threads import Reading, Thread, pull_index, read_thread
from tenthbook.record.book.checks.torque_rules import RULES
from tenthbook.record.book.drafting import Draft
from tenthbook.record.book.findings import Finding
from tenthbook.record.book.rows import TypedRow

__all__ = ["RULES", "check_torques"]

_ORDERED = (
    ("least", "set_to", "greatest"),
    ("running_least", "running_greatest"),
    ("stretch_least", "stretch_greatest"),
)
_ENOUGH = 4  # rows of one thread, before their median says anything
# The unit a torque is taken for when it is twelve times too great, or a twelfth.
_TAKEN_FOR = {("lbf.in", False): "lbf.ft", ("lbf.ft", True): "lbf.in"}


def _orders(row: TypedRow) -> Iterator[Finding]:
    for columns in _ORDERED:
        there = {column: value for column in columns if (value := row.number(column)) is not None}
        if len(there) > 1:
            found = ", ".join(f"{column} {value}" for column, value in there.items())
            figures = [value.exact for value in there.values()]
            yield from row.at.try_rule(torque_rules.TORQUE_ORDER, next(iter(there)), found, figures=figures)


def _stages(row: TypedRow) -> Iterator[Finding]:
    """Hold the stages against the final range; a turn after the last stage ends beyond any torque."""
    stages = row.numbers("stages")
    if not stages:
        return
    least, greatest = row.number("least"), row.number("greatest")
    turned = row.plain("angle") is not None
    found = "; ".join(stage.typed for stage in stages) + f" {stages[0].unit}"
    if not turned and (least or greatest):
        found += " for " + _range_of(least, greatest)
    yield from row.at.try_rule(
        torque_rules.STAGES,
        "stages",
        found,
        stages=[stage.exact for stage in stages],
        least=None if turned or least is None else least.exact,
        greatest=None if turned or greatest is None else greatest.exact,
    )


def _range_of(least: Quantity | None, greatest: Quantity | None) -> str:
    if least is not None and greatest is not None:
        return f"{least.typed} to {greatest}"
    return f"least {least}" if least is not None else f"greatest {greatest}"


def _words(row: TypedRow) -> Iterator[Finding]:
    at, locking, threads_are = row.at, row.text("locking"), row.text("threads_are")
    running, lubricant = row.text("running_torque"), row.several("lubricant")
    yield from at.try_rule(torque_rules.LOCKING, "locking", "nothing", safety=row.says_yes("safety"), locking=locking)
    yield from at.try_rule(
        torque_rules.RUNNING_TORQUE, "running_torque", "nothing", locking=locking, running_torque=running
    )
    if "threads_are" in row.values:
        found = f"{threads_are} threads with {', '.join(lubricant) or 'nothing named'}"
        yield from at.try_rule(torque_rules.LUBRICANT, "lubricant", found, threads_are=threads_are, lubricant=lubricant)


def _final(row: TypedRow) -> tuple[str, Decimal, Quantity] | None:
    """The torque a row is judged by, in the words of the row [its unit]; None where it states none."""
    least, greatest, set_to = row.number("least"), row.number("greatest"), row.number("set_to")
    ends = [end for end in (least, greatest) if end is not None]
    if ends:
        return _range_of(least, greatest), sum((end.number for end in ends), Decimal(0)) / len(ends), ends[0]
    stages = row.numbers("stages")
    single = set_to or (stages[-1] if stages else None)
    return (str(single), single.number, single) if single is not None else None


def _asks_pull(row: TypedRow, thread: Thread, said: str, torque_nm: float, unit: str) -> Iterator[Finding]:
    turned = row.plain("angle") is not None or row.number("stretch_least") is not None
    plug = thread.diameter_mm >= torque_rules.PLUGS_FROM_MM
    least = torque_rules.LEAST_PLUG_PULL_MPA if plug else torque_rules.LEAST_PULL_MPA
    pull = pull_index(torque_nm, thread)
    taken = _TAKEN_FOR.get((unit, pull > torque_rules.GREATEST_PULL_MPA))
    expected = f"{f'was {taken} meant' if taken else 'is the unit another'}, or the thread another?"
    yield from row.at.try_rule(
        torque_rules.TORQUE_FOR_THREAD,
        "unit",
        f"{said} on {row.text('thread')}",
        expected,
        pull_mpa=pull,
        least_mpa=0.0 if turned else least,
    )


def _threads(draft: Draft) -> Iterator[Finding]:
    """Hold each torque against its thread, and against the other torques of that thread."""
    by_thread: dict[Thread, list[tuple[TypedRow, str, float]]] = defaultdict(list)
    asked: set[str] = set()
    for row in draft.of("torques"):
        text = row.text("thread")
        reading, thread = read_thread(text) if text else (Reading.NAMED, None)
        yield from row.at.try_rule(torque_rules.THREAD, "thread", repr(text), reading=str(reading))
        final = _final(row)
        if thread is None or final is None or final[1] <= 0:
            continue
        said, number, sample = final
        torque_nm = float(number) * float(sample.unit.factor)
        by_thread[thread].append((row, said, torque_nm))
        for finding in _asks_pull(row, thread, said, torque_nm, sample.unit.name):
            asked.add(row.id)
            yield finding
    for rows in by_thread.values():
        if len(rows) >= _ENOUGH:
            median = statistics.median(torque for _, _, torque in rows)
            for row, said, torque in rows:
                if row.id not in asked:  # one question a row is enough
                    yield from row.at.try_rule(
                        torque_rules.TORQUE_MEDIAN,
                        "unit",
                        f"{said} on {row.text('thread')}",
                        torque=torque,
                        median=median,
                    )


def _listed(numbers: Iterable[object]) -> str:
    return "; ".join(str(number) for number in numbers)


def _patterns(draft: Draft) -> Iterator[Finding]:
    """Hold the patterns of a joint against its fasteners; several rows of one joint may share them out."""
    variants = numbered_variants(draft)
    patterned: dict[str, list[TypedRow]] = defaultdict(list)
    for row in draft.of("torques"):
        if row.several("pattern") and row.text("joint") in variants:
            patterned[row.text("joint")].append(row)
    for joint, rows in patterned.items():
        together = [number for row in rows for number in row.several("pattern")]
        for row in rows:
            pattern = row.several("pattern")
            holds = (
                torque_rules.PATTERN.holds(pattern=pattern, together=together, numbers=numbers)
                for numbers in variants[joint]
            )
            if not any(holds):
                numbers = _listed(sorted(variants[joint][0])) or "its fasteners, which have no numbers yet"
                yield row.at.breaks(torque_rules.PATTERN, "pattern", _listed(pattern), f"each once of {numbers}")


def check_torques(draft: Draft) -> Iterator[Finding]:
    """Find torques that contradict themselves, their joint or their thread.

    Args:
        draft: The book as it was written.

    Yields:
        A finding each.
    """
    for row in draft.of("torques"):
        yield from _orders(row)
        yield from _stages(row)
        yield from _words(row)
    yield from _threads(draft)
    yield from _patterns(draft)
