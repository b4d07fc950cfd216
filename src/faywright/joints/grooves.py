"""Ways to cut a groove along an edge or in a face."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from faywright.fit.forms import Form, Quantity
from faywright.joints.method import ANY_SIZE, OVERLAP, Method, Reading, Run
from faywright.joints.proportion import LEAST_WALL, Target
from faywright.joints.work import Work
from faywright.section.posture import Posture
from faywright.shop.cutters import Cutter, SlotCutter, StraightCutter

WALL_A, WALL_B, BOTTOM = "face-A wall", "face-B wall", "bottom"
LEAST_SECOND_CUT = 0.1
"""A second pass that takes less than this rubs instead of cutting. [mm] Common practice, no
source."""

SAME_WIDTH = 0.15
"""A cutter within this of a groove width asked for makes it in one pass, and the tongue follows.
[mm]"""

THICKNESS = Quantity("thickness", "groove")
HEIGHT, FENCE = Quantity("height", "groove"), Quantity("fence", "groove")
NEAR_FENCE, FAR_FENCE = Quantity("fence", "near wall"), Quantity("fence", "far wall")
LOWER, UPPER = Quantity("height", "near wall"), Quantity("height", "far wall")
RIDE, RIDE_AGAIN, STRAY, STRAY_TURNED = (
    Quantity("lift", "groove off the table"),
    Quantity("lift", "groove off the table, far wall"),
    Quantity("lift", "groove off the fence"),
    Quantity("lift", "groove off the fence, turned"),
)


@dataclass(frozen=True, slots=True)
class Declined:
    """A way that cannot be offered with this cutter, and why."""

    method: str
    why: str


CURE = (
    "after moving the fence forward take a fresh trial piece: run again, the old groove would be "
    "widened towards the fence, and climb; a groove too wide cannot be closed"
)

ON_EDGE, BOTH_FACES, TWO_PLACES, FLAT = (
    "groove on edge, one pass",
    "groove on edge, from both faces",
    "groove on edge, two fence positions",
    "groove flat, slot cutter",
)
BOTH_FACES_INWARD = "groove on edge, from both faces, widened towards the fence"
GROOVE_METHODS = (ON_EDGE, BOTH_FACES, TWO_PLACES, FLAT, BOTH_FACES_INWARD)


@dataclass(frozen=True, kw_only=True)
class GrooveJob:
    """What is to be grooved, and with which cutter; ``exact`` where a strip must go in."""

    target: Target
    work: Work
    cutter: Cutter
    exact: bool

    @property
    def near(self) -> float:
        """Where the near wall should be for the groove's wanted width."""
        return self.near_for(self.target.width)

    def near_for(self, width: float) -> float:
        """Where the near wall should be for a groove this wide."""
        if self.target.offset is not None:
            return self.target.offset
        return (self.work.middle - width) / 2


def groove_methods(
    target: Target, work: Work, cutter: Cutter, *, exact: bool
) -> Iterator[Method | Declined]:
    """All the ways one cutter can make the groove, or why it cannot.

    ``exact`` where the groove must suit a strip that is used as it is.
    """
    job = GrooveJob(target=target, work=work, cutter=cutter, exact=exact)
    if isinstance(cutter, StraightCutter):
        yield from _straight(job, cutter)
    elif isinstance(cutter, SlotCutter):
        yield _flat(job, cutter)


def _straight(job: GrooveJob, cutter: StraightCutter) -> Iterator[Method | Declined]:
    name = f"cutter {cutter.mark}"
    if cutter.cutting_length < job.target.depth or cutter.reach < job.target.depth:
        short = min(cutter.cutting_length, cutter.reach)
        yield Declined(name, f"it cuts {short:.1f} mm deep, the groove is {job.target.depth:.1f}")
        return
    diameter, width = cutter.cut_diameter, job.target.width
    if _suits(job, diameter):
        yield _one_pass(job, cutter)
    second = width - diameter
    if second < LEAST_SECOND_CUT:
        if not _suits(job, diameter):
            why = f"wider than the groove's {width:.2f}"
            if second > 0:
                why = f"too near the groove's {width:.2f} for a second pass"
            yield Declined(name, f"it cuts {diameter:.2f} mm, {why}")
        return
    if second > diameter - OVERLAP:
        yield Declined(
            name, f"two passes of {diameter:.2f} mm leave a rib in a groove {width:.2f} mm wide"
        )
        return
    yield _two_places(job, cutter)
    if job.target.offset is None:
        yield _both_faces(job, cutter)
        yield _both_faces_inward(job, cutter)


