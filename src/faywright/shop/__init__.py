"""What the maker owns: cutters, machines, gauges and boards."""

from faywright.shop.boards import Board, Side, Timber, scatter_along
from faywright.shop.cutters import (
    BeadCutter,
    CutSize,
    Cutter,
    DovetailCutter,
    SlotCutter,
    StraightCutter,
    TonguePairCutter,
    VCutter,
)
from faywright.shop.gauges import Gauge, Use
from faywright.shop.inventory import ASSUMED_GAUGE, Habits, Reference, Shop
from faywright.shop.machines import Fence, Machine

__all__ = [
    "ASSUMED_GAUGE",
    "BeadCutter",
    "Board",
    "CutSize",
    "Cutter",
    "DovetailCutter",
    "Fence",
    "Gauge",
    "Habits",
    "Machine",
    "Reference",
    "Shop",
    "Side",
    "SlotCutter",
    "StraightCutter",
    "Timber",
    "TonguePairCutter",
    "Use",
    "VCutter",
    "scatter_along",
]
