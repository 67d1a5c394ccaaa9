"""Files that came together: which are designs, which of each is its best source, and what the rest is.

How sellers name and sort what they pack is common practice, no published source.
"""

import re
import unicodedata
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from enum import IntEnum
from pathlib import PurePosixPath

from peekpaper.message import Message, message
from peekpaper.sources.signs import is_dxf, is_pdf

HEAD_BYTES = 4096
"""So much of a file's beginning tells what it is."""


class Form(IntEnum):
    """What a file is, the better source of a design first."""

    SVG = 1
    DXF = 2
    PDF = 3
    PICTURE = 4
    OTHER = 5


@dataclass(frozen=True, slots=True)
class Given:
    """One of the files: its path within folders and zips, its bytes' count, and its first HEAD_BYTES."""

    path: str
    size: int
    head: bytes


@dataclass(frozen=True, slots=True)
class FoundDesign:
    """A design by its name, and the numbers of the files that hold it, the best first."""

    name: str
    files: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class SortedFiles:
    """What came together: designs, pictures of papers, and what is of no use, with why.

    `is_plain` tells that the first design is the one that is meant. `papers` and `typefaces` are numbers of
    files; `typefaces` are among the `unused`, too, for designs that have no words. Files that are left out by
    themselves (hidden ones, a design's other forms) are not named.
    """

    designs: tuple[FoundDesign, ...]
    is_plain: bool
    papers: tuple[int, ...]
    typefaces: tuple[int, ...]
    unused: tuple[tuple[int, Message], ...]


_HIDDEN = re.compile(r"(^|/)(\.|__macosx/|thumbs\.db$|desktop\.ini$|~\$)", re.IGNORECASE)
_PICTURES = {"png", "jpg", "jpeg", "webp", "gif", "bmp", "tif", "tiff", "heic", "heif", "avif"}
_POSTSCRIPT = {"eps", "ps"}
_FONTS = {"ttf", "otf", "woff", "woff2"}
_PACKED = {"zip", "rar", "7z"}
_TEXTS = {"txt", "rtf", "doc", "docx", "html", "htm", "url", "webloc", "md", "odt"}
_FORM_WORDS = {
    *_PICTURES, *_POSTSCRIPT, "svg", "svgz", "dxf", "pdf", "vector", "vectors", "file", "files", "format",
    "cut", "cutting", "datei", "dateien", "schneiddatei", "design", "designs",
}  # fmt: skip
"""Words in names of files and folders that tell a form and no design."""
_LOOSE = re.compile(r"\b\d{2,4} ?dpi\b|\b\d{3,5} ?x ?\d{3,5}( ?px)?\b|\(\d\)|\bcopy( \d)?\b|\bkopie( \d)?\b")
_PAPER_WORDS = {
    "paper", "papers", "papier", "papiere", "pattern", "patterns", "muster", "seamless", "scrapbook",
}  # fmt: skip
_NOTE_WORDS = {
    "license", "licence", "lizenz", "terms", "readme", "read", "instruction", "instructions", "anleitung",
    "tutorial", "thank", "thanks", "danke", "guide", "howto", "help", "hilfe", "policy", "info", "preview",
    "vorschau", "mockup", "cover",
}  # fmt: skip
"""Words in names of what goes with a design and is none."""
_LEFT_OVER = {Form.PDF: "bundle.page", Form.PICTURE: "bundle.picture"}


def form_of(given: Given) -> Form:
    """Return what a file is by how it begins, else by its name."""
    head, ending = given.head, _ending(given.path)
    if is_dxf(head):
        return Form.DXF
    if is_pdf(head):
        return Form.PDF
    if ending in _PICTURES or head.startswith((b"\x89PNG", b"\xff\xd8\xff", b"GIF8")):
        return Form.PICTURE
    if ending == "svgz" or re.search(rb"<(\w+:)?svg[\s>]", _plain(head)) or ending == "svg":
        return Form.SVG
    return Form.DXF if ending == "dxf" else Form.OTHER


