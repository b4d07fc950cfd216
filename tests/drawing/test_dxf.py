"""DXF read back: units, layers, true sizes, lettering, and the area of bare sections."""

from __future__ import annotations

import re
import time
from io import StringIO
from itertools import pairwise

import numpy as np
import pytest
import shapely
from ezdxf.document import Drawing as Document
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.entities.text import Text as Lettering
from ezdxf.enums import TextEntityAlignment
from ezdxf.filemanagement import read
from hypothesis import given

from faywright.drawing.dxf import dxf, outlines_dxf, section_dxf
from faywright.drawing.hatching import Hatch
from faywright.drawing.mated import mated_drawing
from faywright.drawing.model import (
    LINE_WIDTHS,
    Drawing,
    Mark,
    Outline,
    Polyline,
    Text,
    Weight,
    drawing_around,
    line,
)
from faywright.drawing.naming import Naming
from faywright.drawing.pairing import mated_pair
from faywright.drawing.part_section import part_section
from faywright.errors import InputError
from faywright.section import Pass, Sections, cut_boards
from tests.drawing.joints_to_draw import SNUG_19, in_mm
from tests.strategies import STEADY, passes

SQUARE = ((0.0, 0.0), (8.0, 0.0), (8.0, 4.0), (0.0, 4.0))


def drawing_of(*marks: Mark, scale: float = 1.0) -> Drawing:
    return drawing_around(marks, title="t", description="d", scale=scale)


def read_back(text: str) -> Document:
    document = read(StringIO(text))
    assert document.audit().errors == []
    return document


def kinds(document: Document) -> list[tuple[str, str]]:
    return [(entity.dxftype(), entity.dxf.layer) for entity in document.modelspace()]


def outlines(document: Document) -> list[LWPolyline]:
    return [entity for entity in document.modelspace() if isinstance(entity, LWPolyline)]


def surfaces(drawing: Drawing) -> set[tuple[float, float]]:
    """Corners of all surfaces of the work, to a nanometre."""
    return {
        (round(x, 6), round(y, 6))
        for run in outlines(read_back(dxf(drawing)))
        if run.dxf.layer == "OUTLINE"
        for x, y, *_ in run.get_points()
    }


def closed_areas(text: str) -> dict[str, float]:
    """Area of each closed LWPOLYLINE by layer, from the bare group codes of the text. [mm2]"""
    lines = text.splitlines()
    pairs = list(zip((int(code) for code in lines[::2]), lines[1::2], strict=True))
    starts = [k for k, (code, _) in enumerate(pairs) if code == 0]
    found = {}
    for start, end in pairwise(starts):
        if pairs[start][1] != "LWPOLYLINE":
            continue
        groups = pairs[start:end]
        layer = next(value for code, value in groups if code == 8)
        assert int(next(value for code, value in groups if code == 70)) & 1
        xs, ys = ([float(v) for code, v in groups if code == axis] for axis in (10, 20))
        found[layer] = shapely.Polygon(zip(xs, ys, strict=True)).area
    return found


def test_units_are_millimetres() -> None:
    header = read_back(dxf(SNUG_19.drawing())).header
    assert (header["$INSUNITS"], header["$MEASUREMENT"]) == (4, 1)


def test_every_weight_has_a_layer_and_lettering_one_more() -> None:
    layers = read_back(dxf(SNUG_19.drawing())).layers
    for weight, width in LINE_WIDTHS.items():
        assert layers.get(weight.upper()).dxf.lineweight == pytest.approx(100 * width, abs=3)
    assert "TEXT" in layers
    assert layers.get("HIDDEN").dxf.linetype == "HIDDEN"


@pytest.mark.parametrize("weight", LINE_WIDTHS)
def test_a_stroke_is_on_the_layer_of_its_weight(weight: Weight) -> None:
    run = Polyline(((0, 0), (5, 0), (5, 5)), weight)
    document = read_back(dxf(drawing_of(line((0, 0), (5, 0), weight), run)))
    assert kinds(document) == [("LINE", weight.upper()), ("LWPOLYLINE", weight.upper())]


