"""`tenthbook tool`: instruments, their calibrations, and the readings that a later one puts in doubt."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from click.testing import Result

from tests.cli.said import done, refused

Ask = Callable[..., Result]
MICROMETER = ["--name", "micrometer", "--measures", "outside", "--range", "0 in to 1 in", "--resolution", "0.0001 in"]
BEFORE, AFTER = "2020-03-02", "2099-03-31"
CERTIFICATE = {
    "certificate": "C-1041",
    "laboratory": "Test house",
    "calibrated_on": BEFORE,
    "due": AFTER,
    "expanded": "0.0001 in",
    "as_found": "in tolerance",
}


def today() -> date:
    """The day of the store's clock."""
    return datetime.now(UTC).date()


def calibrated(**changed: str) -> list[str]:
    """The command that records the certificate, with some of its fields changed; an empty one is left out."""
    fields = {**CERTIFICATE, **changed}
    return ["tool", "calibrated", "M1", *(f"{name}={text}" for name, text in fields.items() if text)]


def tools(ask: Ask) -> list[dict[str, Any]]:
    """The instruments, as the list tells them."""
    found: list[dict[str, Any]] = json.loads(ask("tool", "list", "--json").stdout)
    return found


@pytest.fixture
def crib(first: Ask) -> Ask:
    """Ask where one micrometer is registered."""
    told = done(first("tool", "register", "M1", *MICROMETER))
    assert told == "entry 1 of the tools: instrument registered, M1\n"
    return first


@pytest.fixture
def read(crib: Ask, book_folder: Path) -> Ask:
    """Ask where the calibrated micrometer has read the shaft, as entry 4 of job 0417."""
    done(crib(*calibrated()))
    engine = ["--engine", "Test engine 1", "--reason", "x", "--scope", "repair"]
    done(crib("job", "new", "0417", "--book", str(book_folder), *engine))
    for words in (
        ["gauge set", "gauge=M1"],
        ["part removed", "part=part.shaft"],
        ["reading taken", "tag=P-0001-3", "row=size.shaft", "value=0.5110 in", "gauge=M1"],
    ):
        done(crib("job", "record", "0417", *words))
    return crib


def test_an_empty_crib_says_how_to_begin(ask: Ask) -> None:
    """Without an instrument the list tells the command that registers one; as JSON it is empty."""
    assert done(ask("tool", "list")).startswith("no instrument yet; register one: tenthbook tool register ")
    assert tools(ask) == []


def test_an_instrument_that_was_never_calibrated_is_a_finding(crib: Ask) -> None:
    """The list names it and exits 1."""
    result = crib("tool", "list")
    assert (result.exit_code, result.stdout) == (1, "M1       micrometer, outside: never calibrated\n")


def test_a_calibrated_instrument_stands_with_its_doubt(crib: Ask) -> None:
    """The list tells certificate, due day and uncertainty, and exits 0."""
    assert done(crib(*calibrated())) == "entry 2 of the tools: calibrated, M1\n"
    told = done(crib("tool", "list"))
    assert told == f"M1       micrometer, outside: in calibration, due {AFTER}; 0.0001 in at k = 2\n"
    assert tools(crib) == [
        {
            "instrument": "M1",
            "name": "micrometer",
            "measures": "outside",
            "stands": "in calibration",
            "certificate": "C-1041",
            "due": AFTER,
            "doubt": "0.0001 in at k = 2",
        }
    ]


@pytest.mark.parametrize(("days", "code", "word"), [(0, 0, "in calibration"), (-1, 1, "overdue")])
def test_an_overdue_instrument_is_a_finding(crib: Ask, days: int, code: int, word: str) -> None:
    """On its last day a calibration holds, exit 0; the day after it is overdue, exit 1."""
    due = str(today() + timedelta(days))
    done(crib(*calibrated(due=due)))
    result = crib("tool", "list")
    assert (result.exit_code, result.stdout.partition("; ")[0]) == (
        code,
        f"M1       micrometer, outside: {word}, due {due}",
    )


@pytest.mark.parametrize(
    ("words", "rule"),
    [
        (["register", "m1", *MICROMETER], "instrument.id-new"),
        (["register", "M2", *MICROMETER[:-1], "0.0001"], "instrument.resolution"),
        (["withdraw", "M2", "--reason", "dropped"], "instrument.registered"),
        (["withdraw", "M1", "--reason", "dropped", "--since", "2099-01-01"], "instrument.since-past"),
        (["return", "M1", "--reason", "mended"], "instrument.in-use"),
        (["return", "M2", "--reason", "mended"], "instrument.registered"),
        (calibrated(calibrated_on="2099-03-02")[1:], "calibration.dates-in-order"),
        (calibrated(due="2020-03-01")[1:], "calibration.dates-in-order"),
        (calibrated(expanded="0.0001")[1:], "calibration.doubt-stated"),
        (calibrated(coverage_factor="0")[1:], "calibration.doubt-stated"),
        (calibrated(as_found="out of tolerance")[1:], "calibration.reason-stated"),
    ],
)
def test_an_act_against_a_rule_is_refused(crib: Ask, words: list[str], rule: str) -> None:
    """The rule by its id, exit 1, and every instrument stands as before."""
    before = tools(crib)
    assert f"(rule {rule})" in refused(crib("tool", *words), 1)
    assert tools(crib) == before


