"""The card is mended where it is: what the check finds by a tap, and what the hand draws."""

from collections.abc import Callable, Sequence

from playwright.sync_api import expect

from e2e.drawn import card_is_drawn
from e2e.panels import CARD_COLOUR, HOLE_MM, WIDTH_MM, middle
from e2e.table import Table

Visit = Callable[[str], Table]

# A frame with a square in its middle that nothing holds.
LOOSE = """<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">
<path fill-rule="evenodd" d="M0 0h100v100h-100zM20 20v60h60v-60zM40 40h20v20h-20z"/></svg>"""


def finger(table: Table, places: Sequence[tuple[float, float]]) -> None:
    """Draw with a finger from place to place."""
    hand = table.context.new_cdp_session(table.page)
    for place, (x, y) in enumerate(places):
        kind = "touchMove" if place else "touchStart"
        hand.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [{"x": x, "y": y}]})
        table.wait_for_frames()
    hand.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})


def count(table: Table, openings: int) -> None:
    words = f"{openings} opening" + ("s" if openings != 1 else "")
    expect(table.page.get_by_role("heading", name=words, exact=True)).to_be_visible()


def test_the_demo_is_mended_in_one_tap_and_comes_back_as_it_came(visit: Visit) -> None:
    table = visit("tablet")
    table.wait_until_ready()
    page = table.page
    loose = page.get_by_role("button", name="Loose bits")
    thin = page.get_by_role("button", name="Thin bars")
    expect(loose).to_be_visible()
    expect(thin).to_be_visible()
    table.press(thin)
    table.press(page.locator(".way", has_text="Leave it"))
    expect(thin).to_have_count(0)
    table.unfold("Mends made")
    table.press(page.get_by_role("button", name="Take this mend back"))
    expect(thin).to_be_visible()
    expect(page.locator(".mend-all")).to_contain_text("Mend all 5")
    table.press(page.locator(".mend-all"))
    expect(loose).to_have_count(0)
    expect(thin).to_have_count(0)
    table.picture("mended")
    table.unfold("Mends made")
    table.press(page.get_by_role("button", name="As it came"))
    expect(loose).to_be_visible()
    expect(page.locator(".mend:visible")).to_have_count(0)


def test_a_loose_bit_is_held_dropped_or_glued_as_the_person_says(visit: Visit) -> None:
    table = visit("tablet")
    table.wait_until_ready()
    page = table.page
    table.drop("loose.svg", LOOSE)
    count(table, 1)
    loose = page.get_by_role("button", name="Loose bits")
    table.press(loose)
    expect(page.locator(".way")).to_have_count(3)
    table.picture("ways")
    table.press(page.locator(".way", has_text="Let it go"))
    expect(loose).to_have_count(0)
    table.press(page.get_by_role("button", name="Undo"))
    expect(loose).to_be_visible()
    table.press(page.get_by_role("button", name="Hold it by a bar").first)
    expect(loose).to_have_count(0)


def windows_on(table: Table) -> tuple[Callable[[int], tuple[float, float]], float]:
    """Return where the windows' middles lie on the screen, by number, and a reach beyond their sides."""
    assert card_is_drawn(table)
    left, top, right, _ = table.card_box(CARD_COLOUR)
    scale = (right - left) / WIDTH_MM

    def at(number: int) -> tuple[float, float]:
        across, down = middle(number)
        return left + scale * across, top + scale * down

    return at, scale * HOLE_MM * 0.6


def test_a_finger_draws_a_bar_rubs_it_out_and_fills_an_opening(lay_anew: Visit) -> None:
    table = lay_anew("tablet")
    page = table.page
    at, reach = windows_on(table)
    x, y = at(1)
    table.unfold("Mend by hand")
    table.press(page.get_by_text("Draw a bar", exact=True))
    finger(table, [(x, y + reach * part) for part in (-1, -0.5, 0, 0.5, 1)])
    count(table, 7)
    table.picture("bar-drawn")
    # Its ends are in hand at once: the one below goes beyond the corner, to the next window.
    finger(table, [(x, y + reach / 1.2), (x + reach / 3, y + reach / 1.2), (x + 2 * reach, y + reach / 1.2)])
    count(table, 8)
    table.picture("bar-moved")
    table.unfold("Mends made")
    expect(page.get_by_role("button", name="Other end")).to_be_visible()
    table.press(page.get_by_role("button", name="Undo"))
    count(table, 7)
    # The rubber begins beside the bar's end, which is out of its way.
    table.press(page.get_by_text("Rub out", exact=True))
    foot = y + reach / 1.3
    finger(table, [(x - reach / 4, foot), (x, foot), (x + reach / 4, foot)])
    count(table, 6)
    table.press(page.get_by_role("button", name="Undo"))
    count(table, 7)
    table.press(page.get_by_role("button", name="Undo"))
    count(table, 6)
    table.press(page.get_by_text("Fill", exact=True))
    table.tap_at(x, y)
    count(table, 5)
    table.press(page.get_by_text("Draw a bar", exact=True))
    finger(table, [(x, y), (x + 3, y + 20)])
    expect(page.locator(".notice")).to_contain_text("on card all along")
    count(table, 5)
    table.press(page.get_by_role("button", name="Undo"))
    count(table, 6)
    table.press(page.get_by_text("Take a bar out", exact=True))
    table.tap_at((x + at(2)[0]) / 2, y)
    count(table, 5)


