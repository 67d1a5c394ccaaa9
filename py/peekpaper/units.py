"""The units that people measure in, and what their rulers show."""

MM_PER_INCH = 25.4
"""Exactly (international yard and pound agreement, 1959)."""
PER_MM = {"mm": 1.0, "in": 1 / MM_PER_INCH}
"""What a millimetre is, by unit."""
FOOT_MM = 304.8
"""Twelve inches, exactly."""
PX_PER_INCH = 96.0
"""CSS px in an inch (W3C, CSS Values and Units)."""

RULER_MM = {"in": MM_PER_INCH / 32, "mm": 0.1}
"""The finest step in which a length is told, by unit."""
