"""Which word may be written of this work?"""

from __future__ import annotations

import dataclasses

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.record.release import Evidence, judge_word, limits_said, word_offered, words_of
from tenthbook.record.release.word import refuse_claims
from tests.filled_in import ALL_SIX, INSPECTED, REPAIRED

ENTRIES = st.lists(st.integers(0, 99), max_size=2).map(tuple)
LISTS = (
    "disassembled",
    "cleaned",
    "inspected",
    "repaired",
    "reassembled",
    "tested",
    "no_repair_needed",
    "modified",
    "standards_current",
)
LIMITS = ("new limits", "service limits", "mixed")
EVIDENCE = st.builds(
    Evidence,
    **dict.fromkeys(LISTS, ENTRIES),
    standard=st.sampled_from(("", *LIMITS)),
    mandatory_open=st.sampled_from(((), ("seal",), ("seal", "pin"))),
    parts_new_limits=st.booleans(),
    by_maker=st.booleans(),
)
WORDS = ("overhauled", "rebuilt", "repaired", "modified", "inspected", "tested", "zero time")


def together(one: Evidence, more: Evidence) -> Evidence:
    """Give the evidence of both: more entries, fewer lines open, the limits as they were first said."""
    lists = {name: getattr(one, name) + getattr(more, name) for name in LISTS}
    return Evidence(
        **lists,
        standard=one.standard or more.standard,
        mandatory_open=tuple(line for line in one.mandatory_open if line in more.mandatory_open),
        parts_new_limits=one.parts_new_limits or more.parts_new_limits,
        by_maker=one.by_maker or more.by_maker,
    )


@given(one=EVIDENCE, more=EVIDENCE)
def test_evidence_never_takes_a_word_away(one: Evidence, more: Evidence) -> None:
    """A word once earned stays earned by more entries, a closed line, parts shown to be new, and limits named."""
    both = together(one, more)
    assert [word for word in WORDS if judge_word(word, one).allowed and not judge_word(word, both).allowed] == []


@given(one=EVIDENCE, word=st.sampled_from(WORDS))
def test_an_open_line_takes_only_the_strong_words_away(one: Evidence, word: str) -> None:
    """What is stated as the exception: a line of the mandatory list takes overhauled, rebuilt and zero time away."""
    opened = dataclasses.replace(one, mandatory_open=("pin",))
    strong = word in ("overhauled", "rebuilt", "zero time")
    assert judge_word(word, opened).allowed is (judge_word(word, one).allowed and not strong)


@given(one=EVIDENCE)
def test_other_limits_take_only_rebuilt_away(one: Evidence) -> None:
    """The other exception: service limits in the place of new ones take rebuilt and zero time away, no other word."""
    new, service = (dataclasses.replace(one, standard=limits) for limits in ("new limits", "service limits"))
    lost = [word for word in WORDS if judge_word(word, new).allowed and not judge_word(word, service).allowed]
    assert set(lost) <= {"rebuilt", "zero time"}


@given(one=EVIDENCE)
def test_what_is_offered_is_earned_or_says_why_not(one: Evidence) -> None:
    """The offered word is among the earned ones; where none is, its refusals name rules and a way on."""
    offered = word_offered(one)
    assert offered.allowed is any(judged.allowed for judged in words_of(one).values())
    assert all(refusal.rule and refusal.todo for refusal in offered.refusals)


@given(one=EVIDENCE, word=st.sampled_from(WORDS))
def test_a_word_rests_on_entries_of_the_evidence(one: Evidence, word: str) -> None:
    """The entries behind a word are those handed in, ascending, each once."""
    entries = judge_word(word, one).because.entries
    handed_in = {number for name in LISTS for number in getattr(one, name)}
    assert list(entries) == sorted(set(entries))
    assert set(entries) <= handed_in
    assert entries or not judge_word(word, one).allowed


def test_nothing_needed_repair() -> None:
    """Repaired as necessary is kept where it is settled that nothing needed it; the word repaired is not earned."""
    evidence = dataclasses.replace(ALL_SIX, repaired=(), no_repair_needed=(29,))
    assert judge_word("overhauled", evidence).allowed
    assert not judge_word("repaired", evidence).allowed


def test_inspected_is_offered_where_nothing_was_repaired() -> None:
    """An inspection alone is inspected; with a repair or a modification that word is offered."""
    modified = dataclasses.replace(INSPECTED, modified=(12,))
    assert [word_offered(one).word for one in (INSPECTED, REPAIRED, modified)] == ["inspected", "repaired", "modified"]


def test_every_rule_in_the_way_is_named_at_once() -> None:
    """Without any evidence zero time breaks each rule of an overhaul, of rebuilding and of its maker."""
    found = [one.rule for one in judge_word("zero time", Evidence(mandatory_open=("seal",))).refusals]
    assert found == [
        "word.six-verbs",
        "word.standards-current",
        "word.mandatory-closed",
        "word.new-limits",
        "word.parts-new",
        "word.by-maker",
        "word.limits-said",
    ]


@pytest.mark.parametrize("word", ["reconditioned", "major overhauled", "as new", "", "remanufactured"])
def test_an_unknown_word_is_refused(word: str) -> None:
    """Only the words of the record may be written."""
    assert [one.rule for one in judge_word(word, ALL_SIX).refusals] == ["word.known"]


@pytest.mark.parametrize("typed", ["OVERHAULED", " overhauled ", "Overhauled"])
def test_capitals_and_blanks_make_no_other_word(typed: str) -> None:
    """A word is known however it is typed."""
    assert judge_word(typed, ALL_SIX).allowed


@pytest.mark.parametrize(
    ("standard", "said"),
    [
        ("new limits", "new limits"),
        ("service limits", "service limits"),
        ("mixed", "new and service limits, by item as in the work pack"),
        ("", ""),
        ("good limits", ""),
    ],
)
def test_the_limits_are_said(standard: str, said: str) -> None:
    """New, service, or both by item; anything else is not said."""
    assert limits_said(Evidence(standard=standard)) == said


@pytest.mark.parametrize(
    ("text", "claims"),
    [
        ("Engine overhauled.", 1),
        ("Carried out a major overhaul of the engine", 1),
        ("Top overhaul done, then zero-timed", 2),
        ("Rebuilt; overhauled and REBUILT", 2),
        ("Repaired after the overhaul manual, revision 4", 0),
        ("310 h since overhaul", 0),
        ("Clearances to the overhaul limits", 0),
        ("Oil pump gears replaced", 0),
    ],
)
def test_what_is_typed_freely_claims_no_word_that_is_not_earned(text: str, claims: int) -> None:
    """A claim in the description is judged as in the line of the word; a title or a time since claims nothing."""
    refused = refuse_claims(text, REPAIRED)
    assert [one.rule for one in refused] == ["word.only-earned"] * claims


def test_an_earned_word_may_be_typed() -> None:
    """Overhauled may stand in the description where it is earned; a top overhaul never."""
    assert refuse_claims("Engine overhauled.", ALL_SIX) == ()
    assert len(refuse_claims("Top overhaul.", ALL_SIX)) == 1
