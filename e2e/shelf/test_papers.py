"""The papers place: the shelf, ways to give, suggestions, colourways, photos of papers, the page."""

import json
import re
from base64 import b64encode
from collections.abc import Callable
from pathlib import Path
from xml.etree import ElementTree

from playwright.sync_api import Locator, expect

from e2e.made_papers import grid_svg, huge_photo, odd_pictures, photo_of_paper, sheet_to_print
from e2e.panels import CARD_COLOUR, HEIGHT_MM, WIDTH_MM, blossoms_svg, middle, rosette_svg, window_svg
from e2e.table import Table, wait_until

Visit = Callable[[str], Table]
OPEN = "left open"
COUNT_FILLS = """() => {
    window.fills = 0;
    const fill = CanvasRenderingContext2D.prototype.fill;
    CanvasRenderingContext2D.prototype.fill = function (...how) {
        window.fills += 1;
        return fill.apply(this, how);
    };
}"""

HAS_FACE = """(face) => [...document.fonts].some(
    ({family, status}) => family.includes(`peekpaper ${face}`) && status === "loaded")"""
SUGGEST = 'document.querySelector("#part-suggest .button-main").click();'
# Before a suggestion can come: what is in hand is done to the second opening; the last colourway is chosen.
SUGGEST_AND_GIVE = f"""() => {{
    {SUGGEST}
    const list = document.querySelector(".openings");
    const press = (key) => list.dispatchEvent(new KeyboardEvent("keydown", {{key}}));
    for (const key of ["Home", "ArrowRight", "Enter"]) press(key);
}}"""
SUGGEST_AND_CHOOSE = f"""() => {{
    {SUGGEST}
    [...document.querySelectorAll(".colourways .tile")].at(-1).click();
}}"""
USE_AND_CANCEL = """() => {
    const foot = document.querySelector("dialog[open] .dialog-foot");
    for (const name of [".button-main", ".button"]) foot.querySelector(name).click();
}"""


def at_papers(table: Table) -> Table:
    """Go to the papers."""
    table.go("Papers")
    return table


def button(table: Table, name: str) -> Locator:
    """A button by its name."""
    return table.page.get_by_role("button", name=name, exact=True)


def part(table: Table, name: str) -> None:
    """Go to a part of the papers place."""
    table.press(table.page.get_by_role("tab", name=name))


def stocked(table: Table) -> int:
    """Return how many papers are on the shelf, once it is there."""
    expect(sheets(table).first).to_be_visible()
    return sheets(table).count()


def sheets(table: Table) -> Locator:
    """The papers on the shelf."""
    return table.page.locator(".sheets > [data-moves='true']")


def spot(table: Table, number: int) -> tuple[float, float]:
    """Return where an opening's middle is seen on the screen."""
    left, top, right, bottom = table.card_box(CARD_COLOUR)
    x, y = middle(number)
    return left + (right - left) * x / WIDTH_MM, top + (bottom - top) * y / HEIGHT_MM


def papers_of(table: Table) -> list[str]:
    """What is heard of each opening after its number."""
    return [heard.split(", ", 1)[1] for heard in table.openings.all_text_contents()]


def add_photo(table: Table, name: str, data: bytes) -> None:
    """Choose a photo of a paper."""
    table.page.locator(".shelf-more input[type=file]").first.set_input_files(
        {"name": name, "mimeType": "image/jpeg", "buffer": data}
    )


def drop_photo(table: Table, name: str, data: bytes) -> None:
    """Drop a photo on the page."""
    dropped = table.page.evaluate_handle(
        """([name, coded]) => {
            const bytes = Uint8Array.from(atob(coded), (each) => each.charCodeAt(0));
            const data = new DataTransfer();
            data.items.add(new File([bytes], name, {type: "image/jpeg"}));
            return data;
        }""",
        [name, b64encode(data).decode()],
    )
    table.page.locator("#stage").dispatch_event("drop", {"dataTransfer": dropped})