def test_hatching_is_single_strokes_on_its_layer() -> None:
    wood = Outline(SQUARE, "outline", Hatch(45.0, 1.0))
    found = kinds(read_back(dxf(drawing_of(wood))))
    assert found.count(("LINE", "HATCH")) == len(wood.strokes) > 5
    assert found.count(("LWPOLYLINE", "OUTLINE")) == 1


def test_a_solid_head_is_filled_on_the_layer_of_dimensions() -> None:
    head = Outline(((0, 0), (3, 1), (3, -1)), None, solid=True)
    assert kinds(read_back(dxf(drawing_of(head)))) == [("SOLID", "DIMENSION")]
    bar = Outline(SQUARE, None, solid=True)
    (filled,) = read_back(dxf(drawing_of(bar))).modelspace()
    assert (filled.dxftype(), filled.dxf.solid_fill) == ("HATCH", 1)


def test_what_is_lower_on_paper_is_lower_in_the_file() -> None:
    (stroke,) = read_back(dxf(drawing_of(line((1, 2), (3, 7), "outline")))).modelspace()
    assert tuple(stroke.dxf.start) == (1, -2, 0)
    assert tuple(stroke.dxf.end) == (3, -7, 0)


@pytest.mark.parametrize("scale", [0.5, 1.0, 2.0])
def test_a_scale_is_undone(scale: float) -> None:
    marks = (line((0, 0), (50, 0), "outline"), Text("50", (0, 8), 4.0))
    stroke, text = read_back(dxf(drawing_of(*marks, scale=scale))).modelspace()
    assert stroke.dxf.end.x == pytest.approx(50 / scale)
    assert text.dxf.height == pytest.approx(0.73 * 4.0 / scale)


@pytest.mark.parametrize(
    ("anchor", "align"),
    [
        ("start", TextEntityAlignment.LEFT),
        ("middle", TextEntityAlignment.CENTER),
        ("end", TextEntityAlignment.RIGHT),
    ],
)
def test_lettering_stands_on_its_anchor(anchor: str, align: TextEntityAlignment) -> None:
    text = Text("B01", (4, 6), 3.0, anchor=anchor, rotation=-90.0)  # type: ignore[arg-type]  # one of three
    (found,) = read_back(dxf(drawing_of(text))).modelspace()
    assert isinstance(found, Lettering)
    kind, at, _ = found.get_placement()
    assert (kind, tuple(at)) == (align, (4, -6, 0))
    assert found.dxf.rotation == pytest.approx(90.0)
    assert (found.dxf.layer, found.dxf.text) == ("TEXT", "B01")


def test_bold_lettering_has_a_style_of_its_own() -> None:
    texts = [Text("a", (0, 0), 3.0, emphasis=e) for e in ("plain", "strong", "accent")]
    document = read_back(dxf(drawing_of(*texts)))
    assert [e.dxf.style for e in document.modelspace()] == ["PLAIN", "STRONG", "STRONG"]


def test_all_the_lettering_of_a_joint_is_there() -> None:
    drawing = SNUG_19.drawing()
    found = [e.dxf.text for e in read_back(dxf(drawing)).modelspace().query("TEXT")]
    assert found == [text.text for text in drawing.texts]


def test_letters_beyond_ascii_are_escaped_and_carets_are_no_codes() -> None:
    text = dxf(drawing_of(Text("Br\u00e4da \u2264 4^a", (0, 0), 3.0)))
    assert text.isascii()
    assert r"Br\U+00E4da \U+2264 4^ a" in text.splitlines()


def test_the_groove_of_a_drawing_is_found_at_its_true_size() -> None:
    drawing = part_section(SNUG_19.grooved, 0, naming=Naming("B01"), write=in_mm)
    assert drawing.scale == 2
    groove = {(-7.0, -6.35), (-7.0, -12.65), (0.0, -6.35), (0.0, -12.65)}
    assert groove <= surfaces(drawing)


