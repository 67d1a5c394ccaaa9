"""The one exception that the package raises for what a person brought or asked."""

from peekpaper.message import Figure, Message


class Worded(ValueError):
    """An error that tells a message; as text it is English, with lengths in mm, for logs and tests."""

    def __init__(self, said: Message) -> None:
        super().__init__(said.key)
        self.message = said

    def __str__(self) -> str:
        from peekpaper.words.words import read_words

        return read_words("en").say(self.message)


class Refusal(Worded):
    """Something that the tool can't do, and what to do about it.

    `code` (kebab-case) names its words: those under `refusal.code` in each language, which the figures fill.
    Anything else that is raised is a defect of the package.
    """

    def __init__(self, code: str, /, **figures: Figure) -> None:
        super().__init__(Message(f"refusal.{code}", figures))
        self.code = code
