"""A tag says which part it is, to eyes and to a camera, and nothing on it hangs on colour."""

from __future__ import annotations

import dataclasses

import pytest
import segno
from hypothesis import given, settings
from hypothesis import strategies as st

from tenthbook.faces.papers import NoPaper, at_head, make_paper
from tenthbook.faces.papers.tags import TagRow, blank_rows, code_of, tag_rows, tags
from tenthbook.faces.papers.typeset import PaperSize
from tenthbook.record.job import check_digit, tag_holds
from tests.builders import PERSON, STREAM, Workplace
from tests.printed import dots_of, signs_outside, size_of, words_of
from tests.qr_reading import codes_on, format_of, text_of

DAY = "2026-10-02"


@pytest.fixture
def place() -> Workplace:
    """A job with a shaft and a housing on the bench, the shaft with all that can be said of it."""
    place = Workplace().open()
    housing = place.remove("part.housing")
    told = {"mated_with": housing, "as_found": "scored at the rear", "bin": "rack 2", "position": "rear"}
    place.record("part removed", {"part": "part.shaft", "tag": "", **told})
    return place


def paper(place: Workplace, *, blank: bool = False, size: PaperSize = "a4") -> bytes:
    """The tags of a job."""
    return make_paper(at_head(place.bench, STREAM), "tags", blank=blank, size=size, made_on=DAY)[1]


def test_a_tag_says_what_the_entry_said(place: Workplace) -> None:
    """Part, position, mate, how it was found, bin, day and person stand as they were recorded."""
    _, shaft = tag_rows(at_head(place.bench, STREAM))
    told = ("pump shaft", "", "rear", False, "P-0001-3", "scored at the rear", "rack 2", DAY, PERSON)
    assert shaft == TagRow("P-0002-1", *told)


def test_what_is_not_known_is_a_line_to_write_on(place: Workplace) -> None:
    """A label without words stands alone; nothing is printed as none."""
    housing, _ = tag_rows(at_head(place.bench, STREAM))
    assert (housing.position, housing.mated_with, housing.bin) == ("", "", "")
    (words,) = words_of(paper(place))
    assert words.count("runs with") == 2
    assert "runs with P-0001-3" in words


@given(st.integers(0, 999_999))
@settings(max_examples=40)
def test_the_code_holds_the_id_whatever_it_is(number: int) -> None:
    """A reader of our own gets the tag back from the code, whatever mask was chosen."""
    figures = f"{number:04d}"
    tag = f"P-{figures}-{check_digit(figures)}"
    made = segno.make(tag, version=1, error="h", mode="alphanumeric", boost_error=False)
    modules = [list(row) for row in made.matrix]
    assert format_of(modules) == ("H", made.mask)
    assert text_of(modules) == tag


def test_a_wrong_module_is_noticed() -> None:
    """The reader refuses a code in which one module is turned over: what it passes is printed without a fault."""
    made = segno.make("P-0212-6", version=1, error="h", mode="alphanumeric", boost_error=False)
    modules = [list(row) for row in made.matrix]
    modules[20][20] ^= 1
    with pytest.raises(AssertionError, match="do not hold together"):
        text_of(modules)


def test_the_code_is_drawn_with_its_quiet_zone() -> None:
    """Twenty-one modules and four light ones on each side, black on nothing."""
    drawn = code_of("P-0212-6")
    assert 'viewBox="0 0 29 29"' in drawn
    assert drawn.count("stroke=") == 1
    assert 'stroke="#000"' in drawn


@pytest.mark.parametrize("size", ["a4", "us-letter"])
def test_a_camera_reads_every_code_of_the_page(place: Workplace, size: PaperSize) -> None:
    """The page as dots, at 200 to the inch: each code is found by its corner marks and read."""
    assert codes_on(dots_of(paper(place, size=size))) == ["P-0001-3", "P-0002-1"]
    free = [row.tag for row in blank_rows(at_head(place.bench, STREAM))]
    assert codes_on(dots_of(paper(place, blank=True, size=size))) == free


@pytest.mark.parametrize(("size", "sheet"), [("a4", (210, 297)), ("us-letter", (216, 279))])
def test_eight_tags_stand_on_a_page(place: Workplace, size: PaperSize, sheet: tuple[int, int]) -> None:
    """On either sheet eight tags take one page, a ninth goes to the next whole, and nothing leaves the margins."""
    at = at_head(place.bench, STREAM)
    eight, nine = (tags(at, blank_rows(at, count), size=size, made_on=DAY) for count in (8, 9))
    assert size_of(eight) == sheet
    assert (len(words_of(eight)), len(words_of(nine))) == (1, 2)
    assert codes_on(dots_of(nine, 1)) == [blank_rows(at, 9)[-1].tag]
    assert signs_outside(nine) == []


def test_blank_tags_are_the_next_free_ones(place: Workplace) -> None:
    """Their ids follow the last one given, each with a check digit that holds, and nothing else is on them."""
    rows = blank_rows(at_head(place.bench, STREAM), 3)
    assert [row.tag for row in rows] == ["P-0003-0", "P-0004-8", "P-0005-6"]
    assert all(tag_holds(row.tag) for row in rows)
    assert rows[0] == TagRow("P-0003-0")


def test_a_tag_of_a_withdrawn_part_is_not_given_again(place: Workplace) -> None:
    """Once on a tag, an id is gone, even where the part was withdrawn."""
    place.record("withdrawn", {"entry": place.state.parts["P-0002-1"].entry, "reason": "another part"})
    at = at_head(place.bench, STREAM)
    assert [row.tag for row in tag_rows(at)] == ["P-0001-3"]
    assert blank_rows(at, 1)[0].tag == "P-0003-0"


def test_a_long_name_stays_on_its_tag(place: Workplace) -> None:
    """Long words are set smaller and broken, what is longer still is cut with dots; nothing leaves the tag."""
    at = at_head(place.bench, STREAM)
    row = tag_rows(at)[1]
    name = "shaft of the pump that drives the other one, rear, " * 4
    row = dataclasses.replace(row, name=name, as_found="scored " * 150, position="W" * 150, removed_by="x" * 60)
    made = tags(at, [dataclasses.replace(row, bin="behind the door " * 4)], made_on=DAY)
    (words,) = words_of(made)
    assert "shaft of the pump that drives the other one" in words
    assert words.count("...") == 4
    assert signs_outside(made) == []
    assert codes_on(dots_of(made)) == [row.tag]


def test_every_tag_says_that_its_data_are_invented(place: Workplace) -> None:
    """A tag is cut out: each carries the words, beside the strip of the page."""
    (words,) = words_of(paper(place))
    assert words.count("Invented data. Not for any engine.") == 3


def test_a_job_with_no_part_on_the_bench_has_no_tags() -> None:
    """Nothing is printed, and the way on is said."""
    with pytest.raises(NoPaper, match="blank tags with --blank"):
        paper(Workplace().open())


def test_tags_are_a_tagged_pdf_the_same_every_time(place: Workplace) -> None:
    """One job and one day make one row of bytes, marked for a screen reader, the codes with words."""
    first = paper(place)
    assert first == paper(place)
    assert b"/StructTreeRoot" in first