def test_the_same_drawing_is_always_the_same_text() -> None:
    first, bare = dxf(SNUG_19.drawing()), section_dxf(SNUG_19.grooved)
    time.sleep(1.1)  # dates in the format count seconds
    assert dxf(SNUG_19.drawing()) == first
    assert section_dxf(SNUG_19.grooved) == bare


def test_no_date_or_fingerprint_is_left() -> None:
    text = dxf(drawing_of(line((0, 0), (1, 0), "outline")))
    guids = set(re.findall(r"\{[0-9A-F-]{36}\}", text))
    assert guids <= {"{00000000-0000-0000-0000-000000000000}"}
    assert not re.search(r"\d{4}-\d\d-\d\dT", text)
    dates = re.findall(r"\$TD\w+\n *40\n(.*)", text)
    assert len(dates) >= 4
    assert set(dates) == {"2451545.0"}


@pytest.mark.parametrize("sections", [SNUG_19.grooved, SNUG_19.tongued])
def test_the_area_of_a_bare_section_is_the_kernels(sections: Sections) -> None:
    areas = closed_areas(section_dxf(sections, name="B01"))
    assert areas == {"B01": pytest.approx(float(sections.area[0]), abs=1e-6)}


@STEADY
@given(passes(), passes())
def test_the_area_of_any_section_is_the_kernels(one: Pass, two: Pass) -> None:
    sections = cut_boards(np.array([40.0, 57.3]), np.array([120.0, 120.0]), [one, two])
    for board in range(2):
        (area,) = closed_areas(section_dxf(sections, board)).values()
        assert area == pytest.approx(float(sections.area[board]), abs=1e-6)


def test_a_bare_section_is_one_closed_outline_in_millimetres() -> None:
    document = read_back(section_dxf(SNUG_19.grooved, name="B01"))
    (outline,) = outlines(document)
    assert outline.closed
    assert document.header["$INSUNITS"] == 4
    xs = [point[0] for point in outline.get_points()]
    assert (min(xs), max(xs)) == (-200.0, 0.0)


def test_a_pair_has_a_layer_for_each_part_and_they_do_not_overlap() -> None:
    pair = mated_pair(SNUG_19.grooved, SNUG_19.tongued, SNUG_19.placing, 0, {}, ())
    text = outlines_dxf(list(zip(("B01", "B02"), pair.parts, strict=True)))
    areas = closed_areas(text)
    assert areas["B01"] == pytest.approx(float(SNUG_19.grooved.area[0]), abs=1e-6)
    assert areas["B02"] == pytest.approx(float(SNUG_19.tongued.area[0]), abs=1e-6)
    one, two = (
        shapely.Polygon([point[:2] for point in outline.get_points()])
        for outline in outlines(read_back(text))
    )
    assert one.intersection(two).area == pytest.approx(0.0, abs=1e-6)


def test_a_pair_lies_as_in_its_drawing() -> None:
    pair = mated_pair(SNUG_19.grooved, SNUG_19.tongued, SNUG_19.placing, 0, {}, ())
    (bare,) = outlines(read_back(outlines_dxf([("P", pair.grooved)])))
    drawn = mated_drawing(
        SNUG_19.grooved, SNUG_19.tongued, SNUG_19.placing, 0, {}, title="t", write=in_mm
    )
    groove = [p for p in bare.get_points() if p[0] > -150 and 0 > p[1] > -19]
    assert len(groove) == 4
    assert {(round(p[0], 6), round(p[1], 6)) for p in groove} <= surfaces(drawn)


def test_a_name_that_no_layer_can_have_is_made_to_fit() -> None:
    assert list(closed_areas(section_dxf(SNUG_19.grooved, name='B1/2 "long"'))) == ["B1-2 -long-"]


def test_a_blank_name_is_refused() -> None:
    with pytest.raises(InputError, match="is no name for a layer"):
        section_dxf(SNUG_19.grooved, name=" ")


def test_a_board_that_is_not_there_is_refused() -> None:
    with pytest.raises(InputError, match="there is no board 3"):
        section_dxf(SNUG_19.grooved, 3)
