"""A project file that its pictures go with is a zip: the document comes out of it, and nothing worse."""

import io
import zipfile
from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from peekpaper.commands.parcel import document_in, is_parcel
from peekpaper.project.document import from_json, new_project, to_json
from peekpaper.refusal import Refusal

TEXT = to_json(new_project("a.svg", "<svg/>"))


def zipped(files: dict[str, bytes | str], method: int = zipfile.ZIP_STORED) -> bytes:
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", method) as parcel:
        for name, data in files.items():
            parcel.writestr(name, data)
    return target.getvalue()


@pytest.mark.parametrize("method", [zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED])
@pytest.mark.parametrize("folder", ["", "a project/"])
def test_the_project_comes_out_however_it_was_packed(method: int, folder: str) -> None:
    data = zipped({f"{folder}pictures/1.webp": b"RIFF", f"{folder}project.json": TEXT}, method)
    assert is_parcel(data)
    assert to_json(from_json(document_in(data).decode())) == TEXT


def test_a_zip_without_a_project_or_with_too_much_is_refused_with_a_way_on() -> None:
    with pytest.raises(Refusal, match="If a design is in it, unpack it"):
        document_in(zipped({"flower.svg": "<svg/>"}))
    with pytest.raises(Refusal, match="holds more than can be opened"):
        document_in(zipped({f"{number}": b"" for number in range(10_001)}))
    with pytest.raises(Refusal, match="holds more than can be opened"):
        document_in(zipped({"project.json": bytes(65_000_000)}, zipfile.ZIP_DEFLATED))


@given(st.data())
def test_a_broken_zip_is_read_or_refused_and_nothing_else(data: st.DataObject) -> None:
    whole = bytearray(zipped({"project.json": TEXT}, zipfile.ZIP_DEFLATED))
    place = data.draw(st.integers(0, len(whole) - 1))
    whole[place] ^= data.draw(st.integers(1, 255))
    cut = data.draw(st.one_of(st.just(len(whole)), st.integers(0, len(whole))))
    with suppress(Refusal):
        document_in(bytes(whole[:cut]))
