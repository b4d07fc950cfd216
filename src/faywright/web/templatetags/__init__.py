"""Filters for templates: how things are written, and nothing that is worked out."""
