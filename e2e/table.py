"""The page as a person has it before them: a table with a piece, a shelf, and ways between four places."""

import io
import re
from base64 import b64encode
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from PIL import Image, ImageChops
from playwright.sync_api import (
    Browser,
    ConsoleMessage,
    Download,
    FilePayload,
    Locator,
    Page,
    Request,
    StorageState,
    TimeoutError,
    expect,
)

PATIENCE_MS = 60_000
POLL_MS = 50
STOP_MS = 3000
LIES_STILL = """async (shown) => {
    const where = () => JSON.stringify(shown.getBoundingClientRect());
    const before = where();
    await new Promise((seen) => requestAnimationFrame(() => requestAnimationFrame(seen)));
    return before === where();
}"""


CORES = """Object.defineProperty(navigator, "hardwareConcurrency", {{ value: {}, configurable: true }})"""


def wait_until(page: Page, tells: str, arg: object = None) -> None:
    """Wait until a function of the page, which may promise its answer, answers what is true.

    Playwright's own waiting for a function takes a promise itself for true.
    """
    for _ in range(PATIENCE_MS // POLL_MS):
        if page.evaluate(tells, arg):
            return
        page.wait_for_timeout(POLL_MS)
    raise AssertionError(f"never true: {tells} of {arg}")


@dataclass(frozen=True, slots=True)
class Screen:
    """A screen's size in CSS px, and whether fingers touch it."""

    name: str
    width: int
    height: int
    touch: bool


SCREENS = {
    screen.name: screen
    for screen in (
        Screen("tablet", 1024, 768, touch=True),
        Screen("tablet-upright", 768, 1024, touch=True),
        Screen("laptop", 1280, 800, touch=False),
        Screen("phone", 390, 844, touch=True),
    )
}


def of_colour(picture: Image.Image, colour: str) -> Image.Image:
    """Return the mask of the pixels that are exactly of a colour `#rrggbb`."""
    channels = ImageChops.difference(picture, Image.new("RGB", picture.size, colour)).split()
    furthest = ImageChops.lighter(ImageChops.lighter(channels[0], channels[1]), channels[2])
    return furthest.point(lambda apart: 255 if apart == 0 else 0).convert("1")


class Table:
    """A visit to the page in a fresh profile; notes whatever a page should not do."""

    def __init__(
        self,
        browser: Browser,
        address: str,
        screen: Screen,
        pictures: Path,
        keeps_site: bool = False,
        left: StorageState | None = None,
    ) -> None:
        """Open the page; `left` is what an earlier visit left in the browser, where there was one."""
        self.screen = screen
        self.address = address
        self.pictures = pictures
        self.complaints: list[str] = []
        self.foreign_requests: list[str] = []
        self.laid = 0
        self.context = browser.new_context(
            viewport={"width": screen.width, "height": screen.height},
            has_touch=screen.touch,
            accept_downloads=True,
            locale="en-GB",
            service_workers="allow" if keeps_site else "block",
            storage_state=left,
        )
        # Nobody is there to answer the device's own dialog: files come as downloads.
        self.context.add_init_script("window.showSaveFilePicker = undefined")
        # Packers would take the time of the other tests: one core gets none.
        self.context.add_init_script(CORES.format(1))
        self.page: Page = self.context.new_page()
        self.page.set_default_timeout(PATIENCE_MS)
        self.page.on("console", self._note_complaint)
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))
        self.page.on("request", self._note_request)
        self.page.goto(address)

    def _note_complaint(self, said: ConsoleMessage) -> None:
        if said.type == "error":
            self.complaints.append(said.text)

    def _note_request(self, request: Request) -> None:
        if not request.url.startswith((self.address, f"blob:{self.address.rstrip('/')}", "data:")):
            self.foreign_requests.append(request.url)

    def close(self) -> None:
        """Leave the page."""
        self.context.close()

    def wait_until_ready(self) -> None:
        """Wait until Python is there and the design lies on the table."""
        expect(self.page.locator("#loading > *")).to_have_count(0, timeout=PATIENCE_MS)
        expect(self.openings.first).to_be_attached(timeout=PATIENCE_MS)

    def come_again_with_cores(self, cores: int) -> None:
        """Load the page again as on a device with so many cores."""
        self.context.add_init_script(CORES.format(cores))
        self.page.reload()
        self.wait_until_ready()

    def wait_for_frames(self) -> None:
        """Wait until what was asked for so far is drawn."""
        self.page.evaluate("new Promise((seen) => requestAnimationFrame(() => requestAnimationFrame(seen)))")

    @property
    def openings(self) -> Locator:
        """The openings, as a screen reader hears them."""
        return self.page.get_by_role("listbox", name="Openings of the design").get_by_role("option")

    def opening(self, number: int) -> Locator:
        """One opening, as a screen reader hears it."""
        return self.page.locator(f"#opening-{number}")

    def go(self, place: str) -> None:
        """Go to a place by its name on the page."""
        self.press(self.page.get_by_role("navigation").get_by_role("button", name=place, exact=True))

    def press(self, target: Locator) -> None:
        """Tap or click, as the screen has it."""
        if self.screen.touch:
            target.tap()
        else:
            target.click()

    def unfold(self, name: str) -> None:
        """Open what is folded away under a name, if it is not open yet."""
        fold = self.page.locator("details", has=self.page.locator("summary", has_text=name)).first
        if fold.get_attribute("open") is None:
            self.press(fold.locator("summary").first)

    def measure_in(self, unit: str) -> None:
        """Choose the unit of all measures by its name, from the menu."""
        self.press(self.page.locator("#menu-button"))
        menu = self.page.locator("dialog[open]")
        self.press(menu.get_by_text(unit, exact=True))
        self.press(menu.get_by_role("button", name="Close"))

    def drop(self, name: str, text: str) -> None:
        """Drop a file on the page."""
        data = self.page.evaluate_handle(
            """([name, text]) => {
                const data = new DataTransfer();
                data.items.add(new File([text], name, {type: "image/svg+xml"}));
                return data;
            }""",
            [name, text],
        )
        self.page.locator("#stage").dispatch_event("drop", {"dataTransfer": data})
        data.dispose()

    def drop_files(self, files: Mapping[str, bytes]) -> None:
        """Drop several files at once, by name; the browser is told no kinds."""
        data = self.page.evaluate_handle(
            """(files) => {
                const data = new DataTransfer();
                for (const [name, coded] of files) {
                    const bytes = Uint8Array.from(atob(coded), (each) => each.charCodeAt(0));
                    data.items.add(new File([bytes], name));
                }
                return data;
            }""",
            [[name, b64encode(content).decode()] for name, content in files.items()],
        )
        self.page.locator("#stage").dispatch_event("drop", {"dataTransfer": data})
        data.dispose()

    def choose_files(self, files: Mapping[str, bytes]) -> None:
        """Choose files in the device's own dialog."""
        with self.page.expect_file_chooser() as asked:
            self.press(self.page.get_by_role("button", name="Open a file").first)
        asked.value.set_files(
            [FilePayload(name=name, mimeType="", buffer=content) for name, content in files.items()]
        )

    def lay_anew(self, name: str, text: str) -> None:
        """Open a design, at the first place, as a project told from those before by the count in its name."""
        self.laid += 1
        self.go("Design")
        self.drop(f"{name} {self.laid}.svg", text)
        expect(self.page.locator("#menu-button")).to_contain_text(f"{name} {self.laid}")

    def pick(self, paper: str) -> None:
        """Pick a paper from the shelf by its name."""
        self.press(self.page.locator(".sheet", has_text=paper).first)

    def box(self, target: Locator) -> tuple[float, float, float, float]:
        """Return where something lies on the screen once it lies still: left, top, width, height in px."""
        expect(target).to_be_visible()
        while not target.evaluate(LIES_STILL):
            pass
        frame = target.bounding_box()
        assert frame is not None
        return frame["x"], frame["y"], frame["width"], frame["height"]

    def card_box(self, card: str) -> tuple[float, float, float, float]:
        """Return where the card of colour `#rrggbb` lies still: its left, top, right and bottom in px."""
        # While what is seen is still as it was, it is dimmed.
        expect(self.page.locator(".stage-canvas")).to_have_css("opacity", "1")
        before = None
        for _ in range(PATIENCE_MS // POLL_MS):
            seen = self._card_seen(card)
            if seen is not None and seen == before:
                return seen
            before = seen
        raise AssertionError("the card is not on the table, or does not come to rest")

    def _card_seen(self, card: str) -> tuple[float, float, float, float] | None:
        self.wait_for_frames()
        stage = self.page.locator("#stage")
        frame = stage.bounding_box()
        assert frame is not None
        picture = Image.open(io.BytesIO(stage.screenshot())).convert("RGB")
        box = of_colour(picture, card).getbbox()
        if box is None:
            return None
        return frame["x"] + box[0], frame["y"] + box[1], frame["x"] + box[2], frame["y"] + box[3]

    def tap_at(self, x: float, y: float) -> None:
        """Tap or click a spot of the screen."""
        if self.screen.touch:
            self.page.touchscreen.tap(x, y)
        else:
            self.page.mouse.click(x, y)

    @property
    def search_ended(self) -> Locator:
        """What the mats say once the search for a better plan has ended, by itself or by hand."""
        return self.page.get_by_text(re.compile(r"^(Done|Stopped)\. This is the best"))

    def settle_for_first_plan(self) -> None:
        """Stop the search for a better plan once there is one, unless it ends by itself."""
        expect(self.page.locator(".trim-row").first).to_be_visible()
        if not self.search_ended.is_visible():
            # The search may end by itself before the button is reached.
            with suppress(TimeoutError):
                self.page.get_by_role("button", name="Stop", exact=True).click(timeout=STOP_MS)
        expect(self.search_ended).to_be_visible()

    def take(self, link: Locator) -> Download:
        """Follow a link that saves a file."""
        with self.page.expect_download() as waiting:
            self.press(link)
        return waiting.value

    def picture(self, name: str) -> None:
        """Keep a picture of the screen."""
        self.pictures.mkdir(parents=True, exist_ok=True)
        self.page.screenshot(path=self.pictures / f"{self.screen.name}-{name}.png")
