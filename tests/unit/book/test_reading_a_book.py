"""From files to a book, or every fault with its file and line."""

from __future__ import annotations

import pytest

from tenthbook.numbers.because import WrongInput
from tenthbook.numbers.quantity import quantity
from tenthbook.record.book import TABLES, read_book
from tests.builders import BOOK_TOML, FITS_CSV, PARTS_CSV, SIZES_CSV, book_files, small_book

SHAFT_ROW = "size.shaft,part.shaft,diameter,absolute,in,0.5108,0.5114,0.5098,,yes,2-2,"


def faults(**changed: str) -> list[str]:
    """All that is wrong with the small book when a file of it is changed."""
    with pytest.raises(WrongInput) as caught:
        read_book(book_files(**changed))
    return [str(fault) for fault in caught.value.faults]


def shaft_row(changed: str) -> str:
    """The table of sizes with another row for the shaft."""
    assert SHAFT_ROW in SIZES_CSV
    return SIZES_CSV.replace(SHAFT_ROW, changed)


def test_a_book_knows_what_its_files_say() -> None:
    """Head, parts, sizes and fits stand as typed."""
    book = small_book()
    assert (book.type, book.invented, book.head["revision"]) == ("Test engine", True, "1, 1 January 2026")
    assert (book.parts["part.shaft"].sold_in, book.parts["part.shaft"].quantity) == ("set.pump", 1)
    shaft = book.sizes["size.shaft"]
    assert (str(shaft.limits.new), str(shaft.limits.service), shaft.safety, shaft.page) == (
        "0.5108 to 0.5114 in",
        "0.5098 in or more",
        True,
        "2-2",
    )
    assert str(book.sizes["size.flange"].limits.new) == "6.000 to 6.100 mm"


def test_a_blank_limit_is_no_limit() -> None:
    """A row of dashes gives no limit, and never nought."""
    limits = small_book().sizes["size.slot"].limits
    assert (limits.new.given, limits.service.given) == (False, False)


def test_letters_in_a_fit_are_tight_and_loose() -> None:
    """0.0015T is a clearance of minus 0.0015."""
    fit = small_book().fits["fit.plug"]
    assert (fit.limits.new.lower, fit.limits.service.upper) == (quantity("-0.0015 in"), quantity("-0.0002 in"))


def test_a_book_answers_what_is_measured_on_a_part_and_which_fits_a_size_has() -> None:
    """Sizes of a part and fits of a size come in the book's order."""
    book = small_book()
    assert [size.id for size in book.sizes_of("part.shaft")] == ["size.shaft", "size.slot"]
    assert [fit.id for fit in book.fits_of("size.plug")] == ["fit.plug"]
    assert book.fits_of("size.flange") == []


def test_a_missing_column_that_may_be_blank_is_blank() -> None:
    """A book without notes or safety flags is a book."""
    lines = [line.rsplit(",", 1)[0] for line in PARTS_CSV.splitlines()]
    assert small_book(parts="\n".join(lines)).parts["part.shaft"].note == ""


def test_missing_files_are_all_named() -> None:
    """Each file that is not there is a fault."""
    files = book_files()
    del files["sizes.csv"], files["book.toml"]
    with pytest.raises(WrongInput) as caught:
        read_book(files)
    assert [fault.path for fault in caught.value.faults] == ["book.toml", "sizes.csv"]


@pytest.mark.parametrize(
    ("row", "fault"),
    [
        (
            "size.shaft,part.shaft,diameter,absolute,in,0.5114,0.5108,,,,2-2,",
            "sizes.csv:3: new_min: found 0.5114 to 0.5108 in; expected a least is not above its greatest",
        ),
        (
            "size.shaft,part.shaft,diameter,none,in,0.5108,,,,,2-2,",
            "sizes.csv:3: kind: found none with something in new_min; expected for none: no limit at all",
        ),
        (
            "size.shaft,part.shaft,diameter,absolute,in,,,,,,2-2,",
            "sizes.csv:3: kind: found absolute with nothing in a limit; expected for absolute: perhaps new_min",
        ),
        (
            "size.shaft,part.shaft,diameter,wear,in,0.5108,,,,,2-2,",
            "sizes.csv:3: kind: found 'wear'; expected one of absolute, wear from new",
        ),
        (
            "size.shaft,part.shaft,diameter,absolute,degC,0.5108,,,,,2-2,",
            "sizes.csv:3: unit: found degC, a temperature; expected length or force or mass",
        ),
        (
            "size.shaft,part.shaft,diameter,absolute,in,0.5108,,,,no,2-2,",
            "sizes.csv:3: safety: found 'no'; expected yes or nothing",
        ),
        (
            "size.shaft,part.shaft,diameter,absolute,in,0.5108,,,,,,",
            "sizes.csv:3: page: found nothing; expected page of the manual",
        ),
        (
            "size.shaft,part.axle,diameter,absolute,in,0.5108,,,,,2-2,",
            "sizes.csv:3: part: found part.axle; expected an id of parts",
        ),
        (
            "size.bore,part.shaft,diameter,absolute,in,0.5108,,,,,2-2,",
            "sizes.csv:3: id: found size.bore again; expected each id once",
        ),
        (
            'size.shaft,part.shaft,diameter,absolute,in,"0,5108",,,,,2-2,',
            "sizes.csv:3: new_min: found '0,5108'; expected a number is written with a decimal point",
        ),
        (
            "size.shaft,part.shaft,diameter,absolute,in,0.5108T,,,,,2-2,",
            "sizes.csv:3: new_min: found '0.5108T'; expected a number",
        ),
    ],
)
def test_a_wrong_row_is_named_with_line_and_column(row: str, fault: str) -> None:
    """Each kind of slip in a row of sizes says where, what and what belongs there."""
    assert any(found.startswith(fault) for found in faults(sizes=shaft_row(row))), faults(sizes=shaft_row(row))


