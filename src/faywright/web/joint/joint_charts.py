"""Charts of a joint, each with what it shows in words and figures beside it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from faywright.drawing.clearances import clearances
from faywright.drawing.error_bars import error_bars
from faywright.drawing.joint_strips import joint_strips
from faywright.drawing.model import Drawing
from faywright.drawing.season_chart import season_chart
from faywright.drawing.years import years
from faywright.lengths import LengthStyle
from faywright.piece.panel_words import row_decisions, row_words
from faywright.piece.plan import Plan, assembled
from faywright.piece.season_words import season_lines
from faywright.piece.words import finer, writer
from faywright.timber.rows import ShortPile
from faywright.web.desk import desk
from faywright.web.joint.joint_at import JointAt


@dataclass(frozen=True, eq=False)
class Chart:
    """A drawing, and the same in words."""

    title: str
    drawing: Drawing
    words: tuple[str, ...] = ()


@dataclass(frozen=True, eq=False)
class Charts:
    """Charts that stand together, with what is said of all of them."""

    charts: tuple[Chart, ...]
    words: tuple[str, ...] = ()


def charts_of(at: JointAt) -> Charts:
    """Gaps against their band, boards by thickness, and where the errors come from."""
    joint, style = desk().planner.joint(at.ground, at.wanted), at.style
    over = {verdict.mark: verdict.over for verdict in joint.verdicts}
    strips = joint_strips(joint.solution, joint.setups, style=style, over=over)
    title = f"{at.name}: where the errors come from"
    errors = error_bars(joint.budget, joint.solution.band, title=title, style=style)
    return Charts(
        (
            _chart("Clearance of every pair of boards", clearances(joint, style=style)),
            *(_chart("Boards by thickness, and what serves them", strip) for strip in strips),
            _chart("Where the errors come from", errors),
        )
    )


def _chart(title: str, drawing: Drawing) -> Chart:
    return Chart(title, drawing, (drawing.description,))


def seasons_of(at: JointAt) -> Charts:
    """What the year does to the joint, and to the row of boards it joins."""
    write, fine = writer(at.style), finer(at.style)
    plan = _alone(at)
    words = season_lines(plan.joints[0], write, panel=next((row.name for row in plan.rows), None))
    for row in plan.rows:
        words += row_decisions(row, write)
        if not isinstance(row.row, ShortPile):
            words += row_words(row.row, write, fine=fine, marks=row.marks)
    return Charts(year_charts(plan, at.style), tuple(words))


def year_charts(plan: Plan, style: LengthStyle) -> tuple[Chart, ...]:
    """Each row of boards and framed panel of a plan, month by month."""
    return tuple(_chart(year.title, season_chart(year, style=style)) for year in years(plan))


def _alone(at: JointAt) -> Plan:
    """The plan of nothing but this joint, and the rows it joins."""
    piece = replace(
        at.ground.piece,
        joints=(at.wanted,),
        panels=tuple(each for each in at.ground.piece.panels if each.joint == at.name),
        shelves=(),
        framed=(),
        drawers=(),
    )
    joint = desk().planner.joint(at.ground, at.wanted)
    return assembled(piece, at.ground.known.shop, [joint])
