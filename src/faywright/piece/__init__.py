"""The piece: its documents, the plan that runs the whole chain, and what is written of it."""

from faywright.piece.model import Part, Piece
from faywright.piece.opened import Documents, open_documents
from faywright.piece.plan import JointPlan, Plan, Verdict, plan
from faywright.piece.plan_json import plan_json
from faywright.piece.summary import summary
from faywright.piece.written import Written, write_plan

__all__ = [
    "Documents",
    "JointPlan",
    "Part",
    "Piece",
    "Plan",
    "Verdict",
    "Written",
    "open_documents",
    "plan",
    "plan_json",
    "summary",
    "write_plan",
]
