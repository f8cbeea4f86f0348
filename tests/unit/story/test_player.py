"""A script is played line by line, and what is seen is compared with what it says."""

from __future__ import annotations

import pytest

from tenthbook.faces.story import StoryClock, TurnedOutOtherwise
from tenthbook.faces.story.player import look_at, seen
from tenthbook.numbers.because import Refused, TenthbookError
from tenthbook.record.bench import Bench
from tenthbook.record.ledger import MemoryStore
from tenthbook.record.workup import FitVerdict
from tests.told import played, script


def stage() -> tuple[Bench, StoryClock]:
    """A bench in memory that reads the story's clock."""
    clock = StoryClock()
    return Bench(MemoryStore(clock)), clock


def test_the_present_script_plays_to_its_end() -> None:
    """Every line is a scene, and what was looked at is what the script says."""
    bench, clock = stage()
    told = script()
    scenes = played(told, bench, clock)
    assert [scene.line for scene in scenes] == [line for act in told.acts for line in act.lines]
    assert [seen(scene.judged) for scene in scenes if scene.line.sees] == [
        scene.line.sees for scene in scenes if scene.line.sees
    ]


def test_the_second_job_plays_to_its_end_in_millimetres() -> None:
    """Another book, another kind of work: a thimble's and a dial's turn are asked about, and nothing else is."""
    bench, clock = stage()
    told = script(file="redshank-twin.toml")
    scenes = played(told, bench, clock)
    assert [scene.line.fields["value"] for scene in scenes if scene.asked] == ["99.045 mm", "7.430 mm"]
    sizes = bench.work_up(told.job).sizes
    assert {size.size.unit.name for size in sizes} == {"bar", "mm"}
    assert {size.size.id for size in sizes if size.verdict.grade.word == "reject"} == {
        "size.differential-reading",
        "size.exhaust-guide-port",
    }


def test_what_follows_is_compared_like_a_verdict() -> None:
    """A consequence that the script says and the book does not draw stops the playing, and both are told."""
    bench, clock = stage()
    told = script("which goes with P-0212-6", "which goes with P-0999-9")
    with pytest.raises(TurnedOutOtherwise, match=r"which goes with P-0212-6.*which goes with P-0999-9"):
        played(told, bench, clock)


def test_every_forecast_of_the_script_is_made_where_it_looks() -> None:
    """What new parts would make stands among the forecasts of the fit that is looked at, odds and all."""
    bench, clock = stage()
    told = script()
    foreseen = {scene.line.foresees: scene.judged for scene in played(told, bench, clock) if scene.line.foresees}
    assert [line.partition("; odds")[0] for line in foreseen] == [
        "with a new oil pump gear, driving: 0.00575 to 0.00675 in",
        "with a new oil pump gear, driving: 0.0068 to 0.0078 in",
    ]
    for line, judged in foreseen.items():
        assert isinstance(judged, FitVerdict)
        assert line in [forecast.line for forecast in judged.forecasts]


def test_a_line_is_asked_about_where_the_script_says_so_and_nowhere_else() -> None:
    """The misread shaft alone is a question; answered with read again it leaves no reading and no question behind."""
    bench, clock = stage()
    told = script()
    scenes = played(told, bench, clock)
    assert [bool(scene.asked) for scene in scenes] == [scene.line.is_asked for scene in scenes]
    (asked,) = [scene for scene in scenes if scene.asked]
    assert (asked.line.fields["value"], asked.asked[:9]) == ("0.4844 in", "0.4844 in")
    state = bench.state(told.job)
    assert state.questions == {}
    assert "0.4844 in" not in [str(reading.value) for reading in state.readings.values()]


@pytest.mark.parametrize(
    ("was", "now", "found", "expected"),
    [
        ("0.00575 to 0.00675", "0.00575 to 0.00676", "0.00575 to 0.00675 in", "0.00575 to 0.00676 in"),
        ("odds new under 1 %", "odds new 1 %", "new under 1 %", "new 1 %"),
        ("is_asked = true", "", "'a question'", "'no question'"),
        ('place = "size.body-depth"', 'is_asked = true\n  place = "size.body-depth"', "'no question'", "'a question'"),
        ("UNDECIDED, margin 0.0003", "IN SERVICE LIMITS, margin 0.0003", "UNDECIDED", "IN SERVICE LIMITS"),
    ],
)
def test_a_forecast_or_a_question_that_differs_stops_the_playing(was: str, now: str, found: str, expected: str) -> None:
    """Forecasts and questions are compared like verdicts: what came and what the script says are both told."""
    bench, clock = stage()
    told = script(was, now)
    with pytest.raises(TurnedOutOtherwise) as caught:
        played(told, bench, clock)
    before, _, after = str(caught.value).partition("; expected")
    assert found in before
    assert expected in after


def test_people_times_and_requests_are_the_scripts() -> None:
    """Entries carry the line's person and time on both clocks, and a request named after act and line."""
    bench, clock = stage()
    told = script()
    lines = [
        (f"story.{act.act}.{number}", line)
        for act in told.acts
        for number, line in enumerate(act.lines, 1)
        if line.does and not line.refused
    ]
    played(told, bench, clock)
    entries = bench.store.entries(told.job)[2:]
    assert [
        (entry.draft.request, entry.draft.person, entry.draft.acted_at, entry.recorded_at) for entry in entries
    ] == [(request, line.who, line.at, line.at) for request, line in lines]


def test_a_verdict_that_differs_stops_the_playing() -> None:
    """The fault names what is seen, where, and in which act and line."""
    bench, clock = stage()
    told = script('sees = "BEYOND, above by 0.0005"', 'sees = "BEYOND, above by 0.0006"')
    with pytest.raises(TurnedOutOtherwise, match=r"'BEYOND, above by 0\.0005' in act 4, line 4"):
        played(told, bench, clock)


def test_a_line_that_looks_at_nothing_measured_stops_the_playing() -> None:
    """A place without a verdict shows nothing, which the script did not say."""
    bench, clock = stage()
    told = script('place = "size.body-depth"', 'place = "size.nowhere"')
    with pytest.raises(TurnedOutOtherwise, match=r"'nothing'"):
        played(told, bench, clock)


def test_the_rules_hold_for_the_story_too() -> None:
    """A wrong tag in the script is refused by rule."""
    bench, clock = stage()
    told = script('tag = "P-0211-8"', 'tag = "P-0211-7"')
    with pytest.raises(Refused, match=r"part\.tag-check"):
        played(told, bench, clock)


@pytest.mark.parametrize(
    ("was", "now"), [('tag = "P-0210-0", row', 'tab = "P-0210-0", row'), ('part = "part.pump-body"', 'party = "x"')]
)
def test_a_line_that_lacks_a_field_is_a_fault_of_the_script(was: str, now: str) -> None:
    """A field misspelt in the script is told as such, not as an error of the program."""
    bench, clock = stage()
    told = script(was, now)
    with pytest.raises(TenthbookError):
        played(told, bench, clock)


def test_looking_finds_a_fit_a_size_or_a_part() -> None:
    """A place is a row of the book or a tag."""
    bench, clock = stage()
    told = script()
    played(told, bench, clock)
    work = bench.work_up(told.job)
    assert look_at(work, "fit.shaft-in-bush") in work.fits
    assert look_at(work, "size.shaft") in work.sizes
    assert look_at(work, "P-0212-6") in work.parts
    assert look_at(work, "P-9999-9") is None
