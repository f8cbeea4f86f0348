"""Whatever was done to a backup, it is found before anything is taken over, and the member is named."""

from __future__ import annotations

import hashlib
import io
import itertools
import struct
import tracemalloc
import zipfile
from collections.abc import Mapping

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.record.ledger import Draft, KeyBox, canonical, commitment, public_key_of, seal, sign
from tenthbook.record.ledger.backup import BrokenBackup, read_backup, write_backup
from tenthbook.record.ledger.backup_pages import manifest_page
from tenthbook.record.ledger.backup_zip import Packing
from tenthbook.record.ledger.stream import Holdings
from tests.builders import NOON, PERSON, members_of

SECRET, OTHER, SALT = bytes(range(32)), bytes(32), b"\x01" * 32
KEY, BOOK, PHOTOGRAPH = public_key_of(SECRET), b"a book\n", b"a photograph"
KEPT, SEEN = hashlib.sha256(BOOK).hexdigest(), commitment(SALT, PHOTOGRAPH)
NAMED = Draft("noted", 1, PERSON, "r-1", "", NOON, {"book_kept": KEPT, "photograph_detached": SEEN, "stream": "job-1"})
SIGNED = Draft("signed", 1, PERSON, "r-2", "", NOON, {"key": KEY.hex()})
ENTRIES = [seal(NAMED, 0, NOON, "")]
ENTRIES.append(seal(SIGNED, 1, NOON, ENTRIES[0].hash, lambda body: sign(SECRET, body)))
BODIES, SEALS = "streams/1-entries.jsonl", "streams/1-seals.txt"


def backup() -> bytes:
    """A small one, with one of everything."""
    out = io.BytesIO()
    box, account = KeyBox(PERSON, KEY, bytes(16), bytes(12), bytes(48)), canonical({"name": PERSON})
    gone = {"a" * 64: ENTRIES[1].hash}
    write_backup(out, Holdings([("job-1", ENTRIES)], [BOOK], [(SALT, PHOTOGRAPH)], gone, [box], [account]))
    return out.getvalue()


WHOLE = backup()
MEMBERS = members_of(WHOLE)


def packed(members: Mapping[str, bytes], *more: tuple[str, bytes]) -> bytes:
    """Members in the form of a backup, with a manifest that lists them as they are."""
    out = io.BytesIO()
    packing = Packing(out)
    for name, content in [*members.items(), *more]:
        if name != "manifest.txt":
            packing.add(name, content)
    packing.add("manifest.txt", manifest_page(packing.members))
    packing.end()
    return out.getvalue()


def rebuilt(changed: Mapping[str, bytes | None]) -> bytes:
    """The backup packed anew with other members in their places; one of None is left out."""
    members = {name: changed.get(name, content) for name, content in MEMBERS.items()}
    more = {name: content for name, content in changed.items() if name not in MEMBERS}
    return packed({name: content for name, content in [*members.items(), *more.items()] if content is not None})


def words(content: bytes) -> str:
    """What is said of a backup that is broken."""
    with pytest.raises(BrokenBackup) as broken:
        read_backup(io.BytesIO(content))
    assert broken.value.expected
    assert str(broken.value).isprintable()
    assert "nothing was taken over" in broken.value.todo
    return broken.value.found


def test_the_backup_is_whole_before_it_is_touched() -> None:
    """What is broken below is broken by the test."""
    assert rebuilt({}) == WHOLE
    assert read_backup(io.BytesIO(WHOLE)).findings == ()


def test_every_bit_counts() -> None:
    """Each bit of the file, turned round by itself, is found."""
    content = bytearray(WHOLE)
    for place, bit in itertools.product(range(len(content)), range(8)):
        content[place] ^= 1 << bit
        with pytest.raises(BrokenBackup):
            read_backup(io.BytesIO(content))
        content[place] ^= 1 << bit


def test_every_byte_counts() -> None:
    """Torn off anywhere, or longer by a byte, it is found."""
    for length in range(len(WHOLE)):
        with pytest.raises(BrokenBackup):
            read_backup(io.BytesIO(WHOLE[:length]))
    assert words(WHOLE + b"\0") == "end of the file: 1 bytes more"
    assert words(b"\0" + WHOLE) == "file: it does not begin as a backup does"


@pytest.mark.parametrize("name", [name for name in MEMBERS if name not in ("format.txt", "manifest.txt")])
def test_every_member_is_missed(name: str) -> None:
    """A member left out is named, even where the manifest was made to fit; bytes that an entry names are a finding."""
    without = rebuilt({name: None})
    if name.startswith(("kept/", "beside/")):
        found = read_backup(io.BytesIO(without)).findings
        assert found == (f"job-1, entry 0: it names {name}, and nothing lies there",)
    else:
        assert words(without) == f"{name}: missing"


