"""The measuring sheet: written on by hand where the computer fails, or filled with every digit as it was typed."""

from __future__ import annotations

import io
from typing import Any

import numpy as np
import pypdfium2
import pytest

from tenthbook.faces.papers import at_head, make_paper
from tenthbook.faces.papers.measuring import measuring_data, measuring_sheet
from tenthbook.faces.papers.typeset import PaperSize
from tests.builders import NOON, PARTS_CSV, SIZES_CSV, STREAM, Workplace, small_book
from tests.printed import dots_of, signs_outside, size_of, words_of

DAY = "2026-10-02"
LEAST_ROW_MM = 8


@pytest.fixture
def place() -> Workplace:
    """A job with a shaft read twice by two gauges, a housing read four times, and a cover not measured."""
    place = Workplace().open()
    shaft, housing = place.remove("part.shaft"), place.remove("part.housing", position="front")
    place.remove("part.cover")
    place.set_gauge("mic-1", "0.0004 in")
    place.set_gauge("mic-2", "0.00010 in")
    place.set_gauge("bore-1", "0.00012 in", "inside")
    place.read(shaft, "size.shaft", "0.5101 in", "mic-1")
    place.read(shaft, "size.shaft", "0.5094 in", "mic-2")
    for value, station, direction in (
        ("0.5130", "front", "along"),
        ("0.5131", "front", "across"),
        ("0.51310", "rear", "along"),
        ("0.5131", "rear", "across"),
    ):
        at = {"tag": housing, "row": "size.bore", "value": f"{value} in", "gauge": "bore-1"}
        place.record("reading taken", {**at, "station": station, "direction": direction})
    return place


def data_of(place: Workplace, *, blank: bool = False) -> dict[str, Any]:
    """What the sheet prints."""
    return measuring_data(at_head(place.bench, STREAM), blank=blank)


def feature_of(place: Workplace, part: str, name: str, *, blank: bool = False) -> dict[str, Any]:
    """One size of one part."""
    found = [one for one in data_of(place, blank=blank)["parts"] if one["name"] == part]
    (feature,) = [one for one in found[0]["features"] if one["name"] == name]
    return dict(feature)


def sheet(place: Workplace, *, blank: bool = False, size: PaperSize = "a4") -> bytes:
    """The paper itself."""
    return measuring_sheet(at_head(place.bench, STREAM), blank=blank, size=size, made_on=DAY)


def test_every_size_of_the_parts_on_the_bench_is_there(place: Workplace) -> None:
    """In the order of the manual's pages, measured or not; a part in the engine is not on the sheet."""
    told = [(one["tag"], [feature["name"] for feature in one["features"]]) for one in data_of(place)["parts"]]
    assert told == [
        ("P-0002-1", ["bore diameter"]),
        ("P-0001-3", ["diameter", "step in the slot"]),
        ("P-0003-0", ["flange thickness", "plug hole diameter"]),
    ]


def test_the_order_is_that_of_the_pages_and_the_references() -> None:
    """Page 2-9 comes before page 2-10, and on one page reference 9 before 10, whatever the ids."""
    lines = SIZES_CSV.splitlines()
    heading = lines[0].replace("id,", "id,ref,")
    rows = [
        "size.a,10,part.plug,tenth,absolute,in,0.2510,0.2515,0.2509,,,2-9,",
        "size.b,9,part.plug,ninth,absolute,in,0.2510,0.2515,0.2509,,,2-9,",
        "size.c,,part.plug,first on the next,absolute,in,0.2510,0.2515,0.2509,,,2-10,",
    ]
    no_fit = "id,name,hole,shaft,kind,unit,new_min,new_max,service_min,service_max,safety,page,note\n"
    place = Workplace().open(small_book(sizes="\n".join([heading, *rows]), fits=no_fit))
    place.remove("part.plug")
    (part,) = data_of(place)["parts"]
    assert [one["name"] for one in part["features"]] == ["ninth", "tenth", "first on the next"]


