"""What is made travels: projects, shelves and pictures as files and links, to another device and back."""

import io
import json
import re
import zipfile
from base64 import b64decode, b64encode
from collections.abc import Callable, Mapping
from pathlib import Path

from PIL import Image
from playwright.sync_api import Locator, Page, expect

from e2e.made_papers import sheet_to_print
from e2e.panels import window_svg
from e2e.table import Table

Visit = Callable[[str], Table]

# The pictures that the browser keeps, in base64 by key; a small one has an array for a key.
KEPT_PICTURES = """async () => {
    const opening = indexedDB.open("peekpaper");
    await new Promise((done) => { opening.onsuccess = done; });
    const pictures = opening.result.transaction("pictures").objectStore("pictures");
    const [keys, blobs] = [pictures.getAllKeys(), pictures.getAll()];
    await new Promise((done) => { blobs.onsuccess = done; });
    opening.result.close();
    const coded = async (blob) => {
        const bytes = new Uint8Array(await blob.arrayBuffer());
        return btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(""));
    };
    const pairs = keys.result.map(async (key, at) => [JSON.stringify(key), await coded(blobs.result[at])]);
    return Object.fromEntries(await Promise.all(pairs));
}"""
BROUGHT = """([name, coded]) => {
    const bytes = Uint8Array.from(atob(coded), (each) => each.charCodeAt(0));
    const data = new DataTransfer();
    data.items.add(new File([bytes], name));
    return data;
}"""


def button(table: Table, name: str) -> Locator:
    """A button by its name."""
    return table.page.get_by_role("button", name=name, exact=True)


def notice(table: Table, text: str) -> Locator:
    """What is told at the table's edge."""
    return table.page.locator(".notice", has_text=text)


def with_photo(table: Table) -> Table:
    """Make a paper of a picture and give it to the first opening."""
    table.go("Papers")
    sheets = table.page.locator(".sheets > [data-moves='true']")
    expect(sheets.first).to_be_visible()
    table.page.locator(".shelf-more input[type=file]").first.set_input_files(
        {"name": "waves.png", "mimeType": "image/png", "buffer": sheet_to_print()}
    )
    table.press(button(table, "Use this paper"))
    expect(sheets.last).to_contain_text("waves")
    give(table, 1)
    return table


def saved_file(table: Table, control: Locator) -> bytes:
    """Press what saves a file; return the file."""
    with table.page.expect_download() as waiting:
        table.press(control)
    return Path(waiting.value.path()).read_bytes()


def saved_project(table: Table) -> bytes:
    """Save the open project as a file."""
    table.press(table.page.locator("#menu-button"))
    return saved_file(table, table.page.get_by_role("button", name="Save as a file"))


def link_of(table: Table, sender: str = "") -> str:
    """Make the open project's link, from somebody by a name or by none."""
    table.press(table.page.locator("#menu-button"))
    table.press(table.page.get_by_role("button", name="Link for a friend"))
    dialog = table.page.get_by_role("dialog", name="Link for a friend")
    link = dialog.get_by_label("The link")
    if sender:
        name = dialog.get_by_label("Your name")
        name.fill(sender)
        name.press("Tab")
        expect(link).to_have_value(re.compile(f"&from={sender}$"))
    address = link.input_value()
    table.picture("link-with-pictures")
    table.press(dialog.get_by_role("button", name="Close"))
    return address


def bring(table: Table, name: str, data: bytes) -> None:
    """Drop a file on the page."""
    dropped = table.page.evaluate_handle(BROUGHT, [name, b64encode(data).decode()])
    table.page.locator("#stage").dispatch_event("drop", {"dataTransfer": dropped})


def unpacked(data: bytes) -> dict[str, bytes]:
    """Return what is in a zip by name, as another reader finds it."""
    with zipfile.ZipFile(io.BytesIO(data)) as parcel:
        assert parcel.testzip() is None
        return {name: parcel.read(name) for name in parcel.namelist()}


def packed(files: Mapping[str, bytes], method: int = zipfile.ZIP_STORED) -> bytes:
    """Return a zip as another program writes it."""
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", method) as parcel:
        for name, data in files.items():
            parcel.writestr(name, data)
    return target.getvalue()


def kept_pictures(page: Page) -> dict[str, bytes]:
    """Return the pictures that the browser keeps, by their keys in JSON."""
    found: dict[str, str] = page.evaluate(KEPT_PICTURES)
    return {key: b64decode(coded) for key, coded in found.items()}


def expect_refused(table: Table, data: bytes, sentence: str) -> None:
    """Expect a file to be refused in a sentence, and what was open to stay."""
    bring(table, "window.zip", data)
    expect(notice(table, sentence)).to_be_visible()
    table.press(notice(table, sentence).get_by_role("button", name="Close"))
    expect(table.opening(1)).to_contain_text("waves")


def give_by_keys(table: Table, paper: int, *keys: str) -> None:
    """Give a paper of the shelf to openings that the keyboard goes to."""
    table.go("Papers")
    table.press(table.page.locator(".sheet").nth(paper))
    table.page.get_by_role("listbox", name="Openings of the design").focus()
    for key in keys:
        table.page.keyboard.press(key)