def test_the_form_and_the_manifest_are_missed() -> None:
    """A file that does not begin with its form, or does not end with its manifest, is none."""
    assert words(rebuilt({"format.txt": None})) == "README.txt: not a backup of this form"
    assert words(rebuilt({"format.txt": b"tenthbook backup 2\n"})) == "format.txt: not a backup of this form"
    out = io.BytesIO()
    packing = Packing(out)
    for name, content in list(MEMBERS.items())[:-1]:
        packing.add(name, content)
    packing.end()
    assert words(out.getvalue()) == "manifest.txt: missing at the end, after accounts.jsonl"


def resigned() -> bytes:
    """The seals, with the signature of another key."""
    signature = sign(OTHER, ENTRIES[1].body)
    return (
        f"{ENTRIES[0].hash} -\n{hashlib.sha256(ENTRIES[1].body + signature).hexdigest()} {signature.hex()}\n".encode()
    )


def relined(**changed: str) -> bytes:
    """The list of streams with another head, count or name."""
    line = {"head": ENTRIES[1].hash, "count": "2", "name": '"job-1"', **changed}
    return f"1 {line['head']} {line['count']} {line['name']}\n".encode()


@pytest.mark.parametrize(
    ("changed", "found"),
    [
        ({f"kept/{KEPT}": b"another"}, f"kept/{KEPT}: its content has another SHA-256"),
        ({f"beside/{SEEN}": SALT + b"another"}, f"beside/{SEEN}: its content has another SHA-256"),
        ({"README.txt": b"Trust me.\n"}, "README.txt: another page"),
        ({"notes.txt": b""}, "notes.txt: it does not belong"),
        ({"streams/2-entries.jsonl": b"{}\n"}, "streams/2-entries.jsonl: it does not belong"),
        ({"kept/../../x": b""}, "kept/../../x: it does not belong"),
        ({"withheld.txt": f"{SEEN} {ENTRIES[1].hash}\n".encode()}, f"beside/{SEEN}: it was withheld, and is there"),
        ({"withheld.txt": f"{SEEN}  {KEPT}\n".encode()}, "withheld.txt: not a sorted list"),
        ({"withheld.txt": MEMBERS["withheld.txt"] * 2}, "withheld.txt: not a sorted list"),
        ({"boxes.jsonl": b"{}\n"}, "boxes.jsonl: {}"),
        ({"boxes.jsonl": MEMBERS["boxes.jsonl"].replace(b"00", b"", 1)}, f"boxes.jsonl: the key of {PERSON}"),
        ({"boxes.jsonl": MEMBERS["boxes.jsonl"].replace(b":", b": ", 1)}, 'boxes.jsonl: {"closed": "'),
        ({"boxes.jsonl": b"[" * 100_000 + b"\n"}, "boxes.jsonl: [[["),
        ({"accounts.jsonl": b'{"name":"a"}'}, "accounts.jsonl: its last line does not end"),
        ({"accounts.jsonl": b'{"name":"\\u0061"}\n'}, "accounts.jsonl: {"),
        ({"accounts.jsonl": b"\xff\n"}, "accounts.jsonl: not text"),
        ({"streams.txt": b""}, f"{BODIES}: it does not belong"),
        ({"streams.txt": relined() * 2}, "streams.txt: not a list of streams"),
        ({"streams.txt": relined(count="02")}, "streams.txt: not a list of streams"),
        ({"streams.txt": relined(name='"\\ud800"')}, 'streams.txt: "\\ud800"'),
        ({"streams.txt": relined(name="7")}, "streams.txt: not a list of streams"),
        ({"streams.txt": relined(head="0" * 64)}, f"streams.txt: job-1 is said to end at {'0' * 16}"),
        ({"streams.txt": relined(count="3")}, "streams.txt: job-1 is said to end at"),
        ({"streams.txt": relined(name='"job-2"')}, f"{BODIES} (job-2): entry 0: it opens 'job-1', not 'job-2'"),
        ({BODIES: MEMBERS[BODIES].replace(b"mechanic", b"mechanix", 1)}, f"{BODIES} (job-1): entry 0: its hash is"),
        ({BODIES: MEMBERS[BODIES].split(b"\n")[0] + b"\n"}, f"{SEALS}: 2 seals for 1 entries"),
        ({BODIES: b"", SEALS: b""}, f"{BODIES} (job-1): entry 0: there is none"),
        ({SEALS: MEMBERS[SEALS].replace(b" -", b" --")}, f"{SEALS}: 2 seals for 2 entries"),
        ({SEALS: resigned()}, f"{BODIES} (job-1): entry 1: the signature does not hold under the key it names"),
    ],
)
def test_a_manifest_that_was_made_to_fit_hides_nothing(changed: Mapping[str, bytes | None], found: str) -> None:
    """What somebody changed together with the list of members is found by what it is, and named."""
    assert words(rebuilt(changed)).startswith(found)


