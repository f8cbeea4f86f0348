"""Before everything: how the shop came to its people, keys and instruments.

The keys are invented: they are made from the names of their people, so that every playing makes the same entries, and
whoever reads this can make them too. They sign nothing but the demonstration.
"""

from __future__ import annotations

import functools
import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from tenthbook.faces.story.clock import StoryClock, TurnedOutOtherwise
from tenthbook.faces.story.script import Script, ShopLine
from tenthbook.numbers.because import Refused
from tenthbook.record.bench import Bench
from tenthbook.record.ledger import Entry, KeyBox, close_key, fingerprint, public_key_of, sign
from tenthbook.record.ledger.keybox import NONCE_LENGTH, SALT_LENGTH

_OF_TOOLS = ("instrument registered", "calibrated", "instrument withdrawn", "instrument returned to use")


@dataclass(frozen=True, slots=True)
class ShopScene:
    """A line of the founding that was played.

    Attributes:
        line: The line.
        shows: What the book then showed, a line each.
    """

    line: ShopLine
    shows: tuple[str, ...]


def invented_bytes(label: str, length: int) -> bytes:
    """Make bytes that are the same in every playing.

    Args:
        label: What they are for.
        length: How many, 32 at most.

    Returns:
        The first bytes of the SHA-256 of the label.
    """
    return hashlib.sha256(f"invented, not secret: {label}".encode()).digest()[:length]


def invented_key(person: str) -> bytes:
    """Make the invented secret key of a person of the story.

    Args:
        person: Id of the person.

    Returns:
        An Ed25519 secret key [32 bytes] that everybody can make.
    """
    return invented_bytes(f"key of {person}", 32)


@functools.lru_cache(maxsize=8)
def _box(person: str, phrase: str) -> KeyBox:
    salt, nonce = invented_bytes(f"salt of {person}", SALT_LENGTH), invented_bytes(f"nonce of {person}", NONCE_LENGTH)
    return close_key(invented_key(person), f"{phrase} {person}", person, salt, nonce)


def _record(bench: Bench, line: ShopLine, name: str, phrase: str, request: str) -> Entry:
    act = {"person": line.who, "request": request, "acted_at": line.at}
    fields: dict[str, Any] = dict(line.fields)
    if line.does in _OF_TOOLS:
        return bench.crib.record(line.does, fields, act)
    if line.does == "shop opened":
        return bench.people.open(name, act, installation="demonstration", invented=True)
    if line.does == "key made":
        box = _box(line.who, phrase)
        bench.store.put_box(box)
        return bench.people.record("key made", {"person": line.who, "public_key": box.public_key.hex()}, act)
    if line.does == "key endorsed":
        secret = invented_key(line.who)
        wanted = public_key_of(invented_key(str(fields["person"]))).hex()
        data = {**fields, "endorsed_key": wanted, "key": public_key_of(secret).hex()}
        return bench.people.record("key endorsed", data, act, lambda body: sign(secret, body))
    return bench.people.record(line.does, fields, act)


def _shown(bench: Bench, entry: Entry) -> tuple[str, ...]:
    if entry.kind == "key made":
        return (f"fingerprint {fingerprint(bytes.fromhex(entry.data['public_key']))}",)
    if entry.kind == "key endorsed":
        return (bench.people.state().key_words(entry.data["person"]),)
    return ()


def found(script: Script, bench: Bench, clock: StoryClock) -> Iterator[ShopScene]:
    """Play the founding of the shop.

    Args:
        script: The script.
        bench: Where it is played; its store must read `clock`.
        clock: The clock that the playing sets.

    Yields:
        A scene a line.

    Raises:
        TurnedOutOtherwise: a line that should be refused is recorded, or another rule refuses it.
        Refused: a rule refuses what the script records.
    """
    founding = script.founding
    for number, line in enumerate(founding.lines if founding else (), 1):
        clock.now = line.at
        name, phrase = (founding.name, founding.phrase) if founding else ("", "")
        try:
            entry = _record(bench, line, name, phrase, f"story.shop.{number}")
        except Refused as refused:
            rules = [one.rule for one in refused.refusals]
            if line.refused not in rules:
                raise
            yield ShopScene(line, tuple(f"refused: {one}" for one in refused.refusals))
            continue
        if line.refused:
            raise TurnedOutOtherwise(found=f"line {number} of the founding recorded", expected=f"rule {line.refused}")
        yield ShopScene(line, _shown(bench, entry))
