"""Pictures of papers put into the browser's store as the page keeps them."""

from collections.abc import Sequence

from playwright.sync_api import Page

_KEEP = """async ([keys, side, spots, type]) => {
    const opening = indexedDB.open('peekpaper');
    const database = await new Promise((done) => { opening.onsuccess = () => done(opening.result); });
    for (const [at, key] of keys.entries()) {
        const canvas = new OffscreenCanvas(side, side);
        const context = canvas.getContext('2d');
        for (let spot = 0; spot < spots; spot += 1) {
            context.fillStyle = `hsl(${(spot * 37 + at * 120) % 360} 60% 60%)`;
            context.fillRect((spot * 97) % side, (spot * 61) % side, 40, 40);
        }
        const blob = await canvas.convertToBlob({type, quality: 0.9});
        const writing = database.transaction('pictures', 'readwrite');
        writing.objectStore('pictures').put(blob, key);
        await new Promise((done) => { writing.oncomplete = done; });
    }
    database.close();
}"""


def keep_pictures(page: Page, keys: Sequence[str], side: int, spots: int, kind: str) -> None:
    """Keep square pictures of so many px a side and so many spots under these keys, as files of a kind."""
    page.evaluate(_KEEP, [list(keys), side, spots, kind])
