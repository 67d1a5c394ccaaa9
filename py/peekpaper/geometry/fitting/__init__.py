"""Smooth outlines fitted to points."""
