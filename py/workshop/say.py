"""How long work tells what it does: by a function that takes one sentence."""

from collections.abc import Callable

Say = Callable[[str], None]
