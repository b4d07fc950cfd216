"""How much will this timber move? By a timber whose figures are easy to reckon with."""

from __future__ import annotations

import pytest

from faywright.errors import InputError
from faywright.piece.timber_answer import (
    FORMAT,
    Question,
    answer_json,
    answer_lines,
    question,
    room_lines,
)
from faywright.timber.climate import Air, StatedMoisture, rooms
from faywright.timber.species import Species, own_species

EVEN = own_species("Even wood", {"c_radial": 0.002, "c_tangential": 0.004}, group="hardwood")


def asked(
    species: str = "even wood",
    *,
    start: str | None = "10 %",
    end: str | None = "13 %",
    width: str = "200 mm",
    rings: str | None = None,
    own: tuple[Species, ...] = (EVEN,),
) -> Question:
    return question(species, start=start, end=end, width=width, rings=rings, own=own)


def said(found: Question) -> str:
    return "\n".join(answer_lines(found, "{:.2f} mm".format))


# The question


def test_the_makers_own_timber_comes_first() -> None:
    assert asked().species is EVEN
    mine = own_species("White oak", {"c_radial": 0.001, "c_tangential": 0.002}, group="hardwood")
    assert asked("white oak", own=(mine,)).species is mine


def test_air_and_moisture_are_read_as_they_are_written() -> None:
    found = asked(start="68 F 45 %", end="8")
    assert (found.start, found.end) == (Air(20.0, 45.0), StatedMoisture(8.0))


@pytest.mark.parametrize(
    ("width", "length", "style"),
    [
        ("200", 200.0, "mm"),
        ("20 cm", 200.0, "mm"),
        ("8 in", 203.2, "decimal inch"),
        ("1 ft", 304.8, "decimal inch"),
        ('8"', 203.2, "decimal inch"),
    ],
)
def test_the_answer_has_the_unit_of_the_width(width: str, length: float, style: str) -> None:
    found = asked(width=width)
    assert found.width == pytest.approx(length)
    assert found.style.style == style


def test_without_rings_every_way_of_sawing_is_answered() -> None:
    assert asked().ways == ("flat", "rift", "quarter")
    assert asked(rings="quarter-sawn").ways == ("quarter",)
    assert asked(rings="30").ways == (30.0,)


def test_without_a_start_and_an_end_a_year_of_the_first_room_is_meant() -> None:
    room = next(iter(rooms().values()))
    found = asked(start=None, end=None)
    assert found.start.moisture == room.driest.moisture
    assert found.end.moisture == room.wettest.moisture


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        ({"start": None}, r"--from: only one end is given\. Give both, or neither\."),
        ({"end": None}, r"--to: only one end is given\. Give both, or neither\."),
        ({"start": "20 C 120 %"}, r"--from: relative humidity of 120 % is not between 0 and 98 %"),
        ({"end": "68 C 45 %"}, r"--to: 68\.0 deg C is not between"),
        ({"end": "35 %"}, r"--to: moisture content of 35 % is not between 4 and 30 %\. Give the a"),
        ({"width": "wide"}, r"--width: 'wide': "),
        ({"width": "-4 in"}, r"--width: a board -4 in wide is none\. Give its width above 0"),
        (
            {"rings": "plain"},
            r"--rings: 'plain' is not known\. Use \"flat\", \"rift\", \"quarter\"",
        ),
    ],
)
def test_what_cannot_be_read_is_told_by_its_option(
    wrong: dict[str, str | None], message: str
) -> None:
    text: dict[str, str | None] = {"start": "10 %", "end": "13 %", "rings": None} | wrong
    width = text.pop("width", None) or "200 mm"
    with pytest.raises(InputError, match=message):
        question("even wood", width=width, own=(EVEN,), **text)


@pytest.mark.parametrize(
    ("name", "message"), [("ash", "'ash' may mean"), ("evn wood", "Did you mean Even wood")]
)
def test_a_timber_that_is_not_known_is_told(name: str, message: str) -> None:
    with pytest.raises(InputError, match=message):
        asked(name)


# The answer, for 200 mm from 10 to 13 %


def test_a_flat_board_moves_along_its_rings_and_a_quarter_board_across_them() -> None:
    found = asked()
    assert found.width_change("flat") == pytest.approx(200 * 0.004 * 3)
    assert found.width_change("rift") == pytest.approx(200 * 0.003 * 3)
    assert found.width_change("quarter") == pytest.approx(200 * 0.002 * 3)
    assert found.thickness_share("flat") == pytest.approx(0.002 * 3)
    assert found.thickness_share("quarter") == pytest.approx(0.004 * 3)


