"""Whatever is laid before the verifier, it answers "broken at", soon and in little memory, and never with an error."""

from __future__ import annotations

import hashlib
import io
import json
import struct
import time
import tracemalloc
import warnings
import zipfile
from collections.abc import Mapping

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.record.ledger import Draft, canonical, commitment, examine, pack, read_entry
from tenthbook.record.ledger.entry import body_of
from tenthbook.record.ledger.verifier import BROKEN, Finding, build, examine_rows
from tests.builders import NOON, chain, members_of, noted

SALT, PHOTOGRAPH, BOOK = b"\x01" * 32, b"a photograph", b"a book"
SEEN, KEPT = commitment(SALT, PHOTOGRAPH), hashlib.sha256(BOOK).hexdigest()
DRAFT = Draft("noted", 1, "mechanic", "r-1", "", NOON, {"book_kept": KEPT, "photograph_detached": SEEN, "text": "x"})
ENTRY = chain(DRAFT)[0]
ARCHIVE = pack([ENTRY], [BOOK], [(SALT, PHOTOGRAPH)], {}, b"# v\n")


def rebuilt(changed: Mapping[str, bytes | None]) -> bytes:
    """The archive built anew with other members; one of None is left out."""
    members = members_of(ARCHIVE) | {name: content for name, content in changed.items() if content is not None}
    return build({name: content for name, content in members.items() if changed.get(name, b"") is not None})


def alone(body: bytes) -> Finding:
    """What is found of a body that stands alone, its hash made to fit."""
    return examine_rows([(body, b"", hashlib.sha256(body).hexdigest())], "job-1")


def test_the_archive_is_whole_before_it_is_touched() -> None:
    """What is broken below is broken by the test."""
    assert examine(ARCHIVE).whole
    assert examine(rebuilt({})).whole
    assert alone(ENTRY.body).whole


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({f"kept/{KEPT}": None}, f"kept/{KEPT}: missing"),
        ({f"beside/{SEEN}": None}, f"beside/{SEEN}: missing"),
        ({f"kept/{KEPT}": b"another"}, f"kept/{KEPT}: its content has another hash"),
        ({f"beside/{SEEN}": SALT + b"another"}, f"beside/{SEEN}: its content has another hash"),
        ({f"beside/{'0' * 64}": b""}, f"beside/{'0' * 64}: no entry names it, or it was withheld"),
        ({f"kept/{SEEN}": SALT + PHOTOGRAPH}, f"kept/{SEEN}: no entry names it, or it was withheld"),
        ({f"blobs/{KEPT}": BOOK}, f"blobs/{KEPT}: no entry names it, or it was withheld"),
        ({"withheld.txt": f"{SEEN} {KEPT}\n".encode()}, f"beside/{SEEN}: no entry names it, or it was withheld"),
        ({"withheld.txt": f"{KEPT} {SEEN}\n".encode()}, f"withheld.txt: no entry names {KEPT[:16]}"),
        ({"keys.txt": f"mechanic {KEPT}\n".encode()}, "keys.txt: not the keys that the signed entries name"),
        ({"head.txt": b"1 " + ENTRY.hash.encode() + b"\n"}, "head.txt: not the last entry"),
        ({"format.txt": b"tenthbook archive 3\n"}, "format.txt: not an archive of this format"),
        ({"format.txt": b"tenthbook archive 1\n"}, "README.txt: not the page of this format"),
        ({"README.txt": b"Trust me.\n"}, "README.txt: not the page of this format"),
        ({"keys.txt": None, "withheld.txt": None}, "archive: keys.txt, withheld.txt missing"),
        ({"notes.txt": b""}, "archive: member notes.txt does not belong, or stands twice"),
        ({"kept/../../x": b""}, "archive: member kept/../../x does not belong, or stands twice"),
        ({"a" * 60000: b""}, f"archive: member {'a' * 80} does not belong, or stands twice"),
        ({"entries.jsonl": b""}, "seals.txt: 0 entries and 1 seals"),
        ({"entries.jsonl": b"", "seals.txt": b""}, "entry 0: there is none"),
        ({"seals.txt": b"\xff\xfe\n"}, "entry 0: its seal is not a hash and a signature or -"),
        ({"seals.txt": b"\x1b[2J -\n"}, f"entry 0: its hash is {ENTRY.hash[:16]}, its seal says ?[2J"),
    ],
)
def test_members_that_are_not_what_the_entries_name(changed: Mapping[str, bytes | None], words: str) -> None:
    """The place is named, in one line without a sign that steers a screen."""
    assert str(examine(rebuilt(changed))) == f"broken at {words}"


