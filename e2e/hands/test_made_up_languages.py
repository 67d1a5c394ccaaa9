"""Languages that nobody speaks: the page has room for long words, and goes leftwards where they do."""

import json
from typing import Any

import pytest
from playwright.sync_api import Browser, expect

from e2e.conftest import PICTURES
from e2e.made_up_languages import FOUR_FORMS, RIGHT_TO_LEFT
from e2e.own_site import OwnSite
from e2e.table import SCREENS, Table

# What is seen beyond the screen, or wider within than its panel; strips of pictures are swept along.
# What slides in is measured where it comes to rest; what turns for as long as it is seen is not waited for.
TOO_WIDE = """async () => {
    const ends = ({ effect }) => effect.getComputedTiming().endTime < Infinity;
    await Promise.allSettled(document.getAnimations().filter(ends).map(({ finished }) => finished));
    const top = [...document.querySelectorAll("dialog[open]")].at(-1) ?? document.body;
    const isOut = ({ left, right }) => left < -1 || right > innerWidth + 1;
    const isFull = (each) => each.clientWidth > 0 && each.scrollWidth > each.clientWidth + 1
        && ["auto", "scroll"].includes(getComputedStyle(each).overflowX);
    return [...top.querySelectorAll("*")]
        .filter((each) => each.checkVisibility() && !each.closest(".unseen, svg, .spots, .sheets"))
        .filter((each) => isOut(each.getBoundingClientRect()) || isFull(each))
        .map((each) => `${each.tagName} ${each.className} ${each.textContent.trim().slice(0, 30)}`);
}"""


def spoken(own: OwnSite, language: dict[str, Any]) -> OwnSite:
    """Give the site one more language: its file, and its tag in the list that the build writes."""
    tag = language["language"]["tag"]
    own.replace(f"words/{tag}.json", json.dumps(language).encode())
    page = (own.folder / "index.html").read_bytes()
    listed = b'name="languages" content="'
    assert listed in page
    own.replace("index.html", page.replace(listed, listed + f"{tag} ".encode()))
    return own


@pytest.mark.parametrize(
    ("language", "screen"),
    [(FOUR_FORMS, "phone"), (RIGHT_TO_LEFT, "tablet")],
    ids=["four forms and long words", "right to left"],
)
def test_the_page_holds_any_language(
    browser: Browser, own_site: OwnSite, language: dict[str, Any], screen: str
) -> None:
    told = language["language"]
    table = Table(browser, spoken(own_site, language).address, SCREENS[screen], PICTURES)
    page = table.page
    page.evaluate(f"localStorage.setItem('peekpaper-language', '{told['tag']}')")
    page.reload()
    expect(page.locator("html")).to_have_attribute("lang", told["tag"])
    expect(page.locator("html")).to_have_attribute("dir", told["direction"])
    expect(page.locator("#loading > *")).to_have_count(0)
    expect(page.locator("[id^=opening-]").first).to_be_attached()
    expect(page.locator("[data-help='design.width'] input").first).to_have_value("8 in")
    mirrored = "matrix(-1, 0, 0, 1, 0, 0)" if told["direction"] == "rtl" else "none"
    expect(page.locator("#shelf-foot .directed")).to_have_css("transform", mirrored)
    if screen == "tablet":
        panel, name = table.box(page.locator("#shelf")), table.box(page.locator("#menu-button"))
        assert panel[0] < SCREENS[screen].width / 2 < name[0], (
            "the panel is on the left, the name on the right"
        )
    wide = page.evaluate(TOO_WIDE)
    for place in ("papers", "mats", "glue-up"):
        table.press(page.locator(f"[data-place={place}]"))
        expect(page.locator(f"[data-place={place}]")).to_have_attribute("aria-current", "page")
        wide += page.evaluate(TOO_WIDE)
    table.press(page.locator("[data-place=papers]"))
    for part in ("suggest", "colourways", "page"):
        table.press(page.locator(f"#tab-{part}"))
        expect(page.locator(f"#part-{part}")).to_be_visible()
        wide += page.evaluate(TOO_WIDE)
    table.press(page.locator("#menu-button"))
    expect(page.locator("dialog[open] .tile").first).to_be_visible()
    wide += page.evaluate(TOO_WIDE)
    table.picture(f"made-up-{told['tag']}")
    table.close()
    assert wide == []
    assert table.complaints == []
