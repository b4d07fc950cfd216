"""Contributions of error as bars, and what they come to beside the band of the fit."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from faywright.drawing.error_bars import MOST_BARS, error_bars, parted
from faywright.drawing.model import Drawing, Outline, Polyline
from faywright.errors import RangeError
from faywright.fit.chance import Budget
from faywright.lengths import LengthStyle
from tests.drawing.paper import hatched, legible
from tests.strategies import STEADY, lengths

BAND = (0.08, 0.28)
MM = LengthStyle("mm")
SHARES = (
    ("tongue height as set", 0.6),
    ("thickness between readings", 0.3),
    ("cut width of C1", 0.094),
    ("work riding off table or fence", 0.004),
    ("groove fence as set", 0.002),
)


def budget(
    mean: tuple[float, ...] = (0.18,),
    expanded: float = 0.05,
    worst: float = 0.09,
    shares: tuple[tuple[str, float], ...] = SHARES,
) -> Budget:
    size = len(mean)
    return Budget(np.array(mean), np.full(size, expanded), np.full(size, worst), shares)


def drawn(of: Budget, style: LengthStyle = MM) -> Drawing:
    return error_bars(of, BAND, title="Errors", style=style)


def written(drawing: Drawing) -> list[str]:
    return [text.text for text in drawing.texts]


def band_of(drawing: Drawing) -> tuple[float, float]:
    (bar,) = [
        mark.bounds
        for mark in drawing.marks
        if isinstance(mark, Outline) and mark.weight == "frame" and mark.hatch is None
    ]
    return bar[0], bar[2]


def lines_of(drawing: Drawing) -> list[tuple[float, float]]:
    """Ends of the level lines, from the top down."""
    runs = [m.bounds for m in drawing.marks if isinstance(m, Polyline) and m.weight == "outline"]
    level = [bounds for bounds in runs if bounds[1] == bounds[3]]
    return [(bounds[0], bounds[2]) for bounds in sorted(level, key=lambda bounds: bounds[1])]


@st.composite
def budgets(draw: st.DrawFn) -> Budget:
    parts = draw(st.lists(st.integers(0, 1000), max_size=12))
    whole = sum(parts) or 1
    words = st.text("abcdef WW", min_size=1, max_size=70).filter(lambda text: bool(text.strip()))
    shares = [(draw(words), part / whole) for part in sorted(parts, reverse=True)]
    mean = draw(st.lists(lengths(-0.4, 0.9), min_size=1, max_size=5))
    expanded = draw(lengths(0, 0.3))
    return budget(tuple(mean), expanded, expanded + draw(lengths(0, 0.4)), tuple(shares))


def test_sources_stand_in_their_own_words_largest_first() -> None:
    drawing = drawn(budget())
    shown = [text for text in drawing.texts if text.text in [source for source, _ in SHARES]]
    assert [text.text for text in shown] == [source for source, _ in SHARES[:3]]
    assert [text.at[1] for text in shown] == sorted(text.at[1] for text in shown)


def test_bars_are_as_long_as_their_shares() -> None:
    wide = [bar.bounds[2] - bar.bounds[0] for bar in hatched(drawn(budget()))]
    assert [each / wide[0] for each in wide] == pytest.approx([1, 0.5, 0.094 / 0.6, 0.01])


def test_small_sources_are_summed_as_the_rest() -> None:
    told = written(drawn(budget()))
    assert {"60 %", "30 %", "9 %", "the rest", "1 %"} <= set(told)
    assert "groove fence as set" not in told


def test_a_single_small_source_keeps_its_name() -> None:
    shares = (("height", 0.995), ("lift", 0.005))
    assert parted(shares) == shares


def test_many_sources_are_cut_off_after_the_largest() -> None:
    shares = tuple((f"source {k}", 0.1) for k in range(10))
    shown = parted(shares)
    assert len(shown) == MOST_BARS + 1
    name, share = shown[-1]
    assert name == "the rest"
    assert share == pytest.approx(0.4)


@STEADY
@given(budgets())
def test_no_share_is_lost(of: Budget) -> None:
    assert sum(v for _, v in parted(of.shares)) == pytest.approx(sum(v for _, v in of.shares))


def test_the_lines_run_from_the_least_joint_to_the_most() -> None:
    drawing = drawn(budget((0.16, 0.20), 0.04, 0.12))
    left, right = band_of(drawing)

    def read(x: float) -> float:
        return 0.08 + (x - left) * 0.20 / (right - left)

    ends = [(read(low), read(high)) for low, high in lines_of(drawing)]
    wanted = [(0.16, 0.20), (0.12, 0.24), (0.04, 0.32)]
    assert ends == [pytest.approx(each) for each in wanted]


@pytest.mark.parametrize(
    ("expanded", "words"),
    [
        (0.05, "within the band"),
        (0.15, "0.05 mm below and 0.05 mm above the band"),
        (0.102, "just beyond the band"),
    ],
)
def test_how_the_expanded_uncertainty_lies_is_told_in_words(expanded: float, words: str) -> None:
    drawing = drawn(budget(expanded=expanded, worst=0.5))
    assert words in written(drawing)
    assert f"expanded, k = 2: {0.18 - expanded:.2f} mm to {0.18 + expanded:.2f} mm, {words}" in (
        drawing.description
    )


def test_the_band_is_told_in_the_makers_units() -> None:
    told = written(drawn(budget(), LengthStyle("decimal inch")))
    assert "0.003 in to 0.011 in" in told
    assert "clearance per side, in" in told


def test_a_fit_without_error_has_no_bars_and_says_so() -> None:
    drawing = drawn(budget(expanded=0.0, worst=0.0, shares=()))
    assert "no source of error reaches this fit" in written(drawing)
    assert hatched(drawing) == []


@STEADY
@given(budgets(), st.sampled_from(["mm", "decimal inch", "fraction inch"]))
def test_any_budget_is_legible_and_fits_a_sheet(of: Budget, style: str) -> None:
    drawing = drawn(of, LengthStyle(style))  # type: ignore[arg-type]  # drawn from its own values
    assert legible(drawing)
    assert drawing.size[0] - 12.0 <= 190.0 + 1e-6


def test_a_band_the_wrong_way_about_is_refused() -> None:
    with pytest.raises(RangeError, match=r"a band from 0\.28 to 0\.08 mm"):
        error_bars(budget(), (0.28, 0.08), title="t", style=MM)
