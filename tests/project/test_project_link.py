"""The link to a friend: short, exact, and never half right."""

import base64
import bz2
import dataclasses
import random
import re
import struct
import zlib
from importlib.resources import files

import pytest
from hypothesis import given
from hypothesis import strategies as st
from made_projects import projects

from peekpaper.papers.paper import Colourway
from peekpaper.project.compression import compress
from peekpaper.project.document import new_project
from peekpaper.project.link import LONGEST_LINK, from_link, open_link, to_link
from peekpaper.project.project import Project, Source
from peekpaper.refusal import Refusal

DICTIONARY_1 = 0x734EEAE0
OLD_LINK = (
    "96fG6gEAAACJZKsmceDCNM0o0TDZIMUy1SLJPNEMqfntnVmSim3YAiQ-OmgxOmgxtAYtUFpBg7S5R-JYxVDwEsmjFE"
    "PBUySOUQwFL5E2QDEUfETa6MRQ8BEZoxJDwVukjUcMBR-RNBYxFDxExjjEIPYW8iAEzqEEpMZFeGJRLu4xBGP0brvh"
    "iO63D9OON3o_CwBkQxqhwTNAowQdK0mxhYyBWJZZZuhaVsFHQAA"
)
"""A link as version 1 made it, from samples/version-1.json."""


def panel(openings: int, decimals: int = 1) -> str:
    """A panel of so many openings of six curves each, at random: nothing in it repeats."""
    chance = random.Random(7)
    paths = []
    for _ in range(openings):
        start = f"M{chance.uniform(10, 900):.{decimals}f} {chance.uniform(10, 900):.{decimals}f}"
        curves = (" ".join(f"{chance.uniform(-30, 30):.{decimals}f}" for _ in range(6)) for _ in range(6))
        paths.append(start + "".join("c" + curve for curve in curves) + "z")
    head = '<svg xmlns="http://www.w3.org/2000/svg" width="8in" viewBox="0 0 960 960">'
    return f'{head}<path d="{"".join(paths)}"/></svg>'


def project_of(svg: str, openings: int, colourways: int = 3) -> Project:
    chance = random.Random(11)
    project = new_project("panel.svg", svg)
    return dataclasses.replace(
        project,
        colourways=tuple(
            Colourway(
                f"c{way}",
                f"Colourway {way}",
                {n: f"p{chance.randrange(10) + 1}" for n in range(1, openings + 1)},
            )
            for way in range(colourways)
        ),
    )


def forged(decisions: bytes, design: bytes, version: int = 1) -> str:
    """A link with a right checksum around whatever is given."""
    body = struct.pack(">BI", version, len(decisions)) + decisions + design
    return base64.urlsafe_b64encode(struct.pack(">I", zlib.crc32(body)) + body).decode().rstrip("=")


@given(projects())
def test_a_project_comes_as_it_was_out_of_a_link_of_characters_that_every_address_may_have(
    project: Project,
) -> None:
    link = to_link(project)
    assert re.fullmatch("[A-Za-z0-9_-]+", link)
    assert from_link(link) == project


def test_a_design_of_200_openings_fits_a_link_of_under_30000_characters() -> None:
    project = project_of(panel(200), 200)
    link = to_link(project)
    assert len(link) < 30_000
    assert from_link(link) == project


@pytest.mark.parametrize("before", ["", "#", "p=", "#p=", "https://friend.example/peekpaper/#p="])
def test_the_whole_address_may_be_pasted_too(before: str) -> None:
    project = project_of(panel(3), 3)
    assert from_link(f"  {before}{to_link(project)}\n") == project


def test_a_project_too_large_for_a_link_is_refused_with_the_file_as_the_way_on() -> None:
    with pytest.raises(Refusal, match=r"too large for a link .* send the project file instead"):
        to_link(project_of(panel(1000, 6), 1000))


def test_a_huge_design_that_packs_well_is_refused_when_made_rather_than_when_opened() -> None:
    project = dataclasses.replace(new_project("a.svg", ""), source=Source("a.svg", "<svg>" + " " * 5_000_000))
    with pytest.raises(Refusal, match="send the project file instead"):
        to_link(project)


def test_the_dictionary_that_links_already_sent_depend_on_has_not_changed() -> None:
    dictionary = files("peekpaper.project").joinpath("link_dictionary_1.json").read_bytes()
    assert zlib.crc32(dictionary) == DICTIONARY_1


def test_a_link_sent_long_ago_still_opens() -> None:
    assert (
        from_link(OLD_LINK).source.svg
        == '<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0h9v9h-9z"/></svg>'
    )


@given(st.data())
def test_a_link_cut_off_anywhere_is_refused(data: st.DataObject) -> None:
    length = data.draw(st.integers(0, len(OLD_LINK) - 1))
    with pytest.raises(Refusal, match="ask your friend to send it once more"):
        from_link(OLD_LINK[:length])


@given(st.data())
def test_a_link_with_one_character_changed_is_refused(data: st.DataObject) -> None:
    place = data.draw(st.integers(0, len(OLD_LINK) - 2))
    other = data.draw(st.sampled_from("AZaz09_-").filter(lambda character: character != OLD_LINK[place]))
    with pytest.raises(Refusal, match="cut off or has been changed"):
        from_link(OLD_LINK[:place] + other + OLD_LINK[place + 1 :])


