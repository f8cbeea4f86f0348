"""The rules for what the tables owe each other: names, circles, covers, joints, views, rows nobody names.

A book grows by the job, so a name that leads nowhere yet is missing and not wrong, and so is a row that nothing names
yet. What contradicts itself is wrong.
"""

from __future__ import annotations

from tenthbook.numbers.because import Register, TenthbookError
from tenthbook.numbers.quantity import quantity
from tenthbook.record.book.checks.graphs import walk
from tenthbook.record.book.findings import CheckRule, Weight

RULES = Register()
SPANS = ("", "diameter", "bore", "depth", "width", "length", "height", "thickness")
_OWN = "rule of this book"
_COUNTED = ("number", "teeth", "quantity")
_READ_AGAIN = "look at the page again"


def _rule(rule: CheckRule) -> CheckRule:
    RULES.add(rule)
    return rule


def _is_a_figure(figure: str, value: str) -> bool:
    """Whether a text is a number with its unit, or a whole number where something is counted."""
    if value.isascii() and value.isdigit():
        return any(word in figure for word in _COUNTED)
    try:
        quantity(value)
    except TenthbookError:
        return False
    return True


# --- names -----------------------------------------------------------------------------------------------------------

LEADS_NOWHERE = _rule(
    CheckRule(
        id="book.id-leads-nowhere",
        says="What a row names is a row of this book.",
        source=_OWN,
        weight=Weight.MISSING,
        holds=lambda name, names: name in names,
        passes={"name": "cover.pump", "names": ("cover.pump",)},
        fails={"name": "cover.pmup", "names": ("cover.pump",)},
        todo="mend the id, or type the row it names when the job comes to it",
    )
)
ITSELF = _rule(
    CheckRule(
        id="book.itself",
        says="A row does not name itself.",
        source=_OWN,
        holds=lambda row, names: row not in names,
        passes={"row": "part.gear", "names": ("part.shaft",)},
        fails={"row": "part.gear", "names": ("part.shaft", "part.gear")},
        todo="take its own id out, or put in the one that was meant",
    )
)
MATES = _rule(
    CheckRule(
        id="book.mates-both-ways",
        says="Where one part may run with another, the other may run with it, and both rows say so.",
        source=_OWN,
        weight=Weight.ASKS,
        holds=lambda row, others: row in others,
        passes={"row": "part.ring", "others": ("part.ring",)},
        fails={"row": "part.ring", "others": ()},
        todo="add it to the mates of the other part, or take it out here",
    )
)
OPPOSITES = _rule(
    CheckRule(
        id="book.opposites",
        says="Where one direction is the opposite of another, the other names it back.",
        source=_OWN,
        weight=Weight.ASKS,
        holds=lambda row, back: back == row,
        passes={"row": "front", "back": "front"},
        fails={"row": "front", "back": "left"},
        todo="look at both rows: front and rear name each other",
    )
)
SET_MEMBERS = _rule(
    CheckRule(
        id="book.set-members",
        says="A set has more than one thing in it.",
        source=_OWN,
        weight=Weight.ASKS,
        holds=lambda pieces: pieces > 1,
        passes={"pieces": 3},
        fails={"pieces": 1},
        todo="look which other parts are only sold in this set",
    )
)
OVER = _rule(
    CheckRule(
        id="book.over-kind",
        says="A rate per diameter or per length counts on a row that measures one, in a unit of length.",
        source='"0.0005 per inch of diameter": TM 10-3930-647-14&P and others (read)',
        holds=lambda kind, measure: kind == "length" and measure in SPANS,
        passes={"kind": "length", "measure": "bore"},
        fails={"kind": "force", "measure": "spring load"},
        todo="name the size row the manual counts on",
    )
)
CIRCLE = _rule(
    CheckRule(
        id="book.circle",
        says="Nothing waits for itself by way of others: no step, cover, set or limit.",
        source=_OWN,
        holds=lambda names: not walk(names).circles,
        passes={"names": {"fit": ("clean",), "clean": ()}},
        fails={"names": {"fit": ("clean",), "clean": ("fit",)}},
        todo="one of these names is not meant: look which",
    )
)
ORPHAN = _rule(
    CheckRule(
        id="book.orphan",
        says="Each row is used by another row, or says itself why it is in the book.",
        source=_OWN,
        weight=Weight.MISSING,
        holds=lambda used: used,
        passes={"used": True},
        fails={"used": False},
        todo="type the row that uses it when the job comes to it",
    )
)

# --- covers ----------------------------------------------------------------------------------------------------------

