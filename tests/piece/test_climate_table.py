"""``[climate]`` of a piece file: each way to tell it, and what is said of each mistake."""

from __future__ import annotations

import pytest

from faywright.errors import DocumentError
from faywright.piece.climate_table import DRIFT, PieceClimate
from faywright.piece.piece_file import piece_from_text
from faywright.timber.climate import Air, StatedMoisture, rooms
from faywright.timber.moisture import equilibrium_moisture

HEAD = 'faywright = "piece 1"\ntitle = "Bench"\n[climate]\n'
CUT = "cutting = { moisture = 9 }\n"
ROOM = 'room = "unheated porch"\n'
MOIST = "[9, 9, 9, 10, 11, 12, 13, 13, 12, 11, 10, 9]"


def climate(text: str) -> PieceClimate:
    found = piece_from_text(HEAD + text, file="piece.toml", folder=None).piece.climate
    assert found is not None
    return found


def faults(text: str) -> list[str]:
    """Every fault, from its line on; the table begins on line 3."""
    with pytest.raises(DocumentError) as caught:
        climate(text)
    return [str(fault).removeprefix("piece.toml:") for fault in caught.value.faults]


def test_a_piece_without_a_climate_has_none() -> None:
    text = 'faywright = "piece 1"\ntitle = "Bench"\n'
    assert piece_from_text(text, file="piece.toml", folder=None).piece.climate is None


# What can be said


def test_a_room_is_taken_by_its_name() -> None:
    found = climate(CUT + ROOM)
    assert found.climate.room is rooms()["unheated porch"]
    assert found.climate.machining == StatedMoisture(9.0)


def test_left_out_the_assembly_is_as_the_cutting_and_boards_drift_a_little() -> None:
    found = climate(CUT + ROOM)
    assert (found.drift, found.assembly_stated) == (DRIFT, False)
    assert found.climate.assembly == found.climate.machining


def test_a_meter_s_reading_is_brought_to_the_temperature_it_is_calibrated_for() -> None:
    found = climate('cutting = { meter = 9, wood = "8.8 C", calibrated = 20 }\n' + ROOM)
    # 0.5 % for each 5.6 deg C (Wood Handbook, FPL-GTR-190, chapter 13): twice that here.
    assert found.climate.machining.moisture == pytest.approx(10.0)


@pytest.mark.parametrize(
    ("cutting", "told"),
    [
        ("{ meter = 5 }", "5 % is below 6 %"),
        ("{ meter = 35 }", "35 % is above 30 %"),
        ("{ meter = 9, moisture = 9 }", "a meter's reading is given beside a moisture"),
        ("{ moisture = 9, wood = 8 }", "go with a meter's reading"),
    ],
)
def test_a_meter_s_reading_that_cannot_be_is_refused(cutting: str, told: str) -> None:
    assert any(told in fault for fault in faults(f"cutting = {cutting}\n" + ROOM))


def test_an_assembly_that_is_told_is_kept() -> None:
    found = climate(CUT + ROOM + 'assembly = { moisture = "11 %" }\ndrift = "0.2 %"\n')
    assert (found.climate.assembly.moisture, found.drift) == (11.0, 0.2)
    assert found.assembly_stated


@pytest.mark.parametrize(
    "air",
    [
        "{ temperature = 20, humidity = 50 }",
        '{ temperature = "68 F", humidity = "50 %" }',
        '{ temperature = "20 C", humidity = "50%" }',
    ],
)
def test_air_brings_wood_to_the_moisture_of_the_published_equation(air: str) -> None:
    found = climate(f"cutting = {air}\n{ROOM}")
    assert found.climate.machining == Air(20.0, 50.0)
    assert found.climate.machining.moisture == equilibrium_moisture(20.0, 50.0)


