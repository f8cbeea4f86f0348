"""Laws that the calculators keep whatever is typed; those of `fit` alone are in `test_fit_calculator`."""

from __future__ import annotations

import itertools
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tenthbook.faces.calculators import load

PROBABILITY_DIGITS = 1e-9  # double precision, tails subtracted from one
STEP = Decimal("0.0001")

few = settings(deadline=None, max_examples=60)
doubts = st.integers(1, 60).map(lambda steps: steps * STEP)
lengths = st.integers(-400, 400).map(lambda steps: steps * STEP)
sizes = st.integers(9_000, 11_000).map(lambda steps: steps * STEP)
confidences = st.sampled_from([0.6, 0.8, 0.9, 0.95, 0.99, 0.999])


def inches(value: Decimal | None) -> str | None:
    """A length as typed."""
    return None if value is None else f"{value} in"


def in_millimetres(value: Any) -> Any:
    """The same question with every length typed in millimetres."""
    if isinstance(value, dict):
        return {name: in_millimetres(item) for name, item in value.items()}
    if isinstance(value, list):
        return [in_millimetres(item) for item in value]
    if isinstance(value, str) and value.endswith(" in"):
        return f"{Decimal(value.split()[0]) * Decimal('25.4'):f} mm"
    return value


def agree(inch: Any, metric: Any) -> None:
    """Two answers say the same: words equal, numbers to the last digits of a double, exact ones exactly."""
    if isinstance(inch, dict):
        for name in inch:
            if name != "text":
                agree(inch[name], metric[name])
    elif isinstance(inch, list):
        assert len(inch) == len(metric)
        for one, other in zip(inch, metric, strict=True):
            agree(one, other)
    elif isinstance(inch, float):
        assert metric == pytest.approx(inch, rel=1e-9, abs=1e-12)
    else:
        assert metric == inch


@st.composite
def judged(draw: st.DrawFn) -> dict[str, Any]:
    """A question of `verdict`."""
    low, high = sorted(draw(st.tuples(lengths, lengths)))
    question: dict[str, Any] = {
        "value": inches(draw(lengths)),
        "standard_uncertainty": inches(draw(doubts)),
        "lower": inches(draw(st.sampled_from([None, low]))),
        "upper": inches(draw(st.sampled_from([None, high]))),
        "rule": draw(st.sampled_from(["plain", "guarded", "full U"])),
        "conformance": draw(confidences),
    }
    dof = draw(st.none() | st.integers(1, 50))
    return question if dof is None else {**question, "degrees_of_freedom": dof}


@st.composite
def sides(draw: st.DrawFn) -> dict[str, Any]:
    """One part of `fit-forecast`: measured, or a band."""
    size = draw(sizes)
    if draw(st.booleans()):
        doubt = draw(st.none() | doubts)
        return {"size": inches(size)} | ({} if doubt is None else {"standard_uncertainty": inches(doubt)})
    width = draw(st.integers(0, 60)) * STEP
    law = draw(st.sampled_from(["uniform", "normal at 6 sigma"]))
    return {"band": [inches(size), inches(size + width)], "distribution": law}


@st.composite
def forecasts(draw: st.DrawFn) -> dict[str, Any]:
    """A question of `fit-forecast`."""
    question: dict[str, Any] = {"hole": draw(sides()), "shaft": draw(sides())}
    middle = draw(lengths)
    for name, reach in (("new", 40), ("service", 90)):
        tight, loose = (middle - draw(st.integers(0, reach)) * STEP, middle + draw(st.integers(0, reach)) * STEP)
        pair = [inches(draw(st.sampled_from([tight, None]))), inches(draw(st.sampled_from([loose, None])))]
        question[name] = draw(st.sampled_from([pair, None]))
    return question


@st.composite
def sized(draw: st.DrawFn) -> dict[str, Any]:
    """A question of `size` with everything in it."""
    rows, columns = draw(st.integers(1, 4)), draw(st.integers(1, 3))
    table = [[inches(draw(sizes)) for _ in range(columns)] for _ in range(rows)]
    kinds: list[dict[str, Any]] = [{"stations": table}, {"readings": table[0]}]
    kind = draw(st.sampled_from(kinds))
    before, after = (inches(1 + draw(st.integers(-3, 3)) * STEP) for _ in range(2))
    return {
        **kind,
        "master": {"nominal": "1 in", "before": before, "after": after},
        "instrument": {"error_limit": "0.0001 in", "resolution": inches(draw(doubts))},
        "temperatures": {"part": f"{draw(st.integers(10, 40))} degC", "instrument": "68 degF"},
        "expansion": {"part": "21.5e-6 1/degC", "instrument": "11.5e-6 1/degC"},
    }


