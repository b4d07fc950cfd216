"""The plan in words for a terminal, or to print as it is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from textwrap import wrap

from faywright.piece.panel_words import drawer_words, framed_words, row_decisions, row_words
from faywright.piece.plan import SURE, JointPlan, Plan, Verdict
from faywright.piece.season_words import season_decisions, season_lines
from faywright.piece.strength_words import shelf_lines, strength_decisions, strength_lines
from faywright.piece.way_words import (
    RANKED,
    effort,
    group_lines,
    order_lines,
    other_ways,
    refused_ways,
    room_lines,
    way_called,
)
from faywright.piece.words import (
    MEASURED,
    Write,
    at_least,
    beside,
    changed,
    check,
    cleared,
    cutter_called,
    fed,
    final_setups,
    finer,
    listed,
    measured_to,
    notes,
    percent,
    span,
    writer,
)
from faywright.setups.choice import Way
from faywright.setups.setup import Setting, Setup
from faywright.shop.cutters import Cutter
from faywright.timber.rows import ShortPile

WIDTH = 79
OTHERS = 3
"""How many of the ways not taken are shown."""

LEAST_SAMPLING = 0.05
"""Errors of sampling that would be printed as 0.0 in a hundred are not told."""


def summary(plan: Plan) -> str:
    """The whole plan: what fits, what to set, in which order, and what would hurt."""
    write = writer(plan.shop.habits.style)
    lines = [plan.piece.title.upper(), f"{plan.shop.title}, {plan.machine.mark}", ""]
    lines += learned_lines(plan, finer(plan.shop.habits.style))
    for number, joint in enumerate(plan.joints, 1):
        row = plan.row_of(joint)
        lines += _joint(number, joint, write, None if row is None else row.name)
    lines += _panels(plan)
    for shelf in plan.shelves:
        lines += _rule(f"SHELF: {shelf.name}")
        for each in shelf_lines(shelf, write):
            lines += _wrapped(each, first="  ", rest="    ")
        lines.append("")
    lines += _rule("SETUPS, in order of work")
    for setup, more in final_setups(plan.setups):
        lines += _setup(setup, more, plan, write)
    lines += _rule("EVERY TIME")
    for caution in plan.cautions:
        lines += _wrapped(caution.said(at_least(plan.shop.habits.style)), first="  - ", rest="    ")
    return "\n".join(line.rstrip() for line in lines) + "\n"


def learned_lines(plan: Plan, fine: Write) -> list[str]:
    """What trial cuts have taught that the plan goes by; empty where there is nothing."""
    if not plan.learned:
        return []
    lessons = [f"  {lesson.said(fine)}" for lesson in plan.learned]
    return ["Reckoned with what trial cuts have taught:", *lessons, ""]


def _panels(plan: Plan) -> Iterator[str]:
    """Rows, framed panels and drawers: what to make today, and what the year does to them."""
    style = plan.shop.habits.style
    for title, said in panel_lines(plan, writer(style), finer(style)):
        yield from _rule(title)
        for each in said:
            yield from _wrapped(each, first="  ", rest="    ")
        yield ""


def panel_lines(plan: Plan, write: Write, fine: Write) -> Iterator[tuple[str, list[str]]]:
    """A title and what is said under it, for each row, framed panel and drawer."""
    for row in plan.rows:
        found = [f"! {each}" for each in row_decisions(row, write)]
        if not isinstance(row.row, ShortPile):
            found += row_words(row.row, write, fine=fine, marks=row.marks)
        yield f"PANEL: {row.name}", found
    for framed in plan.framed:
        said = framed_words(framed.panel, write, fine=fine)
        yield f"FRAMED PANEL: {framed.name}", [*said, *_of_the_timber(framed.remarks)]
    for drawer in plan.drawers:
        said = drawer_words(drawer.fit, write, fine=fine)
        yield f"DRAWER: {drawer.name}", [*said, *_of_the_timber(drawer.remarks)]


def _of_the_timber(remarks: Sequence[str]) -> list[str]:
    return [f"Of the timber, {each}." for each in remarks]


def _rule(title: str) -> list[str]:
    return [f"{title} {'-' * (WIDTH - len(title) - 1)}"]


def _wrapped(text: str, *, first: str, rest: str) -> list[str]:
    return wrap(text, WIDTH, initial_indent=first, subsequent_indent=rest)


def _joint(number: int, joint: JointPlan, write: Write, panel: str | None) -> Iterator[str]:
    fit, solution = joint.wanted.fit, joint.solution
    yield from _rule(f"JOINT {number}: {joint.wanted.name}")
    low, high = solution.band
    yield from _wrapped(
        f"{joint.wanted.family}, {fit.name} fit: {span(low, high, write)} a side as cut, aim "
        f"{write(joint.task.target.play / 2)} ({fit.source.replace('-', ' ')})",
        first="  ",
        rest="  ",
    )
    yield ""
    count, *rest = fit_lines(joint, write)
    yield f"  {count}"
    for each in decisions(joint, write):
        yield from _wrapped(each, first="  ! ", rest="    ")
    for each in rest:
        yield from _wrapped(each, first="  ", rest="  ")
    yield ""
    for each in (*way_lines(joint, write), *season_lines(joint, write, panel=panel)):
        yield from _wrapped(each, first="  ", rest="    ")
    yield from _strength(joint, write)
    yield from _order(joint)
    yield from _groups(joint, write)
    yield from _other_ways(joint)
    yield ""


def fit_lines(joint: JointPlan, write: Write) -> list[str]:
    """How many pieces fit, how likely all joints are to, and what the errors come from."""
    good = [verdict for verdict in joint.verdicts if verdict.verdict == "fits"]
    joints = len(joint.solution.first) // (2 if joint.wanted.second_groove else 1)
    sampling = 200 * max(joint.tested.all_fit_error, joint.untested.all_fit_error)
    given = f" (give or take {sampling:.1f} in a hundred, for it is sampled)"
    found = [
        f"{len(good)} of {len(joint.verdicts)} pieces fit.",
        f"Chance that {_all(joints)} to fit: {percent(joint.tested.all_fit)} once a trial cut at "
        f"each setting is measured and corrected, {percent(joint.untested.all_fit)} without"
        f"{given if sampling >= LEAST_SAMPLING else ''}.",
    ]
    shares = [(source, share) for source, share in joint.budget.shares if share >= 0.01]
    if shares:
        named = ", ".join(f"{source} {100 * share:.0f} %" for source, share in shares)
        found.append(
            f"Before a trial cut the clearance may be off by "
            f"{write(float(joint.budget.expanded.mean()))} a side, 19 times in 20 less. It comes "
            f"from: {named}."
        )
    return found


def _all(joints: int) -> str:
    return "the joint is" if joints == 1 else f"all {joints} joints are"


def decisions(joint: JointPlan, write: Write) -> list[str]:
    """What has to be decided before cutting: boards that do not surely fit, faces not flush."""
    said: dict[str, list[str]] = {}
    for verdict in joint.verdicts:
        if verdict.verdict != "fits":
            said.setdefault(_misfit(verdict, joint, write), []).append(verdict.mark)
    found = [f"{listed(marks)}: {what}" for what, marks in said.items()]
    if not said and joint.tested.all_fit < SURE:
        source = joint.budget.shares[0][0]
        found.append(
            f"Every piece fits by itself, but all together only {percent(joint.tested.all_fit)}: "
            f"the most comes from {source}."
        )
    found += season_decisions(joint, write)
    found += strength_decisions(joint.strength)
    found += [
        f"{first} and {second}: faces A stand off by {write(off)}, for they differ too much to be "
        "flush"
        for first, second, off in joint.stand_offs
    ]
    return found


def _misfit(verdict: Verdict, joint: JointPlan, write: Write) -> str:
    if verdict.verdict == "doubtful":
        reason = f"doubtful, {percent(verdict.chance)} to fit"
        room = joint.solution.room
        if room is not None and verdict.spread > room / 2:
            reason += f"; the readings vary by {write(verdict.spread)} along the board"
        return reason
    word, thin = ("wide", "narrow") if joint.task.grooved.on_face else ("thick", "thin")
    limited = joint.wanted.most_settings is not None
    cure_thick = "Plane it, or allow one more setting" if limited else "Plane it"
    cure_thin = "Use it elsewhere, or allow one more setting" if limited else "Use it elsewhere"
    if verdict.over > 0:
        return f"{verdict.verdict}, {write(verdict.over)} too {word}. {cure_thick}"
    if verdict.over < 0:
        return f"{verdict.verdict}, {write(-verdict.over)} too {thin}. {cure_thin}"
    return "the joint leaves its band; see the sizes of groove and tongue"


def way_lines(joint: JointPlan, write: Write) -> list[str]:
    """How groove and tongue are cut, their sizes, and the gaps of the simulated parts."""
    solution = joint.solution
    groove, tongue = solution.groove, solution.tongue
    made = f" ({_cutters(tongue.cutters)})" if tongue.cutters else ""
    entered = "in the groove" if joint.task.strip else "long"
    found = [
        f"Groove: {groove.name} ({_cutters(groove.cutters)}), "
        f"{span(*solution.range_of(groove), write)} wide, "
        f"{write(joint.task.target.depth)} deep",
        f"Tongue: {tongue.name}{made}, {span(*solution.range_of(tongue), write)} thick, "
        f"{write(joint.task.target.length)} {entered}",
    ]
    if joint.task.strip_width is not None:
        found.append(f"Rip the strips {write(joint.task.strip_width)} wide.")
    gaps = "; ".join(
        f"{name} {span(float(values.min()), float(values.max()), write)}"
        for name, values in joint.simulated.gaps.items()
        if not name.endswith("shoulder")
    )
    found.append(f"Gaps measured on the simulated parts: {gaps}; shoulders closed.")
    return found


def _cutters(cutters: Sequence[Cutter]) -> str:
    return " and ".join(cutter.mark for cutter in cutters)


def _strength(joint: JointPlan, write: Write) -> Iterator[str]:
    if joint.strength is None:
        return
    for each in strength_lines(joint.strength, write):
        yield from _wrapped(each, first="  ", rest="    ")


def _order(joint: JointPlan) -> Iterator[str]:
    for said in order_lines(joint):
        yield from _wrapped(said, first="  ", rest="  ")


def _groups(joint: JointPlan, write: Write) -> Iterator[str]:
    for title, groups in group_lines(joint, write):
        yield f"  {title}:"
        for each in groups:
            yield from _wrapped(each, first="    ", rest="       ")
    for said in room_lines(joint, write):
        yield from _wrapped(said, first="  ", rest="  ")


def _other_ways(joint: JointPlan) -> Iterator[str]:
    chosen = joint.choice.chosen
    if joint.choice.forced:
        yield "  Taken because you asked for it."
    yield from _wrapped(
        f"{RANKED}: {_worth(chosen)}. Other ways:",
        first="  ",
        rest="  ",
    )
    for way in other_ways(joint)[:OTHERS]:
        yield from _wrapped(f"- {way_called(way)}: {_worth(way)}", first="    ", rest="      ")
    for refused in refused_ways(joint):
        yield from _wrapped(
            f"- never {refused.method}: {refused.why[0]}", first="    ", rest="      "
        )


def _worth(way: Way) -> str:
    off = "" if way.proportioned else ", off the usual proportion"
    return f"{percent(way.chance)}, {effort(way)}{off}"


def _setup(setup: Setup, clearing: tuple[Setup, ...], plan: Plan, write: Write) -> Iterator[str]:
    numbers = f"{clearing[0].number} to {setup.number}" if clearing else f"{setup.number}"
    yield from _wrapped(
        f"{numbers}  {setup.joint}: {setup.stage}, {cutter_called(setup, write)} at "
        f"{setup.speed.speed_rpm} rpm ({setup.speed.source})",
        first="",
        rest="   ",
    )
    yield from _wrapped(f"pieces: {listed(setup.marks)}", first="   ", rest="   ")
    height = setup.height
    yield from _number("Height", height.true, MEASURED[setup.measured_to], write)
    yield from _notes(height, 0.0, plan)
    yield from _fence(setup, plan, write)
    if clearing:
        first = "; ".join(cleared(setup, each, write) for each in clearing)
        yield from _wrapped(f"first clear at {first}", first="   ", rest="     ")
    for k, line in enumerate(fed(setup, write), 1):
        yield from _wrapped(f"pass {k}: {line}", first="   ", rest="     ")
    for reading in setup.readings:
        yield from _wrapped(f"check {check(reading, write)}", first="   ", rest="     ")
    if setup.cure:
        yield from _wrapped(f"remember: {setup.cure}", first="   ", rest="     ")
    if not clearing and setup.change is not None and (moved := changed(setup.change, write)):
        yield from _wrapped(f"from the setup before: {moved}", first="   ", rest="     ")
    for hazard in setup.hazards:
        lead = "DANGER" if hazard.severity == "danger" else "take care"
        yield from _wrapped(
            f"{lead}, {hazard.kind}: {hazard.said(write)}", first="   ", rest="     "
        )
    yield ""


def _fence(setup: Setup, plan: Plan, write: Write) -> Iterator[str]:
    """The fence to the edge this maker measures to, the other two beside it."""
    places = setup.places
    reference = setup.reference(plan.shop.habits.reference)
    yield from _number(
        "Fence", places.to(reference), f"fence {measured_to(setup, reference)}", write
    )
    yield from _wrapped(beside(setup, reference, write), first=" " * 23, rest=" " * 25)
    if reference != "far edge" and setup.fence.working is not None:
        yield f"{' ' * 23}the sum, to the far edge:"
    yield from _notes(setup.fence, places.to(reference) - places.far_edge, plan)


def _number(name: str, value: float, measured: str, write: Write) -> Iterator[str]:
    yield from _wrapped(f"{name:<7}{write(value):>10}   {measured}", first="   ", rest=" " * 23)


def _notes(setting: Setting, shift: float, plan: Plan) -> Iterator[str]:
    style = plan.shop.habits.style
    for note in notes(setting, shift, writer(style), finer(style)):
        yield from _wrapped(note, first=" " * 23, rest=" " * 25)
