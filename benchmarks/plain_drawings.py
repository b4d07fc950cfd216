"""The peers of drawings: the same marks, ready made, written by general libraries."""

from __future__ import annotations

from dataclasses import dataclass
from io import StringIO
from xml.etree import ElementTree

from ezdxf.filemanagement import new

from faywright.drawing.hatching import Point
from faywright.drawing.model import Drawing, Outline, Polyline, Text


@dataclass(frozen=True, slots=True)
class PlainDrawing:
    """Runs of points and lines of lettering, with nothing left to decide."""

    runs: tuple[tuple[Point, ...], ...]
    texts: tuple[Text, ...]


def plain(drawing: Drawing) -> PlainDrawing:
    """The marks of a drawing, hatching and all."""
    runs: list[tuple[Point, ...]] = []
    for mark in drawing.marks:
        if isinstance(mark, Outline):
            runs += [*mark.strokes, mark.points]
        elif isinstance(mark, Polyline):
            runs.append(mark.points)
    return PlainDrawing(tuple(runs), drawing.texts)


def xml(drawing: PlainDrawing) -> str:
    """As SVG, by the standard library's ElementTree."""
    root = ElementTree.Element("svg", xmlns="http://www.w3.org/2000/svg")
    for run in drawing.runs:
        d = "M" + "L".join(f"{x:.4f} {y:.4f}" for x, y in run)
        ElementTree.SubElement(root, "path", {"class": "line", "d": d})
    for text in drawing.texts:
        x, y = text.at
        at = {"x": f"{x:.4f}", "y": f"{y:.4f}", "font-size": f"{text.size:g}"}
        ElementTree.SubElement(root, "text", at).text = text.text
    return ElementTree.tostring(root, encoding="unicode")


def plain_dxf(drawing: PlainDrawing) -> str:
    """As DXF, by ezdxf, all on one layer."""
    document = new("R2000")
    space = document.modelspace()
    for run in drawing.runs:
        space.add_lwpolyline(run)
    for text in drawing.texts:
        space.add_text(text.text, height=text.size).set_placement(text.at)
    out = StringIO()
    document.write(out)
    return out.getvalue()
