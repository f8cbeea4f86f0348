"""What a typed quantity is: "NUMBER UNIT", kept digit for digit, compared exactly.

Goes in: text from a form, a file or a gauge that types. Comes out: a `Quantity`, or an error that says what was
expected. Nothing here rounds except `shown`. A length keeps the unit it was typed in until somebody asks for another.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache

from tenthbook.numbers.because import TenthbookError
from tenthbook.numbers.quantity.units import Unit, UnknownUnit, find_unit

_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?")
_MOST_DIGITS = 40
_MOST_POWER = 60


class NotAQuantity(TenthbookError):
    """Text that is not a number followed by a unit."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number and its unit, as typed.

    Attributes:
        typed: The number's text, digit for digit.
        unit: Its unit.
    """

    typed: str
    unit: Unit

    @property
    def number(self) -> Decimal:
        """The number in its own unit, with the digits typed."""
        return Decimal(self.typed)

    @property
    def decimals(self) -> int:
        """How many decimals were typed."""
        exponent = self.number.as_tuple().exponent
        return max(0, -exponent) if isinstance(exponent, int) else 0

    @property
    def exact(self) -> Fraction:
        """The value in the coherent SI unit, exact; a temperature counts from absolute zero [K]."""
        return _exact(self.typed, self.unit)

    @property
    def difference(self) -> Fraction:
        """The value as a difference, exact: a temperature's offset is left out [K]."""
        return Fraction(self.number) * self.unit.factor

    def into(self, unit: Unit, *, as_difference: bool = False) -> Fraction:
        """Give the number in another unit of the same kind.

        Args:
            unit: The unit wanted.
            as_difference: True for an uncertainty or a change of temperature [degC or degF].

        Returns:
            The number in `unit`, exact, not rounded.

        Raises:
            UnknownUnit: the two units measure different things.
        """
        if unit.dimension != self.unit.dimension:
            raise UnknownUnit(found=f"{self} ({self.unit.kind})", expected=f"a {unit.kind} in {unit.name}")
        if as_difference:
            return self.difference / unit.factor
        return (self.exact - unit.offset) / unit.factor

    def __str__(self) -> str:
        return self.typed if self.unit.name == "1" else f"{self.typed} {self.unit.name}"


@lru_cache(maxsize=65_536)
def _exact(typed: str, unit: Unit) -> Fraction:
    value = Fraction(typed) * unit.factor
    return value + unit.offset if unit.offset else value


def _refuse_comma(text: str) -> None:
    if "," in text:
        raise NotAQuantity(found=repr(text), expected="a decimal point, no comma and no separators of thousands")


def plain(text: str) -> str:
    """Check the text of a number without its unit.

    Args:
        text: What was typed, blanks at its ends allowed [-].

    Returns:
        The number's text without blanks, every digit kept.

    Raises:
        NotAQuantity: a comma, a letter, nothing, or more digits than any instrument shows.
    """
    stripped = text.strip()
    _refuse_comma(stripped)
    if not _NUMBER.fullmatch(stripped):
        raise NotAQuantity(found=repr(text), expected="a number such as 1.2497")
    _, digits, exponent = Decimal(stripped).as_tuple()
    if len(digits) > _MOST_DIGITS or abs(int(exponent)) > _MOST_POWER:
        raise NotAQuantity(
            found=f"{stripped[:24]}...", expected=f"at most {_MOST_DIGITS} digits and a power within {_MOST_POWER}"
        )
    return stripped


def quantity(text: str) -> Quantity:
    """Read "NUMBER UNIT".

    Args:
        text: For instance "1.2497 in", "112 lbf.in", "11.5e-6 1/degC", "90 degC".

    Returns:
        The quantity, every digit kept.

    Raises:
        NotAQuantity: not a number and a unit with a blank between.
        UnknownUnit: a unit the bench does not know.
    """
    _refuse_comma(text)
    parts = text.split()
    if len(parts) != 2:
        what = "a number and a unit with a blank between, such as 1.2497 in"
        raise NotAQuantity(found=repr(text), expected=what)
    return Quantity(plain(parts[0]), find_unit(parts[1]))


def exact_decimal(value: Fraction) -> Decimal | None:
    """Write a fraction as a decimal number where that is exact.

    Args:
        value: Any fraction [-].

    Returns:
        The decimal number, or None where its digits never end.
    """
    twos = fives = 0
    rest = value.denominator
    while rest % 2 == 0:
        rest, twos = rest // 2, twos + 1
    while rest % 5 == 0:
        rest, fives = rest // 5, fives + 1
    if rest != 1:
        return None
    places = max(twos, fives)
    whole = value.numerator * 2 ** (places - twos) * 5 ** (places - fives)
    digits = str(abs(whole)).rjust(places + 1, "0")
    text = f"{digits[: len(digits) - places]}.{digits[len(digits) - places :]}" if places else digits
    return Decimal(("-" if whole < 0 else "") + text)


def shown(value: Fraction | Decimal, decimals: int) -> str:
    """Print a number with at least so many decimals, and more where it is exact and needs them.

    Args:
        value: The number [-].
        decimals: Decimals of the figures it came from.

    Returns:
        The number in plain digits; a value whose digits never end is rounded two places further than `decimals`, half
        to even.
    """
    exact = value if isinstance(value, Decimal) else exact_decimal(value)
    if exact is None:
        scale = 10 ** (decimals + 2)
        return shown(Fraction(round(value * scale), scale), decimals + 2)
    exponent = exact.as_tuple().exponent
    have = max(0, -exponent) if isinstance(exponent, int) else 0
    if have > decimals:
        text = format(exact, "f")
        head, _, tail = text.partition(".")
        return f"{head}.{tail[:decimals]}{tail[decimals:].rstrip('0')}".rstrip(".")
    return format(exact, "f") + ("." if have == 0 and decimals else "") + "0" * (decimals - have)
