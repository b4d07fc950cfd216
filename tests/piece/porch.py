"""A bench back for an unheated porch, of a timber whose figures are easy to reckon with.

From 6 to 14 % of moisture a board of it is 1 + C (moisture - 10 %) as large as at 10 %, C being
0.002 across the rings and 0.004 along them: a flat-sawn board gets 0.4 % wider and 0.2 % thicker
for each percent.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from faywright.piece.piece_file import piece_from_text
from faywright.piece.plan import Plan, plan
from faywright.piece.shop_file import shop_from_text
from faywright.shop.inventory import Shop

SHOP_FILE = Path(__file__).parents[2] / "examples" / "hall-bench" / "shop.toml"

SPECIES = """
[[species]]
name = "Even wood"
group = "hardwood"
c_radial = 0.002
c_tangential = 0.004
mor = 100
moe = 12000
compression_perp = 8
shear_par = 12
tension_perp = 5
"""

HEAD = 'faywright = "piece 1"\ntitle = "Porch bench"\n'
PART = '[[part]]\nname = "back"\ntimber = "softwood"\nspecies = "Even wood"\n'
JOINT = (
    '[[joint]]\nname = "back"\nfamily = "tongue and groove"\nfit = "snug"\norder = "as listed"\n'
    'groove = { part = "back", edge = "reference edge" }\n'
    'tongue = { part = "back", edge = "opposite edge" }\n'
)
CUT = "[climate]\ncutting = { moisture = 10 }\n"
YEAR = (
    '[[climate.season]]\nname = "dry spell"\nmonths = [4, 5, 6, 7, 8, 9]\nmoisture = 8\n'
    '[[climate.season]]\nname = "wet half"\nmonths = [10, 11, 12, 1, 2, 3]\nmoisture = 13\n'
)
"""Two percent drier than when cut, and three wetter."""

PORCH = CUT + YEAR
STILL = CUT + "drift = 0\nmonthly = { moisture = [" + "10, " * 12 + "] }\n"


def boards(part: str = "back", count: int = 3, *, width: float = 120, more: str = "") -> str:
    """Boards of nearly one thickness, marked with the first letter of their part."""
    return "".join(
        f'[[board]]\nmark = "{part[0]}{k}"\npart = "{part}"\nwidth = {width}\nlength = 600\n'
        f"thickness = [{19 + k / 100:.2f}, {18.98 + k / 100:.2f}]\n{more}"
        for k in range(1, count + 1)
    )


@cache
def shop() -> Shop:
    return shop_from_text(SHOP_FILE.read_text(encoding="utf-8") + SPECIES, file="shop.toml")


@cache
def planned(*texts: str) -> Plan:
    """The plan of a piece file made of the head and ``texts``."""
    return plan(
        piece_from_text(HEAD + "".join(texts), file="piece.toml", folder=None).piece, shop()
    )


def porch_bench(wishes: str = "", climate: str = PORCH, *, part: str = PART) -> Plan:
    """The back of the bench."""
    return planned(part, boards(), JOINT, wishes, climate)
