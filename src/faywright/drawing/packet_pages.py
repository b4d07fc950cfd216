"""The packet's other pages: what fits, what to prepare, and parts and charts to look things up."""

from __future__ import annotations

from collections.abc import Sequence

from faywright.drawing.error_bars import error_bars
from faywright.drawing.joint import joint_drawing
from faywright.drawing.joint_strips import joint_strips
from faywright.drawing.packet_sheet import Figures, Page, numbers_of, trial_piece
from faywright.drawing.part_section import part_section
from faywright.drawing.season_chart import season_chart
from faywright.drawing.tightest import Tightest
from faywright.drawing.years import years
from faywright.piece.plan import JointPlan
from faywright.piece.season_words import season_lines
from faywright.piece.strength_words import shelf_lines, strength_lines
from faywright.piece.summary import decisions, fit_lines, panel_lines, way_lines
from faywright.piece.words import at_least
from faywright.setups.holding import SHORTEST
from faywright.setups.setup import Setup

Sheet = tuple[Setup, tuple[Setup, ...]]
"""A final setup with those that clear for it."""


def first_page(figures: Figures, number: int) -> Page:
    """What fits and what needs a decision, for one joint; its drawings."""
    joint, write = figures.plan.joints[number], figures.write
    drawing = joint_drawing(joint.solution, joint.simulated, write=write)
    fits, *chances = fit_lines(joint, write)
    return {
        "name": joint.wanted.name,
        "kind": f"{joint.wanted.family}, {joint.wanted.fit.name} fit",
        "fits": fits,
        "chances": chances,
        "decide": decisions(joint, write),
        "how": way_lines(joint, write),
        "drawing": figures.keep(f"joint-{number + 1}", drawing),
        "parts": _parts(figures, joint, number),
        "charts": _charts(figures, joint, number),
    }


def _parts(figures: Figures, joint: JointPlan, number: int) -> list[Page]:
    """Each part's section at 1:1, to lay a trial piece on."""
    return [
        figures.keep(
            f"part-{number + 1}-{k}",
            part_section(
                cut.sections,
                cut.board,
                naming=cut.naming,
                write=figures.write,
                title=f"{joint.wanted.name}: {cut.role} of {cut.naming.name}",
                scale=1,
            ),
        )
        for k, cut in enumerate(Tightest(joint.solution, joint.simulated).boards, 1)
    ]


def _charts(figures: Figures, joint: JointPlan, number: int) -> list[Page]:
    """Boards by thickness with their groups, and what the errors come from."""
    style = figures.style
    over = {verdict.mark: verdict.over for verdict in joint.verdicts}
    strips = joint_strips(joint.solution, joint.setups, style=style, over=over)
    title = f"{joint.wanted.name}: where the errors come from"
    bars = error_bars(joint.budget, joint.solution.band, title=title, style=style)
    return [
        figures.keep(f"chart-{number + 1}-{k}", drawing)
        for k, drawing in enumerate((*strips, bars), 1)
    ]


def year_page(figures: Figures) -> list[Page]:
    """What the year does to joints, panels and shelves: words, then charts; none if not asked."""
    plan, write = figures.plan, figures.write
    found: list[Page] = []
    for joint in plan.joints:
        row = plan.row_of(joint)
        said = season_lines(joint, write, panel=None if row is None else row.name)
        if joint.strength is not None:
            said += strength_lines(joint.strength, write)
        if said:
            found.append({"title": f"Joint {joint.wanted.name}", "said": said})
    for title, lines in panel_lines(plan, write, figures.fine):
        found.append({"title": title.capitalize(), "said": lines})
    shelves = [
        {"title": f"Shelf: {shelf.name}", "said": shelf_lines(shelf, write)}
        for shelf in plan.shelves
    ]
    return [*found, *shelves]


def year_charts(figures: Figures) -> list[Page]:
    """Panels month by month."""
    return [
        figures.keep(f"year-{number}", season_chart(year, style=figures.style))
        for number, year in enumerate(years(figures.plan), 1)
    ]


def trial_rows(figures: Figures, sheets: Sequence[Sheet]) -> list[Page]:
    """Trial pieces to prepare: of the size each final setup is set for."""
    return [
        {
            "setup": numbers_of(setup, clearing),
            "what": f"{setup.joint}: {setup.stage}",
            "size": trial_piece(setup.readings[0], figures.write),
        }
        for setup, clearing in sheets
        if setup.readings
    ]


def trial_length(figures: Figures) -> str:
    """How long a trial piece has to be, to be fed by hand."""
    return at_least(figures.style)(SHORTEST)
