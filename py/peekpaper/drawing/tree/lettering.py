"""How a file tells that outlines stand for words: as paths within what holds these."""

from xml.etree.ElementTree import Element

DRAWN_IN = "data-drawn-in"
"""On such a path: the name of the typeface that it is drawn in."""
INSTEAD_OF = "data-instead-of"
"""The name of the typeface that the file asks for, where it is another; empty where it names none."""
WITHOUT_LETTERS = "data-without-letters"
"""On words of which nobody knows the letters, since they came from a file that tells none."""


def is_lettering(element: Element) -> bool:
    """Tell whether an element holds the outlines of words."""
    return element.get(DRAWN_IN) is not None


def has_lettering(text: Element) -> bool:
    """Tell whether words have outlines."""
    return any(map(is_lettering, text.iter()))
