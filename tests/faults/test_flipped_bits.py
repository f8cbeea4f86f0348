"""Every change of an archive is found: one bit, one byte more or less, another packing, another order, another end.

The first half is about archives of the first format, which are read for ever; the second about those packed today.
"""

from __future__ import annotations

import hashlib
import io
import json
import warnings
import zipfile
from collections.abc import Mapping

import pytest

from tenthbook.record.ledger import Draft, Entry, commitment, examine, pack, public_key_of, seal, sign
from tenthbook.record.ledger.proof import signed_message_holds
from tenthbook.record.ledger.verifier import BROKEN, Finding, build
from tests.builders import NOON, PERSON, chain, members_of, noted
from tests.first_format import pack_first

BOOK = b"a book"
PINNED = Draft(
    "book pinned",
    1,
    PERSON,
    "r-2",
    "",
    NOON,
    {"type": "note 1", "revision": "1", "digest": hashlib.sha256(BOOK).hexdigest()},
)
ENTRIES = chain(noted("note 0"), PINNED)
ARCHIVE, HEAD = pack_first(ENTRIES, [BOOK], b"# v\n"), ENTRIES[-1].hash


def rebuilt(**changed: bytes | None) -> bytes:
    """The archive built anew, with other members; a member of None is left out. Points in names are written as __."""
    members: dict[str, bytes] = members_of(ARCHIVE)
    for name, content in changed.items():
        place = name.replace("__", ".")
        if content is None:
            del members[place]
        else:
            members[place] = content
    return build(members)


