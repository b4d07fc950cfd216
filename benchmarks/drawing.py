"""The packet and the drawings beside named peers; every promise is checked and said out.

- The packet beside typst setting as many pages of plain text with one plain drawing each.
- A drawing, composed and written as SVG, beside ElementTree writing the same marks ready made.
- DXF beside ezdxf writing the same marks on one layer.
"""

from __future__ import annotations

import statistics
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import count

from benchmarks.lining import SHEETS, lining
from benchmarks.measuring import alone, beside
from benchmarks.one_plan import DEMO
from benchmarks.plain_drawings import plain, plain_dxf, xml
from benchmarks.plain_packet import plain_packet
from benchmarks.promise import Result
from faywright.drawing.along_feed import along_feed
from faywright.drawing.dxf import dxf
from faywright.drawing.error_bars import error_bars
from faywright.drawing.from_above import from_above
from faywright.drawing.joint import joint_drawing
from faywright.drawing.joint_strips import joint_strips
from faywright.drawing.model import Drawing
from faywright.drawing.packet import packet
from faywright.drawing.part_section import part_section
from faywright.drawing.svg import svg
from faywright.drawing.tightest import Tightest
from faywright.joints.work import Work
from faywright.piece.opened import open_documents
from faywright.piece.plan import JointPlan, Plan, plan
from faywright.piece.words import writer
from faywright.setups.setup import Setup

WALLS, QUICK_WALLS = (5, 25), (1,)
"""Walls of the linings whose packets are made: 20 and 100 sheets."""

PACKET_SECONDS = {20: 1.0, 100: 4.0}
DRAWING_MILLISECONDS = 5.0


def packets(repeats: int, walls: Sequence[int] = WALLS) -> Iterator[Result]:
    """Packets from a ready plan to PDF, each warm, and cold: the first thing a process makes.

    Typst remembers what it has set, so that no packet, nor page of the peer's, is made twice.
    """
    for size in walls:
        sheets = size * SHEETS
        yield _packet(sheets, "warm", *_warm(size, repeats))
        colds = [(_cold("ours", size), _cold("plain", sheets)) for _ in range(repeats)]
        yield _packet(
            sheets,
            "cold",
            statistics.median(a for a, _ in colds),
            statistics.median(a / b for a, b in colds),
        )


def _warm(walls: int, repeats: int) -> tuple[float, float]:
    pages = walls * SHEETS
    plans = iter([lining(walls, 1 + walls * k) for k in range(repeats + 1)])
    firsts = count(1, pages)
    return beside(lambda: packet(next(plans)), lambda: plain_packet(pages, next(firsts)), repeats)


def _packet(sheets: int, state: str, seconds: float, ratio: float) -> Result:
    limit = PACKET_SECONDS.get(sheets) if state == "warm" else None
    return Result(
        what=f"packet of {sheets} sheets, {state}",
        measured=f"{seconds:.2f} s",
        promise="" if limit is None else f"<= {limit:g} s",
        kept=None if limit is None else seconds <= limit,
        peer="typst, plain pages with a plain drawing",
        ratio=ratio,
    )


def _cold(whose: str, size: int) -> float:
    command = [sys.executable, "-m", "benchmarks.one_packet", whose, str(size)]
    return float(alone(command).printed)


Compose = Callable[[], Drawing]


@dataclass(frozen=True, slots=True)
class Timed:
    """Median time of a drawing [s], and of its ratio to the peer's."""

    seconds: float
    ratio: float


def pieces() -> tuple[Plan, ...]:
    """Whose drawings are timed: the demo, and one wall of a lining."""
    documents = open_documents(DEMO)
    return plan(documents.piece, documents.shop), lining(1)


def drawings(repeats: int, plans: Sequence[Plan]) -> Iterator[Result]:
    """Every drawing of some plans, by kind; each kind is judged by its slowest."""
    kinds: dict[str, list[Compose]] = {}
    for ready in plans:
        for kind, composers in composed(ready).items():
            kinds.setdefault(kind, []).extend(composers)
    for kind, composers in kinds.items():
        slowest = _slowest([_svg_beside(compose, repeats) for compose in composers])
        yield _drawing(f"{kind}, SVG", slowest, "ElementTree, the same marks", limited=True)
    for kind in ("joint", "section of a part"):
        slowest = _slowest([_dxf_beside(compose, repeats) for compose in kinds[kind]])
        yield _drawing(f"{kind}, DXF", slowest, "ezdxf, the same marks", limited=False)


def _slowest(found: Sequence[Timed]) -> Timed:
    return max(found, key=lambda each: each.seconds)


def _svg_beside(compose: Compose, repeats: int) -> Timed:
    marks = plain(compose())
    return Timed(*beside(lambda: svg(compose()), lambda: xml(marks), repeats))


def _dxf_beside(compose: Compose, repeats: int) -> Timed:
    marks = plain(compose())
    return Timed(*beside(lambda: dxf(compose()), lambda: plain_dxf(marks), repeats))


def _drawing(what: str, slowest: Timed, peer: str, *, limited: bool) -> Result:
    taken = 1000 * slowest.seconds
    return Result(
        what=what,
        measured=f"{taken:.1f} ms",
        promise=f"<= {DRAWING_MILLISECONDS:g} ms" if limited else "",
        kept=taken <= DRAWING_MILLISECONDS if limited else None,
        peer=peer,
        ratio=slowest.ratio,
    )


def composed(ready: Plan) -> Mapping[str, list[Compose]]:
    """How to compose each drawing of a plan, by kind."""
    joints, setups = ready.joints, ready.setups
    return {
        "joint": [partial(_joint, ready, joint) for joint in joints],
        "section of a part": [part for joint in joints for part in _parts(ready, joint)],
        "along the feed": [partial(_along, ready, setup) for setup in setups],
        "from above": [partial(_above, ready, setup) for setup in setups],
        "boards by thickness": [partial(_strip, ready, joint) for joint in joints],
        "error bars": [partial(_bars, ready, joint) for joint in joints],
    }


def _joint(ready: Plan, joint: JointPlan) -> Drawing:
    write = writer(ready.shop.habits.style)
    return joint_drawing(joint.solution, joint.simulated, write=write)


def _parts(ready: Plan, joint: JointPlan) -> list[Compose]:
    write = writer(ready.shop.habits.style)
    return [
        partial(part_section, cut.sections, cut.board, naming=cut.naming, write=write)
        for cut in Tightest(joint.solution, joint.simulated).boards
    ]


def _along(ready: Plan, setup: Setup) -> Drawing:
    habits = ready.shop.habits
    return along_feed(
        setup,
        _work(ready, setup),
        ready.machine,
        write=writer(habits.style),
        reference=setup.reference(habits.reference),
    )


def _above(ready: Plan, setup: Setup) -> Drawing:
    return from_above(setup, _work(ready, setup), ready.machine)


def _work(ready: Plan, setup: Setup) -> Work:
    joint = next(each for each in ready.joints if each.wanted.name == setup.joint)
    return joint.task.work(setup.side)


def _strip(ready: Plan, joint: JointPlan) -> Drawing:
    """The one chart of a joint whose edges have one thickness that matters."""
    over = {verdict.mark: verdict.over for verdict in joint.verdicts}
    style = ready.shop.habits.style
    (strip,) = joint_strips(joint.solution, joint.setups, style=style, over=over)
    return strip


def _bars(ready: Plan, joint: JointPlan) -> Drawing:
    style = ready.shop.habits.style
    return error_bars(joint.budget, joint.solution.band, title="errors", style=style)
