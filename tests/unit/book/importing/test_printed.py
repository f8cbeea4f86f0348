"""What a cell of limits says, digit for digit, or why it cannot be read."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tenthbook.numbers.quantity import UnknownUnit
from tenthbook.record.book.importing.printed import Amount, Printed, Unread, Way, is_dashes, read_printed, unit_named


def alone(number: str, unit: str = "") -> Amount:
    """A number by itself."""
    return Amount(Way.ALONE, number, number, unit)


def between(least: str, greatest: str, unit: str = "") -> Amount:
    """A range."""
    return Amount(Way.RANGE, least, greatest, unit)


@pytest.mark.parametrize(
    ("text", "amount"),
    [
        ("0.5000", alone("0.5000")),
        (".5000", alone(".5000")),
        ("-0.0010", alone("-0.0010")),
        ("0", alone("0")),
        ("105", alone("105")),
        ("0.0098 in", alone("0.0098", "in")),
        ('0.0098"', alone("0.0098", "in")),
        ("0.0098''", alone("0.0098", "in")),
        ("0.0098 \u2033", alone("0.0098", "in")),
        ("0.0098 inches", alone("0.0098", "in")),
        ("0.25mm", alone("0.25", "mm")),
        ("0.25 mm.", alone("0.25", "mm")),
        ("0.0037-0.0057", between("0.0037", "0.0057")),
        ("0.0037 - 0.0057", between("0.0037", "0.0057")),
        ("0.0037\u20130.0057", between("0.0037", "0.0057")),
        ("0.0037 to 0.0057", between("0.0037", "0.0057")),
        ("0.0037 TO 0.0057", between("0.0037", "0.0057")),
        ("0.0037 in to 0.0057 in", between("0.0037", "0.0057", "in")),
        ("-0.0010 - -0.0005", between("-0.0010", "-0.0005")),
        ("-0.0010-0.0020", between("-0.0010", "0.0020")),
        ("105-125 in-lb", between("105", "125", "in-lb")),
        ("12.0-12.6 lbf", between("12.0", "12.6", "lbf")),
        ("0.75 to 0.107 mm", between("0.75", "0.107", "mm")),
        ("0.0090 max", Amount(Way.GREATEST, "", "0.0090")),
        ("0.0090 MAX.", Amount(Way.GREATEST, "", "0.0090")),
        ("max. 0.0090 in", Amount(Way.GREATEST, "", "0.0090", "in")),
        ("0.5098 in min", Amount(Way.LEAST, "0.5098", "", "in")),
        ("minimum 0.5098", Amount(Way.LEAST, "0.5098", "")),
        ("5 min", Amount(Way.LEAST, "5", "")),
    ],
)
def test_a_cell_says_least_and_greatest_as_they_are_printed(text: str, amount: Amount) -> None:
    """Every digit stays, the unit gets the name the book writes, and the order of plain numbers is not touched."""
    assert read_printed(text) == Printed(amount)


@pytest.mark.parametrize(
    ("text", "least", "greatest"),
    [
        ("1.1260 +- 0.0019", "1.1241", "1.1279"),
        ("1.1260+/-0.0019", "1.1241", "1.1279"),
        ("1.1260 \u00b1 0.0019", "1.1241", "1.1279"),
        ("0.8763 +- 0.0003", "0.8760", "0.8766"),
        ("1.5 +- 0.0008", "1.4992", "1.5008"),
        ("28.600 +- 0.048 mm", "28.552", "28.648"),
    ],
)
def test_plus_and_minus_give_least_and_greatest_exactly(text: str, least: str, greatest: str) -> None:
    """No digit is lost and none is added; rows of TM 5-2410-237-23, work package 0245 (read), among them."""
    printed = read_printed(text)
    assert isinstance(printed, Printed)
    assert printed.first[:3] == (Way.RANGE, least, greatest)


@given(st.decimals("-1000", "1000", places=5), st.decimals("0", "10", places=7))
def test_plus_and_minus_are_exact_for_any_digits(middle: Decimal, by: Decimal) -> None:
    """Least and greatest lie the tolerance below and above, and as far apart as twice the tolerance."""
    printed = read_printed(f"{middle:f} +- {by:f}")
    assert isinstance(printed, Printed)
    assert (Decimal(printed.first.least), Decimal(printed.first.greatest)) == (middle - by, middle + by)


@pytest.mark.parametrize(
    ("text", "least", "greatest"),
    [
        ("0.0005T-0.0015L", "0.0005T", "0.0015L"),
        ("0.0005L-0.0010T", "0.0010T", "0.0005L"),
        ("0.0010T-0.0025T", "0.0025T", "0.0010T"),
        ("0.0025T to 0.0010T", "0.0025T", "0.0010T"),
        ("0.0015L-0.0005L", "0.0015L", "0.0005L"),
        ("0.0005 T - 0.0015 L in", "0.0005T", "0.0015L"),
        ("0.0000-0.0015L", "0.0000", "0.0015L"),
    ],
)
def test_the_tightest_of_a_range_with_letters_is_its_least(text: str, least: str, greatest: str) -> None:
    """T comes first whichever end is printed first; two loose ends in the wrong order stay for the checker."""
    printed = read_printed(text, lettered=True)
    assert isinstance(printed, Printed)
    assert printed.first[:3] == (Way.RANGE, least, greatest)


def test_letters_with_max_and_alone() -> None:
    """A letter stays with its number."""
    assert read_printed("0.0037L max", lettered=True) == Printed(Amount(Way.GREATEST, "", "0.0037L"))
    assert read_printed("0.0005T", lettered=True) == Printed(alone("0.0005T"))


@pytest.mark.parametrize("text", ["0.25-0.30 mm (0.0098-0.0118 in)", "0.25-0.30 mm [0.0098 to 0.0118 in]"])
def test_a_second_unit_stands_in_brackets(text: str) -> None:
    """Both are kept as printed; neither is computed from the other."""
    assert read_printed(text) == Printed(between("0.25", "0.30", "mm"), between("0.0098", "0.0118", "in"))


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("0,0057", "decimal point"),
        ("1,250", "decimal point"),
        ("00098", "begins with nought"),
        ("-00098", "begins with nought"),
        ("(00098 to 0.0118 in)", "a number"),
        ("0.25 to 0.30 mm (00098 to 0.0118 in)", "begins with nought"),
        ("1-1/2 in", "a number"),
        ("1/2", "a number"),
        ("0.001 -0.002", "a number"),
        ("0.001--0.002", "a number"),
        ("0.009O", "in, mm"),
        ("9.2E-05", "without a power"),
        ("9.2E05", "without a power"),
        ("0.0057 fathoms", "thou"),
        ("nil", "dashes for no limit, 0 for nought"),
        ("none", "dashes for no limit, 0 for nought"),
        ("see note 4", "a number"),
        ("0.0005T", "in, mm"),
        ("max 0.0090 max", "a number"),
        ("0.0030 in to 0.1 mm", "the second in brackets"),
        ("1.1260 in +- 0.05 mm", "the second in brackets"),
        ("1.1260 +- -0.0019", "a number"),
        ("0.0037-0.0057-0.0067", "a number"),
        ("(0.0037)", "a number"),
        ("0.0037 (0.0057", "a number"),
    ],
)
def test_what_cannot_be_read_is_left_unread(text: str, word: str) -> None:
    """Nothing is mended: a comma, a lost point, a fraction, a power, a word that may mean nought."""
    printed = read_printed(text)
    assert isinstance(printed, Unread)
    assert word in printed.expected


@pytest.mark.parametrize("text", ["0.0010-0.0025T", "0.0005T to 0.0015", "0.0010 - 0.0025L"])
def test_one_letter_for_two_numbers_is_left_unread(text: str) -> None:
    """Whether it is meant for both cannot be told."""
    printed = read_printed(text, lettered=True)
    assert isinstance(printed, Unread)
    assert printed.expected == "T or L behind both numbers, or behind none"


def test_min_has_two_meanings_where_a_unit_may_be_a_time() -> None:
    """5 min alone is left unread there; minimum, and a least with its unit, are read."""
    assert isinstance(read_printed("5 min", minutes=True), Unread)
    assert isinstance(read_printed("5.0 min", minutes=True), Unread)
    assert read_printed("5 minimum", minutes=True) == Printed(Amount(Way.LEAST, "5", ""))
    assert read_printed("20.0 psi min", minutes=True) == Printed(Amount(Way.LEAST, "20.0", "", "psi"))


@pytest.mark.parametrize("text", ["-", "--", "----", "- - -", "\u2014", ". . .", "n/a", "N/A", "N.A", "na"])
def test_dashes_are_dashes(text: str) -> None:
    """So many ways a page says that no limit is given."""
    assert is_dashes(text)


@pytest.mark.parametrize("text", ["0", "0.000", "nil", "none", "-0.1", "-1", "nought"])
def test_nought_and_words_are_no_dashes(text: str) -> None:
    """A nought is a limit, and nil may mean one."""
    assert not is_dashes(text)


def test_an_unknown_unit_is_named() -> None:
    """The nearest names are offered; nothing printed is no unit."""
    assert (unit_named(""), unit_named("Inch"), unit_named("lbf.in")) == ("", "in", "lbf.in")
    with pytest.raises(UnknownUnit):
        unit_named("furlong")


@given(st.text(alphabet='0123456789.+- TLtoinmax(),"/', max_size=24))
def test_any_text_is_read_or_left_unread(text: str) -> None:
    """Whatever stands in a cell, the numbers that come out stand in it with these digits, or nothing comes out."""
    printed = read_printed(text, lettered=True)
    if isinstance(printed, Printed) and "+" not in text:
        for amount in (printed.first, *([printed.second] if printed.second else [])):
            for number in (amount.least, amount.greatest):
                assert number.rstrip("TL") in text