def test_digits_stand_as_they_were_typed(place: Workplace) -> None:
    """Each reading that counts with its station, direction, gauge and entry; the mean beside them, every digit kept."""
    bore = feature_of(place, "pump housing", "bore diameter")
    assert [(one["value"], one["station"], one["direction"], one["gauge"]) for one in bore["readings"]] == [
        ("0.5130", "front", "along", "bore-1"),
        ("0.5131", "front", "across", "bore-1"),
        ("0.51310", "rear", "along", "bore-1"),
        ("0.5131", "rear", "across", "bore-1"),
    ]
    assert (bore["mean"], bore["verdict"], bore["mark"]) == ("0.513075", "NO LIMIT", "none")


def test_one_reading_has_no_mean_and_an_earlier_gauge_does_not_count(place: Workplace) -> None:
    """What was read before with another gauge stands beside the verdict as not counted, never lost."""
    shaft = feature_of(place, "pump shaft", "diameter")
    assert [one["value"] for one in shaft["readings"]] == ["0.5094"]
    assert (shaft["mean"], shaft["verdict"]) == ("", "BEYOND, below by 0.0004")
    assert shaft["earlier"] == ["0.5101 in with mic-1 (entry 8)"]


def test_a_question_not_answered_is_shown_as_not_counted(place: Workplace) -> None:
    """A reading that may be a slip stands as asked about; the size is not measured."""
    place = Workplace().open()
    shaft = place.remove("part.shaft")
    asked = place.read(shaft, "size.shaft", "0.4844 in")
    assert asked.kind == "question asked"
    told = feature_of(place, "pump shaft", "diameter")
    assert (told["verdict"], told["readings"]) == ("not measured", [])
    assert told["earlier"] == [f"0.4844 in (entry {asked.number}), asked about and not answered"]


def test_the_gauges_stand_with_their_doubt(place: Workplace) -> None:
    """Each gauge on the bench with its expanded uncertainty and factor as they were set."""
    assert [(one["id"], one["doubt"]) for one in data_of(place)["gauges"]] == [
        ("mic-1", "+- 0.0004 in at k = 2"),
        ("mic-2", "+- 0.00010 in at k = 2"),
        ("bore-1", "+- 0.00012 in at k = 2"),
    ]


def test_a_row_that_nobody_read_again_is_marked(place: Workplace) -> None:
    """Limits typed once say so on the sheet, until the row is read a second time."""
    assert feature_of(place, "pump shaft", "diameter", blank=True)["unverified"] is True
    book = place.bench.book(STREAM)
    cells = {"kind": "absolute", "unit": "in", "new_min": "0.5108", "new_max": "0.5114", "service_min": "0.5098"}
    act = {"person": "inspector", "request": "again", "acted_at": NOON}
    place.bench.books.read_again(book, book.rows["sizes"]["size.shaft"], cells, act, {"typed_by": "", "typed_on": ""})
    assert feature_of(place, "pump shaft", "diameter", blank=True)["unverified"] is False
    assert feature_of(place, "pump cover", "flange thickness", blank=True)["unverified"] is True


def test_a_blank_sheet_shows_no_reading(place: Workplace) -> None:
    """What was read already does not stand on it, so that a second reader is blind to it; the limits do."""
    words = " ".join(words_of(sheet(place, blank=True)))
    assert "0.5094" not in words
    assert "0.5101" not in words
    assert "BEYOND" not in words
    for said in ("P-0001-3", "position front", "0.5108 to 0.5114 in", "min 0.5098 in", "6.000 to 6.100 mm", "2-3"):
        assert said in words, said


def test_of_a_job_with_no_part_on_the_bench_the_whole_book_is_printed() -> None:
    """Before the teardown the blank sheet holds every part, with room for its tag."""
    data = data_of(Workplace().open(), blank=True)
    assert [one["name"] for one in data["parts"]] == ["pump housing", "pump shaft", "pump cover", "cover plug"]
    assert {one["tag"] for one in data["parts"]} == {""}
    assert not data["on_bench"]


def test_a_part_without_sizes_is_named() -> None:
    """A part that the book has no size for is said to have none, not left out unseen."""
    place = Workplace().open(small_book(parts=PARTS_CSV + "part.gasket,gasket,oil pump,1,,2-3,\n"))
    place.remove("part.gasket")
    assert data_of(place)["without"] == ["P-0001-3 gasket"]
    assert "No size in the book for: P-0001-3 gasket." in " ".join(words_of(sheet(place)))


