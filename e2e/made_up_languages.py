"""Two languages that nobody speaks: one of four plural forms with long words in another script, one from
right to left. Their rules of plurals, numbers and lists are those of languages that exist.
"""

import json
import re
from typing import Any

from workshop.places import PACKAGE

ENGLISH = json.loads((PACKAGE / "words" / "en.json").read_text(encoding="utf-8"))
LATIN = "abcdefghijklmnopqrstuvwxyz"
GREEK = "αβψδεφγηιξκλμνοπψρστυβωχυζ"
HEBREW = "אבגדהוזחטיכלמנסעפצקרשתבוחט"
GAP = re.compile(r"(\{[\w-]+\})")
LONG = re.compile(r"[α-ω]{5,}")


def _four_forms() -> dict[str, Any]:
    """Words grow by half, as from English to the longest (from memory)."""
    letters = str.maketrans(LATIN + LATIN.upper(), GREEK + GREEK.upper())
    language = {
        "tag": "sl",
        "direction": "ltr",
        "plurals": {
            "one": "v = 0 and i % 100 = 1",
            "two": "v = 0 and i % 100 = 2",
            "few": "v = 0 and i % 100 = 3..4 or v != 0",
        },
        "decimal": ",",
        "group": ".",
        "list": [" in ", ", ", " in "],
    }

    def longer(text: str) -> str:
        return LONG.sub(lambda word: word[0] + word[0][: len(word[0]) // 2], text.translate(letters))

    return _language(language, ("one", "two", "few", "other"), longer)


def _right_to_left() -> dict[str, Any]:
    letters = str.maketrans(LATIN + LATIN.upper(), HEBREW + HEBREW)
    language = {
        "tag": "he",
        "direction": "rtl",
        "plurals": {"one": "i = 1 and v = 0 or i = 0 and v != 0", "two": "i = 2 and v = 0"},
        "decimal": ".",
        "group": ",",
        "list": [" ו", ", ", " ו"],
    }
    return _language(language, ("one", "two", "other"), lambda text: text.translate(letters))


def _language(language: dict[str, Any], forms: tuple[str, ...], spoken: Any) -> dict[str, Any]:
    def said(text: str) -> str:
        return "".join(part if GAP.fullmatch(part) else spoken(part) for part in GAP.split(text))

    words = {
        key: said(entry) if isinstance(entry, str) else {form: said(entry["other"]) for form in forms}
        for key, entry in ENGLISH["words"].items()
    }
    return {"language": language, "words": words}


FOUR_FORMS = _four_forms()
RIGHT_TO_LEFT = _right_to_left()
