from __future__ import annotations

from itertools import combinations
from typing import get_args

import pytest

from faywright.errors import InputError, RangeError
from faywright.fit import Fit, fit_called, fits
from faywright.fit.bands import parse_fits
from faywright.shop import Timber

HEAD = "name,timber,aim,low,high,purpose,source,locator"
SNUG = "snug,softwood,0.18,0.08,0.28,a dry tongue,common-practice,"


def parsed(*rows: str) -> dict[tuple[str, str], Fit]:
    return parse_fits([HEAD, *rows], where="fits.csv")


def test_a_row_is_read_as_it_stands() -> None:
    fit = parsed(SNUG)["snug", "softwood"]
    assert (fit.name, fit.aim, fit.low, fit.high) == ("snug", 0.18, 0.08, 0.28)
    assert (fit.purpose, fit.source, fit.locator) == ("a dry tongue", "common-practice", "")


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("snug,softwood,,0.08,0.28,why,who,", "line 3: aim is ''"),
        ("snug,softwood,0.18,little,0.28,why,who,", "line 3: low is 'little'"),
        ("snug,softwood,0.18,0.08,0.28 mm,why,who,", "line 3: high is '0.28 mm'"),
        ("snug,softwood,0.18", "line 3: low is None"),
    ],
)
def test_a_clearance_that_is_no_number_is_refused_by_line_and_column(row: str, said: str) -> None:
    with pytest.raises(InputError, match=rf"^fits\.csv {said}\. Write a plain number"):
        parsed("tight,softwood,0.1,0,0.2,why,who,", row)


@pytest.mark.parametrize(
    ("row", "column"),
    [
        (",softwood,0.18,0.08,0.28,why,who,", "name"),
        ("snug,,0.18,0.08,0.28,why,who,", "timber"),
        ("snug,softwood,0.18,0.08,0.28,,who,", "purpose"),
        ("snug,softwood,0.18,0.08,0.28,why", "source"),
    ],
)
def test_a_blank_cell_is_refused_by_line_and_column(row: str, column: str) -> None:
    with pytest.raises(InputError, match=rf"^fits\.csv line 2: {column} is blank\. Fill every"):
        parsed(row)


def test_a_fit_listed_twice_for_a_timber_is_refused_by_line() -> None:
    with pytest.raises(InputError, match=r"line 3: snug for softwood is listed twice\. Keep one"):
        parsed(SNUG, SNUG)


@pytest.mark.parametrize("row", ["0.30,0.08,0.28", "nan,0.08,0.28", "0.1,-inf,0.28"])
def test_a_row_that_makes_no_band_is_refused_by_line(row: str) -> None:
    with pytest.raises(RangeError, match=r"^fits\.csv line 3: clearances per side of .* a band"):
        parsed(SNUG, f"loose,softwood,{row},why,who,")


@pytest.mark.parametrize(
    ("low", "aim", "high"),
    [(0.2, 0.1, 0.3), (0.1, 0.4, 0.3), (0.1, 0.1, 0.1), (-1.01, 0, 1), (0, 1, 5.01)],
)
def test_an_aim_outside_its_band_is_refused(low: float, aim: float, high: float) -> None:
    said = f"^fit 'mine': clearances per side of {low:g} to {high:g} mm, aiming for {aim:g} mm"
    with pytest.raises(RangeError, match=said):
        Fit(name="mine", aim=aim, low=low, high=high)


@pytest.mark.parametrize(("low", "aim", "high"), [(-1, -1, 5), (0, 5, 5), (0.1, 0.2, 0.3)])
def test_an_aim_at_either_end_of_its_band_will_do(low: float, aim: float, high: float) -> None:
    assert Fit(name="mine", aim=aim, low=low, high=high).aim == aim


def test_packaged_fits_are_for_timber_that_boards_can_be_of() -> None:
    assert {timber for _, timber in fits()} == set(get_args(Timber))


def test_packaged_fits_cannot_be_changed() -> None:
    with pytest.raises(TypeError):
        fits()["snug", "softwood"] = fits()["glued", "softwood"]  # type: ignore[index] # on purpose


@pytest.mark.parametrize("timber", get_args(Timber))
def test_each_purpose_aims_for_more_room_than_the_one_before(timber: str) -> None:
    aims = [fit_called(name, timber).aim for name in ("glued", "snug", "panel", "sliding")]
    assert all(tight < loose for tight, loose in combinations(sorted(set(aims)), 2))
    assert aims == sorted(aims)


@pytest.mark.parametrize("timber", get_args(Timber))
def test_a_glued_cheek_stays_where_glue_is_strong(timber: str) -> None:
    assert fit_called("glued", timber).high < 0.13  # common practice, no source


@pytest.mark.parametrize("timber", ["hardwood", "sheet"])
def test_dense_timber_takes_a_narrower_snug_band_than_softwood(timber: str) -> None:
    soft, dense = fit_called("snug", "softwood"), fit_called("snug", timber)
    assert dense.high - dense.low < soft.high - soft.low


@pytest.mark.parametrize(("name", "timber"), [("tight", "softwood"), ("lining", "sheet")])
def test_a_fit_that_is_not_there_is_refused_with_those_that_are(name: str, timber: str) -> None:
    with pytest.raises(InputError, match=f"no fit called '{name}' for {timber}") as refused:
        fit_called(name, timber)
    there = {n for n, t in fits() if t == timber}
    assert all(each in refused.value.remedy for each in there)
    assert name not in refused.value.remedy
