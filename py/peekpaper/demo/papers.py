"""The demo's papers, and which of them goes behind what in each colourway; every name is invented."""

from peekpaper.papers.paper import Direction, Paper, Scrap, Shelf

SHELF = Shelf(
    papers=(
        Paper("buoy", "Buoy gingham", "#c8503c", "gingham"),
        Paper("boathouse", "Boathouse red", "#a93a2c", "crosshatch"),
        Paper("sailcloth", "Sailcloth", "#f6eee0", "plain", direction=Direction.ANY, both_sides=True),
        Paper("noon", "Noon dots", "#ef9f33", "dots"),
        Paper("lemon", "Lemon stripes", "#f9d673", "stripes", direction=Direction.TWO_WAY),
        Paper("foam", "Sea foam", "#f0f7f0", "dots"),
        Paper("mist", "Morning mist", "#aed6d3", "plain", both_sides=True),
        Paper("deep", "Deep harbour", "#1f6f8b", "waves", direction=Direction.ONE_WAY),
        Paper("lagoon", "Lagoon", "#4a9f9c", "scallops", direction=Direction.ONE_WAY),
        Paper("heather", "Heather cliff", "#8d7fa3", "leaves"),
    ),
    scraps=(
        Scrap("scrap-lemon", "lemon", 152.4, 101.6),
        Scrap("scrap-heather", "heather", 139.7, 88.9),
    ),
)

COLOURWAYS = (
    (
        "noon",
        "High noon",
        {
            "border": "buoy", "corner": "noon",
            "crest 0": "mist", "crest 1": "foam", "crest 2": "mist", "crest 3": "foam",
            "body 0": "deep", "body 1": "deep", "body 2": "lagoon", "body 3": "lagoon",
            "band 0": "buoy", "band 1": "sailcloth", "door": "deep", "deck": "noon", "pane": "lemon",
            "rail": "sailcloth", "dome": "boathouse", "finial": "noon", "rock": "heather",
            "sun": "noon", "ray": "lemon", "hull": "boathouse", "main sail": "sailcloth", "jib": "mist",
            "cloud": "mist", "gull": "sailcloth", "star": "lemon", "small star": "sailcloth",
        },
    ),
    (
        "dusk",
        "Dusk",
        {
            "border": "boathouse", "corner": "lemon",
            "crest 0": "lagoon", "crest 1": "mist", "crest 2": "lagoon", "crest 3": "mist",
            "body 0": "heather", "body 1": "deep", "body 2": "heather", "body 3": "deep",
            "band 0": "deep", "band 1": "foam", "door": "lemon", "deck": "lemon", "pane": "noon",
            "rail": "foam", "dome": "heather", "finial": "lemon", "rock": "lagoon",
            "sun": "buoy", "ray": "noon", "hull": "deep", "main sail": "noon", "jib": "lemon",
            "cloud": "heather", "gull": "foam", "star": "lemon", "small star": "foam",
        },
    ),
    (
        "regatta",
        "Regatta",
        {
            "border": "heather", "corner": "lemon",
            "crest 0": "foam", "crest 1": "mist", "crest 2": "foam", "crest 3": "mist",
            "body 0": "deep", "body 1": "lagoon", "body 2": "deep", "body 3": "lagoon",
            "band 0": "buoy", "band 1": "lemon", "door": "deep", "deck": "lagoon", "pane": "foam",
            "rail": "lemon", "dome": "deep", "finial": "buoy", "rock": "boathouse",
            "sun": "lemon", "ray": "noon", "hull": "lagoon", "main sail": "buoy", "jib": "foam",
            "cloud": "foam", "gull": "foam", "star": "noon", "small star": "lemon",
        },
    ),
)  # fmt: skip
"""For each colourway its id, its name, and the id of the paper behind each kind of part."""