def _suits(job: GrooveJob, size: float) -> bool:
    """Whether a cutter's own size will do as the width of the groove.

    Where the maker gave a width, or a strip must go in, it has to be that width. Else any size
    from a quarter to two fifths of the thickness is a sound proportion (common practice).
    """
    target = job.target
    if job.exact:
        return abs(size - target.width) <= (target.band[1] - target.band[0]) / 2
    if target.given:
        return abs(size - target.width) <= SAME_WIDTH
    wall = (job.work.middle - size) / 2 if target.offset is None else target.offset
    return job.work.middle / 4 <= size <= job.work.middle * 0.4 and wall >= LEAST_WALL


def _method(
    name: str,
    job: GrooveJob,
    walls: tuple[Form, Form],
    runs: tuple[Run, ...],
    fixed: Mapping[Quantity, float],
    control: Quantity | None,
    sizes: Mapping[Quantity, float],
    *,
    depth: Quantity,
    never: str = "",
    limits: tuple[float, float] = ANY_SIZE,
) -> Method:
    low, high = walls
    stray_or_ride = STRAY if runs[0].postures[0].flat else RIDE
    bottom = Form.of(depth) - Form.of(stray_or_ride)
    near = next(quantity for quantity in low.coefficients if quantity.kind in ("fence", "height"))
    return Method(
        name=name,
        side="groove",
        surfaces={WALL_A: (0, low), WALL_B: (0, high), BOTTOM: (1, bottom)},
        size=high - low,
        fixed=fixed,
        control=control,
        runs=runs,
        readings=(
            Reading(what="groove width", form=high - low, quantity=control),
            *(
                (Reading(what=f"wall beside {job.work.called('face A')}", form=low, quantity=near),)
                if near is not control
                else ()
            ),
            Reading(what="groove depth", form=bottom, quantity=depth),
        ),
        cure=CURE,
        never=never,
        limits=limits,
        cutter_sizes=sizes,
        names=job.work.words,
    )


def _one_pass(job: GrooveJob, cutter: StraightCutter) -> Method:
    size = Quantity("cutter", cutter.mark)
    diameter = cutter.cut_diameter
    far = Form.of(FENCE) - Form.of(STRAY)
    run = Run(
        key="groove",
        cutter=cutter,
        postures=(Posture.ON_EDGE_A,),
        height=HEIGHT,
        far=FENCE,
        makes=({"top": BOTTOM, "side near": WALL_A, "side far": WALL_B},),
        outer="fence",
        rise="bite",
        widen="once",
    )
    fixed = {FENCE: job.near_for(diameter) + diameter, HEIGHT: job.target.depth}
    return _method(
        ON_EDGE,
        job,
        (far - Form.of(size), far),
        (run,),
        fixed,
        None,
        {size: diameter},
        depth=HEIGHT,
    )


def _both_faces(job: GrooveJob, cutter: StraightCutter) -> Method:
    """Far edge at half the sum of thickness and width: the diameter drops out."""
    far_b = Form.of(FENCE) - Form.of(STRAY)
    far_a = Form.of(THICKNESS) - Form.of(FENCE) + Form.of(STRAY_TURNED)
    run = Run(
        key="groove",
        cutter=cutter,
        postures=(Posture.ON_EDGE_A, Posture.ON_EDGE_B),
        height=HEIGHT,
        far=FENCE,
        makes=(
            {"top": BOTTOM, "side far": WALL_B, "side near": WALL_A},
            {"top": BOTTOM, "side far": WALL_A, "side near": WALL_B},
        ),
        outer="fence",
        rise="bite",
        widen="once",
    )
    return _method(
        BOTH_FACES,
        job,
        (far_a, far_b),
        (run,),
        {HEIGHT: job.target.depth},
        FENCE,
        {},
        depth=HEIGHT,
        limits=_two_pass_limits(cutter.cut_diameter),
    )


def _two_pass_limits(size: float) -> tuple[float, float]:
    """Widths at which the second pass of a cutter cuts, and the two leave no rib. [mm]"""
    return size + LEAST_SECOND_CUT, 2 * size - LEAST_SECOND_CUT


