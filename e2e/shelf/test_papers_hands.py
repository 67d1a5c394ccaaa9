"""The papers place by touch alone, by mouse alone and by keyboard alone; scraps; ten thousand taps."""

import io
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress

import pytest
from PIL import Image
from playwright.sync_api import Locator, TimeoutError, expect

from e2e.made_papers import photo_of_paper
from e2e.panels import CARD_COLOUR, GRID, HEIGHT_MM, WIDTH_MM, middle
from e2e.table import Table

Visit = Callable[[str], Table]
OPEN = "left open"
MOST_TABS = 120
TAPS = 10_000

MANY_TAPS = """async (count) => {
    const list = document.querySelector(".openings");
    list.focus();
    for (let tap = 0; tap < count; tap += 1) {
        const key = tap % 3 === 2 ? "ArrowRight" : "Enter";
        list.dispatchEvent(new KeyboardEvent("keydown", {key, bubbles: true, cancelable: true}));
        if (tap % 100 === 99) await new Promise(requestAnimationFrame);
    }
}"""
"""Locks an opening, unlocks it, walks to the next one, and so on."""


def window(table: Table) -> Table:
    """Go to the papers of the tests' own design."""
    table.go("Papers")
    expect(sheets(table).first).to_be_visible()
    return table


def sheets(table: Table) -> Locator:
    """The papers on the shelf."""
    return table.page.locator(".sheets > [data-moves='true']")


def name_of(sheet: Locator) -> str:
    """A paper's name."""
    return sheet.locator(".sheet-name span").last.inner_text()


def button(table: Table, name: str) -> Locator:
    """A button by its name."""
    return table.page.get_by_role("button", name=name, exact=True)


def spot(table: Table, x: float, y: float) -> tuple[float, float]:
    """Return where a spot of the design (mm) is seen on the screen."""
    left, top, right, bottom = table.card_box(CARD_COLOUR)
    return left + (right - left) * x / WIDTH_MM, top + (bottom - top) * y / HEIGHT_MM


@contextmanager
def held(table: Table, x: float, y: float) -> Iterator[Callable[[float, float], None]]:
    """Put a finger or the mouse down at a spot; what it yields moves it; then lift it."""
    page = table.page
    if not table.screen.touch:
        page.mouse.move(x, y)
        page.mouse.down()
        yield lambda x, y: page.mouse.move(x, y, steps=6)
        page.mouse.up()
        return
    hand = table.context.new_cdp_session(page)

    def touch(kind: str, *points: tuple[float, float]) -> None:
        touches = [{"x": x, "y": y} for x, y in points]
        hand.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": touches})

    touch("touchStart", (x, y))
    yield lambda x, y: touch("touchMove", (x, y))
    touch("touchEnd")


def centre(target: Locator) -> tuple[float, float]:
    """Return the middle of an element on the screen."""
    target.scroll_into_view_if_needed()
    box = target.bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def beside(target: Locator) -> tuple[float, float]:
    """Return a spot at an element's left edge on the screen."""
    box = target.bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 10, box["y"] + box["height"] / 2


def reach(table: Table, target: Locator) -> None:
    """Walk to an element by the Tab key, from wherever the keyboard is."""
    for _ in range(MOST_TABS):
        if target.evaluate("(element) => document.activeElement === element"):
            return
        table.page.keyboard.press("Tab")
    raise AssertionError(f"the keyboard does not come to {target}")


