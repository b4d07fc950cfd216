"""Reading a drawing back: from its marks, or from the SVG as a reader would find it."""

from __future__ import annotations

import re
from itertools import combinations
from xml.etree import ElementTree as ET

import shapely

from faywright.drawing.model import Drawing, Outline, Polyline, Text

NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
WAVE_POINTS = 33
SVG = "{http://www.w3.org/2000/svg}"


def element_tree(text: str) -> ET.Element:
    return ET.fromstring(text)  # noqa: S314 - what the package itself has written


def outline_runs(text: str) -> list[list[tuple[float, float]]]:
    """The points of every surface of the work, from the SVG."""
    runs = []
    for path in element_tree(text).iter(f"{SVG}path"):
        if path.get("class") == "line outline":
            numbers = [float(number) for number in NUMBER.findall(path.get("d", ""))]
            runs.append(list(zip(numbers[::2], numbers[1::2], strict=True)))
    return runs


def box(text: Text) -> shapely.Polygon:
    return shapely.Polygon(text.corners)


def hatched(drawing: Drawing) -> list[shapely.Polygon]:
    """Where wood is shown."""
    return [
        shapely.Polygon(mark.points)
        for mark in drawing.marks
        if isinstance(mark, Outline) and mark.hatch is not None
    ]


def strokes(drawing: Drawing) -> list[shapely.LineString]:
    """Every line of the drawing but the hatching, frames included."""
    found = []
    for mark in drawing.marks:
        if isinstance(mark, Polyline):
            found.append(shapely.LineString(mark.points))
        elif isinstance(mark, Outline) and mark.hatch is None:
            found.append(shapely.LineString([*mark.points, mark.points[0]]))
    return found


def normalised(text: str) -> str:
    """Numbers to a hundredth of a millimetre, so that a last digit does not count."""

    def short(found: re.Match[str]) -> str:
        return f"{float(found[0]):.2f}".rstrip("0").rstrip(".").replace("-0", "0", 1)

    return re.sub(r"-?\d+\.\d+", short, text)


def legible(drawing: Drawing) -> bool:
    """Whether lettering keeps clear of other lettering, of the work and of every line."""
    boxes = [box(text) for text in drawing.texts]
    for one, two in combinations(boxes, 2):
        assert not one.intersects(two), f"lettering at {one.bounds} and {two.bounds}"
    everything = shapely.union_all([*hatched(drawing), *strokes(drawing)])
    for text, room in zip(drawing.texts, boxes, strict=True):
        assert not room.intersects(everything), text.text
    return True


def surfaces(drawing: Drawing, *, right: float = 1e9) -> list[shapely.LineString]:
    """Surfaces of the work left of ``right``, where the lens is not."""
    runs = [
        shapely.LineString(mark.points)
        for mark in drawing.marks
        if isinstance(mark, Polyline) and mark.weight == "outline"
    ]
    return [run for run in runs if run.bounds[2] < right]


def break_lines(drawing: Drawing, *, right: float = 1e9) -> list[shapely.LineString]:
    """Break lines left of ``right``: of all lines, those with the most points."""
    runs = [shapely.LineString(m.points) for m in drawing.marks if isinstance(m, Polyline)]
    waves = [run for run in runs if len(run.coords) == WAVE_POINTS]
    return [run for run in waves if run.bounds[2] < right]
