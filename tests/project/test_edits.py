"""What a person does to papers and colourways, as a project before and a project after."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from made_projects import projects, shelves

from peekpaper.backing.backing import WholeBack
from peekpaper.papers.paper import Colourway, Paper, Scrap, Shelf
from peekpaper.plan.plan import PiecePin, TrimPin
from peekpaper.project import colourways, shelving
from peekpaper.project.document import from_json, new_project, to_json
from peekpaper.project.project import Project
from peekpaper.project.shelving import Use
from peekpaper.refusal import Refusal


def a_project() -> Project:
    return replace(
        new_project("kite.svg", "<svg/>"),
        colourways=(
            Colourway("c1", "Warm", {1: "p1", 2: "p3", 5: "p3"}, (2,)),
            Colourway("c2", "Cool", {1: "p9", 5: "p3"}),
        ),
    )


def test_a_duplicated_colourway_lies_beside_its_model_and_is_chosen() -> None:
    project = colourways.duplicate_colourway(a_project(), "c1", "Warm again")
    assert [(one.id, one.name) for one in project.colourways] == [
        ("c1", "Warm"),
        ("c3", "Warm again"),
        ("c2", "Cool"),
    ]
    assert project.colourways[1].papers == project.colourways[0].papers
    assert project.colourway == "c3"


def test_colourways_are_added_renamed_and_removed() -> None:
    project = colourways.add_colourway(a_project(), " Night ")
    assert (project.colourways[-1].name, project.colourways[-1].papers) == ("Night", {})
    assert colourways.rename_colourway(project, "c2", "Ice").colourways[1].name == "Ice"
    removed = colourways.remove_colourway(project, "c3")
    assert ([one.id for one in removed.colourways], removed.colourway) == (["c1", "c2"], "c2")
    assert colourways.remove_colourway(removed, "c1").colourway == "c2"


def test_the_last_colourway_a_nameless_one_and_one_that_is_gone_are_refused() -> None:
    project = colourways.remove_colourway(a_project(), "c2")
    with pytest.raises(Refusal, match="only colourway"):
        colourways.remove_colourway(project, "c1")
    with pytest.raises(Refusal, match="needs a name"):
        colourways.rename_colourway(project, "c1", "  ")
    with pytest.raises(Refusal, match="no longer there"):
        colourways.duplicate_colourway(project, "c2", "Cool")


def test_swapping_a_paper_changes_it_everywhere_in_that_colourway() -> None:
    project = colourways.swap_paper(a_project(), "c1", "p3", "p8")
    assert project.colourways[0].papers == {1: "p1", 2: "p8", 5: "p8"}
    assert project.colourways[1] == a_project().colourways[1]


def test_before_a_paper_is_removed_one_can_ask_where_it_is_used() -> None:
    assert shelving.uses_of(a_project(), "p3") == (Use("Warm", 2), Use("Cool", 1))
    assert shelving.uses_of(a_project(), "p2") == ()


def test_a_removed_paper_is_gone_from_everywhere_and_the_project_still_opens() -> None:
    project = a_project()
    pin = TrimPin("p3-1", "p3", 50, 50, 1, 0, 0, False)
    project = replace(
        project,
        shelf=Shelf(project.shelf.papers, (Scrap("s1", "p3", 50, 60), Scrap("s2", "p1", 50, 60))),
        backing=replace(project.backing, whole_back=WholeBack("p3")),
        plan=replace(project.plan, trim_pins=(pin,), piece_pins=(PiecePin(5, "p3-1", 0, 0, 0),)),
        page=replace(project.page, background="p3"),
    )
    removed = shelving.remove_paper(project, "p3")
    assert "p3" not in to_json(removed).replace('"p3-', "")
    assert removed.shelf.scraps == (Scrap("s2", "p1", 50, 60),)
    assert [one.papers for one in removed.colourways] == [{1: "p1"}, {1: "p9"}]
    assert from_json(to_json(removed)) == removed
    assert removed.backing.whole_back is removed.page.background is None
    assert removed.plan.trim_pins == removed.plan.piece_pins == ()


def test_pieces_laid_by_hand_do_not_come_back_with_another_paper_of_a_removed_ones_id() -> None:
    project = a_project()
    kept = PiecePin(1, "p1-1", 0, 0, 0)
    pins = (kept, PiecePin(5, "p3-1", 0, 0, 0))
    project = replace(project, plan=replace(project.plan, piece_pins=pins))
    assert shelving.remove_paper(project, "p3").plan.piece_pins == (kept,)


def test_papers_are_put_and_duplicated() -> None:
    project = a_project()
    changed = shelving.put_paper(project, Paper("p2", "Amber", "#ffaa00"))
    assert (changed.shelf.papers[1].name, len(changed.shelf.papers)) == ("Amber", 10)
    added = shelving.put_paper(project, Paper("p11", "Snow", "#ffffff"))
    assert added.shelf.papers[-1].name == "Snow"
    copied = shelving.duplicate_paper(project, "p1", "Oat, back")
    assert [(paper.id, paper.name) for paper in copied.shelf.papers[:2]] == [
        ("p1", "Oat"),
        ("p11", "Oat, back"),
    ]


def test_a_paper_of_no_size_is_refused_and_nothing_is_lost() -> None:
    with pytest.raises(Refusal, match="has no size"):
        shelving.put_paper(a_project(), Paper("p2", "Amber", "#ffaa00", sheet_width_mm=0))


def test_loading_a_shelf_twice_adds_it_once() -> None:
    other = Shelf(
        (Paper("p1", "Snow", "#ffffff"), Paper("x", "Oat", "#e9dfc9")), (Scrap("s1", "p1", 40, 50),)
    )
    once = shelving.add_shelf(a_project(), other)
    assert [paper.name for paper in once.shelf.papers].count("Snow") == 1
    assert [paper.name for paper in once.shelf.papers].count("Oat") == 1
    assert once.shelf.papers[-1] == Paper("p11", "Snow", "#ffffff")
    assert once.shelf.scraps == (Scrap("s1", "p11", 40, 50),)
    assert shelving.add_shelf(once, other).shelf == once.shelf


@given(projects(), shelves())
@settings(max_examples=40)
def test_any_shelf_can_be_added_to_any_other_and_the_project_still_opens(one: Project, other: Shelf) -> None:
    both = shelving.add_shelf(one, other)
    assert both.shelf.papers[: len(one.shelf.papers)] == one.shelf.papers
    assert from_json(to_json(both)) == both


def test_scraps_put_for_a_paper_replace_its_own_and_leave_others() -> None:
    project = shelving.put_scraps(a_project(), "p1", [Scrap("", "", 60.0, 40.0), Scrap("", "", 60.0, 40.0)])
    project = shelving.put_scraps(project, "p2", [Scrap("", "", 25.0, 25.0)])
    kept = project.shelf.scraps[0]
    project = shelving.put_scraps(project, "p1", [Scrap("", "", 60.0, 40.0), Scrap("", "", 10.0, 90.0)])
    mine = [scrap for scrap in project.shelf.scraps if scrap.paper == "p1"]
    assert [(scrap.width_mm, scrap.height_mm) for scrap in mine] == [(60.0, 40.0), (10.0, 90.0)]
    assert mine[0].id == kept.id
    assert len({scrap.id for scrap in project.shelf.scraps}) == 3
    crossed = Scrap("", "", 10.0, 10.0, ((0.0, 0.0), (10.0, 10.0), (10.0, 0.0), (0.0, 10.0)))
    with pytest.raises(Refusal, match="crosses itself"):
        shelving.put_scraps(project, "p1", [crossed])
    with pytest.raises(Refusal, match="no size"):
        shelving.put_scraps(project, "p1", [Scrap("", "", 0.0, 10.0)])


def test_a_colourway_of_somebody_else_comes_beside_ones_own_with_its_papers() -> None:
    theirs = Colourway("c1", "Anna's", {1: "p1", 2: "x", 5: "gone"}, (1,))
    papers = (Paper("p1", "Snow", "#ffffff"), Paper("x", "Oat", "#e9dfc9"), Paper("y", "Tar", "#111111"))
    project = shelving.adopt_colourway(a_project(), theirs, papers)
    adopted = project.colourways[-1]
    names = {paper.id: paper.name for paper in project.shelf.papers}
    assert (adopted.id, adopted.name, adopted.locked, project.colourway) == ("c3", "Anna's", (), "c3")
    assert {number: names[paper] for number, paper in adopted.papers.items()} == {1: "Snow", 2: "Oat"}
    assert "Tar" not in names.values()
    assert project.colourways[:2] == a_project().colourways
