"""The second language: the whole page speaks it, and remembers that it was chosen."""

import re
from collections.abc import Callable

from playwright.sync_api import expect

from e2e.table import Table

Visit = Callable[[str], Table]
ENGLISH_REASON = re.compile(r"\b(Openings?|were|alike|match|lie|share|keep|papers)\b")

# What stands or is heard on the page in the words of English alone.
ENGLISH_LEFT = """async () => {
    const words = async (tag) => {
        const {words: all} = await (await fetch(new URL(`words/${tag}.json`, document.baseURI))).json();
        return Object.values(all).flatMap((each) => typeof each === "string" ? [each] : Object.values(each));
    };
    const german = new Set(await words("de"));
    const english = new Set((await words("en")).filter((each) => !german.has(each)));
    const heard = [...document.querySelectorAll("body *")].flatMap((each) => [
        each.getAttribute("aria-label"), each.getAttribute("title"),
        each.childElementCount === 0 ? each.textContent.trim() : null]);
    return [...new Set(heard.filter((each) => each && english.has(each)))];
}"""


def test_the_whole_page_speaks_german_once_it_is_chosen(visit: Visit) -> None:
    table = visit("laptop")
    table.wait_until_ready()
    table.press(table.page.locator("#menu-button"))
    table.press(table.page.locator("dialog[open]").get_by_text("Deutsch", exact=True))
    expect(table.page.get_by_role("button", name="Papiere", exact=True)).to_be_visible()
    assert table.page.evaluate("document.documentElement.lang") == "de"
    left = []
    for place in ("Motiv", "Papiere", "Matten", "Kleben"):
        table.go(place)
        expect(table.page).to_have_title("Harbour panel · Peekpaper")
        left += table.page.evaluate(ENGLISH_LEFT)
        table.picture(f"german-{place.lower()}")
    assert left == []
    table.go("Papiere")
    table.press(table.page.get_by_role("tab", name="Vorschlag"))
    table.press(table.page.get_by_role("tabpanel").get_by_role("button", name="Vorschlagen", exact=True))
    reasons = table.page.locator(".reasons")
    expect(reasons.locator("li").first).to_be_visible()
    assert not ENGLISH_REASON.search(reasons.inner_text())
    table.drop("a picture.svg", "\x89PNG is no drawing")
    expect(table.page.get_by_text("Das ist keine SVG-Datei").first).to_be_visible()
    table.page.reload()
    expect(table.page.get_by_role("button", name="Papiere", exact=True)).to_be_visible()
