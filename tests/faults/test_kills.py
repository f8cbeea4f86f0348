"""Writers killed under load: no acknowledged entry is lost, the chain is whole, and how long it took to go on."""

from __future__ import annotations

import random
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from tenthbook.record.ledger import Draft
from tests.builders import NOON, close_database
from tests.faults.stage import STREAM, Writer, look, start, wait_for
from tests.postgres import Cluster

ROUNDS, SOAK = 25, 500


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A data folder whose connections are closed afterwards."""
    monkeypatch.setenv("TENTHBOOK_DATA", str(tmp_path))
    yield tmp_path / "data"
    close_database()


def recover(folder: Path, database: str, number: int) -> float:
    """Open the store and record one entry: how long that took [s]."""
    from tenthbook.faces.store.database import open_store

    begun = time.perf_counter()
    store = open_store(folder, database=database or None)
    store.append(
        STREAM, Draft("noted", 1, "after", f"after-{number}", "", NOON, {"text": "after"}), lambda _since: None
    )
    return time.perf_counter() - begun


def kill_under_load(folder: Path, database: str, rounds: int) -> None:
    """Kill two writers at a random moment, time and again."""
    from tenthbook.faces.store.database import open_store

    dice = random.Random(417)
    writers: list[Writer] = []
    recoveries = []
    for number in range(rounds):
        pair = [start(folder, database, f"w{number}{side}") for side in "ab"]
        wait_for(pair, dice.randint(1, 25))
        time.sleep(dice.random() * 0.02)
        for writer in pair:
            writer.process.kill()
        for writer in pair:
            writer.end()
        writers += pair
        recoveries.append(recover(folder, database, number))
        close_database()
    entries = look(open_store(folder, database=database or None), writers)
    acknowledged = sum(len(writer.acknowledged) for writer in writers)
    assert acknowledged >= rounds
    recoveries.sort()
    middle, longest = recoveries[len(recoveries) // 2], recoveries[-1]
    lost_nothing = f"{rounds} kills, {acknowledged} acknowledged, {entries} recorded"
    print(f"{lost_nothing}; recovery {middle:.3f} s, at most {longest:.3f} s")


def test_kills_under_load_lose_nothing(folder: Path) -> None:
    """Twenty-five times, on the file."""
    kill_under_load(folder, "", ROUNDS)


def test_kills_under_load_lose_nothing_on_postgresql(folder: Path, postgresql: str) -> None:
    """Five times, on the server, whose clients are killed."""
    kill_under_load(folder, postgresql, 5)


def test_a_server_killed_under_load_loses_nothing(folder: Path, tmp_path: Path) -> None:
    """The server itself is killed, with every process of it, and started again."""
    from tenthbook.faces.store.database import open_store

    with Cluster(tmp_path / "cluster") as cluster:
        database = cluster.create("killed")
        writers = []
        for number in range(2):
            writers.append(start(folder, database, f"w{number}"))
            wait_for(writers[-1:], 5)
            cluster.kill()
            writers[-1].kill()
            cluster.start()
        close_database()
        look(open_store(folder, database=database), writers)
        close_database()


@pytest.mark.soak
def test_five_hundred_kills_lose_nothing(folder: Path) -> None:
    """The same for as long as it takes."""
    kill_under_load(folder, "", SOAK)