SEASONS = (
    '[[climate.season]]\nname = "cold"\nmonths = [10, 11, 12, 1, 2, 3]\nmoisture = 8\n'
    '[[climate.season]]\nname = "warm"\nmonths = [4, 5, 6, 7, 8, 9]\n'
    'temperature = 22\nhumidity = "65 %"\n'
)


def test_a_room_may_be_told_by_its_seasons() -> None:
    room = climate(CUT + SEASONS).climate.room
    assert (room.driest.name, room.driest.moisture) == ("cold", 8.0)
    assert (room.wettest.name, room.wettest.state) == ("warm", Air(22.0, 65.0))


def test_a_room_may_be_told_month_by_month_in_air() -> None:
    humidity = "[30, 30, 35, 40, 45, 50, 55, 55, 50, 40, 35, 30]"
    text = f"monthly = {{ temperature = [{'20, ' * 12}], humidity = {humidity} }}\n"
    room = climate(CUT + text).climate.room
    assert (room.driest.name, room.wettest.name) == ("January", "July")
    assert room.seasons[6].state == Air(20.0, 55.0)


def test_a_room_may_be_told_month_by_month_in_moisture() -> None:
    room = climate(f"{CUT}monthly = {{ moisture = {MOIST} }}\n").climate.room
    assert room.moisture_by_month.tolist() == [9, 9, 9, 10, 11, 12, 13, 13, 12, 11, 10, 9]


# What cannot

BROKEN: list[tuple[str, list[str]]] = [
    (
        "cutting = { temperature = 20, humidity = 120 }\n" + ROOM,
        [
            "4: climate.cutting.humidity: relative humidity of 120 % is not between 0 and 98 %. "
            "Give relative humidity in percent, from 0 to 98."
        ],
    ),
    (
        "cutting = { temperature = 68, humidity = 50 }\n" + ROOM,
        [
            "4: climate.cutting.temperature: 68.0 deg C is not between -1.2 and 50 deg C. Give "
            'degrees Celsius as a number, or with a sign: "20 C", "68 F"; if Fahrenheit was '
            'meant, "68 F".'
        ],
    ),
    (
        "cutting = { moisture = 35 }\n" + ROOM,
        [
            "4: climate.cutting.moisture: moisture content of 35 % is not between 4 and 30 %. "
            "Give moisture content in percent, from 4 to 30."
        ],
    ),
    (
        "cutting = { moisture = 9, humidity = 50 }\n" + ROOM,
        ["4: climate.cutting: both a moisture and the air are given. Give one of them."],
    ),
    (
        "cutting = { humidity = 50 }\n" + ROOM,
        [
            "4: climate.cutting: neither a moisture nor temperature and humidity are given. "
            "Write { temperature = 19, humidity = 50 }, or { moisture = 9.5 }."
        ],
    ),
    (
        ROOM,
        [
            "3: climate.cutting: it is missing. Write cutting = { temperature = 19, "
            "humidity = 50 }, or { moisture = 9.5 }."
        ],
    ),
    (
        "cutting = 9\n" + ROOM,
        ["4: climate.cutting: 9 where a table belongs. Write cutting = { ... }."],
    ),
    (
        CUT + "assembly = { moisture = 2 }\n" + ROOM,
        [
            "5: climate.assembly.moisture: moisture content of 2 % is not between 4 and 30 %. "
            "Give moisture content in percent, from 4 to 30."
        ],
    ),
    (
        CUT + ROOM + "drift = 12\n",
        [
            "6: climate.drift: drift of moisture of 12 % is not between 0 and 5 %. Give drift of "
            "moisture in percent, from 0 to 5."
        ],
    ),
    (
        CUT + ROOM + "humidty = 50\n",
        [
            "6: climate.humidty: it is not a known key. Known here are assembly, cutting, drift, "
            "monthly, room, season."
        ],
    ),
]


@pytest.mark.parametrize(("text", "expected"), BROKEN)
def test_a_mistake_says_where_what_and_what_to_write(text: str, expected: list[str]) -> None:
    assert faults(text) == expected


