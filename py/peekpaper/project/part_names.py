"""What a person calls the parts of a document, for what is said of one that is out of bounds."""

import re
from collections.abc import Mapping

from peekpaper.message import Message, message

_EACH = re.compile(r"\[\d+\]|\.-?\d+(?=\.|$)")

PART_NAMES: Mapping[str, str] = {
    "": "something-in-it",
    "id": "project-name-tag",
    "name": "project-name",
    "source.name": "name-of-the-design-file",
    "source.svg": "design-file",
    "reading": "size-of-the-design",
    "reading.card_colour": "card-colour",
    "mends": "mends",
    "mends[]": "measure-of-a-mend",
    "mends[].id": "mend-name-tag",
    "mends[].finding": "what-a-mend-is-for",
    "mends[].change.line": "points-in-a-line-of-a-mend",
    "mends[].change.line[]": "measure-of-a-mend",
    "mends[].change.outline": "points-in-an-outline-of-a-mend",
    "mends[].change.outline[]": "measure-of-a-mend",
    "mends[].change.outlines": "outlines-of-a-mend",
    "mends[].change.outlines[]": "points-in-an-outline-of-a-mend",
    "mends[].change.outlines[][]": "measure-of-a-mend",
    "mends[].change.turns": "places-of-a-mend",
    "mends[].change.turns[]": "measure-of-a-mend",
    "limits": "limit-of-the-check",
    "backing": "measure-of-the-backing",
    "backing.whole_back.paper": "name-tag-of-a-paper",
    "backing.joined": "joined-openings",
    "backing.joined[]": "number-of-a-joined-opening",
    "backing.split": "openings-kept-apart",
    "backing.split[]": "number-of-an-opening-kept-apart",
    "backing.punches": "punches",
    "backing.punches[]": "name-of-a-punch",
    "backing.simple_shapes": "simple-shapes",
    "backing.simple_shapes[]": "simple-shape",
    "shelf.papers": "papers-on-the-shelf",
    "shelf.papers[]": "measure-of-a-paper",
    "shelf.papers[].id": "paper-name-tag",
    "shelf.papers[].name": "paper-name",
    "shelf.papers[].colour": "paper-colour",
    "shelf.papers[].pattern": "paper-pattern",
    "shelf.papers[].picture": "paper-picture",
    "shelf.papers[].sheets": "number-of-sheets-of-a-paper",
    "shelf.papers[].price": "paper-price",
    "shelf.scraps": "scraps-on-the-shelf",
    "shelf.scraps[]": "measure-of-a-scrap",
    "shelf.scraps[].id": "scrap-name-tag",
    "shelf.scraps[].paper": "name-tag-of-a-paper",
    "shelf.scraps[].outline": "outline-of-a-scrap",
    "shelf.scraps[].outline[]": "point-in-the-outline-of-a-scrap",
    "colourways": "colourways",
    "colourways[].id": "colourway-name-tag",
    "colourways[].name": "colourway-name",
    "colourways[].papers": "openings-with-a-paper",
    "colourways[].papers[]": "name-tag-of-a-paper",
    "colourways[].locked": "locked-openings",
    "colourways[].locked[]": "number-of-a-locked-opening",
    "colourway": "colourway-name-tag",
    "plan": "measure-of-the-plan",
    "plan.seed": "seed-of-the-plan",
    "plan.rounds": "papers-in-the-plan",
    "plan.rounds[]": "rounds-of-a-paper-in-the-plan",
    "plan.piece_pins": "pieces-laid-by-hand",
    "plan.piece_pins[]": "place-of-a-piece-laid-by-hand",
    "plan.trim_pins": "trims-laid-by-hand",
    "plan.trim_pins[]": "place-of-a-trim-laid-by-hand",
    "speed": "speed-of-the-machine",
    "cuts": "what-was-cut",
    "cuts[].colourway": "colourway-name-tag",
    "cuts[].booking": "name-tag-of-a-booking",
    "cuts[].scraps": "scraps-on-the-shelf",
    "cuts[].scraps[]": "measure-of-a-scrap",
    "cuts[].scraps[].id": "scrap-name-tag",
    "cuts[].scraps[].paper": "name-tag-of-a-paper",
    "cuts[].scraps[].outline": "outline-of-a-scrap",
    "cuts[].scraps[].outline[]": "point-in-the-outline-of-a-scrap",
    "cuts[].rounds": "papers-in-the-plan",
    "cuts[].rounds[]": "rounds-of-a-paper-in-the-plan",
    "ticked": "glued-pieces",
    "ticked[]": "number-of-a-glued-piece",
    "ticked_bits": "glued-bits",
    "ticked_bits[]": "number-of-a-glued-bit",
    "look": "colour-of-the-view",
    "page": "size-of-the-page",
    "page.background": "name-tag-of-a-paper",
    "page.blocks": "things-on-the-page",
    "page.blocks[]": "size-or-place-of-something-on-the-page",
    "page.blocks[].kind": "kind-of-something-on-the-page",
    "page.blocks[].text": "text-on-the-page",
    "page.blocks[].picture": "photo-on-the-page",
    "units": "unit",
    "likeness": "likeness-of-openings",
}
"""By a part's place in the document, `[]` for each item; what is not here has the name of what holds it. A
name stands for its words under `part.`."""


def part_name(place: str) -> Message:
    """Return what a person calls the part at a place ("page.blocks[3].text")."""
    holder = _EACH.sub("[]", place)
    while holder not in PART_NAMES:
        holder = holder[: max(holder.rfind("."), holder.rfind("["), 0)]
    return message(f"part.{PART_NAMES[holder]}")