class Hand:
    """One kind of hand at work, and no other: fingers or a mouse, as the screen has it."""

    def __init__(self, table: Table) -> None:
        self.table = table
        self.page = table.page

    def press(self, target: Locator) -> None:
        """Press a button, a tab, a fold or a choice."""
        self.table.press(target)

    def tab(self, name: str) -> None:
        """Go to a part of the papers place."""
        self.press(self.page.get_by_role("tab", name=name))

    def choose(self, name: str) -> None:
        """Choose one of several by its name."""
        self.press(self.page.get_by_title(name, exact=True))

    def give(self, number: int) -> None:
        """Do to an opening what is in hand."""
        self.table.tap_at(*spot(self.table, *middle(number)))

    def give_row(self) -> None:
        """Do to the upper three openings at once what is in hand."""
        self.choose("gives to all in a box")
        self._draw((5, 5), (95, 35))
        self.choose("gives to all it crosses")

    def sweep_or_alike(self) -> None:
        """Do to all openings what is in hand."""
        for row in (20, 50):
            self._draw((20, row), (50, row), (80, row))

    def to_front(self, sheet: Locator) -> None:
        """Bring the second paper to the front of the shelf."""
        there, here = centre(sheet), beside(sheets(self.table).first)
        with held(self.table, *there) as move:
            if self.table.screen.touch:
                expect(sheet).to_have_class("lifted")
            move(*here)

    def swap(self, one: Locator, other: Locator) -> None:
        """Let two papers change places."""
        there, here = centre(one), centre(other)
        with held(self.table, *there) as move:
            if self.table.screen.touch:
                expect(one).to_have_class("lifted")
            move(*here)
            expect(self.page.get_by_text("Let go: the two papers change places.")).to_be_visible()

    def ring(self) -> None:
        """Do to the openings of the left column what is in hand, by an outline round them."""
        self.choose("gives to all you draw round")
        self._draw((5, 5), (35, 5), (35, 65), (5, 65))
        self.choose("gives to all it crosses")

    def move_piece(self, _piece: Locator) -> None:
        """Move the piece on its page."""
        x, y = spot(self.table, *middle(5))
        with held(self.table, x, y) as move:
            move(x - 20, y - 20)
            move(x - 60, y - 40)

    def move_corner(self, corner: Locator) -> None:
        """Move a corner of a photo."""
        x, y = centre(corner)
        with held(self.table, x, y) as move:
            move(x + 8, y + 6)
            move(x + 15, y + 12)

    def undo(self) -> None:
        """Take the last step back."""
        self.press(button(self.table, "Undo"))

    def redo(self) -> None:
        """Do it again."""
        self.press(button(self.table, "Redo"))

    def _draw(self, *corners: tuple[float, float]) -> None:
        first, *others = [spot(self.table, x, y) for x, y in corners]
        with held(self.table, *first) as move:
            for other in others:
                move(*other)