def test_a_shelf_is_stocked_sorted_and_carried_to_another_project(revisit: Visit, tmp_path: Path) -> None:
    table = at_papers(revisit("tablet"))
    count = stocked(table)
    table.press(table.page.get_by_text("More papers"))
    table.press(button(table, "New paper"))
    table.page.get_by_label("Name", exact=True).fill("Gull grey")
    table.page.get_by_label("Sheet", exact=True).select_option(label="A5")
    table.press(button(table, "Put on the shelf"))
    expect(sheets(table)).to_have_count(count + 1)
    expect(sheets(table).last).to_contain_text("Gull grey")
    table.press(button(table, "Move earlier"))
    expect(sheets(table).nth(count - 1)).to_contain_text("Gull grey")
    table.press(button(table, "Make a copy"))
    expect(sheets(table)).to_have_count(count + 2)
    with table.page.expect_download() as waiting:
        table.press(button(table, "Save this shelf"))
    saved = tmp_path / "shelf.json"
    waiting.value.save_as(saved)
    assert [paper["name"] for paper in json.loads(saved.read_text())["shelf"]["papers"]].count(
        "Gull grey"
    ) == 1
    for way, left in (("Undo", count), ("Redo", count + 2)):
        for _ in range(3):
            table.press(button(table, way))
        expect(sheets(table)).to_have_count(left)
        expect(table.page.locator(".sheets > [data-moves='true'] [aria-pressed=true]")).to_have_count(1)
    table.press(button(table, "Change this paper"))
    expect(table.page.get_by_role("dialog")).to_be_visible()
    table.drop("window.svg", window_svg())
    expect(table.page.locator("[data-place=design]")).to_have_attribute("aria-current", "page")
    at_papers(table)
    expect(sheets(table), "those that were put there by the person").to_have_count(2)
    expect(table.page.get_by_role("dialog"), "it was about another project's paper").to_have_count(0)
    load = table.page.locator(".shelf-more input[accept*=json]")
    table.unfold("More papers")
    load.set_input_files(saved)
    expect(sheets(table)).to_have_count(count + 2)
    newer = {**json.loads(saved.read_text()), "version": 99}
    load.set_input_files(
        {"name": "newer.json", "mimeType": "application/json", "buffer": json.dumps(newer).encode()}
    )
    expect(table.page.locator(".notice", has_text="newer")).to_be_visible()
    expect(sheets(table)).to_have_count(count + 2)


def test_a_paper_of_no_size_is_refused_where_it_is_typed(lay_anew: Visit) -> None:
    table = at_papers(lay_anew("laptop"))
    table.press(button(table, "Change this paper"))
    table.page.get_by_label("Sheet", exact=True).select_option(label="another size")
    table.page.get_by_role("dialog").get_by_label("Width").first.fill("0")
    table.press(button(table, "Keep the changes"))
    expect(table.page.get_by_role("dialog").get_by_text("has no size")).to_be_visible()
    table.press(button(table, "Cancel"))


def test_a_paper_in_use_goes_only_with_an_answer_and_comes_back_by_undo(lay_anew: Visit) -> None:
    table = at_papers(lay_anew("tablet"))
    stocked(table)
    first, second = (sheets(table).nth(at).locator(".sheet-name span").last.inner_text() for at in (0, 1))
    table.tap_at(*spot(table, 1))
    expect(table.opening(1)).to_contain_text(first)
    table.press(button(table, "Take off the shelf"))
    dialog = table.page.get_by_role("dialog")
    expect(dialog.get_by_text("1 opening")).to_be_visible()
    dialog.get_by_label("These openings get").select_option(index=1)
    table.press(button(table, "Take it off"))
    expect(table.opening(1)).to_contain_text(second)
    table.press(button(table, "Undo"))
    expect(table.opening(1)).to_contain_text(first)


def test_alike_boxed_and_listed_openings_are_given_at_once(revisit: Visit) -> None:
    table = at_papers(revisit("laptop"))
    table.page.mouse.click(*spot(table, 2))
    also = table.page.get_by_role("button", name="Also the 5 others like it")
    expect(also).to_be_visible()
    table.press(sheets(table).nth(1).get_by_role("button"))
    expect(also, "it would give them another paper").to_be_hidden()
    table.press(sheets(table).first.get_by_role("button"))
    table.page.mouse.click(*spot(table, 2))
    table.press(also)
    expect(table.page.locator("[role=option]", has_text=OPEN)).to_have_count(0)
    table.press(table.page.locator(".sheet", has_text="Leave open"))
    table.press(table.page.get_by_title("gives to all in a box"))
    left, top, right, bottom = table.card_box(CARD_COLOUR)
    table.page.mouse.move(left - 4, top - 4)
    table.page.mouse.down()
    table.page.mouse.move(right + 4, (top + bottom) / 2, steps=6)
    table.page.mouse.up()
    for number in (1, 2, 3):
        expect(table.opening(number)).to_contain_text(OPEN)
    expect(table.opening(5)).not_to_contain_text(OPEN)
    table.press(sheets(table).nth(2).get_by_role("button"))
    table.press(table.page.get_by_text("Openings in rows"))
    table.press(table.page.get_by_role("button", name="6 alike"))
    expect(table.page.locator("[role=option]", has_text=OPEN)).to_have_count(0)


