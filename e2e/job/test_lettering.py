"""Words in a design: drawn in the file's typeface, in one that is added, or in another, which is said."""

import io
from collections.abc import Callable
from pathlib import Path

import fontpkg_arimo
from fontTools.ttLib import TTFont
from playwright.sync_api import expect

from e2e.job.test_bundles import zipped
from e2e.table import Table

Visit = Callable[[str], Table]
NAME = "Harbour Sans"


def typeface() -> bytes:
    """Return a typeface under a name of our own."""
    font = TTFont(Path(fontpkg_arimo.__file__).parent / "files" / "Arimo[wght].ttf")
    font["name"].names = []
    font["name"].addMultilingualName({"en": NAME}, nameID=1)
    kept = io.BytesIO()
    font.save(kept)
    return kept.getvalue()


def poster(words: str, card: str = "#222222") -> bytes:
    """Return a card with an opening, and white words on it in a typeface that the file does not hold."""
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="80mm" viewBox="0 0 120 80">'
        f'<path d="M5 5h110v70h-110z M15 15v10h10v-10z" fill="{card}" fill-rule="evenodd"/>'
        f'<text x="30" y="60" font-size="30" fill="#ffffff" font-family="{NAME}, serif">{words}</text></svg>'
    ).encode()


ONLY_WORDS = (
    b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 90 40"><text y="30" font-size="30">O</text></svg>'
)


def test_words_in_a_design_are_drawn(revisit: Visit) -> None:
    table = revisit("tablet")
    page, own = table.page, typeface()
    dialog = page.locator("dialog[open]", has_text="Text in this design")

    def told(words: str) -> None:
        notice = page.locator(".notice", has_text=words).first
        expect(notice).to_be_visible()
        table.press(notice.get_by_role("button", name="Close"))

    table.drop_files({"poster.svg": poster("b b")})
    expect(table.openings).to_have_count(1)
    table.press(page.get_by_role("button", name="Draw the text"))
    expect(dialog).to_contain_text(NAME)
    expect(dialog).to_contain_text("“b b”")
    table.picture("text-in-this-design")
    dialog.locator("input[type=file]").set_input_files(
        {"name": "broken.ttf", "mimeType": "font/ttf", "buffer": b"hello"}
    )
    expect(dialog.get_by_role("alert")).to_contain_text("font file is broken")
    table.press(dialog.get_by_role("button", name="Draw it in Arimo"))
    expect(dialog).to_have_count(0)
    told("The text is drawn in Arimo, not in the file's own typeface.")
    expect(table.openings).to_have_count(3)
    # The right typeface, dropped on the page, takes its place; one step back the other is there again.
    table.drop_files({"harbour.ttf": own})
    told("The text is drawn in its own typeface.")
    expect(page.get_by_role("button", name="Draw the text")).to_have_count(0)
    table.press(page.locator("#undo"))
    expect(page.get_by_role("button", name="Draw the text")).to_be_visible()
    table.press(page.locator("#redo"))
    expect(page.get_by_role("button", name="Draw the text")).to_have_count(0)
    table.drop_files({"harbour.ttf": own})
    told("no text that waits for one")
    # Files that are nothing but words wait for a typeface while what was open stays.
    table.choose_files({"letters.svg": ONLY_WORDS})
    expect(dialog).to_contain_text("No typeface named")
    expect(table.openings).to_have_count(3)
    table.press(dialog.get_by_role("button", name="Draw it in Arimo"))
    expect(table.openings).to_have_count(1)
    # What a bundle holds is put together by itself.
    table.choose_files({"set.zip": zipped({"poster.svg": poster("bb"), "fonts/harbour.ttf": own})})
    expect(table.openings).to_have_count(3)
    expect(page.get_by_role("button", name="Draw the text")).to_have_count(0)
    expect(page.locator(".notice", has_text="not used")).to_have_count(0)
    table.go("Glue-up")
    table.press(page.get_by_role("button", name="Take the sheets"))
    table.take(page.locator("a.file", has_text="card.svg"))
