"""Trees of elements as XML files that every reader takes."""

import re
from xml.etree import ElementTree

_NO_CHARACTER = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""What XML 1.0 has no place for, escaped or not (its production 2): most controls, lone surrogates."""


def xml_file(root: ElementTree.Element) -> bytes:
    """Return the tree as a file in UTF-8, indented, without the characters that XML has no place for.

    Names that people give may hold them: files and links bring along whatever they were written with.
    """
    ElementTree.indent(root, " ")
    text = _NO_CHARACTER.sub("", ElementTree.tostring(root, encoding="unicode"))
    return f"<?xml version='1.0' encoding='utf-8'?>\n{text}".encode()
