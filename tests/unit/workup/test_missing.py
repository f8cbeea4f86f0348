"""What this job needs from the manual now, apart from what is not yet needed."""

from __future__ import annotations

from tenthbook.record.book import draft_again
from tenthbook.record.book.findings import At, CheckRule, Finding, Weight
from tenthbook.record.workup import Missing, missing_for
from tenthbook.record.workup.missing import RULES, touched_rows
from tests.builders import PARTS_CSV, STREAM, Workplace, book_files, small_book

LOST = CheckRule(
    id="test.lost",
    says="x",
    source="x",
    holds=lambda name: bool(name),
    passes={"name": "a"},
    fails={"name": ""},
    weight=Weight.MISSING,
)


def finding(place: str, row: str) -> Finding:
    """A name that leads nowhere, in a row."""
    return At(place, row).breaks(LOST, "sold_in", "set.pump")


def asked(place: Workplace, *findings: Finding) -> Missing:
    """What is missing for the job at its head."""
    state, book, work = place.bench.look(STREAM)
    return missing_for(book, state, work, findings)


def test_a_name_that_leads_nowhere_is_missing_only_where_the_job_touches_it() -> None:
    """The same finding is not yet needed while its part is on no bench."""
    place = Workplace().open()
    shaft, cover = finding("parts:2", "part.shaft"), finding("parts.csv:4", "part.cover")
    assert asked(place, shaft, cover) == Missing((), (), (shaft, cover))
    place.remove("part.shaft")
    assert (asked(place, shaft, cover).rows, asked(place, shaft, cover).later) == ((shaft,), (cover,))


def test_what_is_wrong_is_neither_missing_nor_later() -> None:
    """A wrong row is the checker's, whatever the job needs."""
    place = Workplace().open()
    place.remove("part.shaft")
    wrong = Finding("parts:2", "", "part.shaft", "x", "x", "", "test.wrong", Weight.WRONG)
    assert asked(place, wrong) == Missing((), (), ())


def test_a_job_touches_its_parts_their_sizes_their_fits_and_what_tightens_them() -> None:
    """From a part to its rows, one step on; nothing of parts that stay in the engine."""
    joints = (
        "id,joint,role,number,part,unit,x,y,view,page\n"
        "pos.1,cover joint,fastener,1,part.plug,in,0.5,0.5,view.rear,2-6\n"
        "pos.2,other joint,fastener,1,part.housing,in,0.5,0.5,view.rear,2-6\n"
    )
    torques = "id,joint,thread,unit,threads_are,page\ntorque.1,cover joint,1/4-28,lbf.in,dry,2-6\n"
    place = Workplace().open(small_book(joints=joints, torques=torques))
    place.remove("part.plug")
    state, book, _ = place.bench.look(STREAM)
    assert touched_rows(book, state) == {
        ("parts", "part.plug"),
        ("sizes", "size.plug"),
        ("fits", "fit.plug"),
        ("joints", "pos.1"),
        ("torques", "torque.1"),
    }


def test_a_part_without_a_size_or_an_inspection_is_named() -> None:
    """There is nothing to measure on it until its rows are typed; an inspection is enough."""
    parts = PARTS_CSV + "part.key,key,oil pump,1,,2-5,\n"
    place = Workplace().open(small_book(parts=parts))
    tag = place.remove("part.key")
    (line,) = asked(place).now
    assert (line.place, line.because.rule, line.because.rows[0].page) == (
        f"{tag} key",
        "missing.nothing-to-measure",
        "2-5",
    )
    place.bench.type_row(
        STREAM, "inspections", {"id": "look.key", "part": "part.key", "what": "look", "page": "2-5"}, **place.act()
    )
    assert asked(place).now == ()


def test_a_measured_size_without_a_limit_is_named_unless_a_fit_settles_it() -> None:
    """Dashes in the row are no limit; a fit with a verdict is one."""
    place = Workplace().open()
    shaft = place.remove("part.shaft")
    place.read(shaft, "size.slot", "0.0010 in")
    place.read(place.remove("part.housing"), "size.bore", "0.5140 in")
    assert [(line.place, line.because.rule) for line in asked(place).now] == [
        (f"{shaft} step in the slot", "missing.limit"),
        ("P-0002-1 bore diameter", "missing.limit"),
    ]
    place.read(shaft, "size.shaft", "0.5110 in")
    assert [line.place for line in asked(place).now] == [f"{shaft} step in the slot"]


def test_the_checker_of_a_jobs_book_names_rows_by_table_and_number() -> None:
    """A book that was kept has no files: a place is table and number, by id."""
    rows = draft_again(Workplace().open().bench.book(STREAM)).rows
    assert rows["sizes"]["size.shaft"].place == "sizes:5"  # a kept book has its rows by id
    assert [rule.id for rule in RULES] == ["missing.nothing-to-measure", "missing.limit"]
    assert set(book_files()) >= {"book.toml", "torques.csv"}
