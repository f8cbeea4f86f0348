"""The register of this room; words, forms, major repairs and retention put their rules into it."""

from __future__ import annotations

from tenthbook.numbers.because import Register

RULES = Register()
OWN = "rule of this book"
