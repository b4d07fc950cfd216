"""One board through the year of a room, for its chart: nothing holds it, and nothing is joined."""

from __future__ import annotations

from faywright.drawing.season_year import Course, Year
from faywright.piece.timber_answer import Question, sawn
from faywright.piece.wood_values import Rings
from faywright.timber.climate import Room
from faywright.timber.figures import shrinkage_of
from faywright.timber.movement import across_width
from faywright.timber.year import expected


def board_year(asked: Question, room: Room, rings: Rings) -> Year:
    """The board of a question, as wide as asked at its start, then through the year in a room."""
    movement = across_width(shrinkage_of(asked.species), rings)
    moisture = tuple(room.moisture_by_month.tolist())
    sizes = [
        expected(asked.width, asked.width * movement.share(asked.start.moisture, each))
        for each in moisture
    ]
    return Year(
        title=f"{asked.species.name}, {sawn(rings)}: {room.name}",
        moisture=moisture,
        assembly_moisture=asked.start.moisture,
        assembly_month_index=None,
        width=Course(
            mean=tuple(each.size for each in sizes),
            low=tuple(each.low for each in sizes),
            high=tuple(each.high for each in sizes),
        ),
        made=asked.width,
        of="boards",
        when="measured",
    )
