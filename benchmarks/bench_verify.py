"""How much longer does proving a stream take than the least that any proof must do?

The least: SHA-256 over the same bytes, each entry read by the standard library's JSON, and each signature checked by
the same library. Beside it the archive, the rows of a store, and the plain check of signatures that a verifier without
any library has to make. In turns, best of several; prints times and ratios, asserts nothing. Run: python
benchmarks/bench_verify.py
"""

from __future__ import annotations

import hashlib
import json
import time
from collections.abc import Callable

from tenthbook.record.ledger import Draft, Entry, examine, pack, public_key_of, seal, sign
from tenthbook.record.ledger.proof import prove_stream, signed_message_holds
from tenthbook.record.ledger.verifier import MATCHES, SIGNATURE_PREFIX, Row, ed25519_holds

ENTRIES, EVERY, TURNS = 100_000, 100, 7
NOON = "2026-10-02T12:00:00Z"
SECRET = bytes(range(32))
KEY = public_key_of(SECRET)
READING = {"tag": "P-0212-6", "row": "size.shaft", "value": "0.5094 in", "gauge": "M1", "station": "", "direction": ""}


def stream() -> list[Entry]:
    """Readings, every hundredth entry signed."""
    entries: list[Entry] = []
    previous = ""
    for number in range(ENTRIES):
        request = f"{number:032x}"
        if number % EVERY:
            draft = Draft("reading taken", 1, "mechanic", request, previous, NOON, READING)
            entries.append(seal(draft, number, NOON, previous))
        else:
            draft = Draft("signed", 1, "inspector", request, previous, NOON, {"key": KEY.hex(), "rests_on": previous})
            entries.append(seal(draft, number, NOON, previous, lambda body: sign(SECRET, body)))
        previous = entries[-1].hash
    return entries


def least(rows: list[Row]) -> None:
    """Hash, read and check, and compare nothing."""
    for body, signature, _ in rows:
        hashlib.sha256(body + signature).digest()
    for body, _, _ in rows:
        json.loads(body)
    for body, signature, _ in rows:
        if signature:
            signed_message_holds(KEY, SIGNATURE_PREFIX + body, signature)


def plain(rows: list[Row]) -> None:
    """Check a hundred signatures in whole numbers."""
    for body, signature, _ in rows[: 100 * EVERY : EVERY]:
        ed25519_holds(KEY, SIGNATURE_PREFIX + body, signature)


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
    entries = stream()
    head, keys = entries[-1].hash, {"inspector": [KEY]}
    archive = pack(entries, [], [], {}, b"# verifier\n")
    rows = [(entry.body, entry.signature, entry.hash) for entry in entries]
    size = sum(len(body) for body, _, _ in rows) / ENTRIES
    del entries
    assert examine(archive, head, keys, signed_message_holds).answer == MATCHES
    times = best(
        {
            "the least": lambda: least(rows),
            "archive": lambda: examine(archive, head, keys, signed_message_holds),
            "rows of a store": lambda: prove_stream(rows, "job", head, keys),
            "100 plain signatures": lambda: plain(rows),
        }
    )
    print(f"{ENTRIES} entries of {size:.0f} bytes, {ENTRIES // EVERY} signed")
    for name, taken in times.items():
        print(f"{name:<22} {taken:>7.2f} s {taken / times['the least']:>7.2f} of the least")


if __name__ == "__main__":
    main()
