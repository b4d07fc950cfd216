"""An invented garden door and the shop it is made in; tests count on their line numbers."""

SHOP = """\
faywright = "shop 1"
title = "Lean-to shop"
units = "mm"

[habits]
style = "mm"
places = 2
reference = "far edge"

[[machine]]
mark = "table 1"
rotation = "anticlockwise"
fence_side = "behind the cutter"
speeds_rpm = [10000, 14000, 18000, 22000]
lift_pitch = 1.5
table_opening = 60
work_lift = 0.02
fence = { kind = "pivoted", length = 900, pivot_to_end = 820, pivot_to_cutter = 410 }

[[cutter]]
mark = "C1"
kind = "straight"
diameter = { marked = "1/4 in", measured = 6.29, how = "trial slot", on = 2026-09-14 }
cutting_length = 19
reach = 45
flutes = 2
runout = 0.02
shank = 6.35
max_speed_rpm = 24000

[[cutter]]
mark = "C2"
kind = "slot"
thickness = { marked = 6, measured = 6.05, how = "calipers", on = 2026-09-14 }
diameter = 40
slot_depth = 12
reach = 30
flutes = 3

[[cutter]]
mark = "C3"
kind = "tongue pair"
tongue = { marked = 6, measured = 5.95 }
diameter = 40
wing = 7
tongue_length = 9
reach = 35
flutes = 2

[[cutter]]
mark = "C4"
kind = "v"
diameter = 12.7
angle_deg = 90
reach = 30
flutes = 2

[[cutter]]
mark = "C5"
kind = "bead"
radius = 4
point = 3
reach = 30
flutes = 2

[[cutter]]
mark = "C6"
kind = "dovetail"
diameter = { marked = 12.7, measured = 12.66 }
height = 12
angle_deg = 14
reach = 30
flutes = 2

[[gauge]]
mark = "calipers"
uses = ["thickness"]
resolution = 0.01
repeatability = 0.02
zero_error = -0.01

[[gauge]]
mark = "block"
uses = ["height", "fence"]
resolution = 0.02
repeatability = 0.03
"""

PIECE = """\
faywright = "piece 1"
title = "Garden door"
units = "mm"
shop = "shop.toml"

[[part]]
name = "board"
timber = "softwood"
species = "larch"

[[part]]
name = "strip"
timber = "sheet"

[[part]]
name = "ledge"
timber = "hardwood"
species = "oak"

[[board]]
mark = "D1"
part = "board"
width = 121
length = 1900
thickness = [19.05, 19.02, 19.08]

[[board]]
mark = "D2"
part = "board"
width = "4 3/4 in"
length = "1.9 m"
species = "Douglas fir"
reference_face = "A"
thickness = [
    [19.10, 19.00],
    [19.12, 19.02],
]

[[board]]
mark = "S1"
part = "strip"
width = 18
length = 1900
thickness = 6.1

[boards]
csv = "boards.csv"
units = "mm"
part = "ledge"

[[joint]]
name = "door boards"
family = "tongue and groove"
groove = { part = "board", edge = "reference edge" }
tongue = { part = "board", edge = "opposite edge" }
fit = "snug"
order = "as listed"
groove_depth = "3/8 in"
film = 0.05
detail = { kind = "V", size = 3 }
method = { groove = "on edge, both faces" }
most_settings = 2

[[joint]]
name = "ledges"
family = "loose tongue"
groove = { part = "ledge", edge = "reference edge" }
second_groove = { part = "ledge", edge = "opposite edge" }
strip = "strip"
fit = { aim = 0.1, low = -0.05, high = 0.2 }
"""

BOARDS = """\
mark,part,species,width,length,t1,t2,t3
L1,ledge,,140,820,22.05,22.11,22.08
L2,,ash,140,820,22.15,22.10,
D3,board,,121,1900,19.11,19.06,19.02
"""


def edited(text: str, old: str, new: str) -> str:
    """``text`` with the only ``old`` in it made ``new``."""
    if text.count(old) != 1:
        raise ValueError(f"{text.count(old)} places have {old!r}")
    return text.replace(old, new)
