"""Is this archive whole, unaltered, and does it end where it should?

Written with the standard library alone, so that a copy of this file inside the archive proves it in twenty years:

    python verify.py [HEAD] < ARCHIVE.zip

HEAD is the hash printed on a paper. The answer is "whole and matches", "whole, nothing outside proves the end", or
"broken at" and where. The archive is rebuilt from what it holds and compared byte for byte, so a change outside the
entries is found too. What a chain cannot show is
said: somebody who replaces a whole archive, and every paper that carries its head, leaves no trace in it.

Sources: SHA-256 (FIPS 180-4, from the library), RFC 8785 for the form of an entry, RFC 8032 for the signature. Checked
in: tests/published/test_rfc_8032.py
"""

from __future__ import annotations

import hashlib
import io
import json
import re
import struct
import sys
import zipfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass

FORMAT = "tenthbook archive 1\n"
README = """This archive is one stream of a bench book: everything recorded for one job, in order.

entries.jsonl   an entry a line, in the form that was hashed (RFC 8785)
seals.txt       for each entry its SHA-256 and its signature, or - where it has none
blobs/          bytes that entries refer to, each named by its SHA-256
head.txt        number and hash of the last entry; the same hash stands on the papers
verify.py       proves all this with a plain Python:   python verify.py HASH_FROM_A_PAPER < this_file.zip

Without a hash from outside, the proof says that the chain is whole, and that nothing outside proves its end.
"""
SIGNATURE_PREFIX = b"tenthbook entry signature 1\n"
MATCHES = "whole and matches"
END_UNPROVEN = "whole, nothing outside proves the end"
BROKEN = "broken at"

_FIXED = {"format.txt", "README.txt", "entries.jsonl", "seals.txt", "head.txt", "verify.py"}
_SEAL = re.compile(rb"([0-9a-f]{64}) (-|[0-9a-f]{128})")
_P = 2**255 - 19
_ORDER = 2**252 + 27742317777372353535851937790883648493
_D = -121665 * pow(121666, _P - 2, _P) % _P
_ROOT = pow(2, (_P - 1) // 4, _P)
Point = tuple[int, int, int, int]
Check = Callable[[bytes, bytes, bytes], bool]
KeyOf = Callable[[str], "bytes | None"]
Held = tuple[str, str]


@dataclass(frozen=True)
class Finding:
    """What the examination found.

    Attributes:
        answer: One of the three answers.
        where: For a broken archive, the place and what is wrong there; else the head.
        entries: How many entries were found whole.
    """

    answer: str
    where: str
    entries: int

    @property
    def whole(self) -> bool:
        """Whether nothing is broken."""
        return self.answer != BROKEN

    def __str__(self) -> str:
        return f"{self.answer}: {self.where}" if self.whole else f"{self.answer} {self.where}"


class _Broken(Exception):
    """Stops the examination at the first thing wrong."""


def build(members: Mapping[str, bytes]) -> bytes:
    """Write members as a stored ZIP that is the same bytes every time.

    Args:
        members: Content by name.

    Returns:
        The archive: sorted names, no compression, one fixed date.
    """
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_STORED) as archive:
        for name in sorted(members):
            entry = zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0))
            entry.create_system = 3
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, members[name])
    return out.getvalue()


def _add(p: Point, q: Point) -> Point:
    a = (p[1] - p[0]) * (q[1] - q[0]) % _P
    b = (p[1] + p[0]) * (q[1] + q[0]) % _P
    c = 2 * p[3] * q[3] * _D % _P
    d = 2 * p[2] * q[2] % _P
    e, f, g, h = b - a, d - c, d + c, b + a
    return e * f % _P, g * h % _P, f * g % _P, e * h % _P


def _times(factor: int, p: Point) -> Point:
    total: Point = (0, 1, 1, 0)
    while factor:
        if factor & 1:
            total = _add(total, p)
        p = _add(p, p)
        factor >>= 1
    return total


def _point(encoded: bytes) -> Point | None:
    y = int.from_bytes(encoded, "little")
    sign, y = y >> 255, y & (2**255 - 1)
    if y >= _P:
        return None
    square = (y * y - 1) * pow(_D * y * y + 1, _P - 2, _P) % _P
    x = pow(square, (_P + 3) // 8, _P)
    if (x * x - square) % _P:
        x = x * _ROOT % _P
    if (x * x - square) % _P or (x == 0 and sign):
        return None
    x = _P - x if x & 1 != sign else x
    return x, y, 1, x * y % _P


_BASE_Y = (4 * pow(5, _P - 2, _P) % _P).to_bytes(32, "little")


def ed25519_holds(public_key: bytes, message: bytes, signature: bytes) -> bool:
    """Check an Ed25519 signature in plain whole numbers.

    Args:
        public_key: [32 bytes].
        message: The signed bytes.
        signature: [64 bytes].

    Returns:
        True where it holds.

    Source: RFC 8032, sections 5.1.3 and 5.1.7. Checked in: tests/published/test_rfc_8032.py
    """
    if len(public_key) != 32 or len(signature) != 64:
        return False
    key, commitment, base = _point(public_key), _point(signature[:32]), _point(_BASE_Y)
    scalar = int.from_bytes(signature[32:], "little")
    if key is None or commitment is None or base is None or scalar >= _ORDER:
        return False
    challenge = int.from_bytes(hashlib.sha512(signature[:32] + public_key + message).digest(), "little") % _ORDER
    left, right = _times(scalar, base), _add(commitment, _times(challenge, key))
    return (left[0] * right[2] - right[0] * left[2]) % _P == 0 and (left[1] * right[2] - right[1] * left[2]) % _P == 0


def _canonical(value: object) -> bytes:
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False).encode()


