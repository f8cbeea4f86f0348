"""What every record names beside what its authority asks: the engine, the data, and the work pack behind it.

A short entry is enough where it names the pack without doubt; sizes and readings stay in the pack. Sources: AMC
M.A.801 (read); AC 43-9C (read at second hand).
"""

from __future__ import annotations

import re

from tenthbook.numbers.because import Rule
from tenthbook.record.release.forms import asked, never, when
from tenthbook.record.release.rules import OWN, RULES

HEAD_SIGNS = range(32, 65)  # of the head's 64: the least that is printed, and all of it


def _is_head(text: str) -> bool:
    return len(text) in HEAD_SIGNS and bool(re.fullmatch("[0-9a-f]+", text))


ENGINE = asked(
    id="release.pack-engine",
    says="Engine",
    rule="A record names the engine it is about, by type and serial number.",
    source=OWN,
    read=False,
    example="Dunlin Four, serial 0212",
    todo="name type and serial number",
)
DATA = asked(
    id="release.pack-data",
    says="Data used",
    rule="Overhauled, rebuilt, repaired and modified name the data that was followed, with its revision.",
    source="14 CFR 43.13(a)",
    read=True,
    example="overhaul manual DF-OM, revision 4",
    todo="name the manual and its revision, or the approved data",
    needed=when("word", "overhauled", "rebuilt", "repaired", "modified"),
    given={"word": "repaired"},
)
REASON = asked(
    id="release.pack-reason",
    says="Why the work was done",
    rule="Where a record says why the work was done, it says so in words; it may leave that out.",
    source=OWN,
    read=False,
    example="hot idle oil pressure below the book",
    todo="say why in a few words, or leave it out",
    needed=never,
    wrong="-",
)
JOB = asked(
    id="release.pack-job",
    says="Work pack",
    rule="A record names its work pack, by the id of the job.",
    source="AMC M.A.801",
    read=True,
    example="DF-2026-01",
    todo="give the id of the job",
)
HEAD = asked(
    id="release.pack-head",
    says="Head of its ledger",
    rule="A record names the head of the job's ledger, by at least its first 32 signs, so that no other pack can pass.",
    source="rule of this book, for what AMC M.A.801 (read) asks: no doubt which pack",
    read=False,
    example="0123456789abcdef" * 4,
    todo="give the head as the job shows it",
    right=_is_head,
    wrong="0123456789abcdef",
)
NOT_RULED_OUT = RULES.add(
    Rule(
        id="release.pack-not-ruled-out",
        says="Nothing stands in a record that another of its answers rules out.",
        source=OWN,
        holds=lambda value, needed: not value or needed,
        passes={"value": "Form 337", "needed": True},
        fails={"value": "Form 337", "needed": False},
        todo="take it out, or put the other answer right",
    )
)
