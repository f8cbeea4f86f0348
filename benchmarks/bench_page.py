"""From Enter to the painted verdict: how long a mechanic waits, and how much of it is the disk and the browser.

Beside it in the same run: the same page asked for again (no write), a page that computes nothing, and one synced write
of as many bytes to the same disk. The browser's own clock counts. Needs Debian's Chromium. Run: python
benchmarks/bench_page.py
"""

from __future__ import annotations

import itertools
import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

ROOT = Path(__file__).parents[1]
FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"]
TURNS = 25
TARGET_MS = 150


def tenthbook(*words: str) -> list[str]:
    """The command line of this project, in this interpreter."""
    return [sys.executable, "-m", "tenthbook", *words]


def milliseconds(work: Callable[[], float]) -> float:
    """Median of what the turns took [ms]."""
    return 1000 * statistics.median(work() for _ in range(TURNS))


def synced_write(folder: Path) -> float:
    """Write as many bytes as an entry, sync them, and say how long that took [s]."""
    start = time.perf_counter()
    with (folder / "synced").open("ab") as file:
        file.write(b"x" * 900)
        file.flush()
        os.fsync(file.fileno())
    return time.perf_counter() - start


def painted(page: Page) -> float:
    """Time from the start of the navigation, redirect included, to the first paint, by the browser's own clock [s]."""
    page.wait_for_load_state()
    entries = "performance.getEntriesByName('first-contentful-paint')"
    while not page.evaluate(f"{entries}.length"):
        time.sleep(0.005)
    return float(page.evaluate(f"{entries}[0].startTime")) / 1000


def measure(page: Page, url: str, folder: Path) -> dict[str, float]:
    """Time the three [ms]."""
    values = itertools.cycle(["1.4050", "1.4051", "1.4052"])
    field = f"{url}job/0417/?measure=P-0210-0/size.body-bore"

    def entered() -> float:
        page.goto(field)
        page.fill("#value", next(values))
        with page.expect_navigation():
            page.press("#value", "Enter")
        taken = painted(page)
        assert page.locator("main .say .verdict").count() >= 1, "no verdict was painted"
        return taken

    def visited(address: str) -> float:
        page.goto(address)
        return painted(page)

    entered()
    return {
        "Enter to verdict": milliseconds(entered),
        "the page again": milliseconds(lambda: visited(field)),
        "the list of jobs": milliseconds(lambda: visited(url)),
        "one synced write": milliseconds(lambda: synced_write(folder)),
    }


def main() -> None:
    """Print the three and their ratios."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "src"), "PYTHONUNBUFFERED": "1"}
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "shop"
        subprocess.run(tenthbook("demo", "--data", str(folder)), check=True, env=environment, stdout=subprocess.DEVNULL)
        command = tenthbook("serve", "--data", str(folder), "--port", "0")
        server = subprocess.Popen(
            command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True, env=environment
        )
        assert server.stdout is not None
        url = server.stdout.readline().strip()
        try:
            with sync_playwright() as playwright:
                browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=FLAGS)
                page = browser.new_page()
                found = measure(page, url, Path(name))
                browser.close()
        finally:
            server.terminate()
            server.wait()
    for what, taken in found.items():
        print(f"{what:20} {taken:8.1f} ms")
    enter, floor = found["Enter to verdict"], found["the list of jobs"]
    ratios = f"{enter / floor:.2f} of a page that computes nothing, {enter / TARGET_MS:.2f} of {TARGET_MS} ms"
    print(f"Enter to verdict: {ratios}")


if __name__ == "__main__":
    main()
