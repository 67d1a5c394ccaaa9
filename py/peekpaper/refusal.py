"""The one exception that the package raises for what a person brought or asked."""


class Refusal(ValueError):
    """Something that the tool can't do, said in one sentence in the person's words.

    The text says what is wrong and what to do about it; it is shown as it is.
    Anything else that is raised is a defect of the package.
    """
