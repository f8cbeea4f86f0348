"""The rules for an act about what stands already: corrections, withdrawals, dispositions, hand-over, signatures.

Each with its source and its two cases, in the register of `rules`.
"""

from __future__ import annotations

from tenthbook.numbers.because import Rule
from tenthbook.record.job.rules import RULES

_OWN = "rule of this book"
_SECOND = (
    "a second look is taken by another person than did the work: 14 CFR 145 and AMC 145.A.48 practice, from memory"
)

SEEN_KNOWN = RULES.add(
    Rule(
        id="entry.seen-known",
        says="An act names the head of this job that its person saw.",
        source=_OWN,
        holds=lambda seen, known: known or not seen,
        passes={"seen": "ab", "known": True},
        fails={"seen": "ab", "known": False},
        todo="open the job again and look at it as it is; the page belongs to another copy of it",
    )
)
SEEN_ALL = RULES.add(
    Rule(
        id="entry.seen-what-it-rests-on",
        says="Whoever judges, corrects or signs has seen what others changed of it meanwhile.",
        source=_OWN,
        holds=lambda unseen: not unseen,
        passes={"unseen": ()},
        fails={"unseen": (14,)},
        todo="open the job again, look at what changed, and decide anew",
    )
)
CORRECTABLE_FIELD = RULES.add(
    Rule(
        id="corrected.field",
        says="What can be corrected is a field of an act that stands, and it differs from what counts now.",
        source=_OWN,
        holds=lambda strange, same: not strange and not same,
        passes={"strange": (), "same": False},
        fails={"strange": ("person",), "same": False},
        todo="name the wrong field and how it should be; for another fact, withdraw the act and record the right one",
    )
)
STANDS = RULES.add(
    Rule(
        id="withdrawn.stands",
        says="Only an act that still counts, and that can be taken back, is corrected or withdrawn.",
        source=_OWN,
        holds=lambda entry, standing: entry in standing,
        passes={"entry": 4, "standing": (3, 4)},
        fails={"entry": 5, "standing": (3, 4)},
    )
)
NOTHING_RESTS = RULES.add(
    Rule(
        id="withdrawn.nothing-rests",
        says="A part, a gauge or a row is withdrawn while nothing rests on it: no reading, no disposition, no row.",
        source=_OWN,
        holds=lambda rests: not rests,
        passes={"rests": ()},
        fails={"rests": ("entry 9",)},
        todo="withdraw what rests on it first",
    )
)
IN_DOUBT = RULES.add(
    Rule(
        id="verified.in-doubt",
        says="Only what is in doubt is looked at again; a signature in doubt is superseded by a new one.",
        source=_OWN,
        holds=lambda entry, doubted: entry in doubted,
        passes={"entry": 12, "doubted": (12,)},
        fails={"entry": 12, "doubted": ()},
    )
)
PROCEDURE = RULES.add(
    Rule(
        id="disposed.procedure",
        says="A repair or a rework names its procedure.",
        source="14 CFR 43.13(a): methods of the maker's manual or others acceptable (from memory)",
        holds=lambda word, procedure: word not in ("repair", "rework to size") or bool(procedure.strip()),
        passes={"word": "repair", "procedure": "manual 5-12"},
        fails={"word": "repair", "procedure": ""},
        todo="name the page of the manual, or the approved data",
    )
)
RESTS_ON_STANDING = RULES.add(
    Rule(
        id="disposed.rests-on-standing",
        says="A disposition rests on acts that count.",
        source=_OWN,
        holds=lambda gone: not gone,
        passes={"gone": ()},
        fails={"gone": (9,)},
        todo="open the part again and look at what counts now",
    )
)
TO_ANOTHER = RULES.add(
    Rule(
        id="handed.to-another",
        says="Work is handed over to another person, and received by the one it was handed to.",
        source="hand-over with receipt: AMC 145.A.48 practice (from memory)",
        holds=lambda giver, receiver, named: giver != receiver and receiver == named,
        passes={"giver": "mechanic", "receiver": "inspector", "named": "inspector"},
        fails={"giver": "mechanic", "receiver": "mechanic", "named": "mechanic"},
        todo="name the person who takes it over; alone, put the work down instead",
    )
)
OPEN_HAND_OVER = RULES.add(
    Rule(
        id="handed.open",
        says="What is received or taken up is what was handed over or put down last, once.",
        source=_OWN,
        holds=lambda entry, laid_down, word, wanted: entry == laid_down and word == wanted,
        passes={"entry": 30, "laid_down": 30, "word": "handed over", "wanted": "handed over"},
        fails={"entry": 12, "laid_down": 30, "word": "handed over", "wanted": "handed over"},
    )
)
AT_HEAD = RULES.add(
    Rule(
        id="signed.at-head",
        says="A signature rests on the job as it stands: none is made on an older page, and none offline.",
        source=_OWN,
        holds=lambda rests_on, seen, head: rests_on == head and seen == head,
        passes={"rests_on": "ab", "seen": "ab", "head": "ab"},
        fails={"rests_on": "ab", "seen": "ab", "head": "cd"},
        todo="review the statement again",
    )
)
BINDS_STANDING = RULES.add(
    Rule(
        id="signed.binds-what-stands",
        says="A signature binds acts that stand, by their hashes: none withdrawn, in doubt, or asked about.",
        source=_OWN,
        holds=lambda wrong: not wrong,
        passes={"wrong": ()},
        fails={"wrong": (7,)},
        todo="review the statement again without them, or settle them first",
    )
)
OWN_WORK = RULES.add(
    Rule(
        id="signed.own-work",
        says="As own work a person signs what that person recorded.",
        source=_OWN,
        holds=lambda as_what, signer, workers: as_what != "own work" or set(workers) <= {signer},
        passes={"as_what": "own work", "signer": "mechanic", "workers": ("mechanic",)},
        fails={"as_what": "own work", "signer": "mechanic", "workers": ("mechanic", "inspector")},
        todo="let each sign what is theirs, or sign as second look",
    )
)
SECOND_PERSON = RULES.add(
    Rule(
        id="signed.second-person",
        says="A second look is signed by another person, with another key, than did and signed the work.",
        source=_SECOND,
        holds=lambda as_what, signer, workers, key, keys: (
            as_what != "second look" or (signer not in workers and key not in keys)
        ),
        passes={"as_what": "second look", "signer": "inspector", "workers": ("mechanic",), "key": "b", "keys": ("a",)},
        fails={"as_what": "second look", "signer": "mechanic", "workers": ("mechanic",), "key": "b", "keys": ("a",)},
        todo="let another person look; alone, it is an own second look, later, and not independent",
    )
)
SUPERSEDES_OWN = RULES.add(
    Rule(
        id="signed.supersedes-own",
        says="A signature takes the place of an earlier one of the same person and purpose, once.",
        source=_OWN,
        holds=lambda supersedes, own: supersedes < 0 or supersedes in own,
        passes={"supersedes": 20, "own": (20,)},
        fails={"supersedes": 21, "own": (20,)},
    )
)
SUPERSEDES_WHOLE = RULES.add(
    Rule(
        id="signed.supersedes-whole",
        says="A signature binds all that still counts of the one whose place it takes: no doubt ends by leaving out.",
        source=_OWN,
        holds=lambda left_out: not left_out,
        passes={"left_out": ()},
        fails={"left_out": (7,)},
        todo="review the statement again with them; withdraw what no longer stands first",
    )
)
LOOK_FIRST = RULES.add(
    Rule(
        id="disposed.look-first",
        says="No size makes a part serviceable while a cleaning, look or test that is due on it is open.",
        source="common practice, no source",
        holds=lambda word, open_looks, serviceable: word not in serviceable or not open_looks,
        passes={"word": "scrap", "open_looks": ("inspection.a",), "serviceable": ("in service limits",)},
        fails={"word": "in service limits", "open_looks": ("inspection.a",), "serviceable": ("in service limits",)},
        todo="close them first, or put the part on hold",
    )
)
