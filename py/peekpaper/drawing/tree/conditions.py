"""Conditional processing: the tests that `switch` and other elements make (SVG 1.1, 5.8)."""

from xml.etree.ElementTree import Element

LANGUAGE = "en"
"""The language that is taken for the reader's; what it selects is hardly ever a shape."""


def passes_conditions(element: Element) -> bool:
    """Tell whether an element's required features, extensions and languages are met.

    Features are passed over, as SVG 2 (5.9) has it; no extensions are supported.
    """
    extensions = element.get("requiredExtensions")
    if extensions is not None:
        return False
    languages = element.get("systemLanguage")
    if languages is None:
        return True
    return any(_speaks(language.strip()) for language in languages.split(","))


def _speaks(language: str) -> bool:
    return language.lower() == LANGUAGE or language.lower().startswith(LANGUAGE + "-")
