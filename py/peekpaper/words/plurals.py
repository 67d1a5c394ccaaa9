"""Plural categories by the rules of the CLDR (Unicode Technical Standard 35, part 3, section 5).

A rule is a condition on a number's operands: `n` its value, `i` its whole part, `v` and `w` how many digits
follow the decimal mark, with and without trailing zeros, `f` and `t` those digits as a number, `c` and `e` an
exponent.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass

_RELATION = re.compile(
    r"(?P<operand>[nivwftec])(?:\s*%\s*(?P<modulus>\d+))?\s*(?P<equal>!?=)\s*(?P<ranges>\d+(?:\.\.\d+)?(?:\s*,\s*\d+(?:\.\.\d+)?)*)"
)


@dataclass(frozen=True, slots=True)
class PluralRules:
    """The rules of a language by plural category, in the syntax of the CLDR; what meets none is `other`."""

    rules: Mapping[str, str]

    def category(self, number: float) -> str:
        """Return the category of a number that is written with the digits it has and no more."""
        operands = _operands(number)
        return next((name for name, rule in self.rules.items() if _holds(rule, operands)), "other")


def _operands(number: float) -> dict[str, float]:
    whole, _, digits = f"{abs(number):.6f}".rstrip("0").partition(".")
    shown = len(digits)
    after = int(digits or "0")
    return {
        "n": abs(number), "i": int(whole), "v": shown, "w": shown, "f": after, "t": after, "c": 0, "e": 0,
    }  # fmt: skip


def _holds(rule: str, operands: Mapping[str, float]) -> bool:
    """Tell whether a condition holds; raises ValueError for one that is none."""
    return any(
        all(_is_true(relation.strip(), operands) for relation in part.split(" and "))
        for part in rule.partition("@")[0].split(" or ")
    )


def _is_true(relation: str, operands: Mapping[str, float]) -> bool:
    match = _RELATION.fullmatch(relation)
    if match is None:
        raise ValueError(f"“{relation}” is no condition of a plural rule")
    value = operands[match["operand"]]
    if match["modulus"]:
        value %= int(match["modulus"])
    return _is_in(value, match["ranges"]) == (match["equal"] == "=")


def _is_in(value: float, ranges: str) -> bool:
    for part in ranges.split(","):
        least, _, most = part.strip().partition("..")
        if value == int(value) and int(least) <= value <= int(most or least):
            return True
    return False
