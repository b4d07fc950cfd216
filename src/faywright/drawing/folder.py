"""What a plan leaves in a folder: JSON, words, and a drawing of each joint."""

from __future__ import annotations

import json
import re
import unicodedata
from dataclasses import dataclass
from pathlib import Path

from faywright.drawing.dxf import dxf
from faywright.drawing.joint import joint_drawing
from faywright.drawing.packet import PacketOptions, packet
from faywright.drawing.svg import svg
from faywright.errors import DocumentError, Fault
from faywright.piece.plan import Plan
from faywright.piece.plan_json import plan_json
from faywright.piece.summary import summary
from faywright.piece.words import writer


@dataclass(frozen=True, slots=True)
class Written:
    """The texts of a plan, and the paths they were written to."""

    json: str
    summary: str
    paths: tuple[Path, ...]


def write_plan(plan: Plan, folder: Path, options: PacketOptions | None = None) -> Written:
    """Write all of a plan to ``folder``.

    ``plan.json``, ``summary.txt``, the packet for the wall as ``packet.pdf`` (``options`` say how),
    and in ``drawings/`` a true-scale section of each joint as SVG and DXF.

    Raises
    ------
    DocumentError
        The folder or a file in it cannot be written.
    """
    texts = {
        "plan.json": json.dumps(plan_json(plan), indent=2, ensure_ascii=False),
        "summary.txt": summary(plan),
    }
    write = writer(plan.shop.habits.style)
    for number, joint in enumerate(plan.joints, 1):
        drawing = joint_drawing(joint.solution, joint.simulated, write=write)
        name = f"drawings/joint-{number}{_slug(joint.wanted.name)}"
        texts[f"{name}.svg"] = svg(drawing)
        texts[f"{name}.dxf"] = dxf(drawing)
    sheets = packet(plan, options)
    paths = []
    try:
        (folder / "drawings").mkdir(parents=True, exist_ok=True)
        for name, text in texts.items():
            path = folder / name
            path.write_text(text, encoding="utf-8")
            paths.append(path)
        (folder / "packet.pdf").write_bytes(sheets)
        paths.append(folder / "packet.pdf")
    except OSError as error:
        raise DocumentError(
            [
                Fault(
                    file=str(folder),
                    line=None,
                    field="output folder",
                    what=f"it cannot be written ({error.strerror})",
                    remedy="Give a folder you may write to with -o DIR",
                )
            ]
        ) from error
    return Written(texts["plan.json"], texts["summary.txt"], tuple(paths))


def _slug(name: str) -> str:
    """A name as part of a file name, with a dash before it; empty where nothing is left of it."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    words = re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")
    return f"-{words}" if words else ""
