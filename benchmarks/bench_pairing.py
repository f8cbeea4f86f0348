"""How much longer does pairing worst-first take than the plain least sum?

Prints times and ratios for square tables; asserts nothing. Run: `python benchmarks/bench_pairing.py`.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from functools import partial
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linear_sum_assignment

from tenthbook.trade.fit.pairing import pair_by_cost, pair_by_size

REPEATS = 7


def best_time(work: Callable[[], Any]) -> float:
    """Take the best of several runs.

    Args:
        work: What to time, without arguments.

    Returns:
        Shortest wall time [s].
    """
    times = []
    for _ in range(REPEATS):
        began = time.perf_counter()
        work()
        times.append(time.perf_counter() - began)
    return min(times)


def tables(size: int) -> dict[str, NDArray[np.int64]]:
    """Make tables that are easy and hard for a threshold search.

    Args:
        size: Rows and columns [-].

    Returns:
        Costs [pm] by kind of table.
    """
    random = np.random.default_rng(size)
    holes, shafts = random.integers(0, 10**7, size), random.integers(0, 10**7, size)
    uneven = random.integers(0, 10**6, (size, size))
    uneven[: 3 * size // 4, size // 3 :] += 10**7
    return {
        "random": random.integers(0, 10**6, (size, size)),
        "few values": random.integers(0, 7, (size, size)),
        "sizes": np.abs(np.subtract.outer(holes, shafts)),
        "uneven": uneven,
    }


def main() -> None:
    """Print a line a table."""
    print(f"{'table':<12} {'size':>9} {'least sum':>12} {'worst first':>12} {'ratio':>7}")
    for size in (8, 50, 200):
        for kind, cost in tables(size).items():
            plain_sum = best_time(partial(linear_sum_assignment, cost))
            worst_first = best_time(partial(pair_by_cost, cost, "worst"))
            shown = f"{plain_sum * 1e3:>9.3f} ms {worst_first * 1e3:>9.3f} ms {worst_first / plain_sum:>7.1f}"
            print(f"{kind:<12} {size:>4}x{size:<4} {shown}")
    random = np.random.default_rng(0)
    holes, shafts = random.integers(0, 10**7, 10_000), random.integers(0, 10**7, 10_000)
    print(f"sorting 10000 holes and shafts: {best_time(lambda: pair_by_size(holes, shafts, 0)) * 1e3:.2f} ms")


if __name__ == "__main__":
    main()
