"""Plan one thing in a process of its own and print how long it took, imports not counted. [s]

``python -m benchmarks.one_plan demo`` plans the hall bench; a number in place of ``demo`` plans
a panel of so many boards.
"""

from __future__ import annotations

import sys
import time

import numpy as np

from benchmarks.measuring import ROOT
from benchmarks.panels import (
    CALIPERS,
    DEPTH_GAUGE,
    HALF,
    HALF_INCH,
    MACHINE,
    QUARTER,
    QUARTER_INCH,
    boards,
    panel,
    straight,
)
from faywright.piece.opened import Documents, open_documents
from faywright.piece.plan import plan
from faywright.shop.inventory import Shop

DEMO = ROOT / "examples" / "hall-bench" / "piece.toml"


def large_panel(count: int) -> Documents:
    """A panel of ``count`` boards that scatter by 0.13 mm, and straight cutters to make it."""
    generator = np.random.default_rng(count)
    means = 19 + 0.13 * generator.standard_normal(count)
    pile = boards([mean + 0.03 * generator.standard_normal(5) for mean in means])
    shop = Shop(
        title="benchmark",
        machines=(MACHINE,),
        cutters=(
            straight(QUARTER, QUARTER_INCH, QUARTER_INCH - 0.06),
            straight(HALF, HALF_INCH, HALF_INCH - 0.07),
        ),
        gauges=(CALIPERS, DEPTH_GAUGE),
    )
    return Documents(panel(pile), shop)


def main() -> None:
    """Plan what the command line asks for."""
    asked = sys.argv[1]
    documents = open_documents(DEMO) if asked == "demo" else large_panel(int(asked))
    start = time.perf_counter()
    plan(documents.piece, documents.shop)
    print(time.perf_counter() - start)


if __name__ == "__main__":
    main()
