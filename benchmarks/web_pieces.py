"""Invented pieces for pages: piece files with as many joints and boards as are asked for."""

from __future__ import annotations

import re

import numpy as np

from benchmarks.web_client import Browser

JOINTS, BOARDS = 40, 5
"""Of the large piece: 200 boards in all."""


def lining_text(title: str, joints: int = JOINTS, boards: int = BOARDS, seed: int = 1) -> str:
    """A lining of as many walls as joints, each of so many boards, measured at three places."""
    generator = np.random.default_rng(seed)
    lines = [
        'faywright = "piece 1"',
        f'title = "{title}"',
        'units = "mm"',
        'shop = "shop.toml"',
        "",
        "[climate]",
        "cutting = { temperature = 18, humidity = 45 }",
        'room = "unheated room"',
    ]
    for number in range(1, joints + 1):
        lines += ["", "[[part]]", f'name = "wall {number}"', 'timber = "softwood"']
        lines += ['species = "Scots pine"']
        for board in range(1, boards + 1):
            thickness = 19 + 0.12 * generator.standard_normal()
            places = thickness + 0.02 * generator.standard_normal(3)
            written = ", ".join(f"{place:.2f}" for place in places)
            lines += ["", "[[board]]", f'mark = "{number}-{board}"', f'part = "wall {number}"']
            lines += ["width = 120", "length = 900", f"thickness = [{written}]"]
    for number in range(1, joints + 1):
        lines += ["", "[[joint]]", f'name = "{joint_name(number)}"']
        lines += ['family = "tongue and groove"']
        lines += [f'tongue = {{ part = "wall {number}", edge = "opposite edge" }}']
        lines += [f'groove = {{ part = "wall {number}", edge = "reference edge" }}']
        lines += ['fit = "snug"', 'order = "free"']
    return "\n".join([*lines, ""])


def joint_name(place: int) -> str:
    """What the joint at a place is called, counted from 1."""
    return f"joint {place}"


def put(browser: Browser, text: str) -> int:
    """Take a piece in on the page for it, into the only shop there is; its number."""
    answer = browser.post("/take-in", {"text": text}, part=False).told(303)
    return int(re.findall(r"\d+", answer.headers["Location"])[-1])
