"""Is this a major repair: yes, no, or a question to be answered first?

It asks; it decides only where the answers leave no doubt. What nobody answered makes the answer "ask", and an entry is
not ready while it stands so. In: the answers. Out: yes, no or ask, with the working and the questions that are open.
It does not judge alterations.

Sources: 14 CFR 43, Appendix A (b)(2) (read); FAA Order 8900.1, volume 4, chapter 14, section 12 (read in part: the
list was cut). Checked in: tests/published/test_14_cfr_43.py
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from tenthbook.numbers.because import Because, Rule
from tenthbook.record.release.rules import RULES

YesNo = Literal["yes", "no", ""]
Gearing = Literal["none", "spur", "other", ""]
LISTED = (
    "welding of a crankcase",
    "machining after a weld repair",
    "grinding of a crankshaft",
    "recontouring of a camshaft",
)


def _split_is_minor(case_split: str, supercharger: str, gearing: str) -> bool:
    return case_split != "yes" or (supercharger != "yes" and gearing != "other")


CASE_SPLIT = RULES.add(
    Rule(
        id="major.case-split",
        says="Splitting a crankcase or taking a crankshaft down is a major repair where the engine has an integral "
        "supercharger, or propeller reduction gearing of another than the spur type.",
        source="14 CFR 43, Appendix A (b)(2)(i) and (ii), read",
        holds=_split_is_minor,
        passes={"case_split": "yes", "supercharger": "no", "gearing": "none"},
        fails={"case_split": "yes", "supercharger": "no", "gearing": "other"},
        todo="record it as a major repair: Form 337, or a repair station's work order",
    )
)
SPECIAL_REPAIR = RULES.add(
    Rule(
        id="major.special-repair",
        says="A special repair of a structural engine part by welding, plating, metalizing or the like is major.",
        source="14 CFR 43, Appendix A (b)(2)(iii), read",
        holds=lambda structural: structural != "yes",
        passes={"structural": "no"},
        fails={"structural": "yes"},
        todo="record it as a major repair: Form 337, or a repair station's work order",
    )
)
LISTED_WORK = RULES.add(
    Rule(
        id="major.listed",
        says="Welding a crankcase, machining that a weld made necessary, grinding a crankshaft and recontouring a "
        "camshaft are listed as major.",
        source="FAA Order 8900.1, volume 4, chapter 14, section 12, read in part",
        holds=lambda operations: not set(operations) & set(LISTED),
        passes={"operations": ("honing of a cylinder",)},
        fails={"operations": ("grinding of a crankshaft",)},
        todo="record it as a major repair: Form 337, or a repair station's work order",
    )
)
ANSWERED = RULES.add(
    Rule(
        id="major.answered",
        says="Whether a repair is major is answered before an entry is signed.",
        source="rule of this book",
        holds=lambda answer: answer in ("yes", "no"),
        passes={"answer": "no"},
        fails={"answer": "ask"},
        todo="answer the questions that are open, or ask an inspector",
    )
)


@dataclass(frozen=True, slots=True)
class RepairAsked:
    """What was answered about a repair; an empty answer is none.

    Attributes:
        case_split: Whether the crankcase was split or the crankshaft taken down: yes or no.
        supercharger: Whether the engine has an integral supercharger: yes or no.
        gearing: Reduction gearing of the propeller: none, spur, other.
        structural: Whether a structural engine part was repaired by a special method: yes or no.
        methods: The special methods used on any part, such as welding, plating, metalizing.
        operations: Machining and the like, by the names of the order's list where they stand there.
        settled: Those of the operations that an inspector looked up and found not to be major.
    """

    case_split: YesNo = ""
    supercharger: YesNo = ""
    gearing: Gearing = ""
    structural: YesNo = ""
    methods: tuple[str, ...] = ()
    operations: tuple[str, ...] = ()
    settled: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class MajorAnswer:
    """Whether a repair is major.

    Attributes:
        answer: yes, no or ask.
        asks: The questions that are open; empty unless the answer is ask.
        because: The rule that decided, and the answers it used.
    """

    answer: Literal["yes", "no", "ask"]
    asks: tuple[str, ...]
    because: Because


def _open_on_split(asked: RepairAsked) -> Iterator[str]:
    plain_engine = asked.supercharger == "no" and asked.gearing in ("none", "spur")
    if asked.case_split == "no" or plain_engine:
        return
    if not asked.case_split:
        yield "Was the crankcase split, or the crankshaft taken down?"
    if not asked.supercharger and asked.gearing != "other":
        yield "Has the engine an integral supercharger?"
    if not asked.gearing and asked.supercharger != "yes":
        yield "Which reduction gearing has the propeller: none, spur, other?"


def _open_questions(asked: RepairAsked) -> Iterator[str]:
    yield from _open_on_split(asked)
    if not asked.structural:
        method = ", ".join(asked.methods) or "welding, plating, metalizing or the like"
        yield f"Was a structural engine part repaired by {method}?"
    for operation in asked.operations:
        if operation not in (*LISTED, *asked.settled):
            yield f"Is {operation} listed as major in FAA Order 8900.1, volume 4, chapter 14, section 12?"


def _working(asked: RepairAsked) -> tuple[str, ...]:
    told = {
        "crankcase split or crankshaft taken down": asked.case_split,
        "integral supercharger": asked.supercharger,
        "reduction gearing": asked.gearing,
        "structural part by a special method": asked.structural,
        "methods": ", ".join(asked.methods),
        "operations": ", ".join(asked.operations),
    }
    return tuple(f"{name}: {said or 'not answered'}" for name, said in told.items() if said or name[-1] != "s")


def major_repair(asked: RepairAsked) -> MajorAnswer:
    """Say whether a repair is major, as far as the answers reach.

    Args:
        asked: The answers.

    Returns:
        Yes where a rule makes it major, whatever else is open; ask where an answer is wanting; no otherwise.

    Valid for: reciprocating engines. The order's list is known in part, so that an operation not known from it is
        asked about.
    Source: 14 CFR 43, Appendix A (b)(2), read. Checked in: tests/published/test_14_cfr_43.py
    """
    minor = {
        CASE_SPLIT.id: CASE_SPLIT.holds(
            case_split=asked.case_split, supercharger=asked.supercharger, gearing=asked.gearing
        ),
        SPECIAL_REPAIR.id: SPECIAL_REPAIR.holds(structural=asked.structural),
        LISTED_WORK.id: LISTED_WORK.holds(operations=asked.operations),
    }
    working, asks = _working(asked), tuple(_open_questions(asked))
    made_major = [rule for rule, holds in minor.items() if not holds]
    if made_major:
        return MajorAnswer("yes", (), Because(made_major[0], arithmetic=working))
    if asks:
        return MajorAnswer("ask", asks, Because(ANSWERED.id, arithmetic=working))
    return MajorAnswer("no", (), Because(CASE_SPLIT.id, arithmetic=working))
