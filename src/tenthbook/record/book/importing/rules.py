"""The rules for taking rows of a sent table into a book."""

from __future__ import annotations

from tenthbook.numbers.because import Register
from tenthbook.record.book.findings import CheckRule

RULES = Register()
SETTLED = CheckRule(
    id="book.import-settled",
    says="Rows enter a book only when nothing in them is wrong and no question about them is open.",
    source="rule of this book",
    holds=lambda wrong, questions: not wrong and not questions,
    passes={"wrong": 0, "questions": 0},
    fails={"wrong": 0, "questions": 1},
    todo="mend the sent table or answer the questions, and look at the preview again",
)
ACCEPTED = CheckRule(
    id="book.import-accepted",
    says="Rows enter a book only under the code of a preview that showed these rows for this book.",
    source="rule of this book",
    holds=lambda code, shown: code == shown,
    passes={"code": "3f2a91-8c04d1", "shown": "3f2a91-8c04d1"},
    fails={"code": "3f2a91-8c04d1", "shown": "3f2a91-77e0b2"},
    todo="look at the preview again and accept what it shows",
)
for _one in (SETTLED, ACCEPTED):
    RULES.add(_one)
