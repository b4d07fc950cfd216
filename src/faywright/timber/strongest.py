"""The strongest proportion of tongue to groove wall, for a timber, its grain and lever arms."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import product

from faywright.errors import RangeError
from faywright.timber.allowable import GUIDE, allowable
from faywright.timber.members import FAILURES, Grain, LineLoad, Strip, groove_wall, tongue
from faywright.timber.strength import ClearWood, Service
from faywright.timber.verdict import Verdict, Write, above_nought, used_share

NEAR_THIRDS = 0.02
"""Within this share of the thickness of a third, the rule of thirds is called right. Ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """One side of the joint: its timber, the lever arm at its root [mm], and how grain runs."""

    wood: ClearWood
    arm: float
    grain: Grain = "along the edge"

    def strip(self, thickness: float) -> Strip:
        """This side at a thickness. [mm]"""
        return Strip(thickness=thickness, arm=self.arm, grain=self.grain)


@dataclass(frozen=True, slots=True, kw_only=True)
class Proportion:
    """The strongest proportion: tongue thickness and each groove wall in a board. [mm]

    ``tongue`` and ``wall`` are verdicts at that proportion, ``thirds`` those of tongue and wall
    by the rule of thirds.
    """

    board: float
    play: float
    tongue_thickness: float
    wall_thickness: float
    arms: tuple[float, float]
    tongue: Verdict
    wall: Verdict
    thirds: tuple[Verdict, Verdict]
    caution: str = GUIDE

    @property
    def share(self) -> float:
        """Tongue over board."""
        return self.tongue_thickness / self.board

    @property
    def utilisation(self) -> float:
        """Share of the allowable that either side uses."""
        return max(self.tongue.utilisation, self.wall.utilisation)

    @property
    def gain(self) -> float:
        """How much more this proportion carries than thirds do: 0.1 is a tenth more."""
        strip, wall = (verdict.utilisation for verdict in self.thirds)
        return max(strip, wall) / self.utilisation - 1 if self.utilisation else 0.0

    def words(self, write: Write) -> tuple[str, ...]:
        """The proportion, why, what thirds would do, and the caution."""
        lines = (
            f"strongest: tongue {write(self.tongue_thickness)}, each wall "
            f"{write(self.wall_thickness)}, in a board {write(self.board)} thick; the tongue is "
            f"{used_share(self.share)} of it",
            f"there tongue ({self.tongue.deciding.failure}) and wall "
            f"({self.wall.deciding.failure}) give way at the same load, and use "
            f"{used_share(self.utilisation)} of what is allowed",
        )
        return (*lines, self._beside_thirds(write), self.caution)

    def _beside_thirds(self, write: Write) -> str:
        strip, wall = self.thirds
        if abs(self.tongue_thickness - (self.board - self.play) / 3) < NEAR_THIRDS * self.board:
            return (
                "the rule of thirds is right here: it is exact where tongue and wall are of one "
                "strength and have equal lever arms"
            )
        weaker = "tongue" if strip.utilisation > wall.utilisation else "wall"
        less = used_share(self.gain / (1 + self.gain))
        on_tongue, on_wall = (write(arm) for arm in self.arms)
        return (
            f"by the rule of thirds the {weaker} would give way first, and the joint carry "
            f"{less} less: thirds suit tongue and wall of one strength and equal lever arms, and "
            f"here the arms are {on_tongue} and {on_wall}"
        )


def strongest_proportion(
    service: Service,
    load: LineLoad,
    *,
    board: float,
    tongue_side: Side,
    wall_side: Side,
    play: float = 0.0,
) -> Proportion:
    """The tongue in a board that lets tongue and groove walls give way at the same load. [mm]

    A thicker tongue leaves thinner walls: the one uses less of what it is allowed as it grows,
    the other more, so the joint is strongest where both use the same. That does not hang on the
    load, only on how bending and shear share it. ``play`` is groove width less tongue thickness.

    Notes
    -----
    At a utilisation u a strip must be at least v sqrt(A) thick for bending and v^2 B for shear,
    with v = 1/sqrt(u), A = 6 F a / (b allowed) and B = 1.5 F / (b allowed). Tongue and two walls
    fill the board, so v solves a quadratic for each pair of failures; the pair that decides is
    the one with the smallest v, for the least thickness is the greater of the two needs.

    Raises
    ------
    RangeError
        A size is not above 0, or the play fills the board.

    Examples
    --------
    >>> oak = ClearWood(kind="hardwood", bending=105, elasticity=12300, compression_perp=7.4,
    ...     shear_parallel=13.8, tension_perp=5.5)
    >>> side = Side(wood=oak, arm=6)
    >>> found = strongest_proportion(Service(), LineLoad(force=100, along=300), board=18,
    ...     tongue_side=side, wall_side=side)
    >>> round(found.tongue_thickness, 9), round(found.wall_thickness, 9)
    (6.0, 6.0)
    """
    above_nought("strongest proportion", board_thickness=board)
    if not 0 <= play < board:
        raise RangeError(
            f"a play of {play:g} mm in a board {board:g} mm thick",
            where="strongest proportion",
            remedy="Give groove width less tongue thickness, from 0 to less than the board",
        )
    wood_left = board - play
    thickness = _even_thickness(_needs(tongue_side, service), _needs(wall_side, service), wood_left)
    wall = (wood_left - thickness) / 2
    third = wood_left / 3

    def verdicts(tongue_thickness: float, wall_thickness: float) -> tuple[Verdict, Verdict]:
        return (
            tongue(tongue_side.wood, service, load, tongue_side.strip(tongue_thickness)),
            groove_wall(wall_side.wood, service, load, wall_side.strip(wall_thickness)),
        )

    of_tongue, of_wall = verdicts(thickness, wall)
    return Proportion(
        board=board,
        play=play,
        tongue_thickness=thickness,
        wall_thickness=wall,
        arms=(tongue_side.arm, wall_side.arm),
        tongue=of_tongue,
        wall=of_wall,
        thirds=verdicts(third, third),
    )


@dataclass(frozen=True, slots=True)
class _Needs:
    """Least thickness of a strip at v: ``bending`` times v, and ``shear`` times v squared."""

    bending: float
    shear: float


def _needs(side: Side, service: Service) -> _Needs:
    """The coefficients sqrt(A) and B of a side, for 1 N on each mm of joint."""
    (_, in_bending), (_, in_shear) = FAILURES[side.grain]
    bends = allowable(side.wood, in_bending, service).value_mpa
    shears = allowable(side.wood, in_shear, service).value_mpa
    return _Needs(math.sqrt(6 * side.arm / bends), 1.5 / shears)


def _even_thickness(tongue_needs: _Needs, wall_needs: _Needs, wood_left: float) -> float:
    """Tongue thickness at which tongue and two walls use the same of what they are allowed."""
    roots = []
    for tongue_bends, wall_bends in product((True, False), repeat=2):
        linear = tongue_needs.bending * tongue_bends + 2 * wall_needs.bending * wall_bends
        square = tongue_needs.shear * (not tongue_bends) + 2 * wall_needs.shear * (not wall_bends)
        roots.append(2 * wood_left / (linear + math.sqrt(linear**2 + 4 * square * wood_left)))
    v = min(roots)
    return max(tongue_needs.bending * v, tongue_needs.shear * v**2)
