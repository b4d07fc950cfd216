"""What the README shows is what the demo gives today."""

import re
from functools import cache
from pathlib import Path

import pytest

from faywright.drawing.drawings import plan_drawings
from faywright.drawing.svg import svg
from faywright.piece.opened import open_documents
from faywright.piece.plan import Plan, plan
from faywright.piece.summary import summary

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
PICTURES = {"docs/joint.svg": "joint-1-back", "docs/year.svg": "year-1-back"}
RENEWED_BY = ".venv/bin/python -m tests.test_readme"


@cache
def demo() -> Plan:
    documents = open_documents(ROOT / "examples" / "hall-bench" / "piece.toml")
    return plan(documents.piece, documents.shop)


def drawn(stem: str) -> str:
    return next(svg(each.drawing) for each in plan_drawings(demo()) if each.stem == stem)


@pytest.mark.parametrize("picture", PICTURES)
def test_a_picture_is_the_demo_s(picture: str) -> None:
    shown = (ROOT / picture).read_text(encoding="utf-8")
    assert shown == drawn(PICTURES[picture]), f"{picture} is stale: renew with {RENEWED_BY}"
    assert f"]({picture})" in README


def test_what_is_said_of_the_panel_is_what_the_demo_says() -> None:
    said = " ".join(summary(demo()).split())
    shown = re.search(r"^    PANEL: back\n((?:      .+\n)+)", README, re.MULTILINE)
    assert shown is not None
    parts = [part for line in shown[1].splitlines() for part in line.split("...")]
    assert len(parts) == 6
    for part in parts:
        assert part.strip() in said


def renew() -> None:
    for picture, stem in PICTURES.items():
        (ROOT / picture).write_text(drawn(stem), encoding="utf-8")


if __name__ == "__main__":
    renew()
