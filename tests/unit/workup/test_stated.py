"""Each of the twelve kinds of limit, from the book's row to the verdict on a measured part."""

from __future__ import annotations

import pytest

from tenthbook.record.book import read_book
from tenthbook.record.workup import SizeVerdict, headline
from tests.builders import Workplace, book_files

PARTS = """id,name,where_used,quantity,page
part.shaft,shaft,pump,1,1-1
part.rod,rod,crank,1,1-1
part.cover,cover,pump,1,1-1
"""
COLUMNS = (
    "id,part,feature,measure,kind,unit,new_min,new_max,service_min,service_max,amount,side,reference,per,over,"
    "per_cent,times,of_row,ribbon,condition,list,within,reckoned,page"
)
ROWS = {
    "absolute": "new_min=0.5108 new_max=0.5114 service_min=0.5098",
    "service only": "kind=absolute service_max=0.0040",
    "over high limit": "kind=wear_from_new new_min=0.6255 new_max=0.6265 "
    "amount=0.0030 side=greatest reference=new_greatest",
    "under low limit": "kind=wear_from_new new_min=0.6240 new_max=0.6245 amount=0.0020 side=least reference=new_least",
    "total wear": "kind=wear_from_new new_min=0.6240 new_max=0.6245 "
    "amount=0.001 side=least reference=this_part_when_new",
    "per diameter": "kind=per_diameter amount=0.0005 per=1 over=row.absolute",
    "per length": "kind=per_length part=part.rod amount=0.002 per=10 over=row.length",
    "length": "part=part.rod kind=absolute new_min=6.000 new_max=6.010",
    "share": "kind=share_of_original per_cent=+15",
    "multiple": "kind=multiple times=2 of_row=row.taper",
    "taper": "kind=absolute new_max=0.0005 measure=taper",
    "feel": "kind=feel ribbon=0.0050",
    "condition": "kind=condition condition=replace_if_disturbed_after_50_h",
    "none": "kind=none",
    "one of": "kind=one_of list=0.500;0.490;0.480 within=0.001",
    "not applicable": "kind=not_applicable",
    "half": "kind=absolute service_max=0.0020 reckoned=half measure=run-out",
}


def row_of(name: str) -> str:
    """One line of the table of sizes."""
    stated = {"id": f"row.{name.replace(' ', '-')}", "part": "part.shaft", "feature": name, "kind": "absolute"}
    stated |= {"unit": "in", "page": "1-2"}
    for pair in ROWS[name].split():
        column, _, value = pair.partition("=")
        stated[column] = value.replace("_", " ")
    return ",".join(stated.get(column, "") for column in COLUMNS.split(","))


def place() -> Workplace:
    """A job with a book that states every kind."""
    sizes = "\n".join([COLUMNS, *(row_of(name) for name in ROWS)])
    files = book_files(parts=PARTS, sizes=sizes, fits="id,name,hole,shaft,kind,unit,page\n")
    return Workplace().open(read_book(files))


