"""How much longer does a clean, upright copy of a photograph take than the picture library alone?

The peer opens the same file, makes it smaller and saves it, and asks nothing: no bounds, no turning, nothing taken out.
A second peer decodes every pixel first. A JPEG of 12 million pixels with a grain that does not compress well, held
sideways, as telephones write it. In turns, best of several; prints times and ratios, asserts nothing. Run: python
benchmarks/bench_photograph.py
"""

from __future__ import annotations

import io
import time
from collections.abc import Callable

import numpy as np
from PIL import Image

from tenthbook.faces.photographs import look, reduced

WIDTH, HEIGHT, LONGEST, TURNS = 4000, 3000, 1600, 7


def photograph() -> bytes:
    """Light that falls off to one side, and grain."""
    grain = np.random.default_rng(12).normal(0, 6, (HEIGHT, WIDTH, 1))
    light = np.linspace(60, 200, WIDTH)[:, np.newaxis] * np.array([1.0, 0.95, 0.9])
    told = Image.Exif()
    told[0x0112] = 6
    out = io.BytesIO()
    Image.fromarray((light + grain).clip(0, 255).astype(np.uint8)).save(out, "JPEG", quality=90, exif=told)
    return out.getvalue()


def plain(original: bytes) -> None:
    """Open, make smaller, save."""
    with Image.open(io.BytesIO(original)) as picture:
        picture.thumbnail((LONGEST, LONGEST))
        picture.save(io.BytesIO(), "JPEG", quality=82)


def whole(original: bytes) -> None:
    """The same, every pixel decoded first."""
    with Image.open(io.BytesIO(original)) as picture:
        picture.load()
        picture.thumbnail((LONGEST, LONGEST))
        picture.save(io.BytesIO(), "JPEG", quality=82)


def best(works: dict[str, Callable[[], object]]) -> dict[str, float]:
    """Shortest wall time of each [s], taken in turns."""
    times = dict.fromkeys(works, float("inf"))
    for _ in range(TURNS):
        for name, work in works.items():
            began = time.perf_counter()
            work()
            times[name] = min(times[name], time.perf_counter() - began)
    return times


def main() -> None:
    """Print a line each."""
    original = photograph()
    times = best(
        {
            "library alone": lambda: plain(original),
            "library, every pixel": lambda: whole(original),
            "clean copy": lambda: reduced(original, LONGEST),
            "looked at": lambda: look(original),
        }
    )
    print(f"{WIDTH} x {HEIGHT}, {len(original) / 1e6:.1f} MB; copy of {len(reduced(original, LONGEST)) / 1e3:.0f} kB")
    for name, taken in times.items():
        print(f"{name:<22} {1000 * taken:>7.0f} ms {taken / times['library alone']:>6.2f} of the library alone")


if __name__ == "__main__":
    main()
