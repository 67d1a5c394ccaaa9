"""CSS `calc()` on lengths (CSS Values and Units 4, chapter 10.1)."""

from collections.abc import Iterator
from typing import NoReturn

import tinycss2
from tinycss2.ast import DimensionToken, FunctionBlock, Node, NumberToken, ParenthesesBlock, PercentageToken

Amounts = dict[str, float]
"""Amounts by their unit in lower case, "" for plain numbers."""


def read_calc(text: str) -> Amounts | None:
    """Return what a `calc()` comes to, unit by unit; None where `text` is no such thing or in error."""
    node = tinycss2.parse_one_component_value(text, skip_comments=True)
    if not isinstance(node, FunctionBlock) or node.lower_name != "calc":
        return None
    try:
        return _Reader(node.arguments).whole()
    except (ValueError, RecursionError, ZeroDivisionError, OverflowError):
        return None


class _Reader:
    """Reads sums of products, token by token."""

    def __init__(self, nodes: list[Node]) -> None:
        self._nodes: Iterator[Node] = (node for node in nodes if node.type not in ("whitespace", "comment"))
        self._next: Node | None = next(self._nodes, None)

    def whole(self) -> Amounts:
        total = self._sum()
        return total if self._next is None else _fail()

    def _take(self) -> Node | None:
        node, self._next = self._next, next(self._nodes, None)
        return node

    def _sees(self, signs: str) -> bool:
        return self._next is not None and self._next.type == "literal" and self._next.value in signs

    def _sum(self) -> Amounts:
        total = self._product()
        while self._sees("+-"):
            sign = -1.0 if self._sees("-") else 1.0
            self._take()
            for unit, amount in self._product().items():
                total[unit] = total.get(unit, 0.0) + sign * amount
        return total

    def _product(self) -> Amounts:
        product = self._value()
        while self._sees("*/"):
            divides = self._sees("/")
            self._take()
            factor = self._value()
            if set(product) == {""} and not divides:
                product, factor = factor, product
            number = factor[""] if set(factor) == {""} else _fail()
            number = 1 / number if divides else number
            product = {unit: amount * number for unit, amount in product.items()}
        return product

    def _value(self) -> Amounts:
        match self._take():
            case DimensionToken() as amount:
                return {amount.lower_unit: float(amount.value)}
            case PercentageToken() as amount:
                return {"%": float(amount.value)}
            case NumberToken() as amount:
                return {"": float(amount.value)}
            case ParenthesesBlock() as inner:
                return _Reader(inner.content).whole()
            case FunctionBlock(lower_name="calc") as inner:
                return _Reader(inner.arguments).whole()
        return _fail()


def _fail() -> NoReturn:
    raise ValueError("no calculation on lengths")
