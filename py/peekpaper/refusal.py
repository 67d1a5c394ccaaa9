"""The one exception that the package raises for what a person brought or asked."""

from collections.abc import Mapping


class Refusal(ValueError):
    """Something that the tool can't do, said in one sentence in the person's words.

    The text says what is wrong and what to do about it. Where it has lengths a `code` (kebab-case) comes with
    it, and in `values` what it tells by name, lengths in mm under names that end in `_mm`, so that it can be
    worded anew in another language or unit; else the text is shown as it is.
    Anything else that is raised is a defect of the package.
    """

    def __init__(
        self, sentence: str, code: str = "", values: Mapping[str, float | str] | None = None
    ) -> None:
        super().__init__(sentence)
        self.code = code
        self.values = dict(values or {})
