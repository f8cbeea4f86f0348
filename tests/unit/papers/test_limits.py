"""A limit is printed as the manual states it: a band, or the words of its kind."""

from __future__ import annotations

import pytest

from tenthbook.faces.papers.limits import limit_words
from tenthbook.record.book import Book
from tests.builders import small_book

HEADING = (
    "id,part,feature,kind,unit,new_min,new_max,service_min,service_max,amount,side,reference,per,over,per_cent,times,"
    "of_row,ribbon,condition,list,within,reckoned,page,note"
)
ROWS = """size.bore,part.housing,bore,absolute,in,0.5124,0.5130,,,,,,,,,,,,,,,,2-1,
size.shaft,part.shaft,diameter,absolute,in,0.5108,0.5114,0.5098,,,,,,,,,,,,,,,2-2,
size.most,part.shaft,flatness,absolute,in,,0.0010,,0.0020,,,,,,,,,,,,,,2-2,
size.wear,part.shaft,worn,wear from new,in,0.8738,0.8743,,,0.0010,least,new least,,,,,,,,,,,2-2,
size.total,part.shaft,worn in all,wear from new,in,,,,,0.008,greatest,this part when new,,,,,,,,,,,2-2,
size.share,part.shaft,thickness,share of original,in,,,,,,,,,,-10,,,,,,,,2-2,
size.rate,part.shaft,bow,per length,in,,,,,0.0020,greatest,,10.0,size.shaft,,,,,,,,,2-2,
size.across,part.shaft,wobble,per diameter,in,,,,,0.0005,least,,1.0,size.shaft,,,,,,,,,2-2,
size.times,part.shaft,taper,multiple,in,,,,,,,,,,,2,size.most,,,,,,2-2,
size.feel,part.shaft,track,feel,in,,,,,,,,,,,,,0.0015,,,,,2-2,
size.state,part.shaft,state,condition,in,,,,,,,,,,,,,,replace where split,,,,2-2,
size.none,part.shaft,step,none,in,,,,,,,,,,,,,,,,,,2-2,
size.list,part.shaft,shim,one of,in,,,,,,,,,,,,,,,0.003; 0.006,0.0003,,2-2,
size.half,part.shaft,run-out,absolute,in,,0.0010,,0.0025,,,,,,,,,,,,,half,2-2,
"""
NO_FIT = "id,name,hole,shaft,kind,unit,new_min,new_max,service_min,service_max,safety,page,note\n"


@pytest.fixture(scope="module")
def book() -> Book:
    """A book with a row of every kind."""
    return small_book(sizes=f"{HEADING}\n{ROWS}", fits=NO_FIT)


@pytest.mark.parametrize(
    ("row", "new", "service", "stated"),
    [
        ("size.bore", "0.5124 to 0.5130", "none given", ""),
        ("size.shaft", "0.5108 to 0.5114", "min 0.5098", ""),
        ("size.most", "max 0.0010", "max 0.0020", ""),
        ("size.wear", "0.8738 to 0.8743", "", "0.0010 under new least"),
        ("size.total", "", "", "0.008 over its own size when new"),
        ("size.share", "", "", "its own size when new -10 %"),
        ("size.rate", "", "", "max 0.0020 per 10.0 in of length"),
        ("size.across", "", "", "min 0.0005 per 1.0 in of diameter"),
        ("size.times", "", "", "2 times flatness, page 2-2"),
        ("size.feel", "", "", "by feel, ribbon 0.0015"),
        ("size.state", "", "", "replace where split"),
        ("size.none", "", "", "no limit in the book"),
        ("size.list", "", "", "one of 0.003, 0.006, within 0.0003"),
        ("size.half", "max 0.0020", "max 0.0050", "the whole; the manual prints half"),
    ],
)
def test_each_kind_is_printed_in_its_own_words(book: Book, row: str, new: str, service: str, stated: str) -> None:
    """A blank side is none given, never nought; a kind that is no band is said in words with its digits."""
    told = limit_words(book, book.sizes[row])
    assert (told["new"], told["service"], told["stated"]) == (new, service, stated)
    assert (told["unit"], told["page"]) == ("" if row == "size.state" else "in", book.sizes[row].page)
