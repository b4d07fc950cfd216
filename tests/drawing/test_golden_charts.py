"""Charts, a part and a bare section, kept as files so that no change of looks goes unseen."""

from __future__ import annotations

import difflib
import os
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from faywright.drawing.clearances import Clearances, clearance_chart
from faywright.drawing.dxf import section_dxf
from faywright.drawing.error_bars import error_bars
from faywright.drawing.naming import Naming
from faywright.drawing.part_section import part_section
from faywright.drawing.svg import svg
from faywright.drawing.thickness_strip import thickness_strip
from faywright.fit.chance import Budget
from faywright.lengths import LengthStyle
from tests.drawing.joints_to_draw import SNUG_19, in_mm
from tests.drawing.paper import normalised
from tests.drawing.piles_to_draw import board, in_groups
from tests.drawing.test_golden import ACCEPT, KEPT

MM = LengthStyle("mm")


def strip() -> str:
    sizes = (18.83, 18.84, 18.99, 19.17, 18.75, 19.01)
    boards = [board(f"B{k + 1:02}", size) for k, size in enumerate(sizes)]
    groups = in_groups(boards, 3, first=5, room=0.25)
    return svg(thickness_strip(boards, groups, title="Six boards by thickness", style=MM))


def errors() -> str:
    shares = (("tongue height as set", 0.8), ("cut width of C1", 0.18), ("work riding off", 0.02))
    means = np.array([0.17, 0.19])
    budget = Budget(means, np.full(2, 0.05), np.full(2, 0.12), shares)
    return svg(error_bars(budget, (0.08, 0.28), title="Where the error comes from", style=MM))


def pairs() -> str:
    names = ("B02 in B01", "B03 in B02", "B04 in B03", "B05 in B04")
    means, out = np.array([0.19, 0.155, 0.17, 0.3]), np.full(4, 0.045)
    found = Clearances(names, means, out, (0.08, 0.28), 0.18)
    return svg(clearance_chart(found, title="back: clearances", style=MM))


def part() -> str:
    return svg(part_section(SNUG_19.tongued, 0, naming=Naming("B02"), write=in_mm))


def bare_section() -> str:
    """The outline alone: handles and the rest of the file are the library's."""
    text = section_dxf(SNUG_19.grooved, name="B01")
    return text.split("LWPOLYLINE")[-1].partition("AcDbEntity\n")[2].partition("  0\nENDSEC")[0]


@pytest.mark.parametrize(
    ("name", "made"),
    [
        ("thickness-strip.svg", strip),
        ("error-bars.svg", errors),
        ("clearances.svg", pairs),
        ("part-tongue.svg", part),
        ("section-groove.dxf", bare_section),
    ],
)
def test_it_is_as_it_was_accepted(name: str, made: Callable[[], str]) -> None:
    file: Path = KEPT.with_name(name)
    now = normalised(made())
    if os.environ.get(ACCEPT):
        file.write_text(now, encoding="utf-8")
        pytest.skip(f"accepted {name}")
    kept = file.read_text(encoding="utf-8")
    changes = difflib.unified_diff(kept.splitlines(), now.splitlines(), "kept", "now", n=0)
    assert now == kept, (
        f"{name} has changed. Look at it; if it is meant to, accept it with\n"
        f"  {ACCEPT}=1 pytest {Path(__file__).name}\n" + "\n".join(changes)
    )
