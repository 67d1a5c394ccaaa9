"""Made-up photos of papers, and a panel with very many openings."""

import io

from PIL import Image, ImageDraw

ROSE = (217, 138, 160)
DESK = (90, 78, 64)
CORNERS = ((130, 90), (860, 60), (900, 640), (80, 680))
"""Where the paper lies in the photo of `photo_of_paper`, px, clockwise from its top left."""

_ORIENTATION_TAG = 0x0112
_TURNED_RIGHT = 6
"""The EXIF value that says: turn by 90 degrees clockwise to see it upright."""


def photo_of_paper(*, lying: bool = False) -> bytes:
    """Return a JPEG of a rose paper on a desk, 1000 x 740 px once upright.

    `lying` stores it turned, with the metadata that says how to turn it back.
    """
    picture = Image.new("RGB", (1000, 740), DESK)
    ImageDraw.Draw(picture).polygon(CORNERS, fill=ROSE)
    kept = io.BytesIO()
    if lying:
        exif = Image.Exif()
        exif[_ORIENTATION_TAG] = _TURNED_RIGHT
        picture.transpose(Image.Transpose.ROTATE_90).save(kept, "JPEG", quality=95, exif=exif)
    else:
        picture.save(kept, "JPEG", quality=95)
    return kept.getvalue()


def sheet_to_print(side_px: int = 1800, per_inch: int | None = 300) -> bytes:
    """Return a PNG that is a whole sheet of paper, with a frame along its edge."""
    picture = Image.new("RGB", (side_px, side_px), ROSE)
    ImageDraw.Draw(picture).rectangle((0, 0, side_px - 1, side_px - 1), outline=DESK, width=20)
    kept = io.BytesIO()
    picture.save(kept, "PNG", **({"dpi": (per_inch, per_inch)} if per_inch else {}))
    return kept.getvalue()


def odd_pictures() -> dict[str, bytes]:
    """Return files by name that call themselves pictures and that the browser can't show."""
    scan = io.BytesIO()
    Image.new("RGB", (60, 40), ROSE).save(scan, "TIFF")
    phone = b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00heicmif1" + bytes(400)
    torn = photo_of_paper()[:300]
    return {"phone.heic": phone, "scan.tiff": scan.getvalue(), "torn.jpg": torn, "none.png": b""}


def huge_photo() -> bytes:
    """Return a JPEG of 50 megapixels."""
    kept = io.BytesIO()
    Image.new("RGB", (8660, 5774), ROSE).save(kept, "JPEG", quality=60)
    return kept.getvalue()


def grid_svg(columns: int, rows: int) -> str:
    """Return a card with `columns` x `rows` round openings of 4 mm, 6 mm apart."""
    pitch, radius = 6, 2
    holes = "".join(
        f"M{2 + pitch * column} {4 + pitch * row}a{radius} {radius} 0 1 0 {2 * radius} 0"
        f"a{radius} {radius} 0 1 0 {-2 * radius} 0z"
        for row in range(rows)
        for column in range(columns)
    )
    width, height = 2 + pitch * columns, 2 + pitch * rows
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}"><path fill-rule="evenodd" '
        f'd="M0 0h{width}v{height}h-{width}z{holes}"/></svg>'
    )


def photo_of_scrap() -> bytes:
    """Return a JPEG of a corner of paper beside a card of 85.6 x 53.98 mm, seen from above at 6 px per mm.

    The scrap is 150 x 120 mm, its upper right quarter missing.
    """
    finer, per_mm = 2, 6
    picture = Image.new("RGB", (1600 * finer, 1100 * finer), DESK)
    draw = ImageDraw.Draw(picture)

    def at(x_mm: float, y_mm: float) -> tuple[float, float]:
        return x_mm * per_mm * finer, y_mm * per_mm * finer

    draw.rounded_rectangle((*at(10, 12), *at(95.6, 65.98)), 3.18 * per_mm * finer, fill=(240, 238, 232))
    corners = ((105, 40), (180, 40), (180, 100), (255, 100), (255, 160), (105, 160))
    draw.polygon([at(*corner) for corner in corners], fill=ROSE)
    kept = io.BytesIO()
    picture.resize((1600, 1100), Image.Resampling.BOX).save(kept, "JPEG", quality=95)
    return kept.getvalue()
