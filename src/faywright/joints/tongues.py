"""Ways to cut a tongue: full with two cheeks, half with one, or a strip used as it is."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from faywright.fit.forms import Form, Quantity
from faywright.joints.grooves import SAME_WIDTH, Declined
from faywright.joints.method import OVERLAP, Method, Reading, Run
from faywright.joints.work import Work
from faywright.section.posture import Posture
from faywright.shop.cutters import Cutter, SlotCutter, StraightCutter, TonguePairCutter

CHEEK_A, CHEEK_B = "face-A cheek", "face-B cheek"
SHOULDER_A, SHOULDER_B = "face-A shoulder", "face-B shoulder"

THICKNESS = Quantity("thickness", "tongue")
HEIGHT, FENCE = Quantity("height", "tongue"), Quantity("fence", "tongue")
HEIGHT_A, HEIGHT_B = Quantity("height", "face-A cheek"), Quantity("height", "face-B cheek")
RIDE_A, RIDE_B = (
    Quantity("lift", "face-A cheek off the table"),
    Quantity("lift", "face-B cheek off the table"),
)
STRAY_A, STRAY_B = (
    Quantity("lift", "face-A cheek off the fence"),
    Quantity("lift", "face-B cheek off the fence"),
)

FLAT, ON_EDGE, FACE_A, PAIR, STRIP = (
    "tongue flat, from both faces",
    "tongue on edge, from both faces",
    "tongue flat, face A down throughout",
    "tongue by the matched pair",
    "strip as it is",
)
ON_EDGE_ONE_FACE = "tongue on edge, face A to the fence throughout"
HALF_FLAT, HALF_ON_EDGE, HALF_FACE_A = (
    "half tongue flat, face B down",
    "half tongue on edge, face B to the fence",
    "half tongue flat, face A down",
)
TONGUE_METHODS = (FLAT, ON_EDGE, FACE_A, PAIR, STRIP, ON_EDGE_ONE_FACE)
HALF_METHODS = (HALF_FLAT, HALF_ON_EDGE, HALF_FACE_A)

CURE = "a fat tongue can be run again, a thin one cannot"
Surfaces = dict[str, tuple[Literal[0, 1], Form]]


@dataclass(frozen=True, slots=True, kw_only=True)
class TongueJob:
    """What is to be tongued: the groove it goes into is known by now. [mm]

    ``near`` is where the face-A cheek should be where one face decides it. ``centred`` where the
    groove stays in the middle when it is made to suit the tongue, ``given`` where the maker asked
    for the thickness.
    """

    work: Work
    length: float
    near: float
    thickness: float
    half: bool
    centred: bool = False
    given: bool = False


def tongue_methods(job: TongueJob, cutters: Sequence[Cutter]) -> Iterator[Method | Declined]:
    """All the ways the cutters on hand can make the tongue, or why one cannot."""
    straight = [cutter for cutter in cutters if isinstance(cutter, StraightCutter)]
    slots = [cutter for cutter in cutters if isinstance(cutter, SlotCutter)]
    for plain in straight:
        yield from _by_straight(job, plain)
    for slot in slots:
        reason = _slot_reason(job, slot)
        if reason:
            yield Declined(f"cutter {slot.mark}", reason)
            continue
        if job.half:
            yield _face_a(job, slot, slot)
            continue
        lowers: list[StraightCutter | SlotCutter] = [slot, *_fit_for_cheek(job, straight)]
        for lower in lowers:
            yield _face_a(job, slot, lower)
    for cutter in cutters:
        if isinstance(cutter, TonguePairCutter) and not job.half:
            yield _pair(job, cutter)


def strip_as_it_is(work: Work) -> Method:
    """A strip that enters the groove uncut: its own faces are the cheeks."""
    return Method(
        name=STRIP,
        side="tongue",
        surfaces={CHEEK_A: (0, Form()), CHEEK_B: (0, Form.of(THICKNESS))},
        size=Form.of(THICKNESS),
        fixed={},
        control=None,
        runs=(),
        readings=(),
        names=work.words,
    )


def _cheek_cut(job: TongueJob) -> float:
    """How deep a cheek is cut on the thickest board. [mm]"""
    thickest = float(job.work.across.max())
    return thickest - job.thickness if job.half else (thickest - job.thickness) / 2


def _shoulder_reason(job: TongueJob, near: float, thickness: float) -> str:
    """Why a tongue that starts ``near`` face A has no wood on either side of it; else empty."""
    thinnest = float(job.work.across.min())
    if near >= 0 and near + thickness < thinnest:
        return ""
    return (
        f"a tongue {thickness:.1f} mm thick, {near:.1f} mm from face A, leaves no shoulder on a "
        f"board of {thinnest:.1f} mm"
    )


def _by_straight(job: TongueJob, cutter: StraightCutter) -> Iterator[Method | Declined]:
    reason = _shoulder_reason(job, 0.0, job.thickness)
    if reason:
        yield Declined(f"cutter {cutter.mark}", reason)
        return
    cheek = _cheek_cut(job)
    able = min(cutter.cutting_length, cutter.reach)
    if able < cheek:
        yield Declined(
            f"cutter {cutter.mark}", f"it cuts {able:.1f} mm deep, the cheek is {cheek:.1f}"
        )
    else:
        yield _flat(job, cutter)
    if able < job.length:
        yield Declined(
            f"cutter {cutter.mark}", f"it cuts {able:.1f} mm deep, the tongue is {job.length:.1f}"
        )
        return
    yield _on_edge(job, cutter)
    outer = float(job.work.across.max()) - job.near - job.thickness
    if not job.half and 0 < outer < cutter.cut_diameter - OVERLAP:
        yield _on_edge_one_face(job, cutter)


def _fit_for_cheek(job: TongueJob, cutters: Sequence[StraightCutter]) -> list[StraightCutter]:
    return [c for c in cutters if min(c.cutting_length, c.reach) >= job.near]


def _slot_reason(job: TongueJob, slot: SlotCutter) -> str:
    """Why a slot cutter cannot cut the upper cheek; empty where it can."""
    if slot.slot_depth < job.length:
        return f"it cuts {slot.slot_depth:.1f} mm deep, the tongue is {job.length:.1f}"
    if slot.cut_thickness <= OVERLAP:
        return "it is too thin to clear a cheek"
    top = float(job.work.across.max()) + OVERLAP
    if slot.reach < top:
        return f"it reaches {slot.reach:.1f} mm above the table, the work {top:.1f}"
    return _shoulder_reason(job, 0.0 if job.half else job.near, job.thickness)


def _method(
    job: TongueJob,
    name: str,
    surfaces: Surfaces,
    runs: tuple[Run, ...],
    fixed: Mapping[Quantity, float],
    control: Quantity | None,
    length: Form,
    length_set_by: Quantity,
    *,
    sizes: Mapping[Quantity, float] | None = None,
) -> Method:
    size = surfaces[CHEEK_B][1] - surfaces[CHEEK_A][1]
    shoulders = (SHOULDER_B,) if job.half else (SHOULDER_A, SHOULDER_B)
    readings = [Reading(what="tongue thickness", form=size, quantity=control)]
    first = next((q for q in surfaces[CHEEK_A][1].coefficients if q.kind == "height"), None)
    if first is not None and first != control:
        readings.append(
            Reading(what="depth of the face-A cheek", form=surfaces[CHEEK_A][1], quantity=first)
        )
    readings.append(Reading(what="tongue length", form=length, quantity=length_set_by))
    return Method(
        name=name,
        side="tongue",
        surfaces={**surfaces, **dict.fromkeys(shoulders, (1, length))},
        size=size,
        fixed=fixed,
        control=control,
        runs=runs,
        readings=tuple(readings),
        cure=CURE,
        cutter_sizes=sizes or {},
        names=job.work.words,
    )


def _flat(job: TongueJob, cutter: StraightCutter) -> Method:
    """The same height on both faces: the tongue takes over every board's own thickness."""
    a: Mapping[str, str] = {"top": CHEEK_A, "side far": SHOULDER_A}
    b: Mapping[str, str] = {"top": CHEEK_B, "side far": SHOULDER_B}
    run = Run(
        key="cheeks",
        cutter=cutter,
        postures=(Posture.FLAT_B,) if job.half else (Posture.FLAT_A, Posture.FLAT_B),
        height=HEIGHT,
        far=FENCE,
        makes=(b,) if job.half else (a, b),
        outer="height",
        rise="bite",
        widen="width",
    )
    cheek_a = Form() if job.half else Form.of(HEIGHT) - Form.of(RIDE_A)
    cheek_b = Form.of(THICKNESS) - Form.of(HEIGHT) + Form.of(RIDE_B)
    return _method(
        job,
        HALF_FLAT if job.half else FLAT,
        {CHEEK_A: (0, cheek_a), CHEEK_B: (0, cheek_b)},
        (run,),
        {FENCE: job.length},
        HEIGHT,
        Form.of(FENCE),
        FENCE,
    )


