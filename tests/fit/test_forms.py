from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given

from faywright.fit import Form, Quantity
from tests.strategies import QUANTITIES, STEADY, factors, forms, readings

THICKNESS, HEIGHT, LIFT = QUANTITIES[0], QUANTITIES[1], Quantity("lift", "face A down")
Readings = dict[Quantity, float]


def near(value: object) -> object:
    return pytest.approx(value, abs=1e-9)


@given(forms(), forms(), readings())
@STEADY
def test_sums_and_differences_are_those_of_the_values(
    one: Form, other: Form, values: Readings
) -> None:
    first, second = one.value(values), other.value(values)
    assert (one + other).value(values) == near(first + second)
    assert (one - other).value(values) == near(first - second)


@given(forms(), factors, readings())
@STEADY
def test_a_multiple_is_that_of_the_value(form: Form, factor: float, values: Readings) -> None:
    assert (factor * form).value(values) == near(factor * form.value(values))
    assert (form * factor).value(values) == (factor * form).value(values)


@given(forms(), factors, readings())
@STEADY
def test_a_length_moves_the_value_and_no_coefficient(
    form: Form, length: float, values: Readings
) -> None:
    assert (form + length).value(values) == near(form.value(values) + length)
    assert (form - length).value(values) == near(form.value(values) - length)
    assert (form + length).coefficients == form.coefficients


@given(forms(), readings(), factors)
@STEADY
def test_a_coefficient_is_how_much_the_value_grows(
    form: Form, values: Readings, more: float
) -> None:
    for quantity in QUANTITIES:
        grown = form.value(values | {quantity: values[quantity] + more})
        assert grown - form.value(values) == near(form.coefficient(quantity) * more)


def test_a_quantity_that_cancels_is_gone() -> None:
    rest = (Form.of(THICKNESS) + Form.of(HEIGHT)) - Form.of(THICKNESS)
    assert rest.coefficients == {HEIGHT: 1.0}
    assert rest.coefficient(THICKNESS) == 0.0


def test_sums_leave_their_terms_as_they_were() -> None:
    one, other = Form(1.0, {THICKNESS: 2.0}), Form(3.0, {THICKNESS: -2.0})
    assert (one + other) == Form(4.0, {})
    assert (one, other) == (Form(1.0, {THICKNESS: 2.0}), Form(3.0, {THICKNESS: -2.0}))


def test_a_whole_pile_is_put_in_at_once() -> None:
    tongue = Form.of(THICKNESS) - 2 * Form.of(HEIGHT)
    pile = tongue.value({THICKNESS: np.array([20.0, 20.3]), HEIGHT: 6.5})
    assert pile == near(np.array([7.0, 7.3]))


def test_a_lift_that_is_not_given_is_nought() -> None:
    form = Form.of(HEIGHT) - Form.of(LIFT)
    assert form.value({HEIGHT: 6.5}) == 6.5
    assert form.value({HEIGHT: 6.5, LIFT: 0.02}) == near(6.48)


def test_any_other_quantity_must_be_given() -> None:
    with pytest.raises(KeyError, match="height"):
        Form.of(HEIGHT).value({THICKNESS: 20.0})


def test_quantities_of_two_settings_are_two_quantities() -> None:
    cheeks, groove = (Form.of(Quantity("height", key)) for key in ("cheeks", "groove"))
    assert len((cheeks + groove).coefficients) == 2
