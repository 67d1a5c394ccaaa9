from pathlib import Path

import pytest

from workshop.checks import layers


@pytest.fixture
def package(tmp_path) -> Path:
    """A small package with the folders of the real one."""
    root = tmp_path / "peekpaper"
    for path, text in {
        "__init__.py": "",
        "refusal.py": "",
        "drawing/__init__.py": "",
        "drawing/drawing.py": "from peekpaper.refusal import Refusal\n",
        "drawing/read.py": "from peekpaper.drawing.drawing import Drawing\n",
        "design/__init__.py": "",
        "design/design.py": "",
        "design/make.py": "from peekpaper.drawing.drawing import Drawing\n",
        "desk/__init__.py": "",
        "desk/desk.py": "from peekpaper.drawing.read import read_drawing\n",
    }.items():
        (root / path).parent.mkdir(parents=True, exist_ok=True)
        (root / path).write_text(text)
    return root


def test_the_real_package_keeps_the_rules():
    assert layers.complaints() == []


def test_a_package_that_keeps_the_rules_has_no_complaints(package):
    assert layers.complaints(package) == []


def test_a_step_may_not_import_one_that_comes_after_it(package):
    (package / "drawing" / "read.py").write_text("from peekpaper.design.design import Design\n")
    assert layers.complaints(package) == ["drawing.read imports design.design, which comes after it"]


def test_a_step_may_know_the_values_of_an_earlier_one_and_nothing_else(package):
    (package / "design" / "make.py").write_text("from peekpaper.drawing.read import read_drawing\n")
    (complaint,) = layers.complaints(package)
    assert complaint.startswith("design.make imports drawing.read; of the step drawing it may know")


def test_an_import_inside_a_function_counts_too(package):
    (package / "drawing" / "read.py").write_text("def f():\n    import peekpaper.design.make\n")
    assert layers.complaints(package) == ["drawing.read imports design.make, which comes after it"]


def test_modules_may_not_import_one_another_in_a_circle(package):
    (package / "drawing" / "drawing.py").write_text("from peekpaper.drawing import read\n")
    (complaint,) = layers.complaints(package)
    assert complaint.startswith("imports go in a circle")


def test_a_new_folder_must_be_given_its_place(package):
    (package / "drawing" / "read.py").write_text("import peekpaper.extras.new\n")
    (complaint,) = layers.complaints(package)
    assert "extras has no place in the order of steps" in complaint
