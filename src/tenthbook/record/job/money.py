"""Money as it was typed: "340.00 EUR", a number with a currency of three letters. It is added and compared exactly."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

_MONEY = re.compile(r"([0-9]{1,12}(?:\.[0-9]{1,2})?) ([A-Z]{3})")


@dataclass(frozen=True, slots=True)
class Money:
    """An amount [of the currency]."""

    amount: Decimal
    currency: str

    def __str__(self) -> str:
        """Write it.

        Returns:
            Such as "340.00 EUR".
        """
        return f"{self.amount} {self.currency}"


def money(text: str) -> Money | None:
    """Read an amount.

    Args:
        text: What was typed, such as "340.00 EUR".

    Returns:
        The amount; None where it is not one.
    """
    match = _MONEY.fullmatch(text.strip())
    return Money(Decimal(match[1]), match[2]) if match else None
