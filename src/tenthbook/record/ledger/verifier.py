"""Is this archive whole, unaltered, and does it end where it should?

Written with the standard library alone (Python 3.11 or later), so that the copy of this file inside each archive proves
it in twenty years:

    python verify.py [HEAD [KEYS_FILE]] < ARCHIVE.zip

HEAD is the hash printed on a paper, or - for none; a line of KEYS_FILE is a person and a public key known from outside.
The answer is "whole and matches", "whole, nothing outside proves the end", or "broken at" and where; what is no break
but ought to be known follows, a line each. The archive is rebuilt from what it holds and compared byte for byte, so a
change outside the entries is found too. What a chain cannot show is said: somebody who replaces a whole archive, and
every paper that carries its head, leaves no trace in it.

Sources: SHA-256 (FIPS 180-4, from the library), RFC 8785 for the form of an entry, RFC 8032 for the signature. Checked
in: tests/published/test_rfc_8032.py
"""

from __future__ import annotations

import hashlib
import json
import re
import struct
import sys
import zlib
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate
from operator import lt
from typing import Any

FORMAT = "tenthbook archive 2\n"
FORMAT_1 = "tenthbook archive 1\n"
README = """This archive is one stream of a bench book: all about one job, one book, the tools, or the shop, in order.

entries.jsonl   an entry a line, in the form that was hashed (RFC 8785)
seals.txt       for each entry its SHA-256 and its signature, or - where it has none
kept/           what entries rest on, such as books and signed statements, each named by its SHA-256
beside/         what lies beside the entries, such as photographs: 32 bytes of salt, then the content, each named by
                the SHA-256 of both
withheld.txt    what lay there and was taken away lawfully: its name, and the hash of the shop's entry that says why
keys.txt        who signed, and with which public key, as the entries themselves claim
head.txt        number and hash of the last entry; the same hash stands on the papers
verify.py       proves all this with a plain Python, 3.11 or later:
                python verify.py HASH_FROM_A_PAPER KEYS_FILE < this_file.zip

Without a hash from outside, the proof says that the chain is whole, and that nothing outside proves its end. Without
keys from outside (a person and a key a line, as in keys.txt) it says that each signature holds under the key it names,
and not whose key that is.
"""
README_1 = """This archive is one stream of a bench book: everything recorded for one job, in order.

entries.jsonl   an entry a line, in the form that was hashed (RFC 8785)
seals.txt       for each entry its SHA-256 and its signature, or - where it has none
blobs/          bytes that entries refer to, each named by its SHA-256
head.txt        number and hash of the last entry; the same hash stands on the papers
verify.py       proves all this with a plain Python:   python verify.py HASH_FROM_A_PAPER < this_file.zip

Without a hash from outside, the proof says that the chain is whole, and that nothing outside proves its end.
"""
SIGNATURE_PREFIX = b"tenthbook entry signature 1\n"
SIGNED_KINDS = frozenset({"signed", "released", "gate overridden", "key endorsed", "key revoked"})
MATCHES = "whole and matches"
END_UNPROVEN = "whole, nothing outside proves the end"
BROKEN = "broken at"
LARGEST = 2**32 - 2**25
MEMBERS = 2**16 - 2
SALT = 32

