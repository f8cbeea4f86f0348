"""When may a word stand in the record: the rules of the word gate, each with its two cases.

A rule is a pure predicate on plain facts; `word` supplies the facts and says what was found. Sources: 14 CFR 43.2 and
91.421 (both read), 14 CFR 43.3(j) (from memory).
"""

from __future__ import annotations

from tenthbook.numbers.because import Rule
from tenthbook.record.release.rules import OWN, RULES

VERBS = ("disassembled", "cleaned", "inspected", "repaired as necessary", "reassembled", "tested")
WORDS = ("overhauled", "rebuilt", "repaired", "modified", "inspected", "tested")
ZERO_TIME = "zero time"
TRADE_TALK = ("top overhaul", "bottom overhaul", "top overhauled", "bottom overhauled")
LIMITS = ("new limits", "service limits", "mixed")

KNOWN = RULES.add(
    Rule(
        id="word.known",
        says="The words of the record are overhauled, rebuilt, repaired, modified, inspected, tested and zero time.",
        source=OWN,
        holds=lambda word: word in (*WORDS, ZERO_TIME),
        passes={"word": "repaired"},
        fails={"word": "reconditioned"},
        todo="take the word that is offered",
    )
)
NO_TRADE_TALK = RULES.add(
    Rule(
        id="word.trade-talk",
        says="Top overhaul and bottom overhaul are talk of the trade: in the record such work is a repair.",
        source="a trade article on 14 CFR 43.2, read at second hand",
        holds=lambda word: not any(talk in word for talk in TRADE_TALK),
        passes={"word": "repaired"},
        fails={"word": "top overhauled"},
        todo="write repaired, and what was done to which part",
    )
)
SIX_VERBS = RULES.add(
    Rule(
        id="word.six-verbs",
        says="Overhauled and rebuilt need entries for all six: disassembled, cleaned, inspected, repaired as "
        "necessary, reassembled, tested.",
        source="14 CFR 43.2(a) and (b), read",
        holds=lambda missing: not missing,
        passes={"missing": ()},
        fails={"missing": ("tested",)},
        todo="record what is missing, or take another word",
    )
)
STANDARDS_CURRENT = RULES.add(
    Rule(
        id="word.standards-current",
        says="Overhauled and rebuilt need standards of the holder of the type or part approval, checked to be current.",
        source="14 CFR 43.2(a), read; asked of rebuilt too: rule of this book",
        holds=lambda checked: bool(checked),
        passes={"checked": (2,)},
        fails={"checked": ()},
        todo="record how the manual's revision was checked to be current",
    )
)
MANDATORY_CLOSED = RULES.add(
    Rule(
        id="word.mandatory-closed",
        says="Overhauled and rebuilt need every line of the mandatory list closed.",
        source=OWN,
        holds=lambda still_open: not still_open,
        passes={"still_open": ()},
        fails={"still_open": ("seal of the pump shaft",)},
        todo="close each line, or take another word",
    )
)
NEW_LIMITS = RULES.add(
    Rule(
        id="word.new-limits",
        says="Rebuilt needs the tolerances and limits of a new item, throughout.",
        source="14 CFR 43.2(b), read",
        holds=lambda standard: standard == "new limits",
        passes={"standard": "new limits"},
        fails={"standard": "service limits"},
        todo="write overhauled where that word is earned",
    )
)
NEW_PARTS = RULES.add(
    Rule(
        id="word.parts-new",
        says="Rebuilt needs each part new, or used and inside new limits or an approved oversize or undersize.",
        source="14 CFR 43.2(b), read",
        holds=lambda parts_new_limits: parts_new_limits is True,
        passes={"parts_new_limits": True},
        fails={"parts_new_limits": False},
        todo="write overhauled where that word is earned",
    )
)
BY_MAKER = RULES.add(
    Rule(
        id="word.by-maker",
        says="Zero time is written by the engine's maker, or by an agency that maker approved, and by nobody else.",
        source="14 CFR 91.421, read; rebuilding as the maker's own work: 14 CFR 43.3(j), from memory",
        holds=lambda by_maker: by_maker is True,
        passes={"by_maker": True},
        fails={"by_maker": False},
        todo="keep the engine's time running on in its record",
    )
)
DONE = RULES.add(
    Rule(
        id="word.done",
        says="Repaired, modified, inspected and tested each need an entry that shows it was done.",
        source=OWN,
        holds=lambda entries: bool(entries),
        passes={"entries": (41,)},
        fails={"entries": ()},
        todo="record the work, or take a word that is earned",
    )
)
LIMITS_SAID = RULES.add(
    Rule(
        id="word.limits-said",
        says="The record says which limits were used: new limits, service limits, or mixed and then by item.",
        source="rule of this book; AC 43-11, read in part, exists because one word hides two standards",
        holds=lambda standard: standard in LIMITS,
        passes={"standard": "service limits"},
        fails={"standard": ""},
        todo="say new limits, service limits or mixed",
    )
)
ONLY_EARNED = RULES.add(
    Rule(
        id="word.only-earned",
        says="What is typed freely claims no word that the gate refuses.",
        source=OWN,
        holds=lambda claimed, allowed: set(claimed) <= set(allowed),
        passes={"claimed": ("overhauled",), "allowed": ("overhauled", "repaired")},
        fails={"claimed": ("overhauled",), "allowed": ("repaired",)},
        todo="describe what was done; a component released by others stands under components with its document",
    )
)
