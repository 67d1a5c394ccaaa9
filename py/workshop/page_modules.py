"""Which modules of the page import which; imports of types do not count."""

import posixpath
import re
from collections.abc import Mapping

COMMENT = re.compile(r"/\*.*?\*/|(?<!:)//[^\n]*", re.DOTALL)
AT_ONCE = re.compile(r'(?:\bfrom|\bimport)\s*"(\.[^"]+)"')
AT_ALL = re.compile(r'(?:\bfrom|\bimport|\bimport\()\s*"(\.[^"]+)"')


def imported(code: str, place: str, how: re.Pattern[str] = AT_ALL) -> list[str]:
    """Return what a module imports; paths are from the same folder that its own, `place`, is from."""
    folder = posixpath.dirname(place)
    return [posixpath.normpath(posixpath.join(folder, name)) for name in how.findall(COMMENT.sub("", code))]


def started_with(first: str, files: Mapping[str, bytes]) -> list[str]:
    """Return the modules that one starts with: itself, then what it imports, then what that imports."""
    order = {first: None}
    places = [first]
    while places:
        found = [one for place in places for one in imported(files[place].decode(), place, AT_ONCE)]
        places = [one for one in dict.fromkeys(found) if one not in order]
        order |= dict.fromkeys(places)
    return list(order)
