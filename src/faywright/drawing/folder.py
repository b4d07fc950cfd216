"""What a plan leaves in a folder: JSON, words, the packet, and all its drawings."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from faywright.drawing.drawings import PlanDrawing, plan_drawings
from faywright.drawing.dxf import dxf, section_dxf
from faywright.drawing.packet import PacketOptions, packet
from faywright.drawing.part_section import Scale
from faywright.drawing.svg import svg
from faywright.drawing.written_list import listed, read_list
from faywright.errors import DocumentError, Fault
from faywright.piece.plan import Plan
from faywright.piece.plan_json import plan_json
from faywright.piece.summary import summary

DRAWINGS = "drawings"
LIST = "written.sha256"
"""Drawings by name, with their fingerprints; ``sha256sum -c`` reads it too."""


@dataclass(frozen=True, slots=True)
class Written:
    """The texts of a plan, the paths they were written to, and drawings that were removed."""

    json: str
    summary: str
    paths: tuple[Path, ...]
    removed: tuple[Path, ...]

    @property
    def lines(self) -> Iterator[str]:
        """What was written where: drawings are counted, other files named."""
        counts: dict[Path, int] = {}
        for path in self.paths:
            if path.parent.name == DRAWINGS:
                counts[path.parent] = counts.get(path.parent, 0) + 1
            else:
                yield str(path)
        for folder, count in counts.items():
            yield f"{folder}: {count} files"
        for path in self.removed:
            yield f"{path}: removed, for this plan has no such drawing"


def write_plan(
    plan: Plan,
    folder: Path,
    options: PacketOptions | None = None,
    *,
    scale: Scale | None = None,
) -> Written:
    """Write all of a plan to ``folder``.

    ``plan.json``, ``summary.txt``, the packet for the wall as ``packet.pdf`` (``options`` say
    how), and in ``drawings/`` every drawing: joints, parts (at ``scale``) and setups as SVG and
    DXF, the bare outlines of parts as DXF, charts as SVG. Drawings of an earlier plan that are not
    part of this one are removed, but only those that are still as they were written here.

    Raises
    ------
    DocumentError
        The folder or a file in it cannot be written.
    """
    found = plan_json(plan)
    told = json.dumps(found, indent=2, ensure_ascii=False)
    words = summary(plan)
    files = {
        "plan.json": told.encode(),
        "summary.txt": words.encode(),
        "packet.pdf": packet(plan, options, told=found),
    }
    drawings = {
        name: write().encode()
        for each in plan_drawings(plan, scale=scale)
        for name, write in drawing_files(each).items()
    }
    try:
        removed = _update(folder / DRAWINGS, drawings)
        for name, content in files.items():
            (folder / name).write_bytes(content)
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
    paths = [folder / name for name in files]
    paths += [folder / DRAWINGS / name for name in drawings]
    return Written(told, words, tuple(paths), removed)


def drawing_files(each: PlanDrawing) -> Mapping[str, Callable[[], str]]:
    """Files of one drawing: by name, what writes the text of each; it is drawn only then."""
    files = {f"{each.stem}.svg": lambda: svg(each.drawing)}
    if each.chart:
        return files
    files[f"{each.stem}.dxf"] = lambda: dxf(each.drawing)
    if each.cut is not None:
        cut = each.cut
        files[f"{each.stem}-outline.dxf"] = lambda: section_dxf(
            cut.sections, cut.board, name=cut.role.upper()
        )
    return files


def _update(folder: Path, files: Mapping[str, bytes]) -> tuple[Path, ...]:
    """Write ``files``, and remove those of the last time that are no longer among them.

    A drawing of a setup that is no more would mislead whoever finds it beside the others. A file
    that was changed since, or that nobody wrote here, stays.
    """
    folder.mkdir(parents=True, exist_ok=True)
    removed = []
    for name, fingerprint in read_list(folder / LIST).items():
        path = folder / name
        if name in files or not path.is_file():
            continue
        if sha256(path.read_bytes()).hexdigest() == fingerprint:
            path.unlink()
            removed.append(path)
    (folder / LIST).write_bytes(listed(files))
    for name, content in files.items():
        (folder / name).write_bytes(content)
    return tuple(removed)