def test_a_service_limit_on_the_wrong_side_of_the_new_one_is_refused() -> None:
    """A greatest service size below the least new one is no band, told when the book is read, not at the bench."""
    found = faults(sizes=shaft_row("size.shaft,part.shaft,diameter,absolute,in,0.5108,0.5114,,0.0510,,2-2,"))
    assert any(fault.startswith("sizes.csv:3: service") for fault in found)


@pytest.mark.parametrize("quantity_text", ["0", "-1", "1.0", "two", "\u0663", "9" * 5000])
def test_a_quantity_is_a_whole_number_from_one(quantity_text: str) -> None:
    """Nought, a sign, a fraction, a word and a number without end are no quantity."""
    found = faults(parts=PARTS_CSV.replace("accessory housing,1,", f"accessory housing,{quantity_text},"))
    assert [fault.partition("found")[0] for fault in found] == ["parts.csv:2: quantity: "]
    assert found[0].endswith("; expected a whole number from 1")


def test_a_fit_names_two_sizes_of_the_book() -> None:
    """A hole or shaft that no row describes is refused."""
    found = faults(fits=FITS_CSV.replace("size.bore,size.shaft", "size.bush,size.shafts"))
    assert found == [
        "fits.csv:2: hole: found size.bush; expected an id of sizes",
        "fits.csv:2: shaft: found size.shafts; expected an id of sizes, perhaps size.shaft",
    ]


def test_a_slip_in_a_heading_is_answered_with_the_column_meant() -> None:
    """An unknown column and the one it leaves missing are both told."""
    found = faults(sizes=SIZES_CSV.replace("feature", "featur"))
    assert found[:2] == [
        "sizes.csv:1: featur: found column 'featur'; expected feature, perhaps",
        "sizes.csv:1: feature: found no column feature; expected a column feature",
    ]


@pytest.mark.parametrize(
    ("toml", "fault"),
    [
        (BOOK_TOML.replace("invented = true", ""), "book.toml: invented: found nothing; expected true for a book"),
        (BOOK_TOML.replace("= true", '= "true"'), "book.toml: invented: found 'true'; expected true or false"),
        (BOOK_TOML.replace('"Test engine"', "4"), "book.toml: type: found 4; expected text in quotation marks"),
        (BOOK_TOML + 'maker = "x"\n', "book.toml: maker: found an unknown name; expected one of type, manual"),
        ("type = ", "book.toml: found "),
    ],
)
def test_a_wrong_head_is_refused(toml: str, fault: str) -> None:
    """A book says what it is for and whether it is invented, in the right form."""
    assert any(found.startswith(fault) for found in faults(book=toml))


def test_faults_of_all_tables_come_at_once() -> None:
    """One reading shows what is wrong everywhere."""
    found = faults(
        parts=PARTS_CSV.replace(",1,,2-1", ",0,,2-1"),
        sizes=shaft_row("size.shaft,part.shaft,diameter,absolute,in,0.5108,x,,,maybe,2-2,"),
    )
    assert [fault.split(": ")[0:2] for fault in found] == [
        ["parts.csv:2", "quantity"],
        ["sizes.csv:3", "new_max"],
        ["sizes.csv:3", "safety"],
    ]


@pytest.mark.parametrize("table", sorted(TABLES))
def test_every_column_says_what_belongs_in_it(table: str) -> None:
    """A table explains itself, and its first column is the id."""
    assert all(len(column.says) > 10 for column in TABLES[table])
    assert TABLES[table][0].name == "id"
