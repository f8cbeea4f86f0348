"""`tenthbook job`: open a job, record in it, ask where it stands, and take it away as an archive."""

from __future__ import annotations

import json
import shlex
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import Result

from tenthbook.record.ledger import examine
from tenthbook.record.workup.still_open import EVENTS
from tests.intake import SCOPE, TIMES

Ask = Callable[..., Result]


def no_stack_trace(result: Result, code: int) -> str:
    """What standard error says, where the exit code is right and nothing unplanned was raised."""
    assert isinstance(result.exception, SystemExit), repr(result.exception)
    assert (result.exit_code, result.stdout) == (code, "")
    assert result.stderr
    return result.stderr


def test_an_empty_shop_says_how_to_begin(ask: Ask) -> None:
    """Without a job the list tells the command that opens one; as JSON it is an empty list."""
    assert ask("job", "list").stdout.startswith("no job yet; open one: tenthbook job new ")
    assert json.loads(ask("job", "list", "--json").stdout) == []


def test_a_job_is_opened_listed_and_opened_once(ask: Ask, job: str, book_folder: Path) -> None:
    """A second opening of the same job is refused by rule, exit 1."""
    assert ask("job", "list").stdout.split()[0] == job
    assert json.loads(ask("job", "list", "--json").stdout) == [
        {"job": job, "engine": "Test engine 1", "scope": "repair, to service limits"}
    ]
    again = ask("job", "new", job, "--book", str(book_folder), "--engine", "x", "--reason", "x", "--scope", "x")
    assert "(rule entry.first-opens)" in no_stack_trace(again, 1)


def test_a_book_with_faults_opens_no_job(ask: Ask, book_folder: Path) -> None:
    """Every fault of the book with file and line, exit 2, and no job."""
    text = (book_folder / "sizes.csv").read_text()
    (book_folder / "sizes.csv").write_text(text.replace(",mm,", ",degC,").replace("0.5108,", "0.51O8,"))
    result = ask("job", "new", "0417", "--book", str(book_folder), "--engine", "x", "--reason", "x", "--scope", "x")
    assert [line.partition(": found")[0] for line in no_stack_trace(result, 2).splitlines()] == [
        "sizes.csv:3: new_min",
        "sizes.csv:5: unit",
    ]
    assert json.loads(ask("job", "list", "--json").stdout) == []


def test_a_part_is_tagged_and_a_reading_answered_with_its_verdict(ask: Ask, job: str) -> None:
    """The entry's number, then the verdict and why."""
    assert ask("job", "record", job, "part removed", "part=part.shaft").stdout == "entry 2: part removed\n"
    result = ask(
        "job",
        "record",
        job,
        "reading taken",
        "tag=P-0001-3",
        "row=size.shaft",
        "value=0.5094 in",
    )
    assert (result.exit_code, result.stdout.splitlines()[:2]) == (
        0,
        ["entry 3: reading taken", "P-0001-3 diameter 0.5094 in: BEYOND, below by 0.0004"],
    )
    assert "    entries 3" in result.stdout.splitlines()


def test_a_fit_is_answered_when_its_second_part_is_read(ask: Ask, job: str) -> None:
    """The reading that completes a fit shows the fit as well."""
    for part in ("part.shaft", "part.housing"):
        ask("job", "record", job, "part removed", f"part={part}")
    ask("job", "record", job, "reading taken", "tag=P-0001-3", "row=size.shaft", "value=0.5094 in")
    result = ask("job", "record", job, "reading taken", "tag=P-0002-1", "row=size.bore", "value=0.5130 in")
    assert "shaft in bore 0.0036 in: IN SERVICE LIMITS, margin 0.0001" in result.stdout


def test_a_refused_entry_exits_1_and_writes_nothing(ask: Ask, job: str) -> None:
    """What was found, what is expected, the way on, the rule; the head stays."""
    before = json.loads(ask("job", "status", job, "--json").stdout)["head"]
    message = no_stack_trace(ask("job", "record", job, "part removed", "part=part.piston"), 1)
    assert message.startswith("found part 'part.piston'; expected one of part.")
    assert message.rstrip().endswith("(rule part.in-book)")
    assert json.loads(ask("job", "status", job, "--json").stdout)["head"] == before