def test_a_chain_that_was_sealed_anew_does_not_hold() -> None:
    """An entry altered with its own seal is found at the entry after it."""
    body = ENTRIES[0].body.replace(b"mechanic", b"mechanix", 1)
    seals = MEMBERS[SEALS].replace(ENTRIES[0].hash.encode(), hashlib.sha256(body).hexdigest().encode(), 1)
    changed = {BODIES: body + b"\n" + ENTRIES[1].body + b"\n", SEALS: seals}
    assert words(rebuilt(changed)) == f"{BODIES} (job-1): entry 1: does not follow the entry before it"


@pytest.mark.parametrize(
    "data", [b'{"caf\xc3\xa9":"x"}', b'{"value":9007199254740993}', b'{"value":[-12345678901234567890]}']
)
def test_what_a_store_could_not_take_is_found_before_it_is_asked(data: bytes) -> None:
    """An entry that no ledger writes is no entry, even where its chain holds."""
    body = ENTRIES[0].body.replace(ENTRIES[0].body[ENTRIES[0].body.index(b'{"book') :].partition(b"}")[0] + b"}", data)
    assert data in body
    digest = hashlib.sha256(body).hexdigest()
    lines = {BODIES: body + b"\n", SEALS: f"{digest} -\n".encode(), "streams.txt": relined(head=digest, count="1")}
    assert words(rebuilt(lines)).startswith(f"{BODIES} (job-1): entry 0: ")


@pytest.mark.parametrize(
    ("sought", "instead", "name"),
    [
        (b" 7 kept", b" 8 kept", f"kept/{KEPT}"),
        (KEPT.encode() + b" 7", b"0" * 64 + b" 7", f"kept/{KEPT}"),
        (b"end ", KEPT.encode() + b" 7 kept/more\nend ", "kept/more"),
        (b"end 10\n", b"end 11\n", "manifest.txt"),
        (b"end 10\n", b"end 10", "manifest.txt"),
        (b"end 10\n", b"end 10\n\n", "manifest.txt"),
        (b"end 10\n", b"\xff\x1b", "manifest.txt"),
    ],
)
def test_a_list_that_does_not_fit_its_members_names_the_member(sought: bytes, instead: bytes, name: str) -> None:
    """A manifest that says something else, more or less than there is, is found."""
    out = io.BytesIO()
    packing = Packing(out)
    listed = MEMBERS["manifest.txt"].replace(sought, instead)
    assert listed != MEMBERS["manifest.txt"]
    for member, content in {**MEMBERS, "manifest.txt": listed}.items():
        packing.add(member, content)
    packing.end()
    assert words(out.getvalue()) == f"{name}: another than manifest.txt lists"


def test_members_out_of_order_and_twice_are_found() -> None:
    """There is one order, and each member once."""
    turned = dict(reversed(MEMBERS.items()))
    members = {"format.txt": turned.pop("format.txt"), **turned}
    assert words(packed(members)) == "accounts.jsonl: out of its place"
    assert words(packed(MEMBERS, ("README.txt", b""))) == "README.txt: twice"
    short = hashlib.sha256(b"short").hexdigest()
    assert words(rebuilt({f"beside/{short}": b"short"})) == f"beside/{short}: shorter than its salt"


@pytest.mark.parametrize("compression", [zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED])
def test_another_packing_is_found(compression: int) -> None:
    """The same members packed by another program, compressed or not, are not this form."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", compression) as opened:
        for name, content in MEMBERS.items():
            opened.writestr(zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0)), content, compression)
    assert words(out.getvalue()).startswith("format.txt: ")


def test_a_length_that_is_only_claimed_takes_no_memory() -> None:
    """A member that says it is larger than the file is refused before it is read."""
    lie = WHOLE.replace(struct.pack("<2Q", 19, 19), struct.pack("<2Q", 2**60, 2**60), 1)
    tracemalloc.start()
    try:
        assert words(lie).startswith("format.txt: ")
        assert tracemalloc.get_traced_memory()[1] < 1_000_000
    finally:
        tracemalloc.stop()


@given(st.binary(max_size=200), st.integers(0, len(WHOLE)), st.integers(0, len(WHOLE)))
def test_garbage_is_refused_and_nothing_else_is_raised(garbage: bytes, start: int, end: int) -> None:
    """Whatever stands there, the fault is the backup's."""
    for content in (garbage, WHOLE[:start] + garbage + WHOLE[end:]):
        if content != WHOLE:
            words(content)


@given(st.sampled_from([*MEMBERS][1:-1]), st.binary(max_size=80), st.integers(0, 3000), st.integers(0, 100))
def test_garbage_in_any_member_is_refused_or_makes_no_difference(name: str, garbage: bytes, at: int, gone: int) -> None:
    """With the manifest made to fit, what is not refused can be taken over and gives the same file again."""
    content = MEMBERS[name][:at] + garbage + MEMBERS[name][at + gone :]
    changed = rebuilt({name: content})
    try:
        again = io.BytesIO()
        write_backup(again, read_backup(io.BytesIO(changed)).holdings())
    except BrokenBackup:
        return
    assert again.getvalue() == changed
