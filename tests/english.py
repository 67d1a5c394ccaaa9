"""What messages of the package say in English."""

from typing import Any

from peekpaper.message import Figure, Message
from peekpaper.words.words import read_words


def english(message: Message) -> str:
    return read_words("en").say(message)


def english_of(told: dict[str, Any]) -> str:
    """What a message says that came as JSON."""
    return english(_message_of(told))


def _message_of(told: dict[str, Any]) -> Message:
    return Message(told["key"], {name: _figure_of(figure) for name, figure in told["figures"].items()})


def _figure_of(told: Any) -> Figure:
    if isinstance(told, dict):
        return _message_of(told)
    return tuple(map(_figure_of, told)) if isinstance(told, list) else told
