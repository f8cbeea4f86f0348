"""What was recorded, by whom: entries in a chain, none of which can change unseen.

- `canonical`: the one form of an entry that is stored and hashed (RFC 8785, restricted to text, whole numbers, lists
  and objects);
- `entry`: a draft (what a person proposes) and an entry (what was recorded, sealed to the one before);
- `forms`: from the filled-in fields of a kind to a draft, every fault at once;
- `stream`: the small interface every store must keep, and the store that lives in memory;
- `signature`: Ed25519 over a fixed prefix and the body, for the few kinds that are signed;
- `archive`: one stored ZIP a stream, the same bytes every time;
- `verifier`: the proof, written with the standard library alone; a copy of it lies in every archive.

A stream starts with entry 0, which names the stream and the installation. The hash of an entry is SHA-256 over its
canonical body and its signature, and stands in the next entry. Order is by number; a clock that ran backward is kept
as it was. Time comes from outside.
"""

from tenthbook.record.ledger.archive import pack
from tenthbook.record.ledger.canonical import NotCanonical, canonical
from tenthbook.record.ledger.entry import BadEntry, Draft, Entry, read_entry, seal
from tenthbook.record.ledger.forms import Fields, Kind, draft_of
from tenthbook.record.ledger.signature import SIGNED_KINDS, public_key_of, sign, signature_holds
from tenthbook.record.ledger.stream import MemoryStore, NoSuchStream, RequestReused, Store
from tenthbook.record.ledger.verifier import Finding, examine

__all__ = [
    "SIGNED_KINDS",
    "BadEntry",
    "Draft",
    "Entry",
    "Fields",
    "Finding",
    "Kind",
    "MemoryStore",
    "NoSuchStream",
    "NotCanonical",
    "RequestReused",
    "Store",
    "canonical",
    "draft_of",
    "examine",
    "pack",
    "public_key_of",
    "read_entry",
    "seal",
    "sign",
    "signature_holds",
]
