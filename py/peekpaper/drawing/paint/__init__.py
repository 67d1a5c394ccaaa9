"""The areas that a shape paints, within its clip paths and by its paint servers."""
