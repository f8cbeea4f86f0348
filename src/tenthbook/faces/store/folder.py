"""Where the data lie unless somebody names another folder."""

from __future__ import annotations

import os
from pathlib import Path

VARIABLE = "TENTHBOOK_DATA"


def data_folder() -> Path:
    """Name the data folder.

    Returns:
        The folder of the variable TENTHBOOK_DATA; without it, this book's own below the person's home.
    """
    return Path(os.environ.get(VARIABLE) or Path.home() / ".local" / "share" / "tenthbook")
