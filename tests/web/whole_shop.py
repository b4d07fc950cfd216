"""An invented shop with one of everything that a shop file can have."""

SHOP = """# kept where it stands
faywright = "shop 1"
title = "Ropewalk shop"
units = "mm"

[habits]
style = "mm"
places = 2
denominator = 64
reference = "far edge"

[[machine]]
mark = "long table"
speeds_rpm = [9000, 15000, 21000]
rotation = "anticlockwise"
fence_side = "behind the cutter"
lift_pitch = 1.5
table_opening = 70
work_lift = 0.03
fence = { kind = "pivoted", length = 800, height = 90, pivot_to_end = 700, pivot_to_cutter = 350 }

[[machine]]
mark = "small table"
speeds_rpm = [20000]

[[cutter]]
mark = "S1"
kind = "straight"
diameter = { marked = 8, measured = 7.96, how = "trial slot", on = 2026-04-03 }
cutting_length = 22 # new edge
reach = 40
flutes = 2
runout = 0.02
shank = 8
max_speed_rpm = 22000

[[cutter]]
mark = "S2"
kind = "slot"
thickness = "1/4 in"
diameter = 47
slot_depth = 12
reach = 38
flutes = 3

[[cutter]]
mark = "T1"
kind = "tongue pair"
tongue = { marked = 6 }
diameter = 42
wing = 7
tongue_length = 10
reach = 35
flutes = 2

[[cutter]]
mark = "V1"
kind = "v"
diameter = 16
angle_deg = 90
reach = 30
flutes = 2

[[cutter]]
mark = "B1"
kind = "bead"
radius = 4
point = 6
reach = 30
flutes = 2

[[cutter]]
mark = "D1"
kind = "dovetail"
diameter = { marked = 14 }
height = 12
angle_deg = 8
reach = 32
flutes = 2

[[gauge]]
mark = "calipers"
uses = ["thickness"]
resolution = 0.01
repeatability = 0.02
zero_error = 0.01

[[gauge]]
mark = "height gauge"
uses = ["height", "fence"]
resolution = 0.01
repeatability = 0.03

[[species]]
name = "Bog oak"
group = "hardwood"
like = "white oak"
botanical = "Quercus robur"
c_radial = 0.0019
c_tangential = 0.0037
shrink_radial = 5.7
shrink_tangential = 10.6
sg_green = 0.61
sg_12 = 0.69
mor = 100
moe = 11000
compression_perp = 7
shear_par = 13
tension_perp = 5
hardness = 6000
"""
