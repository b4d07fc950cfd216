"""Verified router-table settings for joints, from the boards and cutters a maker really has."""
