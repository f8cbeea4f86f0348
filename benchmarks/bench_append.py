"""Append with a durable commit: 20 writers, processes of their own, each takes a reading a second in one job.

    python benchmarks/bench_append.py [SECONDS] [DATABASE]

A reading goes through everything: what others recorded since is read, the rules judge, the entry is sealed, it and its
row of the table are written, the disk is told. The physical limit is a page written and synced in the same folder, in
the same run. DATABASE is a setting such as postgresql://...; without it the file of SQLite. Aim: p95 under 20 ms.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tenthbook.faces.store.database import open_store
from tenthbook.record.bench import Bench
from tenthbook.record.book import read_book

WRITERS = 20
JOB = "bench"
NOON = "2026-10-02T12:00:00Z"
STORY = Path(__file__).parents[1] / "story" / "books" / "dunlin-four"
OPENED = {"installation": "bench", "engine": "E 1", "reason": "r", "scope": "s", "invented": True}
GAUGE = {"gauge": "M1", "name": "micrometer", "measures": "outside", "expanded": "0.0001 in", "coverage_factor": "2"}


def write(folder: Path, database: str, name: int, seconds: int) -> None:
    """Be one writer: a reading a second, and print how long each took [s].

    Args:
        folder: The data folder.
        database: The setting; empty for the file in the folder.
        name: Which writer.
        seconds: How long.
    """
    bench = Bench(open_store(folder, database=database or None))
    act = {"person": f"mechanic-{name}", "acted_at": NOON}
    tag = bench.look(JOB)[0].by_request["part"].data["tag"]  # the job and its book lie open, as they do for a page
    print("ready", flush=True)
    begin = float(sys.stdin.readline()) + name / WRITERS
    taken = []
    for number in range(seconds):
        time.sleep(max(0.0, begin + number - time.time()))
        begun = time.perf_counter()
        data = {"tag": tag, "row": "size.shaft", "value": f"0.49{number % 10}4 in", "gauge": "M1"}
        bench.record(JOB, "reading taken", data, request=f"{name}-{number}", **act)
        taken.append(time.perf_counter() - begun)
    print(json.dumps(taken), flush=True)


def part_of(times: list[float], share: float) -> float:
    """Give a quantile.

    Args:
        times: Times [s].
        share: Which share of them is at most as long [-].

    Returns:
        It [ms].
    """
    return sorted(times)[int(share * (len(times) - 1))] * 1e3


def synced(folder: Path, count: int = 200) -> list[float]:
    """Write a page and tell the disk, over and over.

    Args:
        folder: Where.
        count: How often.

    Returns:
        How long each took [s].
    """
    times = []
    with (folder / "page").open("wb") as file:
        for _ in range(count):
            begun = time.perf_counter()
            file.write(b"x" * 4096)
            file.flush()
            os.fdatasync(file.fileno())
            times.append(time.perf_counter() - begun)
    return times


def line(what: str, times: list[float]) -> str:
    """Write a line of the answer.

    Args:
        what: What was timed.
        times: Times [s].

    Returns:
        The line.
    """
    shares = "  ".join(f"{name} {part_of(times, share):6.1f} ms" for name, share in (("p50", 0.5), ("p95", 0.95)))
    return f"{what:34} {shares}  most {max(times) * 1e3:6.1f} ms  of {len(times)}"


def main() -> None:
    """Measure and print."""
    seconds = int(sys.argv[1]) if len(sys.argv) > 1 else 20
    database = sys.argv[2] if len(sys.argv) > 2 else ""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        bench = Bench(open_store(folder, database=database or None))
        book = read_book({path.name: path.read_bytes() for path in STORY.iterdir()})
        act = {"person": "mechanic", "acted_at": NOON}
        bench.open_job(JOB, book, OPENED, request="open", **act)
        bench.record(JOB, "gauge set", GAUGE, request="gauge", **act)
        for cover in ("cowling", "magnetos", "accessory-housing", "pump-cover"):
            bench.record(JOB, "cover removed", {"cover": f"access.{cover}"}, request=cover, **act)
        bench.record(JOB, "part removed", {"part": "part.pump-shaft", "tag": "", "position": ""}, request="part", **act)
        command = [sys.executable, __file__, "--writer", name, database, str(seconds)]
        writers = [
            subprocess.Popen([*command, str(one)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
            for one in range(WRITERS)
        ]
        for one in writers:
            assert one.stdout is not None
            if one.stdout.readline() != "ready\n":
                raise SystemExit("a writer did not start")
        disk = synced(folder)
        begin = f"{time.time() + 1}\n"
        answers = [one.communicate(begin)[0] for one in writers]
        times = [taken for answer in answers for taken in json.loads(answer)]
    print(line("a page written and synced", disk))
    print(line(f"a reading, {WRITERS} writers, one a second", times))
    print(f"ratio of the medians: {part_of(times, 0.5) / part_of(disk, 0.5):.1f}   (aim: p95 under 20 ms)")


if __name__ == "__main__":
    if sys.argv[1:2] == ["--writer"]:
        write(Path(sys.argv[2]), sys.argv[3], int(sys.argv[5]), int(sys.argv[4]))
    else:
        main()
