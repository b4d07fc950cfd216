"""Invented pieces whose packets are printed: few boards and many, short names and long ones."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from faywright.piece.piece_file import piece_from_text
from faywright.piece.plan import Plan, plan
from faywright.piece.shop_file import shop_from_text

SHOP = """\
faywright = "shop 1"
title = "Boathouse shop"
units = "mm"

[habits]
style = "mm"
reference = "far edge"

[[machine]]
mark = "router table"
rotation = "anticlockwise"
fence_side = "behind the cutter"
speeds_rpm = [10000, 14000, 18000, 22000]
lift_pitch = 1.5
table_opening = 70
fence = { kind = "sliding", length = 900, height = 90 }

[[cutter]]
mark = "C1"
kind = "straight"
diameter = { marked = 6, measured = 6.02 }
cutting_length = 22
reach = 45
flutes = 2
max_speed_rpm = 24000

[[cutter]]
mark = "C2"
kind = "straight"
diameter = { marked = 12, measured = 11.96 }
cutting_length = 25
reach = 45
flutes = 2
shank = 12
max_speed_rpm = 24000

[[gauge]]
mark = "calipers"
uses = ["thickness"]
resolution = 0.01
repeatability = 0.02
zero_error = 0.01

[[gauge]]
mark = "depth gauge"
uses = ["height", "fence"]
resolution = 0.01
repeatability = 0.03
zero_error = -0.04
"""

SLOT = """\
[[cutter]]
mark = "C3"
kind = "slot"
thickness = { marked = 4, measured = 4.03 }
diameter = 44
slot_depth = 12
reach = 40
flutes = 3
max_speed_rpm = 18000
"""


def _part(name: str) -> str:
    return f'[[part]]\nname = "{name}"\ntimber = "softwood"\n'


def _board(mark: str, part: str, width: float, thickness: float) -> str:
    readings = [round(thickness + off, 3) for off in (-0.01, 0.0, 0.01)]
    return (
        f'[[board]]\nmark = "{mark}"\npart = "{part}"\nwidth = {width}\nlength = 900\n'
        f"thickness = {readings}\n"
    )


def _planned(title: str, *tables: str, shop: str = SHOP) -> Plan:
    piece = "\n".join(('faywright = "piece 1"', f'title = "{title}"', 'units = "mm"', *tables))
    return plan(
        piece_from_text(piece, file="piece.toml", folder=None).piece,
        shop_from_text(shop, file="shop.toml"),
    )


@cache
def lining(
    thicknesses: Sequence[float],
    title: str = "Lining for a stair wall",
    joint: str = "lining",
    mark: str = "L{}",
) -> Plan:
    """Boards tongued flat by a straight cutter, so that they are cut in groups by thickness."""
    return _planned(
        title,
        _part("board"),
        *(_board(mark.format(k), "board", 110, t) for k, t in enumerate(thicknesses, 1)),
        f'[[joint]]\nname = "{joint}"\nfamily = "tongue and groove"\n'
        'groove = { part = "board", edge = "reference edge" }\n'
        'tongue = { part = "board", edge = "opposite edge" }\n'
        'fit = "snug"\n',
    )


def eight_groups() -> Plan:
    """A wall lining of boards that go through the planer no more."""
    return lining(tuple(18.0 + 0.8 * group + 0.02 * k for group in range(8) for k in range(3)))


@cache
def drawer() -> Plan:
    """A drawer that hangs on runners; this maker measures to the near edge."""
    return _planned(
        "Drawer under a bench",
        _part("side"),
        _part("runner"),
        *(_board(f"D{k}", "side", 96, 13.0 + 0.02 * k) for k in (1, 2)),
        *(_board(f"R{k}", "runner", 18, 7.2 + 0.02 * k) for k in (1, 2)),
        '[[joint]]\nname = "runners"\nfamily = "runner"\nstrip = "runner"\n'
        'groove = { part = "side", edge = "face B" }\nfit = "sliding"\ngroove_depth = 6\n',
        shop=SHOP.replace('reference = "far edge"', 'reference = "near edge"'),
    )


@cache
def screen() -> Plan:
    """A folding screen, its boards joined by loose tongues."""
    return _planned(
        "Folding screen",
        _part("leaf"),
        _part("tongue"),
        *(_board(f"S{k}", "leaf", 140, 21.0 + 0.05 * k) for k in range(1, 6)),
        *(_board(f"T{k}", "tongue", 20, 3.9) for k in range(1, 5)),
        '[[joint]]\nname = "leaves"\nfamily = "loose tongue"\n'
        'groove = { part = "leaf", edge = "reference edge" }\n'
        'second_groove = { part = "leaf", edge = "opposite edge" }\n'
        'strip = "tongue"\nfit = "glued"\n',
        shop=SHOP + SLOT,
    )
