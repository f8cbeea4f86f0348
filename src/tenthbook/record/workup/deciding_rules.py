"""The rules that force a disposition, or put a part under suspicion, each with its source and its two cases."""

from __future__ import annotations

from tenthbook.numbers.because import Register, Rule
from tenthbook.numbers.limit import Grade

RULES = Register()
_OWN = "rule of this book"
_TRADE = "common practice, no source"
GONE = ("replace", "mandatory replace", "scrap")
MENDED = ("repair", "rework to size")
SERVICEABLE = ("in new limits", "in service limits")
_GOOD = (Grade.NEW, Grade.SERVICE)


def _serves(word: str, own: tuple[Grade, ...], answered: bool) -> bool:
    if word not in SERVICEABLE:
        return True
    if word == "in new limits":
        return all(grade is Grade.NEW for grade in own)
    return all(grade in _GOOD or (grade is Grade.NO_LIMIT and answered) for grade in own)


WORST_VERDICT = RULES.add(
    Rule(
        id="decide.worst-verdict",
        says="A part stays in service only where each of its own sizes lies within; a size without a limit waits "
        "for the answer of the data holder.",
        source=_OWN,
        holds=_serves,
        passes={"word": "in service limits", "own": (Grade.NEW, Grade.SERVICE), "answered": False},
        fails={"word": "in service limits", "own": (Grade.SERVICE, Grade.REJECT), "answered": False},
        todo="repair, rework, replace or scrap it; hold it while somebody is asked, and name the answer as procedure",
    )
)
FIT_SETTLED = RULES.add(
    Rule(
        id="decide.fit-settled",
        says="Where a fit is beyond, undecided or without a limit, one of its parts is replaced or mended before "
        "the other stays in service.",
        source=_OWN,
        holds=lambda word, open_fits: word not in SERVICEABLE or not open_fits,
        passes={"word": "in service limits", "open_fits": ()},
        fails={"word": "in service limits", "open_fits": ("fit.end-clearance",)},
        todo="decide first what becomes of the other part of the fit",
    )
)
MEASURED = RULES.add(
    Rule(
        id="decide.measured",
        says="A part goes back in limits only where each feature that the book limits was measured.",
        source=_OWN,
        holds=lambda word, unmeasured: word not in SERVICEABLE or not unmeasured,
        passes={"word": "hold", "unmeasured": ("size.bore",)},
        fails={"word": "in service limits", "unmeasured": ("size.bore",)},
        todo="measure it, or say that it was not disturbed or looked at in place",
    )
)
NEW_STANDARD = RULES.add(
    Rule(
        id="decide.new-standard",
        says="Where the scope says to new limits, a part in service limits does not meet it.",
        source=_OWN,
        holds=lambda word, standard: standard != "to new limits" or word != "in service limits",
        passes={"word": "in new limits", "standard": "to new limits"},
        fails={"word": "in service limits", "standard": "to new limits"},
        todo="replace or rework it, or agree another scope with the owner",
    )
)
MANDATORY = RULES.add(
    Rule(
        id="decide.mandatory",
        says="A part on the mandatory list is replaced whatever it measures, once its condition holds.",
        source=_TRADE,
        holds=lambda word, conditions: not conditions or word in GONE,
        passes={"word": "mandatory replace", "conditions": ("overhaul",)},
        fails={"word": "in service limits", "conditions": ("overhaul",)},
        todo="record it as mandatory replace",
    )
)
SINGLE_USE = RULES.add(
    Rule(
        id="decide.single-use",
        says="A part for a single use is never fitted twice.",
        source=_TRADE,
        holds=lambda word, single_use: not single_use or word in GONE,
        passes={"word": "mandatory replace", "single_use": True},
        fails={"word": "in service limits", "single_use": True},
        todo="record it as mandatory replace",
    )
)
SET = RULES.add(
    Rule(
        id="decide.set",
        says="Of parts that are sold only as a set, all are replaced where one is.",
        source="common practice, no source: pump gears and their drive shaft come as a set",
        holds=lambda word, condemned_by: not condemned_by or word in GONE,
        passes={"word": "replace", "condemned_by": ("P-0212-6",)},
        fails={"word": "in service limits", "condemned_by": ("P-0212-6",)},
        todo="record it as replace, with the set",
    )
)
LIFE = RULES.add(
    Rule(
        id="decide.life-limit",
        says="A part with a life limit is replaced at it, and where the running time is not known it is asked for.",
        source="14 CFR 91.417(a)(2)(ii), in general words (read)",
        holds=lambda word, is_over: not is_over or word in GONE,
        passes={"word": "in service limits", "is_over": False},
        fails={"word": "in service limits", "is_over": True},
        todo="record it as mandatory replace, and keep it from being used again",
    )
)
INDICATION = RULES.add(
    Rule(
        id="decide.indication",
        says="A part with an indication of a crack is held, repaired by a procedure, replaced or scrapped.",
        source=_TRADE,
        holds=lambda word, indications: not indications or word not in (*SERVICEABLE, "rework to size"),
        passes={"word": "hold", "indications": (12,)},
        fails={"word": "in service limits", "indications": (12,)},
        todo="hold it, or scrap it so that nobody can use it again",
    )
)
WORN_PAIR = RULES.add(
    Rule(
        id="suspect.worn-pair",
        says="What ran with a part that is beyond a limit, and its other features, are under suspicion until measured.",
        source="common practice, no source: wear of a shaft shows where its gear drives it, and in its bush",
        holds=lambda measured: measured,
        passes={"measured": True},
        fails={"measured": False},
        todo="measure it, or look at it and say what is there",
    )
)
THEN_ALSO = RULES.add(
    Rule(
        id="suspect.then-also",
        says="Where a part is replaced, the parts that the book names with it are replaced or looked at.",
        source=_OWN,
        holds=lambda looked_at: looked_at,
        passes={"looked_at": True},
        fails={"looked_at": False},
        todo="look at it, measure it, or decide what becomes of it",
    )
)
LIFE_NOT_KNOWN = RULES.add(
    Rule(
        id="suspect.life-not-known",
        says="A life limit is held against a running time that somebody read.",
        source=_OWN,
        holds=lambda known: known,
        passes={"known": True},
        fails={"known": False},
        todo="state the times of the engine",
    )
)
HAZARD = RULES.add(
    Rule(
        id="caution.scrapping",
        says="A part with a hazard in it is not cut, drilled, ground, heated or melted to spoil it.",
        source="common practice, no source; local rules for waste decide",
        holds=lambda word, hazards: word != "scrap" or not hazards,
        passes={"word": "scrap", "hazards": ()},
        fails={"word": "scrap", "hazards": ("sodium",)},
        todo="mark it and give it to whoever disposes of such things; never open it",
    )
)
