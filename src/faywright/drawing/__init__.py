"""Drawings in millimetres on paper, and the backends that carry them out."""
