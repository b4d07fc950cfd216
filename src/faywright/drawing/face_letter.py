"""The letter on face A: in the wood where it has room, else beside it with a leader."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import product

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from faywright.drawing.hatching import Point
from faywright.drawing.lettering import CAPITAL, DESCENT
from faywright.drawing.machine_section import MachineSection
from faywright.drawing.model import Mark, Text, line
from faywright.drawing.placing import Paper, room_of

SIZE = 2.8
SIZES = (4.2, 3.4, 2.6)
DEEPER = (0.0, 2.0, 4.0, 7.0, 10.0)
"""How much further from the face the letter may stand than close by it. [mm on paper]"""


def face_letter(section: MachineSection, paper: Paper) -> list[Mark]:
    """A letter A in the wood by face A with a tick out to the face; empty where none fits."""
    face = section.at_work.face_a
    if face is None:
        return []
    side, at = face
    stays = shapely.difference(section.before, section.shape(section.at_work.seen.taken))
    shown = shapely.intersection(stays, section.work.window)
    wood, within = shapely.buffer(shown, -0.3), shapely.buffer(shown, 1e-6)
    shapely.prepare(wood)
    for size, deeper in product(SIZES, DEEPER):
        for tip, letter in _letters(section, wood, side, section.scale * at, size, deeper):
            if not paper.clear_for([letter]):
                continue
            room = room_of([letter])
            start = shapely.shortest_line(room, shapely.Point(tip)).coords[0]
            tick = line((start[0], start[1]), tip, "frame")
            if wood.covers(room) and within.covers(shapely.LineString(tick.points)):
                return [letter, tick]
    return []


def _letters(
    section: MachineSection, wood: BaseGeometry, side: str, at: float, size: float, deeper: float
) -> Iterator[tuple[Point, Text]]:
    """Places for the letter along the face, those furthest from the cut first.

    Where a corner of the letter is not in ``wood`` is no place; most are ruled out so, at once.
    """
    inset = 1.5 + (CAPITAL / 2 + DESCENT) * size + deeper
    sideways = side in ("down", "up")
    length = section.work_out if sideways else section.work_top
    inward = -1 if side in ("up", "away from the fence") else 1
    along = length - 1.0 - size - np.arange(int(length / 0.8) + 1) * 0.8
    tips, middles = np.full_like(along, at), np.full_like(along, at + inward * inset)
    (tip_y, tip_z), (y, z) = (
        ((along, tips), (along, middles)) if sideways else ((tips, along), (middles, along))
    )
    x, foot = section.out * y, -z + CAPITAL * size / 2
    plain = Text("A", (0.0, 0.0), size, "middle", emphasis="strong")
    inside = np.ones(len(along), dtype=np.bool_)
    for right, down in plain.corners:
        inside &= shapely.contains_xy(wood, x + right, foot + down)
    for k in np.flatnonzero(inside):
        tip = (section.out * float(tip_y[k]), -float(tip_z[k]))
        yield tip, replace(plain, at=(float(x[k]), float(foot[k])))


def face_label(section: MachineSection, paper: Paper) -> None:
    """The words "face A" with a leader, where the wood has no room for the letter.

    Nothing where the work is broken off before face A: how it lies stands in the heading.
    """
    face = section.at_work.face_a
    if face is None:
        return
    side, at = face[0], section.scale * face[1]
    if at > (section.work_top if side in ("down", "up") else section.work_out) + 1e-6:
        return
    along = section.work_out - 3.0 if side in ("down", "up") else section.work_top - 3.0
    y, z = (along, at) if side in ("down", "up") else (at, along)
    paper.label(spots(section, "face A", (section.out * y, -z)))


def spots(
    section: MachineSection, told: str, tip: Point
) -> Iterator[tuple[list[Text], list[Point]]]:
    """Places for words beside the work and above what they name; nearest first."""
    for rise in range(4, 60, 2):
        for aside in (3.0, 7.0, 12.0, 20.0):
            x, y = section.out * (section.work_out + aside), tip[1] - rise
            text = Text(told, (x, y), SIZE, section.outwards)
            yield [text], [(x - section.out * 1.2, y - 1.0), tip]
