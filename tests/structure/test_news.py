"""What is new is told of this version, in each language of the page."""

import pytest

from peekpaper import __version__
from workshop.site.news import CHANGES, versions


def test_the_newest_version_that_is_told_of_is_this_one() -> None:
    assert versions(CHANGES["en"])[0]["version"] == __version__


@pytest.mark.parametrize("language", sorted(CHANGES))
def test_each_version_is_told_of_in_each_language(language: str) -> None:
    told = versions(CHANGES[language])
    assert [each["version"] for each in told] == [each["version"] for each in versions(CHANGES["en"])]
    assert all(each["changes"] for each in told)
