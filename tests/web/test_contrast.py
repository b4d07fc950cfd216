"""Contrast of everything the style sheet draws, in every scheme.

Relative luminance and contrast ratio: W3C, Web Content Accessibility Guidelines (WCAG) 2.2,
Recommendation of 12 December 2024, section 6 (definitions), "relative luminance" and "contrast
ratio"; the least ratios of level AA from success criteria 1.4.3 (4.5 for text) and 1.4.11 (3 for
what shows a control or its state). Large text may have 3; here it has 4.5 as well.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from faywright.drawing.svg import DARK, LIGHT, PRINT
from faywright.web import settings

CSS = (Path(settings.__file__).parent / "static/faywright/faywright.css").read_text(
    encoding="utf-8"
)
COLOUR = re.compile(r"#[0-9a-f]{3}(?:[0-9a-f]{3})?\b")
TEXT, CONTROL = 4.5, 3.0

PAIRS = [
    # what, drawn in, on, least ratio
    ("text", "ink", "paper", TEXT),
    ("text in a field", "ink", "field", TEXT),
    ("secondary text", "quiet", "paper", TEXT),
    ("placeholder", "quiet", "field", TEXT),
    ("what cannot be worked now", "quiet", "paper", TEXT),
    ("the number to set now", "accent", "paper", TEXT),
    ("lettering of a main button", "paper", "ink", TEXT),
    ("focus around a field", "ink", "field", CONTROL),
    ("focus on the page", "ink", "paper", CONTROL),
    ("edge of a field", "fine", "paper", CONTROL),
    ("edge of a field, from inside", "fine", "field", CONTROL),
]


def properties(block: str) -> dict[str, str]:
    return dict(re.findall(r"--(\w+):\s*(#[0-9a-f]+)", block))


def schemes() -> dict[str, dict[str, str]]:
    """Colours by name in each scheme, as the style sheet has them."""
    roots = [properties(block) for block in re.findall(r":root\s*{([^}]*)}", CSS)]
    assert len(roots) == 3
    light, dark, paper = roots
    return {"light": light, "dark": {**light, **dark}, "print": {**light, **paper}}


SCHEMES = schemes()


def luminance(colour: str) -> float:
    digits = colour.lstrip("#")
    if len(digits) == 3:
        digits = "".join(2 * digit for digit in digits)
    parts = [int(digits[k : k + 2], 16) / 255 for k in (0, 2, 4)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def ratio(one: str, other: str) -> float:
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def test_black_on_white_has_the_highest_ratio_there_is() -> None:
    assert ratio("#fff", "#000") == pytest.approx(21)
    assert ratio("#a8321a", "#a8321a") == 1


def test_mid_grey_on_white_is_just_enough() -> None:
    """Widely quoted as the lightest grey that passes; from memory."""
    assert ratio("#767676", "#ffffff") >= TEXT > ratio("#777777", "#ffffff")


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize(("what", "drawn", "on", "least"), PAIRS)
def test_it_can_be_read(scheme: str, what: str, drawn: str, on: str, least: float) -> None:
    colours = SCHEMES[scheme]
    found = ratio(colours[drawn], colours[on])
    assert found >= least, f"{what}, {scheme}: {found:.2f}"


def test_all_three_schemes_name_every_colour_of_theirs() -> None:
    assert {name: set(colours) for name, colours in SCHEMES.items()} == {
        name: {"paper", "field", "ink", "quiet", "fine", "accent"} for name in SCHEMES
    }


@pytest.mark.parametrize(("scheme", "of"), [("light", LIGHT), ("dark", DARK)])
def test_pages_and_drawings_are_one_sheet(scheme: str, of: dict[str, str]) -> None:
    assert of.items() <= SCHEMES[scheme].items()


def test_paper_prints_black_on_white() -> None:
    assert (luminance(SCHEMES["print"]["ink"]), luminance(SCHEMES["print"]["paper"])) == (0, 1)
    assert luminance(PRINT["ink"]) == 0


def test_no_colour_stands_outside_the_schemes() -> None:
    outside = re.sub(r":root\s*{[^}]*}", "", CSS)
    assert COLOUR.findall(outside) == []
    assert not re.search(r"rgba?\(|hsla?\(|gradient|opacity: 0?\.", outside)


def test_the_accent_is_kept_for_the_number_to_set_now() -> None:
    users = re.findall(r"([^{}]+){[^}]*color: var\(--accent\)", CSS)
    assert [user.split("*/")[-1].strip() for user in users] == [".setting"]
