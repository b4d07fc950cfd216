"""The plan as JSON: every length in millimetres with its unit in the key, versioned."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from faywright.fit.chance import Chance
from faywright.joints.gaps import STEP
from faywright.joints.method import Side
from faywright.piece.plan import JointPlan, Plan, instruments_of
from faywright.piece.rounded import Json, mm
from faywright.piece.timber_json import (
    climate_json,
    drawer_json,
    framed_json,
    panel_json,
    seasons_json,
    strength_json,
    verdict_json,
)
from faywright.piece.words import MILLIMETRES, writer
from faywright.setups.choice import Way
from faywright.setups.hazards import Hazard
from faywright.setups.setup import CheckReading, Setting, Setup
from faywright.shop.inventory import Reference

FORMAT = "faywright plan 1"
SCHEMA_FILE = "piece/data/plan.schema.json"


def plan_json(plan: Plan) -> Json:
    """The whole plan, as ``plan.schema.json`` describes it."""
    return {
        "format": FORMAT,
        "title": plan.piece.title,
        "shop": plan.shop.title,
        "machine": plan.machine.mark,
        "gauges": {
            "height": instruments_of(plan.shop).height.mark,
            "fence": instruments_of(plan.shop).fence.mark,
            "thickness": instruments_of(plan.shop).calipers.mark,
        },
        "seed": plan.seed,
        "cautions": [caution.said(writer(MILLIMETRES)) for caution in plan.cautions],
        "climate": climate_json(plan.piece.climate),
        "learned": [lesson.json() for lesson in plan.learned],
        "joints": [
            joint_json(joint, in_panel=plan.row_of(joint) is not None) for joint in plan.joints
        ],
        "setups": [setup_json(setup, plan.shop.habits.reference) for setup in plan.setups],
        "panels": [panel_json(each) for each in plan.rows],
        "framed": [framed_json(each) for each in plan.framed],
        "drawers": [drawer_json(each) for each in plan.drawers],
        "shelves": [
            {
                "name": shelf.name,
                "strength": None if shelf.verdict is None else verdict_json(shelf.verdict),
                "strength_not_judged": shelf.unjudged or None,
            }
            for shelf in plan.shelves
        ],
    }


def joint_json(joint: JointPlan, *, in_panel: bool) -> Json:
    """One joint of the plan; boards of one that is ``in_panel`` are ripped for it."""
    task, solution, target = joint.task, joint.solution, joint.task.target
    fit = joint.wanted.fit
    return {
        "name": joint.wanted.name,
        "family": joint.wanted.family,
        "groove": str(task.grooved.place),
        "tongue": str(task.tongued.place) if joint.wanted.tongue else joint.wanted.strip,
        "fit": {
            "name": fit.name,
            "purpose": fit.purpose,
            "source": fit.source,
            "low_per_side_mm": mm(fit.low),
            "aim_per_side_mm": mm(fit.aim),
            "high_per_side_mm": mm(fit.high),
        },
        "as_cut": {
            "low_per_side_mm": mm(solution.band[0]),
            "aim_per_side_mm": mm(target.play / 2),
            "high_per_side_mm": mm(solution.band[1]),
        },
        "target": {
            "groove_width_mm": mm(target.width),
            "groove_depth_mm": mm(target.depth),
            "tongue_thickness_mm": mm(target.thickness),
            "tongue_length_mm": mm(target.length),
            "usual_tongue_length_mm": mm(target.usual_length),
            "play_grows_until_assembly_mm": mm(target.grows),
            "offset_from_face_a_mm": mm(target.offset),
            "strip_width_mm": mm(task.strip_width),
        },
        "as_made": _as_made(joint),
        "method": {
            "groove": solution.groove.name,
            "tongue": solution.tongue.name,
            "cutters": _marks(joint.choice.chosen),
            "forced": joint.choice.forced,
        },
        "chance_all_fit": {
            "trials": joint.tested.trials,
            "at_printed_settings": _share(joint.untested),
            "after_trial_cuts": _share(joint.tested),
        },
        "errors": _errors(joint),
        "thickness_range_for_one_setting_mm": mm(solution.room),
        "order_of_boards": (
            None if solution.row is None else [task.grooved.marks[k] for k in solution.row]
        ),
        "groups": [*_groups(joint, "groove"), *_groups(joint, "tongue")],
        "gaps": [_gap(joint, name) for name in joint.simulated.gaps],
        "pairs": _pairs(joint),
        "boards": [
            {
                "mark": verdict.mark,
                "verdict": verdict.verdict,
                "chance": round(verdict.chance, 5),
                "too_thick_by_mm": mm(verdict.over),
                "range_along_mm": mm(verdict.spread),
            }
            for verdict in joint.verdicts
        ],
        "seasons": seasons_json(joint.seasonal, in_panel=in_panel),
        **strength_json(joint.strength),
        "ways": [_way(way, way is joint.choice.chosen) for way in joint.choice.ways],
        "refused": [
            {"method": each.method, "cutters": list(each.cutters), "why": list(each.why)}
            for each in joint.choice.refused
        ],
        "declined": [{"what": each.method, "why": each.why} for each in joint.choice.declined],
        "setups": [setup.number for setup in joint.setups],
    }


def _as_made(joint: JointPlan) -> Json:
    """Sizes that come out at the settings, least and greatest over the boards."""
    solution = joint.solution
    groove = solution.range_of(solution.groove)
    tongue = solution.range_of(solution.tongue)
    return {
        "groove_width_least_mm": mm(groove[0]),
        "groove_width_greatest_mm": mm(groove[1]),
        "tongue_thickness_least_mm": mm(tongue[0]),
        "tongue_thickness_greatest_mm": mm(tongue[1]),
    }


def _share(chance: Chance) -> Json:
    return {
        "chance": round(chance.all_fit, 5),
        "standard_error": round(chance.all_fit_error, 5),
    }


def _errors(joint: JointPlan) -> Json:
    return {
        "of": "clearance per side at the printed settings, mean over the joints",
        "expanded_k2_mm": mm(float(joint.budget.expanded.mean())),
        "worst_case_mm": mm(float(joint.budget.worst.mean())),
        "mean_shift_mm": mm(float((joint.budget.mean - joint.solution.clearance).mean())),
        "shares": [
            {"source": source, "share_of_variance": round(share, 4)}
            for source, share in joint.budget.shares
        ],
    }


def _groups(joint: JointPlan, side: Side) -> list[Json]:
    solution = joint.solution
    method = solution.method(side)
    if not method.runs:
        return []
    work = joint.task.work(side)
    meet = solution.first if side == "groove" else solution.second
    return [
        {
            "side": side,
            "boards": [work.labels[k] for k in group.members],
            "least_thickness_mm": mm(float(work.across[group.members].min())),
            "greatest_thickness_mm": mm(float(work.across[group.members].max())),
            "control": method.control.kind if method.control is not None else None,
            "control_mm": (None if method.control is None else mm(group.settings[method.control])),
        }
        for group in solution.groups(side)
        if np.isin(group.members, meet).any()
    ]


def _gap(joint: JointPlan, name: str) -> Json:
    values = joint.simulated.gaps[name]
    found: Json = {
        "gap": name,
        "nominal_least_mm": mm(float(values.min())),
        "nominal_greatest_mm": mm(float(values.max())),
    }
    sample = joint.gaps.get(name)
    if sample is not None:
        found |= {
            "sampled_mean_mm": mm(float(sample.mean.mean())),
            "sampled_deviation_mm": mm(float(sample.deviation.mean())),
            "sampled_low_95_mm": mm(float(sample.low.min())),
            "sampled_high_95_mm": mm(float(sample.high.max())),
            "chance_not_below_0": None if name == STEP else round(float(sample.each.min()), 5),
        }
    return found


def _pairs(joint: JointPlan) -> list[Json]:
    solution, task = joint.solution, joint.task
    gaps = {name: values.tolist() for name, values in joint.simulated.gaps.items()}
    untested, tested = _samples(joint.untested), _samples(joint.tested)
    return [
        {
            "groove": task.grooved.labels[first],
            "tongue": task.tongued.marks[second],
            "clearance_per_side_mm": mm(clearance),
            "gaps_mm": {name: mm(values[k]) for name, values in gaps.items()},
            "at_printed_settings": untested[k],
            "after_trial_cuts": tested[k],
        }
        for k, (first, second, clearance) in enumerate(
            zip(solution.first, solution.second, solution.clearance.tolist(), strict=True)
        )
    ]


def _samples(chance: Chance) -> list[Json]:
    columns = (
        chance.each,
        chance.each_error,
        chance.mean,
        chance.deviation,
        chance.low,
        chance.high,
    )
    return [
        {
            "chance": round(each, 5),
            "standard_error": round(error, 5),
            "mean_mm": mm(mean),
            "deviation_mm": mm(deviation),
            "low_95_mm": mm(low),
            "high_95_mm": mm(high),
        }
        for each, error, mean, deviation, low, high in zip(
            *(column.tolist() for column in columns), strict=True
        )
    ]


def _marks(way: Way) -> list[str]:
    cutters = (*way.groove.cutters, *way.tongue.cutters)
    return list(dict.fromkeys(cutter.mark for cutter in cutters))


def _way(way: Way, chosen: bool) -> Json:  # noqa: FBT001 - one of many is marked
    return {
        "groove": way.groove.name,
        "tongue": way.tongue.name,
        "cutters": _marks(way),
        "chosen": chosen,
        "screened_chance_all_fit": round(way.chance, 4),
        "near_wanted_proportion": way.proportioned,
        "setup_count": way.setups,
        "pass_count": way.passes,
        "hazards": [hazard.kind for hazard in way.hazards],
    }


def setup_json(setup: Setup, reference: Reference) -> Json:
    """One setup; ``reference`` is what this maker measures the fence to."""
    return {
        "number": setup.number,
        "joint": setup.joint,
        "side": setup.side,
        "method": setup.method,
        "stage": setup.stage,
        "final": setup.final,
        "boards": list(setup.marks),
        "cutter": setup.cutter,
        "spindle_speed_rpm": setup.speed.speed_rpm,
        "speed_limit_rpm": setup.speed.limit_rpm,
        "speed_limit_source": setup.speed.source,
        "height": {"measured_to": setup.measured_to, **_setting(setup.height)},
        "cutter_top_above_table_mm": mm(setup.cutter_top),
        "fence_measured_to": setup.reference(reference),
        "fence_as_measured_mm": mm(setup.places.to(setup.reference(reference))),
        "fence": {"measured_to": "far edge", **_setting(setup.fence)},
        "fence_to_far_edge_mm": mm(setup.places.far_edge),
        "fence_to_axis_mm": mm(setup.places.axis),
        "fence_to_near_edge_mm": mm(setup.places.near_edge),
        "passes": [
            {
                "down": each.down,
                "against_fence": each.against,
                "feed": each.feed,
                "fresh_wall": each.fresh,
                "bite_up_mm": mm(each.bite_up),
                "bite_across_mm": mm(each.bite_across),
            }
            for each in setup.passes
        ],
        "check_readings": [_reading(reading) for reading in setup.readings],
        "hazards": [_hazard(hazard) for hazard in setup.hazards],
        "which_error_can_be_cured": setup.cure,
        "change_from_setup_before": _change(setup),
    }


def _setting(setting: Setting) -> Json:
    tolerance, working = setting.tolerance, setting.working
    return {
        "true_mm": mm(setting.true),
        "gauge_shows_mm": mm(setting.shows),
        "first_trial_at_mm": mm(setting.start),
        "first_trial_gauge_shows_mm": mm(setting.start_shows),
        "tolerance": (
            None
            if tolerance is None
            else {
                "low_mm": mm(tolerance.low),
                "high_mm": mm(tolerance.high),
                "bounded_by": tolerance.gap,
            }
        ),
        "working": (
            None
            if working is None
            else {
                "terms": [{"what": what, "mm": mm(value)} for what, value in working.terms],
                "divided_by": round(working.divisor, 6),
            }
        ),
    }


def _reading(reading: CheckReading) -> Json:
    correction = reading.correction
    return {
        "what": reading.what,
        "trial_piece_thickness_mm": mm(reading.thickness),
        "trial_piece_is_so": reading.size_word,
        "calipers_show_for_trial_piece_mm": mm(reading.thickness_shows),
        "should_be_mm": mm(reading.reads),
        "calipers_show_mm": mm(reading.shows),
        "leave_alone_within_mm": mm(reading.leave),
        "more_per_mm_of_thickness_mm": mm(reading.per_thickness),
        "correction": (
            None
            if correction is None
            else {
                "move": correction.quantity,
                "if_more": correction.more,
                "share_of_difference": round(correction.share, 6),
            }
        ),
    }


def _hazard(hazard: Hazard) -> Mapping[str, str]:
    return {
        "kind": hazard.kind,
        "severity": hazard.severity,
        "text": hazard.said(writer(MILLIMETRES)),
    }


def _change(setup: Setup) -> Json | None:
    change = setup.change
    if change is None:
        return None
    return {
        "raised_mm": mm(change.raised),
        "turns_of_the_lift": None if change.turns is None else round(change.turns, 4),
        "fence_to_far_edge_grows_mm": mm(change.fence),
        "fence_moves": change.fence_way,
        "fence_end_moves_mm": None if change.fence_end is None else mm(abs(change.fence_end)),
    }
