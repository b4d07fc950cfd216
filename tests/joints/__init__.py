"""Tests of joints: proportions, methods, settings and gaps."""