@pytest.mark.parametrize(("size", "wide"), [("a4", (297, 210)), ("us-letter", (279, 216))])
@pytest.mark.parametrize("blank", [True, False])
def test_both_sheets_are_tagged_and_stay_inside(
    place: Workplace, size: PaperSize, wide: tuple[int, int], blank: bool
) -> None:
    """Laid across, tagged, the same bytes every time, nothing printed outside the margins."""
    first = sheet(place, blank=blank, size=size)
    assert first == sheet(place, blank=blank, size=size)
    assert b"/StructTreeRoot" in first
    assert size_of(first) == wide
    assert signs_outside(first) == []


def test_numbers_line_up_on_their_points(place: Workplace) -> None:
    """The points of all readings stand under one another, however many figures are before them."""
    cover = next(tag for tag, part in place.state.parts.items() if part.part == "part.cover")
    place.answer(place.read(cover, "size.flange", "16.35 mm").number, "stands")
    points = _points(sheet(place), ("0.5094", "0.51310", "16.35"))
    assert points == [pytest.approx(points[0], abs=0.05)] * 3


def _points(content: bytes, numbers: tuple[str, ...]) -> list[float]:
    """Where the point of each number stands, from the left [pt]."""
    at: list[float] = []
    with pypdfium2.PdfDocument(content) as document:
        for page in document:
            text = page.get_textpage()
            hits = ((number, text.search(number).get_next()) for number in numbers)
            at += [text.get_charbox(hit[0] + number.index("."))[0] for number, hit in hits if hit is not None]
    return at


@pytest.mark.parametrize("size", ["a4", "us-letter"])
def test_every_row_is_tall_enough_to_write_in(place: Workplace, size: PaperSize) -> None:
    """At the last column of readings each row of the sheet is at least 8 mm from line to line."""
    data = data_of(place, blank=True)
    rows = sum(len(part["features"]) for part in data["parts"]) + 6 + len(data["gauges"]) + data["gauge_lines"]
    content = sheet(place, blank=True, size=size)
    tall = [gap for page in range(len(words_of(content))) for gap in _gaps(content, page) if gap >= LEAST_ROW_MM]
    assert len([gap for gap in tall if gap < 2 * LEAST_ROW_MM]) >= rows


def _gaps(content: bytes, page: int) -> list[float]:
    """The light stretches between two lines, down the last column of readings [mm]."""
    per_mm = 8
    dots = dots_of(content, page, per_mm, below=200)
    column = dots[:, -18 * per_mm]
    lines = np.flatnonzero(column)
    return [float(gap) / per_mm for gap in np.diff(lines) if gap > per_mm]


def test_a_long_name_and_sixty_parts_stay_on_the_sheet() -> None:
    """Sixty parts with names of a line and more are printed whole, over as many pages as they need."""
    name = "gear of the pump that drives the other one through the coupling of the rear accessory housing"
    out = io.StringIO()
    out.write(PARTS_CSV)
    sizes = SIZES_CSV
    for number in range(60):
        out.write(f"part.gear-{number},{name} {number},accessory housing,1,,2-5,\n")
        sizes += f"size.g{number},part.gear-{number},{name},absolute,in,1.0000,1.0010,0.9990,,yes,2-5,\n"
    place = Workplace().open(small_book(parts=out.getvalue(), sizes=sizes))
    for number in range(60):
        tag = place.remove(f"part.gear-{number}", position="the rear of the accessory housing, left of the idler")
        place.read(tag, f"size.g{number}", "0.9985 in")
    for blank in (False, True):
        content = sheet(place, blank=blank)
        words = " ".join(words_of(content))
        assert words.count("P-00") >= 60
        assert f"{name} 59" in words
        assert signs_outside(content) == []


def test_it_is_asked_for_by_name(place: Workplace) -> None:
    """The catalogue makes both, and the ledger's words tell them apart."""
    at = at_head(place.bench, STREAM)
    made = [make_paper(at, "measuring-sheet", blank=blank, made_on=DAY) for blank in (False, True)]
    assert [issued_as for issued_as, _ in made] == ["measuring sheet", "measuring sheet, blank"]
    assert made[0][1] == sheet(place)
    assert made[1][1] == sheet(place, blank=True)
