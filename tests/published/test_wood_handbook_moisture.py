"""Wood Handbook, FPL-GTR-190 (2010), chapter 4: table 4-2 and what is said of it.

The table stands in ``data/emc_table.csv``, with its source.
"""

import csv
from pathlib import Path

import numpy as np
import pytest

from faywright.timber.moisture import MeterReading, celsius, equilibrium_moisture

TABLE = Path(__file__).parent / "data" / "emc_table.csv"
ACCEPTED = 0.1  # % of moisture; half of the last printed digit, and as much for the fit


def cells() -> list[tuple[float, float, float]]:
    """Temperature [deg F], relative humidity [%] and moisture content [%] as printed."""
    with TABLE.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    return [
        (float(row["temp_F"]), float(column.removeprefix("rh_")), float(cell))
        for row in rows
        for column, cell in row.items()
        if column.startswith("rh_") and cell
    ]


CELLS = cells()


def differences() -> list[float]:
    return [equilibrium_moisture(celsius(t), h) - printed for t, h, printed in CELLS]


def test_the_table_is_read() -> None:
    assert len(CELLS) > 200
    assert (70.0, 65.0, 12.0) in CELLS
    assert min(t for t, _, _ in CELLS) == 30
    assert max(t for t, _, _ in CELLS) == 200


@pytest.mark.parametrize(("fahrenheit", "humidity", "printed"), CELLS)
def test_table_4_2(fahrenheit: float, humidity: float, printed: float) -> None:
    moisture = equilibrium_moisture(celsius(fahrenheit), humidity)
    assert moisture == pytest.approx(printed, abs=ACCEPTED)


def test_the_mean_difference_is_what_rounding_to_one_decimal_makes() -> None:
    off = np.abs(differences())
    assert off.mean() == pytest.approx(0.025, abs=0.003)
    assert off.max() < 0.06
    assert abs(np.mean(differences())) < 0.005


def test_one_wrong_coefficient_would_show() -> None:
    """The table tells 1 % of the moisture apart, so that the acceptance above means something."""
    off = [abs(1.01 * equilibrium_moisture(celsius(t), h) - printed) for t, h, printed in CELLS]
    assert max(off) > ACCEPTED


@pytest.mark.parametrize(("humidity", "moisture"), [(30, 6), (50, 9), (65, 12), (80, 16)])
def test_the_trades_rule_of_thumb_at_room_temperature(humidity: float, moisture: float) -> None:
    """Common practice, seen in a trade reference text that repeats it."""
    assert equilibrium_moisture(celsius(70), humidity) == pytest.approx(moisture, abs=0.3)


def test_about_5_percent_of_humidity_make_1_percent_of_moisture() -> None:
    """Common practice, from the same text."""
    steps = (equilibrium_moisture(20, 65) - equilibrium_moisture(20, 30)) / 7
    assert steps == pytest.approx(1, abs=0.2)


@pytest.mark.parametrize(("tens_colder", "added"), [(0, 0.0), (1, 0.5), (2, 1.0), (-1, -0.5)])
def test_chapter_13_adds_half_a_percent_for_each_10_deg_f_colder(
    tens_colder: int, added: float
) -> None:
    meter = MeterReading(
        shown=10.0, wood_c=celsius(70 - 10 * tens_colder), calibrated_c=celsius(70)
    )
    assert meter.moisture == pytest.approx(10 + added, abs=0.01)