@st.composite
def paired(draw: st.DrawFn) -> dict[str, Any]:
    """A question of `pairing` by sizes."""
    count = draw(st.integers(1, 6))
    parts = st.lists(st.integers(9_990, 10_010).map(lambda steps: inches(steps * STEP)), min_size=count, max_size=count)
    target = inches(draw(st.integers(-10, 10)) * STEP)
    return {
        "holes": draw(parts),
        "shafts": draw(parts),
        "target": target,
        "criterion": draw(st.sampled_from(["worst", "sum"])),
    }


QUESTIONS: dict[str, st.SearchStrategy[dict[str, Any]]] = {
    "verdict": judged(),
    "fit-forecast": forecasts(),
    "size": sized(),
    "pairing": paired(),
    "thermal-fit": st.builds(
        lambda hole, shaft, warm: {
            "hole": {"size": inches(hole), "expansion": "21.5e-6 1/degC"},
            "shaft": {"size": inches(shaft), "expansion": "6.4e-6 1/degF"},
            "at": [f"{warm} degC"],
        },
        sizes,
        sizes,
        st.integers(-40, 300),
    ),
    "uncertainty": st.builds(
        lambda first, second, dof: {
            "inputs": [
                {"name": "a", "standard": inches(first), "degrees_of_freedom": dof},
                {"name": "b", "half_width": inches(second), "shape": "triangular", "sensitivity": -2},
            ],
            "confidence": 0.95,
        },
        doubts,
        doubts,
        st.integers(1, 30),
    ),
    "risk": st.builds(
        lambda mean, deviation, doubt, limit: {
            "process": {"mean": inches(mean), "standard_deviation": inches(deviation)},
            "standard_uncertainty": inches(doubt),
            "upper": inches(limit),
        },
        lengths,
        doubts,
        doubts,
        lengths,
    ),
}


@pytest.mark.parametrize("name", QUESTIONS)
@given(data=st.data())
@settings(deadline=None, max_examples=30)
def test_inch_and_millimetre_agree(name: str, data: st.DataObject) -> None:
    """The same lengths typed in millimetres, and asked for in inches, get the same answer."""
    question = data.draw(QUESTIONS[name])
    agree(load(name).run(question), load(name).run(in_millimetres({**question, "units": "inch"})))


RANK = {"within": 0, "no limit": 1, "undecided": 2, "outside": 3}


@given(judged(), st.integers(1, 100))
@few
def test_more_doubt_never_decides(question: dict[str, Any], more: int) -> None:
    """A worse gauge leaves a verdict as it is or makes it undecided, and the face value is not its business."""
    doubt = Decimal(question["standard_uncertainty"].split()[0]) + more * STEP
    before, after = (
        load("verdict").run(question),
        load("verdict").run({**question, "standard_uncertainty": inches(doubt)}),
    )
    assert after["verdict"] in (before["verdict"], "undecided")
    assert after["plain"] == before["plain"]


@given(judged(), st.integers(1, 100))
@few
def test_a_wider_limit_never_worsens_a_verdict(question: dict[str, Any], wider: int) -> None:
    """Moving an upper limit outwards turns nothing within into undecided or outside, and no chance smaller."""
    assume(question["upper"] is not None)
    upper = Decimal(question["upper"].split()[0]) + wider * STEP
    narrow, wide = load("verdict").run(question), load("verdict").run({**question, "upper": inches(upper)})
    assert RANK[wide["verdict"]] <= RANK[narrow["verdict"]]
    assert RANK[wide["plain"]] <= RANK[narrow["plain"]]
    assert wide["probability_within"] >= narrow["probability_within"] - PROBABILITY_DIGITS


@given(judged(), confidences, confidences)
@few
def test_raising_conformance_never_accepts_more(question: dict[str, Any], one: float, other: float) -> None:
    """Who wants to be surer accepts no more, refuses no more, and needs no worse a gauge."""
    low, high = sorted((one, other))
    lax, strict = (load("verdict").run({**question, "conformance": wanted}) for wanted in (low, high))
    assert strict["verdict"] in (lax["verdict"], "undecided")
    assert strict["guard"]["value"] >= lax["guard"]["value"]
    if question["rule"] != "full U" and lax["standard_uncertainty_needed"] is not None:
        assert strict["standard_uncertainty_needed"]["value"] <= lax["standard_uncertainty_needed"]["value"]


