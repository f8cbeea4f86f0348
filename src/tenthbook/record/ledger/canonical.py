"""The one form in which an entry is stored and hashed.

RFC 8785 (JSON Canonicalization Scheme), restricted so that a plain encoder is exactly right: text, true, false, null,
whole numbers within two to the power of 53, lists, and objects whose names are ASCII. A measured number is text, with
the digits that were typed, and never a binary fraction; so none of the difficult half of the standard can arise.

Source: RFC 8785, sections 3.2.2 and 3.2.3. Checked in: tests/published/test_rfc_8785.py
"""

from __future__ import annotations

import json
from typing import Any

from tenthbook.numbers.because import TenthbookError

_LARGEST = 2**53 - 1


class NotCanonical(TenthbookError):
    """A value that the ledger's form cannot hold."""


def _check(value: Any, path: str) -> None:
    if value is None or isinstance(value, str | bool):
        return
    if isinstance(value, int):
        if abs(value) > _LARGEST:
            raise NotCanonical(found=f"{value} at {path}", expected="a whole number within 2^53, or text")
    elif isinstance(value, list | tuple):
        for place, item in enumerate(value):
            _check(item, f"{path}.{place}")
    elif isinstance(value, dict):
        for name, item in value.items():
            if not isinstance(name, str) or not name.isascii():
                raise NotCanonical(found=f"name {name!r} at {path}", expected="names in ASCII")
            _check(item, f"{path}.{name}")
    else:
        raise NotCanonical(
            found=f"{type(value).__name__} at {path}",
            expected="text, a whole number, true, false, null, a list or an object",
        )


def canonical(value: Any) -> bytes:
    """Write a value in the canonical form.

    Args:
        value: Text, whole numbers, true, false, null, lists and objects of these.

    Returns:
        UTF-8 bytes, the same for equal values on every machine.

    Raises:
        NotCanonical: a float, a name that is not ASCII, a number too large, or text that is not Unicode.

    Source: RFC 8785, section 3.2.
    """
    _check(value, "entry")
    try:
        return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False).encode(
            "utf-8"
        )
    except UnicodeEncodeError as error:
        raise NotCanonical(found="half of a surrogate pair", expected="whole Unicode text") from error