def zipped(
    members: Mapping[str, bytes], compression: int = zipfile.ZIP_STORED, more: tuple[tuple[str, bytes], ...] = ()
) -> bytes:
    """Members packed by a plain ZIP writer."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", compression) as archive, warnings.catch_warnings():
        warnings.simplefilter("ignore", UserWarning)  # a name twice is what is wanted here
        for name, content in [*members.items(), *more]:
            entry = zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0))
            entry.create_system, entry.external_attr, entry.compress_type = 3, 0o644 << 16, compression
            archive.writestr(entry, content)
    return out.getvalue()


def sealed(body: bytes) -> str:
    """The hash that a seal over a body would state."""
    return hashlib.sha256(body).hexdigest()


def examined(archive: bytes) -> Finding:
    """What the examination finds with the head from a paper in hand."""
    return examine(archive, HEAD)


def test_the_archive_is_whole_before_it_is_touched() -> None:
    """What is broken below is broken by the test; and what is built anew from the same members is the same."""
    assert examined(ARCHIVE).whole
    assert rebuilt() == ARCHIVE
    assert zipped(members_of(ARCHIVE)) == ARCHIVE


@pytest.mark.parametrize("bit", range(8))
def test_every_single_bit_counts(bit: int) -> None:
    """One bit turned over, wherever in the file, and it is broken, even without a head from outside."""
    turned = bytearray(ARCHIVE)
    missed = []
    for place in range(len(turned)):
        turned[place] ^= 1 << bit
        if examine(bytes(turned)).whole:
            missed.append(place)
        turned[place] ^= 1 << bit
    assert missed == []


def test_cut_off_at_every_length() -> None:
    """However much is missing at the end, it is broken."""
    assert [length for length in range(len(ARCHIVE)) if examine(ARCHIVE[:length]).whole] == []


def test_cut_off_at_the_front() -> None:
    """However much is missing at the front, it is broken."""
    assert [length for length in range(1, len(ARCHIVE), 7) if examine(ARCHIVE[length:]).whole] == []


@pytest.mark.parametrize("more", [b"\0", b"\n", b"PK\x05\x06", b"x" * 100, ARCHIVE])
def test_bytes_before_or_behind(more: bytes) -> None:
    """Nothing may stand before or behind the archive."""
    assert not examined(more + ARCHIVE).whole
    assert not examined(ARCHIVE + more).whole


@pytest.mark.parametrize("archive", [b"", b"PK", b"this is text", bytes(1000), build({})])
def test_what_is_no_archive(archive: bytes) -> None:
    """Anything else is broken, not an error."""
    assert examined(archive).answer == BROKEN


@pytest.mark.parametrize("compression", [zipfile.ZIP_DEFLATED, zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA])
def test_the_same_members_compressed(compression: int) -> None:
    """A packing with the same content in other bytes is not this archive."""
    found = examined(zipped(members_of(ARCHIVE), compression))
    assert str(found) == "broken at archive: a member that is not stored as it is"


def test_members_in_another_order() -> None:
    """The members stand sorted."""
    members = members_of(ARCHIVE)
    assert not examined(zipped(dict(reversed(members.items())))).whole


@pytest.mark.parametrize("name", sorted(members_of(ARCHIVE)))
def test_a_member_name_twice(name: str) -> None:
    """Two members of one name, alike or not, are broken: no reader may choose between them."""
    members = members_of(ARCHIVE)
    for content in (members[name], b"another"):
        assert not examined(zipped(members, more=((name, content),))).whole


@pytest.mark.parametrize("name", ["entries.jsonl", "seals.txt", "head.txt", "format.txt", "verify.py", "README.txt"])
def test_a_member_missing(name: str) -> None:
    """Without one of its parts it is broken, by name."""
    found = examined(rebuilt(**{name.replace(".", "__"): None}))
    assert (found.answer, name.partition(".")[0] in found.where) == (BROKEN, True)


def test_the_words_of_an_entry_changed() -> None:
    """Another word, the hash left as it was: the entry is named."""
    entries = members_of(ARCHIVE)["entries.jsonl"]
    found = examine(rebuilt(entries__jsonl=entries.replace(b"note 0", b"note 7")))
    assert str(found).startswith("broken at entry 0: its hash is ")


def test_an_entry_changed_with_its_seal_made_anew() -> None:
    """Whoever also mends the seal breaks the chain at the next entry."""
    first, second = members_of(ARCHIVE)["entries.jsonl"].splitlines()
    altered = first.replace(b"note 0", b"note 7")
    seals = f"{sealed(altered)} -\n{sealed(second)} -\n".encode()
    found = examine(rebuilt(entries__jsonl=altered + b"\n" + second + b"\n", seals__txt=seals))
    assert str(found) == "broken at entry 1: does not follow the entry before it"


def test_the_last_entry_changed_with_seal_and_head_made_anew() -> None:
    """Nothing inside shows it; the head on a paper does, and without one the answer says that the end is unproven."""
    first, second = members_of(ARCHIVE)["entries.jsonl"].splitlines()
    altered = second.replace(b"note 1", b"note 7")
    archive = rebuilt(
        entries__jsonl=first + b"\n" + altered + b"\n",
        seals__txt=f"{sealed(first)} -\n{sealed(altered)} -\n".encode(),
        head__txt=f"1 {sealed(altered)}\n".encode(),
    )
    assert str(examine(archive)).startswith("whole, nothing outside proves the end")
    assert examined(archive).answer == BROKEN


@pytest.mark.parametrize("drop", [0, 1])
def test_an_entry_left_out(drop: int) -> None:
    """A missing entry breaks the chain, or the end."""
    bodies, seals = members_of(ARCHIVE)["entries.jsonl"].splitlines(), members_of(ARCHIVE)["seals.txt"].splitlines()
    del bodies[drop], seals[drop]
    assert not examine(rebuilt(entries__jsonl=b"\n".join(bodies) + b"\n", seals__txt=b"\n".join(seals) + b"\n")).whole


def test_entries_changed_over() -> None:
    """Order is by number and by chain."""
    bodies, seals = members_of(ARCHIVE)["entries.jsonl"].splitlines(), members_of(ARCHIVE)["seals.txt"].splitlines()
    turned = {"entries__jsonl": b"\n".join(reversed(bodies)) + b"\n", "seals__txt": b"\n".join(reversed(seals)) + b"\n"}
    assert str(examine(rebuilt(**turned))) == "broken at entry 0: does not follow the entry before it"


@pytest.mark.parametrize(
    "head",
    [
        b"",
        b"0 " + HEAD.encode(),
        b"1 " + b"0" * 64 + b"\n",
        HEAD.encode(),
        b"\xff\xfe",
        b"1 " + HEAD.encode() + b" more\n",
    ],
)
def test_another_head(head: bytes) -> None:
    """The head is number and hash of the last entry, and nothing else."""
    assert str(examine(rebuilt(head__txt=head))) == "broken at head.txt: not the last entry"


@pytest.mark.parametrize(
    "head", [b"1 " + HEAD.encode(), b"  1   " + HEAD.encode() + b"\n\n", b"1\t" + HEAD.encode() + b"\n"]
)
def test_the_head_in_another_spelling(head: bytes) -> None:
    """Other blanks around the same head are other bytes, and the archive is one row of bytes."""
    assert not examine(rebuilt(head__txt=head)).whole


@pytest.mark.parametrize("seals", [b"", b"\n", b"x\ny\n", b"\xff\n\xff\n"])
def test_other_seals(seals: bytes) -> None:
    """A seal that is missing, or is no hash, is broken."""
    assert not examine(rebuilt(seals__txt=seals)).whole


def signed_entry(secret: bytes = b"\x05" * 32) -> Entry:
    """One entry alone, signed."""
    draft = Draft("signed", 1, PERSON, "r-1", "", NOON, {"key": public_key_of(secret).hex()})
    return seal(draft, 0, NOON, "", lambda body: sign(secret, body))


def test_a_signature_in_another_spelling() -> None:
    """The same signature in capitals or with blanks in it is another file, so it is broken."""
    entry = signed_entry()
    members, figures = members_of(pack_first([entry], [], b"# v\n")), entry.signature.hex()
    assert examine(build(members), entry.hash).whole
    for written in (figures.upper(), figures[:64] + " " + figures[64:]):
        members["seals.txt"] = f"{entry.hash} {written}\n".encode()
        assert not examine(build(members), entry.hash).whole


def test_a_signature_taken_away() -> None:
    """The hash covers the signature, so its absence shows."""
    entry = signed_entry()
    members = members_of(pack_first([entry], [], b"# v\n"))
    members["seals.txt"] = f"{entry.hash} -\n".encode()
    assert str(examine(build(members))).startswith("broken at entry 0: its hash is ")


@pytest.mark.parametrize(
    "body", [b"[]", b"{}", b"null", b"", b"\xff", b'{"number":0}', b"[" * 50_000 + b"]" * 50_000, b'{"number": 0}']
)
def test_a_body_that_is_no_entry(body: bytes) -> None:
    """Whatever stands in an entry's place, sealed and headed, is broken, not an error."""
    members = {
        "entries__jsonl": body + b"\n",
        "seals__txt": f"{sealed(body)} -\n".encode(),
        "head__txt": f"0 {sealed(body)}\n".encode(),
    }
    assert examine(rebuilt(**members)).answer == BROKEN


