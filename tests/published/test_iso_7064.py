"""ISO/IEC 7064:2003, Check character systems, hybrid system MOD 11,10.

From memory: the standard's worked example 0794 has the check character 5, and the system finds every single wrong
figure. How many swapped neighbours it finds was counted here over all tags, since the standard's own figure was not at
hand.
"""

from __future__ import annotations

import itertools

import pytest

from tenthbook.record.job import check_digit, tag_holds

ALL = [f"{number:04d}" for number in range(10_000)]
CODES = [figures + check_digit(figures) for figures in ALL]


def holds(code: str) -> bool:
    """Whether four figures and their check digit belong together."""
    return tag_holds(f"P-{code[:4]}-{code[4]}")


def test_the_standards_example() -> None:
    """0794 has the check character 5."""
    assert check_digit("0794") == "5"
    assert holds("07945")


def second_reckoning(code: str) -> bool:
    """The standard's test of a finished code: the sums and doublings over all figures end in 1 modulo 10."""
    product = 10
    for figure in code[:-1]:
        product = ((product + int(figure)) % 10 or 10) * 2 % 11
    return (product + int(code[-1])) % 10 == 1


def test_every_code_passes_the_standards_check() -> None:
    """All ten thousand codes are right by the check as the standard words it, and nine in ten other endings are not."""
    assert all(second_reckoning(code) for code in CODES)
    assert sum(second_reckoning(figures + ending) for figures in ALL[:100] for ending in "0123456789") == 100


@pytest.mark.parametrize("place", range(5))
def test_every_single_wrong_figure_is_found(place: int) -> None:
    """Any figure replaced by any other, the check digit included, is found, in every tag."""
    missed = [
        code
        for code in CODES
        for wrong in "0123456789"
        if wrong != code[place] and holds(code[:place] + wrong + code[place + 1 :])
    ]
    assert missed == []


def test_how_many_swapped_neighbours_are_found() -> None:
    """Of all swaps of two unlike neighbours 97.8 in a hundred are found, the check digit included."""
    swaps = [
        code[:place] + code[place + 1] + code[place] + code[place + 2 :]
        for code, place in itertools.product(CODES, range(4))
        if code[place] != code[place + 1]
    ]
    found = sum(not holds(swapped) for swapped in swaps)
    assert len(swaps) == 36_000
    assert round(100 * found / len(swaps), 1) == 97.8