def test_a_bar_across_one_opening_is_drawn_across_all_alike_by_a_tap(lay_anew: Visit) -> None:
    table = lay_anew("tablet")
    page = table.page
    at, reach = windows_on(table)
    x, y = at(1)
    table.unfold("Mend by hand")
    table.press(page.get_by_text("Draw a bar", exact=True))
    finger(table, [(x, y + reach * part) for part in (-1, 0, 1)])
    table.press(page.locator(".notice .button-quiet"))
    count(table, 12)
    table.picture("repeated")
    expect(page.locator(".notice")).to_have_count(0)


def test_smoother_outlines_tell_and_show_what_they_change_before_they_are_made(lay_anew: Visit) -> None:
    table = lay_anew("tablet")
    page = table.page
    table.unfold("Smoother outlines")
    corner = page.get_by_label("Round sharp corners")
    corner.fill("2 mm")
    corner.press("Enter")
    # A window's corner is rounded by a quarter of a circle, which has points of its own.
    expect(page.get_by_text("points instead of")).not_to_contain_text("0 %")
    table.picture("smoothing")
    table.press(page.get_by_role("button", name="Smooth the outlines"))
    expect(page.locator(".fold-value", has_text="1").first).to_be_visible()
    table.press(page.get_by_role("button", name="Undo"))
    expect(page.get_by_text("Mends made")).to_be_hidden()


SLITS = "".join(f"M{6 + 9 * column} 10h5v30h-5z" for column in range(10))
# Ten slits beside one another.
ROW = f"""<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="50mm" viewBox="0 0 100 50">
<path fill-rule="evenodd" d="M0 0h100v50h-100z{SLITS}"/></svg>"""


def test_what_a_hand_can_not_make_is_said_and_nothing_is_lost(lay_anew: Visit) -> None:
    table = lay_anew("tablet")
    page = table.page
    table.drop("row.svg", ROW)
    count(table, 10)
    left, top, right, bottom = table.card_box(CARD_COLOUR)
    scale = (right - left) / 100
    middle_down = (top + bottom) / 2
    notice = page.locator(".notice")
    table.unfold("Mend by hand")
    table.press(page.get_by_text("Draw a bar", exact=True))
    finger(
        table, [(left + scale, middle_down), ((left + right) / 2, middle_down), (right - scale, middle_down)]
    )
    expect(notice).to_contain_text("would cross 10 openings")
    finger(table, [(left, top - 30), ((left + right) / 2, top - 40), (right, top - 30)])
    expect(notice.filter(has_text="needs card at both ends")).to_be_visible()
    table.press(page.get_by_text("Cut a shape", exact=True))
    # A circle from the middle to beyond the corners.
    finger(table, [((left + right) / 2, middle_down), (right, middle_down), (right + 5, top - 30)])
    expect(notice.filter(has_text="the whole card")).to_be_visible()
    count(table, 10)
    expect(page.get_by_role("button", name="Undo")).to_be_disabled()
    # What can be made is made all the same, and taken back.
    table.press(page.get_by_text("Fill", exact=True))
    table.tap_at(left + 8 * scale, middle_down)
    count(table, 9)
    table.press(page.get_by_role("button", name="Undo"))
    count(table, 10)


PANES = "".join(f"M{10 + 64 * column} {10 + 64 * row}h60v60h-60z" for row in range(3) for column in range(6))
# Panes on a card that is larger than the usual mat.
LARGE = f"""<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="208mm" viewBox="0 0 400 208">
<path fill-rule="evenodd" d="M0 0h400v208h-400z{PANES}"/></svg>"""


def width_seen(table: Table) -> float:
    """Return how wide the card lies on the screen, in px."""
    left, _, right, _ = table.card_box(CARD_COLOUR)
    return right - left


def test_a_design_larger_than_the_mat_is_cut_in_parts_and_a_border_is_seen_before_it_is_added(
    lay_anew: Visit,
) -> None:
    table = lay_anew("tablet")
    page = table.page
    table.drop("large.svg", LARGE)
    count(table, 18)
    larger = page.get_by_role("button", name="Larger than the mat")
    table.press(larger)
    table.press(page.locator(".way", has_text="joined by tabs"))
    expect(larger).to_have_count(0)
    table.unfold("Mends made")
    expect(page.locator(".mend", has_text="Cut in parts")).to_be_visible()
    across = width_seen(table)
    table.unfold("Border")
    expect(page.get_by_text("With it the design is", exact=False)).to_contain_text("18 openings")
    # The table makes room for the border, which goes around.
    assert width_seen(table) < across - 10
    table.picture("border-seen")
    table.go("Glue-up")
    table.press(page.get_by_role("tab", name="Glue, step by step"))
    expect(page.get_by_text("lay part 2 down", exact=False)).to_be_visible()
