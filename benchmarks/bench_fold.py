"""Fold a long job: 100,000 entries into where the job stands, against parsing their JSON in the same run.

    python benchmarks/bench_fold.py [ENTRIES]

The physical limit is one parse of every body by the C parser of the standard library; the aim is four times that.
"""

from __future__ import annotations

import json
import sys
import time

from tenthbook.record.job import fold
from tenthbook.record.ledger import Draft, Entry, seal

NOON = "2026-10-02T12:00:00Z"
OPENED = {"stream": "long", "installation": "bench", "engine": "E 1", "reason": "r", "scope": "s", "invented": True}
GAUGE = {"gauge": "M1", "name": "micrometer", "measures": "outside", "expanded": "0.0001 in", "coverage_factor": "2"}


def _data(number: int) -> tuple[str, int, dict[str, object]]:
    """One act of a long job: parts, a gauge set each hundred, readings, a few corrections and notes."""
    if number == 0:
        return "opened", 1, OPENED
    if number % 100 == 1:
        return "part removed", 1, {"tag": f"P-{number:06d}", "part": "part.shaft", "position": ""}
    if number % 100 == 2:
        return "gauge set", 2, {**GAUGE, "set_on": "", "certificate": "C-1", "due": "2027-03-31", "calibration": ""}
    if number % 100 == 50:
        fields = {"value": f"0.51{number % 97:02d} in"}
        return "corrected", 1, {"entry": number - 1, "fields": fields, "reason": "misread", "asks": ""}
    if number % 100 == 99:
        return "noted", 1, {"text": f"note {number}"}
    tag = f"P-{number - (number - 1) % 100:06d}"
    reading = {"tag": tag, "row": f"size.{number % 7}", "row_digest": "a" * 64, "value": f"0.51{number % 89:02d} in"}
    return "reading taken", 1, {**reading, "station": "drive end", "direction": "across 1-7", "gauge": "M1"}


def long_job(length: int) -> list[Entry]:
    """Make a long job.

    Args:
        length: How many entries.

    Returns:
        The entries, chained.
    """
    entries: list[Entry] = []
    head = ""
    for number in range(length):
        kind, version, data = _data(number)
        draft = Draft(kind, version, "mechanic", f"request-{number}", head, NOON, data)
        entries.append(seal(draft, number, NOON, head))
        head = entries[-1].hash
    return entries


def main() -> None:
    """Measure and print."""
    length = int(sys.argv[1]) if len(sys.argv) > 1 else 100_000
    entries = long_job(length)
    bodies = [entry.body for entry in entries]
    parses, folds = [], []
    for _ in range(3):
        begun = time.perf_counter()
        for body in bodies:
            json.loads(body)
        parses.append(time.perf_counter() - begun)
        begun = time.perf_counter()
        state = fold(entries)
        folds.append(time.perf_counter() - begun)
    if state.unknown or state.number != length - 1:
        raise SystemExit(f"entry {state.unknown[:3]} was not read")
    parse, taken = min(parses), min(folds)
    begun = time.perf_counter()
    more = fold([entries[-1]], state)
    one = time.perf_counter() - begun
    print(f"parsing {length} bodies        {parse:7.3f} s")
    print(f"folding them             {taken:7.3f} s   {taken / parse:5.2f} times the parsing (aim: 4)")
    print(f"one more entry after     {one * 1000:7.2f} ms  ({len(more.readings)} readings)")


if __name__ == "__main__":
    main()
