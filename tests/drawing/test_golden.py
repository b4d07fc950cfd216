"""The drawing of one joint, kept as a file, so that no change of looks goes unseen."""

from __future__ import annotations

import difflib
import os
from pathlib import Path

import pytest

from faywright.drawing.svg import svg
from tests.drawing.joints_to_draw import SNUG_19
from tests.drawing.paper import normalised

KEPT = Path(__file__).parent.parent / "golden" / "mated-19-mm.svg"
ACCEPT = "ACCEPT_GOLDEN"


def test_the_drawing_of_a_19_mm_joint_is_as_it_was_accepted() -> None:
    now = normalised(svg(SNUG_19.drawing("Tongue and groove in 19 mm boards")))
    if os.environ.get(ACCEPT):
        KEPT.write_text(now, encoding="utf-8")
        pytest.skip(f"accepted {KEPT.name}")
    kept = KEPT.read_text(encoding="utf-8")
    changes = difflib.unified_diff(kept.splitlines(), now.splitlines(), "kept", "now", n=0)
    assert now == kept, (
        "the drawing has changed. Look at it in a browser; if it is meant to, accept it with\n"
        f"  {ACCEPT}=1 pytest {Path(__file__).name}\n" + "\n".join(changes)
    )


def test_the_same_drawing_is_always_the_same_text() -> None:
    assert svg(SNUG_19.drawing()) == svg(SNUG_19.drawing())
