"""What was recorded, by whom: entries in a chain, none of which can change unseen.

- `canonical`: the one form of an entry that is stored and hashed (RFC 8785, restricted to text, whole numbers, lists
  and objects);
- `entry`: a draft (what a person proposes) and an entry (what was recorded, sealed to the one before);
- `forms`: from the filled-in fields of a kind to a draft, every fault at once; older versions are lifted to the newest;
- `stream` and `memory`: the small interface every store must keep, and the store that lives in memory;
- `folding`: the fold that the shop's and the tools' streams share;
- `projection`: what an entry says in the tables that can be asked about many jobs at once;
- `attached`: photographs and personal data beside the entries, bound by a salted hash, withheld where the law asks it;
- `signature` and `keybox`: Ed25519 over a fixed prefix and the body, and the key at rest, closed with a phrase;
- `archive`: one stored ZIP a stream, the same bytes every time;
- `verifier`: the proof, written with the standard library alone; a copy of it lies in every archive;
- `proof`: the same proof over the rows of a store;
- `backup`: all that a store holds in one file, written while it is in use, proved before anything is restored.

A stream starts with entry 0, which names the stream and the installation. The hash of an entry is SHA-256 over its
canonical body and its signature, and stands in the next entry. Order is by number; a clock that ran backward is kept
as it was. Time comes from outside.
"""

from tenthbook.record.ledger.archive import pack
from tenthbook.record.ledger.attached import Withheld, commitment
from tenthbook.record.ledger.canonical import NotCanonical, canonical
from tenthbook.record.ledger.entry import (
    BadEntry,
    Draft,
    Entry,
    Sign,
    key_of,
    person_name,
    read_entry,
    same_person,
    seal,
)
from tenthbook.record.ledger.forms import Fields, Kind, draft_of, lifted
from tenthbook.record.ledger.keybox import KeyBox, WeakPhrase, WrongPhrase, close_key, fingerprint, open_key
from tenthbook.record.ledger.memory import MemoryStore
from tenthbook.record.ledger.projection import Project, Projected, Table
from tenthbook.record.ledger.proof import prove_stream, signed_message_holds
from tenthbook.record.ledger.signature import SIGNED_KINDS, public_key_of, sign, signature_holds
from tenthbook.record.ledger.stream import NoSuchStream, RequestReused, Store
from tenthbook.record.ledger.verifier import Finding, Keys, examine, read_keys

__all__ = [
    "SIGNED_KINDS",
    "BadEntry",
    "Draft",
    "Entry",
    "Fields",
    "Finding",
    "KeyBox",
    "Keys",
    "Kind",
    "MemoryStore",
    "NoSuchStream",
    "NotCanonical",
    "Project",
    "Projected",
    "RequestReused",
    "Sign",
    "Store",
    "Table",
    "WeakPhrase",
    "Withheld",
    "WrongPhrase",
    "canonical",
    "close_key",
    "commitment",
    "draft_of",
    "examine",
    "fingerprint",
    "key_of",
    "lifted",
    "open_key",
    "pack",
    "person_name",
    "prove_stream",
    "public_key_of",
    "read_entry",
    "read_keys",
    "same_person",
    "seal",
    "sign",
    "signature_holds",
    "signed_message_holds",
]
