"""Every drawing of a plan, each with the stem of the files that hold it."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property, partial

from faywright.drawing.along_feed import along_feed
from faywright.drawing.clearances import clearances
from faywright.drawing.error_bars import error_bars
from faywright.drawing.from_above import from_above
from faywright.drawing.joint import joint_drawing
from faywright.drawing.joint_strips import joint_strips
from faywright.drawing.model import Drawing
from faywright.drawing.part_section import Scale, part_section
from faywright.drawing.season_chart import season_chart
from faywright.drawing.tightest import CutBoard, Tightest
from faywright.drawing.years import years
from faywright.piece.plan import JointPlan, Plan
from faywright.piece.words import Write, writer

LONGEST_SLUG = 40
"""Characters kept of a name, so that no file system finds the file's name too long."""


@dataclass(frozen=True, eq=False)
class PlanDrawing:
    """One drawing; ``stem`` is plain ASCII, and no other drawing of the plan has it.

    ``cut`` is the board that a part's section shows, None for other drawings. A ``chart`` has no
    size that could be taken off it. It is drawn when it is asked for: a list of drawings, or one
    of them, need not draw them all.
    """

    stem: str
    draw: Callable[[], Drawing]
    cut: CutBoard | None = None
    chart: bool = False

    @cached_property
    def drawing(self) -> Drawing:
        """The drawing itself."""
        return self.draw()


def plan_drawings(plan: Plan, *, scale: Scale | None = None) -> Iterator[PlanDrawing]:
    """All drawings of ``plan``, joint by joint: the joint, its parts, charts, and its setups.

    ``scale`` is that of the sections of parts: 1 for 1:1, 2 for 2:1; if not given, it is as large
    as their thickness lets it be. Setups that clear the way for another are drawn as well.
    """
    write = writer(plan.shop.habits.style)
    for number, joint in enumerate(plan.joints, 1):
        stem = f"joint-{number}{slug(joint.wanted.name)}"
        yield PlanDrawing(
            stem, partial(joint_drawing, joint.solution, joint.simulated, write=write)
        )
        yield from _parts(joint, stem, write, scale)
        yield from _charts(plan, joint, stem)
        yield from _setups(plan, joint, write)
    for number, year in enumerate(years(plan), 1):
        chart = partial(season_chart, year, style=plan.shop.habits.style)
        yield PlanDrawing(f"year-{number}{slug(year.title.split(':')[0])}", chart, chart=True)


def slug(name: str) -> str:
    """A name as part of a file name, with a dash before it; empty where nothing is left of it.

    Examples
    --------
    >>> slug("Lådor, höger sida")
    '-lador-hoger-sida'
    """
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    words = re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")[:LONGEST_SLUG].rstrip("-")
    return f"-{words}" if words else ""


def _parts(joint: JointPlan, stem: str, write: Write, scale: Scale | None) -> Iterator[PlanDrawing]:
    for cut in Tightest(joint.solution, joint.simulated).boards:
        of = "" if cut.role == "strip" else "of "
        drawing = partial(
            part_section,
            cut.sections,
            cut.board,
            naming=cut.naming,
            write=write,
            title=f"{joint.wanted.name}: {cut.role} {of}{cut.naming.name}",
            scale=scale,
        )
        yield PlanDrawing(f"{stem}-{cut.role.replace(' ', '-')}", drawing, cut)


def _charts(plan: Plan, joint: JointPlan, stem: str) -> Iterator[PlanDrawing]:
    style = plan.shop.habits.style
    over = {verdict.mark: verdict.over for verdict in joint.verdicts}
    strips = joint_strips(joint.solution, joint.setups, style=style, over=over)
    for number, strip in enumerate(strips, 1):
        which = f"-{number}" if len(strips) > 1 else ""
        yield PlanDrawing(f"{stem}-by-thickness{which}", partial(_drawn, strip), chart=True)
    spread = partial(clearances, joint, style=style)
    yield PlanDrawing(f"{stem}-clearances", spread, chart=True)
    title = f"{joint.wanted.name}: where the errors come from"
    bars = partial(error_bars, joint.budget, joint.solution.band, title=title, style=style)
    yield PlanDrawing(f"{stem}-errors", bars, chart=True)


def _setups(plan: Plan, joint: JointPlan, write: Write) -> Iterator[PlanDrawing]:
    digits = len(str(len(plan.setups)))
    for setup in joint.setups:
        work = joint.task.work(setup.side)
        reference = setup.reference(plan.shop.habits.reference)
        along = partial(along_feed, setup, work, plan.machine, write=write, reference=reference)
        stem = f"setup-{setup.number:0{digits}}"
        yield PlanDrawing(f"{stem}-along-feed", along)
        above = partial(from_above, setup, work, plan.machine, style=plan.shop.habits.style)
        yield PlanDrawing(f"{stem}-from-above", above)


def _drawn(drawing: Drawing) -> Drawing:
    """One whose number among its like is only known when it is drawn."""
    return drawing