def judged(row: str, value: str, *before: tuple[str, str]) -> SizeVerdict:
    """The verdict on one feature, with other features of the same parts read before."""
    at_bench = place()
    tags = {part: at_bench.remove(part) for part in ("part.shaft", "part.rod")}
    book = at_bench.bench.book("job-1")
    for name, read in (*before, (row, value)):
        entry = at_bench.read(tags[book.sizes[f"row.{name}"].part], f"row.{name}", read)
        if entry.kind == "question asked":
            at_bench.answer(entry.number, "stands")
    found = at_bench.work_up().size(tags[book.sizes[f"row.{row}"].part], f"row.{row}")
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("row", "value", "before", "verdict", "working"),
    [
        ("absolute", "0.5100 in", (), "IN SERVICE LIMITS, margin 0.0002", ""),
        ("service-only", "0.0041 in", (), "BEYOND, above by 0.0001", ""),
        (
            "over-high-limit",
            "0.6295 in",
            (),
            "IN SERVICE LIMITS, margin 0.0000",
            "new greatest 0.6265 in + wear 0.0030 in = service greatest 0.6295 in",
        ),
        (
            "under-low-limit",
            "0.6219 in",
            (),
            "BEYOND, below by 0.0001",
            "new least 0.6240 in - wear 0.0020 in = service least 0.6220 in",
        ),
        ("total-wear", "0.6238 in", (), "NO LIMIT", "no size when new: the limit cannot be worked out"),
        (
            "per-diameter",
            "0.0003 in",
            (("absolute", "0.5100 in"),),
            "BEYOND, above by 0.000045",
            "0.0005 in per 1 in of diameter x 0.5100 in = service greatest 0.000255 in",
        ),
        ("per-diameter", "0.0002 in", (), "NO LIMIT", "no diameter (row.absolute): the limit cannot be worked out"),
        (
            "per-length",
            "0.0012 in",
            (("length", "6.000 in"),),
            "IN SERVICE LIMITS, margin 0.0000",
            "0.002 in per 10 in of length x 6.000 in = service greatest 0.0012 in",
        ),
        ("share", "0.1150 in", (), "NO LIMIT", "no size when new: the limit cannot be worked out"),
        (
            "multiple",
            "0.0011 in",
            (),
            "BEYOND, above by 0.0001",
            "2 x new greatest 0.0005 in of row row.taper = service greatest 0.0010 in",
        ),
        ("feel", "0.0050 in", (), "NO LIMIT", "Is a pull felt on a ribbon 0.0050 in thick?"),
        ("condition", "0.0050 in", (), "NO LIMIT", "The row says: replace if disturbed after 50 h. Is that so here?"),
        ("none", "0.0050 in", (), "NO LIMIT", "the book gives no limit"),
        (
            "one-of",
            "0.4895 in",
            (),
            "IN SERVICE LIMITS, margin 0.0005",
            "nearest of the list 0.490 in, within 0.001 in: 0.489 to 0.491 in",
        ),
        ("one-of", "0.485 in", (), "BEYOND, above by 0.004", "nearest of the list 0.4"),
        ("not-applicable", "0.5 in", (), "NO LIMIT", "the row does not apply to this part"),
        ("half", "0.0041 in", (), "BEYOND, above by 0.0001", "twice the printed limit is the whole"),
        ("half", "0.0000 in", (), "IN SERVICE LIMITS, margin 0.0040", "twice the printed limit is the whole"),
    ],
)
def test_each_kind_of_limit_judges_a_part(
    row: str, value: str, before: tuple[tuple[str, str], ...], verdict: str, working: str
) -> None:
    """The limit is worked out from what is known of the part, shown with its arithmetic, and never guessed."""
    found = judged(row, value, *before)
    assert any(working in line for line in found.because.arithmetic), found.because.arithmetic
    if verdict.startswith("BEYOND, above by 0.004"):
        assert headline(found.verdict).startswith("BEYOND")
    else:
        assert headline(found.verdict) == verdict


def test_a_rate_counts_on_the_only_other_part_that_has_the_row() -> None:
    """Where the part in hand has no such size, the one part on the bench that has it is asked; two are not clear."""
    at_bench = place()
    shaft, rod = at_bench.remove("part.shaft"), at_bench.remove("part.rod")
    at_bench.read(rod, "row.length", "6.000 in")
    at_bench.read(rod, "row.per-length", "0.0010 in")
    other = at_bench.remove("part.rod", position="2")
    at_bench.read(other, "row.per-length", "0.0010 in")
    found = at_bench.work_up().size(other, "row.per-length")
    assert found is not None
    assert headline(found.verdict) == "IN SERVICE LIMITS, margin 0.0002"
    third = at_bench.remove("part.rod", position="3")
    at_bench.read(other, "row.length", "6.000 in")
    at_bench.read(third, "row.per-length", "0.0010 in")
    unclear = at_bench.work_up().size(third, "row.per-length")
    assert unclear is not None
    assert headline(unclear.verdict) == "NO LIMIT"
    assert shaft != rod


def test_a_row_that_does_not_apply_is_not_asked_for() -> None:
    """What is undone names every row of the part but the one that does not apply."""
    at_bench = place()
    at_bench.remove("part.shaft")
    named = [line.what for line in at_bench.work_up().undone]
    assert any(what.startswith("none: not measured; no limit") for what in named)
    assert not any("not applicable" in what for what in named)
