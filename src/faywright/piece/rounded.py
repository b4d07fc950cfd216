"""Numbers as JSON shows them: lengths in millimetres, nothing that is not a number."""

from __future__ import annotations

import math
from typing import Any

Json = dict[str, Any]


def mm(value: float | None, places: int = 4) -> float | None:
    """A length rounded to tenths of a micrometre; None where there is no bound."""
    if value is None or not math.isfinite(value):
        return None
    return round(float(value), places) + 0.0
