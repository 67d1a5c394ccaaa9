"""The bytes of a file as a tree of elements, within bounds."""