class Keys(Hand):
    """The keyboard alone."""

    def press(self, target: Locator) -> None:
        expect(target).to_be_visible()
        reach(self.table, target)
        is_switch = target.evaluate("(each) => each.type === 'checkbox'")
        self.page.keyboard.press("Space" if is_switch else "Enter")

    def tab(self, name: str) -> None:
        reach(self.table, self.page.get_by_role("tab", selected=True))
        held = self.page.locator("[role=tab]:focus")
        for _ in range(self.page.get_by_role("tab").count()):
            if held.inner_text() == name:
                return
            self.page.keyboard.press("ArrowRight")
            expect(held).to_have_attribute("aria-selected", "true")
        raise AssertionError(f"the arrow keys do not come to {name}")

    def choose(self, name: str) -> None:
        wanted = self.page.get_by_label(name, exact=True)
        group = self.page.locator("fieldset", has=wanted)
        reach(self.table, group.locator("input:checked"))
        for _ in range(group.locator("input").count()):
            if wanted.is_checked():
                return
            self.page.keyboard.press("ArrowRight")
        raise AssertionError(f"the arrow keys do not come to {name}")

    def give(self, number: int) -> None:
        self._walk_to(number)
        self.page.keyboard.press("Enter")

    def give_row(self) -> None:
        self._walk_to(1)
        for key in ("Shift+ArrowRight", "Shift+ArrowRight", "Enter"):
            self.page.keyboard.press(key)

    def sweep_or_alike(self) -> None:
        self._walk_to(1)
        self.page.keyboard.press("a")

    def to_front(self, sheet: Locator) -> None:
        self.press(sheet.get_by_role("button"))
        self.press(button(self.table, "Move earlier"))

    def swap(self, one: Locator, other: Locator) -> None:
        self.press(one.get_by_role("button"))
        self.press(button(self.table, "Change places with another"))
        self.press(other.get_by_role("button"))

    def ring(self) -> None:
        self._walk_to(1)
        for key in ("Shift+ArrowDown", "Enter"):
            self.page.keyboard.press(key)

    def move_piece(self, piece: Locator) -> None:
        reach(self.table, piece)
        self.page.keyboard.press("ArrowRight")

    def move_corner(self, corner: Locator) -> None:
        reach(self.table, corner)
        for key in ("Shift+ArrowRight", "ArrowDown"):
            self.page.keyboard.press(key)

    def undo(self) -> None:
        self.page.keyboard.press("Control+z")

    def redo(self) -> None:
        self.page.keyboard.press("Control+y")

    def _walk_to(self, number: int) -> None:
        reach(self.table, self.page.get_by_role("listbox", name="Openings of the design"))
        self.page.keyboard.press("Home")
        for _ in range((number - 1) % GRID[0]):
            self.page.keyboard.press("ArrowRight")
        for _ in range((number - 1) // GRID[0]):
            self.page.keyboard.press("ArrowDown")


@pytest.mark.parametrize(("screen_name", "kind"), [("tablet", Hand), ("laptop", Hand), ("laptop", Keys)])
def test_fingers_a_mouse_or_the_keyboard_alone_do_all_with_papers(
    revisit: Visit, screen_name: str, kind: type[Hand]
) -> None:
    hand = kind(window(revisit(screen_name)))
    the_shelf(hand)
    giving(hand)
    suggesting(hand)
    colourways(hand)
    on_the_page(hand)
    on_the_mats(hand)


def the_shelf(hand: Hand) -> None:
    """Papers and scraps come, are sorted, changed and doubled, and go."""
    table, page = hand.table, hand.page
    expect(sheets(table).nth(1)).to_be_visible()
    count = sheets(table).count()
    second = name_of(sheets(table).nth(1))
    hand.to_front(sheets(table).nth(1))
    expect(sheets(table).first).to_contain_text(second)
    hand.press(sheets(table).first.get_by_role("button"))
    hand.press(button(table, "Make a copy"))
    expect(sheets(table)).to_have_count(count + 1)
    hand.press(button(table, "Change this paper"))
    hand.press(page.get_by_role("dialog").get_by_text("Scraps of it"))
    hand.press(button(table, "Add a scrap"))
    expect(page.locator(".scraps li")).to_have_count(1)
    hand.press(button(table, "Keep the changes"))
    expect(page.get_by_role("dialog")).to_have_count(0)
    hand.press(button(table, "Take off the shelf"))
    expect(sheets(table)).to_have_count(count)
    hand.press(page.get_by_text("More papers"))
    with page.expect_file_chooser() as waiting:
        hand.press(button(table, "From a photo or scan"))
    waiting.value.set_files({"name": "rose.jpg", "mimeType": "image/jpeg", "buffer": photo_of_paper()})
    corner = page.get_by_role("button", name="Top left corner")
    expect(corner).to_be_visible()
    before = corner.get_attribute("style")
    assert before is not None
    hand.move_corner(corner)
    expect(corner).not_to_have_attribute("style", before)
    hand.press(button(table, "Use this paper"))
    expect(sheets(table)).to_have_count(count + 1)
    with page.expect_download() as saving:
        hand.press(button(table, "Save this shelf"))
    # The photo goes along.
    assert saving.value.suggested_filename.endswith(".zip")
    hand.press(page.get_by_text("More papers"))


def giving(hand: Hand) -> None:
    """A paper goes to one opening, a row, those ringed, all alike; openings are left open; steps go back."""
    table, page = hand.table, hand.page
    first = name_of(sheets(table).first)
    given = page.locator("[role=option]", has_text=first)
    hand.press(sheets(table).first.get_by_role("button"))
    hand.give(3)
    expect(table.opening(3)).to_contain_text(first)
    expect(given).to_have_count(1)
    hand.undo()
    expect(given).to_have_count(0)
    hand.redo()
    expect(given).to_have_count(1)
    hand.give_row()
    for number in (1, 2, 3):
        expect(table.opening(number)).to_contain_text(first)
    expect(given).to_have_count(3)
    hand.ring()
    expect(table.opening(4)).to_contain_text(first)
    expect(given).to_have_count(4)
    hand.press(page.locator(".sheet", has_text="Leave open"))
    hand.give(1)
    expect(table.opening(1)).to_contain_text(OPEN)
    hand.press(sheets(table).first.get_by_role("button"))
    hand.sweep_or_alike()
    expect(given).to_have_count(6)
    hand.press(page.locator(".fold summary", has_text="Openings in rows"))
    hand.press(page.locator(".sheet", has_text="Leave open"))
    hand.press(page.get_by_role("button", name="6 alike"))
    expect(given).to_have_count(0)
    hand.choose("all alike")
    hand.press(sheets(table).nth(1).get_by_role("button"))
    hand.give(5)
    expect(page.locator("[role=option]", has_text=OPEN)).to_have_count(0)
    expect(given).to_have_count(0)
    hand.swap(sheets(table).nth(1), sheets(table).first)
    expect(given).to_have_count(6)
    hand.undo()
    expect(given).to_have_count(0)


def suggesting(hand: Hand) -> None:
    """What is locked stays as it is, shuffle after shuffle, and reasons are told."""
    table, page = hand.table, hand.page
    hand.choose("this opening")
    hand.press(page.locator(".sheet", has_text="Lock"))
    hand.give(2)
    expect(table.opening(2)).to_contain_text("locked")
    kept = table.opening(2).inner_text()
    hand.tab("Suggest")
    hand.press(button(table, "One paper fewer"))
    for name in ("Suggest", "Shuffle"):
        hand.press(page.locator("#part-suggest").get_by_role("button", name=name, exact=True))
        expect(page.locator(".reasons li").first).to_be_visible()
        expect(table.opening(2)).to_have_text(kept)
    hand.press(button(table, "Unlock all"))
    expect(table.opening(2)).not_to_contain_text("locked")


def colourways(hand: Hand) -> None:
    """Colourways are doubled, renamed, compared and chosen; papers are swapped in one."""
    table, page = hand.table, hand.page
    hand.tab("Colourways")
    tiles = page.locator(".colourways .tile")
    expect(tiles.first).to_be_visible()
    count = tiles.count()
    hand.press(button(table, "Make a copy"))
    expect(tiles).to_have_count(count + 1)
    hand.press(button(table, "Rename"))
    page.keyboard.type("Winter")
    hand.press(page.get_by_role("dialog").get_by_role("button", name="Keep the changes"))
    expect(page.locator(".tile[aria-pressed=true]")).to_have_text("Winter")
    before = table.openings.all_text_contents()
    hand.press(button(table, "Swap a paper everywhere"))
    hand.press(button(table, "Swap"))
    expect(page.get_by_role("dialog")).to_have_count(0)
    expect(table.openings).not_to_have_text(before)
    hand.press(button(table, "Compare"))
    hand.press(page.locator(".compared .tile").first)
    expect(page.get_by_role("dialog")).to_have_count(0)
    expect(table.openings).to_have_text(before)


def on_the_page(hand: Hand) -> None:
    """The piece and blocks are moved, turned and layered on the page; its picture bears measures."""
    table, page = hand.table, hand.page
    hand.tab("Page")
    rows = page.locator("#part-page .row")
    piece = page.locator("#part-page .row", has_text="The finished work")
    expect(piece).to_be_visible()
    hand.press(piece)
    across = page.get_by_label("From the left")
    before = across.input_value()
    hand.move_piece(piece)
    expect(across).not_to_have_value(before)
    hand.undo()
    expect(across).to_have_value(before)
    hand.press(page.locator("#part-page").get_by_role("button", name="Photo", exact=True))
    expect(rows.first).to_contain_text("photo")
    hand.press(button(table, "Send back"))
    expect(rows.nth(1)).to_contain_text("photo")
    hand.press(button(table, "Turn right"))
    hand.press(page.get_by_label("Show thirds"))
    with page.expect_download() as waiting:
        hand.press(button(table, "PNG"))
    picture = Image.open(io.BytesIO(waiting.value.path().read_bytes()))
    assert max(picture.size) == 2400


def on_the_mats(hand: Hand) -> None:
    """A piece is turned in its trim and stays so."""
    table, page = hand.table, hand.page
    hand.tab("Give")
    hand.press(page.locator("[data-place=mats]"))
    expect(page.locator(".trim-row").first).to_be_visible()
    # The search may end by itself before the hand is there.
    with suppress(AssertionError, TimeoutError):
        if button(table, "Stop").is_visible():
            hand.press(button(table, "Stop"))
    expect(table.search_ended).to_be_visible()
    hand.press(page.locator(".trim-row").first)
    hand.press(page.locator(".piece-chip").first)
    expect(button(table, "Pin it here")).to_be_visible()
    hand.press(button(table, "Turn right"))
    expect(button(table, "Take the pin out")).to_be_visible()


def test_a_scrap_is_kept_with_its_paper_and_is_what_the_plan_cuts_from(revisit: Visit) -> None:
    table = window(revisit("laptop"))
    page = table.page
    table.press(button(table, "Change this paper"))
    dialog = page.get_by_role("dialog")
    table.press(dialog.get_by_text("Scraps of it"))
    scrap = dialog.locator(".scrap-new")
    scrap.get_by_label("Width").fill("5 in")
    scrap.get_by_label("Height").fill("4 in")
    table.press(button(table, "Add a scrap"))
    expect(dialog.locator(".scraps li")).to_have_count(1)
    table.press(button(table, "Keep the changes"))
    expect(dialog).to_have_count(0)
    page.get_by_role("listbox", name="Openings of the design").focus()
    page.keyboard.press("a")
    expect(page.locator("[role=option]", has_text=OPEN)).to_have_count(0)
    table.go("Mats")
    table.settle_for_first_plan()
    expect(page.locator(".trim-row", has_text="from a scrap").first).to_be_visible()


def test_ten_thousand_taps_leave_the_page_as_quick_and_as_it_should_be(revisit: Visit) -> None:
    table = window(revisit("laptop"))
    table.press(table.page.locator(".sheet", has_text="Lock"))
    table.page.evaluate(MANY_TAPS, TAPS)
    # The last tap of all locked the opening that it came to; every other lock was taken back.
    expect(table.page.locator("[role=option]", has_text="locked")).to_have_count(1)
    table.press(button(table, "Undo"))
    expect(table.page.locator("[role=option]", has_text="locked")).to_have_count(0)
