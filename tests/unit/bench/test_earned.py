"""What a job holds as evidence for the word of its release."""

from __future__ import annotations

from tenthbook.faces.story import StoryClock
from tenthbook.record.bench import Bench
from tenthbook.record.bench.earned import evidence_of
from tenthbook.record.ledger import MemoryStore
from tenthbook.record.release import judge_word, word_offered
from tests.builders import Workplace
from tests.told import played, script


def test_the_demonstration_has_earned_no_more_than_what_was_done() -> None:
    """Taken apart, cleaned, inspected, parts replaced; neither together again nor run: not overhauled."""
    clock = StoryClock()
    bench = Bench(MemoryStore(clock))
    told = script()
    played(told, bench, clock)
    state, _, work = bench.look(told.job)
    evidence = evidence_of(state, work)
    assert (evidence.standard, evidence.reassembled, evidence.tested) == ("service limits", (), ())
    assert all((evidence.disassembled, evidence.cleaned, evidence.inspected, evidence.repaired))
    assert {one.rule for one in judge_word("overhauled", evidence).refusals} == {"word.six-verbs"}
    assert word_offered(evidence).word == "repaired"


def test_what_was_withdrawn_is_no_evidence() -> None:
    """A reading or a look taken back shows nothing."""
    place = Workplace().open()
    tag = place.remove("part.shaft")
    looked = place.record("inspected", {"tag": tag, "result": "nothing found", "says": "by eye"})
    read = place.read(tag, "size.shaft", "0.5110 in")
    assert evidence_of(place.state, place.work_up()).inspected == (looked.number, read.number)
    for entry in (looked, read):
        place.record("withdrawn", {"entry": entry.number, "reason": "the wrong shaft"})
    assert evidence_of(place.state, place.work_up()).inspected == ()
