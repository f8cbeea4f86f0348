"""A typed quantity keeps its digits and is compared exactly."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from tenthbook.numbers.quantity import Quantity, UnknownUnit, exact_decimal, find_unit, plain, quantity, shown
from tenthbook.numbers.quantity.typed import NotAQuantity

DIGITS = st.decimals(allow_nan=False, allow_infinity=False, min_value=-1000, max_value=1000, places=6)


def test_digits_are_kept_as_typed() -> None:
    """A nought at the end is a reading, not decoration."""
    read = quantity("2.3750 in")
    assert (read.typed, read.decimals, str(read)) == ("2.3750", 4, "2.3750 in")


def test_an_inch_is_exactly_25_4_millimetres() -> None:
    """No digit is lost between the two."""
    assert quantity("1 in").exact == quantity("25.4 mm").exact == Fraction(254, 10_000)


@given(DIGITS)
@settings(deadline=None)
def test_there_and_back_changes_nothing(number: Decimal) -> None:
    """Inch to millimetre to inch gives the same number, for every number."""
    inches = Quantity(format(number, "f"), find_unit("in"))
    millimetres = inches.into(find_unit("mm"))
    assert millimetres / Fraction(254, 10) == inches.number


@pytest.mark.parametrize(
    ("typed", "kelvin"), [("0 degC", "273.15"), ("32 degF", "273.15"), ("212 degF", "373.15"), ("300 K", "300")]
)
def test_a_temperature_knows_where_nought_is(typed: str, kelvin: str) -> None:
    """Freezing is one point on every scale."""
    assert quantity(typed).exact == Fraction(kelvin)


def test_a_difference_of_temperatures_has_no_offset() -> None:
    """A change of 9 degF is a change of 5 degC."""
    change = quantity("9 degF")
    assert change.into(find_unit("degC"), as_difference=True) == 5
    assert change.difference == 5


def test_a_temperature_changes_scale_with_its_offset() -> None:
    """212 degF is 100 degC."""
    assert quantity("212 degF").into(find_unit("degC")) == 100


def test_a_length_is_not_given_in_pounds() -> None:
    """Units of two kinds are never turned into one another."""
    with pytest.raises(UnknownUnit, match=r"1 in \(length\)"):
        quantity("1 in").into(find_unit("lb"))


@pytest.mark.parametrize("text", ["1,2497 in", "1.249,7 in", "1,000.5 in"])
def test_a_comma_is_refused(text: str) -> None:
    """Neither a decimal comma nor a separator of thousands is guessed at."""
    with pytest.raises(NotAQuantity, match="no comma"):
        quantity(text)


@pytest.mark.parametrize("text", ["1.2497", "in", "", "1.2497in", "1 2 in", "1.2497 in extra"])
def test_a_number_needs_one_unit_behind_a_blank(text: str) -> None:
    """A bare number, a bare unit and three words are refused."""
    with pytest.raises(NotAQuantity, match="a number and a unit"):
        quantity(text)


@pytest.mark.parametrize(
    "text", ["abc in", "1..2 in", "- in", "NaN in", "inf in", "0x1 in", "1_0 in", "\u0661 in", "1e in", "1e1234 in"]
)
def test_what_is_no_number_is_refused(text: str) -> None:
    """Letters, other figures than ours, infinity and not-a-number are no reading."""
    with pytest.raises(NotAQuantity, match="a number such as"):
        quantity(text)


@pytest.mark.parametrize("text", ["1" * 41, "1e99", "1e-99", "0." + "1" * 41])
def test_more_digits_than_an_instrument_shows_are_refused(text: str) -> None:
    """A number that would stop the arithmetic is stopped first."""
    with pytest.raises(NotAQuantity, match="at most 40 digits"):
        plain(text)


@pytest.mark.parametrize(
    ("text", "value"), [(" 1.5 ", "1.5"), ("+1.5", "+1.5"), (".5", ".5"), ("5.", "5."), ("11.5e-6", "11.5e-6")]
)
def test_what_people_type_is_a_number(text: str, value: str) -> None:
    """Signs, a bare point and powers of ten are read and kept."""
    assert plain(text) == value


def test_an_unknown_unit_is_answered_with_the_nearest() -> None:
    """A slip in the unit is answered with what was meant."""
    with pytest.raises(UnknownUnit) as caught:
        quantity("1 inn")
    assert "in" in caught.value.expected.split(" or ")


@pytest.mark.parametrize(
    ("value", "decimals", "text"),
    [
        (Fraction(1, 4), 4, "0.2500"),
        (Fraction(1, 32), 2, "0.03125"),
        (Fraction(5), 0, "5"),
        (Fraction(5), 3, "5.000"),
        (Fraction(-1, 400), 4, "-0.0025"),
        (Fraction(1, 3), 4, "0.333333"),
        (Fraction(2, 3), 0, "0.67"),
        (Decimal("0.50900"), 4, "0.5090"),
        (Decimal("1200"), 0, "1200"),
        (Decimal("1.2E+3"), 1, "1200.0"),
        (Fraction(0), 4, "0.0000"),
    ],
)
def test_a_number_is_shown_with_its_decimals_and_more_where_it_needs_them(
    value: Fraction | Decimal, decimals: int, text: str
) -> None:
    """Exact digits are never cut; only digits without end are rounded."""
    assert shown(value, decimals) == text


@given(st.fractions(max_denominator=10**6), st.integers(0, 6))
@example(Fraction(1, 3), 30)
@example(Fraction(445423531012576592294411663, 3), 0)
@settings(deadline=None)
def test_what_is_shown_reads_back(value: Fraction, decimals: int) -> None:
    """A number whose digits end reads back unchanged, another within half its last figure."""
    read = Fraction(shown(value, decimals))
    if exact_decimal(value) is None:
        assert abs(read - value) <= Fraction(1, 2 * 10 ** (decimals + 2))
    else:
        assert read == value


@given(st.integers(-(10**30), 10**30), st.integers(0, 30), st.integers(0, 30))
@settings(deadline=None)
def test_a_decimal_number_is_exact_or_absent(numerator: int, twos: int, fives: int) -> None:
    """Tenths and their powers are written exactly; thirds are not written at all."""
    value = Fraction(numerator, 2**twos * 5**fives)
    exact = exact_decimal(value)
    assert exact is not None
    assert Fraction(exact) == value
    assert exact_decimal(Fraction(3 * numerator + 1, 3)) is None


@given(st.text(max_size=40))
@settings(deadline=None)
def test_no_text_stops_the_reader_with_anything_but_its_own_error(text: str) -> None:
    """Whatever a scanner types is a quantity or a fault that says what was expected."""
    expected, read = "", None
    try:
        read = quantity(text)
    except (NotAQuantity, UnknownUnit) as error:
        expected = error.expected
    assert expected if read is None else str(read).split() == [read.typed, read.unit.name]
