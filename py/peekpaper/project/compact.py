"""Colourways in few characters, for the link: who has which paper, as runs of symbols.

    {"12": "p3", "13": "p3", "14": "p1"}   becomes   {"use": ["p1", "p3"], "runs": [[12, "110"]]}

Each run starts at an opening's number and gives one symbol per opening from there on; a symbol is the
place of the paper in `use`, as the character that many after "0".
"""

from typing import cast

from peekpaper.project.codec import Json, Mismatch

_FIRST_SYMBOL = ord("0")
_BACKSLASH = ord("\\") - _FIRST_SYMBOL


def compact_papers(papers: dict[str, Json]) -> dict[str, Json]:
    """Return the JSON of a colourway's papers as `use` and `runs`."""
    use = sorted({cast(str, paper) for paper in papers.values()})
    symbols = {paper: _symbol(place) for place, paper in enumerate(use)}
    runs: list[tuple[int, list[str]]] = []
    for number in sorted(map(int, papers)):
        symbol = symbols[cast(str, papers[str(number)])]
        if runs and runs[-1][0] + len(runs[-1][1]) == number:
            runs[-1][1].append(symbol)
        else:
            runs.append((number, [symbol]))
    return {"use": list(use), "runs": [[start, "".join(row)] for start, row in runs]}


def expand_papers(compact: object) -> dict[str, Json]:
    """Return the JSON of a colourway's papers from its `use` and `runs`. Raises Mismatch if they are none."""
    match compact:
        case {"use": list(use), "runs": list(runs)}:
            return {str(number): paper for run in runs for number, paper in _openings_of(run, use)}
        case _:
            raise Mismatch("colourway-missing")


def _openings_of(run: object, use: list[Json]) -> list[tuple[int, Json]]:
    match run:
        case [int(start), str(row)]:
            places = [_place(symbol) for symbol in row]
            if all(0 <= place < len(use) for place in places):
                return [(start + step, use[place]) for step, place in enumerate(places)]
    raise Mismatch("colourway-broken")


def _symbol(place: int) -> str:
    return chr(_FIRST_SYMBOL + place + (place >= _BACKSLASH))


def _place(symbol: str) -> int:
    code = ord(symbol) - _FIRST_SYMBOL
    return code - (code > _BACKSLASH)