@pytest.mark.parametrize(
    ("words", "path"),
    [
        (["noted", "text"], "text"),
        (["noted"], "text"),
        (["noted", "text=x", "colour=red"], "colour"),
        (["noticed", "text=x"], "kind"),
        (["reading taken", "tag=P-0001-3"], "row"),
        (["withdrawn", "entry=three", "reason=x"], "entry"),
        (["withdrawn", "entry=\u00b2", "reason=x"], "entry"),
        (["part removed", "tag=P-0001-3"], "part"),
        (["part removed", "part=part.shaft", "positon=left"], "positon"),
        (["part removed", "part=part.shaft", "person=inspector"], "person"),
        (["reading taken", "tag=P-0001-3", "row=size.shaft", "value=0.5 in", "colour=red"], "colour"),
        (["reading taken", "tag=P-0001-3", "row=size.shaft", "value=0.5 in", "person=inspector"], "person"),
        (["reading taken", "tag=P-0001-3", "row=size.shaft", "value=0.5 in", "seen=x"], "seen"),
    ],
)
def test_misuse_exits_2_and_names_the_field(ask: Ask, job: str, words: list[str], path: str) -> None:
    """A field missing, unknown or of the wrong form is told by its name, without a stack trace."""
    ask("job", "record", job, "part removed", "part=part.shaft")
    message = no_stack_trace(ask("job", "record", job, *words), 2)
    assert path in [line.partition(": found")[0] for line in message.splitlines()]


def ask_about_a_turn(ask: Ask, job: str) -> Result:
    """Remove the shaft and read it one turn low."""
    ask("job", "record", job, "part removed", "part=part.shaft")
    return ask("job", "record", job, "reading taken", "tag=P-0001-3", "row=size.shaft", "value=0.4844 in")


def answers_of(result: Result) -> list[list[str]]:
    """The words of the two commands that the message offers, without the program's name."""
    offered = [line for line in result.stderr.splitlines() if line.startswith("tenthbook ")]
    return [shlex.split(command)[1:] for line in offered for command in line.split("  or  ")]


def test_a_reading_that_may_be_a_slip_exits_1_and_says_how_to_answer(ask: Ask, job: str) -> None:
    """The entry on standard output; the question, that it does not count, and both answers on standard error."""
    result = ask_about_a_turn(ask, job)
    assert isinstance(result.exception, SystemExit), repr(result.exception)
    assert (result.exit_code, result.stdout) == (1, "entry 3: question asked\n")
    assert "was a turn missed? The reading does not count yet" in result.stderr
    assert [words[2:] for words in answers_of(result)] == [
        [job, "question answered", "entry=3", "answer=read again"],
        [job, "question answered", "entry=3", "answer=stands"],
    ]


@pytest.mark.parametrize(("place", "values"), [(0, []), (1, ["0.4844 in"])], ids=["read again", "stands"])
def test_the_answers_it_offers_can_be_typed_as_they_stand(ask: Ask, job: str, place: int, values: list[str]) -> None:
    """Read again leaves nothing that counts, stands a verdict; a second answer is refused by rule, exit 1."""
    words = answers_of(ask_about_a_turn(ask, job))[place]
    result = ask(*words)
    assert (result.exit_code, result.stdout) == (0, "entry 4: question answered\n")
    status = json.loads(ask("job", "status", job, "--json").stdout)
    assert [verdict["value"] for verdict in status["verdicts"]] == values
    assert "(rule question.open)" in no_stack_trace(ask(*words), 1)


def test_an_open_question_stands_first_among_what_is_undone(ask: Ask, job: str) -> None:
    """It is listed with its rule, and no verdict rests on it."""
    ask_about_a_turn(ask, job)
    first = ask("job", "undone", job).stdout.splitlines()[0]
    assert first.startswith("1. P-0001-3 diameter: 0.4844 in lies far from what was expected")
    assert first.endswith("(rule undone.question)")
    assert json.loads(ask("job", "status", job, "--json").stdout)["verdicts"] == []


