"""A job as a table for a spreadsheet reads back digit for digit, and nothing in it can run."""

from __future__ import annotations

import pytest

from tenthbook.faces.papers import TABLES_OF_A_JOB, at_head, job_table
from tenthbook.numbers.sheet import SheetOut, read_csv, read_workbook, table_of, write_csv, write_workbook
from tests.builders import NOON, PERSON, STREAM, Workplace

NASTY = '=1+1, "quoted"; @x\n\'second line'


@pytest.fixture
def place() -> Workplace:
    """A job with readings that count, one that does not, one asked about, one withdrawn, and what became of a part."""
    place = Workplace().open()
    shaft, housing = place.remove("part.shaft", position=NASTY), place.remove("part.housing")
    place.set_gauge("mic-1", "0.00010 in")
    place.read(shaft, "size.shaft", "0.51010 in")
    place.read(shaft, "size.shaft", "0.5094 in", "mic-1")
    place.read(shaft, "size.shaft", "0.4844 in", "mic-1")
    gone = place.read(housing, "size.bore", "0.5130 in")
    place.record("withdrawn", {"entry": gone.number, "reason": "=the wrong bore"})
    place.record("disposed", {"tag": shaft, "disposition": "hold", "reason": "-0.0004 beyond; @later"})
    return place


def table_of_job(place: Workplace, name: str) -> SheetOut:
    """A table of the job."""
    return job_table(at_head(place.bench, STREAM), name)


def test_every_reading_is_there_and_says_whether_it_counts(place: Workplace) -> None:
    """Value and unit apart, every digit kept; what does not count stands with the reason why."""
    rows = table_of_job(place, "readings").rows
    assert [(row["value"], row["unit"], row["counts"], row["why_not"]) for row in rows] == [
        ("0.51010", "in", "", "read again with another gauge, or the part was away since"),
        ("0.5094", "in", "yes", ""),
        ("0.4844", "in", "", "asked about and not answered"),
        ("0.5130", "in", "", "withdrawn: =the wrong bore"),
    ]
    told = rows[1]
    assert [told[name] for name in ("tag", "part", "name", "feature", "page", "gauge", "expanded", "person")] == [
        "P-0001-3",
        "part.shaft",
        "pump shaft",
        "diameter",
        "2-2",
        "mic-1",
        "0.00010 in",
        PERSON,
    ]
    assert (told["job"], told["head"], told["invented"]) == (STREAM, place.state.head, "yes")


def test_the_dispositions_and_the_undone_list_are_those_of_the_job(place: Workplace) -> None:
    """Each is a row with what it rests on."""
    (hold,) = table_of_job(place, "dispositions").rows
    assert (hold["tag"], hold["disposition"], hold["reason"]) == ("P-0001-3", "hold", "-0.0004 beyond; @later")
    assert (hold["counts"], hold["acted_at"], hold["person"]) == ("yes", NOON, PERSON)
    rows, undone = table_of_job(place, "undone").rows, place.work_up().undone
    assert [(row["place"], row["what"], row["rule"]) for row in rows] == [
        (one.place, one.what, one.because.rule) for one in undone
    ]
    assert rows[0]["entries"] == "; ".join(map(str, undone[0].because.entries))


@pytest.mark.parametrize("name", list(TABLES_OF_A_JOB))
def test_what_was_written_reads_back_digit_for_digit(place: Workplace, name: str) -> None:
    """As CSV and as a workbook each cell comes back as the text it was, in the same order of columns."""
    made = table_of_job(place, name)
    assert made.rows
    csv = read_csv("x.csv", write_csv(made.columns, made.rows))
    grid = read_workbook("x.xlsx", write_workbook([made]))[name]
    sheet, left_out = table_of(grid)
    assert (left_out, grid.numbers) == ((), {})
    for read in (csv, sheet):
        assert list(read.columns) == list(made.columns)
        assert [dict(row.cells) for row in read.rows] == [dict(row) for row in made.rows]


@pytest.mark.parametrize("name", list(TABLES_OF_A_JOB))
def test_every_column_says_what_it_is(place: Workplace, name: str) -> None:
    """The heading of the workbook carries a note a column; a row has exactly these columns."""
    made = table_of_job(place, name)
    assert set(made.says) == set(made.columns)
    assert all(set(row) == set(made.columns) for row in made.rows)


def test_no_cell_of_the_csv_runs(place: Workplace) -> None:
    """What a spreadsheet would take for a formula is led by an apostrophe; a plain number is not."""
    made = table_of_job(place, "readings")
    text = write_csv(made.columns, made.rows).decode()
    assert "\"'=1+1, " in text
    assert ",0.5094,in," in text


def test_an_empty_table_has_its_heading() -> None:
    """A job without readings gives a table of no rows, under the same columns."""
    made = table_of_job(Workplace().open(), "readings")
    assert (list(made.rows), made.columns[:2]) == ([], ["entry", "tag"])
    assert read_csv("x.csv", write_csv(made.columns, made.rows)).columns == tuple(made.columns)