def _both_faces_inward(job: GrooveJob, cutter: StraightCutter) -> Method:
    """The same groove with the near edge at the wall: its second pass climbs."""
    size = Quantity("cutter", cutter.mark)
    near_a = Form.of(FENCE) - Form.of(size) - Form.of(STRAY)
    near_b = Form.of(THICKNESS) - Form.of(FENCE) + Form.of(size) + Form.of(STRAY_TURNED)
    run = Run(
        key="groove",
        cutter=cutter,
        postures=(Posture.ON_EDGE_A, Posture.ON_EDGE_B),
        height=HEIGHT,
        far=FENCE,
        makes=(
            {"top": BOTTOM, "side near": WALL_A, "side far": WALL_B},
            {"top": BOTTOM, "side near": WALL_B, "side far": WALL_A},
        ),
        outer="fence",
        rise="bite",
        widen="once",
    )
    return _method(
        BOTH_FACES_INWARD,
        job,
        (near_a, near_b),
        (run,),
        {HEIGHT: job.target.depth},
        FENCE,
        {size: cutter.cut_diameter},
        depth=HEIGHT,
        never="set to the far edge instead, the same groove is cut without climbing",
        limits=_two_pass_limits(cutter.cut_diameter),
    )


def _two_places(job: GrooveJob, cutter: StraightCutter) -> Method:
    """Near wall first, then the fence goes back: the second pass cuts on the operator's side."""
    size = Quantity("cutter", cutter.mark)
    shared = {"top": BOTTOM, "side near": WALL_A, "side far": WALL_B}

    def run(key: str, fence: Quantity) -> Run:
        return Run(
            key=key,
            cutter=cutter,
            postures=(Posture.ON_EDGE_A,),
            height=HEIGHT,
            far=fence,
            makes=(shared,),
            outer="fence",
            rise="bite",
            widen="once",
        )

    return _method(
        TWO_PLACES,
        job,
        (
            Form.of(NEAR_FENCE) - Form.of(size) - Form.of(STRAY),
            Form.of(FAR_FENCE) - Form.of(STRAY_TURNED),
        ),
        (run("near wall", NEAR_FENCE), run("far wall", FAR_FENCE)),
        {NEAR_FENCE: job.near + cutter.cut_diameter, HEIGHT: job.target.depth},
        FAR_FENCE,
        {size: cutter.cut_diameter},
        depth=HEIGHT,
        limits=_two_pass_limits(cutter.cut_diameter),
    )


def _flat(job: GrooveJob, cutter: SlotCutter) -> Method | Declined:
    name, target = f"cutter {cutter.mark}", job.target
    if cutter.slot_depth < target.depth:
        return Declined(
            name, f"it cuts {cutter.slot_depth:.1f} mm deep, the groove is {target.depth:.1f}"
        )
    wing = cutter.cut_thickness
    size = Quantity("cutter", cutter.mark)
    shared = {"rim far": BOTTOM, "underside far": WALL_A, "top": WALL_B}

    def run(key: str, height: Quantity) -> Run:
        return Run(
            key=key,
            cutter=cutter,
            postures=(Posture.FLAT_A,),
            height=height,
            far=FENCE,
            makes=(shared,),
            outer="height",
            rise="once",
            widen="bite",
        )

    one = _suits(job, wing)
    if not one and not LEAST_SECOND_CUT <= target.width - wing <= wing - OVERLAP:
        return Declined(
            name, f"its {wing:.2f} mm does not make a groove {target.width:.2f} mm wide"
        )
    near = job.near_for(wing if one else target.width)
    if near + target.width > cutter.reach:
        return Declined(name, f"it reaches {cutter.reach:.1f} mm above the table")
    low = Form.of(LOWER) - Form.of(size) - Form.of(RIDE)
    high = Form.of(LOWER if one else UPPER) - Form.of(RIDE if one else RIDE_AGAIN)
    runs = (run("groove", LOWER),) if one else (run("near wall", LOWER), run("far wall", UPPER))
    return _method(
        FLAT,
        job,
        (low, high),
        runs,
        {LOWER: near + wing, FENCE: target.depth},
        None if one else UPPER,
        {size: wing},
        depth=FENCE,
        limits=ANY_SIZE if one else _two_pass_limits(wing),
    )