@pytest.mark.parametrize("text", ["", "#", "   ", "https://friend.example/"])
def test_a_link_without_a_project_says_so(text: str) -> None:
    with pytest.raises(Refusal, match="ask your friend to send it once more"):
        from_link(text)


def test_a_link_made_by_a_newer_version_is_refused_with_the_way_on() -> None:
    with pytest.raises(Refusal, match="newer Peekpaper made this link: reload the page"):
        from_link(forged(b"", b"", version=4))


@pytest.mark.parametrize("way", [b"d", b"b"])
def test_a_link_that_unpacks_to_more_than_a_link_can_hold_is_refused(way: bytes) -> None:
    squeeze = zlib.compressobj(9, zlib.DEFLATED, -15)
    zeros = bytes(20_000_000)
    bomb = way + (squeeze.compress(zeros) + squeeze.flush() if way == b"d" else bz2.compress(zeros))
    for link in (forged(bomb, compress(b"<svg/>", b"")), forged(compress(b"{}", b""), bomb)):
        assert len(link) < LONGEST_LINK
        with pytest.raises(Refusal):
            from_link(link)


@pytest.mark.parametrize(
    "decisions",
    [
        b"",
        b"[]",
        b"{}",
        b'{"source": {"name": "a"}, "colourways": [3]}',
        b'{"source": {"name": "a"}, "colourways": [{"papers": []}]}',
        b'{"source": {"name": "a"}, "colourways": [{"papers": {"use": [], "runs": [[1, "0"]]}}]}',
        b'{"source": {"name": "a"}, "colourways": [{"papers": {"use": ["p"], "runs": [["1", "0"]]}}]}',
        b'{"source": {"name": "a"}, "colourways": [], "version": 1}',
        b'{"source": {"name": "a"}, "colourways": [], "version": 9}',
        b"\xff\xfe",
        b"[" * 50_000,
    ],
)
def test_a_link_with_a_right_checksum_around_wrong_parts_is_refused(decisions: bytes) -> None:
    with pytest.raises(Refusal):
        from_link(forged(compress(decisions, b""), compress(b"<svg/>", b"")))


def test_small_pictures_go_along_in_a_link_by_the_keys_that_the_project_names() -> None:
    project = project_of(panel(3), 3)
    first, second, *others = project.shelf.papers
    papers = (
        dataclasses.replace(first, picture="key 0"),
        dataclasses.replace(second, picture="key 1"),
        *(dataclasses.replace(paper, picture="key 2") for paper in others),
    )
    project = dataclasses.replace(project, shelf=dataclasses.replace(project.shelf, papers=papers))
    pictures = {"key 0": b"first", "key 2": bytes(900), "of no paper": b"left out"}
    linked = open_link(to_link(project, pictures))
    assert linked.project == project
    assert linked.pictures == {"key 0": b"first", "key 2": bytes(900)}
    assert not open_link(to_link(project)).pictures


@pytest.mark.parametrize("rest", [b"", b"\x00\x00\x00\xff", b"\x00\x00\x00\x00", b"\x00\x00\x00\x01d"])
def test_a_link_whose_pictures_are_cut_off_is_refused(rest: bytes) -> None:
    decisions = compress(b"{}", b"")
    with pytest.raises(Refusal):
        from_link(forged(decisions, rest, version=2))
    design = compress(b"<svg/>", b"")
    with pytest.raises(Refusal, match="cut off or has been changed"):
        from_link(forged(decisions, struct.pack(">I", len(design)) + design + b"\x00\x09too few", version=2))


def test_a_plan_goes_along_in_a_link_where_there_is_room_with_pictures_or_without() -> None:
    project = project_of(panel(3), 3)
    plan = {"basis": "b", "trims": [{"id": "p1-1", "x_mm": 0.25}]}
    for pictures in ({}, {"of no paper": b"left out"}):
        linked = open_link(to_link(project, pictures, plan))
        assert (linked.project, linked.plan) == (project, plan)
    assert open_link(to_link(project)).plan is None
    chance = random.Random(3)
    huge = {"places": [chance.random() for _ in range(9_000)]}
    assert to_link(project, plan=huge) == to_link(project), "it is left out where the link gets too long"


@pytest.mark.parametrize("plan", [b"dno plan", compress(b"{", b""), b"x"])
def test_a_link_whose_plan_is_spoilt_is_refused(plan: bytes) -> None:
    project = project_of(panel(3), 3)
    whole = base64.urlsafe_b64decode(to_link(project, plan={}) + "==")[4:]
    start = len(whole) - 4 - struct.unpack(">I", whole[-7:-3])[0]
    body = whole[:start] + struct.pack(">I", len(plan)) + plan
    spoilt = base64.urlsafe_b64encode(struct.pack(">I", zlib.crc32(body)) + body).decode().rstrip("=")
    with pytest.raises(Refusal, match="link"):
        open_link(spoilt)
