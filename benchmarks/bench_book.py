"""How long do reading and checking a whole book take, beside bare parsing of the same files?

Two thousand limit rows, the size of a large engine's book: a generated sound one, for no engine. The peer parses the
same bytes with the csv reader of the standard library and turns every figure into an exact decimal number, and does
nothing else: no unit, no kind of limit, no finding.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable
from decimal import Decimal
from random import Random
from time import perf_counter

from tenthbook.record.book import TABLES
from tenthbook.record.book.checks import check
from tenthbook.record.book.reading import draft_book

LIMIT_ROWS = 2_000
FIGURE = re.compile(r"[0-9.]+")
HEAD = b'type = "Bench type"\nmanual = "Generated (invented)"\nrevision = "1, 1 January 2026"\ninvented = true\n'


def best_of(times: int, work: Callable[[], object]) -> float:
    """Take the best of several runs.

    Args:
        times: How many runs [-].
        work: What to time, without arguments.

    Returns:
        Shortest wall time [s].
    """
    spent = []
    for _ in range(times):
        start = perf_counter()
        work()
        spent.append(perf_counter() - start)
    return min(spent)


def inches(tenths: int) -> str:
    """Print a length as a table of limits does.

    Args:
        tenths: The length [0.0001 in].

    Returns:
        The number with four decimals [in].
    """
    return f"{tenths // 10_000}.{tenths % 10_000:04d}"


def millimetres(tenths: int) -> str:
    """Print the same length in the second unit.

    Args:
        tenths: The length [0.0001 in].

    Returns:
        The number with three decimals [mm].
    """
    return f"{Decimal(tenths) * Decimal('0.00254'):.3f}"


def rows_of_a_fit(number: int, random: Random) -> dict[str, list[dict[str, str]]]:
    """Make two parts, a bore, a shaft, the fit they make and the run-out of the shaft; every third in two units.

    Args:
        number: Which one.
        random: Where the sizes come from.

    Returns:
        Rows by table.
    """
    low, gap = random.randrange(3_000, 40_000), random.randrange(5, 20)
    shaft, bore = (low, low + 6), (low + 6 + gap, low + 14 + gap)
    page, kind = f"4-{1 + number // 20}", {"kind": "absolute", "unit": "in"}

    def band(prefix: str, least: int, greatest: int) -> dict[str, str]:
        sides = {f"{prefix}_min": least, f"{prefix}_max": greatest}
        both = {column: inches(tenths) for column, tenths in sides.items()}
        if number % 3 == 0:
            both |= {"other_unit": "mm", **{f"other_{name}": millimetres(tenths) for name, tenths in sides.items()}}
        return both

    bore_cells = {"feature": "bore diameter", "measure": "bore", "service_max": inches(bore[1] + 15)}
    shaft_cells = {"feature": "diameter", "measure": "diameter", "service_min": inches(shaft[0] - 10)}
    run_out = {
        "feature": "run-out",
        "measure": "run-out",
        "new_max": "0.0010",
        "reckoned": "full",
        "at": "at mid length",
    }
    fit = {"name": f"shaft in bore {number}", "hole": f"size.bore-{number}", "shaft": f"size.shaft-{number}"}
    made = band("new", bore[0] - shaft[1], bore[1] - shaft[0])
    parts = [
        {"id": f"part.{name}-{number}", "name": name, "where_used": "case", "quantity": "1", "page": page}
        for name in ("housing", "shaft")
    ]
    sizes = [
        {"id": f"size.bore-{number}", "part": parts[0]["id"], **kind, **bore_cells, **band("new", *bore), "page": page},
        {
            "id": f"size.shaft-{number}",
            "part": parts[1]["id"],
            **kind,
            **shaft_cells,
            **band("new", *shaft),
            "page": page,
        },
        {"id": f"size.run-out-{number}", "part": parts[1]["id"], **kind, **run_out, "page": page},
    ]
    loosest = inches(2 * (bore[1] - shaft[0]))
    fits = [
        {
            "id": f"fit.{number}",
            **fit,
            **kind,
            "measure": "clearance on diameter",
            **made,
            "service_max": loosest,
            "page": page,
        }
    ]
    return {"parts": parts, "sizes": sizes, "fits": fits}


def book_files() -> dict[str, bytes]:
    """Write a sound book of two thousand limit rows.

    Returns:
        Content by file name.
    """
    random = Random(1)
    made = [rows_of_a_fit(number, random) for number in range(LIMIT_ROWS // 4)]
    files = {"book.toml": HEAD}
    for name, columns in TABLES.items():
        text = io.StringIO()
        writer = csv.DictWriter(text, [column.name for column in columns], restval="")
        writer.writeheader()
        writer.writerows(row for one in made for row in one.get(name, ()))
        files[f"{name}.csv"] = text.getvalue().encode()
    return files


def bare(files: dict[str, bytes]) -> int:
    """Parse the tables and turn every figure into a decimal number.

    Args:
        files: Content by file name.

    Returns:
        How many figures there were [-].
    """
    figures = 0
    for name, content in files.items():
        if name.endswith(".csv"):
            for row in csv.reader(io.StringIO(content.decode("utf-8"), newline=""), strict=True):
                numbers = [Decimal(cell) for cell in row if FIGURE.fullmatch(cell)]
                figures += len(numbers)
    return figures


def main() -> None:
    """Time reading and checking, and print the ratios to bare parsing."""
    files = book_files()
    start = perf_counter()
    draft = draft_book(files)
    findings = check(draft)
    first = perf_counter() - start
    reading = best_of(5, lambda: draft_book(files))
    checking = best_of(5, lambda: check(draft))
    whole = best_of(5, lambda: check(draft_book(files)))
    least = best_of(5, lambda: bare(files))
    rows = sum(len(draft.rows[name]) for name in ("sizes", "fits"))
    figures, size = bare(files), sum(map(len, files.values())) // 1000
    print(f"{rows} limit rows, {figures} figures, {size} kB; {len(findings)} findings")
    print(f"  read {1e3 * reading:.0f} ms, checked {1e3 * checking:.0f} ms, both {1e3 * whole:.0f} ms (aim 500 ms)")
    print(f"  both the first time, units and conversions not met before: {1e3 * first:.0f} ms")
    print(f"  bare csv and decimal {1e3 * least:.1f} ms; reading and checking take {whole / least:.0f} times as long")


if __name__ == "__main__":
    main()
