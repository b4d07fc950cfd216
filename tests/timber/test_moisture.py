from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from faywright.errors import RangeError
from faywright.timber.moisture import (
    COLDEST,
    DAMPEST,
    EQUILIBRIUM_LIMIT,
    HOTTEST,
    HYSTERESIS,
    Floats,
    MeterReading,
    celsius,
    equilibrium_moisture,
    humidity_at_rest,
    require_air,
)
from tests.strategies import STEADY

temperatures = st.floats(COLDEST, HOTTEST)
humidities = st.floats(0, DAMPEST)


@STEADY
@given(temperatures, humidities, humidities)
def test_damper_air_makes_wetter_wood(temperature: float, one: float, two: float) -> None:
    dry, damp = sorted([one, two])
    drier, wetter = (equilibrium_moisture(temperature, humidity) for humidity in (dry, damp))
    assert drier <= wetter
    assert drier < wetter or damp - dry < 1e-9


@STEADY
@given(temperatures, humidities)
def test_the_moisture_tells_the_humidity_it_came_from(temperature: float, humidity: float) -> None:
    moisture = equilibrium_moisture(temperature, humidity)
    assert humidity_at_rest(temperature, moisture) == pytest.approx(humidity, abs=1e-9)


@STEADY
@given(st.lists(st.tuples(temperatures, humidities), min_size=1, max_size=20))
def test_an_array_has_the_figures_of_its_entries(airs: list[tuple[float, float]]) -> None:
    table = np.array(airs)
    moistures = equilibrium_moisture(table[:, 0], table[:, 1])
    assert moistures.tolist() == [equilibrium_moisture(*air) for air in airs]
    back = humidity_at_rest(table[:, 0], moistures)
    assert back.tolist() == pytest.approx([humidity for _, humidity in airs], abs=1e-9)


def test_the_humidity_is_found_all_over_the_range() -> None:
    temperature, humidity = np.meshgrid(
        np.linspace(COLDEST, HOTTEST, 60), np.linspace(0, DAMPEST, 197)
    )
    moisture = equilibrium_moisture(temperature, humidity)
    assert np.abs(humidity_at_rest(temperature, moisture) - humidity).max() < 1e-9


def test_one_temperature_does_for_many_humidities_and_the_other_way_round() -> None:
    humidity, temperature = np.array([35.0, 65.0]), np.array([10.0, 20.0, 30.0])
    assert equilibrium_moisture(20, humidity)[1] == equilibrium_moisture(20, 65)
    assert equilibrium_moisture(temperature, 65.0)[1] == equilibrium_moisture(20, 65)
    assert humidity_at_rest(20, np.array([8.0, 12.0]))[1] == humidity_at_rest(20, 12)
    assert humidity_at_rest(temperature, 12.0)[1] == humidity_at_rest(20, 12)


def test_single_figures_give_plain_floats() -> None:
    assert type(equilibrium_moisture(20, 65)) is float
    assert type(humidity_at_rest(20, 12)) is float


@pytest.mark.parametrize("temperature", [0.0, 20.0, 60.0])
def test_air_without_any_water_dries_wood_wholly(temperature: float) -> None:
    assert equilibrium_moisture(temperature, 0) == 0
    assert humidity_at_rest(temperature, 0) == pytest.approx(0, abs=1e-9)


def test_warmer_air_of_the_same_humidity_dries_wood() -> None:
    moistures = equilibrium_moisture(np.arange(10.0, 90.0, 5.0), 65.0)
    assert np.all(np.diff(moistures) < 0)


def test_below_freezing_the_moisture_hardly_changes() -> None:
    """What the message for frost says, as far down as the equation may be asked."""
    at_freezing = equilibrium_moisture(0, 80)
    assert equilibrium_moisture(COLDEST, 80) == pytest.approx(at_freezing, abs=0.05)


@pytest.mark.parametrize(
    ("fahrenheit", "degrees"), [(32, 0), (212, 100), (-40, -40), (70, 21.1111)]
)
def test_degrees_fahrenheit_are_turned_to_celsius(fahrenheit: float, degrees: float) -> None:
    assert celsius(fahrenheit) == pytest.approx(degrees, abs=0.0001)


@pytest.mark.parametrize(
    ("temperature", "humidity", "said"),
    [
        (20, 104, r"^equilibrium moisture: relative humidity of 104 % is outside 0 to 98 %"),
        (20, 98.1, r"humidity of 98\.1 % is outside .*at most 98: .* liquid water"),
        (20, -1, r"humidity of -1 % is outside 0 to 98 %"),
        (20, math.nan, r"humidity of nan % is outside 0 to 98 %"),
        (-1.2, 50, r"temperature of -1\.2 deg C is outside -1\.1 to 93\.3 deg C .*in frost give"),
        (93.4, 50, r"temperature of 93\.4 deg C is outside .* \(30 to 200 deg F\)\. Give deg C"),
        (math.inf, 50, r"temperature of inf deg C"),
        (math.nan, 50, r"temperature of nan deg C"),
    ],
)
def test_air_that_the_equation_does_not_cover_is_refused(
    temperature: float, humidity: float, said: str
) -> None:
    with pytest.raises(RangeError, match=said):
        equilibrium_moisture(temperature, humidity)


