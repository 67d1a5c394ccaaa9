"""The shelf that a new project starts with: plain coloured papers to try things out."""

from peekpaper.papers.paper import Paper, Shelf
from peekpaper.words.words import Language, read_words

_PAPERS = (
    ("oat", "#e9dfc9"),
    ("honey", "#e3b04b"),
    ("apricot", "#e8935a"),
    ("brick", "#b5523b"),
    ("plum", "#6f3d5c"),
    ("rose", "#d98c94"),
    ("sea-green", "#4f9d8f"),
    ("moss", "#75834a"),
    ("sky", "#8cb9d3"),
    ("ink-blue", "#2f4a73"),
)


def start_shelf(words: Language | None = None) -> Shelf:
    """Return ten plain papers, 12 x 12 in, as many sheets as needed, named in a language: English if none."""
    named = words or read_words("en")
    return Shelf(
        papers=tuple(
            Paper(f"p{count}", named.text(f"start.{name}"), colour)
            for count, (name, colour) in enumerate(_PAPERS, 1)
        )
    )
