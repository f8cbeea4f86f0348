"""Ids for rows that come without one: a prefix and what the manual calls the thing.

Goes in: the prefix, and name and reference number of each row. Comes out: an id each. The same rows always get the same
ids; two that would share one get their reference numbers, and what is still doubled is a fault for a person to mend.
"""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Sequence

_NOT_IN_AN_ID = re.compile(r"[^a-z0-9]+")


def slug(text: str) -> str:
    """Write a name with the signs of an id.

    Args:
        text: A name as printed.

    Returns:
        Small letters and figures, hyphens for everything else; nothing where no letter or figure is left.
    """
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode("ascii").lower()
    return _NOT_IN_AN_ID.sub("-", plain).strip("-")


def make_ids(prefix: str, names: Sequence[str], references: Sequence[str]) -> list[str]:
    """Make an id for each row.

    Args:
        prefix: What each begins with, such as "size.".
        names: What the manual calls each.
        references: Reference number of each; blank where there is none.

    Returns:
        The ids in order; an empty one where the name has no letter or figure.
    """
    slugs = [slug(name) for name in names]
    counted = Counter(slugs)
    numbered = [
        f"{one}-{slug(reference)}" if counted[one] > 1 and slug(reference) else one
        for one, reference in zip(slugs, references, strict=True)
    ]
    return [f"{prefix}{one}" if one else "" for one in numbered]
