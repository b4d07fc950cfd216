"""One of each kind of thing a maker owns, all figures invented. [mm]"""

from __future__ import annotations

import numpy as np

from faywright.shop import (
    BeadCutter,
    Board,
    CutSize,
    DovetailCutter,
    Gauge,
    Machine,
    SlotCutter,
    StraightCutter,
    TonguePairCutter,
    VCutter,
)

ROUTER = Machine(mark="R1", speeds_rpm=(8000, 12000, 16000, 18000, 22000, 24000))


def straight(
    marked: float = 12.7,
    *,
    size: CutSize | None = None,
    runout: float = 0.0,
    shank: float = 12.7,
    max_speed_rpm: int | None = None,
) -> StraightCutter:
    return StraightCutter(
        mark="S1",
        flutes=2,
        reach=50.0,
        runout=runout,
        shank=shank,
        max_speed_rpm=max_speed_rpm,
        diameter=CutSize(marked=marked) if size is None else size,
        cutting_length=25.0,
    )


def slot(diameter: float = 48.0, *, runout: float = 0.0, depth: float = 12.0) -> SlotCutter:
    return SlotCutter(
        mark="W1",
        flutes=3,
        reach=60.0,
        runout=runout,
        thickness=CutSize(marked=6.0),
        diameter=diameter,
        slot_depth=depth,
    )


def pair(*, runout: float = 0.0, wing: float = 9.0, length: float = 10.0) -> TonguePairCutter:
    return TonguePairCutter(
        mark="P1",
        flutes=2,
        reach=70.0,
        runout=runout,
        tongue=CutSize(marked=6.0),
        diameter=46.0,
        wing=wing,
        tongue_length=length,
    )


def v_shape(diameter: float = 18.0, angle: float = 90.0, runout: float = 0.0) -> VCutter:
    return VCutter(
        mark="V1", flutes=2, reach=40.0, runout=runout, diameter=diameter, angle_deg=angle
    )


def bead(radius: float = 4.0, point: float = 2.0, runout: float = 0.0) -> BeadCutter:
    return BeadCutter(mark="B1", flutes=2, reach=40.0, runout=runout, radius=radius, point=point)


def dovetail(height: float = 10.0, angle: float = 14.0, runout: float = 0.0) -> DovetailCutter:
    return DovetailCutter(
        mark="D1",
        flutes=2,
        reach=40.0,
        runout=runout,
        diameter=CutSize(marked=14.0),
        height=height,
        angle_deg=angle,
    )


def board(
    *readings: list[float], mark: str = "B01", width: float = 90.0, length: float = 800.0
) -> Board:
    """A board by its rows of readings, from one end to the other."""
    return Board(mark=mark, readings=np.array(readings), width=width, length=length)


def gauge(
    mark: str = "G1",
    *,
    resolution: float = 0.01,
    repeatability: float = 0.02,
    zero_error: float = 0.0,
) -> Gauge:
    return Gauge(
        mark=mark,
        uses=("height", "fence"),
        resolution=resolution,
        repeatability=repeatability,
        zero_error=zero_error,
    )
