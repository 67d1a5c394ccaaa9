"""What fills and strokes cover."""
