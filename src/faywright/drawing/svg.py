"""A drawing as SVG at its true size; this backend carries out and decides nothing.

The same text for the same drawing, always. Colours stand in plain rules first, for readers that
know no custom properties (printing programs among them); a page that shows the drawing may set
``--ink``, ``--paper`` and ``--accent`` on ``svg.drawing``.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from html import escape
from itertools import chain

from faywright.drawing.hatching import Point
from faywright.drawing.model import (
    HIDDEN_DASHES,
    LINE_WIDTHS,
    Drawing,
    Mark,
    Outline,
    Polyline,
    Text,
)

FONTS = (
    '"Segoe UI","Helvetica Neue",Helvetica,Arial,"Liberation Sans",Verdana,"DejaVu Sans",sans-serif'
)

LIGHT = {"ink": "#1d1b18", "paper": "#faf7f0", "accent": "#a8321a"}
DARK = {"ink": "#e8e6df", "paper": "#282d2f", "accent": "#f2a65e"}
PRINT = {"ink": "#000", "paper": "#fff", "accent": "#000"}

_IDLE_ZEROS = re.compile(r"\.?0+(?![\d.])")
_MINUS_NOUGHT = re.compile(r"-0(?![\d.])")


def svg(drawing: Drawing, *, printed: bool = False, ruled: bool = True) -> str:
    """``drawing`` as an SVG document, measured in millimetres.

    ``printed`` is for programs that put it on paper: black, and no ground under it. One that is
    not ``ruled`` goes without its rules for lines and colours: the page around it has them, as
    ``rules`` gives them.

    Examples
    --------
    >>> from faywright.drawing.model import drawing_around, line
    >>> rule = drawing_around([line((0, 0), (50, 0), "outline")], title="Rule",
    ...                       description="A line of 50 mm.", margin=5)
    >>> svg(rule).splitlines()[-2]
    '<path class="line outline" d="M0 0L50 0"/>'
    """
    width, height = drawing.size
    x, y = drawing.origin
    frame = {"x": _n(x), "y": _n(y), "width": _n(width), "height": _n(height)}
    parts = [
        _tag("title", {}, escape(drawing.title, quote=False)),
        _tag("desc", {}, escape(drawing.description, quote=False)),
        *([_tag("style", {}, _paper_style() if printed else _style())] if ruled else []),
        *([] if printed else [_tag("rect", {"class": "ground", **frame})]),
        *(part for mark in drawing.marks for part in _mark(mark)),
    ]
    root = {
        "xmlns": "http://www.w3.org/2000/svg",
        "class": "drawing",
        "role": "img",
        "width": f"{_n(width)}mm",
        "height": f"{_n(height)}mm",
        "viewBox": " ".join(frame[key] for key in ("x", "y", "width", "height")),
    }
    return _tag("svg", root, "\n" + "\n".join(parts) + "\n") + "\n"


def _mark(mark: Mark) -> list[str]:
    match mark:
        case Polyline():
            return [_tag("path", {"class": f"line {mark.weight}", "d": _run(mark.points)})]
        case Outline():
            return _outline(mark)
        case Text():
            return [_text(mark)]


def _outline(mark: Outline) -> list[str]:
    parts = []
    if strokes := mark.strokes:
        d = _numbers("M{:.4f} {:.4f}L{:.4f} {:.4f}" * len(strokes), chain(*chain(*strokes)))
        parts.append(_tag("path", {"class": "line hatch", "d": d}))
    d = _run(mark.points) + "Z"
    if mark.solid:
        parts.append(_tag("path", {"class": "solid", "d": d}))
    if mark.weight is not None:
        parts.append(_tag("path", {"class": f"line {mark.weight}", "d": d}))
    return parts


def _text(mark: Text) -> str:
    x, y = mark.at
    attributes = {
        "class": f"lettering {mark.emphasis}",
        "font-size": _n(mark.size),
        "text-anchor": mark.anchor,
        "x": _n(x),
        "y": _n(y),
    }
    if mark.rotation:
        attributes["transform"] = f"rotate({_n(mark.rotation)} {_n(x)} {_n(y)})"
    return _tag("text", attributes, escape(mark.text, quote=False))


def _rules(colours: Mapping[str, str]) -> list[str]:
    """Rules that every reader understands."""
    return [
        ".drawing .line{fill:none;stroke-linecap:round;stroke-linejoin:round}",
        *(
            f".drawing .{weight}{{stroke-width:{_n(width)}}}"
            for weight, width in LINE_WIDTHS.items()
        ),
        f".drawing .hidden{{stroke-dasharray:{_n(HIDDEN_DASHES[0])} {_n(HIDDEN_DASHES[1])}}}",
        f".drawing .lettering{{font-family:{FONTS};font-variant-numeric:tabular-nums}}",
        ".drawing .strong,.drawing .accent{font-weight:bold}",
        *_inked(colours),
    ]


def rules() -> str:
    """The rules for lines, letters and colours, for pages whose drawings go without them."""
    return _style()


@cache
def _paper_style() -> str:
    return "\n" + "\n".join(_rules(PRINT)) + "\n"


@cache
def _style() -> str:
    plain = _rules(LIGHT)
    named = _inked({name: f"var(--{name})" for name in LIGHT})
    return "\n" + "\n".join(
        [
            *plain,
            "@media all{",
            _properties(LIGHT),
            *named,
            "}",
            f"@media (prefers-color-scheme:dark){{{_properties(DARK)}}}",
            f"@media print{{{_properties(PRINT)}}}\n",
        ]
    )


def _inked(colours: Mapping[str, str]) -> list[str]:
    return [
        f".drawing .ground{{fill:{colours['paper']}}}",
        f".drawing .line{{stroke:{colours['ink']}}}",
        f".drawing .solid,.drawing .lettering{{fill:{colours['ink']}}}",
        f".drawing .accent{{fill:{colours['accent']}}}",
    ]


def _properties(colours: Mapping[str, str]) -> str:
    return ".drawing{" + ";".join(f"--{name}:{value}" for name, value in colours.items()) + "}"


def _run(points: Sequence[Point]) -> str:
    return _numbers("M" + "L".join(["{:.4f} {:.4f}"] * len(points)), chain(*points))


def _n(value: float) -> str:
    """One number as ``_numbers`` writes it, without its patterns."""
    written = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if written == "-0" else written


def _numbers(form: str, values: Iterable[float]) -> str:
    """Numbers to a tenth of a micrometre, without idle zeros or a sign on nought."""
    return _MINUS_NOUGHT.sub("0", _IDLE_ZEROS.sub("", form.format(*values)))


def _tag(name: str, attributes: Mapping[str, str], content: str = "") -> str:
    """An element with its attributes in alphabetical order."""
    inner = "".join(f' {key}="{escape(value)}"' for key, value in sorted(attributes.items()))
    return f"<{name}{inner}>{content}</{name}>" if content else f"<{name}{inner}/>"
