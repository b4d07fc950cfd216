"""Tests of setups: choosing a way, hazards, and sheets."""
