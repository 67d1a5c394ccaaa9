"""The shelf that a new project starts with: plain coloured papers to try things out."""

from peekpaper.papers.paper import Paper, Shelf

_PAPERS = (
    ("Oat", "#e9dfc9"),
    ("Honey", "#e3b04b"),
    ("Apricot", "#e8935a"),
    ("Brick", "#b5523b"),
    ("Plum", "#6f3d5c"),
    ("Rose", "#d98c94"),
    ("Sea green", "#4f9d8f"),
    ("Moss", "#75834a"),
    ("Sky", "#8cb9d3"),
    ("Ink blue", "#2f4a73"),
)


def start_shelf() -> Shelf:
    """Return ten plain papers, 12 x 12 in, as many sheets as needed."""
    return Shelf(
        papers=tuple(Paper(f"p{count}", name, colour) for count, (name, colour) in enumerate(_PAPERS, 1))
    )
