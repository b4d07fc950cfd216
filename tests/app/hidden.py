"""A shop that is not quite as its file says, and trial pieces that are cut and measured in it."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import cache
from pathlib import Path

from faywright.app.knowledge import Knowledge, figures
from faywright.app.trial_cut import Measured, joint_called
from faywright.fit.forms import Quantity, Value
from faywright.piece.model import Piece
from faywright.piece.opened import open_documents
from faywright.piece.piece_file import piece_from_text
from faywright.piece.plan import Plan
from faywright.shop.inventory import Shop
from faywright.trials.belief import Unknown
from faywright.trials.observing import TrialPiece, dimensions
from faywright.trials.pair import Trial

DEMO = Path(__file__).parents[2] / "examples" / "hall-bench"
NOW = datetime(2026, 11, 25, 9, tzinfo=UTC)

HEIGHT = Unknown("height zero", "depth gauge")
FENCE = Unknown("fence zero", "depth gauge")
C1 = Unknown("cutter", "C1")
ALL = ("groove width", "groove depth", "tongue thickness", "tongue length")

BOARDS = "".join(
    f'[[board]]\nmark = "B{k}"\npart = "side"\nwidth = 110\nlength = 600\nthickness = {size}\n'
    for k, size in enumerate((19.02, 18.98, 19.00), start=1)
)


@cache
def shop() -> Shop:
    return open_documents(DEMO / "piece.toml", None).shop


@cache
def chest(title: str = "Chest") -> Piece:
    """A piece with one joint, whose tongue follows the height gauge on both faces."""
    return piece_from_text(
        f'faywright = "piece 1"\ntitle = "{title}"\nunits = "mm"\n'
        '[[part]]\nname = "side"\ntimber = "softwood"\n'
        f"{BOARDS}"
        '[[joint]]\nname = "sides"\nfamily = "tongue and groove"\nfit = "snug"\n'
        'groove = { part = "side", edge = "reference edge" }\n'
        'tongue = { part = "side", edge = "opposite edge" }\n'
        'method = { tongue = "tongue flat, from both faces" }\n',
        file="chest.toml",
        folder=DEMO,
    ).piece


@dataclass(frozen=True)
class Hidden:
    """What is true of the demo's shop, less what its file says. [mm]"""

    off: Mapping[Unknown, float]

    def measured(
        self, plan: Plan, known: Knowledge, joint: str = "sides", *, only: tuple[str, ...] = ALL
    ) -> Measured:
        """Readings of a trial piece 19 mm thick, cut as the plan says; without scatter."""
        sides = pieces(plan, joint)
        readings = {
            name: (float(form.value(self._true(piece, known))),)
            for piece in sides
            for name, form in dimensions(piece.solution, piece.side).items()
            if name in only
        }
        return Measured(joint=joint, readings=readings, thickness=(19.0,))

    def clearance(self, plan: Plan, known: Knowledge, joint: str = "sides") -> float:
        """Clearance a side that a first cut gives, of boards 19 mm thick."""
        groove, tongue = (
            float(piece.method.size.value(self._true(piece, known)))
            for piece in pieces(plan, joint)
        )
        return (groove - tongue) / 2

    def _true(self, piece: TrialPiece, known: Knowledge) -> dict[Quantity, Value]:
        listed, now = figures(shop()), figures(known.shop)
        method = piece.method
        true: dict[Quantity, Value] = {method.thickness: 19.0}
        true |= dict.fromkeys(
            [q for q in method.size.coefficients if q.kind == "lift"]
            + [
                q
                for form in dimensions(piece.solution, piece.side).values()
                for q in form.coefficients
                if q.kind == "lift"
            ],
            0.0,
        )
        for quantity, value in {**piece.as_set, **method.cutter_sizes}.items():
            unknown = {
                "height": HEIGHT,
                "fence": FENCE,
                "cutter": Unknown("cutter", quantity.key),
            }[quantity.kind]
            hidden = self.off.get(unknown, 0.0) + listed[unknown] - now[unknown]
            true[quantity] = value + hidden
        return true


def pieces(plan: Plan, joint: str = "sides") -> tuple[TrialPiece, TrialPiece]:
    solution = joint_called(plan, joint).solution
    return Trial(
        TrialPiece(mark=f"{joint}, groove", solution=solution, side="groove"),
        TrialPiece(mark=f"{joint}, tongue", solution=solution, side="tongue"),
    ).pieces
