"""The rules of the gates, each with its source and its two cases: what is settled before a cover closes, or a release.

A gate counts only recorded entries.
"""

from __future__ import annotations

from tenthbook.numbers.because import Register, Rule
from tenthbook.record.workup.deciding_rules import GONE, MENDED

RULES = Register()
_OWN = "rule of this book"
_TRADE = "common practice, no source"
COUNTED = ("hardware", "blanks", "wipes")

COVERS_BEHIND = RULES.add(
    Rule(
        id="gate.covers-behind",
        says="Before a cover closes, those behind it are closed.",
        source=_OWN,
        holds=lambda off: not off,
        passes={"off": ()},
        fails={"off": ("access.pump-cover",)},
        todo="settle what is behind the inner cover, then close it first",
    )
)
DECIDED = RULES.add(
    Rule(
        id="gate.decided",
        says="Before a cover closes, something is decided for every piece behind it: a word for each tag, and one for "
        "those that were not removed.",
        source=_OWN,
        holds=lambda pieces: pieces == 0,
        passes={"pieces": 0},
        fails={"pieces": 2},
        todo="record the disposition; not disturbed and looked at in place are dispositions too",
    )
)
HOLD = RULES.add(
    Rule(
        id="gate.hold",
        says="A part on hold waits for an answer, and nothing is closed over it.",
        source=_OWN,
        holds=lambda word: word != "hold",
        passes={"word": "in service limits"},
        fails={"word": "hold"},
        todo="get the answer, then decide anew",
    )
)
DOUBT = RULES.add(
    Rule(
        id="gate.doubt",
        says="A judgement that rested on what was corrected or withdrawn later is looked at again.",
        source=_OWN,
        holds=lambda doubted_by: not doubted_by,
        passes={"doubted_by": ()},
        fails={"doubted_by": (14,)},
        todo="look again and record it as re-verified, or decide anew",
    )
)
PIECE_THERE = RULES.add(
    Rule(
        id="gate.piece-there",
        says="Where a part is replaced, scrapped, repaired or reworked, a sound piece is there before it is covered.",
        source=_OWN,
        holds=lambda word: word not in (*GONE, *MENDED),
        passes={"word": "in new limits"},
        fails={"word": "replace"},
        todo="get the piece, measure it, and decide for it",
    )
)
HERE = RULES.add(
    Rule(
        id="undone.away",
        says="A part that is elsewhere comes back before its place is covered.",
        source=_OWN,
        holds=lambda sent_to: not sent_to,
        passes={"sent_to": ""},
        fails={"sent_to": "a grinder"},
        todo="wait for it, and record it as returned",
    )
)
STILL_HOLDS = RULES.add(
    Rule(
        id="gate.still-holds",
        says="What was decided for a part still agrees with what was measured and seen since.",
        source=_OWN,
        holds=lambda against: not against,
        passes={"against": ()},
        fails={"against": ("decide.worst-verdict",)},
        todo="decide anew",
    )
)
QUESTION = RULES.add(
    Rule(
        id="gate.question",
        says="A question about a reading is answered before anything is closed over the part.",
        source=_OWN,
        holds=lambda questions: questions == 0,
        passes={"questions": 0},
        fails={"questions": 1},
        todo="read it again, or say that it stands",
    )
)
LOOKS = RULES.add(
    Rule(
        id="undone.looks",
        says="The cleanings, looks and tests that the book asks for are done before the part is covered.",
        source=_OWN,
        holds=lambda closed_by: closed_by >= 0,
        passes={"closed_by": 12},
        fails={"closed_by": -1},
        todo="do it, and record it with the book's inspection",
    )
)
COUNTS = RULES.add(
    Rule(
        id="gate.counted",
        says="Hardware, blanks and wipes are counted since the cover came off, and as many came back as went out.",
        source=f"{_TRADE}: nothing is left in an engine that was counted back",
        holds=lambda went_out, came_back: went_out is not None and went_out == came_back,
        passes={"went_out": 12, "came_back": 12},
        fails={"went_out": 4, "came_back": 3},
        todo="count them; where one is missing, find it before anything closes",
    )
)
COVERS_ON = RULES.add(
    Rule(
        id="gate.covers-on",
        says="Before a release every cover is on.",
        source=_OWN,
        holds=lambda off: not off,
        passes={"off": ()},
        fails={"off": ("access.pump-cover",)},
        todo="settle what is behind it, and close it",
    )
)
SCOPE = RULES.add(
    Rule(
        id="undone.scope",
        says="The scope is agreed: how far the work goes, to which limits, by which manual.",
        source=_OWN,
        holds=lambda agreed: agreed,
        passes={"agreed": True},
        fails={"agreed": False},
        todo="agree it with the owner, and record it",
    )
)
EVENTS_ASKED = RULES.add(
    Rule(
        id="undone.events-asked",
        says="Each event that forces a scope is asked about.",
        source=_OWN,
        holds=lambda not_asked: not not_asked,
        passes={"not_asked": ()},
        fails={"not_asked": ("propeller strike",)},
        todo="ask, and record no, yes or not known",
    )
)
EVENTS_COVERED = RULES.add(
    Rule(
        id="gate.events-covered",
        says="The scope holds the inspection after each event that happened or that nobody can rule out.",
        source=f"{_TRADE}: a forced inspection is not closed by a smaller job",
        holds=lambda left: not left,
        passes={"left": ()},
        fails={"left": ("propeller strike",)},
        todo="agree a scope that holds it",
    )
)
TIMES = RULES.add(
    Rule(
        id="undone.times",
        says="The running time of the engine is stated, with where it was read.",
        source=_TRADE,
        holds=lambda stated: stated,
        passes={"stated": True},
        fails={"stated": False},
        todo="read it in the engine's records, and record it",
    )
)
TASK_ASKED = RULES.add(
    Rule(
        id="undone.task-asked",
        says="Whoever works on the engine says whether they have done such work before, and who stands beside them.",
        source="14 CFR 65.81(a), in general words (read)",
        holds=lambda said: said,
        passes={"said": True},
        fails={"said": False},
        todo="record it as task taken on",
    )
)
DOCUMENTS = RULES.add(
    Rule(
        id="undone.documents",
        says="A directive or bulletin that applies, or of which it is not known, is answered.",
        source=_TRADE,
        holds=lambda applies, answered: applies == "no" or answered,
        passes={"applies": "yes", "answered": True},
        fails={"applies": "not known", "answered": False},
        todo="record it as done, not due or deferred, with the method",
    )
)
PRICED = RULES.add(
    Rule(
        id="undone.priced",
        says="Extra work that was priced has the owner's answer.",
        source=_OWN,
        holds=lambda answered: answered,
        passes={"answered": True},
        fails={"answered": False},
        todo="ask the owner, and record the yes or the no",
    )
)
READABLE = RULES.add(
    Rule(
        id="gate.readable",
        says="Nothing is released over an entry that this version cannot read.",
        source=_OWN,
        holds=lambda readable: readable,
        passes={"readable": True},
        fails={"readable": False},
        todo="look at it with a newer version",
    )
)
TAKEN_UP = RULES.add(
    Rule(
        id="gate.taken-up",
        says="Work that was put down or handed over is taken up again before a release.",
        source=_OWN,
        holds=lambda ended: ended >= 0,
        passes={"ended": 20},
        fails={"ended": -1},
        todo="take it up, or receive it",
    )
)
METAL_PART = RULES.add(
    Rule(
        id="gate.metal-part",
        says="Where metal was found, each part that the book names for it is decided on, and looked at where it says.",
        source=_OWN,
        holds=lambda metal, decided: not metal or decided,
        passes={"metal": (7,), "decided": True},
        fails={"metal": (7,), "decided": False},
        todo="clean it, look into it, and decide what becomes of it",
    )
)
METAL_GROUP = RULES.add(
    Rule(
        id="gate.metal-group",
        says="Where metal was found, each place it travels to is cleaned, looked into or decided on; a note is none.",
        source=_TRADE,
        holds=lambda metal, named_by: not metal or bool(named_by),
        passes={"metal": (7,), "named_by": (12,)},
        fails={"metal": (7,), "named_by": ()},
        todo="record the part as cleaned, inspected or disposed of",
    )
)
CLOSED_SETTLED = RULES.add(
    Rule(
        id="cover.settled",
        says="A cover closes over work that is settled, or over an override that somebody signed since it came off.",
        source=_OWN,
        holds=lambda opens, overridden_by: not opens or overridden_by >= 0,
        passes={"opens": (), "overridden_by": -1},
        fails={"opens": ("P-0212-6 drive shaft: on hold",), "overridden_by": -1},
        todo="settle each, or have the gate overridden with reason and signature",
    )
)