def test_a_friend_sees_the_work_and_what_comes_back_stands_beside_ones_own(
    revisit: Visit, visit: Visit
) -> None:
    table = revisit("tablet")
    give_by_keys(table, 1, "Home", "Enter")
    expect(table.opening(1)).not_to_contain_text("left open")
    name = table.page.locator("#project-name").inner_text()
    friend = visit("phone")
    friend.page.goto(link_of(table, "Berit"))
    work = friend.page.locator("dialog[open]")
    expect(work).to_contain_text("From Berit")
    expect(work.get_by_role("img", name=f"{name}, finished")).to_have_js_property("complete", value=True)
    friend.picture("from-a-friend")
    friend.press(work.get_by_role("button", name="Recolour it"))
    expect(friend.page.locator("[data-place=papers]")).to_have_attribute("aria-current", "page")
    give_by_keys(friend, 4, "End", "Enter")
    expect(friend.opening(6)).not_to_contain_text("left open")
    table.page.goto(link_of(friend, "Anna"))
    table.press(table.page.locator("dialog[open]").get_by_role("button", name="Put it beside mine"))
    expect(table.opening(6)).not_to_contain_text("left open")
    table.press(table.page.get_by_role("tab", name="Colourways"))
    expect(table.page.locator(".colourways .tile")).to_have_text(["Colourway 1", "Anna's papers"])


def test_photos_of_papers_travel_with_link_file_and_shelf(revisit: Visit, visit: Visit) -> None:
    table = with_photo(revisit("tablet"))
    link = link_of(table)
    assert len(link) < 10_000
    data = saved_project(table)
    expect(notice(table, "picture")).to_have_count(0)
    files = unpacked(data)
    document = json.loads(files["project.json"])
    key = next(paper["picture"] for paper in document["shelf"]["papers"] if paper["picture"])
    name = f"pictures/{key}.webp"
    picture = Image.open(io.BytesIO(files[name]))
    assert (picture.format, picture.size) == ("WEBP", (1800, 1800))
    assert sheet_to_print() in files.values(), "the file to print from goes along as it came"
    table.unfold("More papers")
    shelf = saved_file(table, button(table, "Save this shelf"))
    assert unpacked(shelf)[name] == files[name]

    other = visit("laptop")
    other.page.goto(link)
    expect(other.opening(1)).to_contain_text("waves")
    expect(notice(other, "1 picture came along small")).to_be_visible()
    other.picture("small-picture")
    small = kept_pictures(other.page)
    assert list(small) == [f'["small","{key}"]']
    assert max(Image.open(io.BytesIO(*small.values())).size) <= 96
    # Unpacked and packed again by another program, in a folder of its own.
    bring(other, "window.zip", packed({f"a/{each}": files[each] for each in files}, zipfile.ZIP_DEFLATED))
    expect(other.page.locator("#project-name")).to_have_text("window")
    expect(other.opening(1)).to_contain_text("waves")
    expect(notice(other, "1 picture came along small")).to_have_count(0)
    assert kept_pictures(other.page)[f'"{key}"'] == files[name]
    other.picture("whole-picture")

    # Another picture under the same key, from whomever: what is here stays what it is.
    foreign = sheet_to_print(120)
    stranger = {**document, "id": "0123456789abcdef", "name": "stranger"}
    bring(
        other,
        "s.zip",
        packed({"project.json": json.dumps(stranger).encode(), f"pictures/{key}.png": foreign}),
    )
    expect(other.page.locator("#project-name")).to_have_text("stranger")
    kept = kept_pictures(other.page)
    assert kept[f'"{key}"'] == files[name]
    assert foreign in kept.values()
    again = unpacked(saved_project(other))
    assert foreign in again.values()
    assert files[name] not in again.values()

    whole = packed({"project.json": files["project.json"], name: files[name]})
    for broken, sentence in (
        (whole[:-30], "broken or cut off"),
        (whole.replace(b'"format"', b'"fromat"'), "broken or cut off"),
        (packed({"notes.txt": b"milk, bread"}), "There is no design in it"),
        (packed({"project.json": bytes(70_000_000)}, zipfile.ZIP_DEFLATED), "more than can be opened here"),
    ):
        expect_refused(other, broken, sentence)
    # A picture that is none is left out, and that is said.
    bring(
        other,
        "s.zip",
        packed(
            {
                "project.json": json.dumps(
                    {**stranger, "shelf": json.loads(json.dumps(document["shelf"]).replace(key, "lost"))}
                ).encode(),
                "pictures/lost.webp": b"no picture",
            }
        ),
    )
    expect(notice(other, "1 picture did not come along")).to_be_visible()

    other.drop("window.svg", window_svg())
    expect(other.page.locator("#project-name")).to_have_text("window")
    bring(other, "paper shelf.zip", shelf)
    expect(notice(other, "1 paper was added to the shelf")).to_be_visible()
    bring(other, "paper shelf.json", unpacked(shelf)["shelf.json"])
    other.go("Papers")
    expect(other.page.locator(".sheets > [data-moves='true']", has_text="waves")).to_have_count(1)


