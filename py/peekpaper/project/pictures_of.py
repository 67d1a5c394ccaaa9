"""Which pictures a project shows."""

from peekpaper.project.project import Project


def pictures_of(project: Project) -> tuple[str, ...]:
    """Return the keys of the pictures of a project's papers, then of its page, each once."""
    keys = (
        *(paper.picture for paper in project.shelf.papers),
        *(block.picture for block in project.page.blocks),
    )
    return tuple(dict.fromkeys(key for key in keys if key is not None))
