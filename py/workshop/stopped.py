"""The one exception that a command ends with when this machine or the network lets it down."""


class Stopped(Exception):
    """A command can't go on; the text says in a sentence why, and what to do about it."""
