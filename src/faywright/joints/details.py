"""Profiles along the joint on the face side: a V, a bead, or a square reveal."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from faywright.fit.forms import Form, Quantity
from faywright.joints.grooves import Declined
from faywright.joints.method import Method, Reading, Run
from faywright.joints.wanted import EdgeDetail
from faywright.section.posture import Posture
from faywright.shop.cutters import BeadCutter, Cutter, StraightCutter, VCutter

HEIGHT, FENCE = Quantity("height", "detail"), Quantity("fence", "detail")

POINT_BEYOND = 0.5
"""How far the point of a V stands behind the arris, so that the flank does the work. [mm]"""

SAME_RADIUS = 0.3

LEAST_SHOULDER = 0.5
"""Least shoulder left beside a bead or a reveal, for the joint to close on. [mm]"""


def with_detail(
    method: Method, detail: EdgeDetail, cutters: Sequence[Cutter], *, shoulder: float, cheek: float
) -> Method | Declined:
    """``method`` with the runs that cut ``detail`` along the face-A shoulder added. [mm]

    ``shoulder`` is how far that shoulder stands from the edge that runs along the fence (0 on
    the grooved part), ``cheek`` how deep the face-A cheek is there (infinite on the grooved
    part). A V goes on both parts, a bead and a reveal on the tongued part alone.
    """
    if detail.kind == "V":
        return _v(method, detail, cutters, shoulder, cheek)
    if method.side == "groove":
        return method
    if detail.size > cheek - LEAST_SHOULDER:
        return Declined(
            f"{detail.kind} of {detail.size:.1f} mm",
            f"the face-A cheek is only {cheek:.1f} mm, and a shoulder must be left beside it",
        )
    if detail.kind == "bead":
        return _bead(method, detail, cutters, shoulder)
    return _reveal(method, detail, cutters, shoulder)


def _add(
    method: Method, run: Run, height: float, far: float, width: Form, by: Quantity, what: str
) -> Method:
    return replace(
        method,
        runs=(*method.runs, run),
        fixed={**method.fixed, HEIGHT: height, FENCE: far},
        readings=(*method.readings, Reading(what=what, form=width, quantity=by)),
    )


def _run(cutter: Cutter, makes: dict[str, str]) -> Run:
    return Run(
        key="detail",
        cutter=cutter,
        postures=(Posture.FLAT_A,),
        height=HEIGHT,
        far=FENCE,
        makes=(makes,),
        outer="height",
        rise="bite",
        widen="once",
    )


def _v(
    method: Method, detail: EdgeDetail, cutters: Sequence[Cutter], shoulder: float, cheek: float
) -> Method | Declined:
    """The flank meets the face at ``size`` from the shoulder; the point stays in the open."""
    found: list[str] = []
    for cutter in cutters:
        if not isinstance(cutter, VCutter):
            continue
        slope = math.tan(math.radians(cutter.angle_deg / 2))
        height = (detail.size + POINT_BEYOND) / slope
        if height > cheek or height > cutter.reach or height * slope > cutter.profile.radius:
            found.append(f"{cutter.mark} would stand {height:.1f} mm high")
            continue
        far = shoulder - POINT_BEYOND + cutter.profile.radius
        run = _run(cutter, {"flank far": "V", "flank near": "V, near side"})
        width = Form(-shoulder - cutter.profile.radius) + Form.of(FENCE) + slope * Form.of(HEIGHT)
        return _add(method, run, height, far, width, HEIGHT, "width of the V on the face")
    why = "; ".join(found) or "no V cutter is listed"
    return Declined(f"V of {detail.size:.1f} mm", why)


def _bead(
    method: Method, detail: EdgeDetail, cutters: Sequence[Cutter], shoulder: float
) -> Method | Declined:
    for cutter in cutters:
        if isinstance(cutter, BeadCutter) and abs(cutter.radius - detail.size) <= SAME_RADIUS:
            far = shoulder + cutter.radius
            run = _run(cutter, {"hollow far": "bead", "point": "quirk"})
            run = replace(run, rise="once")
            width = Form.of(FENCE) - shoulder
            return _add(method, run, cutter.radius, far, width, FENCE, "width of the bead")
    return Declined(f"bead of {detail.size:.1f} mm", "no bead cutter of that radius is listed")


def _reveal(
    method: Method, detail: EdgeDetail, cutters: Sequence[Cutter], shoulder: float
) -> Method | Declined:
    own = [cutter for cutter in method.cutters if isinstance(cutter, StraightCutter)]
    others = [cutter for cutter in cutters if isinstance(cutter, StraightCutter)]
    for cutter in (*own, *others):
        if cutter.cut_diameter >= detail.size and cutter.reach >= detail.size:
            run = _run(cutter, {"side far": "reveal wall", "top": "reveal bottom"})
            width = Form.of(FENCE) - shoulder
            added = _add(
                method, run, detail.size, shoulder + detail.size, width, FENCE, "width of reveal"
            )
            surfaces = dict(added.surfaces)
            surfaces["reveal wall"] = (1, Form.of(FENCE))
            surfaces["reveal bottom"] = (0, Form.of(HEIGHT))
            return replace(added, surfaces=surfaces)
    return Declined(f"square reveal of {detail.size:.1f} mm", "no straight cutter is that wide")
