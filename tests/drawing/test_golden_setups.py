"""Drawings of setups, kept as files, so that no change of looks goes unseen."""

from __future__ import annotations

import difflib
import os
from pathlib import Path

import pytest

from faywright.drawing.model import Drawing
from faywright.drawing.svg import svg
from tests.drawing.paper import normalised
from tests.drawing.setups_to_draw import boards, machine, to_draw

GOLDEN = Path(__file__).parent.parent / "golden"
ACCEPT = "ACCEPT_GOLDEN"

TONGUE = to_draw(boards())[-1]
TURNED = to_draw(boards("both faces"), machine("clockwise", "behind the cutter"))[3]
KEPT = {
    "along-feed-tongue": TONGUE.along(),
    "along-feed-groove-turned": TURNED.along("axis"),
    "from-above-tongue": TONGUE.above(),
    "from-above-groove-turned": TURNED.above(),
}


@pytest.mark.parametrize(("name", "drawing"), KEPT.items(), ids=KEPT)
def test_the_drawing_is_as_it_was_accepted(name: str, drawing: Drawing) -> None:
    kept = GOLDEN / f"{name}.svg"
    now = normalised(svg(drawing))
    if os.environ.get(ACCEPT):
        kept.write_text(now, encoding="utf-8")
        pytest.skip(f"accepted {kept.name}")
    before = kept.read_text(encoding="utf-8")
    changes = difflib.unified_diff(before.splitlines(), now.splitlines(), "kept", "now", n=0)
    assert now == before, (
        "the drawing has changed. Look at it in a browser; if it is meant to, accept it with\n"
        f"  {ACCEPT}=1 pytest {Path(__file__).name}\n" + "\n".join(changes)
    )
