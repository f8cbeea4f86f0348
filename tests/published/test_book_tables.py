"""Tables of limits in US Army technical manuals, typed as books and checked.

TM 5-2410-237-23, work package 0245, engine oil pump, inspection steps 5 to 7; TM 5-4310-354-14, table 5-2, oil pump;
single rows, as retrieved, of TM 10-3930-653-14&P, TM 5-6115-584-34 and a public page of limits in two units; kinds of
limit of TM 10-3930-647-14&P, TM 5-6115-545-34, TM 5-6115-584-34 and TM 10-3930-653-14&P, and a row of
TM 5-3820-233-35/2.

Read (ground equipment, public domain). Which sizes the single rows and the kinds belong to is invented here, and so are
pages. What a manual prints must pass; a row that contradicts itself must be found. Comparison is exact; the one
tolerance is named where it stands.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from tenthbook.numbers.limit import Known, resolve
from tenthbook.numbers.quantity import quantity
from tenthbook.record.book import read_book
from tenthbook.record.book.checks import check
from tenthbook.record.book.drafting import Draft
from tenthbook.record.book.findings import Weight
from tenthbook.record.book.reading import draft_book
from tests.builders import book_files

PART_HEAD = "id,name,where_used,quantity,page"
SIZE_HEAD = (
    "id,part,feature,measure,kind,unit,new_min,new_max,service_min,service_max,amount,side,reference,"
    "other_unit,other_new_min,other_new_max,page"
)
FIT_HEAD = (
    "id,name,hole,shaft,measure,kind,unit,new_min,new_max,service_min,service_max,other_unit,other_new_min,"
    "other_new_max,other_service_max,page"
)
PUMP_PARTS = f"""{PART_HEAD}
part.body,oil pump body,oil pump,1,0245
part.shaft,shaft,oil pump,1,0245
part.bearing,bearing,oil pump,2,0245
part.gear,gear,oil pump,2,0245
"""
LAST_PRINTED_DIGIT = "0.001"  # mm: the millimetres of T1 are rounded conversions

T1_INCH_SIZES = f"""{SIZE_HEAD}
size.bearing-id,part.bearing,idler bearing ID,bore,absolute,in,1.1241,1.1279,,,,,,mm,28.552,28.648,0245
size.shaft-od,part.shaft,idler shaft OD,diameter,absolute,in,1.1220,1.1230,,,,,,mm,28.499,28.525,0245
size.drive-bearing,part.bearing,drive bearing ID,bore,absolute,in,0.8760,0.8766,,,,,,,,,0245
size.drive-shaft,part.shaft,drive shaft OD,diameter,absolute,in,0.8745,0.8749,,,,,,,,,0245
size.body-depth,part.body,depth,depth,absolute,in,1.5030,1.5046,,,,,,,,,0245
size.gear-length,part.gear,length,length,absolute,in,1.4978,1.4998,,,,,,,,,0245
"""
T1_INCH_FITS = f"""{FIT_HEAD}
fit.idler,idler,size.bearing-id,size.shaft-od,clearance on diameter,absolute,in,0.0011,0.0059,,,mm,0.028,0.150,,0245
fit.drive,drive,size.drive-bearing,size.drive-shaft,clearance on diameter,absolute,in,0.0011,0.0021,,,,,,,0245
fit.ends,gear ends to pump body,size.body-depth,size.gear-length,end clearance,absolute,in,0.0032,0.0068,,,,,,,0245
"""
T1_MM_SIZES = f"""{SIZE_HEAD}
size.bearing-id,part.bearing,inside diameter,bore,absolute,mm,28.552,28.648,,,,,,in,1.1241,1.1279,0245
size.shaft-od,part.shaft,outside diameter,diameter,absolute,mm,28.499,28.525,,,,,,in,1.1220,1.1230,0245
"""
T1_MM_FITS = f"""{FIT_HEAD}
fit.idler,idler,size.bearing-id,size.shaft-od,clearance on diameter,absolute,mm,0.028,0.150,,,in,0.0011,0.0059,,0245
"""
T2_SIZES = f"""{SIZE_HEAD}
size.shaft-bore,part.body,shaft bore diameter,bore,wear from new,in,0.6255,0.6265,,,0.0030,greatest,new greatest,,,,5-2
size.gear-bore,part.body,gear bore diameter,bore,wear from new,in,1.5005,1.5015,,,0.0050,greatest,new greatest,,,,5-2
size.bore-depth,part.body,gear bore depth,depth,wear from new,in,1.5640,1.5650,,,0.0040,greatest,new greatest,,,,5-2
size.shaft,part.shaft,shaft diameter,diameter,wear from new,in,0.6240,0.6245,,,0.0020,least,new least,,,,5-2
size.gear,part.gear,outside diameter,diameter,wear from new,in,1.4975,1.4985,,,0.0020,least,new least,,,,5-2
size.gear-length,part.gear,length,length,absolute,in,1.5610,1.5620,,,,,,,,,5-2
"""
T2_FITS = f"""{FIT_HEAD}
fit.shaft,shaft in body,size.shaft-bore,size.shaft,clearance on diameter,absolute,in,0.0010,0.0025,,0.0060,,,,,5-2
fit.gear,gear in body bore,size.gear-bore,size.gear,clearance on diameter,absolute,in,0.0020,0.0040,,0.0070,,,,,5-2
"""
TABLES_AS_BOOKS = [
    pytest.param(T1_INCH_SIZES, T1_INCH_FITS, id="TM 5-2410-237-23 in inches"),
    pytest.param(T1_MM_SIZES, T1_MM_FITS, id="TM 5-2410-237-23 in millimetres"),
    pytest.param(T2_SIZES, T2_FITS, id="TM 5-4310-354-14"),
]


def draft(sizes: str, fits: str = FIT_HEAD, parts: str = PUMP_PARTS) -> Draft:
    """A book of typed tables."""
    return draft_book(book_files(parts=parts, sizes=sizes, fits=fits))


def rules_against(book: Draft) -> list[str]:
    """The rules by which anything of a book is wrong or asked about; what is only missing yet is left out."""
    return sorted(finding.rule for finding in check(book) if finding.weight is not Weight.MISSING)


@pytest.mark.parametrize(("sizes", "fits"), TABLES_AS_BOOKS)
def test_nothing_is_asked_about_a_sound_printed_table(sizes: str, fits: str) -> None:
    """T1, T2: what the two manuals print, in inches, in both units, in millimetres, with wear allowances, passes."""
    assert rules_against(draft(sizes, fits)) == []


@pytest.mark.parametrize(("sizes", "fits"), [TABLES_AS_BOOKS[0], TABLES_AS_BOOKS[2]])
def test_every_printed_clearance_is_what_the_printed_sizes_make(sizes: str, fits: str) -> None:
    """T1, T2: in inches each clearance is the extremes of its two sizes, digit for digit."""
    book = draft(sizes, fits)
    for fit in book.of("fits"):
        hole, shaft = (book.limits("sizes", fit.text(column)).new for column in ("hole", "shaft"))
        ends = (hole.lower, shaft.upper), (hole.upper, shaft.lower)
        made = [str(outer.number - inner.number) for outer, inner in ends if outer and inner]
        assert made == [fit.text("new_min"), fit.text("new_max")]


def test_printed_millimetres_need_one_last_digit_and_only_beside_their_inches() -> None:
    """T1: 0.028 to 0.150 mm is printed where the sizes make 0.027 to 0.149: one last digit, let pass in two units."""
    book = draft(T1_MM_SIZES, T1_MM_FITS)
    limits = [book.limits("sizes", row).new for row in ("size.bearing-id", "size.shaft-od")]
    assert [str(band) for band in limits] == ["28.552 to 28.648 mm", "28.499 to 28.525 mm"]
    assert Decimal("0.028") - (Decimal("28.552") - Decimal("28.525")) == Decimal(LAST_PRINTED_DIGIT)
    assert Decimal("0.150") - (Decimal("28.648") - Decimal("28.499")) == Decimal(LAST_PRINTED_DIGIT)
    inches = (",in,1.1241,1.1279,", ",in,1.1220,1.1230,", ",in,0.0011,0.0059,")
    sizes, fits = T1_MM_SIZES, T1_MM_FITS
    for cells in inches:
        sizes, fits = sizes.replace(cells, ",,,,"), fits.replace(cells, ",,,,")
    assert rules_against(draft(sizes, fits)) == ["book.fit-from-sizes"]
    further = T1_MM_FITS.replace("0.028", "0.029").replace("0.0011", "0.00114")
    assert rules_against(draft(T1_MM_SIZES, further)) == ["book.fit-from-sizes"]


@pytest.mark.parametrize(
    ("printed", "typed", "rule"),
    [
        pytest.param("0.0025", "0.0052", "book.fit-from-sizes", id="figures changed over"),
        pytest.param("0.0010,0.0025", "0.0025T,0.0010T", "book.fit-letter", id="T for L"),
        pytest.param("0.0010,0.0025,,0.0060", "0.0005,0.00125,,0.0060", "book.fit-half", id="half of it"),
        pytest.param("0.0060", "0.060", "book.service-far-from-new", id="a nought lost"),
    ],
)
def test_a_slip_in_a_printed_table_is_found(printed: str, typed: str, rule: str) -> None:
    """T2 with one slip is asked about by the rule for that slip, and by no other."""
    changed = T2_FITS.replace(f",{printed},", f",{typed},", 1)
    assert changed != T2_FITS
    assert rules_against(draft(T2_SIZES, changed)) == [rule]


CRANK_SIZES = f"""{SIZE_HEAD}
size.bearing,part.bearing,bearing inside diameter,,none,mm,,,,,,,,,,,12
size.pin,part.shaft,crank pin diameter,,none,mm,,,,,,,,,,,12
"""


def clearance(cells: str) -> Draft:
    """A book with one fit of the crank pin."""
    return draft(CRANK_SIZES, f"{FIT_HEAD}\nfit.pin,crank pin clearance,size.bearing,size.pin,,absolute,{cells},12\n")


@pytest.mark.parametrize(
    ("cells", "rules"),
    [
        pytest.param(
            "mm,0.01,0.066,,0.03,in,,0.0026,0.0012", ["book.service-outside-new"], id="0.03 inside 0.01 to 0.066"
        ),
        pytest.param("mm,0.01,0.066,,,in,,0.0026,", [], id="0.066 mm is 0.0026 in"),
        pytest.param('in,,,,"0,0057",,,,', ["book.decimal-comma"], id="0,0057"),
        pytest.param("in,,,,0.0057,,,,", [], id="0.0057"),
        pytest.param(
            "in,0.0030,0.0042,,,mm,0.75,0.107,",
            ["book.other-unit-order", "book.units-agree"],
            id="0.75 to 0.107 mm beside inches",
        ),
        pytest.param(
            "mm,0.75,0.107,,,in,0.0030,0.0042,",
            ["book.least-first", "book.units-agree"],
            id="0.75 to 0.107 mm judged by",
        ),
        pytest.param("in,00098,0.0118,,,mm,0.25,0.30,", ["book.point-lost"], id="00098"),
        pytest.param("in,0.0098,0.0118,,,mm,0.25,0.30,", [], id="0.0098"),
    ],
)
def test_a_printed_row_that_contradicts_itself_is_found(cells: str, rules: list[str]) -> None:
    """T3: each such row is named by its rule, and its right neighbours are not."""
    assert rules_against(clearance(cells)) == rules


@pytest.mark.parametrize(("inches", "rules"), [("2.937", ["book.units-agree"]), ("3.937", [])])
def test_a_length_printed_in_two_units_is_compared(inches: str, rules: list[str]) -> None:
    """T3: a bend per 100 mm or 2.937 in is asked about; 100 mm is 3.937 in."""
    sizes = f"""id,part,feature,kind,unit,new_max,amount,per,over,other_unit,other_per,page