@pytest.mark.parametrize(
    "page",
    [
        f"{SEEN} {KEPT}",
        f"{SEEN}  {KEPT}\n",
        f"{SEEN} {KEPT}\n{SEEN} {KEPT}\n",
        f"{SEEN} {KEPT}\n{SEEN} {SEEN}\n",
        f"{SEEN.upper()} {KEPT}\n",
        f"{SEEN} {KEPT[:-1]}\n",
        "\n",
        "-\n",
    ],
)
def test_the_page_of_what_was_withheld_has_one_spelling(page: str) -> None:
    """A commitment and an entry a line, each once, sorted; a piece left out does not count as withheld otherwise."""
    found = examine(rebuilt({"withheld.txt": page.encode(), f"beside/{SEEN}": None}))
    assert str(found) == "broken at withheld.txt: not a sorted list of commitments and entries"


def test_a_piece_shorter_than_its_salt() -> None:
    """The salt is part of what lies beside, or it was no commitment."""
    named = hashlib.sha256(b"short").hexdigest()
    members = members_of(pack(chain(noted()), [], [], {}, b""))
    entry = chain(Draft("noted", 1, "m", "r", "", NOON, {"photograph_detached": named}))[0]
    members |= {"entries.jsonl": entry.body + b"\n", "seals.txt": f"{entry.hash} -\n".encode()}
    members |= {"head.txt": f"0 {entry.hash}\n".encode(), f"beside/{named}": b"short"}
    assert str(examine(build(members))) == f"broken at beside/{named}: shorter than its salt"


PLAIN = body_of(noted(), 0, NOON, "")


@pytest.mark.parametrize(
    "body",
    [
        *(b"", b"null", b"7", b"[]", b"{}", b'"text"', b"\xff", b"\xef\xbb\xbf{}", b"[" * 200_000, b'{"a":' * 200_000),
        b"[" * 100_000 + b"]" * 100_000,
        PLAIN + b" ",
        b" " + PLAIN,
        PLAIN + PLAIN,
        PLAIN.replace(b'"a note"', b"NaN"),
        PLAIN.replace(b'"a note"', b"-Infinity"),
        PLAIN.replace(b'"a note"', b"1.5"),
        PLAIN.replace(b'"a note"', b"1E400"),
        PLAIN.replace(b'"a note"', b"9" * 100_000),
        PLAIN.replace(b'"a note"', b'"\\ud800"'),
        PLAIN.replace(b'"mechanic"', b'"\\ud800"'),
        PLAIN.replace(b'"a note"', b'"\xed\xa0\x80"'),
        PLAIN.replace(b'"a note"', b'"\\u0061 note"'),
        PLAIN.replace(b'"a note"', b'"\\/ note"'),
        PLAIN.replace(b'"a note"', b'"a\tnote"'),
        PLAIN.replace(b'"a note"', b'"a\nnote"'),
        PLAIN.replace(b'"a note"', b'"a note" '),
        PLAIN.replace(b'"a note"', b'"a note","a":"b"'),
        PLAIN.replace(b'"a note"', b'"a note","text":"a note"'),
        PLAIN.replace(b'"a note"', b'"a note","text":""'),
        PLAIN.replace(b'"number":0', b'"number":-0'),
        PLAIN.replace(b'"number":0', b'"number":false'),
        PLAIN.replace(b'"number":0', b'"number":"0"'),
        PLAIN.replace(b'"number":0', b'"number":0.0'),
        PLAIN.replace(b'"number":0', b'"number":1'),
        PLAIN.replace(b'"version":1', b'"version":1,"version":1'),
        PLAIN.replace(b'"version":1', b'"version":1,"with":1'),
        PLAIN.replace(b',"version":1', b""),
        PLAIN.replace(b'"version":1', b'"version":null'),
        PLAIN.replace(b'"kind":"noted"', b'"kind":["noted"]'),
        PLAIN.replace(b'"person":"mechanic"', b'"person":null'),
        PLAIN.replace(b'{"text":"a note"}', b"[]"),
        PLAIN.replace(b'{"text":"a note"}', b'{"text_kept":["a"]}'),
        PLAIN.replace(b'{"text":"a note"}', b'{"text_detached":"../x"}'),
        PLAIN.replace(b'{"text":"a note"}', b'{"b":[1],"a":[1]}'),
    ],
    ids=lambda body: body[:20].decode("ascii", "replace") + f" {len(body)}",
)
def test_a_body_that_is_no_entry(body: bytes) -> None:
    """Torn, deep, in another spelling, with a binary fraction or half a sign: broken at its entry."""
    assert body != PLAIN
    found = alone(body)
    assert (found.answer, found.where[:9]) == (BROKEN, "entry 0: ")
    assert found.where.isprintable()


