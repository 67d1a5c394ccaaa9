"""Geometry that serves all steps."""
