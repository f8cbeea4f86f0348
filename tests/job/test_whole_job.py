"""A whole small job, from opening to the archive, on invented data."""

from __future__ import annotations

import json

import pytest

from tenthbook.numbers.because import Refused
from tenthbook.numbers.limit import Grade
from tenthbook.record.job import fold
from tenthbook.record.ledger import examine
from tenthbook.record.ledger.verifier import MATCHES
from tenthbook.record.workup import headline, work_up
from tests.builders import STREAM, Workplace, entries_of, members_of, small_book


def refused(place: Workplace, tag: str, row: str, value: str) -> list[str]:
    """The rules that refuse a reading."""
    with pytest.raises(Refused) as caught:
        place.read(tag, row, value)
    return [refusal.rule for refusal in caught.value.refusals]


def play() -> Workplace:
    """Shaft and housing come off and are read; a missed turn is asked about, a misreading withdrawn."""
    place = Workplace().open()
    shaft, housing = place.remove("part.shaft"), place.remove("part.housing")
    place.read(shaft, "size.shaft", "0.4844 in")
    place.answer(4, "read again")
    place.read(shaft, "size.shaft", "0.5094 in")
    place.read(shaft, "size.shaft", "12.93876 mm")
    place.read(housing, "size.bore", "0.5130 in")
    place.read(housing, "size.bore", "0.5131 in")
    place.read(housing, "size.bore", "0.5139 in")
    place.record("withdrawn", {"entry": 10, "reason": "gauge held askew"})
    place.record("noted", {"text": "shaft polished by the seal"})
    return place


def test_what_a_job_cannot_take_is_refused_by_rule_and_not_written() -> None:
    """A wrong tag, a wrong part, a comma and a number without its point leave the job where it was."""
    place = play()
    before = place.store.entries(STREAM)
    assert refused(place, "P-0003-0", "size.shaft", "0.5094 in") == ["reading.part-on-bench"]
    assert "reading.own-feature" in refused(place, "P-0002-1", "size.shaft", "0.5094 in")
    assert refused(place, "P-0001-3", "size.shaft", "0,5094 in") == ["reading.kind"]
    assert refused(place, "P-0001-3", "size.shaft", "5094 in") == ["reading.point-or-sign"]
    assert place.store.entries(STREAM) == before


def test_the_mean_of_readings_in_both_units_counts() -> None:
    """0.5094 in and 12.93876 mm, which is 0.5094 in, are one size; what was asked about does not count."""
    size = play().work_up().size("P-0001-3", "size.shaft")
    assert size is not None
    assert (size.text, headline(size.verdict), size.because.entries) == ("0.50940", "BEYOND, below by 0.0004", (6, 7))


def test_no_limit_is_settled_by_the_fit() -> None:
    """The bore outside new limits has no service limit; the fit decides about it, and what was withdrawn does not."""
    work = play().work_up()
    bore = work.size("P-0002-1", "size.bore")
    assert bore is not None
    assert (bore.text, bore.verdict.grade) == ("0.51305", Grade.NO_LIMIT)
    (fit,) = work.fits
    assert (fit.text, headline(fit.verdict)) == ("0.00365", "IN SERVICE LIMITS, margin 0.00005")
    assert [(part.part.part, part.grade) for part in work.parts] == [
        ("part.shaft", Grade.REJECT),
        ("part.housing", Grade.SERVICE),
    ]


def test_the_worst_verdict_rules() -> None:
    """The fit passes, the shaft fails its own limit: the shaft is beyond, and that is to be decided first."""
    work = play().work_up()
    assert work.fits[0].verdict.grade is Grade.SERVICE
    assert work.parts[0].grade is Grade.REJECT
    assert (work.undone[0].place, work.undone[0].because.rule) == ("P-0001-3 pump shaft", "limit.worst")


def test_every_verdict_names_entries_that_exist() -> None:
    """Walking from a verdict to its readings always arrives."""
    place = play()
    work, readings = place.work_up(), place.bench.state(STREAM).readings
    reasons = (
        [one.because for one in work.sizes] + [one.because for one in work.fits] + [one.because for one in work.parts]
    )
    assert len(reasons) == 5
    for because in reasons:
        assert because.entries
        assert set(because.entries) <= set(readings)


def play_with_gauges() -> Workplace:
    """The bore is undecided with one gauge and decided with the next; the shaft is read with a third."""
    place = Workplace().open()
    shaft, housing = place.remove("part.shaft"), place.remove("part.housing")
    place.set_gauge("T1", "0.0004 in", "bore")
    place.set_gauge("B2", "0.00004 in", "bore")
    place.set_gauge("M1", "0.00005 in")
    place.read(shaft, "size.shaft", "0.5104 in", "M1")
    place.read(housing, "size.bore", "0.5128 in", "T1")
    return place


def test_what_one_gauge_leaves_undecided_another_decides() -> None:
    """The first bore reading is undecided and names the other gauge; read with that one, only its reading counts."""
    place = play_with_gauges()
    first = place.work_up().size("P-0002-1", "size.bore")
    assert first is not None
    assert headline(first.verdict) == "UNDECIDED, margin 0.0002"
    assert "bore gauge B2 would decide (0.00004 in at k = 2)" in first.because.arithmetic[-1]
    place.read("P-0002-1", "size.bore", "0.5129 in", "B2")
    second = place.work_up().size("P-0002-1", "size.bore")
    assert second is not None
    assert (second.text, headline(second.verdict)) == ("0.5129", "IN NEW LIMITS, margin 0.0001")
    assert second.because.entries == (5, 9), "the gauge as it was set, and the reading taken with it"


def test_verdicts_with_doubt_name_their_gauges_as_entries() -> None:
    """Walking from a verdict to its readings and gauges always arrives, in the archive too."""
    place = play_with_gauges()
    state = fold(entries_of(place.archive()))
    known = {*state.readings, *(gauge.entry for gauge in state.gauges.values())}
    work = work_up(small_book(), state)
    assert work == place.work_up()
    reasons = [one.because for one in work.sizes] + [one.because for one in work.fits]
    for because in reasons + [one.because for one in work.parts]:
        assert set(because.entries) <= known
        assert set(because.entries) & {4, 6}, "one of the gauges it was read with"


def test_the_archive_proves_itself_and_holds_the_whole_job() -> None:
    """Book and entries come back from the file, and give the same verdicts."""
    place = play()
    archive, head = place.archive(), place.bench.state(STREAM).head
    found = examine(archive, head)
    assert (found.answer, found.entries) == (MATCHES, 13)
    state = fold(entries_of(archive))
    assert state == place.bench.state(STREAM)
    assert work_up(small_book(), state) == place.work_up()
    kept = [name for name in members_of(archive) if name.startswith("kept/")]
    assert kept == [f"kept/{state.book}"]
    assert json.loads(members_of(archive)[kept[0]])["head"]["type"] == "Test engine"


def test_played_twice_it_is_the_same_job() -> None:
    """The same acts, people and times make the same bytes."""
    assert play().archive() == play().archive()