def test_an_undecided_reading_names_the_gauge_that_would_decide(ask: Ask, job: str) -> None:
    """Two gauges are set; read with the coarser one the answer names the finer."""
    ask("job", "record", job, "part removed", "part=part.shaft")
    for gauge, expanded in (("M1", "0.0004 in"), ("M2", "0.0001 in")):
        words = [f"gauge={gauge}", "name=micrometer", "measures=outside", f"expanded={expanded}"]
        assert ask("job", "record", job, "gauge set", *words).exit_code == 0
    reading = ["reading taken", "tag=P-0001-3", "row=size.shaft", "value=0.5100 in"]
    result = ask("job", "record", job, *reading, "gauge=M1")
    assert (result.exit_code, result.stdout.splitlines()[:2]) == (
        0,
        ["entry 5: reading taken", "P-0001-3 diameter 0.5100 in: UNDECIDED, margin 0.0002"],
    )
    assert "undecided; micrometer M2 would decide (0.0001 in at k = 2)" in result.stdout
    assert "IN SERVICE LIMITS, margin 0.0002" in ask("job", "record", job, *reading, "gauge=M2").stdout
    assert "expected one of M1, M2" in no_stack_trace(ask("job", "record", job, *reading, "gauge=M3"), 1)


def test_the_rule_of_the_job_is_chosen_by_an_entry(ask: Ask, job: str) -> None:
    """Plain, guarded or full U; what cannot be is told by field, exit 2, or by rule, exit 1."""
    chosen = ask("job", "record", job, "settings chosen", "rule=full U", "conformance=0.99")
    assert (chosen.exit_code, chosen.stdout) == (0, "entry 2: settings chosen\n")
    assert "rule: found" in no_stack_trace(ask("job", "record", job, "settings chosen", "rule=lenient"), 2)
    refused = ask("job", "record", job, "settings chosen", "rule=guarded", "conformance=95")
    assert "(rule settings.conformance)" in no_stack_trace(refused, 1)


def test_a_fit_shows_what_new_parts_would_make_of_it(ask: Ask, job: str) -> None:
    """Three lines under the fit, as text and as JSON the same."""
    for part in ("part.shaft", "part.housing"):
        ask("job", "record", job, "part removed", f"part={part}")
    ask("job", "record", job, "reading taken", "tag=P-0001-3", "row=size.shaft", "value=0.5094 in")
    text = ask("job", "record", job, "reading taken", "tag=P-0002-1", "row=size.bore", "value=0.5130 in").stdout
    data = json.loads(ask("job", "status", job, "--json").stdout)
    (made,) = [verdict["with_new_parts"] for verdict in data["verdicts"] if verdict["with_new_parts"]]
    assert [line.partition(":")[0] for line in made] == [
        "with a new pump shaft",
        "with a new pump housing",
        "with both new",
    ]
    assert all(f"    {line}\n" in text for line in made)


def test_a_withdrawal_takes_the_number_of_an_entry(ask: Ask, job: str) -> None:
    """A reading is withdrawn by its number, with a reason."""
    ask("job", "record", job, "part removed", "part=part.shaft")
    ask("job", "record", job, "reading taken", "tag=P-0001-3", "row=size.shaft", "value=0.5000 in")
    assert ask("job", "record", job, "withdrawn", "entry=3", "reason=misread").stdout == "entry 4: withdrawn\n"
    assert json.loads(ask("job", "status", job, "--json").stdout)["verdicts"] == []


def test_status_tells_heading_verdicts_and_what_is_undone(ask: Ask, job: str) -> None:
    """As text and as JSON the same; invented data say so first."""
    ask("job", "record", job, "part removed", "part=part.shaft")
    ask("job", "record", job, "reading taken", "tag=P-0001-3", "row=size.shaft", "value=0.5094 in")
    text, data = ask("job", "status", job), json.loads(ask("job", "status", job, "--json").stdout)
    assert text.stdout.splitlines()[0] == "Invented data. Not for any engine."
    assert data["verdicts"][0]["verdict"] == "BEYOND, below by 0.0004"
    assert (
        f"{data['verdicts'][0]['place']} {data['verdicts'][0]['value']}: {data['verdicts'][0]['verdict']}"
        in text.stdout
    )
    assert (data["entries"], data["job"], data["parts"][0]["verdict"]) == (4, job, "BEYOND")
    assert f"head: entry 3, {data['head']}" in text.stdout
    assert f"undone: {len(data['undone'])}" in text.stdout


