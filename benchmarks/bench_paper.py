"""How long a long inspection report takes to set, and how much of that is the typesetter's own work on as many pages.

The report is that of a job with a few hundred sizes, 27 pages of it. Beside it in the same run: its words as plain
paragraphs in the same letters on as many pages, set in the same mode. Each turn is a process of its own, since the
typesetter remembers what it set before. Run: python benchmarks/bench_paper.py
"""

from __future__ import annotations

import json
import multiprocessing
import re
import statistics
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, TypeVar

import typst

ROOT = Path(__file__).parents[1]
sys.path[:0] = [str(ROOT / "src"), str(ROOT)]

from tenthbook.faces.papers import JobAtHead, at_head, inspection_report  # noqa: E402
from tenthbook.faces.papers.inspection import report_data  # noqa: E402
from tests.builders import PARTS_CSV, SIZES_CSV, STREAM, Workplace, small_book  # noqa: E402

PAGES, PARTS, TURNS = 27, 409, 5
DAY = "2026-10-02"
T = TypeVar("T")
FONTS = ROOT / "src/tenthbook/faces/papers/fonts"
PLAIN = """#set document(title: "plain")
#set page(paper: "a4", margin: (x: 15mm, top: 17mm, bottom: 16mm))
#set text(font: "Atkinson Hyperlegible Next", size: 9pt, lang: "en")
#for paragraph in json(bytes(sys.inputs.data)) { par(paragraph) }
"""


def job_of(parts: int) -> JobAtHead:
    """A job with many shafts, each read twice.

    Args:
        parts: How many.

    Returns:
        The job at its head.
    """
    names = "".join(f"part.gear-{at},gear {at} of the train,accessory housing,1,,2-5,\n" for at in range(parts))
    rows = "".join(
        f"size.g{at},part.gear-{at},outside diameter,absolute,in,1.0000,1.0010,0.9990,,,2-5,\n" for at in range(parts)
    )
    place = Workplace().open(small_book(parts=PARTS_CSV + names, sizes=SIZES_CSV + rows))
    place.set_gauge("mic-1", "0.0001 in")
    for at in range(parts):
        tag = place.remove(f"part.gear-{at}")
        for value in ("1.0004", "1.0005"):
            place.read(tag, f"size.g{at}", f"{value} in", "mic-1")
    return at_head(place.bench, STREAM)


def words_in(value: Any) -> Iterator[str]:
    """Every text that a paper's data hold, but for its drawings.

    Args:
        value: Text, lists and objects.

    Yields:
        The texts.
    """
    if isinstance(value, str):
        yield value if not value.startswith("<svg") else ""
    elif isinstance(value, dict):
        yield " ".join(" ".join(words_in(one)) for one in value.values())
    elif isinstance(value, list):
        for one in value:
            yield from words_in(one)


def set_plain(paragraphs: list[str]) -> bytes:
    """Set paragraphs as plain text in the letters and the mode of a paper.

    Args:
        paragraphs: Their words.

    Returns:
        The PDF.
    """
    made: bytes = typst.compile(
        PLAIN.encode(),
        font_paths=typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[FONTS]),
        sys_inputs={"data": json.dumps(paragraphs)},
        pdf_standards="ua-1",
        timestamp=0,
    )
    return made


def pages_of(content: bytes) -> int:
    """How many pages a PDF has.

    Args:
        content: The PDF.

    Returns:
        The count its page tree gives.
    """
    return max(int(count) for count in re.findall(rb"/Count (\d+)", content))


def as_many_pages(paragraphs: list[str], pages: int) -> list[str]:
    """Repeat paragraphs until they fill as many pages.

    Args:
        paragraphs: What is repeated.
        pages: How many pages.

    Returns:
        The paragraphs of just so many pages.
    """
    one = pages_of(set_plain(paragraphs))
    many = paragraphs * (pages // one + 2)
    least, most = 1, len(many)
    while least < most:
        middle = (least + most) // 2
        if pages_of(set_plain(many[:middle])) < pages:
            least = middle + 1
        else:
            most = middle
    return many[:least]


def timed(work: Callable[[], bytes]) -> tuple[float, int, int]:
    """Do a work once.

    Args:
        work: What makes a PDF.

    Returns:
        Time taken [s], pages, bytes.
    """
    start = time.perf_counter()
    content = work()
    return time.perf_counter() - start, pages_of(content), len(content)


def report_of(at: JobAtHead) -> bytes:
    """The inspection report of a job, from the worked-up job to the PDF."""
    return inspection_report(at.job, at.book, at.state, at.work, unread=at.unread, record=at.record, made_on=DAY)


def median(work: Callable[[], bytes]) -> tuple[float, int, int]:
    """Do a work several times, each in a process of its own.

    Args:
        work: What makes a PDF.

    Returns:
        Median time [s], pages, bytes.
    """
    turns = [alone(timed, work) for _ in range(TURNS)]
    return statistics.median(taken for taken, _, _ in turns), *turns[0][1:]


def alone(work: Callable[..., T], *given: object) -> T:
    """Do a work in a process of its own, which has set nothing before.

    Args:
        work: The work.
        given: What it is given.

    Returns:
        What it returned.
    """
    answer, tell = multiprocessing.Pipe(duplex=False)
    child = multiprocessing.get_context("fork").Process(target=lambda: tell.send(work(*given)))
    child.start()
    tell.close()
    told: T = answer.recv()  # raises where the child ended without a word
    child.join()
    return told


def main() -> None:
    """Print the two times and their ratio."""
    at = job_of(PARTS)
    ours, pages, size = median(lambda: report_of(at))
    words = list(words_in(report_data(at.job, at.book, at.state, at.work)["sizes"]))
    paragraphs = alone(as_many_pages, words, pages)
    plain, plain_pages, _ = median(lambda: set_plain(paragraphs))
    print(f"inspection report, {pages} pages (of {PAGES} meant), {size / 1000:.0f} kB: {ours * 1000:8.0f} ms")
    print(f"plain text, {plain_pages} pages: {plain * 1000:8.0f} ms")
    print(f"the report takes {ours / plain:.2f} of it; {ours:.2f} of one second")


if __name__ == "__main__":
    main()