def test_the_answer_tells_the_change_and_how_sure_it_is() -> None:
    text = said(asked(rings="flat"))
    assert text.splitlines()[:3] == [
        "Even wood",
        "  from 10 % to 13 %: moisture 10.0 to 13.0 %",
        "  flat-sawn, 200.00 mm wide: grows 2.40 mm (1.68 mm to 3.12 mm, 19 boards in 20); "
        "thickness +0.60 %",
    ]
    assert "c_tangential 0.004: your own figure" in text


def test_a_board_that_dries_shrinks_and_one_that_does_not_keeps_its_width() -> None:
    assert "shrinks 2.40 mm (1.68 mm to 3.12 mm" in said(asked(start="10 %", end="7 %", rings="0"))
    assert "rings at 0 degrees" in said(asked(rings="0"))
    assert "keeps its width" in said(asked(end="10 %", rings="flat"))


def test_what_is_known_of_a_timbers_figures_is_told_with_both_answers() -> None:
    for found in (asked("sapele"), asked("sapele", start=None, end=None)):
        lines = room_lines if found.start.moisture < 8 else answer_lines
        assert "Note, Sapele: a European table has movement for it" in "\n".join(
            lines(found, "{:.2f} mm".format)
        )
    assert answer_json(asked("sapele"))["remarks"][0].startswith("Sapele: a European table")


def test_wood_wetter_than_fibre_saturation_shrinks_from_there() -> None:
    wet, full = (asked("western red cedar", start=start, end="10 %") for start in ("28 %", "22 %"))
    assert wet.width_change("flat") == full.width_change("flat")


def test_air_is_told_as_it_was_given() -> None:
    text = said(asked(start="20 C 45 %", rings="flat"))
    assert "from air of 20 C and 45 % to 13 %: moisture 8.5 to 13.0 %" in text


def test_figures_that_disagree_are_shown_both() -> None:
    odd = own_species(
        "Odd wood",
        {"c_radial": 0.002, "c_tangential": 0.004, "shrink_radial": 3.0, "shrink_tangential": 4.0},
        group="hardwood",
    )
    text = said(asked("odd wood", own=(odd,)))
    assert "Note, Odd wood: its coefficients and total shrinkages disagree" in text
    assert "disagree" not in said(asked())


def test_a_room_each_is_told_for_the_year() -> None:
    lines = list(room_lines(asked(start=None, end=None, rings="flat"), "{:.2f} mm".format))
    assert lines[0] == "Even wood, 200.00 mm wide, through the year"
    assert len(lines) == len(rooms()) + 5  # with two figures and what they are
    for line, (name, room) in zip(lines[1:], rooms().items(), strict=False):
        assert line.startswith(f"  {name}: {room.driest.moisture:.1f} % ({room.driest.name}) to ")
    assert "invented" in lines[-1]


def test_a_room_within_the_straight_part_is_reckoned_by_hand() -> None:
    dry, wet = rooms()["air-conditioned room"].driest, rooms()["air-conditioned room"].wettest
    assert 6 <= dry.moisture < wet.moisture <= 14
    sizes = [1 + 0.004 * (season.moisture - 10) for season in (dry, wet)]
    line = next(
        line
        for line in room_lines(asked(start=None, end=None, rings="flat"), "{:.2f} mm".format)
        if "air-conditioned" in line
    )
    assert line.endswith(f"it moves by flat-sawn {200 * (sizes[1] / sizes[0] - 1):.2f} mm")


def test_programs_are_told_in_millimetres_and_percent() -> None:
    found = answer_json(asked(rings="flat"))
    assert found["format"] == FORMAT
    assert (found["species"], found["botanical"], found["width_mm"]) == ("Even wood", None, 200.0)
    assert (found["moisture_from_percent"], found["moisture_to_percent"]) == (10.0, 13.0)
    assert found["boards"] == [
        {
            "rings": "flat",
            "width_grows_mm": 2.4,
            "width_grows_uncertainty_mm": 0.36,
            "thickness_grows_share": 0.006,
        }
    ]
    assert found["sources"] == {"c_radial": "your own figure", "c_tangential": "your own figure"}
