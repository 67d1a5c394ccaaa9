"""What papers are called on the sheets: each used paper has a letter, which black and white print keeps."""

from peekpaper.papers.paper import Paper
from peekpaper.sheets.work import Work

_UNKNOWN_COLOUR = "#c8c8c8"


def used_papers(work: Work) -> tuple[Paper, ...]:
    """Return the papers that pieces or the whole-back need, in the order of the shelf.

    A paper that has left the shelf while still in use keeps its id as its name.
    """
    needed = {piece.paper for piece in work.backing.pieces} | {trim.paper for trim in work.plan.trims}
    if work.whole_back is not None:
        needed.add(work.whole_back.paper)
    shelved = {paper.id: paper for paper in work.project.shelf.papers}
    missing = [
        Paper(id, id or work.words.text("print.no-paper"), _UNKNOWN_COLOUR)
        for id in sorted(needed - shelved.keys())
    ]
    return tuple(paper for paper in shelved.values() if paper.id in needed) + tuple(missing)


def paper_letters(work: Work) -> dict[str, str]:
    """Return the letter of each used paper by its id: A to Z, then AA, AB and so on."""
    return {paper.id: _letters(index) for index, paper in enumerate(used_papers(work))}


def trim_tags(work: Work) -> dict[str, str]:
    """Return what each trim is called on the sheets, by its id: its paper's letter and a count, "A1"."""
    letters = paper_letters(work)
    counts = dict.fromkeys(letters, 0)
    tags = {}
    for trim in work.plan.trims:
        counts[trim.paper] += 1
        tags[trim.id] = f"{letters[trim.paper]}{counts[trim.paper]}"
    return tags


def _letters(index: int) -> str:
    first, last = divmod(index, 26)
    return (_letters(first - 1) if first else "") + chr(ord("A") + last)