def test_suggestions_keep_what_was_locked_and_say_why(revisit: Visit) -> None:
    table = at_papers(revisit("tablet"))
    table.tap_at(*spot(table, 1))
    expect(table.opening(1)).not_to_contain_text(OPEN)
    kept = papers_of(table)[0]
    lock = table.page.locator(".sheet", has_text="Lock")
    where = spot(table, 1)
    table.press(lock)
    expect(lock).to_have_attribute("aria-pressed", "true")
    # At once on the same spot: with the press between them these are no double tap.
    table.tap_at(*where)
    expect(table.opening(1)).to_contain_text("locked")
    part(table, "Suggest")
    expect(table.page.locator("#part-suggest .button-main")).to_be_visible()
    table.page.evaluate(SUGGEST_AND_GIVE)
    for again in (False, True):
        if again:
            table.press(table.page.locator("#part-suggest .button-main"))
        expect(table.page.get_by_text("Why these")).to_be_visible()
        expect(table.page.locator("[role=option]", has_text=OPEN)).to_have_count(1)
        expect(table.opening(2)).to_contain_text("left open, locked")
        expect(table.opening(1)).to_contain_text(kept)
    table.page.locator("#part-suggest input[type=file]").set_input_files(
        {"name": "room.jpg", "mimeType": "image/jpeg", "buffer": photo_of_paper()}
    )
    fitting = table.page.locator(".fits button")
    expect(fitting.nth(2)).to_be_visible()
    why = fitting.first.inner_text()
    assert " of the photo." in why
    table.press(fitting.first)
    part(table, "Give")
    held = table.page.locator(".sheet[aria-pressed=true]")
    expect(held).to_be_visible()
    assert why.startswith(held.locator(".sheet-name span").last.inner_text())
    table.drop("window.svg", window_svg())
    expect(table.page.locator("[role=option]", has_text=OPEN)).to_have_count(6)
    at_papers(table)
    part(table, "Suggest")
    expect(
        table.page.locator("#part-suggest").get_by_role("button", name="Suggest", exact=True)
    ).to_be_visible()
    expect(table.page.locator(".reasons li, .fits li")).to_have_count(0)


def test_colourways_are_copied_renamed_swapped_and_chosen(lay_anew: Visit) -> None:
    table = at_papers(lay_anew("laptop"))
    table.page.mouse.click(*spot(table, 1))
    expect(table.opening(1)).not_to_contain_text(OPEN)
    first = papers_of(table)[0]
    part(table, "Colourways")
    tiles = table.page.locator(".colourways .tile")
    expect(tiles.first).to_be_visible()
    before = tiles.count()
    table.press(button(table, "Make a copy"))
    expect(tiles).to_have_count(before + 1)
    table.press(button(table, "Rename"))
    table.page.get_by_label("Its name").fill("Winter")
    table.page.keyboard.press("Enter")
    expect(table.page.locator(".tile[aria-pressed=true]")).to_have_text("Winter")
    table.press(button(table, "Swap a paper everywhere"))
    table.press(button(table, "Swap"))
    expect(table.opening(1)).not_to_contain_text(first)
    table.press(tiles.first)
    expect(table.opening(1)).to_contain_text(first)
    part(table, "Suggest")
    expect(table.page.locator("#part-suggest .button-main")).to_be_visible()
    table.page.evaluate(SUGGEST_AND_CHOOSE)
    expect(table.page.get_by_text("Why these")).to_be_visible()
    expect(table.opening(2)).to_contain_text(OPEN)
    part(table, "Colourways")
    table.press(tiles.first)
    expect(table.opening(2)).not_to_contain_text(OPEN)
    table.press(button(table, "Compare"))
    expect(table.page.locator(".compared .tile")).to_have_count(before + 1)
    table.press(table.page.get_by_role("dialog").get_by_role("button", name="Close"))


