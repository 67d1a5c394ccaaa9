"""Files that ask for too much are refused in a sentence, before any of the work is begun."""

import pytest

from peekpaper.drawing.read import read_drawing
from peekpaper.refusal import Refusal

ROOT = '<svg xmlns="http://www.w3.org/2000/svg" width="90" height="90">'


def test_a_file_of_very_many_entities_is_refused():
    declared = "".join(f'<!ENTITY a{number} "x">' for number in range(5_001))
    file = f"<!DOCTYPE svg [{declared}]>{ROOT}<path d='M0 0h9v9h-9z'/></svg>"
    with pytest.raises(Refusal, match="grow without end"):
        read_drawing(file.encode())


def test_a_file_of_some_entities_is_read():
    file = f"<!DOCTYPE svg [<!ENTITY wide 'M0 0h9'>]>{ROOT}<path d='&wide;v9h-9z'/></svg>"
    (shape,) = read_drawing(file.encode()).shapes
    assert shape.fill is not None
    assert shape.fill.area.area == 81


@pytest.mark.parametrize(
    "inside",
    [
        "<style>path{" + "fill:#000;stroke:none;" * 30_001 + "}</style><path d='M0 0h9v9h-9z'/>",
        "<path d='M0 0h9v9h-9z' style='" + "fill:#000;stroke:none;" * 30_001 + "'/>",
    ],
    ids=["in a sheet", "in an attribute"],
)
def test_a_file_of_very_many_declarations_is_refused(inside: str):
    with pytest.raises(Refusal, match="too many style rules"):
        read_drawing(f"{ROOT}{inside}</svg>".encode())


def test_paths_of_more_than_six_million_characters_are_refused():
    data = "M0 0h9v9h-9z" + " " * 6_000_000
    with pytest.raises(Refusal, match="too many points"):
        read_drawing(f"{ROOT}<path d='{data}'/></svg>".encode())


def test_a_path_of_very_many_arcs_is_refused():
    data = "M0 0a1 1 0 1 1 1 0z" * 24_000
    with pytest.raises(Refusal, match="too many points"):
        read_drawing(f"{ROOT}<path d='{data}'/></svg>".encode())


def test_a_file_of_more_shapes_than_any_design_has_is_refused():
    with pytest.raises(Refusal, match="more than 15,000 shapes"):
        read_drawing(f"{ROOT}{'<rect/>' * 15_001}</svg>".encode())


def test_a_path_of_far_more_outlines_than_there_may_be_openings_is_refused_before_any_is_drawn():
    data = "M0 0h1v1z" * 20_001
    with pytest.raises(Refusal, match="more than 20,000 shapes"):
        read_drawing(f"{ROOT}<path d='{data}'/></svg>".encode())