def test_every_broken_rule_of_a_certificate_is_told_at_once(crib: Ask) -> None:
    """Days, doubt and reason: a line each."""
    answer = crib(*calibrated(calibrated_on="2099-03-02", expanded="0 in", as_found="out of tolerance"))
    assert [line.rpartition("(rule ")[2] for line in refused(answer, 1).splitlines()] == [
        "calibration.dates-in-order)",
        "calibration.doubt-stated)",
        "calibration.reason-stated)",
    ]


@pytest.mark.parametrize(
    ("words", "path"),
    [
        (calibrated(laboratory="")[1:], "laboratory"),
        (calibrated(as_found="fine")[1:], "as_found"),
        (calibrated(due="next spring")[1:], "due"),
        ([*calibrated()[1:], "colour=red"], "colour"),
        ([*calibrated()[1:], "instrument=M2"], "instrument"),
        ([*calibrated()[1:], "colour"], "colour"),
        (["register", "M 2 ", *MICROMETER], "instrument"),
        (["register", "M2", *MICROMETER[:1], "", *MICROMETER[2:]], "name"),
        (["withdraw", "M1", "--reason", ""], "reason"),
        (["withdraw", "M1", "--reason", "dropped", "--since", "yesterday"], "since"),
    ],
)
def test_a_field_that_does_not_fit_is_misuse(crib: Ask, words: list[str], path: str) -> None:
    """Missing, unknown, twice or of the wrong form: told by its name, exit 2, and nothing is recorded."""
    crib("tool", "register", "M2", *MICROMETER)
    before = tools(crib)
    told = refused(crib("tool", *words), 2)
    assert [line.partition(": found")[0] for line in told.splitlines()] == [path]
    assert tools(crib) == before


@pytest.mark.parametrize("words", [["withdraw", "M1"], ["return", "M1"], ["register", "M2"], ["calibrated", "M1"]])
def test_a_word_that_is_missing_is_misuse(crib: Ask, words: list[str]) -> None:
    """No reason, no name, no field at all: exit 2."""
    assert crib("tool", *words).exit_code == 2


def test_an_instrument_is_withdrawn_and_put_back(crib: Ask) -> None:
    """Withdrawn it stands so, and is no finding; put back it stands by its calibration; neither is done twice."""
    done(crib(*calibrated()))
    assert done(crib("tool", "withdraw", "M1", "--reason", "dropped")) == (
        "entry 3 of the tools: instrument withdrawn, M1\n"
    )
    assert "M1       micrometer, outside: withdrawn, due " in done(crib("tool", "list"))
    assert "(rule instrument.in-use)" in refused(crib("tool", "withdraw", "M1", "--reason", "again"), 1)
    assert done(crib("tool", "return", "M1", "--reason", "checked against the blocks")) == (
        "entry 4 of the tools: instrument returned to use, M1\n"
    )
    assert [one["stands"] for one in tools(crib)] == ["in calibration"]
    assert "(rule instrument.in-use)" in refused(crib("tool", "return", "M1", "--reason", "again"), 1)


def test_whoever_is_not_enrolled_records_nothing_of_the_tools(first: Ask) -> None:
    """Refused by rule, exit 1, also as the first act of the crib."""
    told = refused(first("--person", "visitor", "tool", "register", "M1", *MICROMETER), 1)
    assert "(rule person.enrolled)" in told
    assert tools(first) == []


def test_a_job_read_with_a_good_gauge_has_no_doubts(read: Ask) -> None:
    """It says so, exit 0; as JSON an empty list."""
    assert done(read("tool", "doubts", "0417")) == "no reading of this job is in doubt by its gauge\n"
    assert json.loads(done(read("tool", "doubts", "0417", "--json"))) == []


def test_a_gauge_withdrawn_later_puts_earlier_readings_in_doubt(read: Ask) -> None:
    """From the day named on, the readings are listed by their entries, exit 1; the job's status says it too."""
    day = str(today())
    done(read("tool", "withdraw", "M1", "--reason", "dropped", "--since", day))
    line = f"gauge M1: withdrawn on {day}, in doubt since {day}: dropped; in doubt: entries 4"
    result = read("tool", "doubts", "0417")
    assert (result.exit_code, result.stdout) == (1, f"{line}\n")
    as_json = read("tool", "doubts", "0417", "--json")
    assert (as_json.exit_code, json.loads(as_json.stdout)) == (1, [line])
    assert line in done(read("job", "status", "0417"))


def test_a_gauge_found_out_of_tolerance_doubts_back_to_the_calibration_before(read: Ask) -> None:
    """What was found stands in the line; a reading that is withdrawn is in doubt no more."""
    later = calibrated(
        certificate="C-2", calibrated_on=str(today()), as_found="out of tolerance", reason="0.0004 in small"
    )
    done(read(*later))
    result = read("tool", "doubts", "0417")
    assert result.exit_code == 1
    assert result.stdout.startswith("gauge M1: found out of tolerance on ")
    assert "certificate C-2: 0.0004 in small; in doubt: entries 4\n" in result.stdout
    done(read("job", "record", "0417", "withdrawn", "entry=4", "reason=misread"))
    assert done(read("tool", "doubts", "0417")) == "no reading of this job is in doubt by its gauge\n"


def test_an_unknown_job_has_no_doubts_to_tell(read: Ask) -> None:
    """Named with the jobs there are, exit 2."""
    told = refused(read("tool", "doubts", "0418"), 2)
    assert told.startswith("found job '0418'; expected one of 0417")
