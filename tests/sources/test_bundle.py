"""Files that came together: the right design opens, papers are told apart, and the rest is named once."""

import json
from pathlib import Path

import pytest
from bundles import DXF, EPS, JPEG, PDF, PNG, SVG, bundles, zipped
from english import english

from peekpaper.__main__ import main
from peekpaper.refusal import Refusal
from peekpaper.sources.bundle import Given, SortedFiles, sort_files
from peekpaper.sources.container import files_in_folder, files_in_zip

ASKED_SHARE = 0.95
CARD = (
    b'<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="60mm" viewBox="0 0 80 60">'
    b'<path fill-rule="evenodd" d="M0 0h80v60h-80zM10 10v20h20v-20z"/></svg>'
)


def sorted_files(files: dict[str, bytes]) -> SortedFiles:
    return sort_files([Given(path, len(data), data[:4096]) for path, data in files.items()])


def unused(files: dict[str, bytes]) -> dict[str, str]:
    paths = list(files)
    return {paths[number]: english(why) for number, why in sorted_files(files).unused}


def test_bundles_as_sellers_make_them_open_at_the_right_design_without_a_question():
    right = []
    for bundle in bundles():
        found = sorted_files(bundle.files)
        right.append(found.is_plain and list(bundle.files)[found.designs[0].files[0]] == bundle.meant)
    assert len(right) == 50
    assert sum(right) >= ASKED_SHARE * len(right)


def test_several_designs_are_shown_each_from_its_best_source_in_natural_order():
    files = {
        "set/panel 10.svg": SVG,
        "set/panel 2.dxf": DXF,
        "set/panel 2.svg": SVG,
        "set/panel 2.png": PNG,
        "set/gull.dxf": DXF,
    }
    found = sorted_files(files)
    paths = list(files)
    assert not found.is_plain
    assert [(one.name, paths[one.files[0]]) for one in found.designs] == [
        ("gull", "set/gull.dxf"),
        ("panel 2", "set/panel 2.svg"),
        ("panel 10", "set/panel 10.svg"),
    ]
    assert [paths[number] for number in found.designs[1].files] == [
        "set/panel 2.svg",
        "set/panel 2.dxf",
        "set/panel 2.png",
    ]


def test_what_could_not_be_used_is_named_once_with_the_reason_and_other_forms_are_not():
    files = {
        "gull.svg": SVG,
        "gull.eps": EPS,
        "gull.pdf": PDF,
        "flyer.pdf": PDF,
        "shop.jpg": JPEG,
        "other.eps": EPS,
        "Title.ttf": b"\0\1",
        "more.rar": b"Rar!",
        "notes.txt": b"Thank you",
        "film.mp4": b"film",
        "empty.svg": b"",
        ".hidden.svg": SVG,
    }
    assert unused(files) == {
        "flyer.pdf": "a page to read or print, beside drawings that are designs",
        "shop.jpg": "a picture, beside drawings that are designs",
        "other.eps": "PostScript, which can't be read here: save it as SVG or PDF",
        "Title.ttf": "a typeface",
        "more.rar": "packed in a way that can't be read here: unpack it first",
        "film.mp4": "no kind of file that is read here",
    }


def test_papers_are_told_from_pictures_of_the_design_by_their_names():
    files = {"gull.svg": SVG, "papers/sea.jpg": JPEG, "Digital Paper 2.png": PNG, "gull.png": PNG}
    found = sorted_files(files)
    assert [list(files)[number] for number in found.papers] == ["papers/sea.jpg", "Digital Paper 2.png"]
    assert found.unused == ()


def test_pictures_alone_are_papers():
    found = sorted_files({"a.jpg": JPEG, "b.png": PNG})
    assert (found.designs, found.papers, found.unused) == ((), (0, 1), ())


def test_what_a_file_is_counts_and_not_its_name():
    files = {"design": SVG.decode().encode("utf-16"), "picture.svg": PNG}
    found = sorted_files(files)
    assert [list(files)[one.files[0]] for one in found.designs] == ["design"]


@pytest.mark.parametrize(
    ("name", "encoding", "read"),
    [
        ("Fächer.svg", "utf-8", "Fächer.svg"),
        ("ромашка.svg", None, "ромашка.svg"),
        ("a\\b.svg", None, "a/b.svg"),
    ],
)
def test_names_are_read_as_they_were_meant(name, encoding, read):
    assert list(files_in_zip(zipped({name: SVG}, encoding))) == [read]


def test_damaged_and_locked_zips_and_those_that_unpack_without_end_are_refused():
    whole = zipped({"gull.svg": SVG * 50, "notes.txt": b"x" * 999})
    locked = bytearray(whole)
    for signature, at in ((b"PK\3\4", 6), (b"PK\1\2", 8)):
        locked[whole.index(signature) + at] |= 1
    bomb = bytearray(whole)
    at = whole.index(b"PK\1\2") + 24
    bomb[at : at + 4] = (2**31 - 1).to_bytes(4, "little")
    for data, code in (
        (whole[:200], "zip-broken"),
        (bytes(locked), "zip-locked"),
        (bytes(bomb), "zip-too-much"),
    ):
        with pytest.raises(Refusal) as refused:
            files_in_zip(data)
        assert refused.value.code == code


def test_the_command_takes_a_zip_and_a_folder_with_one_design(tmp_path: Path, capsys):
    files = {"gull/SVG/gull.svg": CARD, "gull/PNG/gull.png": PNG, "gull/license.txt": b"Thank you"}
    packed = tmp_path / "gull.zip"
    packed.write_bytes(zipped(files))
    for path, data in files.items():
        (tmp_path / path).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / path).write_bytes(data)
    assert files_in_folder(tmp_path / "gull").keys() == {path.removeprefix("gull/") for path in files}
    for path in (packed, tmp_path / "gull"):
        assert main(["check", str(path)]) == 0
        assert len(json.loads(capsys.readouterr().out)["openings"]) == 1


@pytest.mark.parametrize(
    ("files", "sentence"),
    [
        ({"gull.svg": CARD, "panel.svg": CARD}, "several designs in it: gull and panel"),
        ({"notes.txt": b"Thank you"}, "There is no design in it"),
    ],
)
def test_the_command_says_what_a_zip_lacks(files, sentence, tmp_path: Path, capsys):
    packed = tmp_path / "brought.zip"
    packed.write_bytes(zipped(files))
    assert main(["check", str(packed)]) == 2
    assert sentence in capsys.readouterr().err
