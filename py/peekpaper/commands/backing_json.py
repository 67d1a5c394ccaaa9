"""The figures of a backing, as `check` and `plan` tell them."""

import math
from dataclasses import asdict
from statistics import median
from typing import Any

from peekpaper.backing.backing import Backing
from peekpaper.words.words import Language


def backing_json(backing: Backing, words: Language) -> dict[str, Any]:
    """Return how wide the lips come out, what sets them, and what would save work; lengths in mm.

    `smallest_width_mm` is null where no size will do; `words` word the offers.
    """
    smallest = backing.smallest_width_mm
    return {
        "smallest_width_mm": smallest if math.isfinite(smallest) else None,
        "smallest_set_by": [line.wkt for line in backing.smallest_set_by],
        "uniform_lip_mm": backing.uniform_lip_mm if math.isfinite(backing.uniform_lip_mm) else None,
        "lips": [
            {
                "piece": piece.number,
                "openings": list(piece.openings),
                "lip_min_mm": piece.lip_min_mm,
                "lip_median_mm": piece.lip_median_mm,
                "simple_shape": piece.simple_shape,
            }
            for piece in backing.pieces
        ],
        "lip_median_mm": median(piece.lip_median_mm for piece in backing.pieces) if backing.pieces else None,
        "under_least_lip": list(backing.under_least_lip),
        "pieces_saved_by_sharing": backing.pieces_saved_by_sharing,
        "fewer_pieces": None if backing.fewer is None else asdict(backing.fewer),
        "nodes_before": backing.nodes_before,
        "nodes_after": backing.nodes_after,
        "offers": [
            {"piece": offer.piece, "name": offer.name, "message": words.say(offer.message)}
            for offer in backing.offers
        ],
        "whole_back": backing.whole_back.wkt if backing.whole_back is not None else None,
    }
