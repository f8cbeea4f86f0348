"""Rows as bytes that are the same for the same cells, and the digest by which an entry names a row.

The form is JSON with sorted names and no blanks; every value is text or true/false, so it is at once the canonical
form of RFC 8785.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import Any


def dense(value: Any) -> bytes:
    """Write text, true, false, lists and objects in their one form.

    Args:
        value: Nothing but those.

    Returns:
        UTF-8 bytes with sorted names and no blanks.

    Source: RFC 8785, section 3.2.
    """
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode("utf-8")


def row_digest(cells: Mapping[str, str]) -> str:
    """Give the digest an entry names beside the row's id.

    Args:
        cells: The row's cells as typed.

    Returns:
        SHA-256 of the row, hexadecimal.
    """
    return hashlib.sha256(dense(dict(cells))).hexdigest()