def _on_edge(job: TongueJob, cutter: StraightCutter) -> Method:
    """The same exposure from both faces: the far edge decides how deep each cheek is."""
    a: Mapping[str, str] = {"side far": CHEEK_A, "top": SHOULDER_A}
    b: Mapping[str, str] = {"side far": CHEEK_B, "top": SHOULDER_B}
    run = Run(
        key="cheeks",
        cutter=cutter,
        postures=(Posture.ON_EDGE_B,) if job.half else (Posture.ON_EDGE_A, Posture.ON_EDGE_B),
        height=HEIGHT,
        far=FENCE,
        makes=(b,) if job.half else (a, b),
        outer="fence",
        rise="bite",
        widen="width",
    )
    cheek_a = Form() if job.half else Form.of(FENCE) - Form.of(STRAY_A)
    cheek_b = Form.of(THICKNESS) - Form.of(FENCE) + Form.of(STRAY_B)
    return _method(
        job,
        HALF_ON_EDGE if job.half else ON_EDGE,
        {CHEEK_A: (0, cheek_a), CHEEK_B: (0, cheek_b)},
        (run,),
        {HEIGHT: job.length},
        FENCE,
        Form.of(HEIGHT),
        HEIGHT,
    )


def _on_edge_one_face(job: TongueJob, cutter: StraightCutter) -> Method:
    """Face A to the fence for both cheeks: the outer one is cut between cutter and fence."""
    size = Quantity("cutter", cutter.mark)
    inner, outer = Quantity("fence", "face-A cheek"), Quantity("fence", "face-B cheek")

    def run(key: str, fence: Quantity, makes: Mapping[str, str]) -> Run:
        return Run(
            key=key,
            cutter=cutter,
            postures=(Posture.ON_EDGE_A,),
            height=HEIGHT,
            far=fence,
            makes=(makes,),
            outer="fence",
            rise="bite",
            widen="once",
        )

    return _method(
        job,
        ON_EDGE_ONE_FACE,
        {
            CHEEK_A: (0, Form.of(inner) - Form.of(STRAY_A)),
            CHEEK_B: (0, Form.of(outer) - Form.of(size) - Form.of(STRAY_B)),
        },
        (
            run("face-A cheek", inner, {"side far": CHEEK_A, "top": SHOULDER_A}),
            run("face-B cheek", outer, {"side near": CHEEK_B, "top": SHOULDER_B}),
        ),
        {HEIGHT: job.length, inner: job.near},
        outer,
        Form.of(HEIGHT),
        HEIGHT,
        sizes={size: cutter.cut_diameter},
    )


