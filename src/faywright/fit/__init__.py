"""Fit under uncertainty: bands, closed forms, chances, groups and order of boards."""

from faywright.fit.bands import Fit, fit_called, fits
from faywright.fit.chance import Budget, Chance, Effect, budget, sampled
from faywright.fit.forms import Form, Quantity
from faywright.fit.groups import Group, fewest_groups, most_served, range_for_one
from faywright.fit.order import chain, matched, worst_misfit
from faywright.fit.spread import COVERAGE, Spread, one_sided

__all__ = [
    "COVERAGE",
    "Budget",
    "Chance",
    "Effect",
    "Fit",
    "Form",
    "Group",
    "Quantity",
    "Spread",
    "budget",
    "chain",
    "fewest_groups",
    "fit_called",
    "fits",
    "matched",
    "most_served",
    "one_sided",
    "range_for_one",
    "sampled",
    "worst_misfit",
]