def test_a_photo_becomes_a_paper_that_stays_on_the_device(lay_anew: Visit) -> None:
    table = at_papers(lay_anew("laptop"))
    count = stocked(table)
    add_photo(table, "rose.jpg", photo_of_paper(lying=True))
    picture = table.page.locator(".corners-picture")
    expect(picture).to_have_attribute("width", "1000")
    table.page.get_by_role("button", name="Top left corner").focus()
    table.page.keyboard.press("Shift+ArrowRight")
    table.page.get_by_label("What you marked is really").select_option(label="6 × 6 in")
    table.press(button(table, "Use this paper"))
    expect(sheets(table)).to_have_count(count + 1)
    expect(sheets(table).last).to_contain_text("rose")
    table.page.mouse.click(*spot(table, 3))
    expect(table.opening(3)).to_contain_text("rose")
    table.press(button(table, "Change this paper"))
    colour = table.page.get_by_role("dialog").get_by_label("Colour", exact=True).input_value()
    red, green, blue = (int(colour[at : at + 2], 16) for at in (1, 3, 5))
    assert (abs(red - 217) < 12, abs(green - 138) < 12, abs(blue - 160) < 12) == (True, True, True)
    table.press(button(table, "Cancel"))
    refused = table.page.locator(".notice", has_text="can't be read")
    for name, data in odd_pictures().items():
        add_photo(table, name, data)
        table.press(refused.get_by_role("button", name="Close"))
        expect(refused).to_have_count(0)
    drop_photo(table, "dropped.jpg", photo_of_paper())
    table.press(table.page.get_by_role("button", name=re.compile("^A paper")))
    expect(picture).to_have_attribute("width", "1000")
    expect(table.page.get_by_role("dialog").get_by_label("Name")).to_have_value("dropped")
    table.page.evaluate(USE_AND_CANCEL)
    add_photo(table, "huge.jpg", huge_photo())
    expect(picture).to_have_attribute("width", "4096")
    table.press(button(table, "Cancel"))
    expect(sheets(table)).to_have_count(count + 1)


def test_a_picture_that_tells_its_resolution_is_a_whole_sheet_at_its_true_size(lay_anew: Visit) -> None:
    table = at_papers(lay_anew("tablet"))
    page = table.page
    for pixels, per_inch, size in ((1800, 300, "6 × 6 in"), (3600, None, "12 × 12 in")):
        count = stocked(table)
        add_photo(table, "waves.png", sheet_to_print(pixels, per_inch))
        expect(page.get_by_role("radio", name="All of it")).to_be_checked()
        expect(page.get_by_role("button", name="Top left corner")).to_have_count(0)
        wanted = page.get_by_label("What you marked is really")
        assert wanted.evaluate("(list) => list.selectedOptions[0].textContent") == size
        table.picture("whole-sheet")
        table.press(button(table, "Use this paper"))
        expect(sheets(table)).to_have_count(count + 1)
    add_photo(table, "rose.jpg", photo_of_paper())
    expect(page.get_by_role("radio", name="What I mark")).to_be_checked()
    expect(page.get_by_role("button", name="Top left corner")).to_be_visible()
    table.picture("marked-sheet")
    table.press(button(table, "Cancel"))