# A browser that lets the person choose a file to write to, with a folder of the site's own as the disk.
PICKS_FILES = """() => {
    window.picked = 0;
    window.showSaveFilePicker = async ({ suggestedName }) => {
        window.picked += 1;
        const folder = await navigator.storage.getDirectory();
        return folder.getFileHandle(suggestedName, { create: true });
    };
}"""
ON_DISK = """async (name) => {
    const folder = await navigator.storage.getDirectory();
    const file = await (await folder.getFileHandle(name)).getFile();
    const bytes = new Uint8Array(await file.arrayBuffer());
    return btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(""));
}"""


def give(table: Table, number: int) -> None:
    """Give an opening the paper in hand."""
    openings = table.page.get_by_role("listbox", name="Openings of the design")
    for key in ("Home", *["ArrowRight"] * (number - 1), "Enter"):
        openings.press(key)
    expect(table.opening(number)).to_contain_text("waves")


def expect_standing(table: Table, *sentences: str) -> None:
    """Expect the menu to say where the work stands."""
    table.press(table.page.locator("#menu-button"))
    standing = table.page.locator(".standing")
    for sentence in sentences:
        expect(standing).to_contain_text(sentence)
    table.picture("standing")
    table.press(table.page.locator("dialog[open]").get_by_role("button", name="Close"))


def test_everything_is_saved_as_one_file_and_comes_back_over_nothing(revisit: Visit) -> None:
    table = with_photo(revisit("tablet"))
    page = table.page
    expect_standing(table, "in this browser", "“window” is not saved as a file yet")
    saved_project(table)
    give(table, 2)
    expect_standing(table, "“window” was saved as a file on", "; 1 change since")
    page.evaluate(PICKS_FILES)
    for backed in (2, 3):
        table.press(page.locator("#menu-button"))
        table.press(page.get_by_role("button", name="Save as a file"))
        expect(notice(table, "Saved in “window project.zip”")).to_be_visible()
        table.press(notice(table, "Saved in").get_by_role("button", name="Close"))
        last = json.loads(unpacked(b64decode(page.evaluate(ON_DISK, "window project.zip")))["project.json"])
        assert len(last["colourways"][0]["papers"]) == backed
        if backed == 2:
            give(table, 3)
    table.press(button(table, "Undo"))
    assert page.evaluate("window.picked") == 1
    expect_standing(table, "; 1 change since")
    page.evaluate("window.showSaveFilePicker = undefined")

    table.press(page.locator("#menu-button"))
    table.press(page.get_by_role("button", name="Save everything as a file"))
    dialog = page.get_by_role("dialog", name="Save everything as a file")
    expect(dialog).to_contain_text("1 project with its pictures is packed")
    table.picture("everything-packed")
    data = saved_file(table, dialog.get_by_role("button", name="Save as a file"))
    files = unpacked(data)
    assert sum(name.startswith("projects/") and name.endswith(".json") for name in files) == 1
    before = kept_pictures(page)
    assert set(before.values()) <= set(files.values())

    give(table, 3)
    bring(table, "peekpaper.zip", data)
    dialog = page.get_by_role("dialog", name="Everything from a file")
    expect(dialog).to_contain_text("Nothing here is overwritten")
    table.picture("everything-opened")
    table.press(dialog.get_by_role("button", name="Add what is not here"))
    expect(dialog).to_contain_text("1 project is different here and was put beside it.")
    table.press(dialog.get_by_role("button", name="Show the projects"))
    expect(page.locator(".kept strong").filter(has_text="window, as of")).to_have_count(1)
    table.press(page.locator("dialog[open]").get_by_role("button", name="Close"))
    # A browser that cleared everything has all of it again, pictures too.
    devtools = table.context.new_cdp_session(page)
    origin = {"origin": page.evaluate("location.origin"), "storageTypes": "indexeddb"}
    devtools.send("Storage.clearDataForOrigin", origin)
    page.reload()
    table.wait_until_ready()
    assert kept_pictures(page) == {}
    bring(table, "peekpaper.zip", data)
    table.press(dialog.get_by_role("button", name="Add what is not here"))
    expect(dialog).to_contain_text("1 project was added.")
    expect(dialog).to_contain_text("1 paper was added")
    assert kept_pictures(page) == before
    table.press(dialog.get_by_role("button", name="Show the projects"))
    table.press(page.locator(".kept .tile", has_text="window"))
    expect(table.opening(1)).to_contain_text("waves")
    # New designs begin with the papers that came back, and with their pictures.
    table.drop("new.svg", window_svg())
    expect(page.locator("#project-name")).to_have_text("new")
    table.go("Papers")
    expect(page.locator(".sheets > [data-moves='true']")).to_have_count(1)
    give(table, 2)
    table.picture("everything-back")
