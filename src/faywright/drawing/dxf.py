"""Drawings and bare sections as DXF in true millimetres; this backend decides nothing.

The same text for the same drawing, always: dates, fingerprints and the writing program's own mark
are fixed. Characters beyond ASCII are escaped as the format provides, so that the text may be
saved in any encoding. DXF has y up, the model has it down.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from io import StringIO

import shapely
from ezdxf.document import Drawing as Document
from ezdxf.enums import TextEntityAlignment
from ezdxf.filemanagement import new
from ezdxf.layouts.layout import Modelspace

from faywright.drawing.hatching import Point
from faywright.drawing.lettering import CAPITAL
from faywright.drawing.model import (
    HIDDEN_DASHES,
    LINE_WIDTHS,
    Drawing,
    Outline,
    Polyline,
    Text,
    Weight,
)
from faywright.errors import InputError
from faywright.section.cutting import Sections

VERSION = "R2000"
MILLIMETRES = 4
"""$INSUNITS of the format."""

LETTERING = "TEXT"
PLAIN, STRONG = "PLAIN", "STRONG"
FONTS = {PLAIN: "arial.ttf", STRONG: "arialbd.ttf"}

PEN_WIDTHS = (0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70)
"""Line widths the format knows. [1/100 mm]"""

DIGITS = 9
"""Decimals of coordinates: a nanometre's thousandth, so that last digits do not differ."""

ANCHORS = {
    "start": TextEntityAlignment.LEFT,
    "middle": TextEntityAlignment.CENTER,
    "end": TextEntityAlignment.RIGHT,
}

_FIXED = (
    (re.compile(r"(\$TD\w+\n *40\n)[^\n]*"), r"\g<1>2451545.0"),
    (
        re.compile(r"(\$(?:FINGERPRINT|VERSION)GUID\n *2\n)[^\n]*"),
        r"\g<1>{00000000-0000-0000-0000-000000000000}",
    ),
    (re.compile(r"(?m)^\S+ @ \d{4}-\d\d-\d\dT\S+$"), "fixed"),
)
_BEYOND_ASCII = re.compile(r"[^\x00-\x7f]")
_UNFIT_FOR_LAYERS = re.compile(r'[<>/\\":;?*|=,`\x00-\x1f]')


def dxf(drawing: Drawing) -> str:
    """``drawing`` as a DXF document, its scale undone so that the work has its true size.

    A layer for each weight of line and one for lettering; solid arrow heads stand with the
    dimensions.
    """
    document = _document()
    true = 1 / drawing.scale
    _add_layers(document, true)
    space = document.modelspace()
    for mark in drawing.marks:
        match mark:
            case Polyline():
                _stroke(space, _up(mark.points, true), mark.weight)
            case Outline():
                _outline(space, mark, true)
            case Text():
                _text(space, mark, true)
    return _written(document)


def section_dxf(sections: Sections, board: int = 0, *, name: str = "PART") -> str:
    """The bare outline of one board, closed and in true millimetres, on a layer called ``name``.

    As in the drawings, u runs down from face A and v to the left from the jointed edge.

    Raises
    ------
    InputError
        There is no such board.
    """
    if not 0 <= board < len(sections):
        raise InputError(
            f"there is no board {board}",
            where="section for a machine",
            remedy=f"Give a number from 0 to {len(sections) - 1}",
        )
    return outlines_dxf([(name, sections.polygons[board])])


def outlines_dxf(outlines: Sequence[tuple[str, shapely.Polygon]]) -> str:
    """Named outlines of the joint frame, each closed and on a layer of its own name.

    For a mated pair give the names of its parts with ``MatedPair.parts``.

    Raises
    ------
    InputError
        A name is blank.
    """
    document = _document()
    space = document.modelspace()
    for name, outline in outlines:
        layer = _layer_name(name)
        if layer not in document.layers:
            document.layers.add(layer, lineweight=_pen("outline"))
        points = shapely.get_coordinates(shapely.get_exterior_ring(outline))[:-1]
        corners = [(_n(-v), _n(-u)) for u, v in points.tolist()]
        space.add_lwpolyline(corners, close=True, dxfattribs={"layer": layer})
    return _written(document)


