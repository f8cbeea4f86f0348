"""Names that lead nowhere, circles, covers out of turn and rows nobody uses are found, and their neighbours are not."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from tenthbook.record.book.checks.links import RULES, check_links
from tenthbook.record.book.findings import Weight
from tests.unit.book.checks.sound import SOUND, Rows, changed, torque


@dataclass(frozen=True)
class Case:
    """A change that breaks a rule, beside one that does not.

    Attributes:
        rule: Id of the rule, without "book.".
        where: Id and column of the finding.
        breaks: The change that breaks it.
        keeps: A change next to it, with which there is nothing to ask.
        found: Words that stand in the finding.
    """

    rule: str
    where: tuple[str, str]
    breaks: Rows
    keeps: Rows
    found: str = ""

    def __str__(self) -> str:
        return f"{self.rule}-{self.where[0]}"


FASTENER = {"joint": "lid", "role": "fastener", "unit": "in", "x": "0", "y": "0", "view": "view.rear"}
ANCHOR = {**FASTENER, "role": "anchor"}
GAUGE = {
    "element": "gauge",
    "name": "panel",
    "figure": "range",
    "words": "x",
    "from_node": "gallery",
    "to_node": "panel",
}
PART = {"name": "bracket", "where_used": "case", "quantity": "1"}
CASES = [
    Case(
        "id-leads-nowhere",
        ("part.shaft", "then_also"),
        {"parts": {"part.shaft": {"then_also": "part.gear; part.gaer"}}},
        {"parts": {"part.shaft": {"then_also": "part.gear; part.cover"}}},
        "an id of parts, perhaps part.gear",
    ),
    Case(
        "id-leads-nowhere",
        ("size.gear", "of_row"),
        {"sizes": {"size.gear": {"of_row": "size.nothing-like-it"}}},
        {"sizes": {"size.gear": {"of_row": "size.depth"}}},
        "an id of sizes or fits;",
    ),
    Case(
        "id-leads-nowhere",
        ("fit", "joint"),
        {"steps": {"fit": {"joint": "pump nut"}}, "torques": {"t": torque(joint="pump nut", thread="")}},
        {"steps": {"fit": {"joint": "pump nuts"}}, "torques": {"t": torque(thread="")}},
        "a joint of joints, perhaps pump nuts",
    ),
    Case(
        "itself",
        ("part.shaft", "then_also"),
        {"parts": {"part.shaft": {"then_also": "part.gear; part.shaft"}}},
        {"parts": {"part.shaft": {"then_also": "part.cover"}}},
    ),
    Case(
        "itself",
        ("fit", "after"),
        {"steps": {"fit": {"after": "fit"}}},
        {"steps": {"fit": {"after": "look"}}},
    ),
    Case(
        "mates-both-ways",
        ("part.gear", "mates"),
        {"parts": {"part.gear": {"mates": "part.housing-mate; part.cover"}}},
        {"parts": {"part.gear": {"mates": "part.housing-mate; part.cover"}, "part.cover": {"mates": "part.gear"}}},
        "part.cover, which does not name part.gear",
    ),
    Case(
        "opposites",
        ("left", "opposite"),
        {"orientation": {"left": {"opposite": "rear"}, "right": {"opposite": ""}}},
        {"orientation": {"left": {"opposite": ""}, "right": {"opposite": ""}}},
        "rear, whose opposite is front",
    ),
    Case(
        "set-members",
        ("set.pump", "id"),
        {"parts": {"part.shaft": {"sold_in": "", "behind": "cover.pump"}}},
        {"parts": {"part.shaft": {"sold_in": "", "behind": "cover.pump"}, "part.gear": {"quantity": "2"}}},
        "a set of a single part",
    ),
    Case(
        "over-kind",
        ("size.taper", "over"),
        {"sizes": {"size.depth": {"unit": "lbf", "measure": "spring load"}}},
        {"sizes": {"size.depth": {"unit": "mm", "measure": ""}}},
        "size.depth, spring load in lbf",
    ),
    Case(
        "over-kind",
        ("size.taper", "over"),
        {"sizes": {"size.depth": {"measure": "backlash"}}},
        {"sizes": {"size.depth": {"measure": "length"}}},
    ),
    Case(
        "circle",
        ("look", "after"),
        {"steps": {"look": {"after": "pump-on"}, "fit": {"after": "look"}}},
        {"steps": {"look": {"after": "pump-off"}, "fit": {"after": "look"}}},
        "look waits for pump-on waits for fit waits for look",
    ),
    Case(
        "circle",
        ("cover.cowl", "part"),
        {"access": {"cover.cowl": {"part": "part.housing"}}},
        {"access": {"cover.cowl": {"part": "part.gasket"}}},
        "cover.cowl waits for part.housing waits for cover.pump waits for cover.cowl",
    ),
    Case(
        "circle",
        ("part.gear", "sold_in"),
        {"parts": {"set.pump": {"sold_in": "part.gear"}, "part.shaft": {"sold_in": "part.gear"}}},
        {"parts": {"set.pump": {"sold_in": ""}}},
    ),
    Case(
        "circle",
        ("size.bore", "of_row"),
        {"sizes": {"size.bore": {"kind": "multiple", "times": "2", "new_max": "", "of_row": "size.gear"}}},
        {"sizes": {"size.bore": {"kind": "multiple", "times": "2", "new_max": "", "of_row": "size.depth"}}},
    ),
    Case(
        "circle",
        ("size.taper", "over"),
        {"sizes": {"size.depth": {"over": "size.taper"}}},
        {"sizes": {"size.depth": {"over": "size.bore"}}},
    ),
    Case(
        "cover-opened",
        ("cover.lid", "id"),
        {"access": {"cover.lid": {"name": "lid"}}, "parts": {"part.cover": {"behind": "cover.lid"}}},
        {
            "access": {"cover.lid": {"name": "lid"}},
            "parts": {"part.cover": {"behind": "cover.lid"}},
            "steps": {"look": {"opens": "cover.lid", "closes": "cover.lid"}},
        },
    ),
    Case(
        "cover-closed",
        ("pump-off", "opens"),
        {"steps": {"pump-on": {"closes": "", "parts": "part.cover"}}},
        {"steps": {"pump-on": {"closes": ""}, "cowl-on": {"closes": "cover.pump; cover.cowl"}}},
        "cover.pump, closed by no step",
    ),
    Case(
        "cover-closed",
        ("pump-off", "opens"),
        {"steps": {"pump-on": {"phase": "teardown", "after": ""}}},
        {"steps": {"pump-on": {"phase": "teardown", "after": "pump-off"}}},
        "cover.pump, closed by pump-on, not after it",
    ),
    Case(
        "cover-closed",
        ("fit", "closes"),
        {"access": {"cover.lid": {"name": "lid"}}, "steps": {"fit": {"closes": "cover.lid"}}},
        {"access": {"cover.lid": {"name": "lid"}}, "steps": {"fit": {"opens": "cover.lid", "closes": "cover.lid"}}},
        "cover.lid, opened by no step",
    ),
    Case(
        "cover-order",
        ("pump-off", "opens"),
        {"steps": {"pump-off": {"after": ""}}},
        {"steps": {"pump-off": {"after": "", "phase": "inspect"}}},
        "cover.pump, behind cover.cowl, which cowl-off opens, not before it",
    ),
    Case(
        "joint-torque",
        ("lid.1", "joint"),
        {"joints": {"lid.1": FASTENER}},
        {"joints": {"lid.1": FASTENER}, "torques": {"torque.lid": torque(joint="lid")}},
    ),
    Case(
        "step-torque",
        ("look", "joint"),
        {"joints": {"lid.1": ANCHOR}, "steps": {"look": {"joint": "lid"}}},
        {"joints": {"lid.1": ANCHOR}, "steps": {"look": {"joint": "lid"}}, "torques": {"t": torque(joint="lid")}},
    ),
    Case(
        "joint-numbers",
        ("nut.1", "number"),
        {"joints": {"nut.4": {"number": "3"}}},
        {"joints": {"nut.3": {"number": "4"}, "nut.4": {"number": "3"}}},
        "in joint pump nuts 1, 2, 3, 3; expected 1 to 4, each once",
    ),
    Case(
        "joint-numbers",
        ("nut.1", "number"),
        {"joints": {"nut.4": {"number": ""}}},
        {"joints": {f"nut.{number}": {"number": ""} for number in range(1, 5)}},
        "and 1 without a number",
    ),
    Case(
        "joint-numbers",
        ("nut.1", "number"),
        {"joints": {"nut.5": {**FASTENER, "joint": "pump nuts", "number": "4"}, "nut.4": {"effectivity": ""}}},
        {
            "joints": {
                "nut.5": {**FASTENER, "joint": "pump nuts", "number": "4", "effectivity": "model B"},
                "nut.4": {"effectivity": "model A"},
            }
        },
    ),
    Case(
        "joint-view",
        ("nut.3", "view"),
        {"joints": {"nut.3": {"unit": "mm"}}},
        {"joints": {f"nut.{number}": {"unit": "mm"} for number in range(1, 5)} | {"post": {"unit": "mm"}}},
        "expected view.rear and in as in joints:1",
    ),
    Case(
        "orphan",
        ("look.gear", "id"),
        {"inspections": {"look.gear": {"part": "part.gear", "what": "look"}}},
        {
            "inspections": {"look.gear": {"part": "part.gear", "what": "look"}},
            "sizes": {"size.gear": {"after": "look.gear"}},
        },
    ),
    Case(
        "orphan",
        ("sealant", "id"),
        {"consumables": {"sealant": {"name": "sealant", "specification": "as printed", "where_used": "flange"}}},
        {
            "consumables": {"sealant": {"name": "sealant", "specification": "as printed", "where_used": "flange"}},
            "steps": {"fit": {"uses": "oil.engine; sealant"}},
        },
    ),
    Case(
        "orphan",
        ("view.left", "id"),
        {"orientation": {"view.left": {"what": "view", "name": "l", "means": "l", "looking": "right", "up": "up"}}},
        {"orientation": {"cylinder.1": {"what": "cylinder", "name": "1", "means": "rear right", "bank": "right"}}},
    ),
    Case(
        "orphan",
        ("lid.1", "joint"),
        {"joints": {"lid.1": ANCHOR}},
        {"joints": {"lid.1": ANCHOR}, "access": {"cover.pump": {"disturbs": "nut.1; lid.1"}}},
        "lid: no torque and no step names it",
    ),
    Case(
        "orphan",
        ("cover.lid", "id"),
        {"access": {"cover.lid": {"name": "lid"}}},
        {"access": {"cover.lid": {"name": "lid"}}, "steps": {"look": {"opens": "cover.lid", "closes": "cover.lid"}}},
    ),
    Case(
        "orphan",
        ("part.bracket", "id"),
        {"parts": {"part.bracket": PART}},
        {"parts": {"part.bracket": PART}, "follow_ups": {"again": {"parts": "part.bracket"}}},
    ),
    Case(
        "view-axes",
        ("view.rear", "looking"),
        {"orientation": {"view.rear": {"looking": "up"}}},
        {"orientation": {"view.rear": {"looking": "left"}}},
        "looking up, up up",
    ),
    Case(
        "view-axes",
        ("view.rear", "looking"),
        {"orientation": {"view.rear": {"looking": "down"}}},
        {"orientation": {"view.rear": {"looking": "right", "up": "down"}}},
    ),
    Case(
        "view-axes",
        ("view.rear", "up"),
        {"orientation": {"view.rear": {"up": ""}}},
        {"orientation": {"view.rear": {"up": "left"}}},
        "up not given",
    ),
    Case(
        "oil-figure",
        ("oil.main", "value"),
        {"oil_system": {"oil.main": {"value": "2.0"}}},
        {"oil_system": {"oil.main": {"value": "50 mm"}}},
        "'2.0'",
    ),
    Case(
        "oil-figure",
        ("oil.grade", "value"),
        {"oil_system": {"oil.grade": {"words": ""}}},
        {"oil_system": {"oil.grade": {"words": "any"}}},
        "neither a value nor words",
    ),
    Case(
        "oil-figure",
        ("oil.pump", "value"),
        {"oil_system": {"oil.pump": {"figure": "outside diameter"}}},
        {"oil_system": {"oil.pump": {"figure": "teeth of each gear"}}},
    ),
    Case(
        "oil-node",
        ("oil.main", "to_node"),
        {"oil_system": {"oil.main": {"to_node": "case"}}},
        {"oil_system": {"oil.main": {"to_node": "Sump, left side"}}},
        "case, which nothing leaves",
    ),
    Case(
        "oil-node",
        ("oil.gauge", "to_node"),
        {"oil_system": {"oil.gauge": {**GAUGE, "element": "passage"}}},
        {"oil_system": {"oil.gauge": GAUGE}},
        "panel, which nothing leaves",
    ),
    Case(
        "oil-node",
        ("oil.main", "from_node"),
        {"oil_system": {"oil.main": {"from_node": "galery"}, "oil.pump": {"to_node": ""}}},
        {"oil_system": {"oil.main": {"from_node": ""}, "oil.pump": {"to_node": ""}}},
        "galery, which nothing feeds",
    ),
    Case(
        "run-least-first",
        ("run.idle", "least"),
        {"run_limits": {"run.idle": {"least": "61"}}},
        {"run_limits": {"run.idle": {"least": "60"}}},
        "61 to 60 psi",
    ),
    Case(
        "follow-up-due",
        ("again", "after_hours"),
        {"follow_ups": {"again": {"after_hours": ""}}},
        {"follow_ups": {"again": {"after_hours": "", "after_days": "30"}}},
    ),
]


def test_there_is_nothing_to_ask_of_a_sound_book() -> None:
    """A book whose tables fit together brings no finding at all."""
    draft = changed({})
    assert [str(finding) for finding in (*draft.findings, *check_links(draft))] == []


@pytest.mark.parametrize("case", CASES, ids=str)
def test_a_rule_bites(case: Case) -> None:
    """The broken rule is named, with the row, the column and what was found."""
    hits = [finding for finding in check_links(changed(case.breaks)) if finding.rule == f"book.{case.rule}"]
    assert case.where in [(finding.row, finding.column) for finding in hits]
    assert any(case.found in str(finding) for finding in hits)


@pytest.mark.parametrize("case", CASES, ids=str)
def test_its_neighbour_passes(case: Case) -> None:
    """With the change next to it there is nothing to ask by any rule of the links."""
    draft = changed(case.keeps)
    assert [str(finding) for finding in check_links(draft)] == []


def test_every_rule_was_broken() -> None:
    """No rule of the links is left without a case that breaks it."""
    assert {f"book.{case.rule}" for case in CASES} == {rule.id for rule in RULES}


def test_one_finding_names_one_circle() -> None:
    """Two circles through one step are two findings, each with all its steps."""
    steps = {"look": {"after": "fit; pump-on"}, "fit": {"after": "look"}, "pump-on": {"after": "look"}}
    found = [finding for finding in check_links(changed({"steps": steps})) if finding.rule == "book.circle"]
    assert [finding.found for finding in found] == [
        "look waits for fit waits for look",
        "look waits for pump-on waits for look",
    ]
    assert {finding.weight for finding in found} == {Weight.WRONG}


def test_what_a_growing_book_lacks_is_missing_and_not_wrong() -> None:
    """Names that lead nowhere yet and rows that nothing uses yet keep no job from pinning the book."""
    draft = changed({"torques": {"torque.pump": {}}, "consumables": {"oil.engine": {}}, "parts": {"part.gear": {}}})
    weights = {finding.rule: finding.weight for finding in check_links(draft) if finding.weight is not Weight.ASKS}
    assert weights == dict.fromkeys(("book.id-leads-nowhere", "book.joint-torque", "book.step-torque"), Weight.MISSING)


def test_a_book_without_steps_is_not_asked_for_them() -> None:
    """As long as no step is typed, no cover is asked for the step that opens it."""
    none: dict[str, dict[str, str]] = {step: {} for step in SOUND["steps"]}
    assert [str(finding) for finding in check_links(changed({"steps": none}))] == []


def test_a_fit_may_count_on_a_size_of_its_own_id() -> None:
    """An id is looked for in the tables of its column in their order: the size comes first."""
    fit = {"name": "f", "hole": "size.bore", "shaft": "size.gear", "kind": "multiple", "unit": "in", "times": "2"}
    draft = changed({"fits": {"size.depth": {**fit, "of_row": "size.depth"}}})
    assert [str(finding) for finding in check_links(draft)] == []