COVER_OPENED = _rule(
    CheckRule(
        id="book.cover-opened",
        says="A cover that something lies behind is opened by a step.",
        source=_OWN,
        weight=Weight.MISSING,
        holds=lambda cover, opened: cover in opened,
        passes={"cover": "cover.pump", "opened": ("cover.pump",)},
        fails={"cover": "cover.pump", "opened": ()},
        todo="name it under opens in the step that takes it off, or type that step",
    )
)
COVER_CLOSED = _rule(
    CheckRule(
        id="book.cover-closed",
        says="A cover that is opened is closed by a later step, and none is closed that was not opened before.",
        source=_OWN,
        weight=Weight.ASKS,
        holds=lambda answered_by: bool(answered_by),
        passes={"answered_by": ("close",)},
        fails={"answered_by": ()},
        todo="name the cover in the step that is meant, or put that step in its place with after",
    )
)
COVER_ORDER = _rule(
    CheckRule(
        id="book.cover-order",
        says="A cover behind another is opened only after that other.",
        source=_OWN,
        weight=Weight.ASKS,
        holds=lambda opened_before: bool(opened_before),
        passes={"opened_before": ("open-outer",)},
        fails={"opened_before": ()},
        todo="name the step that opens the outer cover under after, or mend behind",
    )
)

# --- joints ----------------------------------------------------------------------------------------------------------

JOINT_TORQUE = _rule(
    CheckRule(
        id="book.joint-torque",
        says="A joint with fasteners has a row of torques.",
        source=_OWN,
        weight=Weight.MISSING,
        holds=lambda joint, tightened: joint in tightened,
        passes={"joint": "pump cover", "tightened": ("pump cover",)},
        fails={"joint": "pump cover", "tightened": ()},
        todo="type the torque from the manual's page before the joint is tightened",
    )
)
STEP_TORQUE = _rule(
    CheckRule(
        id="book.step-torque",
        says="A joint that a step tightens has a row of torques.",
        source=_OWN,
        weight=Weight.MISSING,
        holds=lambda joint, tightened: joint in tightened,
        passes={"joint": "pump cover", "tightened": ("pump cover",)},
        fails={"joint": "pump cover", "tightened": ()},
        todo="type the torque from the manual's page before the joint is tightened",
    )
)
JOINT_NUMBERS = _rule(
    CheckRule(
        id="book.joint-numbers",
        says="The fasteners of a joint are numbered from 1 without a gap, each number once.",
        source=_OWN,
        holds=lambda numbers, bare: not bare and sorted(numbers) == list(range(1, len(numbers) + 1)),
        passes={"numbers": (1, 3, 2, 4), "bare": 0},
        fails={"numbers": (1, 3, 3, 4), "bare": 0},
        todo="look at the figure and number every fastener of the joint",
    )
)
JOINT_VIEW = _rule(
    CheckRule(
        id="book.joint-view",
        says="All positions of a joint are given in one view and one unit.",
        source=_OWN,
        holds=lambda views, units: len(set(views)) == 1 and len(set(units)) == 1,
        passes={"views": ("view.rear", "view.rear"), "units": ("in", "in")},
        fails={"views": ("view.rear", "view.rear"), "units": ("in", "mm")},
        todo=_READ_AGAIN,
    )
)
VIEW_AXES = _rule(
    CheckRule(
        id="book.view-axes",
        says="A view names the direction one looks in and the direction that is up; they differ and are not opposite.",
        source=_OWN,
        holds=lambda looking, up, opposite: bool(looking) and bool(up) and looking != up and not opposite,
        passes={"looking": "front", "up": "up", "opposite": False},
        fails={"looking": "front", "up": "rear", "opposite": True},
        todo="fill both from the picture; every drawing of a joint is made by them",
    )
)

# --- oil, run, follow-up ---------------------------------------------------------------------------------------------

OIL_FIGURE = _rule(
    CheckRule(
        id="book.oil-figure",
        says="A row of the oil system has a number with its unit, or words.",
        source=_OWN,
        holds=lambda figure, value, words: _is_a_figure(figure, value) if value else bool(words),
        passes={"figure": "diameter", "value": "0.3125 in", "words": ""},
        fails={"figure": "diameter", "value": "0.3125", "words": ""},
        todo="write it such as 0.3125 in; what is no number stands under words",
    )
)
OIL_NODE = _rule(
    CheckRule(
        id="book.oil-node",
        says="A place in the circuit is fed by one row and left by another, but for the sump and the end at a gauge.",
        source=_OWN,
        weight=Weight.ASKS,
        holds=lambda node, fed, left: node in fed and node in left,
        passes={"node": "gallery", "fed": ("gallery",), "left": ("gallery",)},
        fails={"node": "galery", "fed": ("galery",), "left": ("gallery",)},
        todo="look for a name written in two ways; oil that leaves the circuit goes to the sump",
    )
)
RUN_LEAST_FIRST = _rule(
    CheckRule(
        id="book.run-least-first",
        says="A least of the run is not above its greatest.",
        source=_OWN,
        holds=lambda least, greatest: least <= greatest,
        passes={"least": 20, "greatest": 60},
        fails={"least": 60, "greatest": 20},
        todo=_READ_AGAIN,
    )
)
FOLLOW_UP_DUE = _rule(
    CheckRule(
        id="book.follow-up-due",
        says="A follow-up says after how many hours or days it is due.",
        source=_OWN,
        holds=lambda hours, days: bool(hours) or bool(days),
        passes={"hours": "10 h", "days": ""},
        fails={"hours": "", "days": ""},
        todo="read the hours or days from the page",
    )
)