size.rod,part.shaft,length between centres,absolute,mm,155.0,,,,,,12
size.bend,part.shaft,bend,per length,mm,,0.05,100,size.rod,in,{inches},12
"""
    book = draft(sizes)
    assert rules_against(book) == rules
    for finding in (one for one in check(book) if one.rule == "book.units-agree"):
        assert finding.found == "100 mm beside 2.937 in; 100 mm is 3.93701 in"


@pytest.mark.parametrize(("millimetres", "inches"), [("0.066", "0.0026"), ("9.500", "0.374"), ("10.000", "0.3937")])
def test_rightly_rounded_neighbours_are_left_alone(millimetres: str, inches: str) -> None:
    """T3: three pairs of figures in two units agree within half a last digit of each."""
    cells = f"size.a,part.shaft,height,,absolute,mm,,{millimetres},,,,,,in,,{inches},12"
    assert rules_against(draft(f"{SIZE_HEAD}\n{cells}\n")) == []


KINDS_HEAD = (
    "id,part,feature,kind,unit,new_min,new_max,service_min,service_max,amount,side,reference,per,over,per_cent,times,"
    "of_row,ribbon,condition,list,within,page"
)
KINDS = f"""{KINDS_HEAD}
size.absolute,part.shaft,outside diameter,absolute,in,0.6240,0.6245,,,,,,,,,,,,,,,12
size.service,part.bearing,inside diameter,absolute,in,,,,0.6300,,,,,,,,,,,,,12
size.total-wear,part.shaft,journal diameter,wear from new,in,,,,,0.001,least,this part when new,,,,,,,,,,12
size.over-high,part.body,bore diameter,wear from new,in,1.5005,1.5015,,,0.005,greatest,new greatest,,,,,,,,,,12
size.per-diameter,part.body,clearance of the skirt,per diameter,in,,,,,0.0005,,,1,size.absolute,,,,,,,,12
size.per-travel,part.shaft,straightness of travel,per length,in,,,,,0.0005,,,1,size.absolute,,,,,,,,12
size.share,part.gear,groove width,share of original,in,,,,,,,,,,+15,,,,,,,12
size.taper,part.shaft,taper of a new shaft,absolute,in,,0.0005,,,,,,,,,,,,,,,12
size.multiple,part.shaft,taper in service,multiple,in,,,,,,,,,,,2,size.taper,,,,,12
size.feel,part.body,clearance by feel,feel,in,,,,,,,,,,,,,0.0050,,,,12
size.condition,part.gear,rings,condition,in,,,,,,,,,,,,,,replace if disturbed after 50 h,,,12
size.dashes,part.gear,backlash,none,in,,,,,,,,,,,,,,,,,12
size.shims,part.gear,shim thickness,one of,in,,,,,,,,,,,,,,,0.005; 0.010,0.0002,12
size.not-here,part.gear,key width,not applicable,in,,,,,,,,,,,,,,,,,12
"""
PRESS_OR_LOOSE = f"""{FIT_HEAD}
fit.press,shaft in bearing,size.service,size.absolute,,absolute,in,0.0005T,0.0010L,,,,,,,12
"""


def test_a_row_of_each_kind_resolves_as_its_words_say() -> None:
    """T4: from the typed cells each of the twelve kinds comes to its limit, its question, or to none."""
    files = book_files(parts=PUMP_PARTS, sizes=KINDS, fits=PRESS_OR_LOOSE)
    book = read_book(files)
    known = Known(
        original=quantity("0.4990 in"),
        diameter=quantity("2.3750 in"),
        length=quantity("4.25 in"),
        found=quantity("0.0101 in"),
        rows={name: size.limits for name, size in book.sizes.items()},
    )
    resolved = {name.removeprefix("size."): resolve(size.said, known) for name, size in book.sizes.items()}
    assert str(resolved["absolute"].limits.new) == "0.6240 to 0.6245 in"
    service = {name: str(one.limits.service) for name, one in resolved.items() if one.limits.service.given}
    assert service == {
        "service": "0.6300 in or less",
        "total-wear": "0.4980 in or more",
        "over-high": "1.5065 in or less",
        "per-diameter": "0.0011875 in or less",
        "per-travel": "0.002125 in or less",
        "share": "0.57385 in or less",
        "multiple": "0.0010 in or less",
        "shims": "0.0098 to 0.0102 in",
    }
    assert [name for name, one in resolved.items() if one.question] == ["feel", "condition"]
    assert [name for name, one in resolved.items() if not one.applies] == ["not-here"]
    assert not resolved["dashes"].limits.new.given


def test_nothing_is_asked_about_the_kinds_as_they_are_printed() -> None:
    """T4: kinds of limit in the words of the manuals, and a fit 0.0005 press to 0.0010 loose, are no slips."""
    book = draft(KINDS, PRESS_OR_LOOSE)
    assert rules_against(book) == []
    assert str(book.limits("fits", "fit.press").new) == "-0.0005 to 0.0010 in"