def _members(archive: bytes) -> dict[str, bytes]:
    try:
        with zipfile.ZipFile(io.BytesIO(archive)) as opened:
            if any(
                entry.compress_type != zipfile.ZIP_STORED or entry.file_size > len(archive)
                for entry in opened.infolist()
            ):
                raise _Broken("archive: a member that is not stored as it is")
            members = {entry.filename: opened.read(entry) for entry in opened.infolist()}
    except (
        zipfile.BadZipFile,
        ValueError,
        NotImplementedError,
        RuntimeError,
        EOFError,
        OSError,
        struct.error,
    ) as error:
        raise _Broken(f"archive: {error}") from error
    if members.get("format.txt") != FORMAT.encode():
        raise _Broken("format.txt: not an archive of this format")
    if members.get("README.txt") != README.encode():
        raise _Broken("README.txt: not the page of this format")
    missing = _FIXED - set(members)
    if missing:
        raise _Broken(f"archive: {', '.join(sorted(missing))} missing")
    if build(members) != archive:
        raise _Broken("archive: bytes outside the members differ from what they should be")
    return members


def _check_entry(body: bytes, seal: bytes, number: int, previous: str, signed_by: KeyOf, check: Check) -> Held:
    match = _SEAL.fullmatch(seal)
    if match is None:
        raise _Broken(f"entry {number}: its seal is not a hash and a signature or -")
    stated, signature = match[1].decode(), b"" if match[2] == b"-" else bytes.fromhex(match[2].decode())
    try:
        held = json.loads(body)
        same = _canonical(held) == body
    except (ValueError, RecursionError) as error:
        raise _Broken(f"entry {number}: {error}") from error
    digest = hashlib.sha256(body + signature).hexdigest()
    if digest != stated:
        raise _Broken(f"entry {number}: its hash is {digest[:16]}, its seal says {stated[:16]}")
    if not same or not isinstance(held, dict):
        raise _Broken(f"entry {number}: not in canonical form")
    if type(held.get("number")) is not int or held["number"] != number or held.get("previous") != previous:
        raise _Broken(f"entry {number}: does not follow the entry before it")
    key = signed_by(str(held.get("person"))) if signature else None
    if key is not None and not check(key, SIGNATURE_PREFIX + body, signature):
        raise _Broken(f"entry {number}: the signature is not that of {held.get('person')}")
    return digest, _book_of(held)


def _book_of(held: Mapping[str, object]) -> str:
    """The digest of the book an entry pins; empty for any other entry."""
    data = held.get("data")
    return str(data.get("digest")) if held.get("kind") == "book pinned" and isinstance(data, dict) else ""


def _check_blobs(members: Mapping[str, bytes], books: set[str]) -> None:
    held = {name.partition("/")[2] for name in members if name not in _FIXED}
    if {f"blobs/{digest}" for digest in held} | _FIXED != set(members) or held != books:
        raise _Broken("blobs: not just the books that the entries pin")
    for digest in held:
        if hashlib.sha256(members[f"blobs/{digest}"]).hexdigest() != digest:
            raise _Broken(f"blobs/{digest}: its content has another hash")


def _examine(archive: bytes, keys: Mapping[str, bytes], check: Check) -> tuple[str, int]:
    members = _members(archive)
    *bodies, end_of_bodies = members["entries.jsonl"].split(b"\n")
    *seals, end_of_seals = members["seals.txt"].split(b"\n")
    if not bodies or len(bodies) != len(seals) or end_of_bodies or end_of_seals:
        raise _Broken(f"seals.txt: {len(bodies)} entries and {len(seals)} seals")
    previous, books = "", set()
    for number, (body, seal) in enumerate(zip(bodies, seals, strict=True)):
        previous, book = _check_entry(body, seal, number, previous, keys.get, check)
        books |= {book} - {""}
    if members["head.txt"] != f"{len(bodies) - 1} {previous}\n".encode():
        raise _Broken("head.txt: not the last entry")
    _check_blobs(members, books)
    return previous, len(bodies)


def examine(
    archive: bytes, head: str | None = None, keys: Mapping[str, bytes] | None = None, check: Check = ed25519_holds
) -> Finding:
    """Prove an archive, or find where it is broken.

    Args:
        archive: The bytes of the ZIP.
        head: Hash of the last entry as known from outside, for instance from a paper; None where nothing outside is
            known.
        keys: Public keys [32 bytes] by person id; signatures of others are only bound, not checked.
        check: Checks a signature; the plain one of this file unless a faster equal is given.

    Returns:
        One of the three answers and where.
    """
    try:
        last, entries = _examine(archive, keys or {}, check)
    except _Broken as broken:
        return Finding(BROKEN, str(broken), 0)
    if head is None:
        return Finding(END_UNPROVEN, f"entry {entries - 1}, head {last}", entries)
    if len(head) < 8 or not last.startswith(head.lower()):
        return Finding(BROKEN, f"entry {entries - 1}: the head is {last[:16]}, the paper says {head[:16]}", entries)
    return Finding(MATCHES, f"entry {entries - 1}, head {last}", entries)


if __name__ == "__main__":
    found = examine(sys.stdin.buffer.read(), sys.argv[1] if len(sys.argv) > 1 else None)
    sys.stdout.write(f"{found}\n")
    sys.exit(0 if found.whole else 1)
