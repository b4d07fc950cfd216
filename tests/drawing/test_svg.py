import re

import pytest

from faywright.drawing.hatching import Hatch
from faywright.drawing.model import Drawing, Mark, Outline, Text, drawing_around, line
from faywright.drawing.svg import svg
from tests.drawing.paper import SVG, element_tree

SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))


def drawn(*marks: Mark, title: str = "A & <B>") -> Drawing:
    return drawing_around(marks, title=title, description='Says "so"', margin=5.0)


def test_a_millimetre_of_the_drawing_prints_as_a_millimetre() -> None:
    root = element_tree(svg(drawn(line((0, 0), (50, 20.5), "outline"))))
    width, height = root.get("width", ""), root.get("height", "")
    assert (width, height) == ("60mm", "30.5mm")
    assert root.get("viewBox") == "-5 -5 60 30.5"


def test_lettering_titles_and_descriptions_are_escaped() -> None:
    text = svg(drawn(Text("1/4 < 1/2 & so on", (0.0, 0.0), 3.0)))
    root = element_tree(text)
    assert "1/4 &lt; 1/2 &amp; so on" in text
    assert root.findtext(f"{SVG}title") == "A & <B>"
    assert root.findtext(f"{SVG}desc") == 'Says "so"'


def test_hatching_is_written_as_plain_strokes() -> None:
    outline = Outline(SQUARE, "outline", Hatch(45.0, 2.0))
    text = svg(drawn(outline))
    (d,) = re.findall(r'class="line hatch" d="([^"]*)"', text)
    assert d.count("M") == d.count("L") == len(outline.strokes) > 5
    assert "<pattern" not in text


def test_attributes_stand_in_one_order_and_numbers_are_short() -> None:
    text = svg(drawn(line((-1e-9, 1 / 3), (2.0, 1e-5), "hidden")))
    assert '<path class="line hidden" d="M0 0.3333L2 0"/>' in text
    for attributes in re.findall(r"<\w+((?: [\w-]+=\"[^\"]*\")+)", text):
        names = re.findall(r" ([\w-]+)=", attributes)
        assert names == sorted(names)


def test_colours_work_for_readers_without_custom_properties() -> None:
    style = svg(drawn(line((0, 0), (1, 0), "outline"))).split("<style>")[1].split("</style>")[0]
    plain, named = style.split("@media all{")
    assert "var(" not in plain
    assert ".drawing .line{stroke:#1d1b18}" in plain
    assert ".drawing .line{stroke:var(--ink)}" in named


def test_dark_mode_changes_nothing_but_three_colours() -> None:
    style = svg(drawn(line((0, 0), (1, 0), "outline")))
    (dark,) = re.findall(r"@media \(prefers-color-scheme:dark\)\{\.drawing\{(.*?)\}\}", style)
    assert [rule.split(":")[0] for rule in dark.split(";")] == ["--ink", "--paper", "--accent"]


@pytest.mark.parametrize(
    ("emphasis", "shown"), [("plain", "lettering plain"), ("accent", "lettering accent")]
)
def test_the_accent_is_bold_as_well_as_coloured(emphasis: str, shown: str) -> None:
    accented = emphasis == "accent"
    text = svg(drawn(Text("12.88", (0, 0), 6.0, emphasis="accent" if accented else "plain")))
    assert f'class="{shown}"' in text
    assert ".drawing .strong,.drawing .accent{font-weight:bold}" in text


def test_turned_lettering_turns_about_its_anchor() -> None:
    text = svg(drawn(Text("edge", (3.0, 4.0), 3.0, rotation=-90.0)))
    assert 'transform="rotate(-90 3 4)"' in text