def test_a_room_that_is_not_known_is_answered_with_the_name_it_is_like() -> None:
    (fault,) = faults(CUT + 'room = "unheated prch"\n')
    assert fault.startswith(
        "5: climate.room: no room called 'unheated prch'; \"unheated porch\" is like it. "
        'Use one of "heated room with cold winters", '
    )


def test_a_room_that_is_like_none_is_answered_with_all_names() -> None:
    (fault,) = faults(CUT + 'room = "moon"\n')
    assert all(f'"{name}"' in fault for name in rooms())


def test_the_year_is_to_be_told_in_one_way() -> None:
    (fault,) = faults(CUT)
    assert fault.startswith("3: climate: nothing says what the year is like in the room. Name one")
    (fault,) = faults(CUT + ROOM + f"monthly = {{ moisture = {MOIST} }}\n")
    assert fault.startswith("3: climate: room and monthly say what the year is like")


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("1, 2, 3]", "1, 2]", "March is in no season"),
        ("8, 9]", "8, 9, 10]", "October is in more than one season"),
        ("8, 9]", "8, 9, 13]", "there is no month 13"),
        ("8, 9]", "8, 9, 9]", "September is in more than one season"),
    ],
)
def test_each_month_is_in_one_season(old: str, new: str, said: str) -> None:
    (fault,) = faults(CUT + SEASONS.replace(old, new))
    assert fault == f"5: climate.season: {said}. Give each month from 1 to 12 to one season."


def test_a_season_with_a_fault_is_told_once() -> None:
    (fault,) = faults(CUT + SEASONS.replace("moisture = 8", "moisture = 80"))
    assert fault.startswith("8: season 1 (cold): moisture: moisture content of 80 % is not between")


@pytest.mark.parametrize(
    ("old", "new", "start"),
    [
        ("moisture = 8", "moisture = 8\nhumidity = 40", "5: season 1 (cold): both a moisture and"),
        ("temperature = 22\n", "", "9: season 2 (warm): neither a moisture nor"),
        ('name = "cold"\n', "", "5: season 1: name: it is missing. Add it"),
        ("[10, 11, 12, 1, 2, 3]", '["winter"]', "7: season 1 (cold): months[1]: 'winter' is text"),
        ("[10, 11, 12, 1, 2, 3]", "[]", "7: season 1 (cold): months: the list is empty"),
    ],
)
def test_a_season_is_told_whole(old: str, new: str, start: str) -> None:
    (fault,) = faults(CUT + SEASONS.replace(old, new))
    assert fault.startswith(start)


def test_no_seasons_are_no_year() -> None:
    (fault,) = faults(CUT + "season = []\n")
    assert fault.startswith("5: climate.season: January is in no season")


@pytest.mark.parametrize("count", [11, 13])
@pytest.mark.parametrize("key", ["moisture", "humidity"])
def test_a_table_of_months_has_twelve(key: str, count: int) -> None:
    (fault,) = faults(f"{CUT}monthly = {{ {key} = [{'9, ' * count}] }}\n")
    assert fault == (
        f"5: climate.monthly: {key} has {count} values. Give twelve values, January first."
    )


@pytest.mark.parametrize(
    ("told", "start"),
    [
        (f"moisture = {MOIST}, humidity = {MOIST}", "5: climate.monthly: both a moisture and the"),
        (f"humidity = {MOIST}", "5: climate.monthly: neither a moisture nor temperature and"),
        (
            f"moisture = {MOIST.replace('13, 13', '13, 130')}",
            "5: climate.monthly.moisture[8]: mois",
        ),
        ("", "5: climate.monthly: no list of months is given"),
    ],
)
def test_months_are_told_in_one_way_and_within_bounds(told: str, start: str) -> None:
    (fault,) = faults(f"{CUT}monthly = {{ {told} }}\n")
    assert fault.startswith(start)
