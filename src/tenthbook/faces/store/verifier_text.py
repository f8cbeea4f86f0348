"""The verifier's own text, as it goes into an archive."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

from tenthbook.record.ledger import verifier


def verifier_text() -> bytes:
    """Read the verifier's text.

    Returns:
        The bytes of the module, as released.
    """
    return Path(verifier.__file__).read_bytes()


def verifier_inside(archive: bytes) -> bytes:
    """Read the verifier that an archive carries.

    Args:
        archive: The bytes of an archive that was found whole.

    Returns:
        Its text.
    """
    with zipfile.ZipFile(io.BytesIO(archive)) as opened:
        return opened.read("verify.py")
