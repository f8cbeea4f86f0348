"""Work a whole overhaul up: 600 limits, 2 000 entries; then one reading more.

    python benchmarks/bench_workup.py

The peer reads the same values and compares them as exact fractions with their limits, in a bare loop, and prints
nothing. Aim: 150 ms for the whole, 5 ms for one reading more.
"""

from __future__ import annotations

import time
from dataclasses import replace
from fractions import Fraction

from tenthbook.record.book import TABLES, Book, read_book
from tenthbook.record.job import JobState, fold
from tenthbook.record.ledger import Draft, Entry, seal
from tenthbook.record.workup import work_up

LIMITS, ENTRIES, TURNS = 600, 2_000, 7
NOON = "2026-10-02T12:00:00Z"
BOOK = 'type = "Bench"\nmanual = "Manual of the bench (invented)"\nrevision = "1"\ninvented = true\n'
OPENED = {"stream": "j", "installation": "bench", "engine": "E 1", "reason": "r", "scope": "s", "invented": True}
GAUGE = {"gauge": "M1", "name": "micrometer", "measures": "outside", "expanded": "0.0001 in", "coverage_factor": "2"}


def book_of_600() -> Book:
    """Make a book of 100 parts with four sizes each and 200 fits between neighbours.

    Returns:
        The book.
    """
    parts = ["id,name,where_used,quantity,page"]
    sizes = ["id,part,feature,kind,unit,new_min,new_max,service_min,service_max,page"]
    fits = ["id,name,hole,shaft,kind,unit,new_min,new_max,service_max,page"]
    for number in range(100):
        parts.append(f"part.p{number},part {number},bench,1,1")
        for feature in range(4):
            limits = "0.5124,0.5130,," if feature % 2 else "0.5108,0.5114,0.5098,"
            sizes.append(f"size.p{number}f{feature},part.p{number},feature {feature},absolute,in,{limits},1")
    for number in range(200):
        hole, shaft = number % 100, (number * 7 + 1) % 100
        fit = f"size.p{hole}f{1 + 2 * (number // 100)},size.p{shaft}f{2 * (number // 100)}"
        fits.append(f"fit.f{number},fit {number},{fit},absolute,in,0.0010,0.0022,0.0037,1")
    empty = {name: ",".join(column.name for column in columns) for name, columns in TABLES.items()}
    texts = {**empty, "parts": "\n".join(parts), "sizes": "\n".join(sizes), "fits": "\n".join(fits)}
    files = {f"{name}.csv": f"{text}\n".encode() for name, text in texts.items()}
    return read_book({"book.toml": BOOK.encode(), **files})


def entries_of(book: Book) -> list[Entry]:
    """Make the entries: every part, one gauge, then readings in turn.

    Args:
        book: The book.

    Returns:
        The entries, chained.
    """
    from tenthbook.record.job import next_tag

    acts: list[tuple[str, int, dict[str, object]]] = [("opened", 1, OPENED), ("gauge set", 2, _gauge())]
    tags: list[str] = []
    for part in book.parts:
        tags.append(next_tag(tags))
        told: dict[str, object] = {"tag": tags[-1], "part": part, "position": ""}
        told |= {"mated_with": "", "as_found": "", "bin": ""}
        acts.append(("part removed", 2, told))
    rows = list(book.sizes.values())
    tag_of = dict(zip(book.parts, tags, strict=True))
    while len(acts) < ENTRIES:
        size = rows[len(acts) % len(rows)]
        value = f"0.51{(27 if int(size.id[-1]) % 2 else 10) + len(acts) % 3} in"
        acts.append(("reading taken", 1, {**_reading(tag_of[size.part], size.id), "value": value}))
    entries: list[Entry] = []
    for number, (kind, version, data) in enumerate(acts):
        draft = Draft(kind, version, "mechanic", f"r-{number}", entries[-1].hash if entries else "", NOON, data)
        entries.append(seal(draft, number, NOON, entries[-1].hash if entries else ""))
    return entries


def _gauge() -> dict[str, object]:
    return {**GAUGE, "set_on": "", "certificate": "", "due": "", "calibration": ""}


def _reading(tag: str, row: str) -> dict[str, object]:
    return {"tag": tag, "row": row, "row_digest": "a" * 64, "station": "", "direction": "", "gauge": "M1"}


def bare(book: Book, state: JobState) -> float:
    """Compare the mean of each size with its limits, exactly, and no more.

    Args:
        book: The book.
        state: The job.

    Returns:
        How long it took [s].
    """
    begun = time.perf_counter()
    beyond = 0
    for part in state.parts.values():
        for size in book.sizes_of(part.part):
            readings = state.standing(part.tag, size.id)
            mean = sum((one.value.exact for one in readings), Fraction(0)) / max(len(readings), 1)
            bands = (size.limits.new, size.limits.service)
            ends = [end.exact for band in bands for end in (band.lower, band.upper) if end is not None]
            beyond += mean < min(ends) or mean > max(ends)
    return time.perf_counter() - begun


def main() -> None:
    """Measure and print."""
    book = book_of_600()
    entries = entries_of(book)
    state = fold(entries)
    whole, more, peer = [], [], []
    for turn in range(TURNS):
        begun = time.perf_counter()
        work = work_up(book, state)
        whole.append(time.perf_counter() - begun)
        last = entries[-1]
        data = {**last.data, "value": f"0.511{turn} in"}
        draft = replace(last.draft, request=f"more-{turn}", seen=last.hash, data=data)
        grown = fold([seal(draft, state.number + 1, NOON, last.hash)], state)
        begun = time.perf_counter()
        again = work_up(book, grown, work)
        more.append(time.perf_counter() - begun)
        if again != work_up(book, grown):
            raise SystemExit("a work-up with a memory differs from one without")
        peer.append(bare(book, state))
    count = len(work.sizes) + len(work.fits)
    print(f"{count} of {LIMITS} limits judged, {len(entries)} entries, {len(work.undone)} undone")
    ratio = min(whole) / min(peer)
    print(f"whole work-up       {min(whole) * 1e3:7.1f} ms   {ratio:5.1f} of the bare loop (aim 150 ms)")
    print(f"one reading more    {min(more) * 1e3:7.1f} ms   {min(more) / min(whole):5.2f} of the whole (aim 5 ms)")


if __name__ == "__main__":
    main()