@given(judged(), confidences, confidences)
@few
def test_raising_conformance_never_proves_a_fit(question: dict[str, Any], one: float, other: float) -> None:
    """A grade stays, falls from new to service, or becomes undecided, where more certainty is asked."""
    low, high = sorted((one, other))
    fit = {
        "hole": {"size": f"{1 + Decimal(question['value'].split()[0])} in", "standard_uncertainty": "0.0003 in"},
        "shaft": {"size": "1 in"},
        "new": [question["lower"], question["upper"]],
        "service": [None, "0.0500 in"],
        "rule": "guarded",
    }
    lax, strict = (load("fit").run({**fit, "conformance": wanted})["grade"] for wanted in (low, high))
    assert strict in (lax, "undecided") or (lax, strict) == ("new", "service")


@given(judged())
@few
def test_the_gauge_that_is_needed_decides(question: dict[str, Any]) -> None:
    """With a gauge just better than the one said to be needed the verdict is no longer undecided."""
    answer = load("verdict").run(question)
    needed = answer["standard_uncertainty_needed"]
    assume(needed is not None)
    better = load("verdict").run({**question, "standard_uncertainty": f"{needed['value'] * 0.999:.12e} in"})
    assert better["verdict"] == better["plain"] == answer["plain"]


@given(judged())
@few
def test_a_value_mirrored_is_the_same_verdict(question: dict[str, Any]) -> None:
    """A change of sign of value and limits changes nothing."""

    def turned(text: str | None) -> str | None:
        return None if text is None else f"{-Decimal(text.split()[0])} in"

    other = {
        **question,
        "value": turned(question["value"]),
        "lower": turned(question["upper"]),
        "upper": turned(question["lower"]),
    }
    agree(load("verdict").run(question), load("verdict").run(other))


@given(forecasts())
@few
def test_odds_make_one(question: dict[str, Any]) -> None:
    """Odds exist where their limits do, each from 0 to 1, and with a service limit they make one."""
    odds = load("fit-forecast").run(question)["odds"]
    given_pair = {name: any(question[name] or []) for name in ("new", "service")}
    assert (odds["new"] is not None) == given_pair["new"]
    assert (odds["service"] is not None) == (odds["reject"] is not None) == given_pair["service"]
    there = [odd for odd in odds.values() if odd is not None]
    assert all(0.0 <= odd <= 1.0 for odd in there)
    assert not given_pair["service"] or sum(there) == pytest.approx(1.0, abs=PROBABILITY_DIGITS)


@given(forecasts())
@few
def test_a_forecast_mirrored_is_the_same(question: dict[str, Any]) -> None:
    """Hole and shaft changed over, tight for loose: the ends change sign and place, the odds stay."""
    other = {"hole": question["shaft"], "shaft": question["hole"]}
    for name in ("new", "service"):
        pair = question[name]
        other[name] = pair and [one and f"{-Decimal(one.split()[0])} in" for one in reversed(pair)]
    straight, turned = load("fit-forecast").run(question), load("fit-forecast").run(other)
    assert [end["value"] for end in turned["clearance"]] == [-end["value"] for end in reversed(straight["clearance"])]
    agree({"odds": straight["odds"]}, {"odds": turned["odds"]})


@given(forecasts(), st.integers(1, 100))
@few
def test_a_wider_service_limit_never_rejects_more(question: dict[str, Any], wider: int) -> None:
    """Moving the loosest service limit outwards makes a rejection no likelier."""
    pair = question["service"]
    assume(pair is not None and pair[1] is not None)
    loose = inches(Decimal(pair[1].split()[0]) + wider * STEP)
    narrow, wide = (
        load("fit-forecast").run(question),
        load("fit-forecast").run({**question, "service": [pair[0], loose]}),
    )
    assert wide["odds"]["reject"] <= narrow["odds"]["reject"] + PROBABILITY_DIGITS


