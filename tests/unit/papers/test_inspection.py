"""The inspection report prints what was measured, where it lies, why, and what is undone."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest

from tenthbook.faces.papers import CannotTypeset, inspection_report
from tenthbook.faces.papers.inspection import report_data
from tenthbook.faces.papers.typeset import PaperSize, typeset
from tenthbook.record.bench import find_row
from tenthbook.record.book import Book
from tenthbook.record.job import JobState
from tenthbook.record.workup import WorkUp
from tests.builders import NOON, OPENED, PERSON, STREAM, Workplace, small_book

DAY = "2026-10-02"


@pytest.fixture
def place() -> Workplace:
    """A job with a shaft beyond its limit, a bore without one, and a fit that passes."""
    place = Workplace().open()
    shaft, bore = place.remove("part.shaft"), place.remove("part.housing")
    place.read(shaft, "size.shaft", "0.5094 in")
    place.read(bore, "size.bore", "0.5131 in")
    return place


def data_of(place: Workplace) -> dict[str, Any]:
    """What the report of a job prints."""
    bench = place.bench
    return report_data(STREAM, bench.book(STREAM), bench.state(STREAM), bench.work_up(STREAM))


def report(place: Workplace, size: PaperSize = "a4", made_on: str = DAY) -> bytes:
    """The paper itself."""
    bench = place.bench
    return inspection_report(
        STREAM, bench.book(STREAM), bench.state(STREAM), bench.work_up(STREAM), size=size, made_on=made_on
    )


def test_the_heading_is_the_jobs_and_the_books(place: Workplace) -> None:
    """Engine, reason, scope, manual, head and digest stand on the paper as recorded."""
    data, state = data_of(place), place.bench.state(STREAM)
    assert {name: data[name] for name in ("engine", "reason", "scope", "invented")} == {
        name: OPENED[name] for name in ("engine", "reason", "scope", "invented")
    }
    assert (data["head"], data["number"], data["book_digest"], data["revision"]) == (
        state.head,
        "5",
        state.book,
        "1, 1 January 2026",
    )


def test_a_row_that_nobody_read_again_is_marked_where_it_is_used(place: Workplace) -> None:
    """The paper lists the rows its verdicts rest on unread, and each line that rests on one says so."""
    bench = place.bench

    def data() -> dict[str, Any]:
        return report_data(STREAM, *_at_head(place), bench.unread(STREAM))

    assert [one["row"] for one in data()["unread"]] == ["size.shaft", "size.bore", "fit.shaft"]
    assert [line["unverified"] for line in (*data()["sizes"], *data()["fits"])] == [True, True, True]
    for row, cells in (
        ("sizes/size.shaft", {"new_min": "0.5108", "new_max": "0.5114", "service_min": "0.5098"}),
        ("sizes/size.bore", {"new_min": "0.5124", "new_max": "0.5130"}),
    ):
        typed = find_row(bench.book(STREAM), *row.split("/"))
        act = {"person": "inspector", "request": row, "acted_at": NOON}
        read = {"kind": "absolute", "unit": "in", **cells}
        bench.books.read_again(bench.book(STREAM), typed, read, act, {"typed_by": "", "typed_on": ""})
    assert [one["row"] for one in data()["unread"]] == ["fit.shaft"]
    assert [line["unverified"] for line in (*data()["sizes"], *data()["fits"])] == [False, False, True]
    marked = inspection_report(STREAM, *_at_head(place), unread=bench.unread(STREAM), made_on=DAY)
    assert marked != inspection_report(STREAM, *_at_head(place), made_on=DAY)


def _at_head(place: Workplace) -> tuple[Book, JobState, WorkUp]:
    """Book, state and work-up, in the order a paper takes them."""
    state, book, work = place.bench.look(STREAM)
    return book, state, work


def test_a_size_stands_with_limits_verdict_working_and_page(place: Workplace) -> None:
    """Everything a reader needs to check the line is on it."""
    shaft = next(row for row in data_of(place)["sizes"] if row["place"].startswith("P-0001-3"))
    assert (shaft["value"], shaft["verdict"], shaft["mark"], shaft["safety"]) == (
        "0.5094",
        "BEYOND, below by 0.0004",
        "beyond",
        True,
    )
    assert (shaft["new"], shaft["service"], shaft["unit"], shaft["page"], shaft["entries"]) == (
        "0.5108 to 0.5114",
        "min 0.5098",
        "in",
        "2-2",
        "4",
    )
    assert "0.5094 against service least 0.5098 in: below by 0.0004" in shaft["working"]


def test_a_blank_limit_is_printed_as_none_given(place: Workplace) -> None:
    """A blank is never printed as nought."""
    bore = next(row for row in data_of(place)["sizes"] if "housing" in row["place"])
    assert (bore["service"], bore["verdict"], bore["mark"]) == ("none given", "NO LIMIT", "none")


def test_a_fit_stands_with_both_tags(place: Workplace) -> None:
    """A fit names the two parts it was measured on."""
    (fit,) = data_of(place)["fits"]
    assert (fit["place"], fit["value"], fit["service"]) == ("P-0002-1, P-0001-3", "0.0037", "max 0.0037")


def test_parts_and_what_is_undone_are_listed(place: Workplace) -> None:
    """The worst of each part and every undone line are on the paper."""
    data = data_of(place)
    assert [(part["place"], part["mark"]) for part in data["parts"]] == [
        ("P-0001-3", "beyond"),
        ("P-0002-1", "service"),
    ]
    assert [line["what"] for line in data["undone"]] == [line.what for line in place.work_up().undone]


def test_what_is_beyond_is_drawn_with_words(place: Workplace) -> None:
    """A drawing has its sentence, and the data are text and lists alone."""
    data = data_of(place)
    assert [drawing["name"] for drawing in data["drawings"]] == ["pump shaft, diameter"]
    assert all(drawing["svg"].startswith("<svg") and drawing["words"] for drawing in data["drawings"])
    json.dumps(data)


def test_a_fit_beyond_is_drawn_as_a_gap() -> None:
    """A fit beyond its limit is drawn before the sizes."""
    place = Workplace().open()
    shaft, bore = place.remove("part.shaft"), place.remove("part.housing")
    place.read(shaft, "size.shaft", "0.5094 in")
    place.read(bore, "size.bore", "0.5135 in")
    assert [drawing["name"] for drawing in data_of(place)["drawings"]] == ["shaft in bore", "pump shaft, diameter"]


@pytest.mark.parametrize("size", ["a4", "us-letter"])
def test_the_paper_is_a_tagged_pdf_the_same_every_time(place: Workplace, size: PaperSize) -> None:
    """One job and one day make one row of bytes, marked for a screen reader."""
    first = report(place, size)
    assert first == report(place, size)
    assert first.startswith(b"%PDF-")
    assert b"/MarkInfo" in first
    assert b"/StructTreeRoot" in first


def test_another_day_or_another_sheet_is_another_paper(place: Workplace) -> None:
    """Day and sheet are part of the paper."""
    assert len({report(place), report(place, made_on="2026-10-03"), report(place, "us-letter")}) == 3


def test_a_job_with_nothing_measured_has_a_paper() -> None:
    """An empty report is made, and says that nothing is open in this book."""
    place = Workplace().open()
    assert data_of(place)["nothing_open"] == "Nothing open in this book"
    assert report(place).startswith(b"%PDF-")


@pytest.mark.parametrize(
    "text",
    [
        '#panic("x")',
        "$x$ *bold* _under_ `raw`",
        '"quoted" \\ back',
        "= Heading",
        "// comment",
        "<label> @ref",
        "\u00fc \u20ac",
    ],
)
def test_typed_words_are_printed_not_run(text: str) -> None:
    """What people type is data: no sign in it is taken for the typesetter's own."""
    place = Workplace()
    place.bench.open_job(STREAM, small_book(), {**OPENED, "engine": text, "reason": text}, **place.act())
    assert report(place).startswith(b"%PDF-")


def test_a_paper_that_cannot_be_set_says_so(place: Workplace) -> None:
    """Data that the template cannot print stop as an error with the way on, and nothing is made."""
    with pytest.raises(CannotTypeset, match="report this with the job's archive"):
        typeset("inspection", {"sizes": "no list"}, title="x", size="a4", made_on=DAY)


def test_no_person_is_named_as_approving(place: Workplace) -> None:
    """The report never says that anything is airworthy, clear or approved; it names who is asked, and nobody else."""
    data = data_of(place)
    text = json.dumps(data).lower()
    asked = [line for line in data["undone"] if line["place"] == PERSON]
    assert [line["what"] for line in asked] == ["not asked whether this work was done before"]
    assert text.count(PERSON) == len(asked)
    assert not re.search(r"airworth|approved|may start", text)