def _face_a(job: TongueJob, slot: SlotCutter, lower: StraightCutter | SlotCutter) -> Method:
    """Face A down for both cheeks: the tongue's thickness owes nothing to the board's."""
    wing = slot.cut_thickness
    above = Run(
        key="face-B cheek",
        cutter=slot,
        postures=(Posture.FLAT_A,),
        height=HEIGHT_B,
        far=FENCE,
        makes=({"underside far": CHEEK_B, "rim far": SHOULDER_B},),
        outer="height",
        rise="from above",
        widen="bite",
        reference="wing's lower edge",
        top_over=wing,
    )
    cheek_b = Form.of(HEIGHT_B) - Form.of(RIDE_B)
    if job.half:
        return _method(
            job,
            HALF_FACE_A,
            {CHEEK_A: (0, Form()), CHEEK_B: (0, cheek_b)},
            (above,),
            {FENCE: job.length},
            HEIGHT_B,
            Form.of(FENCE),
            FENCE,
        )
    slot_below = isinstance(lower, SlotCutter)
    below = Run(
        key="face-A cheek",
        cutter=lower,
        postures=(Posture.FLAT_A,),
        height=HEIGHT_A,
        far=FENCE,
        makes=({"top": CHEEK_A, ("rim far" if slot_below else "side far"): SHOULDER_A},),
        outer="height",
        rise="width" if slot_below else "bite",
        widen="bite" if slot_below else "width",
    )
    return _method(
        job,
        FACE_A,
        {CHEEK_A: (0, Form.of(HEIGHT_A) - Form.of(RIDE_A)), CHEEK_B: (0, cheek_b)},
        (below, above),
        {FENCE: job.length, HEIGHT_A: job.near},
        HEIGHT_B,
        Form.of(FENCE),
        FENCE,
    )


