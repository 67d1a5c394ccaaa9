"""What a person calls the parts of a document, for what is said of one that is out of bounds."""

import re
from collections.abc import Mapping

_EACH = re.compile(r"\[\d+\]|\.-?\d+(?=\.|$)")

PART_NAMES: Mapping[str, str] = {
    "": "something in it",
    "id": "the project's name tag",
    "name": "the project's name",
    "source.name": "the name of the design file",
    "source.svg": "the design file",
    "reading": "the size of the design",
    "reading.card_colour": "the card's colour",
    "mends": "mends",
    "mends[]": "a measure of a mend",
    "mends[].id": "a mend's name tag",
    "mends[].finding": "what a mend is for",
    "mends[].change.line": "points in a line of a mend",
    "mends[].change.line[]": "a measure of a mend",
    "mends[].change.outline": "points in an outline of a mend",
    "mends[].change.outline[]": "a measure of a mend",
    "limits": "a limit of the check",
    "backing": "a measure of the backing",
    "backing.whole_back.paper": "the name tag of a paper",
    "backing.joined": "joined openings",
    "backing.joined[]": "the number of a joined opening",
    "backing.split": "openings kept apart",
    "backing.split[]": "the number of an opening kept apart",
    "backing.punches": "punches",
    "backing.punches[]": "the name of a punch",
    "backing.simple_shapes": "simple shapes",
    "backing.simple_shapes[]": "a simple shape",
    "shelf.papers": "papers on the shelf",
    "shelf.papers[]": "a measure of a paper",
    "shelf.papers[].id": "a paper's name tag",
    "shelf.papers[].name": "a paper's name",
    "shelf.papers[].colour": "a paper's colour",
    "shelf.papers[].pattern": "a paper's pattern",
    "shelf.papers[].picture": "a paper's picture",
    "shelf.papers[].sheets": "the number of sheets of a paper",
    "shelf.papers[].price": "a paper's price",
    "shelf.scraps": "scraps on the shelf",
    "shelf.scraps[]": "a measure of a scrap",
    "shelf.scraps[].id": "a scrap's name tag",
    "shelf.scraps[].paper": "the name tag of a paper",
    "colourways": "colourways",
    "colourways[].id": "a colourway's name tag",
    "colourways[].name": "a colourway's name",
    "colourways[].papers": "openings with a paper",
    "colourways[].papers[]": "the name tag of a paper",
    "colourways[].locked": "locked openings",
    "colourways[].locked[]": "the number of a locked opening",
    "colourway": "a colourway's name tag",
    "plan": "a measure of the plan",
    "plan.seed": "the seed of the plan",
    "plan.rounds": "papers in the plan",
    "plan.rounds[]": "the rounds of a paper in the plan",
    "plan.piece_pins": "pieces laid by hand",
    "plan.piece_pins[]": "the place of a piece laid by hand",
    "plan.trim_pins": "trims laid by hand",
    "plan.trim_pins[]": "the place of a trim laid by hand",
    "speed": "the speed of the machine",
    "ticked": "glued pieces",
    "ticked[]": "the number of a glued piece",
    "ticked_bits": "glued bits",
    "ticked_bits[]": "the number of a glued bit",
    "look": "a colour of the view",
    "page": "the size of the page",
    "page.background": "the name tag of a paper",
    "page.blocks": "things on the page",
    "page.blocks[]": "the size or place of something on the page",
    "page.blocks[].kind": "the kind of something on the page",
    "page.blocks[].text": "a text on the page",
    "page.blocks[].picture": "a photo on the page",
    "units": "the unit",
}
"""By a part's place in the document, `[]` for each item; what is not here has the name of what holds it."""


def part_name(place: str) -> str:
    """Return what a person calls the part at a place ("page.blocks[3].text")."""
    holder = _EACH.sub("[]", place)
    while holder not in PART_NAMES:
        holder = holder[: max(holder.rfind("."), holder.rfind("["), 0)]
    return PART_NAMES[holder]
