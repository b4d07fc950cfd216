"""Season charts of a plan: its rows of boards, framed panels and drawers, month by month."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from faywright.drawing.season_year import Course, Joints, Year
from faywright.piece.plan import Plan
from faywright.timber.climate import Climate, StatedMoisture
from faywright.timber.framed import FramedPanel
from faywright.timber.rows import Row
from faywright.timber.year import Expected


def years(plan: Plan) -> Iterator[Year]:
    """One for each row of boards and each framed panel that can be made."""
    asked = plan.piece.climate
    if asked is None:
        return
    for row in plan.rows:
        if isinstance(row.row, Row):
            assembly = StatedMoisture(row.assembled)
            climate = replace(asked.climate, assembly=assembly)
            yield _of_row(f"{row.name}: the row through the year", row.row, climate)
    for framed in plan.framed:
        yield _of_panel(f"{framed.name}: the panel through the year", framed.panel, asked.climate)


def _of_row(title: str, row: Row, climate: Climate) -> Year:
    months = row.by_month
    joints = None
    if row.at_joints:
        widest = [max(month.openings, key=lambda each: each.size) for month in months]
        engaged = row.task.tongue or None
        joints = Joints(opening=_course(widest), laid=row.gap, limit=engaged)
    return _year(title, climate, _course([month.wood for month in months]), row.wood, joints)


def _of_panel(title: str, panel: FramedPanel, climate: Climate) -> Year:
    course = _course([month.size for month in panel.by_month])
    return _year(title, climate, course, panel.across, None)


def _year(title: str, climate: Climate, width: Course, made: float, joints: Joints | None) -> Year:
    return Year(
        title=title,
        moisture=tuple(climate.room.moisture_by_month.tolist()),
        assembly_moisture=climate.assembly.moisture,
        assembly_month_index=None,
        width=width,
        made=made,
        joints=joints,
    )


def _course(sizes: Sequence[Expected]) -> Course:
    return Course(
        mean=tuple(each.size for each in sizes),
        low=tuple(each.low for each in sizes),
        high=tuple(each.high for each in sizes),
    )