def test_the_content_of_a_blob_changed() -> None:
    """Kept bytes are named by their hash."""
    (name,) = [name for name in members_of(ARCHIVE) if name.startswith("blobs/")]
    assert str(examine(rebuilt(**{name: b"another book"}))) == f"broken at {name}: its content has another hash"


def test_a_book_taken_out() -> None:
    """A job without the book it is pinned to cannot be judged again, so its archive is not whole."""
    (name,) = [name for name in members_of(ARCHIVE) if name.startswith("blobs/")]
    assert str(examine(rebuilt(**{name: None}))) == f"broken at {name}: missing"


@pytest.mark.parametrize("name", ["notes.txt", "blobs/readme", "verify.pyc", "../outside", "blobs/"])
def test_a_member_more(name: str) -> None:
    """What the stream does not refer to does not belong in its archive."""
    assert not examine(rebuilt(**{name: b"more"})).whole


def test_a_page_that_says_something_else() -> None:
    """The page that tells how to prove the archive is part of its form."""
    assert not examine(rebuilt(README__txt=b"Trust me.\n")).whole


def test_a_stream_that_starts_in_the_middle() -> None:
    """The first entry is number 0."""
    entries = chain(noted("a"), noted("b", request="r-2"), noted("c", request="r-3"))
    assert not examine(pack_first(entries[1:], [], b"# v\n")).whole