@given(sizes, sizes, st.integers(-40, 300))
@few
def test_a_warm_fit_mirrored_is_its_negative(hole: Decimal, shaft: Decimal, warm: int) -> None:
    """Parts changed over give the same clearance with the other sign, exactly."""
    outer, inner = (
        {"size": inches(hole), "expansion": "21.5e-6 1/degC"},
        {"size": inches(shaft), "expansion": "11.5e-6 1/degC"},
    )
    ends = [
        load("thermal-fit").run({"hole": one, "shaft": other, "at": [f"{warm} degC"]})["clearance"][0]["value"]
        for one, other in ((outer, inner), (inner, outer))
    ]
    grown = [
        size * (1 + Decimal(per_degree) * (warm - 20)) for size, per_degree in ((hole, "21.5e-6"), (shaft, "11.5e-6"))
    ]
    assert ends[0] == -ends[1] == grown[0] - grown[1]


def ways(costs: list[list[Fraction]]) -> list[tuple[Fraction, Fraction]]:
    """Worst and sum of every way to pair rows with columns."""
    rows = range(len(costs))
    chosen = (
        [costs[row][column] for row, column in zip(rows, order, strict=True)] for order in itertools.permutations(rows)
    )
    return [(max(one), sum(one, Fraction(0))) for one in chosen]


@given(paired())
@few
def test_sizes_are_paired_as_trying_every_way_would(question: dict[str, Any]) -> None:
    """With one target, no way of pairing has a smaller worst, nor a smaller sum; both exactly."""
    exact = {name: [Fraction(text.split()[0]) for text in question[name]] for name in ("holes", "shafts")}
    target = Fraction(question["target"].split()[0])
    costs = [[abs(hole - shaft - target) for shaft in exact["shafts"]] for hole in exact["holes"]]
    answer, every = load("pairing").run(question), ways(costs)
    assert answer["worst"]["value"] == min(worst for worst, _ in every)
    assert answer["sum"]["value"] == min(total for _, total in every)
    chosen = [costs[row][partner - 1] for row, partner in enumerate(answer["partner"])]
    assert (max(chosen), sum(chosen)) == (answer["worst"]["value"], answer["sum"]["value"])
    assert sorted(answer["partner"]) == list(range(1, len(costs) + 1))


@given(
    st.integers(1, 6).flatmap(
        lambda n: st.lists(st.lists(st.integers(-9, 9), min_size=n, max_size=n), min_size=n, max_size=n)
    )
)
@few
def test_costs_are_paired_as_trying_every_way_would(cost: list[list[int]]) -> None:
    """By the worst: the least worst and then the least sum with it; by the sum: the least sum."""
    every = ways([[Fraction(one) for one in row] for row in cost])
    by_worst, by_sum = (load("pairing").run({"cost": cost, "criterion": word}) for word in ("worst", "sum"))
    assert (by_worst["worst"], by_worst["sum"]) == min(every)
    assert by_sum["sum"] == min(total for _, total in every)


EDGES_MM = (3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400)
FINE_EDGES_MM = (65, 100, 140, 160, 200, 225, 280, 355, 450)
CLASSES = [("hole", letter + grade) for letter in ("D", "H", "JS", "K", "P", "S") for grade in ("5", "7", "8")]
CLASSES += [("shaft", letter + grade) for letter in ("f", "h", "js", "k", "n", "r") for grade in ("5", "7", "8")]


@pytest.mark.parametrize("edge", sorted(EDGES_MM + FINE_EDGES_MM))
def test_a_step_ends_at_its_upper_edge(edge: int) -> None:
    """The edge itself is judged with the sizes below it, a picometre more with the sizes above it."""

    def looked_up(size: str) -> list[Any]:
        batch = [{"size": f"{size} mm", side: tolerance_class} for side, tolerance_class in CLASSES]
        return [answer["hole"] or answer["shaft"] for answer in load("iso-fit").run({"batch": batch})["batch"]]

    on, over = looked_up(f"{edge}.000000000"), looked_up(f"{edge}.000000001")
    assert on == looked_up(f"{edge - 0.4}")
    assert over == looked_up(f"{edge + 0.4}")
    assert on != over


@given(st.sampled_from(CLASSES), st.integers(1, 500))
@few
def test_inch_and_millimetre_have_the_same_class(one: tuple[str, str], size: int) -> None:
    """A nominal size typed in inches has the deviations of the same size in millimetres."""
    side, tolerance_class = one
    inch = load("iso-fit").run({"size": f"{size * Decimal('0.0393')} in", side: tolerance_class})
    metric = load("iso-fit").run({"size": f"{size * Decimal('0.0393') * Decimal('25.4')} mm", side: tolerance_class})
    assert inch == metric