def _document() -> Document:
    document = new(VERSION, units=MILLIMETRES)
    document.header["$MEASUREMENT"] = 1
    return document


def _add_layers(document: Document, true: float) -> None:
    stroke, space = (length * true for length in HIDDEN_DASHES)
    document.linetypes.add("HIDDEN", [stroke + space, stroke, -space], description="__ __ __")
    for weight in LINE_WIDTHS:
        layer = document.layers.add(weight.upper(), lineweight=_pen(weight))
        if weight == "hidden":
            layer.dxf.linetype = "HIDDEN"
    document.layers.add(LETTERING, lineweight=_pen("dimension"))
    for style, font in FONTS.items():
        document.styles.add(style, font=font)


def _pen(weight: Weight) -> int:
    return min(PEN_WIDTHS, key=lambda width: abs(width - 100 * LINE_WIDTHS[weight]))


def _layer_name(name: str) -> str:
    """``name`` without what a layer cannot be called."""
    fit = _UNFIT_FOR_LAYERS.sub("-", name).strip()
    if not fit or not fit.isprintable():
        raise InputError(
            f"{name!r} is no name for a layer",
            where="section for a machine",
            remedy="Give the part a name of letters or figures",
        )
    return _escaped(fit)


def _up(points: Sequence[Point], true: float) -> list[Point]:
    """Paper to true size, with y up."""
    return [(_n(x * true), _n(-y * true)) for x, y in points]


def _n(value: float) -> float:
    return round(value, DIGITS) + 0.0  # without a sign on nought


def _stroke(space: Modelspace, points: list[Point], weight: Weight) -> None:
    attributes = {"layer": weight.upper()}
    if len(points) == 2:
        start, end = points
        space.add_line(start, end, dxfattribs=attributes)
    else:
        space.add_lwpolyline(points, dxfattribs=attributes)


def _outline(space: Modelspace, mark: Outline, true: float) -> None:
    corners = _up(mark.points, true)
    for stroke in mark.strokes:
        _stroke(space, _up(stroke, true), "hatch")
    if mark.solid:
        _fill(space, corners, {"layer": (mark.weight or "dimension").upper()})
    if mark.weight is not None:
        attributes = {"layer": mark.weight.upper()}
        space.add_lwpolyline(corners, close=True, dxfattribs=attributes)


def _fill(space: Modelspace, corners: list[Point], attributes: dict[str, str]) -> None:
    """Three corners as a SOLID, more as a solid HATCH."""
    if len(corners) == 3:
        space.add_solid(corners, dxfattribs=attributes)
        return
    space.add_hatch(dxfattribs=attributes).paths.add_polyline_path(corners, is_closed=True)


def _text(space: Modelspace, mark: Text, true: float) -> None:
    (at,) = _up([mark.at], true)
    entity = space.add_text(
        _escaped(mark.text),
        height=_n(CAPITAL * mark.size * true),
        rotation=_n(-mark.rotation % 360),
        dxfattribs={"layer": LETTERING, "style": PLAIN if mark.emphasis == "plain" else STRONG},
    )
    entity.set_placement(at, align=ANCHORS[mark.anchor])


def _escaped(text: str) -> str:
    """``text`` in ASCII: a caret starts a code of the format, and other letters need one."""
    return _BEYOND_ASCII.sub(_code, text.replace("^", "^ "))


def _code(found: re.Match[str]) -> str:
    """A character as the format writes it, in one or two units of UTF-16."""
    units = found[0].encode("utf-16-be")
    return "".join(f"\\U+{units[k : k + 2].hex().upper()}" for k in range(0, len(units), 2))


def _written(document: Document) -> str:
    stream = StringIO()
    document.write(stream)
    text = stream.getvalue()
    for pattern, fixed in _FIXED:
        text = pattern.sub(fixed, text)
    return text
