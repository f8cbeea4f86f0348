"""Are the figures of oil, run and follow-up whole, and can a drawing be made of each view?

Goes in: a draft. Comes out: findings, by the rules of `link_rules`.
"""

from __future__ import annotations

from collections.abc import Iterator

from tenthbook.record.book.checks import link_rules
from tenthbook.record.book.drafting import Draft
from tenthbook.record.book.findings import Finding
from tenthbook.record.book.rows import TypedRow


def _views(draft: Draft) -> Iterator[Finding]:
    orientation = draft.rows["orientation"]

    def opposite(one: str, other: str) -> bool:
        return one in orientation and orientation[one].text("opposite") == other != ""

    for row in orientation.values():
        if row.text("what") == "view":
            looking, up = row.text("looking"), row.text("up")
            yield from row.at.try_rule(
                link_rules.VIEW_AXES,
                "looking" if not looking or up else "up",
                f"looking {looking or 'not given'}, up {up or 'not given'}",
                looking=looking,
                up=up,
                opposite=opposite(looking, up) or opposite(up, looking),
            )


def _ends(rows: list[TypedRow]) -> set[str]:
    """Places where the circuit may end: the sump by any of its names, and a gauge, through which nothing flows."""
    sumps = [row for row in rows if row.text("element") == "sump"]
    named = {row.text(column) for row in sumps for column in ("name", "from_node", "to_node")}
    nodes = {row.text(column) for row in rows for column in ("from_node", "to_node")}
    gauges = {row.text("to_node") for row in rows if row.text("element") == "gauge"}
    return named | gauges | {node for node in nodes if "sump" in node.lower()} | {""}


def _circuit(draft: Draft) -> Iterator[Finding]:
    """Find places of the circuit that nothing feeds or nothing leaves, each once, where it is first named."""
    rows = list(draft.of("oil_system"))
    fed, left = ({row.text(column) for row in rows} for column in ("to_node", "from_node"))
    seen = _ends(rows)
    for row in rows:
        for column in ("from_node", "to_node"):
            node = row.text(column)
            if node not in seen:
                seen.add(node)
                found = f"{node}, which {'nothing leaves' if node in fed else 'nothing feeds'}"
                yield from row.at.try_rule(link_rules.OIL_NODE, column, found, node=node, fed=fed, left=left)


def check_running(draft: Draft) -> Iterator[Finding]:
    """Find figures that are not whole and views no drawing can be made in.

    Args:
        draft: The book.

    Yields:
        A finding each.
    """
    yield from _views(draft)
    for row in draft.of("oil_system"):
        yield from row.at.try_rule(
            link_rules.OIL_FIGURE,
            "value",
            repr(row.text("value")) if row.text("value") else "neither a value nor words",
            figure=row.text("figure"),
            value=row.text("value"),
            words=row.text("words"),
        )
    yield from _circuit(draft)
    for row in draft.of("run_limits"):
        least, greatest = row.number("least"), row.number("greatest")
        if least is not None and greatest is not None:
            found = f"{least.typed} to {greatest}"
            yield from row.at.try_rule(
                link_rules.RUN_LEAST_FIRST, "least", found, least=least.exact, greatest=greatest.exact
            )
    for row in draft.of("follow_ups"):
        hours, days = row.text("after_hours"), row.text("after_days")
        yield from row.at.try_rule(link_rules.FOLLOW_UP_DUE, "after_hours", "neither", hours=hours, days=days)
