"""The packet for the wall: one PDF with a sheet for every setup, laid out by typst.

What is said comes from the plan and ``piece.words``, what is drawn from this room; the template
``data/packet.typ`` only puts it on paper.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from importlib.resources import files
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Literal

from faywright.drawing.model import Drawing, Text, joined
from faywright.drawing.packet_letters import (
    fonts_for_words,
    spelled,
    texts_in,
    to_print,
    unprintable,
)
from faywright.drawing.packet_pages import (
    Sheet,
    first_page,
    trial_length,
    trial_rows,
    year_charts,
    year_page,
)
from faywright.drawing.packet_sheet import Figures, sheet_page
from faywright.drawing.svg import svg
from faywright.errors import InputError
from faywright.lengths import LengthStyle
from faywright.piece.plan import Plan
from faywright.piece.plan_json import plan_json
from faywright.piece.words import at_least, final_setups, finer, writer

Paper = Literal["a4", "us-letter"]

TEMPLATE = "drawing/data/packet.typ"

MARGIN = 1.0
"""Paper left around what is drawn, for the widths of lettering are a model. [mm]"""

FOOTER = 70
"""Letters of a title in the footer."""

SOURCES = (
    "Fits, bites, rules for thin walls, short and narrow work: common practice, no source, unless "
    "a standard is named; your own trial cuts outrank them.",
    "Errors are added up after JCGM 100:2008 and sampled after JCGM 101:2008; a normal error is "
    "taken to reach two standard deviations in a worst case.",
    "Every setting was cut in simulation and the gaps measured on the simulated parts; formula and "
    "simulation agree to 0.000001 mm.",
    "Thickness between your readings is taken to scatter as the readings along the boards do.",
    "Cautions defer to local rules, the machine's and the cutter's manuals, and training.",
)


@dataclass(frozen=True, slots=True)
class PacketOptions:
    """On which paper, in which units, and which setups (by number; none for all)."""

    paper: Paper = "a4"
    style: LengthStyle | None = None
    only: tuple[int, ...] = ()


@dataclass
class _Files:
    """Files the template reads beside its data; ``missing`` letters are spelled out in them."""

    missing: frozenset[str]
    texts: dict[str, str] = field(default_factory=dict)

    def drawing(self, name: str, drawing: Drawing) -> dict[str, Any]:
        """Keep a drawing's SVG, close-cropped; returns what the template needs to place it."""
        close = _cropped(drawing, self.missing)
        width, height = close.size
        file = self.text(f"{name}.svg", svg(close, printed=True))
        return {"file": file, "width": round(width, 3), "height": round(height, 3)}

    def text(self, file: str, content: str) -> str:
        """Keep any text."""
        self.texts[file] = content
        return file


def _cropped(drawing: Drawing, missing: frozenset[str]) -> Drawing:
    """The drawing in letters that can be printed, without its margin: a sheet has its own."""
    marks = drawing.marks
    if missing:
        marks = tuple(
            replace(mark, text=spelled(mark.text, missing)) if isinstance(mark, Text) else mark
            for mark in marks
        )
    left, top, right, foot = joined(mark.bounds for mark in marks)
    size = (right - left + 2 * MARGIN, foot - top + 2 * MARGIN)
    return replace(drawing, origin=(left - MARGIN, top - MARGIN), size=size, marks=marks)


def packet(
    plan: Plan, options: PacketOptions | None = None, *, told: Mapping[str, Any] | None = None
) -> bytes:
    """The packet as PDF. The same plan and options give the same bytes.

    ``told`` is the plan as JSON, where that was made already. Letters that no font of this
    machine has stand as their Unicode numbers, and the first page says so.

    Raises
    ------
    InputError
        ``only`` names a setup the plan does not have.
    """
    import typst  # noqa: PLC0415 - the compiler is heavy, and only packets need it

    told = told or plan_json(plan)
    fonts = fonts_for_words()
    kept = _Files(unprintable(texts_in(told), fonts))
    data = {
        **to_print(packet_data(plan, options or PacketOptions(), kept, told), kept.missing),
        "fonts": fonts,
        "missing": " ".join(f"U+{ord(letter):04X}" for letter in sorted(kept.missing)),
    }
    with TemporaryDirectory(prefix="faywright-") as name:
        folder = Path(name)
        template = files("faywright").joinpath(TEMPLATE).read_text(encoding="utf-8")
        (folder / "packet.typ").write_text(template, encoding="utf-8")
        (folder / "packet.json").write_text(json.dumps(data), encoding="utf-8")
        for file, content in kept.texts.items():
            (folder / file).write_text(content, encoding="utf-8")
        pdf: bytes = typst.compile(folder / "packet.typ", root=folder, timestamp=0)
    return pdf


