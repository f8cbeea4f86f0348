"""What lies beside the entries and may have to go: photographs, and who a person is.

An entry holds only a commitment to such bytes: SHA-256 over a random salt and the content. The salt lies with the
content and goes with it, so that what was withheld cannot be guessed from the commitment, and the chain still holds.

Source: salted commitment by a hash, common practice, no source.
"""

from __future__ import annotations

import hashlib

from tenthbook.numbers.because import TenthbookError

SALT_LENGTH = 32


class Withheld(TenthbookError):
    """Bytes that were taken away lawfully."""


def commitment(salt: bytes, content: bytes) -> str:
    """Commit to bytes.

    Args:
        salt: [32 bytes], random, used once.
        content: The bytes.

    Returns:
        SHA-256 over salt and content, hexadecimal.

    Raises:
        TenthbookError: a salt of another length.
    """
    if len(salt) != SALT_LENGTH:
        raise TenthbookError(found=f"a salt of {len(salt)} bytes", expected=f"{SALT_LENGTH} random bytes")
    return hashlib.sha256(salt + content).hexdigest()