@pytest.mark.parametrize(("depth", "whole"), [(97, True), (98, False), (5000, False)])
def test_how_deep_an_entry_may_be_nested_is_fixed(depth: int, whole: bool) -> None:
    """A hundred lists and objects in one another, on any Python; brackets in a text, and side by side, are none."""
    beside = b'"[[{{' + b"[" * 200 + b'","\\"","[\\\\"' + b",[]" * 200
    body = PLAIN.replace(b'"a note"', b"[" * depth + beside + b"]" * depth)
    assert alone(body).whole == whole
    assert whole or alone(body).where == "entry 0: nested too deep"


VALUES = st.recursive(
    st.text(max_size=8) | st.integers(-(2**53) + 1, 2**53 - 1) | st.booleans() | st.none(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text('ab_"\\', max_size=3), inner, max_size=3),
    max_leaves=5,
)


@given(
    st.dictionaries(st.text('abc_"\\ \n', max_size=4), st.text(max_size=8) | VALUES, max_size=4), st.text(max_size=6)
)
def test_every_body_the_ledger_writes_is_found_whole(data: dict[str, object], text: str) -> None:
    """The quick test of the form and the writer of the ledger agree on whatever an entry can hold."""
    body = body_of(Draft(f"k{text}", 1, f"p{text}", f"r{text}", "", NOON, data), 0, NOON, "")
    assert alone(body).whole
    assert read_entry(body).body == body


@given(st.data())
def test_what_is_found_whole_is_in_the_canonical_form(data: st.DataObject) -> None:
    """Whatever is put in or taken out of a body, it is found whole only where the ledger would write just that."""
    body = bytearray(body_of(Draft("noted", 1, "p", "r", "", NOON, {"a": "b", "c": "d"}), 0, NOON, ""))
    place = data.draw(st.integers(0, len(body)))
    put = st.sampled_from([b"", b" ", b"\\", b'"', b",", b'"a":"b",', b'"d":"e",', b'"b":1,', b"0", b"-", b"\\u0061"])
    body[place : place + data.draw(st.integers(0, 3))] = data.draw(put)
    if alone(bytes(body)).whole:
        assert canonical(json.loads(body)) == bytes(body)


@given(st.binary(max_size=200))
def test_any_bytes_are_answered(content: bytes) -> None:
    """As an archive, behind the start of one, and as a body."""
    for archive in (content, ARCHIVE[:200] + content, b"PK\3\4" + content, content + ARCHIVE, ARCHIVE + content):
        assert examine(archive).whole == (archive == ARCHIVE)
    assert not alone(content).whole


@given(st.integers(0, len(ARCHIVE) - 1), st.binary(min_size=1, max_size=8))
def test_bytes_written_over_are_answered(place: int, content: bytes) -> None:
    """Wherever they fall: into lengths, names, sums or content."""
    archive = ARCHIVE[:place] + content + ARCHIVE[place + len(content) :]
    assert examine(archive).whole == (archive == ARCHIVE)


def test_a_member_said_to_be_huge() -> None:
    """A length beyond the file is not believed, and nothing is set aside for it."""
    for length in (len(ARCHIVE), 2**31, 2**32 - 1):
        archive = bytearray(ARCHIVE)
        struct.pack_into("<2L", archive, 18, length, length)
        assert str(examine(bytes(archive))) == "broken at archive: a member that is not stored as it is"


def test_a_packed_bomb_is_not_unpacked() -> None:
    """Two hundred megabytes of nothing in a small file are refused before they are unpacked."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive, archive.open("entries.jsonl", "w") as member:
        for _ in range(200):
            member.write(bytes(2**20))
    tracemalloc.start()
    began = time.perf_counter()
    found = examine(out.getvalue())
    spent, peak = time.perf_counter() - began, tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert str(found) == "broken at archive: a member that is not stored as it is"
    assert (spent < 1, peak < 2**20) == (True, True)


def test_members_that_lie_over_one_another() -> None:
    """A register that names one place many times gains nothing: the file is read once, from its start to its end."""
    big = bytes(2**20)
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive, warnings.catch_warnings():
        warnings.simplefilter("ignore", UserWarning)
        archive.writestr("format.txt", big)
        archive.filelist += [archive.filelist[0]] * 5000
    began = time.perf_counter()
    assert examine(out.getvalue()).answer == BROKEN
    assert time.perf_counter() - began < 1


def test_many_members_are_refused_and_no_error() -> None:
    """More members than such a file can number."""
    one = build({f"kept/{'0' * 64}": b""}).split(b"PK\1\2")[0]
    archive = b"".join(one.replace(b"0" * 64, f"{number:064x}".encode()) for number in range(70_000))
    assert examine(archive + ARCHIVE).answer == BROKEN
