"""Closed forms: where a surface stands, as a linear form in what is measured and set.

One form gives both the nominal place of a surface (put the settings in) and how each error
reaches it (its coefficients), so that the two can never disagree.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

import numpy as np
from numpy.typing import NDArray

Kind = Literal["thickness", "height", "fence", "cutter", "lift"]
Value = float | NDArray[np.float64]


@dataclass(frozen=True, slots=True, order=True)
class Quantity:
    """Something measured or set. ``key`` tells which one, as a maker would.

    ``thickness`` is a board's own. ``height`` and ``fence`` are set once for a group of boards.
    ``cutter`` is a size of a cutter, the same for all boards. ``lift`` is how far the work rides
    off the table or fence in one pass, new for every pass of every board.
    """

    kind: Kind
    key: str = ""


@dataclass(frozen=True)
class Form:
    """``constant`` plus the sum of coefficient times quantity. [mm]

    Examples
    --------
    >>> thickness, height = Quantity("thickness"), Quantity("height", "cheeks")
    >>> tongue = Form.of(thickness) - 2 * Form.of(height)
    >>> round(tongue.value({thickness: 38.1, height: 12.8778}), 4)
    12.3444
    """

    constant: float = 0.0
    coefficients: Mapping[Quantity, float] = field(default_factory=dict)

    @staticmethod
    def of(quantity: Quantity) -> Form:
        """The quantity itself."""
        return Form(0.0, {quantity: 1.0})

    def __add__(self, other: Form | float) -> Form:
        """Sum of two forms, or of a form and a length."""
        if not isinstance(other, Form):
            return Form(self.constant + other, self.coefficients)
        total = dict(self.coefficients)
        for quantity, coefficient in other.coefficients.items():
            total[quantity] = total.get(quantity, 0.0) + coefficient
        kept = {quantity: c for quantity, c in total.items() if c != 0.0}
        return Form(self.constant + other.constant, kept)

    def __mul__(self, factor: float) -> Form:
        """A multiple."""
        scaled = {quantity: factor * c for quantity, c in self.coefficients.items()}
        return Form(factor * self.constant, scaled)

    __rmul__ = __mul__

    def __sub__(self, other: Form | float) -> Form:
        """Difference of two forms, or of a form and a length."""
        return self + (other * -1.0 if isinstance(other, Form) else -other)

    def coefficient(self, quantity: Quantity) -> float:
        """How much the form grows when ``quantity`` grows by 1."""
        return self.coefficients.get(quantity, 0.0)

    def value(self, values: Mapping[Quantity, Value]) -> Value:
        """The form with values put in; a lift that is not given is 0.

        Raises
        ------
        KeyError
            A quantity other than a lift has no value.
        """
        total: Value = self.constant
        for quantity, coefficient in self.coefficients.items():
            if quantity.kind == "lift" and quantity not in values:
                continue
            total = total + coefficient * values[quantity]
        return total