def identity_of(plan: Plan, told: Mapping[str, Any] | None = None) -> str:
    """A short mark of this very plan (``told`` as JSON): the same documents give the same one."""
    text = json.dumps(told or plan_json(plan), sort_keys=True, ensure_ascii=False)
    return f"plan {hashlib.sha256(text.encode()).hexdigest()[:10]}"


def packet_data(
    plan: Plan, options: PacketOptions, kept: _Files, told: Mapping[str, Any]
) -> dict[str, Any]:
    """Everything the template says, in words; drawings are put into ``kept``."""
    style = options.style or plan.shop.habits.style
    write = writer(style)
    figures = Figures(plan, style, write, finer(style), kept.drawing)
    identity = identity_of(plan, told)
    wanted = tuple(_wanted(plan, options.only))
    sheets = []
    for final, clearing in wanted:
        qr = kept.text(f"qr-{final.number}.svg", qr_svg(f"faywright {identity} {final.number}"))
        sheets.append({"qr": qr, **sheet_page(figures, final, clearing)})
    return {
        "title": plan.piece.title,
        "short-title": shorten(plan.piece.title, FOOTER),
        "shop": f"{plan.shop.title}, {plan.machine.mark}",
        "paper": options.paper,
        "identity": identity,
        "joints": [first_page(figures, number) for number in range(len(plan.joints))],
        "sheets": sheets,
        "year": year_page(figures),
        "year-charts": year_charts(figures),
        "trials": trial_rows(figures, wanted),
        "trial-length": trial_length(figures),
        "cautions": [caution.said(at_least(style)) for caution in plan.cautions],
        "sources": [
            *SOURCES,
            *_moisture(plan),
            *(f"Learned from trial cuts: {each.said(finer(style))}." for each in plan.learned),
            *_fits(plan),
        ],
    }


def shorten(text: str, most: int) -> str:
    """``text``, or as much of it as goes into a footer."""
    return text if len(text) <= most else f"{text[: most - 1].rstrip()}…"


def _wanted(plan: Plan, only: Sequence[int]) -> Iterator[Sheet]:
    """Final setups with the clearing ones before them; those with a number in ``only``."""
    unknown = sorted(set(only) - {setup.number for setup in plan.setups})
    if unknown:
        raise InputError(
            f"there is no setup {unknown[0]}",
            where="packet",
            remedy=f"Give numbers from 1 to {len(plan.setups)}",
        )
    for final, clearing in final_setups(plan.setups):
        if not only or {final.number, *(each.number for each in clearing)} & set(only):
            yield final, clearing


def _moisture(plan: Plan) -> list[str]:
    """What is taken for the moisture of the wood."""
    asked = plan.piece.climate
    if asked is None:
        return ["No climate is given: cut, fit and assemble in the same air, and keep it there."]
    return [
        f"Year in the {asked.climate.room.name}: wood is taken to come to rest with each month's "
        "air, which it nears and does not pass; a finish slows it.",
        "Moisture and movement after the Wood Handbook, FPL-GTR-190 (2010), chapters 4 and 13; "
        "boards of one species differ by 15 % in how much they move.",
    ]


def _fits(plan: Plan) -> list[str]:
    fits = dict.fromkeys(
        (j.wanted.fit.name, j.wanted.fit.purpose, j.wanted.fit.source) for j in plan.joints
    )
    return [
        f"Fit {name}: {purpose} ({source.replace('-', ' ')})." for name, purpose, source in fits
    ]


def qr_svg(text: str) -> str:
    """A QR code of ``text`` as SVG (ISO/IEC 18004, error correction M)."""
    import segno  # noqa: PLC0415 - only packets need it

    code = segno.make(text, error="m", micro=False)
    out = BytesIO()
    code.save(out, kind="svg", border=2, dark="#1c1916", scale=2, xmldecl=False, nl=False)
    return out.getvalue().decode()
