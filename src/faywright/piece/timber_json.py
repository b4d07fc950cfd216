"""What moisture and loads do to a piece, as JSON."""

from __future__ import annotations

from collections.abc import Sequence

from faywright.joints.gaps import BOTTOM
from faywright.joints.seasonal import Seasonal
from faywright.piece.climate_table import PieceClimate
from faywright.piece.panels import DrawerPlan, FramedPlan, RowPlan
from faywright.piece.rounded import Json, mm
from faywright.piece.strengths import Strength
from faywright.timber.rows import ShortPile
from faywright.timber.strongest import Proportion
from faywright.timber.verdict import Verdict
from faywright.timber.year import Expected


def climate_json(asked: PieceClimate | None) -> Json | None:
    """Moisture of the wood as the piece file has it. [%]"""
    if asked is None:
        return None
    climate = asked.climate
    assembled = climate.assembly.moisture if asked.assembly_stated else None
    return {
        "room": climate.room.name,
        "moisture_at_cutting_percent": round(climate.machining.moisture, 2),
        "moisture_at_assembly_percent": None if assembled is None else round(assembled, 2),
        "drift_between_cuts_percent": round(asked.drift, 2),
        "moisture_by_month_percent": [
            round(moisture, 2) for moisture in climate.room.moisture_by_month.tolist()
        ],
    }


def seasons_json(seasonal: Seasonal | None, *, in_panel: bool) -> Json | None:
    """What moisture does to a joint; the first moment is its assembly.

    The boards of a joint that are ``in_panel`` are ripped for it, and the panel tells the gaps.
    """
    if seasonal is None:
        return None
    return {
        "gap_to_leave_when_laid_mm": None if in_panel else mm(seasonal.laid),
        "moments": [
            {
                "name": at.name,
                "moisture_least_percent": round(at.moisture[0], 2),
                "moisture_greatest_percent": round(at.moisture[1], 2),
                "clearance_per_side_least_mm": mm(float(at.clearance.min())),
                "clearance_per_side_greatest_mm": mm(float(at.clearance.max())),
                "bottom_least_mm": mm(float(at.gaps[BOTTOM].min())),
                "faces_open_least_mm": mm(float(at.opening.min())),
                "faces_open_greatest_mm": mm(float(at.opening.max())),
                "tongue_in_groove_least_mm": mm(float(at.engaged.min())),
            }
            for at in seasonal.moments
        ],
    }


def strength_json(strength: Strength | None) -> Json:
    """Verdicts on a joint's parts, why there are none, and its strongest proportion."""
    if strength is None:
        return {
            "strength": None,
            "strength_not_judged": None,
            "strongest_proportion": None,
        }
    return {
        "strength": [verdict_json(verdict) for verdict in strength.verdicts] or None,
        "strength_not_judged": strength.unjudged or None,
        "strongest_proportion": _proportion(strength.proportion),
    }


def _proportion(found: Proportion | None) -> Json | None:
    """The tongue and walls that give way at the same load."""
    if found is None:
        return None
    return {
        "board_thickness_mm": mm(found.board),
        "tongue_thickness_mm": mm(found.tongue_thickness),
        "wall_thickness_mm": mm(found.wall_thickness),
        "used_share": round(found.utilisation, 4),
        "carries_more_than_thirds_share": round(found.gain, 4),
        "caution": found.caution,
    }


def verdict_json(verdict: Verdict) -> Json:
    """One verdict on strength: how much of what is allowed each failure uses."""
    return {
        "member": verdict.member,
        "load_case": verdict.load_case,
        "verdict": verdict.likely,
        "decided_by": verdict.deciding.failure,
        "used_share": round(verdict.utilisation, 4),
        "checks": [
            {
                "failure": check.failure,
                "found": round(check.found, 4),
                "allowed": round(check.most, 4),
                "unit": check.working.unit,
                "used_share": round(check.utilisation, 4),
            }
            for check in verdict.checks
        ],
        "caution": verdict.caution,
    }


def panel_json(plan: RowPlan) -> Json:
    """A row of boards: what to rip and leave, and its wood and widest opening by month."""
    row = plan.row
    if isinstance(row, ShortPile):
        return {
            "name": plan.name,
            "joint": plan.joint,
            "short_by_mm": mm(row.short),
            "boards": None,
            "gap_mm": None,
            "side_gap_mm": None,
            "left_over": [],
            "wood_by_month": None,
            "opening_by_month": None,
            "tongue_in_groove_least_mm": None,
        }
    openings = [
        max(month.openings, key=lambda each: each.size, default=None) for month in row.by_month
    ]
    given = row.boards[0].width is not None
    return {
        "name": plan.name,
        "joint": plan.joint,
        "short_by_mm": None,
        "boards": [
            {
                "mark": plan.marks[board.place - 1] if given else None,
                "face_mm": mm(board.face),
                "rip_mm": mm(board.rip),
            }
            for board in row.boards
        ],
        "gap_mm": mm(row.gap),
        "side_gap_mm": mm(row.side_gap),
        "left_over": [plan.marks[place - 1] for place in row.left_over],
        "wood_by_month": _months([month.wood for month in row.by_month]),
        "opening_by_month": _months(openings),
        "tongue_in_groove_least_mm": mm(row.engagement),
    }


def framed_json(plan: FramedPlan) -> Json:
    """A panel in a frame: its size today, and its width and engagement by month."""
    panel = plan.panel
    return {
        "name": plan.name,
        "width_mm": mm(panel.width),
        "height_mm": mm(panel.height),
        "grain": panel.grain,
        "room_each_side_mm": mm(panel.room),
        "needs_pins": panel.needs_pins,
        "size_by_month": _months([month.size for month in panel.by_month]),
        "engaged_by_month": _months([month.engaged for month in panel.by_month]),
    }


def drawer_json(plan: DrawerPlan) -> Json:
    """A drawer: its size today, and the gap above it by month."""
    fit = plan.fit
    return {
        "name": plan.name,
        "width_mm": mm(fit.width),
        "height_mm": mm(fit.height),
        "play_each_side_mm": mm(fit.play),
        "gap_mm": mm(fit.gap),
        "gap_by_month": _months(fit.by_month),
    }


def _months(sizes: Sequence[Expected | None]) -> list[Json] | None:
    """A size in each month, January first, with the range that holds 19 of 20."""
    told = [each for each in sizes if each is not None]
    if len(told) != len(sizes):
        return None
    return [
        {"mm": mm(each.size), "low_mm": mm(each.low), "high_mm": mm(each.high)} for each in told
    ]