def test_the_page_takes_a_title_and_its_picture_bears_measures(lay_anew: Visit, tmp_path: Path) -> None:
    table = at_papers(lay_anew("tablet"))
    part(table, "Page")
    rows = table.page.locator("#part-page .row")
    expect(rows.first).to_be_visible()
    # The layout to start from is nobody's step.
    expect(button(table, "Undo")).to_be_disabled()
    before = rows.count()
    size = table.page.get_by_label("Page size")
    size.select_option(label="another size")
    table.wait_for_frames()
    expect(size).to_have_value("custom")
    expect(table.page.locator("#part-page").get_by_label("Width").first).to_be_visible()
    size.select_option(index=0)
    table.press(table.page.locator("#part-page").get_by_role("button", name="Writing", exact=True))
    expect(rows).to_have_count(before + 1)
    words = table.page.get_by_label("Words")
    words.fill("Two tides a day")
    # The typeface comes once it is asked for.
    assert not table.page.evaluate(HAS_FACE, "hand")
    lettering = table.page.get_by_label("Lettering")
    lettering.select_option(label="handwritten")
    expect(lettering).to_have_value("hand")
    wait_until(table.page, HAS_FACE, "hand")
    from_left = table.page.get_by_label("from the left")
    from_left.fill("3 in")
    # A tap on what the writing leaves to be seen of the piece; what was typed is still meant for the writing.
    left, top, right, _ = table.card_box(CARD_COLOUR)
    table.tap_at((left + right) / 2, top + 6)
    expect(rows.last).to_have_attribute("aria-pressed", "true")
    expect(words).to_be_hidden()
    expect(from_left).not_to_have_value("3 in")
    table.press(rows.first)
    expect(words).to_have_value("Two tides a day")
    expect(from_left).to_have_value("3 in")
    height = table.page.locator("#part-page").get_by_label("Height").last
    height.fill("0")
    height.press("Enter")
    expect(table.page.get_by_text("A size is above zero")).to_be_visible()
    height.fill("2 in")
    height.press("Enter")
    expect(table.page.get_by_text("A size is above zero")).to_have_count(0)
    from_top = table.page.get_by_label("from the top")
    # Written otherwise than typed, it was read.
    from_top.fill("152.4 mm")
    from_top.press("Enter")
    expect(from_top).to_have_value("6 in")
    rows.first.focus()
    for _ in range(3):
        table.page.keyboard.press("ArrowDown")
    expect(from_top).to_have_value("6 3/16 in")
    # At a switch undo is the page's; in the text it is the text's.
    grid = table.page.get_by_role("switch", name="Show a grid")
    for key in ("Space", "Control+z"):
        grid.press(key)
    expect(from_top).not_to_have_value("6 3/16 in")
    grid.press("Control+y")
    expect(from_top).to_have_value("6 3/16 in")
    for key in ("x", "Control+z"):
        words.press(key)
    expect(words).to_have_value("Two tides a day")
    expect(from_top).to_have_value("6 3/16 in")
    with table.page.expect_download() as waiting:
        table.press(button(table, "SVG"))
    saved = tmp_path / "page.svg"
    waiting.value.save_as(saved)
    words = [
        text.text for text in ElementTree.parse(saved).getroot().iter("{http://www.w3.org/2000/svg}text")
    ]
    assert "Two tides a day" in words
    assert any(word and word.endswith(" in") for word in words)
    table.press(button(table, "Take off the page"))
    expect(rows).to_have_count(before)
    # A photo lands beside the work, whose card is all to be seen.
    seen = table.card_box(CARD_COLOUR)
    table.press(table.page.locator("#part-page").get_by_role("button", name="Photo", exact=True))
    expect(rows).to_have_count(before + 1)
    table.page.locator("#part-page input[type=file]").set_input_files(
        {"name": "room.jpg", "mimeType": "image/jpeg", "buffer": photo_of_paper()}
    )
    expect(table.page.get_by_label("Size within its frame")).to_be_visible()
    assert table.card_box(CARD_COLOUR) == seen


def test_a_tap_among_very_many_openings_draws_only_its_surroundings(visit: Visit) -> None:
    table = visit("laptop")
    table.wait_until_ready()
    table.drop("grid.svg", grid_svg(25, 20))
    expect(table.openings).to_have_count(500)
    expect(table.page.get_by_text("Looking for loose bits")).to_have_count(0)
    table.go("Papers")
    table.page.evaluate(COUNT_FILLS)
    count = "window.fills"
    table.press(button(table, "See the back"))
    expect(button(table, "See the front")).to_be_visible()
    table.press(button(table, "See the front"))
    expect(button(table, "See the back")).to_be_visible()
    whole = table.page.evaluate(count)
    assert whole > 500
    table.page.get_by_role("listbox", name="Openings of the design").focus()
    drawn = []
    # All is drawn anew once what was computed meanwhile arrives, so that not every tap is drawn by itself.
    for number in range(2, 8):
        table.page.evaluate("window.fills = 0")
        table.page.keyboard.press("ArrowRight")
        table.page.keyboard.press("Enter")
        expect(table.opening(number)).not_to_contain_text(OPEN)
        table.page.wait_for_function("window.fills > 0")
        table.wait_for_frames()
        drawn.append(table.page.evaluate(count))
    assert min(drawn) < whole / 4