def test_numbers_are_whole_numbers() -> None:
    """Neither true for 1 nor 1.0 for 1 passes for a number."""
    first = chain(noted())[0]
    for number in ("true", "1.0"):
        held = {**json.loads(first.body), "number": 1, "previous": first.hash}
        body = (
            json.dumps(held, sort_keys=True, separators=(",", ":")).replace('"number":1', f'"number":{number}').encode()
        )
        members = {
            "entries__jsonl": first.body + b"\n" + body + b"\n",
            "seals__txt": f"{first.hash} -\n{sealed(body)} -\n".encode(),
            "head__txt": f"1 {sealed(body)}\n".encode(),
        }
        assert examine(rebuilt(**members)).answer == BROKEN


SECRET, STATEMENT = b"\x06" * 32, b"a statement, as it was shown"
SEEN, GONE = (b"\x01" * 32, b"a photograph"), (b"\x02" * 32, b"another, of somebody's face")
SIGNED = {"key": public_key_of(SECRET).hex(), "statement_kept": hashlib.sha256(STATEMENT).hexdigest()}


def stream_of_today() -> list[Entry]:
    """A note, a photograph that is there, one that was withheld, a signature, and a note."""
    drafts = [
        noted(),
        *(
            Draft("photographed", 1, PERSON, commitment(*piece), "", NOON, {"photograph_detached": commitment(*piece)})
            for piece in (SEEN, GONE)
        ),
        Draft("signed", 1, PERSON, "r-2", "", NOON, SIGNED),
        noted(request="r-3"),
    ]
    entries: list[Entry] = []
    for number, draft in enumerate(drafts):
        by = (lambda body: sign(SECRET, body)) if draft.kind == "signed" else None
        entries.append(seal(draft, number, NOON, entries[-1].hash if entries else "", by))
    return entries


TODAY = pack(stream_of_today(), [STATEMENT], [SEEN], {commitment(*GONE): "ab" * 32}, b"# v\n")


def test_the_archive_of_today_is_whole_before_it_is_touched() -> None:
    """It holds a signature, a kept statement, a photograph, and word of one that was withheld."""
    assert examine(TODAY).whole
    assert build(members_of(TODAY)) == TODAY == zipped(members_of(TODAY))
    assert {name.partition("/")[0] for name in members_of(TODAY)} == {
        *("README.txt", "beside", "entries.jsonl", "format.txt", "head.txt"),
        *("keys.txt", "kept", "seals.txt", "verify.py", "withheld.txt"),
    }


@pytest.mark.parametrize("bit", range(8))
def test_every_single_bit_of_an_archive_of_today_counts(bit: int) -> None:
    """One bit turned over, wherever in the file, and it is broken, even without a head or a key from outside."""
    turned = bytearray(TODAY)
    missed = []
    for place in range(len(turned)):
        turned[place] ^= 1 << bit
        if examine(bytes(turned)).whole:
            missed.append(place)
        turned[place] ^= 1 << bit
    assert missed == []


def test_an_archive_of_today_torn_at_every_length() -> None:
    """However much is missing at the end, or at the front, it is broken."""
    assert [length for length in range(len(TODAY)) if examine(TODAY[:length]).whole] == []
    assert [length for length in range(1, len(TODAY)) if examine(TODAY[length:]).whole] == []


def unspoken_for(name: str, content: bytes) -> list[int]:
    """The bits for which nothing in an archive speaks.

    They are the verifier, which is held against a released one, and in the word of what was withheld, the hash of an
    entry that stands in another stream: any other hash of the same form would do.
    """
    if name == "verify.py":
        return list(range(8 * len(content)))
    figures = b"0123456789abcdef"
    second = range(8 * content.find(b" ") + 8, 8 * (len(content) - 1)) if name == "withheld.txt" else ()
    return [place for place in second if content[place // 8] ^ 1 << place % 8 in figures]


@pytest.mark.parametrize("name", sorted(members_of(TODAY)))
def test_every_single_bit_of_every_member_counts_in_an_archive_built_anew(name: str) -> None:
    """Whoever builds the ZIP anew around a turned bit, sums and all, is found by what the entries say."""
    members = members_of(TODAY)
    content = bytearray(members[name])
    missed = []
    for place in range(8 * len(content)):
        content[place // 8] ^= 1 << place % 8
        if examine(build(members | {name: bytes(content)}), check=signed_message_holds).whole:
            missed.append(place)
        content[place // 8] ^= 1 << place % 8
    assert missed == unspoken_for(name, members[name])
