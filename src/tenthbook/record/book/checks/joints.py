"""Do the positions of a joint belong together, and is there a torque for what is tightened?

It measures no distance between positions. Rows for different variants of the engine are held apart: those marked for
one variant count with those for all.

Goes in: a draft. Comes out: findings, by the rules of `link_rules`.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from tenthbook.record.book.checks import link_rules
from tenthbook.record.book.drafting import Draft
from tenthbook.record.book.findings import Finding
from tenthbook.record.book.rows import TypedRow


def by_joint(draft: Draft) -> dict[str, list[TypedRow]]:
    """Gather the positions of each joint.

    Args:
        draft: The book.

    Returns:
        Rows of the joints by the joint's name, in the book's order.
    """
    joints: dict[str, list[TypedRow]] = defaultdict(list)
    for row in draft.of("joints"):
        if row.text("joint"):
            joints[row.text("joint")].append(row)
    return joints


def _fasteners(rows: list[TypedRow]) -> list[TypedRow]:
    return [row for row in rows if row.text("role") == "fastener"]


def _variants(rows: list[TypedRow]) -> list[list[TypedRow]]:
    """Share rows out over the variants they are for; a row without one is for all."""
    marks = dict.fromkeys(row.text("effectivity") for row in rows)
    marked = [mark for mark in marks if mark] or [""]
    return [[row for row in rows if row.text("effectivity") in ("", mark)] for mark in marked]


def _numbers(rows: list[TypedRow]) -> list[int]:
    return [row.values["number"] for row in rows if "number" in row.values]


def numbered_variants(draft: Draft) -> dict[str, list[list[int]]]:
    """Give the numbers of the fasteners of each joint.

    Args:
        draft: The book.

    Returns:
        By joint, for each variant of the engine, the numbers in the book's order [-]; joints without a fastener are
        left out.
    """
    joints = ((joint, _fasteners(rows)) for joint, rows in by_joint(draft).items())
    return {joint: [_numbers(rows) for rows in _variants(fasteners)] for joint, fasteners in joints if fasteners}


def _check_numbers(joint: str, fasteners: list[TypedRow]) -> Iterator[Finding]:
    """A joint whose fasteners the manual does not number at all is left as it is."""
    for rows in _variants(fasteners):
        numbers = _numbers(rows)
        if numbers:
            bare = len(rows) - len(numbers)
            found = ", ".join(str(number) for number in sorted(numbers))
            if not link_rules.JOINT_NUMBERS.holds(numbers=numbers, bare=bare):
                without = f" and {bare} without a number" if bare else ""
                expected = f"1 to {len(rows)}, each once"
                yield rows[0].at.breaks(
                    link_rules.JOINT_NUMBERS, "number", f"in joint {joint} {found}{without}", expected
                )
                return


def _check_view(joint: str, rows: list[TypedRow]) -> Iterator[Finding]:
    first = rows[0]
    for row in rows:
        views, units = (first.text("view"), row.text("view")), (first.text("unit"), row.text("unit"))
        if not link_rules.JOINT_VIEW.holds(views=views, units=units):
            found = f"in joint {joint} {views[1]} and {units[1]}"
            yield row.at.breaks(link_rules.JOINT_VIEW, "view", found, f"{views[0]} and {units[0]} as in {first.place}")
            return


def check_joints(draft: Draft) -> Iterator[Finding]:
    """Find joints whose positions do not belong together, and joints and steps without a torque.

    Args:
        draft: The book.

    Yields:
        A finding each.
    """
    tightened = {row.text("joint") for row in draft.of("torques")}
    for joint, rows in by_joint(draft).items():
        yield from _check_view(joint, rows)
        fasteners = _fasteners(rows)
        if fasteners:
            yield from _check_numbers(joint, fasteners)
            yield from fasteners[0].at.try_rule(
                link_rules.JOINT_TORQUE,
                "joint",
                f"no row of torques for {joint}",
                joint=joint,
                tightened=tightened,
            )
    for row in draft.of("steps"):
        if row.text("joint"):
            yield from row.at.try_rule(
                link_rules.STEP_TORQUE,
                "joint",
                f"no row of torques for {row.text('joint')}",
                joint=row.text("joint"),
                tightened=tightened,
            )