def test_openings_are_given_by_how_alike_they_look_and_by_motif(visit: Visit):
    table = visit("tablet")
    table.drop("rosette.svg", rosette_svg(petals=9))
    expect(table.openings).to_have_count(9)
    at_papers(table)
    table.pick("Brick")
    table.press(table.page.get_by_title("all alike", exact=True))
    slider = table.page.get_by_role("slider", name="How alike openings must be")
    expect(slider).to_have_attribute("aria-valuetext", re.compile("Kinds: 1, openings: 9"))
    slider.focus()
    slider.press("Home")
    expect(slider).to_have_attribute("aria-valuetext", re.compile("Kinds: 9, openings: 9"))
    table.page.get_by_role("listbox", name="Openings of the design").press("Enter")
    expect(table.openings.filter(has_text="Brick")).to_have_count(1)
    slider.focus()
    slider.press("ArrowRight")
    expect(slider).to_have_attribute("aria-valuetext", re.compile("Kinds: 1, openings: 9"))
    table.page.get_by_role("listbox", name="Openings of the design").press("Enter")
    expect(table.openings.filter(has_text="Brick")).to_have_count(9)
    # How alike is a step like any other.
    table.press(button(table, "Undo"))
    table.press(button(table, "Undo"))
    expect(slider).to_have_attribute("aria-valuetext", re.compile("Kinds: 9, openings: 9"))
    motifs_are_given_changed_and_named(table)


def motifs_are_given_changed_and_named(table: Table) -> None:
    page = table.page
    table.drop("blossoms.svg", blossoms_svg())
    expect(table.openings).to_have_count(14)
    at_papers(table)
    table.pick("Brick")
    table.press(page.get_by_title("its motif", exact=True))
    table.unfold("Motifs")
    motifs = page.locator(".row", has_text="openings")
    expect(motifs).to_have_text([re.compile("Motif 1.*7 openings"), re.compile("Motif 2.*7 openings")])
    count = page.get_by_role("paragraph").filter(has_text=re.compile(r"^\d+ openings?$"))
    listbox = page.get_by_role("listbox", name="Openings of the design")
    listbox.press("Home")
    listbox.press("Enter")
    expect(table.openings.filter(has_text="Brick")).to_have_count(7)
    table.press(button(table, "Change Motif 1"))
    page.get_by_label("Name of the motif").fill("Rose")
    page.get_by_label("Name of the motif").press("Enter")
    expect(page.get_by_role("heading", name="Rose")).to_be_visible()
    # While a motif is changed, what is done to an opening takes it in or out, and gives it nothing.
    listbox.press("End")
    listbox.press("Enter")
    expect(count).to_have_text("8 openings")
    expect(table.openings.filter(has_text="Brick")).to_have_count(7)
    table.press(button(table, "Done"))
    table.press(motifs.filter(has_text="Rose"))
    expect(table.openings.filter(has_text="Brick")).to_have_count(8)
    table.press(button(table, "Change Rose"))
    ring(table)
    expect(count).to_have_text("14 openings")
    ring(table)
    expect(count).to_have_text("0 openings")
    table.press(button(table, "Undo"))
    table.press(button(table, "Undo"))
    table.press(button(table, "Done"))
    expect(motifs.filter(has_text="Rose")).to_contain_text("8 openings")
    table.go("Glue-up")
    table.press(page.get_by_role("tab", name="Glue, step by step"))
    table.press(page.get_by_text("motif by motif", exact=True))
    expect(page.locator(".glue-group h3")).to_contain_text("Rose")
    expect(page.locator(".step")).to_contain_text("Rose")
    table.go("Mats")
    expect(page.locator(".trim-row").first).to_be_visible()
    table.unfold("Motifs")
    rose = page.locator(".motif-chips").get_by_role("button", name="Rose")
    table.press(rose)
    expect(rose).to_have_attribute("aria-pressed", "true")


def ring(table: Table) -> None:
    """Draw round all that lies on the table."""
    corners = [(30, 90), (690, 90), (690, 690), (30, 690)]
    table.page.mouse.move(*corners[0])
    table.page.mouse.down()
    for corner in corners[1:]:
        table.page.mouse.move(*corner, steps=4)
    table.page.mouse.up()
