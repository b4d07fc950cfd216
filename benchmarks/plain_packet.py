"""The peer of the packet: pages of plain text with one plain drawing each, set by typst."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory

TEMPLATE = """\
#let pages = json("pages.json")
#set page(paper: "a4", margin: 15mm)
#set text(size: 9.5pt)
#for page in pages {
  heading(page.title)
  image(page.drawing, width: 80mm)
  for each in page.paragraphs { par(each) }
  pagebreak(weak: true)
}
"""

SENTENCE = (
    "Lay the board with its face down, press it to the fence and feed it past the cutter "
    "without stopping; then turn it end for end and do the same again."
)
PARAGRAPHS = 8
"""About as many words as a sheet of the packet has."""


def plain_packet(pages: int, first: int = 1) -> bytes:
    """``pages`` pages as PDF, numbered from ``first``; no two numbers look the same."""
    import json  # noqa: PLC0415 - what is imported is part of a cold start

    import typst  # noqa: PLC0415

    numbers = range(first, first + pages)
    told = [
        {
            "title": f"Page {page}",
            "drawing": f"drawing-{page}.svg",
            "paragraphs": [f"{page}.{k}. {SENTENCE}" for k in range(PARAGRAPHS)],
        }
        for page in numbers
    ]
    with TemporaryDirectory(prefix="plain-") as name:
        folder = Path(name)
        (folder / "plain.typ").write_text(TEMPLATE, encoding="utf-8")
        (folder / "pages.json").write_text(json.dumps(told), encoding="utf-8")
        for page in numbers:
            (folder / f"drawing-{page}.svg").write_text(_drawing(page), encoding="utf-8")
        pdf: bytes = typst.compile(folder / "plain.typ", root=folder, timestamp=0)
    return pdf


def _drawing(page: int) -> str:
    """Twenty lines and a word."""
    lines = "".join(f'<path d="M0 {y}L80 {y + page / 1000}"/>' for y in range(2, 42, 2))
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 80 50" width="80mm" height="50mm">'
        f'<g fill="none" stroke="#000" stroke-width="0.2">{lines}</g>'
        f'<text x="2" y="48" font-size="3">drawing {page}</text></svg>'
    )
