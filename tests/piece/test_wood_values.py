"""Moisture, humidity, temperature, rings and the state of the air, each way they are written."""

from __future__ import annotations

import pytest

from faywright.piece.values import UnreadError
from faywright.piece.wood_values import HUMIDITY, MOISTURE, RINGS, STATE, TEMPERATURE, percent
from faywright.timber.climate import Air, StatedMoisture


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        *((9, 9.0), (9.5, 9.5), ("9.5", 9.5), ("9,5", 9.5), ("9.5%", 9.5), (" 9.5 % ", 9.5)),
        *((4, 4.0), (30, 30.0), ("+12 %", 12.0)),
    ],
)
def test_moisture_may_be_written_so(written: object, meant: float) -> None:
    assert MOISTURE.read(written) == meant


@pytest.mark.parametrize(
    ("written", "what"),
    [
        (35, "moisture content of 35 % is not between 4 and 30 %"),
        (3.9, "moisture content of 3.9 % is not between 4 and 30 %"),
        ("-8 %", "moisture content of -8 % is not between 4 and 30 %"),
        ("8 C", "'8 C' is not a percentage"),
        ("dry", "'dry' is not a percentage"),
        ("8 % or so", "'8 % or so' is not a percentage"),
    ],
)
def test_moisture_that_dried_wood_has_not_is_refused(written: object, what: str) -> None:
    with pytest.raises(UnreadError) as caught:
        MOISTURE.read(written)
    assert caught.value.what == what
    assert caught.value.remedy == "Give moisture content in percent, from 4 to 30"


@pytest.mark.parametrize("written", [True, [8], {"moisture": 8}, float("nan"), float("inf")])
def test_what_is_no_number_is_no_moisture(written: object) -> None:
    with pytest.raises(UnreadError):
        MOISTURE.read(written)


@pytest.mark.parametrize(("written", "meant"), [(0, 0.0), (98, 98.0), ("45 %", 45.0)])
def test_humidity_may_be_written_so(written: object, meant: float) -> None:
    assert HUMIDITY.read(written) == meant


@pytest.mark.parametrize("written", [98.1, 120, -1, "101 %"])
def test_humidity_beyond_what_is_known_of_wood_is_refused(written: object) -> None:
    with pytest.raises(UnreadError, match=r"relative humidity of .* % is not between 0 and 98 %"):
        HUMIDITY.read(written)


def test_a_percentage_has_the_bounds_and_the_name_it_is_given() -> None:
    with pytest.raises(UnreadError, match=r"drift of 6 % is not between 0 and 5 %"):
        percent(0, 5, "drift").read(6)


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        *((20, 20.0), (-1.2, -1.2), (50, 50.0), ("20", 20.0), ("20 C", 20.0), ("20°c", 20.0)),
        *(("68 F", 20.0), ("68f", 20.0), ("50 °F", 10.0), ("31 F", -5 / 9), ("19,5 C", 19.5)),
    ],
)
def test_temperature_may_be_written_so(written: object, meant: float) -> None:
    assert TEMPERATURE.read(written) == pytest.approx(meant)


def test_a_temperature_without_sign_that_is_too_hot_may_be_fahrenheit() -> None:
    with pytest.raises(UnreadError, match=r"^68\.0 deg C is not between -1\.2 and 50") as caught:
        TEMPERATURE.read(68)
    assert caught.value.remedy.endswith('if Fahrenheit was meant, "68 F"')


@pytest.mark.parametrize(
    ("written", "what"),
    [
        ("68 C", r"68\.0 deg C is not between"),
        ("140 F", r"60\.0 deg C is not between"),
        ("20 F", r"-6\.7 deg C is not between"),
        ("20 %", "'20 %' is not a temperature"),
        ("warm", "'warm' is not a temperature"),
    ],
)
def test_other_temperatures_are_refused_with_the_ways_to_write_one(written: str, what: str) -> None:
    with pytest.raises(UnreadError, match=what) as caught:
        TEMPERATURE.read(written)
    assert caught.value.remedy == 'Give degrees Celsius as a number, or with a sign: "20 C", "68 F"'


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        *(("flat", "flat"), ("Flat-sawn", "flat"), ("quarter sawn", "quarter"), ("RIFT", "rift")),
        *(("riftsawn", "rift"), (0, 0.0), (90, 90.0), (27.5, 27.5), ("30", 30.0), ("30,5", 30.5)),
    ],
)
def test_rings_may_be_written_so(written: object, meant: object) -> None:
    assert RINGS.read(written) == meant


@pytest.mark.parametrize(
    ("written", "what"),
    [
        ("plain", "'plain' is not known"),
        ("", "nothing is written"),
        (91, "an angle of 91 degrees is not between 0 and 90"),
        (-1, "an angle of -1 degrees is not between 0 and 90"),
        ("nan", "an angle of nan degrees is not between 0 and 90"),
        (True, "true is a truth value, where a number belongs"),
    ],
)
def test_rings_of_no_board_are_refused(written: object, what: str) -> None:
    with pytest.raises(UnreadError) as caught:
        RINGS.read(written)
    assert caught.value.what == what


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("20 C 45 %", Air(20, 45)),
        ("68 F, 45 %", Air(20, 45)),
        ("20°C at 45%", Air(20, 45)),
        ("19,5 C / 45,5 %", Air(19.5, 45.5)),
        ("-1 C 80 %", Air(-1, 80)),
        ("8 %", StatedMoisture(8.0)),
        ("8", StatedMoisture(8.0)),
        (8.5, StatedMoisture(8.5)),
    ],
)
def test_air_or_moisture_may_be_written_so(written: object, meant: object) -> None:
    assert STATE.read(written) == meant


@pytest.mark.parametrize(
    "written", ["20 C 120 %", "68 C 45 %", "35 %", "20 C", "45 % 20 C", "damp"]
)
def test_no_air_and_no_moisture_is_refused(written: str) -> None:
    with pytest.raises(UnreadError):
        STATE.read(written)


@pytest.mark.parametrize("written", ["2.0.0 C 45 %", "1,2,3 C 4.5.6 %", ". C 45 %"])
def test_a_number_with_two_points_is_no_number(written: str) -> None:
    with pytest.raises(UnreadError):
        STATE.read(written)