def sort_files(files: Sequence[Given]) -> SortedFiles:
    """Return what the files are. Files of one design have one name but for words that tell a form.

    Where there are drawings, printed pages and pictures of other names are no designs; without any the pages
    are, but for those that are notes by their names. A design whose name begins all others' is the whole
    of which these are layers or variants, and opens first.
    """
    seen = [
        (number, given) for number, given in enumerate(files) if given.size and not _HIDDEN.search(given.path)
    ]
    groups: dict[tuple[str, ...], list[int]] = defaultdict(list)
    papers: list[int] = []
    others: list[int] = []
    for number, given in seen:
        form = form_of(given)
        if form is Form.OTHER:
            others.append(number)
        elif form is Form.PICTURE and _PAPER_WORDS & set(_words(given.path)):
            papers.append(number)
        else:
            groups[_key(given.path)].append(number)
    ranked = {
        key: sorted(numbers, key=lambda number: _rank(files[number])) for key, numbers in groups.items()
    }
    tiers = {key: _tier(files[numbers[0]]) for key, numbers in ranked.items()}
    best = min((tier for tier in tiers.values() if tier < Form.OTHER), default=Form.OTHER)
    designs = {key: numbers for key, numbers in ranked.items() if tiers[key] == best and best < Form.PICTURE}
    if not designs:
        papers += [
            number
            for numbers in ranked.values()
            for number in numbers
            if form_of(files[number]) is Form.PICTURE
        ]
    unused = [
        (number, why)
        for number in others
        if _key(files[number].path) not in designs and (why := _why_not(files[number])) is not None
    ]
    for key, numbers in ranked.items():
        if key in designs or (not designs and form_of(files[numbers[0]]) is Form.PICTURE):
            continue
        unused += [
            (number, message(_LEFT_OVER.get(form_of(files[number]), "bundle.page")))
            for number in numbers
            if not _is_note(files[number])
        ]
    order = sorted(designs, key=lambda key: (_natural(" ".join(key)), designs[key]))
    whole = [key for key in order if all(other[: len(key)] == key for other in order)]
    order.sort(key=lambda key: key not in whole[:1])
    return SortedFiles(
        tuple(FoundDesign(_name(files[designs[key][0]].path), tuple(designs[key])) for key in order),
        len(order) == 1 or bool(whole),
        tuple(sorted(papers)),
        tuple(number for number in others if _ending(files[number].path) in _FONTS),
        tuple(sorted(unused, key=lambda one: one[0])),
    )


def _plain(head: bytes) -> bytes:
    """Return the beginning of a text without the zeros that two-byte letters bring."""
    return head.replace(b"\0", b"") if head[:2] in (b"\xff\xfe", b"\xfe\xff", b"<\0", b"\0<") else head


def _ending(path: str) -> str:
    return PurePosixPath(path).suffix.lower().removeprefix(".")


def _words(path: str) -> list[str]:
    """Return the words of a whole path, in small letters."""
    return [word for part in PurePosixPath(path).with_suffix("").parts for word in _words_of(part)]


def _words_of(name: str) -> list[str]:
    text = re.sub(r"(?<=[a-zß-ÿ])(?=[A-Z])", " ", unicodedata.normalize("NFKC", name))
    text = _LOOSE.sub(" ", re.sub(r"[\s_\-.+,&]+", " ", text).lower())
    return re.findall(r"[^\W_]+", text)


def _key(path: str) -> tuple[str, ...]:
    """Return the words of a file's name that tell its design; where all tell forms, those of its folders."""
    parts = PurePosixPath(path).with_suffix("").parts
    for part in reversed(parts):
        words = tuple(word for word in _words_of(part) if word not in _FORM_WORDS)
        if words:
            return words
    return ()


def _name(path: str) -> str:
    """Return what a person calls a design: its file's name, or its folder's where that tells a form alone."""
    parts = PurePosixPath(path).with_suffix("").parts
    for part in reversed(parts):
        if any(word not in _FORM_WORDS for word in _words_of(part)):
            return part.strip()
    return parts[-1] if parts else path


def _rank(given: Given) -> tuple[int, int, int, str]:
    return form_of(given), given.path.count("/"), len(given.path), given.path


def _tier(given: Given) -> int:
    """Return which forms are designs together: drawings, then pages, then pictures; notes are never."""
    form = form_of(given)
    if form is not Form.SVG and _is_note(given):
        return Form.PICTURE if form is Form.PICTURE else Form.OTHER
    return Form.SVG if form is Form.DXF else form


def _is_note(given: Given) -> bool:
    """Tell whether a file is something that goes with a design, by its name; nobody expects it to be used."""
    return bool(_NOTE_WORDS & set(_words_of(PurePosixPath(given.path).stem)))


def _why_not(given: Given) -> Message | None:
    """Return why a file is of no use; None for written notes, of which nobody expects any."""
    ending = _ending(given.path)
    if ending in _TEXTS:
        return None
    for endings, key in (
        (_POSTSCRIPT, "bundle.postscript"),
        (_FONTS, "bundle.font"),
        (_PACKED, "bundle.packed"),
    ):
        if ending in endings:
            return message(key)
    return message("bundle.other")


def _natural(name: str) -> tuple[tuple[int, int, str], ...]:
    """Return what sorts names as people do: 2 before 10."""
    return tuple(
        (0, int(part), "") if part.isdecimal() else (1, 0, part) for part in re.findall(r"\d+|\D+", name)
    )
