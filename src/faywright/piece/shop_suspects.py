"""What to ask about cutters and gauges before their figures are trusted."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import fields
from typing import get_args

from faywright.piece.suspect import Suspect, Written
from faywright.shop.cutters import CutSize
from faywright.shop.gauges import Use
from faywright.shop.inventory import ASSUMED_GAUGE, Shop

STALE_AFTER = datetime.timedelta(days=730)
"""Age at which a measurement of a cutter is asked about, counted to the newest in the shop.
Common practice, no source: wear and sharpening make cutters smaller."""


def shop_suspects(shop: Shop, written: Written) -> Iterator[Suspect]:
    """Cutters never measured or not for long, and uses for which no gauge is listed."""
    sizes = list(_cut_sizes(shop))
    newest = max((size.on for _, _, size in sizes if size.on), default=None)
    for cutter, name, size in sizes:
        where = f"cutter {cutter}"
        if size.measured is None:
            what = f"its {name} is marked {written(size.marked)}, and was not measured"
            yield Suspect(where, what, "Cut a trial piece, measure it, and write down what it is")
        elif size.on and newest and newest - size.on > STALE_AFTER:
            what = f"its {name} was measured on {size.on}, over two years before {newest}"
            yield Suspect(where, what, "Measure it again; wear and sharpening make it smaller")
    for use in get_args(Use):
        if not any(use in gauge.uses for gauge in shop.gauges):
            resolution = written(ASSUMED_GAUGE.resolution)
            repeatability = written(ASSUMED_GAUGE.repeatability)
            what = (
                f"none is listed for {use}; steps of {resolution} and a scatter of "
                f"{repeatability} are assumed"
            )
            yield Suspect("gauges", what, "List the one you use, and what it repeats to")


def _cut_sizes(shop: Shop) -> Iterator[tuple[str, str, CutSize]]:
    for cutter in shop.cutters:
        for field in fields(cutter):
            value = getattr(cutter, field.name)
            if isinstance(value, CutSize):
                yield cutter.mark, field.name, value
