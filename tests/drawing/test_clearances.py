"""Every pair of boards beside the band of its fit, and what is said of those outside."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from faywright.drawing.axis import Axis
from faywright.drawing.clearance_counts import TALL, Counts
from faywright.drawing.clearances import ALL_NAMED, Clearances, clearance_chart, clearances
from faywright.drawing.model import Drawing, Outline, Polyline
from faywright.errors import InputError
from faywright.lengths import LengthStyle
from faywright.piece.opened import open_documents
from faywright.piece.plan import plan
from tests.drawing.paper import hatched, legible
from tests.drawing.piles_to_draw import names as any_names
from tests.strategies import STEADY, lengths

BAND, AIM = (0.08, 0.28), 0.18
MM = LengthStyle("mm")
DEMO = Path(__file__).parents[2] / "examples" / "hall-bench" / "piece.toml"


def found(*means: float, expanded: float = 0.02) -> Clearances:
    names = tuple(f"B{k + 2:02} in B{k + 1:02}" for k in range(len(means)))
    return Clearances(names, np.array(means), np.full(len(means), expanded), BAND, AIM)


def drawn(of: Clearances, style: LengthStyle = MM) -> Drawing:
    return clearance_chart(of, title="back: clearances", style=style)


def written(drawing: Drawing) -> list[str]:
    return [text.text for text in drawing.texts]


def said(drawing: Drawing) -> str:
    return " ".join(written(drawing))


def bars(drawing: Drawing) -> list[tuple[float, float]]:
    """Ends of the level heavy lines, from the top down."""
    runs = [m.bounds for m in drawing.marks if isinstance(m, Polyline) and m.weight == "outline"]
    return [(b[0], b[2]) for b in sorted(runs, key=lambda b: b[1]) if b[1] == b[3]]


def read(drawing: Drawing, x: float) -> float:
    """The clearance at a place on paper, by the open bar of the band."""
    (bar,) = [m.bounds for m in drawing.marks if isinstance(m, Outline) and m.weight == "frame"]
    return BAND[0] + (x - bar[0]) * (BAND[1] - BAND[0]) / (bar[2] - bar[0])


def aim_line(drawing: Drawing) -> float:
    (dashed,) = [m for m in drawing.marks if isinstance(m, Polyline) and m.weight == "hidden"]
    return dashed.bounds[0]


@st.composite
def many(draw: st.DrawFn) -> Clearances:
    count = draw(st.integers(1, 200))
    marks = draw(st.lists(any_names, min_size=1, max_size=min(count, 30)))
    names = tuple(f"{marks[k % len(marks)]}{k}" for k in range(count))
    generator = np.random.default_rng(draw(st.integers(0, 99)))
    means = AIM + draw(lengths(0.0, 0.2)) * generator.standard_normal(count)
    return Clearances(names, means, draw(lengths(0, 0.2)) * generator.random(count), BAND, AIM)


def test_the_tightest_pair_stands_at_the_top() -> None:
    drawing = drawn(found(0.2, 0.12, 0.16))
    names = [text for text in drawing.texts if re.fullmatch(r"B\d\d in B\d\d", text.text)]
    assert [text.text[:3] for text in sorted(names, key=lambda t: t.at[1])] == ["B03", "B04", "B02"]


def test_a_bar_reaches_as_far_as_the_pair_is_unsure() -> None:
    drawing = drawn(found(0.12, 0.2, expanded=0.03))
    ends = [(read(drawing, low), read(drawing, high)) for low, high in bars(drawing)]
    assert ends == [pytest.approx((0.09, 0.15)), pytest.approx((0.17, 0.23))]


def test_the_dashed_line_is_the_aim() -> None:
    drawing = drawn(found(0.1, 0.25))
    assert read(drawing, aim_line(drawing)) == pytest.approx(AIM)
    assert "the aim, 0.18 mm" in said(drawing)


@pytest.mark.parametrize(
    ("means", "words"),
    [
        ((0.18, 0.2), "2 of 2 pairs lie within the band of the fit, 0.08 mm to 0.28 mm; all"),
        ((0.18, 0.27), "2 of 2 pairs lie within the band of the fit, 0.08 mm to 0.28 mm; 1 of"),
        ((0.09, 0.27), "0.28 mm; none with the uncertainty."),
        ((0.18, 0.31), "1 of 2 pairs lies within the band of the fit, 0.08 mm to 0.28 mm; it even"),
        ((0.3, 0.31), "0 of 2 pairs lie within the band of the fit, 0.08 mm to 0.28 mm. B02"),
        ((0.18,), "The pair lies within the band of the fit, 0.08 mm to 0.28 mm; it even with"),
        ((0.4,), "No pair lies within the band of the fit, 0.08 mm to 0.28 mm. B02 in B01: 0.12"),
    ],
)
def test_the_result_is_said_in_a_sentence(means: tuple[float, ...], words: str) -> None:
    drawing = drawn(found(*means))
    assert words in drawing.description
    assert words[:30] in said(drawing)


def test_pairs_outside_are_named_with_how_far() -> None:
    told = said(drawn(found(0.18, 0.05, 0.31, 0.31)))
    assert "B03 in B02: 0.03 mm below the band." in told
    assert "B04 in B03, B05 in B04: 0.03 mm above the band." in told


def test_what_is_outside_by_nothing_that_can_be_written_is_within() -> None:
    drawing = drawn(found(0.284, 0.2))
    assert "2 of 2 pairs lie within" in drawing.description
    assert "above" not in said(drawing)


def test_of_very_many_outside_only_the_worst_are_named() -> None:
    told = drawn(found(*(0.3 + 0.01 * k for k in range(30)))).description
    assert "B31 in B30: 0.31 mm above the band." in told
    assert "B02 in B01: 0.02 mm above the band." not in told
    assert "22 more outside by no more than these." in told


def test_more_pairs_than_have_a_row_are_counted() -> None:
    means = [0.1, *[0.1825] * 9, *[0.2225] * (ALL_NAMED - 9)]
    drawing = drawn(found(*means))
    columns = sorted(hatched(drawing), key=lambda column: column.bounds[0])
    tall = [column.bounds[3] - column.bounds[1] for column in columns]
    assert [t / TALL for t in tall] == pytest.approx([1 / 15, 9 / 15, 1])
    for column, mean in zip(columns, (0.1, 0.1825, 0.2225), strict=True):
        left, _, right, _ = column.bounds
        assert read(drawing, left) - 1e-9 <= mean <= read(drawing, right)


@STEADY
@given(st.lists(lengths(-0.1, 0.5), min_size=1, max_size=200))
def test_no_pair_is_lost_in_counting(means: list[float]) -> None:
    axis = Axis(-0.11, 0.51, 20.0, 140.0, MM)
    counts = Counts(np.array(means), 0.02, axis)
    assert sum(counts.counted) == len(means)
    assert counts.steps[-1] <= max(counts.counted)


def test_fractions_give_way_to_thousandths() -> None:
    drawing = drawn(found(0.1, 0.2), LengthStyle("fraction inch"))
    assert "clearance per side, in" in written(drawing)
    assert "0.003 in to 0.011 in" in drawing.description


def test_a_joint_of_the_demo_shows_each_of_its_pairs() -> None:
    documents = open_documents(DEMO)
    made = plan(documents.piece, documents.shop)
    back = made.joints[0]
    drawing = clearances(back, style=MM)
    work = back.task.grooved.marks
    for one, other in zip(back.solution.first, back.solution.second, strict=True):
        assert f"{work[other]} in {work[one]}" in written(drawing)
    wanted = sorted(back.budget.mean - back.budget.expanded)
    low, high = back.solution.band
    (bar,) = [m.bounds for m in drawing.marks if isinstance(m, Outline) and m.weight == "frame"]
    per_mm = (bar[2] - bar[0]) / (high - low)
    lows = sorted(low + (left - bar[0]) / per_mm for left, _ in bars(drawing))
    assert lows == pytest.approx(wanted)


@STEADY
@given(many(), st.sampled_from(["mm", "decimal inch", "fraction inch"]))
def test_up_to_two_hundred_pairs_are_legible_and_fit_a_sheet(of: Clearances, style: str) -> None:
    drawing = drawn(of, LengthStyle(style))  # type: ignore[arg-type]  # drawn from its own values
    assert legible(drawing)
    assert drawing.size[0] - 12.0 <= 165.0
    assert drawing.size[1] < 250.0


@pytest.mark.parametrize(
    ("means", "band"), [((), BAND), ((0.1, 0.2), (0.28, 0.08)), ((0.1,), BAND)]
)
def test_clearances_without_pairs_or_a_band_are_refused(
    means: tuple[float, ...], band: tuple[float, float]
) -> None:
    names = ("B02 in B01", "B03 in B02")[: len(means) if len(means) != 1 else 2]
    with pytest.raises(InputError, match=r"names, \d clearances and \d uncertainties"):
        Clearances(names, np.array(means), np.array(means), band, AIM)