_FIXED_1 = frozenset({"format.txt", "README.txt", "entries.jsonl", "seals.txt", "head.txt", "verify.py"})
_FIXED = _FIXED_1 | {"keys.txt", "withheld.txt"}
_MEMBER = re.compile("|".join(map(re.escape, sorted(_FIXED))) + "|(blobs|kept|beside)/[0-9a-f]{64}")
_SIGNATURE = re.compile(r"[0-9a-f]{128}")
_WITHHELD = re.compile(r"([0-9a-f]{64}) ([0-9a-f]{64})")
_HASH = re.compile(r"[0-9a-f]{64}")
_QUOTED, _BRACKET, _DEPTH = re.compile(r'"(?:[^"\\]|\\.)*"'), re.compile(r"[][{}]"), 100
_BLANKS = re.compile(r"[\t-\r ]+")
_WORDS = ("acted_at", "kind", "person", "previous", "recorded_at", "request", "seen")
_SHAPE = {**dict.fromkeys(_WORDS, str), "data": dict, "number": int, "version": int}
_P = 2**255 - 19
_ORDER = 2**252 + 27742317777372353535851937790883648493
_D = -121665 * pow(121666, _P - 2, _P) % _P
_ROOT = pow(2, (_P - 1) // 4, _P)
Point = tuple[int, int, int, int]
Check = Callable[[bytes, bytes, bytes], bool]
Keys = Mapping[str, Collection[bytes]]
Row = tuple[bytes, bytes, str]


@dataclass(frozen=True)
class Finding:
    """What the examination found.

    Attributes:
        answer: One of the three answers.
        where: For a broken archive, the place and what is wrong there; else how far what is known from outside reaches.
        entries: How many entries were found whole.
        notes: What is no break but ought to be known, a line each.
        head: Hash of the last entry; empty for a broken archive.
    """

    answer: str
    where: str
    entries: int
    notes: tuple[str, ...] = ()
    head: str = ""

    @property
    def whole(self) -> bool:
        """Whether nothing is broken."""
        return self.answer != BROKEN

    def __str__(self) -> str:
        return f"{self.answer}: {self.where}" if self.whole else f"{self.answer} {self.where}"


class _BreakFound(Exception):
    """The first thing wrong, at which the examination stops."""


def _shown(text: str) -> str:
    """A text that nobody vouches for, fit for one line of the answer."""
    return "".join(sign if sign.isprintable() else "?" for sign in text[:80])


def build(members: Mapping[str, bytes]) -> bytes:
    """Write members as a stored ZIP that is the same bytes every time.

    Args:
        members: Content by name; together within `LARGEST` [bytes] and `MEMBERS` of them.

    Returns:
        The archive: sorted names, no compression, one fixed date (1 January 1980).
    """
    parts: list[bytes] = []
    register: list[bytes] = []
    place = 0
    for name, content in sorted(members.items()):
        common = struct.pack("<5H3L2H", 20, 0, 0, 0, 33, zlib.crc32(content), *[len(content)] * 2, len(name), 0)
        parts += [b"PK\3\4", common, name.encode("ascii"), content]
        register += [b"PK\1\2\x14\3", common, struct.pack("<3H2L", 0, 0, 0, 0o644 << 16, place), name.encode("ascii")]
        place += 30 + len(name) + len(content)
    length = sum(map(len, register))
    end = struct.pack("<4s4H2LH", b"PK\5\6", 0, 0, len(members), len(members), length, place, 0)
    return b"".join([*parts, *register, end])


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


def _no_fraction(text: str) -> None:
    raise ValueError(f"{text[:20]} is no whole number")


_READER = json.JSONDecoder(parse_float=_no_fraction, parse_constant=_no_fraction)
_WRITER = json.JSONEncoder(sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)
_TEXT, _WHOLE = r'[^"\\\x00-\x1f]*+', "(?:0|-?[1-9][0-9]{0,14})"
_PAIR = f'"{_TEXT}":"{_TEXT}"'
_FLAT = re.compile(
    rf'\{{"acted_at":"{_TEXT}","data":\{{((?:{_PAIR}(?:,{_PAIR})*+)?)\}},"kind":"({_TEXT})","number":({_WHOLE}),'
    rf'"person":"({_TEXT})","previous":"({_TEXT})","recorded_at":"({_TEXT})",'
    rf'"request":"{_TEXT}","seen":"{_TEXT}","version":{_WHOLE}\}}'
)


def _depth(text: str) -> int:
    """How deep lists and objects are nested, so that no Python answers otherwise than another."""
    steps = (1 if sign in "[{" else -1 for sign in _BRACKET.findall(_QUOTED.sub("", text)))
    return max(accumulate(steps), default=0)


def _fields(text: str) -> Sequence[str]:
    """Read kind, number, person, hash before and time of recording of an entry that is in canonical form.

    Where its data are text without escapes, and its names stand in order, its one spelling is that of `_FLAT`: most
    entries are so, and quickly told. Any other is read and written anew.
    """
    flat = _FLAT.fullmatch(text)
    if flat is not None:
        names = flat[1].split('"')[1::4]
        if all(map(lt, names, names[1:])):
            return flat.groups()[1:]
    if text.count("[") + text.count("{") > _DEPTH and _depth(text) > _DEPTH:
        raise ValueError("nested too deep")
    held, end = _READER.raw_decode(text)
    canonical = type(held) is dict and {name: type(value) for name, value in held.items()} == _SHAPE
    if not canonical or end != len(text) or _WRITER.encode(held) != text:
        raise ValueError("not in the canonical form of an entry")
    return [str(held[name]) for name in ("kind", "number", "person", "previous", "recorded_at")]


def _data(body: bytes) -> dict[str, Any]:
    held: dict[str, dict[str, Any]] = _READER.decode(body.decode())
    return held["data"]


def pieces(kind: str, data: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """List the bytes outside an entry that it names: what its fields ending in `_kept` and `_detached` say.

    Args:
        kind: The entry's kind.
        data: Its data.

    Yields:
        "kept" or "beside", and the hash; the digest of a pinned book among them.

    Raises:
        ValueError: a field that holds neither a hash nor nothing.
    """
    for name, value in data.items():
        if name.endswith(("_kept", "_detached")) or (name == "digest" and kind == "book pinned"):
            if not isinstance(value, str) or (value and not _HASH.fullmatch(value)):
                raise ValueError(f"its {_shown(name)} is no hash")
            if value:
                yield "beside" if name.endswith("_detached") else "kept", value


def _name(person: str) -> str:
    return " ".join(person.split()).casefold()


class _Chain:
    """A stream that is followed entry by entry, what was seen of it so far, and what of it is known from outside."""

    def __init__(self, keys: Keys | None, check: Check, first_format: bool = False) -> None:
        self.hashes: list[str] = []
        self.notes: list[str] = []
        self.stream = ""
        self.signers: set[tuple[str, str]] = set()  # person and key, as claimed
        self.named: dict[tuple[str, str], list[int]] = {}  # numbers of the entries, by what they name
        self._signed: tuple[int, str] | None = None  # the last one by a key known from outside
        self._strangers: dict[str, list[int]] = {}
        self._known: dict[str, set[bytes]] = {}
        for person, theirs in (keys or {}).items():
            self._known.setdefault(_name(person), set()).update(theirs)
        self._asked, self._check, self._first_format = keys is not None, check, first_format

    def follow(self, rows: Iterable[Row]) -> None:
        """Follow the stream to its end, or to its first break."""
        previous, latest = "", ""
        try:
            for number, (body, signature, stated) in enumerate(rows):
                digest = hashlib.sha256(body + signature).hexdigest()
                if digest != stated:
                    raise ValueError(f"its hash is {digest[:16]}, its seal says {_shown(stated[:16])}")
                kind, place, person, before, clock = _fields(body.decode())
                if place != str(number) or before != previous:
                    raise ValueError("does not follow the entry before it")
                if clock < latest:
                    self.notes.append(
                        f"entry {number}: recorded at {_shown(clock)} before entry {number - 1} at {_shown(latest)}"
                    )
                if signature or kind in SIGNED_KINDS:
                    self._judge_signature(number, kind, person, body, signature)
                if b'_kept":' in body or b'_detached":' in body or kind == "book pinned":
                    for named in pieces(kind, _data(body)):
                        self.named.setdefault(named, []).append(number)
                if not number:
                    self.stream = str(_data(body).get("stream", ""))
                self.hashes.append(digest)
                previous, latest = digest, clock
        except ValueError as error:
            raise _BreakFound(f"entry {len(self.hashes)}: {error}") from error

    def _judge_signature(self, number: int, kind: str, person: str, body: bytes, signature: bytes) -> None:
        if bool(signature) != (kind in SIGNED_KINDS):
            raise ValueError(f"{'a' if signature else 'no'} signature on {_shown(kind)!r}")
        theirs, keyless = self._known.get(_name(person)), self._first_format and "key" not in _data(body)
        if keyless:  # the signed entries of the first format need not name one
            if theirs is not None and not any(self._check(key, SIGNATURE_PREFIX + body, signature) for key in theirs):
                raise ValueError(f"the signature is not that of {_shown(person)}")
        else:
            key = self._key_named(body, signature)
            if theirs is not None and key not in theirs:
                raise ValueError(f"the signature is by a key that is not {_shown(person)}'s")
            self.signers.add((person, key.hex()))
        if theirs is not None:
            self._signed = number, person
        elif self._asked or keyless:
            self._strangers.setdefault(person, []).append(number)

    def _key_named(self, body: bytes, signature: bytes) -> bytes:
        key = _data(body).get("key")
        if not isinstance(key, str) or not _HASH.fullmatch(key):
            raise ValueError("signed, and names no public key")
        if not self._check(bytes.fromhex(key), SIGNATURE_PREFIX + body, signature):
            raise ValueError("the signature does not hold under the key it names")
        return bytes.fromhex(key)

    def conclude(self, head: str | None, anchors: Iterable[tuple[int, str]] = ()) -> Finding:
        """Say how far what is known from outside reaches."""
        if not self.hashes:
            raise _BreakFound("entry 0: there is none")
        last, proven = len(self.hashes) - 1, self._anchored(anchors)
        strangers = (
            f"nothing outside says which key is {_shown(who)}'s: {_entries(at)}" for who, at in self._strangers.items()
        )
        where = ", ".join([f"entry {last}, head {self.hashes[-1]}", *(words for _, words in proven)])
        whole = Finding(MATCHES, where, last + 1, (*self.notes, *strangers), self.hashes[-1])
        if head is not None:
            place = self._on_paper(head)
            if place == last:
                return whole
            proven.append((place, f"matches the paper up to entry {place}"))
        if self._signed is not None:
            proven.append((self._signed[0], f"signed up to entry {self._signed[0]} by {_shown(self._signed[1])}"))
        return replace(whole, answer=END_UNPROVEN, where=_reach(last, sorted(proven)) or where)

    def _anchored(self, anchors: Iterable[tuple[int, str]]) -> list[tuple[int, str]]:
        """The furthest of the anchors, and in words."""
        furthest = -1
        for number, anchored in anchors:
            there = self.hashes[number] if 0 <= number < len(self.hashes) else "missing"
            if there != anchored:
                raise _BreakFound(f"entry {number}: the shop anchored {_shown(anchored[:16])}, here it is {there[:16]}")
            furthest = max(furthest, number)
        return [] if furthest < 0 else [(furthest, f"anchored in the shop up to entry {furthest}")]

    def _on_paper(self, head: str) -> int:
        """Number of the last entry whose hash begins as the paper says."""
        last, sought = len(self.hashes) - 1, head.lower()
        for number in range(last, -1, -1) if len(head) >= 8 else ():
            if self.hashes[number].startswith(sought):
                return number
        raise _BreakFound(f"entry {last}: the head is {self.hashes[-1][:16]}, the paper says {_shown(head[:16])}")


def _entries(numbers: Collection[int]) -> str:
    return f"entr{'y' if len(numbers) == 1 else 'ies'} {', '.join(map(str, sorted(numbers)))}"


def _reach(last: int, proven: list[tuple[int, str]]) -> str:
    after = last - proven[-1][0] if proven else 0
    rest = f"; nothing outside proves the {f'{after} entries' if after > 1 else 'entry'} after it" if after else ""
    return ", ".join(words for _, words in proven) + rest


def lines_of(pairs: Iterable[tuple[str, str]]) -> bytes:
    """Write pairs, such as who signed and with which key.

    Args:
        pairs: Two texts each; a line break in them makes no line.

    Returns:
        A line each, sorted.
    """
    return "".join(sorted({f"{_BLANKS.sub(' ', one)} {other}\n" for one, other in pairs})).encode(errors="replace")


def read_keys(text: str) -> dict[str, set[bytes]]:
    """Read public keys known from outside.

    Args:
        text: A person and a public key, hexadecimal, a line.

    Returns:
        Public keys [32 bytes] by person.

    Raises:
        ValueError: a line that is something else.
    """
    keys: dict[str, set[bytes]] = {}
    for line in filter(str.strip, text.split("\n")):
        person, _, key = line.strip().rpartition(" ")
        if not person or not _HASH.fullmatch(key.lower()):
            raise ValueError(f"{_shown(line)!r} is not a person and a public key of 64 figures")
        keys.setdefault(person, set()).add(bytes.fromhex(key))
    return keys


def _members(archive: bytes) -> dict[str, bytes]:
    """Take an archive apart, and hold it against what it would be built as."""
    members: dict[str, bytes] = {}
    place = 0
    while archive.startswith(b"PK\3\4", place) and place + 30 <= len(archive):
        method, packed, size, length, more = struct.unpack_from("<8xH8x2L2H", archive, place)
        start = place + 30 + length + more
        name = archive[place + 30 : place + 30 + min(length, 80)].decode("ascii", "replace")
        if method or packed != size or start + size > len(archive):
            raise _BreakFound("archive: a member that is not stored as it is")
        if name in members or not _MEMBER.fullmatch(name):
            raise _BreakFound(f"archive: member {_shown(name)} does not belong, or stands twice")
        members[name] = archive[start : start + size]
        place = start + size
    first = members.get("format.txt") == FORMAT_1.encode()
    if not first and members.get("format.txt") != FORMAT.encode():
        raise _BreakFound("format.txt: not an archive of this format")
    if members.get("README.txt") != (README_1 if first else README).encode():
        raise _BreakFound("README.txt: not the page of this format")
    missing = (_FIXED_1 if first else _FIXED) - set(members)
    if missing:
        raise _BreakFound(f"archive: {', '.join(sorted(missing))} missing")
    if len(archive) >= 2**32 or len(members) > MEMBERS or build(members) != archive:
        raise _BreakFound("archive: damaged, or bytes outside the members differ from what they should be")
    return members


def _rows(members: Mapping[str, bytes]) -> Iterator[Row]:
    *bodies, end_of_bodies = members["entries.jsonl"].split(b"\n")
    *seals, end_of_seals = members["seals.txt"].decode("ascii", "replace").split("\n")
    if len(bodies) != len(seals) or end_of_bodies or end_of_seals:
        raise _BreakFound(f"seals.txt: {len(bodies)} entries and {len(seals)} seals")
    return map(_row, bodies, seals)


def _row(body: bytes, seal: str) -> Row:
    stated, _, signature = seal.partition(" ")
    if signature == "-":
        return body, b"", stated
    if not _SIGNATURE.fullmatch(signature):
        raise ValueError("its seal is not a hash and a signature or -")
    return body, bytes.fromhex(signature), stated


def _withheld(page: bytes, named: Collection[tuple[str, str]]) -> set[tuple[str, str]]:
    lines = page.decode("ascii", "replace").split("\n")
    withheld = dict(line.split(" ") for line in lines if _WITHHELD.fullmatch(line))
    if lines_of(withheld.items()) != page:
        raise _BreakFound("withheld.txt: not a sorted list of commitments and entries")
    for commitment in withheld:
        if ("beside", commitment) not in named:
            raise _BreakFound(f"withheld.txt: no entry names {commitment[:16]}")
    return {("beside", commitment) for commitment in withheld}


def _check_members(members: Mapping[str, bytes], wanted: Collection[str]) -> None:
    """Ask for just the members that the entries name, each with the content it is named after."""
    there = set(members) - _FIXED
    for name in sorted(there.symmetric_difference(wanted)):
        raise _BreakFound(f"{name}: {'no entry names it, or it was withheld' if name in there else 'missing'}")
    for name in sorted(there):
        folder, _, digest = name.partition("/")
        if hashlib.sha256(members[name]).hexdigest() != digest:
            raise _BreakFound(f"{name}: its content has another hash")
        if folder == "beside" and len(members[name]) < SALT:
            raise _BreakFound(f"{name}: shorter than its salt")


def _examine(archive: bytes, head: str | None, keys: Keys | None, check: Check) -> Finding:
    members = _members(archive)
    first = members["format.txt"] == FORMAT_1.encode()
    chain = _Chain(keys, check, first)
    chain.follow(_rows(members))
    found = chain.conclude(head)
    if members["head.txt"] != f"{found.entries - 1} {found.head}\n".encode():
        raise _BreakFound("head.txt: not the last entry")
    if first:
        _check_members(members, {f"blobs/{name}" for folder, name in chain.named if folder == "kept"})
        return found
    if members["keys.txt"] != lines_of(chain.signers):
        raise _BreakFound("keys.txt: not the keys that the signed entries name")
    withheld = _withheld(members["withheld.txt"], chain.named)
    _check_members(members, {f"{folder}/{name}" for folder, name in chain.named.keys() - withheld})
    at = {number for piece in withheld for number in chain.named[piece]}
    note = f"{len(withheld)} piece{'s' if len(withheld) > 1 else ''} of bytes withheld: {_entries(at)}"
    return replace(found, notes=(*found.notes, note)) if withheld else found


def examine(archive: bytes, head: str | None = None, keys: Keys | None = None, check: Check = ed25519_holds) -> Finding:
    """Prove an archive, or find where it is broken.

    Args:
        archive: The bytes of the ZIP.
        head: Hash of an entry as known from outside, for instance from a paper, its first eight signs or more; None
            where nothing outside is known.
        keys: Public keys [32 bytes] by person id, known from outside; None where none is, and nobody asks.
        check: Checks a signature; the plain one of this file unless a faster equal is given.

    Returns:
        One of the three answers, how far it is proven or where it is broken, and what else ought to be known.
    """
    try:
        return _examine(archive, head, keys, check)
    except _BreakFound as found:
        return Finding(BROKEN, str(found), 0)


def examine_rows(
    rows: Iterable[Row],
    stream: str,
    head: str | None = None,
    keys: Keys | None = None,
    check: Check = ed25519_holds,
    anchors: Iterable[tuple[int, str]] = (),
) -> Finding:
    """Prove a stream that is in no archive, or find where it is broken.

    Args:
        rows: For each entry its body, its signature or nothing, and the hash stated for it.
        stream: Id of the stream, as entry 0 must give it, if it gives one.
        head: As for `examine`.
        keys: As for `examine`.
        check: As for `examine`.
        anchors: Number and hash of entries of this stream, as the shop's stream holds them.

    Returns:
        As for `examine`.
    """
    chain = _Chain(keys, check)
    try:
        chain.follow(rows)
        if chain.stream not in ("", stream):
            raise _BreakFound(f"entry 0: it opens {_shown(chain.stream)!r}, not {_shown(stream)!r}")
        return chain.conclude(head, anchors)
    except _BreakFound as found:
        return Finding(BROKEN, str(found), 0)


def _main(words: list[str]) -> int:
    keys = None
    if len(words) > 2:
        try:
            with open(words[2], encoding="utf-8") as file:
                keys = read_keys(file.read())
        except (OSError, ValueError) as error:
            sys.stderr.write(f"{words[2]}: {error}\n".encode("ascii", "backslashreplace").decode())
            return 2
    found = examine(sys.stdin.buffer.read(), words[1] if len(words) > 1 and words[1] != "-" else None, keys)
    lines = "".join(f"{line}\n" for line in (found, *found.notes))
    sys.stdout.buffer.write(lines.encode(sys.stdout.encoding, "backslashreplace"))
    return 0 if found.whole else 1


if __name__ == "__main__":
    sys.exit(_main(sys.argv))