def _pair(job: TongueJob, cutter: TonguePairCutter) -> Method | Declined:
    """Both cheeks at once; the spacer between the wings decides the thickness."""
    name = f"cutter {cutter.mark}"
    if job.length > cutter.tongue_length + 1e-9:
        return Declined(
            name, f"it leaves {cutter.tongue_length:.1f} mm of tongue, {job.length:.1f} is wanted"
        )
    tongue = cutter.cut_tongue
    if job.given and abs(tongue - job.thickness) > SAME_WIDTH:
        return Declined(
            name, f"it leaves a tongue {tongue:.2f} mm thick, {job.thickness:.2f} is wanted"
        )
    near = job.near + (job.thickness - tongue) / 2 if job.centred else job.near
    reason = _shoulder_reason(job, near, tongue)
    if reason:
        return Declined(name, reason)
    above = float(job.work.across.max()) - near - tongue
    if near > cutter.wing or above > cutter.wing:
        return Declined(
            name,
            f"its wings of {cutter.wing:.1f} mm do not clear cheeks of "
            f"{near:.1f} and {above:.1f} mm",
        )
    top_over = tongue + cutter.wing
    if cutter.reach < near + top_over:
        return Declined(name, f"it reaches {cutter.reach:.1f} mm above the table")
    size = Quantity("cutter", cutter.mark)
    run = Run(
        key="cheeks",
        cutter=cutter,
        postures=(Posture.FLAT_A,),
        height=HEIGHT,
        far=FENCE,
        makes=(
            {
                "lower top far": CHEEK_A,
                "lower rim far": SHOULDER_A,
                "upper underside far": CHEEK_B,
                "upper rim far": SHOULDER_B,
            },
        ),
        outer="height",
        rise="once",
        widen="bite",
        reference="lower wing's top",
        top_over=top_over,
    )
    cheek_a = Form.of(HEIGHT) - Form.of(RIDE_A)
    return _method(
        job,
        PAIR,
        {CHEEK_A: (0, cheek_a), CHEEK_B: (0, cheek_a + Form.of(size))},
        (run,),
        {FENCE: job.length, HEIGHT: near},
        None,
        Form.of(FENCE),
        FENCE,
        sizes={size: tongue},
    )