def test_the_ends_of_the_range_will_do() -> None:
    assert 0 < equilibrium_moisture(HOTTEST, DAMPEST) < equilibrium_moisture(COLDEST, DAMPEST) < 30


@pytest.mark.parametrize(
    ("temperatures", "humidities", "said"),
    [
        ([20.0, 20.0, 20.0], [50.0, 60.0, 999.0], r"moisture, entry 3 of 3: .* of 999 %"),
        ([20.0, 95.0, -5.0], [50.0, 60.0, 70.0], r"moisture, entry 2 of 3: .* of 95 deg C"),
    ],
)
def test_of_an_array_the_first_wrong_entry_is_named(
    temperatures: list[float], humidities: list[float], said: str
) -> None:
    with pytest.raises(RangeError, match=said):
        equilibrium_moisture(np.array(temperatures), np.array(humidities))


@pytest.mark.parametrize("moisture", [-0.1, 27.0, math.nan])
def test_moisture_that_no_air_gives_is_refused(moisture: float) -> None:
    with pytest.raises(RangeError, match=rf"humidity at rest: moisture of {moisture:g} % is not"):
        humidity_at_rest(20, moisture)


def test_of_many_moistures_the_first_that_no_air_gives_is_named() -> None:
    given: Floats = np.array([8.0, 31.0, 40.0])
    with pytest.raises(RangeError, match=r"entry 2 of 3: moisture of 31 %"):
        humidity_at_rest(np.array([20.0, 20.0, 20.0]), given)


def test_a_temperature_out_of_range_has_no_humidity_either() -> None:
    with pytest.raises(RangeError, match=r"^humidity at rest: temperature of -10 deg C"):
        humidity_at_rest(-10, 8)


def test_checked_air_is_named_by_the_caller() -> None:
    with pytest.raises(RangeError, match=r"^parlour: relative humidity of 120 %"):
        require_air(np.array(20.0), np.array(120.0), where="parlour")


def test_drying_and_wetting_rest_no_farther_from_the_equation_than_half_their_distance() -> None:
    assert HYSTERESIS[0] < HYSTERESIS[1] == 2 * EQUILIBRIUM_LIMIT


# Moisture meters


def test_a_meter_is_taken_at_its_word_at_the_temperature_of_its_calibration() -> None:
    assert MeterReading(shown=9.5).moisture == 9.5
    assert MeterReading(shown=9.5, wood_c=24, calibrated_c=24).moisture == 9.5


def test_cold_wood_is_wetter_than_the_meter_shows_and_warm_wood_drier() -> None:
    assert MeterReading(shown=10, wood_c=3.2).moisture == pytest.approx(11.5)
    assert MeterReading(shown=10, wood_c=25.6).moisture == pytest.approx(9.5)


def test_a_meter_is_known_to_a_rectangle_of_1_percent_either_way() -> None:
    assert MeterReading(shown=10).standard_uncertainty == pytest.approx(1 / math.sqrt(3))


@pytest.mark.parametrize(
    ("shown", "said"),
    [
        (5.9, r"^moisture meter: 5\.9 % is below 6 %, .* too little .* Give temperature and"),
        (0, r"^moisture meter: 0 % is below 6 %"),
        (30.1, r"^moisture meter: 30\.1 % is above 30 %, near fibre saturation.* Let the wood dry"),
        (math.nan, r"^moisture meter: nan % is above 30 %"),
    ],
)
def test_a_reading_off_the_scale_is_refused_and_told_why(shown: float, said: str) -> None:
    with pytest.raises(RangeError, match=said):
        MeterReading(shown=shown)


@pytest.mark.parametrize("shown", [6.0, 30.0])
def test_a_reading_at_either_end_of_the_scale_will_do(shown: float) -> None:
    assert MeterReading(shown=shown).moisture == shown


@pytest.mark.parametrize(
    ("wood", "calibrated", "said"),
    [
        (-3, 20, r"wood temperature of -3 deg C is outside 0 to 50 deg C"),
        (68, 20, r"wood temperature of 68 deg C .* give deg C"),
        (20, 70, r"calibration temperature of 70 deg C"),
        (math.nan, 20, r"wood temperature of nan deg C"),
    ],
)
def test_frozen_wood_and_degrees_fahrenheit_are_refused(
    wood: float, calibrated: float, said: str
) -> None:
    with pytest.raises(RangeError, match=said):
        MeterReading(shown=10, wood_c=wood, calibrated_c=calibrated)