def test_undone_exits_1_while_there_is_anything(ask: Ask, job: str) -> None:
    """Nothing open is exit 0 and says so; one thing open is exit 1 with its rule."""
    for event in EVENTS:
        ask("job", "record", job, "event answered", f"event={event}", "answer=no", "says=the owner's word")
    for kind, fields in (("scope agreed", SCOPE), ("times stated", TIMES)):
        ask("job", "record", job, kind, *(f"{name}={text}" for name, text in fields.items()))
    nothing = ask("job", "undone", job)
    assert (nothing.exit_code, nothing.stdout) == (0, "Nothing open in this book\n")
    ask("job", "record", job, "part removed", "part=part.plug")
    something = ask("job", "undone", job)
    assert (something.exit_code, something.stdout.splitlines()[0]) == (
        1,
        "1. P-0001-3 cover plug: diameter: not measured (rule undone.not-measured)",
    )
    assert len(json.loads(ask("job", "undone", job, "--json").stdout)) == len(something.stdout.splitlines())


def test_an_export_proves_itself(ask: Ask, job: str, tmp_path: Path) -> None:
    """The file is whole and ends in the job's head; the name is told on standard output."""
    result = ask("job", "export", job, "out.zip")
    assert (result.exit_code, result.stdout) == (0, "out.zip\n")
    head = json.loads(ask("job", "status", job, "--json").stdout)["head"]
    assert examine((tmp_path / "out.zip").read_bytes(), head).whole
    assert ask("job", "export", job).stdout == f"{job}.zip\n"


@pytest.mark.parametrize("command", [["job", "export"], ["papers"]])
def test_a_file_that_cannot_be_written_is_named(ask: Ask, job: str, command: list[str]) -> None:
    """A folder that is not there is told, exit 2, without a stack trace."""
    words = [*command, job, *(["inspection"] if command == ["papers"] else []), "nowhere/out"]
    assert "nowhere/out" in no_stack_trace(ask(*words), 2)


@pytest.mark.parametrize("words", [["status"], ["undone"], ["export"], ["record"]])
def test_an_unknown_job_is_named(ask: Ask, job: str, words: list[str]) -> None:
    """The jobs there are stand beside it, exit 2."""
    more = ["noted", "text=x"] if words == ["record"] else []
    message = no_stack_trace(ask("job", *words, "0418", *more), 2)
    assert "'0418'" in message
    assert job in message


def test_a_paper_is_written_and_recorded(ask: Ask, job: str, tmp_path: Path) -> None:
    """The PDF is made, and the job knows that it was issued and on what it rests."""
    before = json.loads(ask("job", "status", job, "--json").stdout)
    result = ask("papers", job, "inspection", "report.pdf", "--size", "us-letter")
    assert (result.exit_code, result.stdout) == (0, "report.pdf\n")
    assert (tmp_path / "report.pdf").read_bytes().startswith(b"%PDF-")
    after = json.loads(ask("job", "status", job, "--json").stdout)
    assert (after["entries"], after["verdicts"]) == (before["entries"] + 1, before["verdicts"])


def test_a_folder_that_cannot_be_used_is_named(ask: Ask, tmp_path: Path) -> None:
    """A file in the way of the data folder is told with the way on."""
    (tmp_path / "file").write_text("x")
    assert "name another with --data" in no_stack_trace(ask("--data", "file/shop", "job", "list"), 2)


@pytest.mark.parametrize(("typed", "meant"), [("jbo", "job"), ("verfy", "verify")])
def test_a_slip_in_a_command_is_answered(ask: Ask, typed: str, meant: str) -> None:
    """The nearest command is offered, exit 2."""
    result = ask(typed)
    assert result.exit_code == 2
    assert f"did you mean {meant}?" in result.stderr


def test_help_lists_every_command_without_importing_one(ask: Ask) -> None:
    """Each command stands in the help with what it does."""
    from tenthbook.faces.cli.root import COMMANDS

    text = ask("--help").stdout
    assert all(name in text for name in COMMANDS)
    assert ask("--version").stdout.startswith("tenthbook, version ")


@pytest.mark.parametrize("name", ["calc", "demo", "job", "papers", "serve", "verify", "why"])
def test_every_command_explains_itself(ask: Ask, name: str) -> None:
    """Each can be asked for help."""
    result = ask(name, "--help")
    assert result.exit_code == 0
    assert result.stdout.startswith("Usage: tenthbook")
