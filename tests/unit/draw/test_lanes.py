"""Labels of a drawing that lies down share as few rows as hold them."""

from __future__ import annotations

import pytest

from tenthbook.faces.draw.lanes import STEP, Label, draw_lanes
from tenthbook.faces.draw.letters import digits
from tenthbook.faces.draw.svg import element
from tests.unit.draw import printed

ROOM = (20.0, 900.0)


def rows(labels: list[Label], *, up: bool = False) -> dict[str, float]:
    """The height of each label's text below the drawing (above it: below zero), by its digits."""
    drawn, _ = draw_lanes(labels, 0.0, ROOM, up=up)
    root = printed.parse(element("svg", *drawn, xmlns="http://www.w3.org/2000/svg"))
    return {box.text: box.top for box in printed.boxes(root)}


def label(place: float, text: str, *, last: bool = False) -> Label:
    """One label of digits."""
    return Label(place, (digits(text),), "new", last)


def test_labels_that_fit_stand_in_one_row() -> None:
    """Five short numbers at one place stand side by side."""
    assert len(set(rows([label(400, f"0.003{at}") for at in range(5)]).values())) == 1


def test_labels_that_do_not_fit_take_turns_in_two_rows() -> None:
    """Five numbers too long for one row take two, every second one further out."""
    found = rows([label(200 + 100 * at, f"{at}" * 20) for at in range(5)])
    near, far = sorted(set(found.values()))
    assert [found[f"{at}" * 20] for at in range(5)] == [near, far, near, far, near]


def test_the_last_stands_further_out_than_all_others() -> None:
    """What has a row of its own stands under the rows of the others."""
    found = rows([label(100, "1", last=True), label(100, "2"), label(800, "3")])
    assert found["2"] == found["3"]
    assert found["1"] >= found["2"] + STEP


@pytest.mark.parametrize("up", [False, True])
def test_rows_go_the_way_they_are_told(up: bool) -> None:
    """Rows over the drawing lie over where it begins, rows under it lie under, and the reach holds them all."""
    labels = [label(200 + 100 * at, f"{at}" * 20) for at in range(5)]
    drawn, reach = draw_lanes(labels, 0.0, ROOM, up=up)
    root = printed.parse(element("svg", *drawn, xmlns="http://www.w3.org/2000/svg"))
    for box in printed.boxes(root):
        assert (-reach <= box.top < box.bottom < 0) if up else (0 < box.top < box.bottom <= reach)


def test_nothing_to_label_takes_no_room() -> None:
    """Without labels nothing is drawn and nothing is reserved."""
    assert draw_lanes([], 0.0, ROOM) == ([], 0.0)
