"""Files that are no design, damaged, or made to do harm, dropped on the page one after another."""

from collections.abc import Callable
from itertools import cycle

from playwright.sync_api import expect

from e2e.table import Table

Visit = Callable[[str], Table]

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="70mm" viewBox="0 0 100 70">'
ELSEWHERE = "http://elsewhere.invalid"
DROP = """async ([name, type, made]) => {
    const parts = await eval(`(async () => [${made}])()`);
    const data = new DataTransfer();
    data.items.add(new File(parts, name, {type}));
    const drop = new DragEvent("drop", {dataTransfer: data, bubbles: true});
    document.querySelector("#stage").dispatchEvent(drop);
}"""

# What the browser says of a folder, of a file that lies elsewhere, and of what the person did not let it see.
READ_NOTHING = """() => {
    const refuse = () => Promise.reject(new DOMException("not here", "NotFoundError"));
    Blob.prototype.arrayBuffer = refuse;
    Object.defineProperty(navigator, "clipboard", {value: undefined});
}"""


def card(openings: int, extra: str = "") -> str:
    """A card with so many openings, and what else a file may hold."""
    holes = "".join(f"M{5 + 9 * i} 20v30h5v-30z" for i in range(openings))
    return f'{HEAD}<path fill-rule="evenodd" d="M0 0h100v70h-100z{holes}"/>{extra}</svg>'


# What a file holds, as JavaScript, since large ones are better made in the page; and a part of the sentence.
REFUSED = {
    "a picture named as a design": ("new Uint8Array([137, 80, 78, 71, 13, 10, 26, 10])", "a PNG picture"),
    "a PDF": ('"%PDF-1.7 and so on"', "PDF file is broken"),
    "a web page": ('"<!DOCTYPE html><html><svg></svg></html>"', "a web page"),
    "a zip": ("new Uint8Array([80, 75, 3, 4, 20, 0, 0, 0])", "zip file is broken"),
    "nothing": ('""', "is empty"),
    "bytes": ("Uint8Array.from({length: 5000}, (_, at) => (at * 7) % 256)", "is no SVG file"),
    "a damaged svgz": ("new Uint8Array([31, 139, 8, 0, 1, 2, 3, 4, 5, 6, 7, 8])", "is damaged"),
    "a page of no size": (f"`{HEAD.replace('100mm', '0')}</svg>`", "has no size"),
    "a page beyond measure": (f"`{HEAD.replace('100mm', '1e300')}</svg>`", "far too large"),
    "fifty megabytes of path": (
        f"`{HEAD}<path d='M0 0`, 'l1.5 2.5 '.repeat(5e6), `'/></svg>`",
        "too many points",
    ),
    "a million shapes": (f"`{HEAD}`, '<rect width=\"1\" height=\"1\"/>'.repeat(1e6), `</svg>`", "parts"),
    "more than is read": ("new Uint8Array(70e6).fill(120)", "larger than 64 MB"),
    "groups without end": (
        f"`{HEAD}`, '<g>'.repeat(5000), '</g>'.repeat(5000), `</svg>`",
        "nested more than",
    ),
    "entities without end": (
        "`<!DOCTYPE svg [<!ENTITY a \"${'x'.repeat(5000)}\"><!ENTITY b \"${'&a;'.repeat(5000)}\">]>"
        f"{HEAD}<g>&b;</g></svg>`",
        "grow without end",
    ),
    "a scribble": (
        f"`{HEAD}<polyline fill='none' stroke='red' points='`, "
        "Array.from({length: 5000}, (_, i) => `${(i * i * 37) % 9973} ${(i * i * 91) % 9967}`).join(' '), "
        "`'/></svg>`",
        "crosses itself too often",
    ),
}  # fmt: skip
# Each holds its own number of openings, so that it can be told that it was opened.
OPENED = {
    "an svgz": "new Uint8Array(await new Response(new Blob([`{}`]).stream().pipeThrough("
    "new CompressionStream('gzip'))).arrayBuffer())",
    "UTF-16 with its mark": "Uint16Array.from('\\ufeff' + `{}`, (letter) => letter.charCodeAt(0))",
    "broken off": "`{}`.slice(0, -6)",
    "NaN and 1e300": "`{}`.replace('</svg>', \"<path d='M0 0L1e300 NaN'/><circle r='1e300'/></svg>\")",
    "uses that go round": "`{}`.replace('</svg>', \"<g id='a'><use href='#b'/></g><g id='b'>"
    "<use href='#a'/></g></svg>\")",
    "what lies elsewhere, and scripts": "`{}`.replace('</svg>', \"<image href='ELSEWHERE/a.png' width='5'/>"
    "<use href='ELSEWHERE/a.svg#b'/><style>@import url(ELSEWHERE/a.css);</style>"
    "<script>window.wasRun = true</script><rect onload='window.wasRun = true'/></svg>\")",
}  # fmt: skip


def drop(table: Table, made: str) -> None:
    table.page.evaluate(DROP, ["brought.svg", "image/svg+xml", made])


def test_each_bad_file_gets_its_sentence_and_what_was_open_stays(revisit: Visit) -> None:
    window = revisit("tablet")
    window.wait_until_ready()
    places = cycle(["Papers", "Design"])
    for made, words in REFUSED.values():
        drop(window, made)
        # The page answers meanwhile.
        window.go(next(places))
        expect(window.page.locator(".notice", has_text=words).first).to_be_visible()
        expect(window.openings).to_have_count(6)
    for openings, made in enumerate(OPENED.values(), start=1):
        drop(window, made.replace("ELSEWHERE", ELSEWHERE).replace("{}", card(openings)))
        expect(window.openings).to_have_count(openings)
    window.page.evaluate(READ_NOTHING)
    window.drop("holiday photos", "")
    expect(window.page.locator(".notice", has_text="holiday photos can't be read")).to_be_visible()
    window.press(window.page.locator("#menu-button"))
    window.press(window.page.get_by_role("button", name="Paste a design"))
    expect(window.page.get_by_text("There is no SVG to paste")).to_be_visible()
    # No request went out either: the fixture of the visit looks at that.
    assert window.page.evaluate("window.wasRun") is None
