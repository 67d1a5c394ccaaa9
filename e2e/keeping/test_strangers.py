"""What strangers send can't hurt: nasty projects open or are refused, broken ones are named."""

import json
from collections.abc import Callable
from pathlib import Path

from playwright.sync_api import expect

from e2e.nasty_documents import NASTY, as_file, beyond_bounds
from e2e.table import Table
from peekpaper.demo.harbour import demo_project

Visit = Callable[[str], Table]

# Makes the open project, as it is kept, one that no page can show.
BREAK = """async () => {
    const id = localStorage.getItem("peekpaper-last");
    const opening = indexedDB.open("peekpaper");
    await new Promise((done) => { opening.onsuccess = done; });
    const transaction = opening.result.transaction(["projects", "steps"], "readwrite");
    transaction.objectStore("steps").clear();
    const projects = transaction.objectStore("projects");
    const asked = projects.get(id);
    asked.onsuccess = () => {
        const kept = asked.result;
        kept.name = kept.course.document.name = "Broken kite";
        kept.course.document.shelf = { papers: [{ id: 7 }] };
        delete kept.course.document.page;
        projects.put(kept);
    };
    await new Promise((done) => { transaction.oncomplete = done; });
    opening.result.close();
}"""
DEMO_CARD = demo_project().look.card_colour
NO_NUMBERS = "void (CanvasRenderingContext2D.prototype.fillText = () => { throw new Error('no ink'); })"


def test_nasty_projects_open_and_every_place_works(visit: Visit) -> None:
    table = visit("tablet-upright")
    page = table.page
    table.wait_until_ready()
    for name, made in NASTY.items():
        document = made()
        table.drop("from a stranger.json", as_file(document))
        expect(page.locator("#project-name")).to_have_text(document["name"].strip(), use_inner_text=False)
        expect(table.openings).to_have_count(6)
        for place in ("Papers", "Mats", "Glue-up", "Design"):
            table.go(place)
            table.wait_for_frames()
        table.go("Papers")
        table.press(page.get_by_role("tab", name="Page"))
        table.wait_for_frames()
        table.picture(f"stranger-{name}")
        table.go("Design")
    assert page.locator("img[src=x]").count() == 0
    table.drop("too much.json", as_file(beyond_bounds()))
    expect(
        page.locator(".notice", has_text="a text on the page is longer than 5000 characters")
    ).to_be_visible()


def test_a_broken_project_is_named_and_a_layer_that_fails_takes_no_other_along(
    revisit: Visit, tmp_path: Path
) -> None:
    table = revisit("tablet-upright")
    page = table.page
    page.goto(f"{table.address}mark.svg")
    page.evaluate(BREAK)
    page.goto(table.address)
    notice = page.locator(".notice", has_text="“Broken kite” is damaged and can't be shown")
    expect(notice).to_be_visible()
    table.wait_until_ready()
    saved = tmp_path / "broken.json"
    table.take(notice.get_by_role("button", name="Save as a file")).save_as(saved)
    assert json.loads(saved.read_text())["name"] == "Broken kite"
    table.press(page.locator("#menu-button"))
    table.press(page.get_by_role("button", name="Name, versions and more of “Broken kite”"))
    table.press(page.get_by_role("button", name="Forget this project on this computer"))
    table.press(page.get_by_role("button", name="Forget it", exact=True))
    expect(page.locator(".kept", has_text="Broken kite")).to_have_count(0)
    table.press(page.locator("dialog[open]").get_by_role("button", name="Close"))

    page.evaluate(NO_NUMBERS)
    table.go("Glue-up")
    expect(
        page.locator(".notice", has_text="A part of the picture on the table can't be painted")
    ).to_be_visible()
    assert table.card_box(DEMO_CARD)
    assert {"layer of the table" in complaint for complaint in table.complaints} == {True}
    table.complaints.clear()
