"""How files of other kinds than SVG begin."""

_BINARY_DXF = b" Binary DXF\r\n\x1a\x00"
_BINARY_DXF_AT = 7
_COMMENT = b"999"


def is_dxf(data: bytes) -> bool:
    """Tell whether a file begins as a DXF file does, as text or in binary."""
    if is_binary_dxf(data):
        return True
    lines = [line.strip() for line in data[:4000].lstrip(b"\xef\xbb\xbf \t\r\n").splitlines()]
    while len(lines) > 1 and lines[0] == _COMMENT:
        del lines[:2]
    return len(lines) > 1 and lines[0] == b"0" and lines[1] in (b"SECTION", b"EOF")


def is_binary_dxf(data: bytes) -> bool:
    """Tell whether a file begins as a binary DXF file does, whatever its first letters are."""
    return data[_BINARY_DXF_AT : _BINARY_DXF_AT + len(_BINARY_DXF)] == _BINARY_DXF


def is_pdf(data: bytes) -> bool:
    """Tell whether a file begins as a PDF file does; readers look for the mark in the first 1,024 bytes."""
    return b"%PDF-" in data[:1024]
