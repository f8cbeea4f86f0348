"""Which rows does nothing use yet?

A book grows by the job, so these are missing uses, not faults. A part that says itself why it is in the book is left
alone: single use, mandatory, with a life, behind a cover, sold in a set, with mates or parts that follow it.

Goes in: a draft. Comes out: findings, by the rules of `link_rules`.
"""

from __future__ import annotations

from collections.abc import Iterator

from tenthbook.record.book.checks import link_rules
from tenthbook.record.book.checks.joints import by_joint
from tenthbook.record.book.checks.naming import Named
from tenthbook.record.book.drafting import Draft
from tenthbook.record.book.findings import Finding

# What may use the rows of a table: table and column.
_USERS: dict[str, tuple[tuple[str, str], ...]] = {
    "inspections": (("sizes", "after"), ("fits", "after"), ("steps", "inspections")),
    "consumables": (("torques", "lubricant"), ("steps", "uses")),
    "orientation": (("joints", "view"),),
    "joints": (("torques", "joint"), ("steps", "joint")),
    "access": (("parts", "behind"), ("access", "behind"), ("steps", "opens"), ("steps", "closes")),
    "parts": (
        ("sizes", "part"),
        ("inspections", "part"),
        ("joints", "part"),
        ("steps", "parts"),
        ("access", "part"),
        ("access", "disturbs"),
        ("parts", "sold_in"),
        ("parts", "then_also"),
        ("parts", "mates"),
        ("follow_ups", "parts"),
    ),
}
# Columns of a part that say why it is in the book.
_REASONS = ("single_use", "mandatory_when", "life_limit", "behind", "sold_in", "then_also", "mates")
_SAYS = {
    "inspections": "no size and no step names it",
    "consumables": "no torque and no step uses it",
    "orientation": "no joint is drawn in it",
    "access": "nothing lies behind it and no step opens it",
    "parts": "nothing measures, inspects, tightens, handles or sells it",
}


def _used(named: Named, table: str) -> set[str]:
    return {name for user in _USERS[table] for name in named.get(user, ())}


def _bare_joints(draft: Draft, named: Named) -> Iterator[Finding]:
    """Find joints without a fastener that nothing names; those with one are asked for their torque."""
    used, disturbed = _used(named, "joints"), named.get(("access", "disturbs"), set())
    for joint, rows in by_joint(draft).items():
        if not any(row.text("role") == "fastener" or row.id in disturbed for row in rows):
            found = f"{joint}: no torque and no step names it"
            yield from rows[0].at.try_rule(link_rules.ORPHAN, "joint", found, used=joint in used)


def check_unused(draft: Draft, named: Named) -> Iterator[Finding]:
    """Find rows that nothing uses.

    Args:
        draft: The book.
        named: What each column of it names.

    Yields:
        A finding each.
    """
    for table, says in _SAYS.items():
        used = _used(named, table)
        for row in draft.of(table):
            speaks = table == "parts" and any(row.text(reason) for reason in _REASONS)
            if table == "orientation" and row.text("what") != "view":
                continue
            yield from row.at.try_rule(link_rules.ORPHAN, "id", f"{row.id}: {says}", used=row.id in used or speaks)
    yield from _bare_joints(draft, named)
