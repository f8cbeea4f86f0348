"""What waits for what: orders and circles as an independent library of graphs finds them."""

from __future__ import annotations

import random

import networkx as nx
from hypothesis import given, settings
from hypothesis import strategies as st

from tenthbook.record.book.checks.graphs import Before, walk
from tenthbook.record.book.checks.links import check_links
from tenthbook.record.book.tables_of_assembly import PHASES
from tests.unit.book.checks.sound import changed

Waits = dict[int, list[int]]
NAMES = range(8)
any_graph = st.dictionaries(
    st.sampled_from(NAMES), st.lists(st.sampled_from(NAMES), max_size=4, unique=True), max_size=len(NAMES)
)
# Each name waits only for smaller ones, so there is no circle.
acyclic = st.tuples(
    *(st.lists(st.integers(0, name - 1), max_size=3, unique=True) if name else st.just([]) for name in NAMES)
).map(lambda lists: dict(enumerate(lists)))


def graph_of(waits: Waits) -> nx.DiGraph:
    """The same as a graph of the library; a name's own and unknown names left out."""
    graph = nx.DiGraph()
    graph.add_nodes_from(waits)
    graph.add_edges_from(
        (name, other) for name, others in waits.items() for other in others if other in waits and other != name
    )
    return graph


@given(any_graph)
def test_there_are_circles_exactly_where_the_library_finds_one(waits: Waits) -> None:
    """Each circle found is one of the graph, each is found once, and without the steps that close them none is left."""
    graph = graph_of(waits)
    circles = walk(waits).circles
    assert bool(circles) is not nx.is_directed_acyclic_graph(graph)
    assert len(set(circles)) == len(circles)
    for circle in circles:
        assert len(set(circle)) == len(circle) > 1
        assert all(graph.has_edge(one, other) for one, other in zip(circle, (*circle[1:], circle[0]), strict=True))
    graph.remove_edges_from((circle[-1], circle[0]) for circle in circles)
    assert nx.is_directed_acyclic_graph(graph)


@given(any_graph)
def test_each_name_stands_once_in_the_order(waits: Waits) -> None:
    """A circle stops nothing: every name is in the order."""
    assert sorted(walk(waits).order) == sorted(waits)


@given(acyclic)
def test_what_comes_before_is_what_the_library_reaches(waits: Waits) -> None:
    """One name comes before another where the other waits for it, by itself or by way of others."""
    before = Before(waits, walk(waits).order, {})
    graph = graph_of(waits)
    for name in waits:
        assert {other for other in waits if before.is_before(other, name)} == nx.descendants(graph, name)


@given(acyclic, st.lists(st.integers(0, 2), min_size=len(NAMES), max_size=len(NAMES)))
def test_a_lower_rank_comes_before(waits: Waits, ranks: list[int]) -> None:
    """Names of a lower rank come before those of a higher one, whatever they wait for."""
    before = Before(waits, walk(waits).order, dict(enumerate(ranks)))
    assert all(before.is_before(one, two) for one in waits for two in waits if ranks[one] < ranks[two])


@given(acyclic, st.randoms(use_true_random=False))
@settings(deadline=None)
def test_covers_opened_in_their_order_are_never_asked_about(behind: Waits, lines: random.Random) -> None:
    """Covers behind covers, each opened after the one before it and closed again, bring nothing up."""
    outer = {cover: others[0] for cover, others in behind.items() if others}
    order = list(behind)
    lines.shuffle(order)
    access = {f"c{cover}": {"name": "c", "behind": f"c{outer[cover]}" if cover in outer else ""} for cover in order}
    opens = {
        f"o{cover}": {
            "phase": "teardown",
            "says": "off",
            "opens": f"c{cover}",
            "after": f"o{outer[cover]}" if cover in outer else "",
        }
        for cover in order
    }
    closes = {f"s{cover}": {"phase": "reassembly", "says": "on", "closes": f"c{cover}"} for cover in order}
    assert [str(finding) for finding in check_links(changed({"access": access, "steps": opens | closes}))] == []


@given(acyclic)
@settings(deadline=None)
def test_a_step_order_without_a_circle_is_never_asked_about(waits: Waits) -> None:
    """Steps that wait for each other without a circle bring nothing up."""
    steps = {
        f"s{name}": {"phase": "clean", "says": "s", "after": "; ".join(f"s{other}" for other in others)}
        for name, others in waits.items()
    }
    assert [str(finding) for finding in check_links(changed({"steps": steps}))] == []


@given(any_graph)
@settings(deadline=None)
def test_a_step_order_with_circles_is_always_found_out(waits: Waits) -> None:
    """As many findings of circles as the walk finds, and the other checks go on."""
    known = {name: [other for other in others if other in waits and other != name] for name, others in waits.items()}
    steps = {
        f"s{name}": {"phase": PHASES[0], "says": "s", "after": "; ".join(f"s{other}" for other in others)}
        for name, others in known.items()
    }
    rules = [finding.rule for finding in check_links(changed({"steps": steps}))]
    assert rules == ["book.circle"] * len(walk(known).circles)


def test_a_long_chain_needs_no_deep_stack() -> None:
    """Ten thousand names, each waiting for the next, are walked like ten."""
    waits = {name: [name + 1] for name in range(10_000)}
    assert walk(waits).order[0] == 9_999
