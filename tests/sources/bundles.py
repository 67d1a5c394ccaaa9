"""Made bundles in habits of sellers: how they name, sort and pack what one design comes in."""

import io
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass

SVG = b'<?xml version="1.0"?>\n<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0h9v9z"/></svg>'
DXF = b"  0\nSECTION\n  2\nHEADER\n  0\nENDSEC\n  0\nEOF\n"
PNG = b"\x89PNG\r\n\x1a\n" + bytes(60)
JPEG = b"\xff\xd8\xff\xe0" + bytes(60)
PDF = b"%PDF-1.5\n%%EOF"
EPS = b"%!PS-Adobe-3.0 EPSF-3.0\n"
OF = {
    "svg": SVG,
    "dxf": DXF,
    "png": PNG,
    "jpg": JPEG,
    "pdf": PDF,
    "eps": EPS,
    "txt": b"Thank you!",
    "ttf": b"\0\1\0\0",
}
NAMES = ("Harbour Panel", "gull-and-waves", "Zauberwald Fächer", "ромашка", "Lantern_3")


@dataclass(frozen=True)
class Bundle:
    """Files by path, and the path of the one that is meant."""

    files: dict[str, bytes]
    meant: str


def _of(meant: str, *others: str) -> Bundle:
    return Bundle({path: OF[path.rsplit(".", 1)[1].lower()] for path in (*others, meant)}, meant)


def bundles() -> Iterator[Bundle]:
    """Yield ten habits for each of five designs."""
    for name in NAMES:
        dashed = name.replace(" ", "-")
        # All forms side by side.
        yield _of(f"{name}.svg", *(f"{name}.{form}" for form in ("dxf", "png", "pdf", "eps", "jpg")))
        # A folder for each form, in a folder of the design, with notes and a preview.
        yield _of(
            f"{name}/SVG/{name}.svg", f"{name}/DXF/{name}.dxf", f"{name}/PNG/{name}.png",
            f"{name}/License.pdf", f"{name}/Read me first.txt", f"{name}/Preview.jpg",
        )  # fmt: skip
        # Forms told in the files' names, with resolutions.
        yield _of(f"{dashed}_SVG.svg", f"{dashed}_DXF.dxf", f"{dashed}_PNG_300dpi.png", f"{dashed}_PDF.pdf")
        # What one system puts beside each file.
        yield _of(
            f"{name}/{name}.SVG", f"__MACOSX/{name}/._{name}.SVG", f"{name}/.DS_Store.txt",
            f"{name}/{name}.png", "__MACOSX/._Terms of use.pdf", f"{name}/Terms of use.pdf",
        )  # fmt: skip
        # No SVG at all.
        yield _of(f"files/{name}.dxf", f"files/{name}.pdf", f"files/{name}.png", "files/Instructions.pdf")
        # The whole, and one file for each colour of paper.
        yield _of(
            f"{name}.svg", *(f"{name} {layer}.svg" for layer in ("layer 1 red", "layer 2 blue", "frame")),
            f"{name}.jpg",
        )  # fmt: skip
        # Files named by their form alone.
        yield _of(f"{name}/svg/cut file.svg", f"{name}/dxf/cut file.dxf", f"{name}/png/cut file.png")
        # A page alone, with what goes with it.
        yield _of(f"{name}.pdf", f"{name}.png", "Thank you.pdf", "LICENSE.pdf", "mockup.jpg")
        # Copies, numbers of pixels, a font and papers.
        yield _of(
            f"{name} (1).svg", f"{name} 3000x3000px.png", f"{name} (1).dxf", "fonts/Title.ttf",
            "digital papers/01.jpg", "digital papers/02.jpg", "Thumbs.db.txt",
        )  # fmt: skip
        # Deep folders, and previews under other names.
        deep = f"order 1234/Cutting files/{name}"
        yield _of(
            f"{deep}/Vector/{name}.svg", f"{deep}/Vector/{name}.eps", f"{deep}/Raster/{name}.png",
            "order 1234/images/listing photo 1.jpg",
            "order 1234/images/listing photo 2.jpg", "order 1234/How to open.pdf",
        )  # fmt: skip


def zipped(files: dict[str, bytes], encoding: str | None = None) -> bytes:
    """Return the files as a zip; names in an encoding are written without the mark that tells UTF-8."""
    data = io.BytesIO()
    with zipfile.ZipFile(data, "w", zipfile.ZIP_DEFLATED) as archive:
        for path, content in files.items():
            archive.writestr(path, content)
    written = data.getvalue()
    if encoding is not None:
        for path in files:
            written = _renamed(written, path, encoding)
    return written


def _renamed(data: bytes, path: str, encoding: str) -> bytes:
    """Return a zip in which a name, as long in that encoding as in UTF-8, is written without the mark."""
    old, new = path.encode(), path.encode(encoding)
    assert len(old) == len(new)
    changed = bytearray(data)
    for signature, flags_at, name_at in ((b"PK\3\4", 6, 30), (b"PK\1\2", 8, 46)):
        at = data.find(signature)
        while at >= 0:
            if data[at + name_at : at + name_at + len(old)] == old:
                changed[at + flags_at + 1] &= 0xF7
                changed[at + name_at : at + name_at + len(old)] = new
            at = data.find(signature, at + 4)
    return bytes(changed)
